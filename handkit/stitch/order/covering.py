"""Covering: what lies over holes of a task, and how it is told where the way is not free.

In: a task, what covers it and how. Out: reasons, findings, sentences of the steps.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import msgspec

from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.grouping import grouped
from handkit.stitch.order.precedence import Precedence, way_words
from handkit.stitch.order.shutting import LeafOver
from handkit.stitch.order.tasks import Task
from handkit.wording.quoting import words
from handkit.wording.stretches import number_words


class Covering(msgspec.Struct, frozen=True):
    """A piece that lies over holes of a task, once it is joined to what the task goes through."""

    task: Task
    piece: str
    numbers: tuple[int, ...]
    places: tuple[Point, ...]  # of these holes, in the base's plan
    in_front: bool  # as the lowest piece of the task is seen
    lifts: bool  # it folds over, and can be laid back at its fold
    strip: bool  # it is a strip that its own fold holds in its place
    joined_by: tuple[Task, ...]  # any of these brings it there
    leaf: LeafOver | None = None  # the leaf of a folded base that it is

    @property
    def why(self) -> str:
        """As the reason of a precedence, from either end of it."""
        if self.lifts or self.leaf is not None:
            return f'"{self.piece}" would fold over the holes {self.where}'
        return f'"{self.piece}" would lie {"in front of" if self.in_front else "behind"} the holes'

    @property
    def where(self) -> str:
        """On which face."""
        return "in front" if self.in_front else "behind"


class Hindrance(msgspec.Struct, frozen=True):
    """Ways of one task that are not free when its turn comes, and what must be that made them so; all covers
    are in the way alike: held down, to be bent aside, or to be laid back.
    """

    task: Task
    covers: tuple[Covering, ...]
    held: bool  # down, by what stands round them
    ways: tuple[tuple[Precedence, ...], ...]  # of the covers, each told once

    @property
    def finding(self) -> Finding:
        """As `check` tells it."""
        lie = "folded over " if self._lifts else "held down " if self.held else ""
        held = "way-not-free/held" if self.held else "way-not-free/aside"
        told = finding(
            "way-not-free/fold" if self._lifts else held,
            self.task.source.at(),
            covered=words(
                (f"{holes} with {_quoted(pieces)} {lie}{where}" for holes, where, pieces in self._covered),
                last="and",
            ),
            pieces=_quoted(self._pieces),
            way=way_words(self.ways),
        )
        return told.at_holes(self.task.name, sorted({n for cover in self.covers for n in cover.numbers}))

    @property
    def sentence(self) -> str:
        """As its step tells it."""
        names, one = words(self._pieces, last="and"), len(self._pieces) == 1
        sides = grouped(self.covers, by=lambda cover: cover.where)
        over = words((f"{_holes(some)} {where}" for where, some in sides.items()), last="and")
        if self._lifts:
            return (
                f"Lay {names} back at {'its fold: it' if one else 'their folds: they'} would lie over {over}."
            )
        if self.held:
            gives = "it gives: it is" if one else "they give: they are"
            return f"Lift {names} as far as {gives} held down over {over}."
        return f"Bend {names} aside: {'it lies' if one else 'they lie'} over {over}."

    @property
    def _lifts(self) -> bool:
        return self.covers[0].lifts

    @property
    def _pieces(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(cover.piece for cover in self.covers))

    @property
    def _covered(self) -> Iterator[tuple[str, str, list[str]]]:
        """Which holes, on which face, by which pieces."""
        places = grouped(self.covers, by=lambda cover: (_holes([cover]), cover.where))
        for (holes, where), covers in places.items():
            yield holes, where, [cover.piece for cover in covers]


def _holes(covers: Sequence[Covering]) -> str:
    """All holes of covers of one task, in words."""
    numbers = sorted({number for cover in covers for number in cover.numbers})
    return f"{'hole' if len(numbers) == 1 else 'holes'} {number_words(numbers)}"


def _quoted(names: Iterable[str]) -> str:
    return words((f'"{name}"' for name in names), last="and")
