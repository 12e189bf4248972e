"""The product of step 1: the maker's project, checked and in mm, with the lines it came from.

All lengths are mm, angles degrees counter-clockwise, points (x, y) with y up, seen from the side
of the piece that will show. Every entry keeps its `source`: where in the file it stands.

A part's pieces, lines, seams and openings stand in the project as *placeholders* (see
`Piece.drafted_by`): named and lettered, and without a shape until the drafting gives them one from
the items' sizes.

Words: *corner letters* name an outline's corners in order, A, B, C … Z, AA; a *run* is a seam's
line on one piece; a layer whose run is not written takes the holes of another (*carried*); an
*item* is a thing to be carried; its *section* is what a knife through it would show, standing on
the base; a *part* is what holds items, stated by what it is for; *ease* is the room an item has
beyond what it needs.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from math import cos, pi, sin

import msgspec

from handkit.findings import Finding, Source
from handkit.geometry.affine import Point
from handkit.geometry.polygon import below, hull, widths_below
from handkit.geometry.straight import fewer_corners
from handkit.kinds.edge_works import EDGE_WORKS, EdgeTraits, EdgeWork
from handkit.kinds.edged_tools import HANDLE_THICK, tells_of_an_edge
from handkit.kinds.fittings import FITTINGS, FittingKind, FittingTraits
from handkit.kinds.materials import Material
from handkit.kinds.openings import OPENINGS, Clearance, OpeningKind, OpeningTraits
from handkit.kinds.stitch_holes import least_step
from handkit.kinds.stitches import STITCHES, StitchKind, StitchTraits
from handkit.paper import AS_USUAL, Layout, Paper
from handkit.wording.figures import Units
from handkit.wording.quoting import quoted

Setting = float | bool | str | tuple[str, ...] | tuple[float, float]


class Side(StrEnum):
    """A side of a piece: of cloth grain is its face, flesh its back."""

    GRAIN = "grain"
    FLESH = "flesh"

    @property
    def other(self) -> Side:
        """The far side."""
        return Side.FLESH if self is Side.GRAIN else Side.GRAIN


class Spacing(StrEnum):
    """How the length between two fixed holes is divided."""

    EVEN = "even"
    IRON = "iron"


class Punching(StrEnum):
    """Whether each layer is punched by its own ticks or all through the face layer's."""

    APART = "apart"
    THROUGH = "through"


class Hold(StrEnum):
    """What holds the layers of a seam while they are sewn."""

    CEMENT = "cement"
    TAPE = "tape"
    CLIPS = "clips"
    NONE = "none"


# In place of a rectangle's size, where that follows from the parts laid on it.
ARRANGED = "arranged"

# A strip of glue keeps this much off the rim of a hole, or the needle fouls (common practice, no source), mm.
GLUE_CLEAR = 1.0


class Fibre(StrEnum):
    """What thread is spun from; decides how its ends are locked."""

    SYNTHETIC = "synthetic"  # melted
    LINEN = "linen"  # glued


class RoundHole(msgspec.Struct, frozen=True):
    """A punched hole."""

    diameter: float

    @property
    def width(self) -> float:
        """Its widest: the diameter."""
        return self.diameter


class SlitHole(msgspec.Struct, frozen=True):
    """A slit by awl or iron: `width` long, `slant` degrees from the seam's line."""

    width: float
    slant: float


StitchHole = RoundHole | SlitHole


class Iron(msgspec.Struct, frozen=True):
    """A pricking iron: so many teeth in line, `pitch` apart."""

    teeth: int
    pitch: float


class Corner(msgspec.Struct, frozen=True):
    """One corner of an outline as written: `radius` 0 is sharp."""

    letter: str
    at: Point
    radius: float = 0.0


class Edges(msgspec.Struct, frozen=True):
    """A run of an outline's edges by its letters, such as D-A-B-C."""

    letters: tuple[str, ...]

    def __str__(self) -> str:
        return "-".join(self.letters)


class InnerLine(msgspec.Struct, frozen=True):
    """A named line inside a piece: the holes stand on the line itself."""

    name: str
    points: tuple[Point, ...]
    part: Source | None = None  # what drafts it; until then it has no points


class FoldLine(msgspec.Struct, frozen=True):
    """A line the piece is folded on. A line alone has no angle, and no place in space."""

    name: str
    points: tuple[Point, ...]
    out: Side | None = None  # the side that is outside when it is folded; None is the one that shows
    angle_degrees: float | None = None  # turned through
    radius: float = 0.0  # inside
    stays: str = "A"  # a corner letter on the side of the line that keeps its place


class MarkKind(StrEnum):
    """What a short mark on a piece is for."""

    MEET = "meet"  # across a stitch line: here it meets the same mark of its mate
    NOTCH = "notch"  # cut out of an edge
    TAPE = "tape"  # where a piece of tape holds a seam of a paper trial


class MarkLine(msgspec.Struct, frozen=True):
    """A short line on a piece that is neither stitch line nor fold."""

    kind: MarkKind
    points: tuple[Point, ...]


class Trim(msgspec.Struct, frozen=True):
    """Cut `width` outside these edges, stitch, then trim to the line."""

    edges: Edges
    width: float


class WorkedEdge(msgspec.Struct, frozen=True):
    """Edges that are hemmed, turned, bound, or have a seam allowance; `kinds/edge_works.py` has the sums."""

    work: EdgeWork
    edges: Edges
    width: float  # of the hem, what is turned, the allowance; of a binding its tape before it is folded
    turns: int = 0
    turn_in: float = 0.0  # what a hem's second turn hides
    tape: float = 0.0  # thickness of a binding's tape

    @property
    def traits(self) -> EdgeTraits:
        """What its kind is like."""
        return EDGE_WORKS[self.work]

    @property
    def unlettered(self) -> tuple[EdgeWork, float, int, float, float]:
        """What is done, wherever it is done."""
        return (self.work, self.width, self.turns, self.turn_in, self.tape)

    def beyond(self, thickness: float) -> float:
        """How far outside the finished edge a piece of a thickness is cut, mm.

        >>> hem = WorkedEdge(EdgeWork.HEM, Edges(("C", "D")), 15, turns=2, turn_in=8)
        >>> hem.beyond(0.8)  # 15 + 8 + 2 x 0.8
        24.6
        """
        if self.work is EdgeWork.BINDING:
            return 0.0
        return self.width + self.turn_in + self.turns * thickness

    def folds(self, thickness: float) -> tuple[float, ...]:
        """How far outside the finished edge it is folded, the fold at the finished edge first, mm."""
        half = thickness / 2
        return (half, 3 * half + self.width)[: self.turns]

    def held_between(self) -> tuple[float, float]:
        """How far inside the finished edge a seam stands that holds all of it, least and most, mm.

        >>> WorkedEdge(EdgeWork.HEM, Edges(("C", "D")), 15, turns=2, turn_in=8).held_between()
        (7, 15)
        """
        if self.work is EdgeWork.BINDING:
            return 0.0, self.width / 2
        return (self.width - self.turn_in if self.turns > 1 else 0.0), self.width

    def adds(self, apart: float, thickness: float) -> float:
        """How much thicker the piece is there, `apart` mm inside the finished edge.

        >>> hem = WorkedEdge(EdgeWork.HEM, Edges(("C", "D")), 15, turns=2, turn_in=8)
        >>> [hem.adds(apart, 1.0) for apart in (5, 10, 16)]  # the turn-in lies from 7 to 15
        [1.0, 2.0, 0.0]
        """
        if self.work is EdgeWork.BINDING:
            return 2 * self.tape if apart <= self.width / 2 else 0.0
        if not self.turns or apart > self.width:
            return 0.0
        return thickness * (2 if self.turns > 1 and apart >= self.width - self.turn_in else 1)


class Skive(msgspec.Struct, frozen=True):
    """Thin these edges: from full thickness at `width` in, evenly down to `to` at the edge."""

    edges: Edges
    width: float
    to: float


class Piece(msgspec.Struct, frozen=True):
    """One part to cut. Either `corners` (3 or more, with a sagitta per edge) or `circle`."""

    source: Source
    name: str
    corners: tuple[Corner, ...]
    sagittas: tuple[float, ...]  # [i] is of the edge from corner i to the next; outward is positive
    circle: float | None  # its diameter; the centre is the origin, A at three o'clock
    thickness: float
    material: Material
    quantity: int
    mark: Side  # the side the template is laid on
    grain_degrees: float  # the arrow along which the hide stretches least; 90 is up
    lines: tuple[InnerLine, ...]
    folds: tuple[FoldLine, ...]
    trims: tuple[Trim, ...]
    skives: tuple[Skive, ...]
    note: str
    on: str | None  # the piece it lies on
    at: Point
    turn_degrees: float
    turned_over: bool
    behind: bool
    flat: bool
    glued: bool  # glued down all over before it is stitched
    copy_of: str | None
    mirrored: bool
    drafted_by: str | None = None  # the part that gives it its shape; until then its points are zero
    stated: tuple[str, ...] = ()  # keys the file itself has, which go before what is drafted or copied
    works: tuple[WorkedEdge, ...] = ()
    shows: Side = Side.GRAIN  # the side that will show: the piece is drawn as seen from it
    turns_to: str = "back"  # of it: where hems and turned edges go, to the front or to the back
    lined: str | None = None  # of a lining: what it lines, in whose frame its own lines are written
    measured: bool | None = None  # given by its measures in place of tiles; None is the page's word
    marks: tuple[MarkLine, ...] = ()
    items: tuple[InnerLine, ...] = ()  # outlines of things that lie on it, to be laid on the paper
    arranged: bool = False  # a rectangle whose size follows from the parts that are laid on it

    def mirror_image(self) -> Piece:
        """All that is drawn on it, its grain arrow too, with x turned to −x, never −0."""

        def mirrored(points: tuple[Point, ...]) -> tuple[Point, ...]:
            return tuple((0.0 - x, y) for x, y in points)

        return msgspec.structs.replace(
            self,
            corners=tuple(Corner(each.letter, mirrored((each.at,))[0], each.radius) for each in self.corners),
            lines=tuple(InnerLine(each.name, mirrored(each.points), each.part) for each in self.lines),
            folds=tuple(msgspec.structs.replace(each, points=mirrored(each.points)) for each in self.folds),
            marks=tuple(MarkLine(each.kind, mirrored(each.points)) for each in self.marks),
            items=tuple(InnerLine(each.name, mirrored(each.points)) for each in self.items),
            grain_degrees=180.0 - self.grain_degrees,
        )


class Layer(msgspec.Struct, frozen=True):
    """One layer of a seam as listed: a piece, and the run on it or None where it is carried."""

    source: Source
    piece: str
    run: Edges | str | None  # edges, the name of an inner line, or carried
    inset: float  # the run's own, or the seam's
    from_start: float  # moves the run's start: positive shortens it, negative prolongs it
    from_end: float
    text: str  # as written, for messages: "front: D-A"
    side: Side | None = None  # of its piece, that lies on the seam's other; None as they are placed


class Stitching(msgspec.Struct, frozen=True):
    """How a seam is sewn; from the seam or the project's [stitching]."""

    pitch: float
    inset: float
    thread: float  # its diameter
    spacing: Spacing
    punch: Punching
    hole: StitchHole
    needle: float | None  # its diameter where stated
    tail: float  # thread left at each end, per needle
    back: int  # back stitches at the end
    start_back: int  # back stitches at the start
    wrap_start: int  # turns of a strand round the edge at the start, both needles counted
    wrap_end: int
    longest_side: float  # the longest thread a side that is sewn in one
    stitch: StitchKind = StitchKind.SADDLE
    left_handed: bool = False  # the left hand holds the needle that goes first
    fibre: Fibre = Fibre.SYNTHETIC
    past_start: float = 0.0  # how far past the mouth the base's extra hole lies; 0 for none
    past_end: float = 0.0
    spool: float | None = None  # length of a spool of this thread
    iron: Iron | None = None  # what the holes may be marked with
    hold: Hold | None = None  # None: by the material
    glue: float | None = (
        None  # width of the strip of cement or tape; None: from the edge to clear of the holes
    )

    @property
    def traits(self) -> StitchTraits:
        """What its kind of stitch is like."""
        return STITCHES[self.stitch]

    @property
    def least_step(self) -> float:
        """How near to one another two holes of a straight row may stand."""
        slant = self.hole.slant if isinstance(self.hole, SlitHole) else None
        return least_step(self.hole.width, slant=slant, thread=self.thread)


class MatchPoint(msgspec.Struct, frozen=True):
    """Points that must meet, one for each layer in order: a letter, a point, or None."""

    places: tuple[str | Point | None, ...]


class Seam(msgspec.Struct, frozen=True):
    """Layers stitched together, hole for hole, in the order listed."""

    source: Source
    name: str
    layers: tuple[Layer, ...]
    stitching: Stitching
    bowed: bool  # the ease is meant
    matches: tuple[MatchPoint, ...]
    after: tuple[str, ...]  # seams or openings the maker wants done before
    note: str = ""
    part: str | None = None  # what drafts it, back stitches and all


class Opening(msgspec.Struct, frozen=True):
    """Holes that are not stitch holes, all of one kind and size.

    `at` is in the frame of the first piece in `through`; `places` are the same on unlike pieces.
    """

    source: Source
    name: str
    kind: OpeningKind
    diameter: float  # of the hole; for a slot its width across
    length: float  # of a slot; else the diameter
    turn_degrees: float  # of a slot's length against x
    cap: float  # diameter of what covers it, 0 for none
    through: tuple[str, ...]
    at: tuple[Point, ...]
    places: tuple[tuple[str, tuple[Point, ...]], ...]
    mate: str | None  # the other half of a snap
    note: str
    post: float | None = None  # the length of post at hand
    part: str | None = None  # what drafts it, and gives its places

    @property
    def traits(self) -> OpeningTraits:
        """What its kind is like."""
        return OPENINGS[self.kind]

    @property
    def clearance(self) -> Clearance:
        """The room it needs round it."""
        return self.traits.clearance(self.diameter, self.cap)

    @property
    def half_straight(self) -> float:
        """Half the length of a slot between its round ends, mm; 0 of what is round."""
        return max(self.length - self.diameter, 0.0) / 2


class Fitting(msgspec.Struct, frozen=True):
    """What is put on and is no hole; which sizes it has hangs on its kind. Lengths are None, names ""
    where they are left out.
    """

    source: Source
    name: str
    kind: FittingKind
    on: str | None  # the piece it is put on
    fold: str  # of that piece: the one that goes round it, or that a keeper sits at
    inside: float | None  # the width it leaves for the strap
    bar: float | None  # how thick its bar is
    thickness: float | None  # of a zip's tape, of a magnet; the clear height of a keeper
    diameter: float | None
    width: float | None
    length: float | None
    tape: float | None  # width of one of a zip's two
    at: tuple[Point, ...]
    through: str  # the opening that a cord or tie passes
    holes: str  # the tongue holes that a buckle's tongue goes in
    girth: tuple[float, float] | None  # the least and the most that the strap is to close round
    between: float | None  # from one bar to the other, of a strap in two parts
    seams: tuple[str, ...]  # that sew a zip in
    piece: str | None  # that a keeper is made of
    leaves: int | None  # thicknesses of the strap that pass a keeper
    from_fold: float | None  # where a keeper at a fold begins
    note: str

    @property
    def traits(self) -> FittingTraits:
        """What its kind is like."""
        return FITTINGS[self.kind]

    @property
    def called(self) -> str:
        """As a sentence names it: one that is called like its kind needs no name."""
        kind = self.kind.value
        return kind if self.name == kind else f"{kind} {quoted(self.name)}"

    @property
    def tape_thickness(self) -> float:
        """Of one of a zip's tapes: as the file has it, or as most are."""
        return self.thickness or self.traits.wall

    @property
    def longer(self) -> float | None:
        """The next longer that is sold, to be shortened; None where its own length is, or none is longer."""
        stock = [each for each in self.traits.stock if each >= (self.length or 0.0)]
        return stock[0] if stock and stock[0] != self.length else None

    @property
    def size_words(self) -> str:
        """What is bought, in a shop's words."""
        sizes = ((words, getattr(self, key)) for key, words in self.traits.sizes)
        return ", ".join(
            words.format(self.source.units.text(size)) for words, size in sizes if size is not None
        )


class PageOptions(msgspec.Struct, frozen=True):
    """The paper and what may be printed on it."""

    source: Source
    paper: Paper
    edge: float
    margin: float
    overlap: float
    font: str | None  # path of a font file as found, for scripts the shipped font lacks
    layout: Layout = AS_USUAL


class PartKind(StrEnum):
    """What a part is."""

    FLAT_POCKET = "flat pocket"
    BOWED_POCKET = "bowed pocket"
    BOXED_POCKET = "boxed pocket"
    HOLDER_ROW = "holder row"
    STEPPED_POCKETS = "stepped pockets"
    BAG = "bag"
    FOLD_COVER = "fold cover"
    LINING = "lining"
    LOOP = "loop"
    SHEATH = "sheath"
    STRAP = "strap"
    FLAP = "flap"
    ROLL = "roll"
    ROOM = "room"


class Ease(msgspec.Struct, frozen=True):
    """Room beyond what is needed: mm, and a share of the size it is added to."""

    mm: float = 0.0
    share: float = 0.0

    def of(self, size: float) -> float:
        """The ease of a size, in mm.

        >>> Ease(mm=2).of(80), Ease(share=0.05).of(80)
        (2.0, 4.0)
        """
        return self.mm + self.share * size


# So far a sheath's edge may stand beyond what its blade asks for, mm: a curved blade needs few corners then.
BEYOND_BLADE = 0.5


class Item(msgspec.Struct, frozen=True):
    """A thing to be carried: a box, a round (`diameter`) or a section by points, and a length.

    `width` and `thickness` are those of the box around its section; `section` is empty unless it
    was given by points, which are moved so that it stands on y = 0 with its middle at x = 0.
    """

    source: Source
    name: str
    width: float
    thickness: float
    length: float
    diameter: float | None
    section: tuple[Point, ...]
    held_by: str  # the part that holds it
    note: str = ""
    plan: tuple[Point, ...] = ()  # as it is seen lying there, where that is given: from 0 up and to the right
    handle: tuple[float, ...] | None = None  # of a blade, beyond it: width, thickness, length
    uncertainty: float = 0.0  # how far its plan may be off, each way
    blade: float | None = None  # how far up its plan is a blade, and above that the handle
    tip: float | None = None  # of a blade with a size
    cutting: str | None = None  # of what cuts: "bare" or "covered", None where the file does not say
    head: tuple[Point, ...] = ()  # of a blade alone: its handle, where its plan showed that
    handle_taken: bool = False  # of a blade alone: how thick its handle is tells no file

    @property
    def bares_edge(self) -> bool:
        """Whether it is carried with a cutting edge that nothing of its own covers.

        >>> [Item(Source(), "slick", 30, 4, 150, None, (), "roll", cutting=each).bares_edge
        ...     for each in ("bare", "covered", None)]
        [True, False, False]
        """
        told = bool(self.plan and (self.tip or self.blade))
        return told if self.cutting is None else self.cutting == "bare"

    @property
    def cuts(self) -> bool:
        """Whether its edge is taken to be bare, by what the file says of it, else by its handle or its name.

        >>> [Item(Source(), name, 30, 4, 150, None, (), "room").cuts for name in ("knife", "rule")]
        [True, False]
        """
        if self.cutting is not None:
            return self.bares_edge
        return self.bares_edge or self.handle is not None or tells_of_an_edge(self.name)

    @property
    def seen(self) -> tuple[Point, ...]:
        """As it is seen lying there: its plan, or the rectangle of its width and length.

        >>> Item(Source(), "rule", 30, 2, 150, None, (), "pocket").seen
        ((0.0, 0.0), (30, 0.0), (30, 150), (0.0, 150))
        """
        return self.plan or ((0.0, 0.0), (self.width, 0.0), (self.width, self.length), (0.0, self.length))

    def going_in(self, deep: float) -> Item:
        """The same item, as wide as what of it goes in `deep` from its lower end: all of that must pass the
        mouth. What of an outline is wider further up stands out to the left and right of its width.

        >>> head = ((0.0, 0.0), (10.0, 0.0), (10.0, 60.0), (30.0, 80.0), (-6.0, 80.0), (0.0, 60.0))
        >>> brush = Item(Source(), "brush", 36, 5, 80, None, (), "roll", plan=head)
        >>> brush.going_in(50).width, brush.going_in(70).width, brush.going_in(70).plan[0]
        (10.0, 23.0, (3.0, 0.0))
        """
        ends = widths_below(self.plan, max(deep, 0.0)) if self.plan else None
        if ends is None:
            return self
        left, right = ends
        moved = tuple((x - left, y) for x, y in self.plan)
        return msgspec.structs.replace(self, width=right - left, plan=moved)

    def in_sheath(self) -> Item:
        """The blade alone of a plan that shows a handle too, and what is above as its handle, as thick as a
        hand asks for, unless that is stated; else the item itself.

        >>> plan = ((5.0, 0.0), (20.0, 30.0), (20.0, 90.0), (24.0, 90.0), (24.0, 200.0), (0.0, 200.0))
        >>> knife = Item(Source(), "knife", 24, 3, 200, None, (), "sheath", plan=plan, blade=90).in_sheath()
        >>> knife.length, knife.width, knife.handle
        (90, 17.25, (24.0, 15.0, 110))
        """
        if self.blade is None or not self.plan or self.blade >= self.length:
            return self
        high = self.blade
        ring, above = below(self.plan, high), below([(x, -y) for x, y in self.plan], -high)
        left, right = min(x for x, _ in ring), max(x for x, _ in ring)
        wide = max(x for x, _ in above) - min(x for x, _ in above)
        handle = self.handle or (wide, max(HANDLE_THICK, self.thickness), self.length - high)
        plan, head = (tuple((x - left, y) for x, y in each) for each in (ring, [(x, -y) for x, y in above]))
        shape = {"width": right - left, "length": high, "plan": plan, "head": head[::-1]}
        taken = self.handle is None
        return msgspec.structs.replace(self, **shape, handle=handle, handle_taken=taken, blade=None)

    def edge(self, *, grip: float = 0.0, drain: float = 0.0) -> tuple[Point, ...]:
        """The edge of what is drawn out of a sheath, from its point to the mouth: a hull, never narrower
        further up, drawn round with few corners. `grip` is how much of the handle goes in as well; leather
        that bows over it on both faces is longer there by what it is thicker than the blade. `drain` is the
        diameter of a hole that is to have room below the point.

        >>> Item(Source(), "chisel", 20, 4, 90, None, (), "sheath", handle=(24, 18, 100)).edge(grip=30)
        ((20, 0.0), (38, 90), (38, 120))
        >>> Item(Source(), "chisel", 20, 4, 90, None, (), "sheath").edge(drain=4)
        ((8.0, -8.0), (20, 0.0), (20, 90))
        """
        blade = self.in_sheath()
        points, wide, high = [*blade.seen], blade.width, blade.length
        if grip and blade.handle is not None:
            wide = max(wide, blade.handle[0] + max(blade.handle[1] - blade.thickness, 0.0))
            points.append((wide, high))
            high += grip
        under = 2 * OPENINGS[OpeningKind.HOLE].clearance(drain, 0.0).stitch if drain else 0.0
        points += [(0.0, -under), (under, -under)] if under else []
        wide = max(wide, under)
        ring = hull([*points, (wide, high), (0.0, high)])
        low = min(y for _, y in ring)
        first = max(range(len(ring)), key=lambda k: (ring[k][1] == low, ring[k][0]))
        turned = (*ring[first:], *ring[:first])
        return fewer_corners(turned[: turned.index((wide, high)) + 1], BEYOND_BLADE)

    def outline(self, *, steps: int = 72) -> tuple[Point, ...]:
        """Its section as points, counter-clockwise, standing on y = 0 about x = 0.

        A round one is a regular polygon *around* it of `steps` corners, flat below.

        >>> Item(Source(), "rule", 30, 2, 150, None, (), "pocket").outline()[:2]
        ((-15.0, 0.0), (15.0, 0.0))
        """
        if self.section:
            return self.section
        if self.diameter is None:
            half = self.width / 2
            return ((-half, 0.0), (half, 0.0), (half, self.thickness), (-half, self.thickness))
        radius, turn = self.diameter / 2, pi / steps
        corner = radius / cos(turn)
        return tuple(
            (corner * sin((2 * k + 1) * turn), radius - corner * cos((2 * k + 1) * turn))
            for k in range(-1, steps - 1)
        )


# Of the strap that closes a roll, mm: its buckle's inside and bar, from one tongue hole to the next, the
# least width of its keeper (common practice, no source).
BUCKLE_INSIDE, BUCKLE_BAR, BUCKLE_STEP, BUCKLE_KEEPER = 20.0, 3.0, 12.0, 10.0


# What closes a bag by its flap: the flap alone, two snaps, or as a flap by itself.
BAG_FLAPS = ("flap", "snaps", "tab", "stud", "strap")


class Part(msgspec.Struct, frozen=True):
    """What holds items. Its frame has the origin at `at` on the base, turned by `turn_degrees`;
    it is mirrored where the part lies `behind`.

    `settings` are the kind's own keys with their defaults; `ease` None is the material's.
    """

    source: Source
    name: str
    kind: PartKind
    on: str | None  # its base; of a lining the piece that it lines
    at: Point
    turn_degrees: float
    ease: Ease | None
    settings: tuple[tuple[str, Setting], ...] = ()
    unplaced: bool = False  # without a place of its own in the file

    @property
    def has_flap(self) -> bool:
        """Of a bag: whether it is closed by a flap."""
        return self.word("closed_by") in BAG_FLAPS

    def _setting(self, key: str) -> Setting | None:
        return dict(self.settings).get(key)

    def stating(self, key: str, value: Setting) -> Part:
        """The same part with another value of one of its kind's own keys."""
        rest = tuple(each for each in self.settings if each[0] != key)
        return msgspec.structs.replace(self, settings=(*rest, (key, value)))

    @property
    def closing_strap(self) -> Part:
        """Of a roll: the strap with a buckle that closes it, as a part of its own; without its girth, where
        that follows from what is rolled up. One keeper slides on it: a fixed one takes room on a short strap.
        """
        told = dict(self.settings)
        wide = self.length("inside") or BUCKLE_INSIDE
        settings: dict[str, Setting] = {
            **{key: told[key] for key in ("bar", "girth") if key in told},
            **{"width": wide, "step": BUCKLE_STEP, "point": "English"},
            **{"keepers": 0, "loose": 1, "band": max(wide / 2, BUCKLE_KEEPER)},
        }
        settings.setdefault("bar", BUCKLE_BAR)
        name = f"{self.name} closing strap"
        return msgspec.structs.replace(self, name=name, settings=tuple(settings.items()))

    def length(self, key: str) -> float | None:
        """A length in mm, or a number; None where it is left out and has no default."""
        value = self._setting(key)
        return value if isinstance(value, float) else None

    def size(self, key: str) -> float:
        """A length in mm, 0 where it is left out."""
        return self.length(key) or 0.0

    def flag(self, key: str) -> bool:
        """True or false."""
        return self._setting(key) is True

    def word(self, key: str) -> str:
        """One of the key's words, "" where it is left out and has no default."""
        value = self._setting(key)
        return value if isinstance(value, str) else ""

    def names(self, key: str) -> tuple[str, ...]:
        """A list of names; none where it is left out."""
        value = self._setting(key)
        return tuple(each for each in value if isinstance(each, str)) if isinstance(value, tuple) else ()

    def count(self, key: str) -> int:
        """A whole number, 0 where it is left out and has no default."""
        value = self._setting(key)
        return value if isinstance(value, int) else 0

    def range(self, key: str) -> tuple[float, float] | None:
        """The least and the most, in mm; None where it is left out."""
        value = self._setting(key)
        if not isinstance(value, tuple) or len(value) != 2:
            return None
        least, most = value
        return (least, most) if isinstance(least, float) and isinstance(most, float) else None


class Project(msgspec.Struct, frozen=True):
    """All of it. `findings` are the notes and warnings of the reading; `thicknesses` are those that are
    written as text, in mm and as they stand in the file. `left_out` names by their paths the entries that
    errors leave out; such a project is good for pictures and nothing else."""

    source: Source
    name: str  # of the file, without its ending
    title: str
    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]
    openings: tuple[Opening, ...]
    page: PageOptions
    copies: int
    yield_share: float  # of the hide that ends up in pieces, 0 to 1
    findings: tuple[Finding, ...] = ()
    items: tuple[Item, ...] = ()
    parts: tuple[Part, ...] = ()
    fittings: tuple[Fitting, ...] = ()
    thicknesses: tuple[tuple[float, str], ...] = ()
    left_out: tuple[str, ...] = ()
    mirrored: bool = False  # drafted for the other hand; its entries stand as the file has them
    trial: float | None = None  # the thickness of the stock it is tried in, which its pieces then have, mm

    @property
    def owners(self) -> Mapping[str, str]:
        """By piece the part that it belongs to: which drafted it, or of those that the file writes itself
        whose thing it is made for."""
        found = {piece.name: piece.drafted_by for piece in self.pieces if piece.drafted_by is not None}
        for part in (each for each in self.parts if each.kind is PartKind.ROOM):
            cover = part.word("cover")
            own = [piece.name for piece in self.pieces if cover == part.on == piece.on]
            found = dict.fromkeys((cover, *(part.names("pieces") or own)), part.name) | found
        return found

    @property
    def units(self) -> Units:
        """How lengths are written for whoever reads of it: thicknesses as in the file where that is in
        inches."""
        units = self.source.units
        return units.with_written(dict(self.thicknesses)) if units.unit == "in" else units
