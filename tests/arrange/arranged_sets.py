"""What comes of a set of things: its faults by the model of the article, its area beside a plain row's."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from pathlib import Path
from time import process_time
from typing import NamedTuple

from handkit.assemble.article import Article, BodyKind
from handkit.assemble.assembler import assemble
from handkit.draft.arrange.arranging import arrangements, in_one_row, laid
from handkit.draft.drafter import draft
from handkit.errors import ProjectError
from handkit.messages.message import Severity
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

# Of parts and things in one another's way, or past their base; of what a blade passes bare.
CODES = ("clash", "blade-passes", "part-past-base", "item-past-base", "part-apart", "hole")

Bounds = tuple[float, float, float, float]


class Outcome(NamedTuple):
    """One set: its faults, its base's area as a share of a plain row's where all is free and in front,
    processor seconds, ways found, how far behind the weight lies."""

    name: str
    faults: list[str]
    share: float | None
    seconds: float
    ways: int
    behind: float = 0.0


def outcome_of(text: str, name: str, *, most: int = 5) -> Outcome:
    """The first ways of a set put together."""
    project = read_project_text(text, file=f"{name}.toml", folder=Path())
    base = project.pieces[0]
    start = process_time()
    ways = arrangements(project, base)
    seconds = process_time() - start
    row = in_one_row(project, base)
    faults: list[str] = []
    behind = 0.0
    for number, way in enumerate(ways[:most], start=1):
        placed = laid(project, [way])
        try:
            article = assemble(punch(draft(placed)))
        except ProjectError as refused:
            faults += [f"{number}: {each}" for each in refused.findings if each.severity is Severity.ERROR]
            continue
        told = (*article.punched.pattern.findings, *article.punched.findings, *article.findings)
        faults += [f"{number}: {each}" for each in told if each.code.startswith(CODES)]
        faults += [f"{number}: {each}" for each in overlapping(article)]
        behind = behind or far_behind(article)
    share = ways[0].area / row.area if row is not None else None
    return Outcome(name, faults, share, seconds, len(ways), behind)


def places_of(text: str) -> dict[str, tuple[float, float]]:
    """Where the parts of a set come to lie."""
    project = read_project_text(text, file="p.toml", folder=Path())
    return dict(arrangements(project, project.pieces[0])[0].places)


def overlapping(article: Article) -> Iterator[str]:
    """By plain boxes: parts' pieces on one face that lie on one another, things that do, things past the
    base. What bends, and what lies on that, is elsewhere once folded: a welt on a sheath's leaf."""
    figure = article.figures[0]
    base = figure.body(figure.base).outline.bounds()
    drafters = {piece.name: piece.drafted_by for piece in article.punched.project.pieces}
    bends = {body.name for body in figure.bodies if body.piece.bends}
    bodies = [
        (drafters[body.name] or "", body.level < 0, body.outline.bounds())
        for body in figure.bodies
        if drafters[body.name]
        and not {body.name, body.on} & bends
        and body.kind in (BodyKind.FLAT, BodyKind.STANDING)
    ]
    held = {item.name: item for item in article.punched.project.items}
    sides = {held[each.item].held_by: each.in_front for each in figure.things}
    things = [(held[each.item].held_by, each.outline.bounds(), held[each.item]) for each in figure.things]
    for (one, under, box), (other, beneath, second) in combinations(bodies, 2):
        if one != other and under is beneath and _common(box, second):
            yield f"{one} on {other}"
    for part, box, item in things:
        if box[0] < base[0] or box[1] < base[1] or box[2] > base[2] or box[3] > base[3]:
            yield f"{item.name} past the base"
        for other, second, thing in things:
            if other != part and sides[other] is sides[part] and _common(box, second):
                yield f"{item.name} on {thing.name}"


def _common(one: Bounds, other: Bounds) -> bool:
    """Whether more than a hair of one lies on another."""
    return all(min(one[k + 2], other[k + 2]) - max(one[k], other[k]) > 0.1 for k in (0, 1))


def far_behind(article: Article) -> float:
    """How far up the middle of all weight lies, 0 at the foot and 1 at the upper edge; in front alone."""
    figure = article.figures[0]
    _, low, _, high = figure.body(figure.base).outline.bounds()
    items = {item.name: item.width * item.thickness * item.length for item in article.punched.project.items}
    ends = [(items[each.item], each.outline.bounds()) for each in figure.things]
    return sum(heavy * (box[1] + box[3] - 2 * low) for heavy, box in ends) / (
        2 * (high - low) * sum(heavy for heavy, _ in ends)
    )
