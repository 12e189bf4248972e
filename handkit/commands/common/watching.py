"""Watching: a command that is run again each time its project is saved.

In: a command with a project file, which takes what is `kept` from run to run. Out: the same command with
`--watch`. What it writes is whole or stays as
it was, so that a file with an error leaves the last good output.

Words: the *state* of a project is when and how large its files were last written: its own, and what may be
named in it and lies beside it, but for what the command itself writes.
"""

from __future__ import annotations

import functools
import os
import time
from collections.abc import Callable, Collection
from contextlib import suppress
from pathlib import Path
from typing import Any, TypeVar

import click

from handkit.commands.common.output import write_beside
from handkit.interrupts import INTERRUPTED

Command = TypeVar("Command", bound=Callable[..., Any])

# Seconds between two looks; what is the same in two of them is no longer being written.
EVERY = 0.1

# What a project may name.
_NAMED = (".toml", ".svg", ".ttf")

_State = tuple[tuple[str, int, int], ...]


def watch_option(command: Command) -> Command:
    """A command that takes `--watch`, and is run again when its project changes, until it is interrupted."""

    @functools.wraps(command)
    def watched(*words: Any, watch: bool, project: Any, **options: Any) -> None:
        from handkit.kept.kept import Kept

        kept = Kept()
        if not watch:
            command(*words, project=project, kept=kept, **options)
            return
        if not isinstance(project, Path):
            raise click.UsageError("--watch needs a file; found the standard input")
        written = {os.path.realpath(each) for each in options.values() if isinstance(each, Path)}
        while True:
            state = _settled(project, written)
            kept.next_run()
            try:
                command(*words, project=project, kept=kept, **options)
            except SystemExit as end:  # what was wrong is told
                if end.code == INTERRUPTED:
                    raise
            write_beside(f"watching {project}; Ctrl-C ends it")
            _until_changed(project, written, state)

    told = "Again each time the project is saved, until Ctrl-C."
    return click.option("--watch", is_flag=True, help=told)(watched)  # type: ignore[return-value]


def _until_changed(project: Path, written: Collection[str], state: _State) -> None:
    while _state(project, written) in (state, ()):
        time.sleep(EVERY)


def _settled(project: Path, written: Collection[str]) -> _State:
    """The state, once it is the same twice; at once where there is no such file."""
    state = _state(project, written)
    while state:
        time.sleep(EVERY)
        last, state = state, _state(project, written)
        if state == last:
            break
    return state


def _state(project: Path, written: Collection[str]) -> _State:
    """How the files are now; empty while the project is not there, as some editors leave it for a moment."""
    found = []
    try:
        project.stat()
        with os.scandir(project.parent) as beside:
            for entry in beside:
                if entry.name != project.name and not entry.name.endswith(_NAMED):
                    continue
                with suppress(OSError):  # gone by now, or a link to nothing, as some editors lock files
                    now = entry.stat()
                    if os.path.realpath(entry.path) not in written:
                        found.append((entry.name, now.st_mtime_ns, now.st_size))
    except OSError:
        return ()
    return tuple(sorted(found))
