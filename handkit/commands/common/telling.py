"""How much a command says, and in which colours: options that every command has.

In: `--quiet`, `--verbose`, `--color`, and NO_COLOR of the environment. Out: what of it holds for the command
that runs; words painted for a terminal.
"""

from __future__ import annotations

import os
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from enum import StrEnum
from types import MappingProxyType
from typing import Any

import click

from handkit.counting import OnProgress, no_progress, step_of
from handkit.progress import AFTER
from handkit.progress import progress as on_terminal
from handkit.wording.quoting import escaped


class Colour(StrEnum):
    """When colours are used: on a terminal without NO_COLOR, or as said."""

    AUTO = "auto"
    ALWAYS = "always"
    NEVER = "never"


# The eight colours that every terminal has; a warning must not look like an error to who sees no red.
_PAINTS: Mapping[str, Mapping[str, Any]] = MappingProxyType(
    {
        "error": {"fg": "red", "bold": True},
        "warning": {"fg": "yellow", "bold": True},
        "note": {"fg": "cyan"},
    }
)

# Commands that write over nothing, whatever is said.
NEVER_FORCED = ("new", "sample")

_KEPT = "handkit.commands.common.telling"


def add_telling(command: click.Command) -> None:
    """Give a command the options of this module; one that has commands of its own gives it to them."""
    if isinstance(command, click.Group):
        for each in command.commands.values():
            add_telling(each)
        return
    command.params += [
        _flag("-q", "--quiet", told="Say nothing but errors."),
        _flag("-v", "--verbose", told="Say each step, and how long it took."),
        click.Option(
            ["--color"],
            type=click.Choice([one.value for one in Colour]),
            default=Colour.AUTO.value,
            help="auto: on a terminal, unless NO_COLOR is set.",
            expose_value=False,
            callback=_keep,
        ),
    ]
    writes = any(parameter.name == "output" for parameter in command.params)
    if writes and command.name not in NEVER_FORCED:
        told = "Write over files that handkit did not write, or that you may have changed, too."
        command.params.append(_flag("--force", told=told))


def _flag(*names: str, told: str) -> click.Option:
    return click.Option(names, is_flag=True, help=told, expose_value=False, callback=_keep)


def _keep(context: click.Context, parameter: click.Parameter, value: Any) -> None:
    context.meta.setdefault(_KEPT, {})[parameter.name] = value


def _said(name: str) -> Any:
    context = click.get_current_context(silent=True)
    return None if context is None else context.meta.get(_KEPT, {}).get(name)


def is_quiet() -> bool:
    """Whether errors alone are told."""
    return bool(_said("quiet"))


def is_forced() -> bool:
    """Whether files are written over that handkit did not write."""
    return bool(_said("force"))


def is_verbose() -> bool:
    """Whether each step is told."""
    return bool(_said("verbose"))


def colour() -> bool | None:
    """What click's `echo` takes: with colours or without, None where a terminal decides."""
    match _said("color"):
        case Colour.ALWAYS:
            return True
        case Colour.NEVER:
            return False
        case _:
            return False if os.environ.get("NO_COLOR") else None


def painted(word: str, severity: str) -> str:
    """A word in the colour of a finding's weight; `echo` takes it out where there is none."""
    return click.style(word, **_PAINTS[severity])


@contextmanager
def progress(*, after: float = AFTER) -> Iterator[OnProgress]:
    """What to call as each step begins: a line on a terminal that comes after so many seconds and goes again,
    or with `--verbose` one for each step as it ends, with its seconds, wherever it leads."""
    if is_quiet():
        yield no_progress
    elif is_verbose():
        steps = _Steps()
        yield steps.begin
        steps.begin("")
    else:
        with on_terminal(after=after) as begin:
            yield begin


class _Steps:
    """Steps as they end; of what each is at nothing is told."""

    def __init__(self) -> None:
        self.words, self.begun = "", time.monotonic()

    def begin(self, words: str) -> None:
        now, words = time.monotonic(), step_of(words)
        if words == self.words:
            return
        if self.words:
            click.echo(f"{now - self.begun:6.2f} s  {escaped(self.words)}", err=True)
        self.words, self.begun = words, now
