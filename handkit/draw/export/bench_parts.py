"""Bench parts: each kind of part of the plan's document as elements of the page at the bench.

In: the plan, a part. Out: elements. A box, a walk and a picture have names of their own in the page.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import zip_longest
from typing import Any
from xml.etree import ElementTree as ET

import msgspec

from handkit.draw.export.html_writing import THEIRS, told, under
from handkit.draw.export.pages_svg import block_svg
from handkit.draw.layout.flow import stacked
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.fonts import Fonts
from handkit.draw.pages.seam_picture import seam_picture, seam_scene, seam_told
from handkit.draw.pages.stitch_diagram import stitch_diagram
from handkit.draw.words.document import (
    Illustration,
    Keyed,
    Numbered,
    Paragraph,
    Ticked,
    Walk,
)
from handkit.draw.words.listing import Listing
from handkit.draw.words.names import KitPlan, span_words
from handkit.kinds.stitches import StitchKind

# Rooms for pictures, mm: of a seam, and of a stitch, two of its pictures side by side.
SEAM_ROOM = (110.0, 90.0)
STITCH_WIDTH = 100.0


class BenchSource(msgspec.Struct, frozen=True):
    """What parts are written from."""

    kit: KitPlan
    fonts: Fonts


def _paragraph(_: BenchSource, part: Paragraph) -> Iterator[ET.Element]:
    yield _alone("p", part.text, "said" if part.at_hand else "soft")


def _numbered(_: BenchSource, part: Numbered) -> Iterator[ET.Element]:
    listed = ET.Element("ol")
    for text in part.texts:
        told(listed, "li", text)
    yield listed


def _keyed(_: BenchSource, part: Keyed) -> Iterator[ET.Element]:
    yield _by_key((key, text, False) for key, text in part.lines)


def _listing(_: BenchSource, part: Listing) -> Iterator[ET.Element]:
    """Nothing where it is empty."""
    if not (part.rows or part.texts):
        return
    yield _alone("h3", part.title)
    if part.rows:
        yield _table(part)
    yield from (_alone("p", text, "soft") for text in part.texts)


def _table(part: Listing) -> ET.Element:
    """A table that moves sideways in a room of its own where the screen is narrow."""
    room = ET.Element("div", {"class": "wide", "tabindex": "0", "role": "region", "aria-label": part.title})
    table = under(room, "table")
    kinds = [{"class": "figure"} if column.right else {} for column in part.columns]
    head = under(under(table, "thead"), "tr")
    for column, kind in zip(part.columns, kinds, strict=True):
        told(head, "th", column.head, {"scope": "col", **kind})
    body = under(table, "tbody")
    for row in part.rows:
        line = under(body, "tr")
        for text, kind in zip(row, kinds, strict=True):
            told(line, "td", text, {**THEIRS, **kind})
    return room


def _ticked(source: BenchSource, part: Ticked) -> Iterator[ET.Element]:
    """A step of the work with its texts, its pictures, and for each of its works a counter and a box; or
    threads to cut, each with a box."""
    noun, level, done = ("Step", "h2", "done") if part.is_work else ("Thread", "h3", "cut")
    step = ET.Element("article", {"class": "ticked", "id": f"{noun.lower()}-{part.marks[0]}"})
    several = "s" * (len(part.marks) > 1)
    title = f"{noun}{several} {span_words(part.marks)}" + (f": {part.title}" if part.title else "")
    read, work = under(step, "div"), under(step, "div")
    told(read, level, title, {"tabindex": "-1"})
    if part.aside:
        told(read, "p", part.aside, {"class": "aside"})
    for text in part.said:
        told(read, "p", text, {"class": "said"})
    if part.caution:
        told(read, "p", f"Caution: {part.caution}", {"class": "caution"})
    if part.lines:
        read.append(_by_key((line.key, line.text, line.at_hand) for line in part.lines))
    for text in part.notes:
        told(read, "p", text, {"class": "notes"})
    for figure in part.figures:
        work.extend(_illustration(source, figure))
    ticks = under(work, "div", {"class": "ticks"})
    paired = len(part.walks) == len(part.marks)
    for mark, walk in zip_longest(part.marks, part.walks):
        if walk is not None:
            ticks.append(_counter(walk, opened=len(part.walks) == 1, among=title))
        if mark is not None:
            label = told(ticks, "label", "")
            box = under(label, "input", {"type": "checkbox", "id": f"{done}-{mark}"})
            code = f" ({walk.code})" * paired if walk is not None else ""
            box.tail = f"{noun} {mark}{code} {done}" if part.is_work else f"{mark} {done}"
    yield step


def _counter(walk: Walk, *, opened: bool, among: str) -> ET.Element:
    """What `bench.js` counts along a walk with; shown where it runs. Of several of a step one is open."""
    says = {str(place): each.says for place, each in enumerate(walk.places) if each.says}
    given = {
        "class": "walk",
        "id": f"walk-{walk.code}",
        "name": among,
        "data-seam": walk.code,
        "data-holes": " ".join(str(place.hole) for place in walk.places),
        "data-says": json.dumps(says, separators=(",", ":")),
        "hidden": "",
        **({"open": ""} if opened else {}),
    }
    counter = ET.Element("details", given)
    told(counter, "summary", f"Count along {walk.code}")
    seen = under(counter, "div", {"aria-live": "polite"})
    told(seen, "p", "", {"class": "here"})
    told(seen, "p", "")
    told(seen, "p", "", {"class": "soft"})
    row = under(counter, "div", {"class": "row"})
    told(row, "button", "One back", {"type": "button", "aria-label": f"One back, {walk.code}"})
    told(
        row,
        "button",
        "Next hole",
        {"type": "button", "class": "next", "aria-label": f"Next hole of {walk.code}"},
    )
    again = {"type": "button", "aria-label": f"Count again from the start of {walk.code}"}
    told(row, "button", "Count again from the start", again)
    return counter


def _illustration(source: BenchSource, part: Illustration) -> Iterator[ET.Element]:
    if isinstance(part.of, StitchKind):
        setter, title = Typesetter(source.fonts, STITCH_WIDTH), part.told
        blocks, name = stitch_diagram(part.of, setter), f"stitch-{part.of}"
    else:
        setter = Typesetter(source.fonts, *SEAM_ROOM)
        scene = seam_scene(source.kit, part.of, setter)
        setter, title = setter.narrowed(scene.size[0]), f"{part.told}: {seam_told(scene)}"
        blocks = (seam_picture(source.kit, scene, setter),)
        name = f"seam-{source.kit.codes.seams[part.of[0].name]}"
    if part.caption:
        yield _alone("p", part.caption, "strong")
    if blocks:
        block = stacked(blocks)
        yield block_svg(block.groups, setter.width, block.height, name=name, title=title)


def _by_key(lines: Iterable[tuple[str, str, bool]]) -> ET.Element:
    """Texts with their keys; one without has that of the text before it."""
    listed = ET.Element("dl")
    for key, text, at_hand in lines:
        if key:
            told(listed, "dt", key)
        told(listed, "dd", text, {"class": "at-hand"} if at_hand else {})
    return listed


def _alone(tag: str, text: str, kind: str = "") -> ET.Element:
    return told(ET.Element("div"), tag, text, {"class": kind} if kind else {})


PARTS: Mapping[type, Callable[[BenchSource, Any], Iterator[ET.Element]]] = {
    Paragraph: _paragraph,
    Numbered: _numbered,
    Keyed: _keyed,
    Listing: _listing,
    Ticked: _ticked,
    Illustration: _illustration,
}
