"""Marks: a page as data, before it is ink. Everything here can be compared, counted and replayed.

In: nothing. Out: the frozen values that pages are made of. All mm, origin at the lower left of
the paper, y up.

Words: a *step* is one path operator with its numbers, as ISO 32000-1 8.5.2 names them: `m` move,
`l` line, `c` cubic, `h` close; a *mark* is what one tag holds; a *group* is drawn under clips.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from handkit.geometry.affine import Point
from handkit.ink import Stroke, Tag

Step = tuple[str, tuple[float, ...]]
Steps = tuple[Step, ...]

# A property of a tag: text, a number, or whole numbers in a row.
Value = str | int | float | tuple[int, ...]
Properties = tuple[tuple[str, Value], ...]


class Ink(msgspec.Struct, frozen=True):
    """A path, stroked with a pen; filled black where there is none."""

    steps: Steps
    stroke: Stroke | None = None


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
    """Marks drawn in order, seen only inside every one of the clips."""

    marks: tuple[Mark, ...]
    clips: tuple[Steps, ...] = ()


class Page(msgspec.Struct, frozen=True):
    """One page: its label in a viewer's page list, the bookmarks (level from 0, title) that lead
    to it, and what is drawn."""

    label: str
    bookmarks: tuple[tuple[int, str], ...]
    groups: tuple[Group, ...]


def shifted(group: Group, x: float, y: float) -> Group:
    """The same group moved by (x, y).

    >>> ink = Ink((("m", (1.0, 2.0)), ("h", ())))
    >>> shifted(Group((Mark(Tag.LABEL, (), (ink,)),)), 10, 0).marks[0].parts[0].steps
    (('m', (11.0, 2.0)), ('h', ()))
    """
    marks = tuple(
        msgspec.structs.replace(mark, parts=tuple(_moved(part, x, y) for part in mark.parts))
        for mark in group.marks
    )
    return Group(marks, tuple(_moved_steps(clip, x, y) for clip in group.clips))


def words_of(pages: Iterable[Page]) -> tuple[Words, ...]:
    """All text of pages, in drawing order."""
    return tuple(
        part
        for page in pages
        for group in page.groups
        for mark in group.marks
        for part in mark.parts
        if isinstance(part, Words)
    )


def _moved(part: Ink | Words, x: float, y: float) -> Ink | Words:
    if isinstance(part, Words):
        return msgspec.structs.replace(part, at=(part.at[0] + x, part.at[1] + y))
    return msgspec.structs.replace(part, steps=_moved_steps(part.steps, x, y))


def _moved_steps(steps: Steps, x: float, y: float) -> Steps:
    """Numbers of a step stand in pairs, so every other one is an x."""
    return tuple((name, tuple(n + (y if i % 2 else x) for i, n in enumerate(at))) for name, at in steps)
