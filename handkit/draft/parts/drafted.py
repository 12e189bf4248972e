"""What the drafting of a part gives: shapes for the pieces it promised, and where its items lie.

In: a part, the items it holds, and its context. Out: a `DraftedPart`. Each kind of part is a module
with one such function; `part_kinds.py` lists them, `parts.py` puts what they give into the project.

Words: the *context* is what a part is drafted on: its base, its pieces' thickness and material, and
how its seams are stitched; the *part's frame* has its origin at the part's `at` on the base, turned
by its `turn`, and mirrored where it lies behind. Lines, openings and items on the base are given in
it, what is on the part's own pieces in each piece's frame.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property
from types import MappingProxyType

import msgspec

from handkit.draft.pattern import (
    FacesMet,
    HeldItem,
    ItemFit,
    ItemOutline,
    PieceMark,
    Room,
    RoomProfile,
)
from handkit.draft.pieces.outline import Outline, draft_outline
from handkit.findings import Finding, finding
from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box
from handkit.geometry.path import Path
from handkit.read.project import (
    Corner,
    FoldLine,
    InnerLine,
    Item,
    MatchPoint,
    Opening,
    Part,
    Piece,
    Seam,
    Skive,
)
from handkit.tolerances import SAME_POINT


class Around(msgspec.Struct, frozen=True, dict=True):
    """What is drafted already: all pieces that have a shape, by name, the rooms of the parts, and all
    seams, of which layers without a shape tell nothing."""

    pieces: Mapping[str, Piece] = MappingProxyType({})
    rooms: tuple[Room, ...] = ()
    seams: tuple[Seam, ...] = ()

    @cached_property
    def outlines(self) -> Mapping[str, Outline]:
        """Those of all pieces that can be drawn."""
        drawn = ((name, draft_outline(piece)[0]) for name, piece in self.pieces.items())
        return {name: outline for name, outline in drawn if outline is not None}


class PartContext(msgspec.Struct, frozen=True):
    """What a part is drafted on.

    `base` is whole already. `pieces` are the part's own as promised, by name: their thickness,
    material and, where `stated` has "round" or "arc", radii and sagittas are to be believed.
    `seams` and `openings` are its own by name, with their stitching, and with the holes and caps that the
    file says. `around` is for a part that closes over others, which comes after them.
    """

    base: Piece | None
    pieces: Mapping[str, Piece]
    seams: Mapping[str, Seam]
    openings: Mapping[str, Opening]
    around: Around = Around()

    def pitches(self, part: Part) -> tuple[str, ...]:
        """The pitches of a part's seams by the lines that say them, [stitching]'s for all that say none: what
        is told of one of them follows from that, and need not be told of the next part again."""
        own = (seam.source.at("pitch") for seam in self.seams.values() if seam.part == part.name)
        return tuple(dict.fromkeys(f"pitch in line {where.line}" for where in own))

    def shared_inset(self, *names: str) -> tuple[float, tuple[Finding, ...]]:
        """The first seam's inset; the others' must be the same, or the lines would not meet."""
        first, *others = (self.seams[name] for name in names)
        inset = first.stitching.inset
        apart = [seam for seam in others if abs(seam.stitching.inset - inset) > SAME_POINT]
        return inset, tuple(
            finding(
                "insets-apart",
                seam.source.at("inset"),
                inset=seam.stitching.inset,
                other=inset,
                seam=first.name,
            )
            for seam in apart
        )


class DraftedPiece(msgspec.Struct, frozen=True):
    """The shape of one piece. Its letters are those that were promised, A first, B to its right.

    `at` and `turn_degrees` say where its origin lies: on the base in the part's frame, on another piece of
    the part in that piece's. A radius that the file states goes before that of a corner here.
    """

    name: str
    corners: tuple[Corner, ...] = ()
    sagittas: tuple[float, ...] = ()  # none: all edges straight
    circle: float | None = None
    lines: tuple[InnerLine, ...] = ()
    folds: tuple[FoldLine, ...] = ()
    at: Point = (0.0, 0.0)
    turn_degrees: float = 0.0
    note: str = ""  # where the file has none
    grain_degrees: float | None = None  # where the file has none; else up
    skives: tuple[Skive, ...] = ()  # where the file has none
    thickness: float | None = None  # where the file has none; else as [material] says


class DraftedSeam(msgspec.Struct, frozen=True):
    """What a seam needs beyond its runs. Places on the base are in the part's frame."""

    name: str
    matches: tuple[MatchPoint, ...] = ()
    ends: tuple[tuple[float, float], ...] = ()  # from_start and from_end, one pair for every layer
    faces: FacesMet | None = None  # of its two pieces, where no frame of theirs tells


class DraftedOpening(msgspec.Struct, frozen=True):
    """Where an opening's holes are: on each piece that needs its own places, the first piece first.

    `size` is length and width, where the file has none.
    """

    name: str
    places: tuple[tuple[str, tuple[Point, ...]], ...]
    size: tuple[float, float] | None = None


class DraftedFitting(msgspec.Struct, frozen=True):
    """What only the drafting knows of a fitting, where the file has none."""

    name: str
    length: float | None = None
    from_fold: float | None = None
    girth: tuple[float, float] | None = None  # of a buckle whose part does not tell it


class Standing(msgspec.Struct, frozen=True):
    """How the piece that covers a part's items stands over its base; see `Room`, all in the part's frame.

    `wall` is the strip that stands between them, with its section (off, z): off from the place's edge
    inwards, z from the base. `base` is a piece of the part's own, where the items lie on that.
    """

    cover: str
    place: Path
    profiles: tuple[RoomProfile, ...]
    wall: tuple[str, Path] | None = None
    base: str = ""


class DraftedRoom(msgspec.Struct, frozen=True):
    """What a part holds things in where no standing tells: a step, a sleeve, between two leaves; see `Room`.

    In a frame of its own, which `lie` leads from to that of `base`, a piece of the part; where it has none,
    to the part's. `behind` is on the far face of such a piece.
    """

    cover: str
    place: Path
    items: tuple[HeldItem, ...]
    profiles: tuple[RoomProfile, ...] = ()
    base: str = ""
    lie: Affine = Affine()
    behind: bool = False
    passes: str = ""


class BarredPlace(msgspec.Struct, frozen=True):
    """What of a panel is taken: by what stands higher than `over` there."""

    box: Box
    over: float = 0.0


class DraftedPanel(msgspec.Struct, frozen=True):
    """Where on a piece of a part others may lie: leather within its seams and bends, in the piece's frame.

    `keys` of the part say how wide and how high it is, and one more what of it is barred; `values` are what
    they say. `behind` is which face it is of, None of both.
    """

    piece: str
    box: Box
    keys: tuple[str, ...]
    values: tuple[float, ...]
    behind: bool | None = None
    barred: tuple[BarredPlace, ...] = ()


class DraftedBase(msgspec.Struct, frozen=True):
    """What a part makes of its base: its corners elsewhere, a fold more. All in the base's frame."""

    corners: tuple[Corner, ...]
    fold: FoldLine


class DraftedPart(msgspec.Struct, frozen=True):
    """All that a part gives.

    `items` lie on the base, in the part's frame, and as well on the pieces `items_on`, in theirs, to which
    `items_by` leads. `marks` are (piece, mark); on the base in the part's frame. `place` is what it takes of
    the base, in the part's frame, where no standing tells; of what is `held` there by a row alone that row is
    to lie on it.
    """

    pieces: tuple[DraftedPiece, ...] = ()
    base_lines: tuple[InnerLine, ...] = ()
    seams: tuple[DraftedSeam, ...] = ()
    openings: tuple[DraftedOpening, ...] = ()
    fittings: tuple[DraftedFitting, ...] = ()
    items: tuple[ItemOutline, ...] = ()
    items_on: tuple[str, ...] = ()
    items_by: Affine = Affine()
    marks: tuple[tuple[str, PieceMark], ...] = ()
    fits: tuple[ItemFit, ...] = ()
    standing: Standing | None = None
    rooms: tuple[DraftedRoom, ...] = ()
    place: Path | None = None
    held: tuple[Point, ...] = ()
    base: DraftedBase | None = None
    panels: tuple[DraftedPanel, ...] = ()
    findings: tuple[Finding, ...] = ()


Drafting = Callable[[Part, tuple[Item, ...], PartContext], DraftedPart]
