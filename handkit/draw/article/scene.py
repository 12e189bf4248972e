"""Scene: a picture of the article as data, true to measure, before it has a scale.

In: nothing. Out: an `ArticleScene`: groups in mm of the article with pens in mm of the paper, drawn from
the back to the face, so that what is filled hides what was drawn before it; the names to set beside them;
what is measured. A view, an exploded view and a section are each one; `setting.py` puts any on paper.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from handkit.draw.model.free_space import rings_of
from handkit.draw.model.marks import Group, Ink, Mark, Properties
from handkit.draw.model.path_ops import PathOps, joined
from handkit.geometry.affine import Point
from handkit.geometry.box import Box, around, box_of
from handkit.geometry.region import areas_of
from handkit.ink import STROKES, Tag

# How light the side of leather is drawn that does not show as a rule; the grain side is white.
FLESH, GRAIN = 0.88, 1.0

# No more than this of a shape beside what covers it is no tone that is told, mm.
SLIVER = 0.75


class Name(msgspec.Struct, frozen=True):
    """A name to be set in or beside what one of the scene's groups draws, where that is seen; in a `ring`
    where it is a fault's number. What is `thin` by itself, as leather in a section, is no edge of another."""

    text: str
    group: int
    bold: bool = False
    ring: bool = False
    thin: bool = False


class ArticleScene(msgspec.Struct, frozen=True):
    """A picture. `measured` is what its overall width and height are told of, None where neither is; `box`
    has all that is shown."""

    title: str
    box: Box
    groups: tuple[Group, ...]
    names: tuple[Name, ...] = ()
    measured: Box | None = None
    notes: tuple[str, ...] = ()


class Canvas:
    """A scene while it is drawn: groups with their names, from the back to the face."""

    def __init__(self) -> None:
        self.groups: list[Group] = []
        self.names: list[Name] = []

    def draw(self, *marks: Mark, clips: tuple[PathOps, ...] = ()) -> None:
        """Draw marks over all that was drawn."""
        if marks:
            self.groups.append(Group(marks, clips))

    def name(self, text: str, *, thin: bool = False) -> None:
        """Name what was drawn last."""
        self.names.append(Name(text, len(self.groups) - 1, thin=thin))

    def shown(self, fill: float) -> list[str]:
        """The pieces of which a shape in a tone is seen: not all of it under what was drawn over it."""
        covered, over, found = areas_of(()), list[tuple[Point, ...]](), list[str]()
        for mark in reversed([mark for group in self.groups if not group.clips for mark in group.marks]):
            for ink in reversed([part for part in mark.parts if isinstance(part, Ink)]):
                if ink.fill == fill:
                    # Put together here alone: hundreds of caps may lie over it, one union each is slow.
                    covered, over = covered.joined(areas_of(over)), []
                    if not areas_of(rings_of(ink.path)).without(covered).grown(-SLIVER).empty:
                        found += [str(value) for key, value in mark.properties if key == "Piece"]
                if ink.fill is not None:
                    over += rings_of(ink.path)
        return found

    def scene(
        self, title: str, measured: Box | None = None, notes: Iterable[str] = (), shown: Box | None = None
    ) -> ArticleScene:
        """What was drawn, or the part of it that is shown."""
        box = shown or around(_box(ink.path) for ink in inks_of(self.groups))
        told = tuple(note for note in notes if note)
        return ArticleScene(title, box, tuple(self.groups), tuple(self.names), measured, told)


def area(tag: Tag, properties: Properties, path: PathOps, fill: float = GRAIN) -> Mark:
    """A closed shape that hides what lies behind it."""
    return Mark(tag, properties, (Ink(path, STROKES[tag], fill),))


def lines(tag: Tag, properties: Properties, paths: Iterable[PathOps]) -> tuple[Mark, ...]:
    """Lines that hide nothing; no mark where there are none."""
    path = joined(paths)
    return (Mark(tag, properties, (Ink(path, STROKES[tag]),)),) if path.operators else ()


def inks_of(groups: Iterable[Group]) -> list[Ink]:
    """All lines of groups."""
    return [part for group in groups for mark in group.marks for part in mark.parts if isinstance(part, Ink)]


def _box(path: PathOps) -> Box:
    return box_of(zip(path.numbers[::2], path.numbers[1::2], strict=True))
