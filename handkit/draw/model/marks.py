"""Marks: a page as data, before it is ink. Everything here can be compared, counted and replayed.

In: nothing. Out: the frozen values that pages are made of. All mm, origin at the lower left of
the paper, y up.

Words: a *mark* is what one tag holds; a *group* is drawn under clips, and may still have to be
*shifted*: shifts are kept one by one and carried out once, by `settled`.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from handkit.draw.model.path_ops import PathOps
from handkit.geometry.affine import Point
from handkit.ink import Stroke, Tag

# A property of a tag: text, a number, or whole numbers in a row.
TagValue = str | int | float | tuple[int, ...]
Properties = tuple[tuple[str, TagValue], ...]


class Ink(msgspec.Struct, frozen=True):
    """A path, stroked with a pen; filled black where there is none.

    With a `fill`, 0 black to 1 white, it is filled with that first, and so hides what was drawn before.
    """

    path: PathOps
    stroke: Stroke | None = None
    fill: float | None = None


class Words(msgspec.Struct, frozen=True):
    """A line of text: `at` is the left end of its base line, `size` the font's size in mm."""

    text: str
    at: Point
    size: float
    bold: bool = False
    degrees: float = 0.0


class Mark(msgspec.Struct, frozen=True):
    """What is drawn under one tag, with what the tag says of it."""

    tag: Tag
    properties: Properties
    parts: tuple[Ink | Words, ...]


class Group(msgspec.Struct, frozen=True):
    """Marks drawn in order, seen only inside every one of the clips; `shifts` are still to be done."""

    marks: tuple[Mark, ...]
    clips: tuple[PathOps, ...] = ()
    shifts: tuple[Point, ...] = ()


class Page(msgspec.Struct, frozen=True):
    """One page: its label in a viewer's page list, the bookmarks (level from 0, title) that lead
    to it, and what is drawn; of a template sheet its number."""

    label: str
    bookmarks: tuple[tuple[int, str], ...]
    groups: tuple[Group, ...]
    sheet: int = 0


def page_group(*parts: Ink | Words, clips: tuple[PathOps, ...] = ()) -> Group:
    """What belongs to the page and to no piece, as one mark of one group."""
    return Group((Mark(Tag.PAGE, (), parts),), clips)


def shifted(group: Group, x: float, y: float) -> Group:
    """The same group, to be moved by (x, y)."""
    return Group(group.marks, group.clips, (*group.shifts, (x, y)))


def enlarged(group: Group, scale: float) -> Group:
    """The same lines larger or smaller about the origin; pens stay as they are. For groups without words
    and shifts.

    >>> ink = Ink(PathOps("mh", (1.0, 2.0)))
    >>> enlarged(Group((Mark(Tag.LABEL, (), (ink,)),)), 3.0).marks[0].parts[0].path.numbers
    (3.0, 6.0)
    """
    marks = tuple(
        Mark(
            mark.tag,
            mark.properties,
            tuple(
                Ink(part.path.scaled(scale), part.stroke, part.fill)
                for part in mark.parts
                if isinstance(part, Ink)
            ),
        )
        for mark in group.marks
    )
    return Group(marks, tuple(clip.scaled(scale) for clip in group.clips))


def settled(group: Group) -> Group:
    """The same group with its shifts carried out, one after another.

    >>> ink = Ink(PathOps("mh", (1.0, 2.0)))
    >>> settled(shifted(Group((Mark(Tag.LABEL, (), (ink,)),)), 10, 0)).marks[0].parts[0].path.numbers
    (11.0, 2.0)
    """
    if not group.shifts:
        return group
    marks = tuple(
        [
            Mark(m.tag, m.properties, tuple([_moved(part, group.shifts) for part in m.parts]))
            for m in group.marks
        ]
    )
    return Group(marks, tuple(clip.shifted(group.shifts) for clip in group.clips))


def words_of(pages: Iterable[Page]) -> tuple[Words, ...]:
    """All text of pages, in drawing order."""
    return tuple(
        part
        for page in pages
        for group in page.groups
        for mark in settled(group).marks
        for part in mark.parts
        if isinstance(part, Words)
    )


def _moved(part: Ink | Words, shifts: tuple[Point, ...]) -> Ink | Words:
    if isinstance(part, Ink):
        return Ink(part.path.shifted(shifts), part.stroke, part.fill)
    x, y = part.at
    for dx, dy in shifts:
        x, y = x + dx, y + dy
    return Words(part.text, (x, y), part.size, part.bold, part.degrees)
