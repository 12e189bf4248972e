"""`handkit new`: from what is carried to a project file, by questions on the terminal or by options.

In: answers. Out: a project file with a comment to every line, and pictures of the ways to choose from.
Nothing that is there is written over.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from handkit.commands.common.ending import FAULTY, fail, reporting_errors
from handkit.commands.common.options import FILE, OUTPUT
from handkit.commands.common.output import write_beside, write_done, write_error, write_files
from handkit.commands.common.telling import progress

if TYPE_CHECKING:
    from handkit.commands.interview.dialogue import Dialogue
    from handkit.commands.interview.made import MadeProposals
    from handkit.commands.interview.trial import OnTrial

_ANSWERS = ("title", "unit", "carried", "belt", "material", "thickness", "pitch", "paper", "hand")


def _answer_options(command: Any) -> Any:
    told = {
        "title": "What it is called.",
        "unit": "Of plain numbers: mm, cm or in.",
        "carried": "pouch, roll, bag, sheath or cover.",
        "belt": "The width of the belt that it hangs on; none: on none.",
        "material": "firm leather, soft leather, felt, canvas or webbing.",
        "thickness": "Of the leather or cloth.",
        "pitch": "From hole to hole.",
        "paper": "In the printer.",
        "hand": "That leads when you sew: right or left.",
    }
    for name in reversed(_ANSWERS):
        command = click.option(f"--{name}", metavar="TEXT", help=told[name])(command)
    return command


@click.command()
@click.option(
    "--item",
    "items",
    multiple=True,
    metavar="TEXT",
    help='A thing: "rule: 30 x 3 x 150", "awl: d 12 x 140". May be said again.',
)
@click.option(
    "--edge",
    "edges",
    multiple=True,
    metavar="TEXT",
    help='What cuts: "chisel: covered", "chisel: bare", "knife: handle 18 x 110". May be said again.',
)
@click.option("--things", **FILE, metavar="THINGS.toml", help="What handkit trace wrote, in place of sizes.")
@_answer_options
@click.option("--take", type=click.IntRange(1, 3), metavar="N", help="The way to take; else it is asked.")
@click.option("-o", "--output", **OUTPUT, metavar="FILE.toml", help="Default: called after the title, here.")
def new(
    items: tuple[str, ...],
    edges: tuple[str, ...],
    things: Path | None,
    take: int | None,
    output: Path | None,
    **given: str | None,
) -> None:
    """Ask what you carry and how, show ways to carry it, and write a project file.

    What is given as an option is not asked; with all of them, nothing is.
    """
    from handkit.commands.interview.dialogue import begun
    from handkit.commands.interview.questions import TRACED
    from handkit.commands.interview.traced import traced_things

    with reporting_errors():
        _look_at_place(output)
        said = {key: value for key, value in given.items() if value is not None}
        if "belt" in said and said["belt"] == "none":
            said["belt"] = ""
        if things is not None and items:
            raise click.UsageError("--things stands in place of --item")
        settled = {TRACED: traced_things(things)} if things is not None else {}
        folder = output.parent if output else Path()
        traced = "" if things is None else _beside(things, folder)
        stays = {"--things": things, "--take": take, "-o": output}
        kept = [word for key, value in stays.items() if value is not None for word in (key, str(value))]
        dialogue = begun(said, items, edges, settled, kept, _trials(traced, folder, settled))
        drawn: set[Path] = set()
        made = _made(dialogue, traced, folder)
        way = _chosen(dialogue, made, take, drawn)
        while way is None:
            dialogue.go_back()
            made = _made(dialogue, traced, folder)
            way = _chosen(dialogue, made, take, drawn)
        place = output or made.free_name()
        write_files({place: made.ways[way - 1].text.encode()})
        write_done(f"{place}: written; see it with: handkit show {_word(place)}", [place])
        write_done(f"then print it with: handkit make {_word(place)}", [place])


def _look_at_place(output: Path | None) -> None:
    """See that a file can be written there, before anything is asked. Raises FileError."""
    from handkit.errors import FileError
    from handkit.files import place_to_write

    if output is not None and output.suffix.lower() != ".toml":
        raise FileError(f"can't write {output}: a project file's name ends in .toml")
    if output is not None and os.path.lexists(place_to_write(output) or output):
        raise FileError(f"can't write {output}: it is there already; name a new file")
    folder = output.parent if output else Path()
    if not os.access(folder, os.W_OK):
        raise FileError(f"can't write in the folder {folder.absolute()}: name a place that is yours with -o")


def _beside(things: Path, folder: Path) -> str:
    """The file of things as the project names it. Raises FileError where it lies outside of its folder."""
    from handkit.errors import FileError

    place = os.path.relpath(things, folder)
    if place.startswith(os.pardir):
        raise FileError(f"{things} lies outside of the project's folder; put it beside the project")
    return place.replace(os.sep, "/")


def _trials(traced: str, folder: Path, settled: Mapping[str, Any]) -> OnTrial:
    """Answers are tried as they come. Raises FileError where what is traced can be carried in no way."""
    from handkit.commands.interview.made import Ways
    from handkit.commands.interview.trial import OnTrial
    from handkit.errors import FileError

    trials = OnTrial(Ways(folder).work, traced)
    if traced and trials.carried({"unit": "mm", **settled}, {}) is None:
        raise FileError(f"{traced}: no way is known to carry what is traced there; give its things by --item")
    return trials


def _made(dialogue: Dialogue, traced: str, folder: Path) -> MadeProposals:
    """The ways that can be made of the answers; asked on where none can. Ends where no answer is left to be
    changed."""
    from handkit.commands.interview.made import made_ways
    from handkit.commands.interview.questions import wanted

    while True:
        answers = wanted(dialogue.answers(), traced)
        with progress() as on_progress:
            made = made_ways(answers, folder, on_progress=on_progress)
        if made.ways:
            return made
        for words in made.refused:
            write_error(words)
        if not dialogue.asked:
            fail("no kit can be made of these answers", FAULTY)
        write_beside("no kit can be made of these answers: give another here, or go back")
        dialogue.go_back()


def _chosen(dialogue: Dialogue, made: MadeProposals, take: int | None, drawn: set[Path]) -> int | None:
    """The number of the way that is taken, None to go back. `drawn` are the pictures of before, which new
    ones stand in for."""
    from handkit.commands.interview.made import pictures

    if take is not None and take > len(made.ways):
        raise click.BadParameter(f"found {take}; allowed: 1 to {len(made.ways)}", param_hint="--take")
    if take is not None:
        return take
    place = made.free_name("-ways.pdf", drawn)
    write_files({place: pictures(made)})
    drawn.add(place)
    for number, way in enumerate(made.ways, start=1):
        write_beside(f"{number}: {way.told}")
    write_beside(f"pictures of them: {place}")
    while True:
        text = dialogue.line(f"Which one, {made.numbers}?", "1")
        if text is None:
            return None
        for number in range(1, len(made.ways) + 1):
            if (text or "1") == str(number):
                return number
        write_beside(f"  found {text!r}; allowed: {made.numbers}")


def _word(place: Path) -> str:
    from shlex import quote

    return quote(str(place))
