"""What the command line writes and refuses to write over, in one way for all commands.

In: texts, findings, names of files. Out: lines on the terminal's two streams. All output passes
here, and what a terminal would act on is written as escapes, whoever made the text. Exit codes live in
`commands/common/ending.py`.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from shutil import get_terminal_size
from typing import TYPE_CHECKING, Any, TextIO

import click

from handkit.commands.common.telling import add_telling, colour, is_forced, is_quiet, painted
from handkit.interrupts import clearing_up
from handkit.wording.quoting import escaped, escaped_output

if TYPE_CHECKING:
    from handkit.draw.export.finding_text import LinesOf
    from handkit.findings import Finding
    from handkit.read.file.load import Given


# Where a command keeps a project that lies in no file, for its lines.
GIVEN = "handkit.commands.common.output"


class Commands(click.Group):
    """The commands. What click says of wrong use repeats words of the command line: escaped, as all else."""

    def add_command(self, cmd: click.Command, name: str | None = None) -> None:
        """A command, with the options that all have."""
        add_telling(cmd)
        super().add_command(cmd, name)

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


def refuse_overwriting(project: Given | None, *outputs: Path | None) -> None:
    """Raise FileError where an output would replace the project, if there is one, a project, or another
    output."""
    from handkit.errors import FileError

    taken = {os.path.realpath(project): "the project file"} if isinstance(project, Path) else {}
    for output in (output for output in outputs if output is not None):
        place = os.path.realpath(output)  # which, unlike Path.resolve, bears links in a circle
        if place in taken:
            raise FileError(f"can't write {output}: it is {taken[place]}; name another file")
        if output.suffix.lower() == ".toml":
            raise FileError(f"can't write {output}: .toml is a project file's ending; name another file")
        taken[place] = "named twice"


def refuse_existing(output: Path) -> None:
    """Raise FileError where a file is there that a maker may have changed, and it is not to be forced."""
    from handkit.errors import FileError

    if output.is_file() and not is_forced():
        raise FileError(f"can't write {output}: it is there already; name a new file, or say --force")


def refuse_strange(outputs: Iterable[Path]) -> None:
    """Raise FileError where a file is there that handkit did not write, and it is not to be forced."""
    from handkit.errors import FileError
    from handkit.files import is_ours

    strange = next((path for path in outputs if not is_ours(path)), None)
    if strange is not None and not is_forced():
        raise FileError(
            f"can't write {strange}: it is there, and handkit did not write it; name another, or say --force"
        )


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
    _echo(escaped_output(text))


def _echo(text: str) -> None:
    """The output proper, of which a terminal may take all. Raises FileError."""
    from handkit.errors import FileError

    try:
        click.echo(text, nl=False, color=colour())
    except BrokenPipeError:
        raise
    except OSError as reason:
        raise FileError(f"can't write the output: {reason.strerror}") from None


def write_files(files: Mapping[Path, bytes]) -> None:
    """Write files whole or not at all, also where it is interrupted. Raises FileError, also where one is
    there that handkit did not write, and it is not to be forced."""
    from handkit.files import write_whole

    refuse_strange(files)
    with clearing_up():
        write_whole(files)


def write_done(line: str, outputs: Iterable[Path]) -> None:
    """What was written, in a line; beside the output proper where that is one of the files written."""
    from handkit.files import is_standard_output

    if is_quiet():
        return
    if any(map(is_standard_output, outputs)):
        write_beside(line)
    else:
        write_output(f"{escaped(line)}\n")


def write_findings(findings: Iterable[Finding], *, beside: bool = True) -> None:
    """Findings, each with the line of the file that it is about, beside the output proper or as a part of it;
    errors alone where it is quiet."""
    from handkit.draw.export.finding_text import finding_lines
    from handkit.messages.message import Severity

    told = [each for each in findings if each.severity is Severity.ERROR or not is_quiet()]
    stream = sys.stderr if beside else sys.stdout
    lines = finding_lines(told, _lines_of(), width=columns_of(stream), paint=painted)
    text = "".join(f"{line}\n" for line in lines)  # escaped already, but for its colours
    if beside:
        click.echo(text, nl=False, err=True, color=colour())
    else:
        _echo(text)


def _lines_of() -> LinesOf:
    """The lines of a file by its name, none where it can't be read."""
    from handkit.errors import HandkitError
    from handkit.read.file.load import file_lines

    context = click.get_current_context(silent=True)
    project = context.meta.get(GIVEN) if context else None

    @cache
    def lines(name: str) -> Sequence[str]:
        given = project if project is not None and str(project) == name else Path(name)
        try:
            return file_lines(given)
        except HandkitError:
            return ()

    return lines


def columns_of(stream: TextIO | None) -> int | None:
    """Columns of the terminal that a stream leads to; None where it leads elsewhere, or is closed."""
    return max(40, get_terminal_size().columns) if stream is not None and stream.isatty() else None


def write_beside(line: str) -> None:
    """One line beside the output proper, whatever stands in it."""
    click.echo(escaped(line), err=True)


def write_error(words: str) -> None:
    """Why a command can't go on, beside the output proper."""
    click.echo(f"{painted('error', 'error')}: {escaped(words)}", err=True, color=colour())
