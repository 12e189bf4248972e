"""Pieces as values: what a [[piece]] table says of a piece whose shape is known.

In: a `Piece` as drafted. Out: values by key, and those that a copy takes over.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from handkit.geometry.affine import Point
from handkit.kinds.edge_works import EdgeWork
from handkit.read.project import FoldLine, Piece, WorkedEdge
from handkit.read.written.values import Values, alike

_PLACE = ("on", "at", "turned_over", "behind", "flat", "glued")


def piece_values(piece: Piece) -> Values:
    """The values of a piece."""
    shape = {"copy": piece.copy_of, "mirrored": piece.mirrored} if piece.copy_of else _outline(piece)
    return {
        "name": piece.name,
        **shape,
        **_drawn_and_kept(piece),
        **{key: getattr(piece, key) for key in _PLACE},
        "turn": plain_turn(piece.turn_degrees),
        "quantity": piece.quantity,
        "items": {each.name: each.points for each in piece.items},
    }


def taken_over(piece: Piece, original: Piece) -> Values:
    """What a copy has of the piece that it is a copy of where it says nothing."""
    return _drawn_and_kept(original.mirror_image() if piece.mirrored else original)


def _outline(piece: Piece) -> Values:
    if piece.circle is not None:
        return {"circle": piece.circle}
    points = tuple(corner.at for corner in piece.corners)
    radii = {corner.letter: corner.radius for corner in piece.corners if corner.radius}
    letters = [corner.letter for corner in piece.corners]
    edges = zip(letters, (*letters[1:], letters[0]), piece.sagittas, strict=True)
    same = len(radii) == len(points) and len(set(radii.values())) == 1
    shape = {"rectangle": points[2]} if _is_rectangle(points) else {"points": points}
    return shape | {
        "round": next(iter(radii.values())) if same else radii,
        "arc": {f"{a}-{b}": sagitta for a, b, sagitta in edges if sagitta},
    }


def _is_rectangle(points: Sequence[Point]) -> bool:
    """Whether `rectangle` gives these corners: the first the origin, sides of 1 mm or more."""
    if len(points) != 4:
        return False
    width, height = points[2]
    return min(width, height) >= 1 and alike(points, ((0.0, 0.0), (width, 0.0), points[2], (0.0, height)))


def _drawn_and_kept(piece: Piece) -> Values:
    """What a copy takes over where it does not say it."""
    marks: dict[str, list[tuple[Point, ...]]] = {}
    for mark in piece.marks:
        marks.setdefault(mark.kind.value, []).append(mark.points)
    return {
        "lines": {line.name: line.points for line in piece.lines},
        "folds": {fold.name: _fold(fold) for fold in piece.folds},
        "marks": marks,
        "trim": {str(trim.edges): trim.width for trim in piece.trims},
        "skive": {str(each.edges): {"width": each.width, "to": each.to} for each in piece.skives},
        "thickness": piece.thickness,
        "kind": piece.material,
        "mark": piece.mark,
        "shows": piece.shows,
        "turns_to": piece.turns_to,
        "grain": plain_turn(piece.grain_degrees),
        "note": piece.note,
        "measured": piece.measured,
        "hem": _by_edges(piece.works, EdgeWork.HEM, ("width", "turns", "turn_in")),
        "turned": _widths(piece.works, EdgeWork.TURNED),
        "binding": _by_edges(piece.works, EdgeWork.BINDING, ("width", "tape")),
        "allowance": _widths(piece.works, EdgeWork.ALLOWANCE),
    }


def _fold(fold: FoldLine) -> Values | tuple[Point, ...]:
    if fold.angle_degrees is None:
        return fold.points
    return {
        "line": fold.points,
        "out": fold.out,
        "angle": fold.angle_degrees,
        "radius": fold.radius,
        "stays": fold.stays,
    }


def _widths(works: Iterable[WorkedEdge], work: EdgeWork) -> Mapping[str, float]:
    return {str(each.edges): each.width for each in works if each.work is work}


def _by_edges(works: Iterable[WorkedEdge], work: EdgeWork, fields: Sequence[str]) -> Mapping[str, Values]:
    """The works of one kind, with the fields of each; a tape's is called thickness in the file, and what is
    turned under is said of what is turned twice alone."""
    return {
        str(each.edges): {
            "thickness" if field == "tape" else field: getattr(each, field)
            for field in fields
            if field != "turn_in" or each.turns > 1
        }
        for each in works
        if each.work is work
    }


def plain_turn(degrees: float) -> float:
    """The same direction within half a turn either way.

    >>> plain_turn(270.0), plain_turn(180.0), plain_turn(-90.0)
    (-90.0, 180.0, -90.0)
    """
    return degrees if -180 < degrees <= 180 else 180.0 - (180.0 - degrees) % 360.0
