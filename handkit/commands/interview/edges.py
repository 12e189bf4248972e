"""Edges: what is asked of each thing that cuts: whether its edge is covered, and what of it stands out of a
sheath.

In: the answers so far. Out: questions; what they come to of a thing. And the same by an option.

Words: a thing is *bare* where its edge goes in uncovered: it is measured as blade and handle, each by itself.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

import click
import msgspec

from handkit.commands.interview.question import Answers, Question, WrongAnswerError, choice_in, size_in
from handkit.commands.interview.typed import Typed
from handkit.commands.interview.wanted import ToldThing
from handkit.kinds.edged_tools import HANDLE_LONG, HANDLE_THICK, tells_of_an_edge
from handkit.wording.figures import UNITS
from handkit.wording.quoting import quoted, words

# What an empty line takes a handle to be, and what the reader takes where a file says none.
THICK, LONG = f"{HANDLE_THICK:g} mm", f"{HANDLE_LONG:g} mm"

# How the keys of answers that --edge gives begin.
OF_EDGES = ("edge ", "handle ", "blade ")

_ALLOWED = (
    f'"name: covered", "name: bare" (its handle taken to be broad as its blade, {THICK} thick, {LONG} long) '
    'or "name: handle thickness x length"; of what is traced "name: blade length", too'
)


def cuts(number: int, name: str, answers: Answers) -> bool:
    """Whether the thing has an edge: its name tells of one, or an option does (a settled answer)."""
    return f"cuts {number}" in answers or tells_of_an_edge(name)


def edge_question(number: int, name: str) -> Question:
    """Whether a thing's edge is covered; what nobody vouches for is bare."""
    return Question(
        f"edge {number}",
        f"Is the edge of {quoted(name)} covered when it goes in: folded shut, or in a sheath or cap of its "
        "own? yes or no",
        lambda text: "covered" if choice_in(text, ("yes", "no")) == "yes" else "bare",
        "no",
    )


def blade_width_in(text: str, unit: str) -> Typed:
    """The width of a blade: what goes into a sheath is flat. Raises WrongAnswerError."""
    try:
        return size_in(text, unit)
    except WrongAnswerError as why:
        raise WrongAnswerError(f"{why}; a blade is measured flat, where it is widest") from None


def handle_questions(number: int, thing: ToldThing, answers: Answers) -> Iterator[Question]:
    """What is asked of the handle of a thing, as it was measured or traced, once it is known how it is
    carried: of what goes into a sheath, and may be taken for it."""
    now, carried, unit = with_edge(number, thing, answers), answers["carried"], answers["unit"]
    if thing.blade or any(thing.handle) or not carried.sheathes(now):
        return
    said = quoted(thing.name)
    if thing.traced:
        yield Question(
            f"blade {number}",
            f"How long is the blade of {said} by itself? An empty line: all that was traced is blade",
            lambda text: _blade_in(text, unit, thing), "",
        )  # fmt: skip
    yield Question(
        f"handle {number}", f"How thick is the handle of {said}?",
        lambda text: size_in(text, unit), "", THICK,
    )  # fmt: skip
    if now.blade is None:
        yield Question(
            f"handle length {number}", f"How long is the handle of {said}, beyond its blade?",
            lambda text: size_in(text, unit), "", LONG,
        )  # fmt: skip


def _blade_in(text: str, unit: str, thing: ToldThing) -> Typed:
    """How much of what was traced is blade: less than all. Raises WrongAnswerError."""
    blade = size_in(text, unit)
    if blade.mm >= thing.length.mm:
        raise WrongAnswerError(
            f"{quoted(text)} is as long as all that was traced, {UNITS[unit].length.text(thing.length.mm)}; "
            "where that is all blade, leave the line empty"
        )
    return blade


def with_edge(number: int, thing: ToldThing, answers: Answers) -> ToldThing:
    """The thing with what is answered of its edge."""
    return msgspec.structs.replace(
        thing,
        cutting=answers.get(f"edge {number}") or thing.cutting,
        handle=(
            answers.get(f"handle {number}") or thing.handle[0],
            answers.get(f"handle length {number}") or thing.handle[1],
        ),
        blade=answers.get(f"blade {number}") or thing.blade,
    )


def given_edges(
    edges: Sequence[str], names: Sequence[str], *, sheathed: bool
) -> tuple[dict[str, str], dict[str, bool]]:
    """The answers that `--edge "knife: handle 18 x 110"` gives, and which things have an edge: what is to be
    `sheathed` is bare. Raises click.BadParameter."""
    given = {f"edge {number}": "no" for number in range(1, len(names) + 1)} if sheathed else {}
    edged: dict[str, bool] = {}
    for text in edges:
        name, _, told = text.rpartition(":")
        if name.strip() not in names:
            known = words([quoted(each) for each in names]) or "a thing that --item or --things gives"
            raise click.BadParameter(
                f"found {quoted(name.strip() or text)}; allowed: {known}, then a colon and what its edge is",
                param_hint="--edge",
            )
        number = names.index(name.strip()) + 1
        given |= _given(told, number, text)
        edged[f"cuts {number}"] = True
    return given, edged


def _given(told: str, number: int, text: str) -> dict[str, str]:
    found: dict[str, str] = {}
    for part in re.split(r",\s*(?=[a-z])", told.strip().lower()):
        word, _, sizes = part.partition(" ")
        parts = [each.strip() for each in re.split("[x×]", sizes)] if sizes.strip() else []
        if part == "covered":
            found[f"edge {number}"] = "yes"
        elif part == "bare":
            found |= {f"edge {number}": "no", f"handle {number}": "", f"handle length {number}": ""}
        elif word == "handle" and len(parts) <= 2:
            found[f"edge {number}"] = "no"
            found |= dict(zip((f"handle {number}", f"handle length {number}"), parts, strict=False))
        elif word == "blade" and len(parts) == 1:
            found |= {f"edge {number}": "no", f"blade {number}": parts[0]}
        else:
            raise click.BadParameter(f"found {quoted(text)}; allowed: {_ALLOWED}", param_hint="--edge")
    return found


def as_option(number: int, name: str, said: Mapping[str, str]) -> list[str]:
    """What is said of a thing's edge so far, as the option that gives it."""
    edge = said.get(f"edge {number}")
    thick, long = said.get(f"handle {number}"), said.get(f"handle length {number}")
    if edge is None and thick is None:
        return []
    if edge is not None and edge.lower().startswith("y"):
        return ["--edge", f"{name}: covered"]
    blade = said.get(f"blade {number}")
    sizes = [size or usual for size, usual in ((thick, THICK), (long, LONG)) if size is not None]
    told = "bare" if thick == long == "" else f"handle {' x '.join(sizes)}".strip()
    return ["--edge", f"{name}: {f'blade {blade}, ' if blade else ''}{told}"]
