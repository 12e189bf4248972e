"""Back leaf: a sheath's two leaves, and what the back one goes on to above the mouth.

In: the blade's edge and what lies between it and the leaf's own edge; the part. Out: corners, lines and folds
in the piece's frame: the fold along x = 0 from the foot upwards, the back leaf at negative x.

Above the mouth, from below: room clear of it, the handle's strap, then the row on the base, or the loop: a
row through both its leaves, the belt in the fold over it. All mm.

The blade is drawn along the inner side of all this, and its edge would cut the thread there: a *guard*, a
thin strip as wide as what goes on, is glued over the rows, from the mouth to an inset above the last hole. It
is in no row itself, or that one's thread would lie bare.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.draft.parts.drafted import DraftedPiece, PartContext
from handkit.draft.parts.item_fit import ease_for
from handkit.draft.parts.outlines import rectangle_corners
from handkit.draft.sizes.belt_ways import belt_section, slung_half
from handkit.draft.sizes.blade import parallel_corners
from handkit.draft.sizes.fold_length import fold_allowance
from handkit.draft.worn.end_rows import u_depth, u_row
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.straight import distance
from handkit.kinds.materials import MATERIALS
from handkit.read.project import Edges, FoldLine, InnerLine, Part, Piece, Side, Skive, Stitching
from handkit.tolerances import SAME_POINT

# How far inside the bend the welt begins, as a share of its radius: there it is pressed by a twentieth.
INTO_BEND = 0.3

# Of the corners between mouth and what goes on above it, where leather tears, mm: common practice, no source.
INSIDE_RADIUS = 3.0

# Stitches of a row that holds what goes on above the mouth, at least, along and across.
LEAST_STITCHES = 3

# How thick a guard is, mm, where the file does not say: bent with what it lies on, and no edge that catches a
# point; of its thickness so much is left at its upper end (common practice, no source).
GUARD, LEFT = 1.0, 0.4


class BladeLeaf(msgspec.Struct, frozen=True):
    """One leaf: the blade's `edge` from its point to the mouth, `half` a fold beside the fold's line; then
    its ease, the welt."""

    edge: tuple[Point, ...]
    half: float
    ease: float
    welt: float

    @property
    def foot(self) -> float:
        """From the leaf's foot to the blade's point."""
        return self.ease + self.welt - self.edge[0][1]

    @property
    def mouth(self) -> float:
        """How high it is."""
        return self.foot + self.edge[-1][1]

    @property
    def width(self) -> float:
        """From the fold to its edge at the mouth."""
        return self.outer()[-1][0]

    def outer(self) -> list[Point]:
        """The corners of its edge, from the foot to the mouth."""
        return self._parallel(self.ease + self.welt)

    def first_hole(self, stitching: Stitching, clear: float) -> float:
        """How far from the fold the row begins, along it: `clear` of the bend, or in the corner beyond, where
        that is nearer than a stitch."""
        inset = stitching.inset
        corners = self._parallel(self.ease + self.welt - inset)
        start, corner = self.half + clear, corners[0][0]
        if start <= corner:
            return start if corner - start >= stitching.pitch - SAME_POINT else corner
        (x, y), (_, above) = corners[0], corners[1]
        if corners[1][0] - x <= SAME_POINT or above - y <= SAME_POINT:
            return corner
        slant = distance(corners[0], corners[1]) / (corners[1][0] - x)
        return corner + min((start - corner) * slant, distance(corners[0], corners[1]))

    def _parallel(self, off: float) -> list[Point]:
        return [(self.half + x, self.foot + y) for x, y in parallel_corners(self.edge, off)]

    def welt_points(self, thickness: float) -> list[Point]:
        """The welt, between that edge and the blade; it begins where the bend is as wide as it is thick."""
        start = self.half - INTO_BEND * thickness / 2
        inner = self._parallel(self.ease)
        return [(start, 0.0), *self.outer(), *reversed(inner), (start, self.welt)]


class BackLeaf(msgspec.Struct, frozen=True):
    """What the back leaf goes on to."""

    part: Part
    leaf: BladeLeaf
    context: PartContext
    piece: Piece

    @property
    def _hung(self) -> str:
        """What it is held by above the mouth, and with it the row's name; "" where it goes on for a strap."""
        if self.part.on is not None:
            return "hang"
        return "loop" if self.part.size("belt") else ""

    @property
    def goes_on(self) -> bool:
        """Whether it goes on at all."""
        return bool(self._hung or self.part.size("handle_strap"))

    def _rows(self) -> list[tuple[float, float]]:
        """Inset and pitch of the rows on it."""
        names = [self._hung] if self._hung else []
        names += ["strap"] if self.part.size("handle_strap") else []
        seams = [self.context.seams[f"{self.part.name} {name}"].stitching for name in names]
        return [(each.inset, each.pitch) for each in seams]

    @property
    def _inset(self) -> float:
        return max(inset for inset, _ in self._rows())

    @property
    def _pitch(self) -> float:
        return max(pitch for _, pitch in self._rows())

    @property
    def _room(self) -> float:
        """Beside the bend, as far as the leaf's edge."""
        return self.leaf.width - self.leaf.half - 2 * INSIDE_RADIUS

    @property
    def width(self) -> float:
        """Of what goes on: a whole number of stitches and the insets; about as wide as the blade."""
        steps = int((min(self._room, self._wanted) - 2 * self._inset + SAME_POINT) / self._pitch)
        return 2 * self._inset + steps * self._pitch

    @property
    def _wanted(self) -> float:
        blade = max(x for x, _ in self.leaf.edge)
        return max(2 * self._inset + LEAST_STITCHES * self._pitch, blade)

    def faults(self) -> Iterator[Finding]:
        """Two ways of being held, and a leaf too narrow to go on."""
        if self.part.on is not None and self.part.size("belt"):
            yield finding("sheath-held-twice", self.part.source.at("belt"), base=self.part.on)
        elif self.goes_on:
            least = 2 * self._inset + LEAST_STITCHES * self._pitch
            if self._room < least - SAME_POINT:
                by = least - self._room
                told: dict[str, object] = {"found": self._room, "least": least}
                where = self.part.source.at("welt")
                fault = finding("sheath-too-narrow", where, **told, welt=self.leaf.welt + by)
                yield fault.once(*self.context.pitches(self.part))

    @property
    def _sides(self) -> tuple[float, float]:
        """Its sides in the piece's frame, left and right: about the blade's middle."""
        blade, half = max(x for x, _ in self.leaf.edge), self.width / 2
        least = self.leaf.half + INSIDE_RADIUS + half
        most = self.leaf.width - INSIDE_RADIUS - half
        middle = -min(max(self.leaf.half + blade / 2, least), most)
        return middle - half, middle + half

    @property
    def _strap_level(self) -> float:
        """The middle of the handle's strap."""
        return self.leaf.mouth + INSIDE_RADIUS + self.part.size("handle_strap") / 2

    @property
    def _hung_from(self) -> float:
        """Where what it is held by begins."""
        strap = self.part.size("handle_strap")
        return self.leaf.mouth + INSIDE_RADIUS + strap + (INSIDE_RADIUS if strap else 0.0)

    @property
    def _depth(self) -> float:
        """How high its row is."""
        stitching = self.context.seams[f"{self.part.name} {self._hung}"].stitching
        if self._hung == "loop":
            return u_depth(self.width, stitching)
        across = (self.width - 2 * self._inset) / stitching.pitch
        return stitching.pitch * max(LEAST_STITCHES, int(across))

    @property
    def _fold(self) -> float:
        """Of a loop: how high its fold is."""
        return self._hung_from + self._inset + self._depth + self._loop_half

    @property
    def _belt_height(self) -> float:
        return self._belt[1]

    @property
    def _belt(self) -> tuple[float, float]:
        wide, thick = self.part.size("belt"), self.part.size("belt_thickness")
        ease = ease_for(self.part, self.piece.material, wide).wanted
        section = belt_section(wide, thick, ease)
        return section.width, section.height

    @property
    def _loop_half(self) -> float:
        wide, thick = self._belt
        belt, leather = belt_section(wide, thick, 0.0), self.piece.thickness
        half = slung_half(belt, hung=0.0, rise=self._inset, leather=leather)
        return max(half, fold_allowance(180, thick / 2, leather) / 2)

    @property
    def top(self) -> float:
        """Of what goes on: its end, and of a loop that of what is folded down."""
        if self._hung == "loop":
            return 2 * self._fold - self._hung_from
        if self._hung:
            return self._hung_from + self._depth + 2 * self._inset
        return self._strap_level + self.part.size("handle_strap") / 2 + INSIDE_RADIUS

    @property
    def guard_thickness(self) -> float:
        """As the file says, or thin; 0 where nothing goes on."""
        if not self.goes_on:
            return 0.0
        own = self.context.pieces[f"{self.part.name} guard"]
        return own.thickness if "thickness" in own.stated else min(self.piece.thickness, GUARD)

    def guard(self) -> DraftedPiece:
        """Over the rows, on the inner side; its upper end, where a point comes down, is thinned."""
        own, thick = self.context.pieces[f"{self.part.name} guard"], self.guard_thickness
        row = self._hung_from + self._depth + 2 * self._inset if self._hung else self.top
        end = Edges((own.corners[2].letter, own.corners[3].letter))
        thins = MATERIALS[own.material].is_leather
        return DraftedPiece(
            own.name,
            rectangle_corners(self.width, row - self.leaf.mouth, foot=0.0, mouth=0.0),
            at=(self._sides[1], self.leaf.mouth),
            note="over the thread that the blade passes: glue it anew before it lifts",
            skives=(Skive(end, self._inset / 2, round(LEFT * thick, 2)),) if thins else (),
            thickness=thick,
        )

    def corners(self) -> list[Point]:
        """Of what goes on, from the mouth on the right round to the mouth on the left."""
        if not self.goes_on:
            return []
        (left, right), mouth = self._sides, self.leaf.mouth
        return [(right, mouth), (right, self.top), (left, self.top), (left, mouth)]

    def radii(self, leaf: int) -> list[float]:
        """Of the piece's corners: those where it goes on are rounded, so that nothing tears."""
        own = [INSIDE_RADIUS] * 4 if self.goes_on else []
        return [*([0.0] * (1 + leaf)), *own, *([0.0] * leaf)]

    def lines(self) -> tuple[InnerLine, ...]:
        """The rows on what goes on."""
        found = []
        if self._hung:
            found.append(InnerLine(f"{self.part.name} {self._hung}", self._held_row()))
        if self.part.size("handle_strap"):
            found.append(InnerLine(f"{self.part.name} strap", self.strap_row()))
        return tuple(found)

    def held(self) -> tuple[Point, ...]:
        """On its base, in the part's frame: the row that it hangs by."""
        return tuple((-x, y) for x, y in self._held_row()) if self._hung == "hang" else ()

    def _held_row(self) -> tuple[Point, ...]:
        """All round on a base, for it hangs there; open towards the belt in a loop."""
        left, low = self._sides[0], self._hung_from
        row = u_row(self.width, self._inset, self._depth, 0.0)
        placed = tuple((left + x, low + y) for x, y in row)
        return placed if self._hung == "loop" else (*placed, placed[0])

    def strap_row(self) -> tuple[Point, Point]:
        """Along the strap, behind the handle."""
        left, right = self._sides
        return (left + self._inset, self._strap_level), (right - self._inset, self._strap_level)

    def folds(self, stays: str) -> tuple[FoldLine, ...]:
        """A loop's, away from the blade."""
        if self._hung != "loop":
            return ()
        (left, right), level = self._sides, self._fold
        line = ((left, level), (right, level))
        name, radius = f"{self.part.name} loop", self._belt_height / 2
        return (FoldLine(name, line, out=Side.FLESH, angle_degrees=180.0, radius=radius, stays=stays),)
