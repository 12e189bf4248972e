"""What lies on a base that is arranged: parts that are to be laid, and what keeps its place.

In: a project, a base. Out: grounds, each with whether it keeps its place; how far all keeps off the edge;
what can't be arranged, as findings.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt

import msgspec

from handkit.draft.arrange.grounds import (
    PartGround,
    ground_of,
    ground_of_line,
    ground_of_piece,
    ground_of_places,
)
from handkit.draft.fit.on_base import Holes, keep_of
from handkit.draft.worn.flap_closing import wanted_lap
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.read.project import Edges, Part, PartKind, Piece, Project

# From a part to the base's edge (common practice, no source), mm.
EDGE = 10.0

# These are drafted after their base, and are as large as it is or hang at its edge by themselves.
FOLLOWING = (PartKind.LINING, PartKind.FLAP, PartKind.ROOM)


def lying_on(project: Project, base: Piece) -> list[tuple[PartGround, bool]]:
    """What lies on a base, and whether it keeps its place."""
    found: list[tuple[PartGround, bool]] = []
    for part in project.parts:
        at_edge = bool(_needs_edge(part))
        if part.on != base.name or part.kind in FOLLOWING or (at_edge and not base.drafted_by):
            continue
        ground = ground_of(part, base, project)
        if ground is not None and part.unplaced and not at_edge:
            found.append((ground, False))
        elif ground is not None:
            found.append((shifted(ground, part.at), True))
    found += [(each, True) for each in _stated(project, base)]
    return found


def _stated(project: Project, base: Piece) -> Iterator[PartGround]:
    """What the file itself lays on a base, or draws on it."""
    for piece in project.pieces:
        if piece.on == base.name and piece.drafted_by is None and piece.lined is None:
            ground = ground_of_piece(piece)
            if ground is not None:
                yield ground
    for line in base.lines:
        if line.points:
            yield ground_of_line(line)
    for opening in project.openings:
        if opening.through and opening.through[0] == base.name:
            yield from ground_of_places(opening)


def shifted(ground: PartGround, at: Point) -> PartGround:
    """A ground where it lies, with all that is in it."""
    x, y = at

    def there(boxes: tuple[Box, ...]) -> tuple[Box, ...]:
        return tuple(Box(box.left + x, box.bottom + y, box.right + x, box.top + y) for box in boxes)

    ways = tuple(
        msgspec.structs.replace(
            way, left=way.left + x, right=way.right + x, mouth=way.mouth + y, end=way.end + y
        )
        for way in ground.ways
    )
    box, leather, still = there((ground.box, ground.leather or ground.box, ground.still or ground.box))
    rows, things, bared = map(there, (ground.rows, ground.things, ground.bared))
    return msgspec.structs.replace(
        ground, box=box, ways=ways, leather=leather, rows=rows, things=things, bared=bared, still=still
    )


def margin_of(project: Project, base: Piece) -> float:
    """How far parts keep off the base's edge: clear of its round corners, of what is folded over there, and
    of the seams along it."""
    along = [
        Holes.of([seam]).inset + seam.stitching.least_step
        for seam in project.seams
        if any(layer.piece == base.name and isinstance(layer.run, Edges) for layer in seam.layers)
    ]
    keep = keep_of(base, Holes.of(project.seams))
    roundest = max((corner.radius for corner in base.corners), default=0.0)
    turned = max((work.width for work in base.works), default=0.0)
    inward = max((-sagitta for sagitta in base.sagittas), default=0.0)
    round_by = roundest * (1 - sqrt(0.5))
    return max(EDGE, keep + round_by, *along, turned + EDGE / 2) + max(inward, 0.0)


class Flap(msgspec.Struct, frozen=True):
    """A flap over what lies on a base: how far down behind it reaches, how far it ends beside the base's
    sides, and the part on the base that it closes on; 0 and None where there is none."""

    lap: float = 0.0
    sides: float = 0.0
    closes: str | None = None


def flap_of(project: Project, base: Piece) -> Flap:
    """The flap of a base."""
    by_name = {piece.name: piece for piece in project.pieces}
    for part in project.parts:
        if part.on == base.name and part.kind is PartKind.FLAP:
            piece = by_name.get(part.word("to"))
            while piece is not None and piece.on not in (None, base.name):
                piece = by_name.get(piece.on or "")
            closes = piece.drafted_by if piece is not None else None
            if part.flag("continues"):
                return Flap(closes=closes)
            row = next(seam.stitching for seam in project.seams if seam.name == part.name)
            return Flap(wanted_lap(part, row), max(corner.radius for corner in base.corners), closes)
    return Flap()


def _needs_edge(part: Part) -> str:
    """The key that says that a part lies at its base's edge, which is not known: "" where none does."""
    if part.kind is PartKind.LOOP and part.word("hang") == "slung":
        return "hang"
    return "seams" if part.names("seams") and part.kind not in FOLLOWING else ""


def faults_of(project: Project, base: Piece) -> Iterator[Finding]:
    """Bases of which nothing follows, and parts that need the base's edge."""
    on_base = [part for part in project.parts if part.on == base.name and part.kind not in FOLLOWING]
    if not on_base:
        key = "arranged-empty" if base.drafted_by is None else "arranged-empty/drafted"
        told = finding(key, base.source.at("rectangle"), base=base.name)
        yield told.spoiling(base.source.path, f"{base.source.path}: rectangle")
    for part in on_base if base.drafted_by is None else ():  # the edge of a drafted one is known
        if key := _needs_edge(part):
            message = "arranged-edge/slung" if key == "hang" else "arranged-edge/seams"
            told = finding(message, part.source.at(key), base=base.name, seams=part.names("seams"))
            yield told.spoiling(part.source.path, f"{base.source.path}: rectangle")
