"""What the command line writes and refuses to write over, in one way for all commands.

In: texts, findings, names of files. Out: lines on the terminal's two streams. All output passes
here, and what a terminal would act on is written as escapes, whoever made the text. Exit codes live in
`commands/common/ending.py`.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import click

from handkit.interrupts import clearing_up
from handkit.wording.quoting import escaped, escaped_output

if TYPE_CHECKING:
    from pathlib import Path

    from handkit.findings import Finding


class Commands(click.Group):
    """The commands. What click says of wrong use repeats words of the command line: escaped, as all else."""

    def make_context(self, *words: Any, **extra: Any) -> click.Context:
        """The words before the command's name."""
        with _wrong_use_escaped():
            return super().make_context(*words, **extra)

    def invoke(self, ctx: click.Context) -> Any:
        """The command with its own words."""
        with _wrong_use_escaped():
            return super().invoke(ctx)


@contextmanager
def _wrong_use_escaped() -> Iterator[None]:
    try:
        yield
    except click.exceptions.NoArgsIsHelpError:
        raise  # which is the page of help
    except click.UsageError as wrong:
        raise click.UsageError(escaped(wrong.format_message()), wrong.ctx) from wrong


def refuse_overwriting(project: Path | None, *outputs: Path | None) -> None:
    """Raise FileError where an output would replace the project, if there is one, a project, or another
    output."""
    from handkit.errors import FileError

    taken = {os.path.realpath(project): "the project file"} if project else {}
    for output in (output for output in outputs if output is not None):
        place = os.path.realpath(output)  # which, unlike Path.resolve, bears links in a circle
        if place in taken:
            raise FileError(f"can't write {output}: it is {taken[place]}; name another file")
        if output.suffix.lower() == ".toml":
            raise FileError(f"can't write {output}: .toml is a project file's ending; name another file")
        taken[place] = "named twice"


def refuse_terminal(output: Path) -> None:
    """Raise FileError where a file that is no text would go to a terminal."""
    from handkit.errors import FileError
    from handkit.files import is_standard_output

    if sys.stdout is not None and sys.stdout.isatty() and is_standard_output(output):
        raise FileError("can't write a picture to a terminal: name a file, or send it on with > or |")


def write_output(text: str) -> None:
    """The output proper, which may be a file on a full disk. Raises FileError.

    A reader that has gone (`| head`) is left to click, which ends quietly.
    """
    from handkit.errors import FileError

    try:
        click.echo(escaped_output(text), nl=False)
    except BrokenPipeError:
        raise
    except OSError as reason:
        raise FileError(f"can't write the output: {reason.strerror}") from None


def write_files(files: Mapping[Path, bytes]) -> None:
    """Write files whole or not at all, also where it is interrupted. Raises FileError."""
    from handkit.files import write_whole

    with clearing_up():
        write_whole(files)


def write_done(line: str, outputs: Iterable[Path]) -> None:
    """What was written, in a line; beside the output proper where that is one of the files written."""
    from handkit.files import is_standard_output

    if any(map(is_standard_output, outputs)):
        write_beside(line)
    else:
        write_output(f"{escaped(line)}\n")


def write_findings(findings: Iterable[Finding]) -> None:
    """Findings, a line each, beside the output proper."""
    for finding in findings:
        write_beside(str(finding))


def write_beside(line: str) -> None:
    """One line beside the output proper, whatever stands in it."""
    click.echo(escaped(line), err=True)
