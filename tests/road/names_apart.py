"""Names in pictures of the article and of seams, read from what is drawn: which cross or lie on others.

In: a project's text. Out: a line for each two. As a command: `python tests/road/names_apart.py FILE…`, or
`--count 50 --seed 1` of random projects.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator
from itertools import combinations
from pathlib import Path
from typing import NamedTuple

import shapely
from valid_projects import project

from handkit.assemble.assembler import assemble
from handkit.draw.article.pages import kit_blocks
from handkit.draw.layout.page_frame import Frame
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.fonts import CAPITAL, Fonts, load_fonts
from handkit.draw.model.marks import Group, Ink, Words, settled
from handkit.draw.pages.document_blocks import part_blocks
from handkit.draw.words.names import kit_plan
from handkit.draw.words.plan_document import plan_document
from handkit.errors import ProjectError
from handkit.ink import LEADER
from handkit.kit import punched_of
from handkit.read.file.load import ProjectText
from handkit.stitch.planner import plan

# What two leaders may have in common where both end in one place, and how near to its text one begins; mm.
ONE_PLACE, BEGINS = 1.0, 1.5


class Label(NamedTuple):
    """A name where it stands, and the leader to what it names."""

    text: str
    box: shapely.Polygon
    leader: shapely.LineString | None


def faults(text: str | Path) -> Iterator[str]:
    """All that cross or lie on one another on a kit's pages, in its own words."""
    punched = punched_of(text)
    try:
        article = assemble(punched)
    except ProjectError as refused:
        article = refused.reached
    page = punched.project.page
    frame, fonts = (
        Frame(page.paper, page.edge, page.margin, punched.project.units),
        load_fonts(punched.project),
    )
    setter = Typesetter(fonts, frame.width, frame.height)
    kit = kit_plan(punched, plan(punched))
    parts = [part for chapter in plan_document(kit).chapters for part in chapter.parts]
    for blocks in (kit_blocks(article, setter), part_blocks(kit, parts, setter)):
        for number, groups in enumerate(frame.poured(blocks), start=1):
            for told in of_groups(groups, fonts):
                yield f"page {number}: {told}"


def of_groups(groups: Iterable[Group], fonts: Fonts) -> Iterator[str]:
    """The same of what one page draws."""
    found = list(labels(groups, fonts))
    for one, other in combinations(found, 2):
        if one.box.intersection(other.box).area > 0.02:
            yield f'"{one.text}" on "{other.text}"'
        for a, b in ((one, other), (other, one)):
            if a.leader is not None and a.leader.intersection(b.box).length > 0.1:
                yield f'leader of "{a.text}" through "{b.text}"'
        if one.leader is not None and other.leader is not None:
            met, ends = (
                one.leader.intersection(other.leader),
                [shapely.Point(each.leader.coords[-1]) for each in (one, other)],
            )
            if not met.is_empty and max(met.distance(end) for end in ends) > ONE_PLACE:
                yield f'leaders of "{one.text}" and "{other.text}" cross'


def labels(groups: Iterable[Group], fonts: Fonts) -> Iterator[Label]:
    """Every line of text with its leader, the thin line beside it in its mark."""
    for group in groups:
        for mark in settled(group).marks:
            texts = [part for part in mark.parts if isinstance(part, Words)]
            boxes = [box_of(words, fonts) for words in texts]
            lines = [
                shapely.LineString([part.path.numbers[:2], part.path.numbers[2:]])
                for part in mark.parts
                if isinstance(part, Ink) and part.stroke == LEADER and part.path.operators == "ml"
            ]
            own = {}
            for line in lines:
                start = shapely.Point(line.coords[0])
                near = min(range(len(boxes)), key=lambda k: boxes[k].distance(start), default=None)
                if near is not None and boxes[near].distance(start) < BEGINS:
                    own[near] = line
            for k, words in enumerate(texts):
                yield Label(words.text, boxes[k], own.get(k))


def box_of(words: Words, fonts: Fonts) -> shapely.Polygon:
    """What the capitals of a text cover."""
    (x, y), high = words.at, CAPITAL * words.size
    wide = fonts.width(words.text, words.size, bold=words.bold)
    return shapely.box(x - high, y, x, y + wide) if words.degrees else shapely.box(x, y, x + wide, y + high)


def main() -> None:
    """Print what is found, and how many."""
    parser = argparse.ArgumentParser()
    parser.add_argument("files", nargs="*", type=Path)
    parser.add_argument("--count", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    named: list[tuple[str, str | Path]] = [(file.name, file) for file in asked.files]
    if asked.count:
        named += [(f"random {seed}", project(seed)) for seed in range(asked.seed, asked.seed + asked.count)]
    total = 0
    for name, text in named:
        try:
            found = list(faults(ProjectText(text) if isinstance(text, str) else text))
        except ProjectError:
            print(name, "refused")
            continue
        total += len(found)
        for each in found:
            print(f"{name}: {each}")
    print(f"{len(named)} projects, {total} faults")


if __name__ == "__main__":
    main()
