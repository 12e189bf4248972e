"""Shutting: which leaves of a folded base lie over which holes once it is folded, and what shuts it.

In: the pattern and its tasks. Out: covers of holes by leaves; the task that holds a fold shut.

A base lies open while it is worked. It is *shut* by the task from which on two of its leaves hang together by
other pieces, or by holes through both: from there on a leaf lies over the holes of the other.

Words: a *node* is a piece, or one of the leaves of a folded one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.geometry.affine import Point
from handkit.geometry.region import region_of
from handkit.geometry.space import FoldedSheet
from handkit.stitch.order.hole_rows import RIM
from handkit.stitch.order.tasks import Task, TaskKind, TaskLayer, is_plain_hole

Node = tuple[str, int]


class LeafOver(msgspec.Struct, frozen=True):
    """A leaf that lies over holes of a task once its piece is folded; `places` in the plan of what lies
    open."""

    task: Task
    leaf: Node
    places: Mapping[int, Point]
    in_front: bool  # as the leaf with the holes is seen


class Shutting(msgspec.Struct, frozen=True):
    """The nodes that each task holds together, and what covers what once all is folded."""

    nodes: Mapping[Task, frozenset[Node]]
    over: tuple[LeafOver, ...]

    def joining(self, over: LeafOver) -> tuple[Task, ...]:
        """The tasks any of which brings a leaf over a task's holes, as the last of several."""
        own = self.nodes[over.task]
        joins = [task for task in self.nodes if task.joins and task is not over.task]
        inside = [task for task in joins if not own & self.nodes[task]]
        reached = self._together(over.leaf, inside)
        return tuple(task for task in joins if own & self.nodes[task] and reached & self.nodes[task])

    def is_shut(self, over: LeafOver, done: Sequence[Task]) -> bool:
        """Whether what is done has brought a leaf over a task's holes."""
        return bool(self._together(over.leaf, done) & self.nodes[over.task])

    def shut_by(self, piece: PatternPiece, bend: int, order: Sequence[Task]) -> Task | None:
        """The first task of an order from which on both sides of a fold hang together, or None."""
        panels = piece.panels
        beyond = {(piece.name, k) for k, panel in enumerate(panels) if bend in panel.beyond}
        stays = {(piece.name, k) for k in range(len(panels))} - beyond
        for k, task in enumerate(order, start=1):
            if task.joins and any(self._together(node, order[:k]) & stays for node in beyond):
                return task
        return None

    def _together(self, node: Node, tasks: Sequence[Task]) -> set[Node]:
        """What hangs together with a node by tasks."""
        grown, size = {node}, 0
        while size != len(grown):
            size = len(grown)
            for task in tasks:
                if task.joins and grown & self.nodes[task]:
                    grown |= self.nodes[task]
        return grown


def shutting_of(pattern: Pattern, tasks: Sequence[Task]) -> Shutting | None:
    """None where no piece is folded with an angle."""
    sheets = {piece.name: piece.sheet for piece in pattern.pieces if piece.bends}
    if not sheets:
        return None
    nodes = {task: frozenset(_nodes(pattern, sheets, task)) for task in tasks}
    bases = [piece for piece in pattern.pieces if piece.name in sheets and piece.on is None]
    kinds = (TaskKind.SEAM, TaskKind.OPENING)
    work = [task for task in tasks if task.kind in kinds and not is_plain_hole(task)]
    over = (one for task in work for base in bases for one in _over(pattern, base, sheets, task))
    return Shutting(nodes, tuple(over))


def _nodes(pattern: Pattern, sheets: Mapping[str, FoldedSheet], task: Task) -> Iterator[Node]:
    """What a task goes through; what is glued down lies on one leaf."""
    if task.kind is TaskKind.GLUE:
        yield from ((task.name, 0), (task.layers[1].piece, pattern.piece(task.name).panel))
    else:
        yield from (_node(sheets, layer) for layer in task.layers)


def _node(sheets: Mapping[str, FoldedSheet], layer: TaskLayer) -> Node:
    sheet = sheets.get(layer.piece)
    return (layer.piece, sheet.panel_of(layer.points) if sheet is not None and layer.points else 0)


def _leaf(
    pattern: Pattern, base: PatternPiece, sheets: Mapping[str, FoldedSheet], layer: TaskLayer
) -> int | None:
    """The leaf of a base that a layer lies on; None where it lies on none of it."""
    if layer.piece == base.name:
        return _node(sheets, layer)[1]
    piece = pattern.piece(layer.piece)
    while piece.on is not None and piece.on != base.name:
        piece = pattern.piece(piece.on)
    return piece.panel if piece.on == base.name else None


def _over(
    pattern: Pattern, base: PatternPiece, sheets: Mapping[str, FoldedSheet], task: Task
) -> Iterator[LeafOver]:
    """Of a task that is on one leaf with all it goes through: the others that come to lie over its holes.

    What goes through a piece that stands elsewhere, such as a gusset, is worked while that stands up.
    """
    leaves = {_leaf(pattern, base, sheets, layer) for layer in task.layers}
    own = leaves.pop()
    if leaves or own is None:
        return
    panels, places = sheets[base.name].panels, dict[int, Point]()
    for layer in task.layers:
        way = pattern.in_plan(layer.piece)[1]
        numbers = layer.numbers or range(1, len(layer.points) + 1)
        for number, point in zip(numbers, layer.points, strict=True):
            places.setdefault(number, way.apply(point))
    for k, panel in enumerate(panels):
        moved = panels[own].motion.inverse() @ panel.motion
        if k != own and moved.plan is not None:
            inside = region_of(panel.outline.moved(moved.plan)).grown(-RIM)
            beside = inside.outside(list(places.values()))
            found = {number: at for i, (number, at) in enumerate(places.items()) if i not in beside}
            if found:
                yield LeafOver(task, (base.name, k), found, moved.by[2] > 0)
