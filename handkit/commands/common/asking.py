"""Asking: a question on the terminal, and the line that is typed to it.

In: a question; lines of the standard input. Out: the line without blanks round it, or that nobody answers.
"""

from __future__ import annotations

import sys

import click

_LONGEST = 10_000  # letters: what has no end is no answer


def typed_line(question: str) -> str | None:
    """The line that is typed after a question; None where none comes: the input has ended, is closed, or is
    nothing that lines could be read from."""
    click.echo(question, nl=False, err=True)
    try:
        line = "" if sys.stdin is None else sys.stdin.readline(_LONGEST)
    except (OSError, ValueError):  # open for writing alone; bytes that are no text
        line = ""
    if not line or len(line) == _LONGEST:
        click.echo(err=True)
        return None
    return line.strip()
