"""The product of step 2: the pattern, true shapes as lines and arcs, before any hole.

All mm, y up, each piece in its own frame, seen from the side that will show.

Words: a *root* is the piece whose frame others are placed in: one that lies on nothing, or does
not lie flat; *level* counts layers of one root upwards, negative below the root. All that is said of where
pieces lie is said of flat ones, as they are worked on, but for `folded`.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from enum import StrEnum
from functools import cached_property
from itertools import pairwise
from math import cos, pi, radians, sin

import msgspec

from handkit.findings import Finding, Source
from handkit.geometry.affine import Affine, Point
from handkit.geometry.intersect import common_places
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment
from handkit.geometry.space import Bend, FoldedSheet, Motion, Panel, Place, bent, folded_sheet
from handkit.geometry.straight import Straight
from handkit.grouping import grouped
from handkit.kinds.edge_works import EdgeWork
from handkit.kinds.materials import MATERIALS, Family, Material, MaterialTraits
from handkit.kinds.openings import OpeningKind, OpeningShape
from handkit.read.project import Fitting, MarkKind, Opening, Project, Seam, Side, Stitching, WorkedEdge
from handkit.tolerances import SAME_POINT
from handkit.wording.figures import Units, plain


class Letter(msgspec.Struct, frozen=True):
    """A corner letter and where it stands: on the corner, or at the middle of a rounded one."""

    name: str
    at: Point


class NamedLine(msgspec.Struct, frozen=True):
    """A line inside a piece: an inner line or a fold line."""

    name: str
    path: Path


class PatternFold(msgspec.Struct, frozen=True):
    """A line the piece is folded on; what is folded with an angle has its bend in space."""

    name: str
    path: Path
    out: Side | None = None  # the side that is outside then
    angle_degrees: float | None = None
    radius: float = 0.0  # inside
    bend: Bend | None = None

    @property
    def ends(self) -> Straight:
        """The straight line from its start to its end."""
        return (self.path.start, self.path.end)


class SkivedEdge(msgspec.Struct, frozen=True):
    """Thinned from `width` in, evenly, down to `to` at this edge."""

    path: Path
    width: float
    to: float


class FinishedEdge(msgspec.Struct, frozen=True):
    """Edges that are hemmed, turned, bound, or have a seam allowance.

    `path` is the finished edge, part of the piece's outline; `folds` are the lines outside it that it is
    turned on, those at the finished edge first; `mitred` the corners where what is turned meets.
    """

    work: WorkedEdge
    path: Path
    folds: tuple[Path, ...] = ()
    mitred: tuple[str, ...] = ()

    def told(self, back: str, units: Units) -> str:
        """Its letters and what is done there, with the numbers; `back` is what the back is called."""
        words = self.work.traits.twice if self.work.turns > 1 else self.work.traits.words
        sizes = {
            "width": units.text(self.work.width),
            "turn_in": units.text(self.work.turn_in),
            "back": back,
        }
        return f"{self.work.edges}: {words.format(**sizes)}"

    @property
    def depth(self) -> tuple[float, int]:
        """How deep it is turned, mm, and how often."""
        return self.work.width, self.work.turns

    @property
    def is_inside(self) -> bool:
        """Whether the finished edge lies inside the cut: all but what is bound."""
        return self.work.work is not EdgeWork.BINDING


class RawEdge(msgspec.Struct, frozen=True):
    """An edge of cloth that frays, with nothing but a cut or an allowance; `ends` are its letters."""

    ends: tuple[str, str]
    path: Path


class ItemOutline(msgspec.Struct, frozen=True):
    """Where an item lies on a piece, so that the thing itself can be laid on the paper first."""

    item: str
    path: Path  # closed, in the piece's frame
    beside: bool = False  # whether its name may stand beside it: a fitting is small


class PieceMark(msgspec.Struct, frozen=True):
    """A short line on a piece that is neither stitch line nor fold, in the piece's frame."""

    kind: MarkKind
    path: Path
    seam: str = ""  # that a piece of tape holds


class Fit(StrEnum):
    """How an item sits in its place."""

    TIGHT = "too tight"
    FITS = "fits"
    LOOSE = "too loose"


class ItemFit(msgspec.Struct, frozen=True):
    """The room that an item has in one direction: `given` less `needed` is its ease. All mm.

    Items that share one place side by side have one room together.

    `least` and `most` are the ease that is allowed; `measure` says what was measured, such as
    "width" or "girth"; `stated` is the key of the part that sets `given`, "" where it follows from
    the ease; `wanted` what that key should be, where one size suits all its items.
    """

    items: tuple[str, ...]
    part: str
    measure: str
    needed: float
    given: float
    least: float
    most: float
    stated: str = ""
    wanted: float | None = None
    where: str = ""  # between what the maker lays a rule or tape to measure `given`
    clashes: bool = False  # whether something else is in the way, once all is put together

    @property
    def item(self) -> str:
        """Whose room it is; several are listed."""
        return ", ".join(self.items)

    @property
    def ease(self) -> float:
        """What is left beside the item; negative where it does not go in."""
        return self.given - self.needed

    @property
    def fit(self) -> Fit:
        """Whether the ease is in its range, to a hundredth of a millimetre."""
        ease = round(self.ease, 2)
        if ease < round(self.least, 2):
            return Fit.TIGHT
        return Fit.LOOSE if ease > round(self.most, 2) else Fit.FITS

    @property
    def told(self) -> str:
        """The same in words; nothing fits that has something else in its way."""
        if not self.clashes:
            return self.fit.value
        return "is in the way" if self.fit is Fit.FITS else f"{self.fit.value}, and in the way"


class Folded(msgspec.Struct, frozen=True):
    """Where a piece lies once all pieces are folded on their folds with an angle.

    `motion` leads from its own frame to its base's, both at the middle of their leather: how thick what
    lies between is, is left out. `levels` are those of its panels, among the layers of all that stands on
    its base; `turned` says whether the base's eye sees its other side then.
    """

    motion: Motion = Motion()
    levels: tuple[int, ...] = (0,)
    turned: bool = False

    @property
    def plan(self) -> Affine | None:
        """The same in plan; None of what stands at an angle to its base."""
        return self.motion.plan


class PatternPiece(msgspec.Struct, frozen=True, dict=True):
    """One piece. The outline begins at corner A and goes round as the file has it."""

    source: Source
    name: str
    outline: Path  # closed; the finished edge
    cut_outline: Path  # closed; the outline with trims outside it: where the knife goes first
    letters: tuple[Letter, ...]
    lines: tuple[NamedLine, ...]
    folds: tuple[PatternFold, ...]
    trims: tuple[Path, ...]  # the edges that are trimmed after stitching (parts of `outline`)
    skives: tuple[SkivedEdge, ...]
    thickness: float
    material: Material
    quantity: int
    mark: Side
    grain_degrees: float
    note: str
    on: str | None
    behind: bool
    flat: bool
    glued: bool
    root: str  # the piece whose frame `placed` leads into; itself for a root
    placed: Affine | None  # own frame to the root's frame; None where it does not lie flat
    level: int  # among the layers of all that stand on one another; higher is nearer the eye
    depth: int  # how many pieces it stands on, one on the other
    items: tuple[ItemOutline, ...] = ()  # what lies on it
    marks: tuple[PieceMark, ...] = ()
    works: tuple[FinishedEdge, ...] = ()
    raw: tuple[RawEdge, ...] = ()
    shows: Side = Side.GRAIN  # the side it is drawn as seen from
    turns_to: str = "back"  # where hems and turned edges go: away from that side, or to it
    base: str = ""  # the lowest of the pieces it stands on; itself where it stands on none
    in_base: Affine = Affine()  # own frame to the base's; in plan, where it does not lie flat
    turned: bool = False  # whether the eye of the lowest piece it stands on sees its other side
    panel: int = 0  # which of the panels of the piece it is `on` it lies on
    folded: Folded = Folded()  # where it lies once what it stands on is folded

    @property
    def least_width(self) -> float:
        """The lesser side of its upright box, mm."""
        left, low, right, top = self.outline.bounds()
        return min(right - left, top - low)

    @property
    def template_mirrored(self) -> bool:
        """Whether its template is laid on the side that does not show."""
        return self.mark is not self.shows

    @property
    def up(self) -> Side:
        """The side that the eye of the lowest piece it stands on sees."""
        return self.shows.other if self.turned else self.shows

    @property
    def far_side(self) -> str:
        """The side that does not show, in its material's words: skived."""
        return self.side_words(self.shows.other)

    @property
    def hem_side(self) -> str:
        """The side that edges are turned to."""
        return self.far_side if self.turns_to == "back" else self.side_words(self.shows)

    def side_words(self, side: Side) -> str:
        """A side in its material's words.

        "flesh side" of leather, "back" of cloth.
        """
        words = self.traits.words
        return words.front if side is Side.GRAIN else words.back

    @property
    def turned_corners(self) -> dict[str, tuple[FinishedEdge, ...]]:
        """The corners where turned edges meet, each with what meets there, the least deep first."""
        corners = dict.fromkeys(corner for each in self.works for corner in each.mitred)
        return {
            corner: tuple(
                sorted((each for each in self.works if corner in each.mitred), key=lambda e: e.depth)
            )
            for corner in corners
        }

    @property
    def mitres(self) -> tuple[str, ...]:
        """The corners where edges that are turned alike meet."""
        met = self.turned_corners.items()
        return tuple(corner for corner, works in met if works[0].depth == works[-1].depth)

    @property
    def lapped_corners(self) -> dict[tuple[str, str], list[str]]:
        """The corners where edges turned unlike meet, by the letters of what is turned first and over it."""
        unlike = [corner for corner in self.turned_corners if corner not in self.mitres]
        return grouped(unlike, by=self._lapped)

    def _lapped(self, corner: str) -> tuple[str, str]:
        works = self.turned_corners[corner]
        return str(works[0].work.edges), str(works[-1].work.edges)

    @property
    def traits(self) -> MaterialTraits:
        """What its material is like."""
        return MATERIALS[self.material]

    def fold(self, name: str) -> PatternFold:
        """Its fold of this name. Raises StopIteration where it has none."""
        return next(fold for fold in self.folds if fold.name == name)

    @property
    def in_root(self) -> Affine:
        """Its own frame to its root's; a root's own frame is the root's, lies it flat or not."""
        return self.placed if self.placed is not None else Affine()

    def fold_words(self, fold: PatternFold) -> str:
        """How one of its folds is folded, such as "grain side out, 180°, inside radius 2 mm"; "" of a line
        alone."""
        if fold.out is None:
            return ""
        radius = f", inside radius {self.source.units.text(fold.radius)}" if fold.radius else ""
        return f"{self.side_words(fold.out)} out, {plain(fold.angle_degrees or 0.0)}°{radius}"

    @property
    def bends(self) -> tuple[Bend, ...]:
        """What its folds with an angle do in space."""
        return tuple(fold.bend for fold in self.folds if fold.bend is not None)

    @cached_property
    def sheet(self) -> FoldedSheet:
        """Its finished outline, folded, in its own frame."""
        return folded_sheet(self.outline, self.bends)

    @property
    def panels(self) -> tuple[Panel, ...]:
        """Its finished outline in parts that stay plane, in its own frame, the bent zones left out; what
        keeps its place comes first. Without folds with an angle that is all of it."""
        return self.sheet.panels

    def panel_under(self, points: Sequence[Point]) -> Panel:
        """The panel that some of its places lie on; what keeps its place where they lie on several."""
        sheet = self.sheet
        return sheet.panels[sheet.panel_of(points)]

    def motion_to_base(self, panel: Panel) -> Motion:
        """How one of its panels moves, to its base's frame, once all is folded."""
        return self.folded.motion @ panel.motion

    def motion_at(self, point: Point) -> Motion:
        """How the piece moves at one of its places when it is folded; what keeps its place does not."""
        return bent(self.bends, point)

    def in_space(self, point: Point, *, height: float = 0.0) -> Place:
        """Where one of its places is when it is folded, in mm: x and y in its own frame, z towards the eye
        that sees the side that shows; `height` from the middle of its thickness."""
        return self.motion_at(point).apply((point[0], point[1], height))

    def over(self, start: Point, end: Point) -> Affine | None:
        """How what is folded at one of its places lies over what is at another: the map from the flat piece
        about `start` to that about `end`. None where both are on one panel, or stand at an angle.
        """
        one, other = self.motion_at(start), self.motion_at(end)
        return (other.inverse() @ one).plan if one != other else None

    def turned_between(self, start: Point, end: Point) -> bool | None:
        """Whether it is folded so that two of its places look opposite ways: across a fold that is a line
        alone, or on leaves that lie parallel. None where they stand at an angle.
        """
        lines = self.folds_between(start, end, angled=False) % 2 == 1
        if self.motion_at(start) == self.motion_at(end):
            return lines
        lie = self.over(start, end)
        return None if lie is None else lie.turns_over ^ lines

    def folds_between(self, start: Point, end: Point, *, angled: bool = True) -> int:
        """How often the straight way from one of its places to another crosses its fold lines, or those
        alone that have no angle.
        """
        if not self.folds or start == end:
            return 0
        way, folds = [Segment(start, end)], [fold for fold in self.folds if angled or fold.bend is None]
        return sum(len({at for *_, at in common_places(way, fold.path.segments)}) for fold in folds)


class Run(msgspec.Struct, frozen=True):
    """A seam's line on one piece.

    `path` is None for a carried layer, which takes the holes of the layer `carried_from` (index).
    `through` leads from that one's frame into its own where only their folds bring them together.
    `corners` are distances along the path where it turns by more than a corner's turn; `meets` are
    the distances of the seam's match points, in their order, None where this layer has none.
    `inside` is +1 where the piece's body lies left of the way the run goes, −1 right, 0 unknown.
    Where the ends of its piece are butted to a tube, the run goes on `across` the joint to its first
    hole, and `joined` are the segments of the piece's outline that are sewn to one another there.
    """

    source: Source
    piece: str
    text: str  # the run as named: "D-A-B-C", a line's name, or "" where carried
    path: Path | None
    carried_from: int | None
    corners: tuple[float, ...]
    meets: tuple[float | None, ...]
    inside: int
    across: float = 0.0
    joined: frozenset[int] = frozenset()
    through: Affine | None = None

    @property
    def length(self) -> float:
        """Along its path, and across the joint of a tube; 0 where it is carried."""
        return self.path.length + self.across if self.path is not None else 0.0

    @property
    def label(self) -> str:
        """As the maker wrote it, in quotes: the piece, and its letters or line where it has them."""
        return f'"{self.piece}: {self.text}"' if self.text else f'"{self.piece}"'


class PatternSeam(msgspec.Struct, frozen=True):
    """A seam with its lines; `seam` has its settings."""

    seam: Seam
    runs: tuple[Run, ...]
    closed: bool
    face_to_back: tuple[int, ...]  # indices of runs, from the face that is looked at downwards

    @property
    def name(self) -> str:
        """As in the file."""
        return self.seam.name

    @property
    def stitching(self) -> Stitching:
        """How it is stitched."""
        return self.seam.stitching

    @property
    def source(self) -> Source:
        """Where it stands in the file."""
        return self.seam.source

    def hole_label(self, number: int) -> str:
        """A stitch hole as it is named to the maker."""
        return f'hole {number} of seam "{self.name}"'


class PlacedOpening(msgspec.Struct, frozen=True):
    """One opening on one piece; `number` counts from 1 and is the same on every piece."""

    piece: str
    number: int
    at: Point
    degrees: float  # direction of a slot's length in the piece's frame


class PatternOpening(msgspec.Struct, frozen=True):
    """An opening with all its places; `opening` has its sizes."""

    opening: Opening
    places: tuple[PlacedOpening, ...]

    @property
    def name(self) -> str:
        """As in the file."""
        return self.opening.name

    @property
    def source(self) -> Source:
        """Where it stands in the file."""
        return self.opening.source

    @property
    def count(self) -> int:
        """How many there are, however many layers each goes through."""
        return len({place.number for place in self.places})

    def neck(self, place: PlacedOpening) -> Point:
        """Where its other half comes to stand: its place, or of a buttonhole the middle of its hole."""
        if self.opening.traits.shape is not OpeningShape.KEYED:
            return place.at
        half, angle = self.opening.half_straight, radians(place.degrees)
        return place.at[0] - half * cos(angle), place.at[1] - half * sin(angle)

    def places_on(self, piece: str, numbers: Collection[int]) -> tuple[PlacedOpening, ...]:
        """Those of some numbers that lie on a piece."""
        return tuple(place for place in self.places if place.piece == piece and place.number in numbers)

    @property
    def by_pieces(self) -> dict[tuple[str, ...], tuple[int, ...]]:
        """Its numbers by the pieces they go through, in the order of the file."""
        pieces: dict[int, list[str]] = {}
        for place in self.places:
            pieces.setdefault(place.number, []).append(place.piece)
        found: dict[tuple[str, ...], list[int]] = {}
        for number, names in sorted(pieces.items()):
            found.setdefault(tuple(names), []).append(number)
        return {names: tuple(numbers) for names, numbers in found.items()}

    def label(self, number: int) -> str:
        """One of them as it is named to the maker, with its number where there are several."""
        several_places = any(place.number > 1 for place in self.places)
        return f'{f"number {number} of " if several_places else ""}opening "{self.name}"'


class PatternFitting(msgspec.Struct, frozen=True):
    """A fitting; where a fold goes round it, with the fold's ends, how thick all is that is folded there,
    and how much of it the half turn round the bar takes, half to each side; how wide a keeper is along its
    strap.
    """

    fitting: Fitting
    line: Straight | None = None
    folded: float = 0.0
    turn: float = 0.0
    band: float = 0.0

    @property
    def name(self) -> str:
        """As in the file."""
        return self.fitting.name


def inside_girth(along: float, *, turn: float, bar: float, thick: float) -> float:
    """The girth that a strap's hole closes round, `along` from the fold on the flat strap; all mm.

    It counts from the bar's inside face round the strap's inside, which is what lies on the body. Half of the
    turn lies behind the bar's middle and half of the bar before its inside face; the strap's middle keeps its
    length, and its inside is π · s shorter for a full turn. By hand: 4 mm on a bar of 4 mm turns in
    π · 4 = 12.566:

    >>> round(inside_girth(300, turn=12.566, bar=4, thick=4), 2)
    279.15
    """
    return along - turn / 2 - bar / 2 - pi * thick


class RoomProfile(msgspec.Struct, frozen=True):
    """A section across a room: the inside of its cover from left to right, (x, z), z from the base's face.

    `at` is where along the room it is seen; between two profiles the cover's height changes evenly.
    """

    at: float
    inside: tuple[Point, ...]

    def height(self, x: float) -> float:
        """How far the cover's inside stands off the base at x; 0 beside it.

        >>> RoomProfile(0.0, ((0.0, 0.0), (2.0, 4.0), (6.0, 0.0))).height(3.0)
        3.0
        """
        for (x0, z0), (x1, z1) in pairwise(self.inside):
            if x0 <= x <= x1 and x1 > x0:
                return z0 + (z1 - z0) * (x - x0) / (x1 - x0)
        return 0.0


class HeldItem(msgspec.Struct, frozen=True):
    """An item as a room holds it: outline in plan, in the room's frame; section across, (x, z). Of an item
    that is held by its blade the handle comes by itself, with the outline of that `blade`, on whose leaf it
    lies.
    """

    item: str
    outline: Path
    section: Path
    blade: Path | None = None
    assumed: bool = False  # whether the file tells nothing of it

    @property
    def seat(self) -> Path:
        """The outline of what of it is held."""
        return self.blade or self.outline

    @property
    def name(self) -> str:
        """As it is called where the item's other part stands beside it."""
        return f"handle of {self.item}" if self.blade is not None else self.item

    @property
    def words(self) -> str:
        """As findings name it."""
        return f'{"the handle of " if self.blade is not None else ""}"{self.item}"'

    @property
    def thickness(self) -> float:
        """How far it stands off what it lies on, mm."""
        return self.section.bounds()[3]

    def sizes(self, units: Units) -> str:
        """Width, thickness and length in words."""
        left, low, right, top = self.outline.bounds()
        return units.size(right - left, self.thickness, top - low)


class Room(msgspec.Struct, frozen=True):
    """What a part makes between its base and its cover, with what it holds there.

    In the room's frame things lie along y, and are drawn out towards its mouth, upwards; z counts from
    that face of the base which the cover stands on. `place` is what the cover takes of the base's plan
    once it stands: of a bowed front less than its own outline. Between the leaves of one folded piece that is
    base and cover.
    """

    part: str
    base: str
    cover: str
    behind: bool  # on the far face of the base
    lie: Affine  # the room's frame to the base's
    place: Path
    profiles: tuple[RoomProfile, ...]  # from the foot to the mouth; none where the cover lies flat
    items: tuple[HeldItem, ...]
    wall: tuple[str, Path] | None = None  # the strip between both, and its section, as `Standing` has it
    passes: str = ""  # the piece that is put through it once all is shut

    @property
    def stands(self) -> bool:
        """Whether its cover stands over the base, and so lies no flat piece."""
        return bool(self.profiles)

    @property
    def folded(self) -> bool:
        """Whether it is between the leaves of one piece."""
        return self.cover == self.base

    def height(self, at: Point) -> float:
        """How far the cover's inside stands off the base at a place of the room's frame, mm: on walls as
        far all over, for its edges go on past them."""
        x, y = at
        if self.wall is not None:
            return max(z for profile in self.profiles for _, z in profile.inside)
        for low, high in pairwise(self.profiles):
            if low.at <= y <= high.at:
                share = (y - low.at) / (high.at - low.at)
                return low.height(x) + share * (high.height(x) - low.height(x))
        return 0.0


class FacesMet(msgspec.Struct, frozen=True):
    """Two pieces of a seam that lie in no common frame, and the side of each that lies on the other."""

    first: str
    first_side: Side
    second: str
    second_side: Side


class Pattern(msgspec.Struct, frozen=True):
    """All pieces, seams and openings, in the file's order."""

    project: Project
    pieces: tuple[PatternPiece, ...]
    seams: tuple[PatternSeam, ...]
    openings: tuple[PatternOpening, ...]
    findings: tuple[Finding, ...] = ()
    item_fits: tuple[ItemFit, ...] = ()  # of every item that a part of the project holds
    fittings: tuple[PatternFitting, ...] = ()
    rooms: tuple[Room, ...] = ()  # of the parts that hold items
    faces: tuple[FacesMet, ...] = ()  # what seams say of pieces that no placement tells of
    _by_name: dict[str, PatternPiece] = msgspec.field(default_factory=dict)

    def __post_init__(self) -> None:
        by_name = {piece.name: piece for piece in reversed(self.pieces)}
        msgspec.structs.force_setattr(self, "_by_name", by_name)

    def piece(self, name: str) -> PatternPiece:
        """The piece of this name. Raises KeyError."""
        return self._by_name[name]

    @property
    def families(self) -> tuple[Family, ...]:
        """Leather, cloth or both: what the pieces are of."""
        found = {piece.traits.family for piece in self.pieces}
        return tuple(family for family in Family if family in found)

    def carry(self, start: str, end: str) -> Affine | None:
        """The map from one piece's frame to another's, None where they do not lie flat in one root.

        Raises KeyError.
        """
        first, last = self.piece(start), self.piece(end)
        if start == end:
            return Affine()
        return last.in_root.inverse() @ first.in_root if first.root == last.root else None

    def carry_run(self, origin: Run, run: Run) -> Affine | None:
        """The map from a run's frame to that of one that takes its holes, None where they do not lie flat in
        one root. Raises KeyError.
        """
        return run.through if run.through is not None else self.carry(origin.piece, run.piece)

    def faces_met(self, first: str, second: str) -> tuple[Side, Side] | None:
        """Which side of one piece and which of another lie towards each other, as they are placed.

        None where the file does not tell: they lie flat in no common frame, and neither is `on`
        the other; or one does not lie flat and is folded on a line alone. Raises KeyError.
        """
        for faces in self.faces:
            if (faces.first, faces.second) == (first, second):
                return faces.first_side, faces.second_side
            if (faces.second, faces.first) == (first, second):
                return faces.second_side, faces.first_side
        one, other = self.piece(first), self.piece(second)
        if first == second or (one.root != other.root and first != other.on and second != one.on):
            return None
        if any(not piece.flat and any(fold.bend is None for fold in piece.folds) for piece in (one, other)):
            return None
        if one.level > other.level:
            return one.up.other, other.up
        return one.up, other.up.other

    def in_plan(self, name: str) -> tuple[Path, Affine]:
        """A piece's outline as its base's plan has it, and the way there from its own frame; of what stands,
        the place it takes. Raises KeyError.
        """
        room = next((room for room in self.rooms if room.cover == name and room.stands), None)
        if room is None:
            piece = self.piece(name)
            return piece.outline.moved(piece.in_base), piece.in_base
        lie = self.piece(room.base).in_base @ room.lie
        return room.place.moved(lie), lie

    def tops_of(self, name: str) -> tuple[tuple[PatternPiece, Affine], ...]:
        """The pieces that lie flat on a piece's showing side, each with the map to its frame.

        On a piece that is turned over that is the side away from the eye. Raises KeyError.
        """
        piece = self.piece(name)
        over = -1 if piece.in_root.turns_over else 1
        return tuple(
            (other, lie)
            for other in self.pieces
            if (other.level - piece.level) * over > 0
            if (lie := self.carry(other.name, name)) is not None
        )


class Threaded(msgspec.Struct, frozen=True):
    """A strap that hangs by nothing and is put through slots: each opening with a piece that it is cut in."""

    strap: PatternPiece
    slots: tuple[tuple[str, str], ...]


# How much longer than its strap is wide a slot is at the most, mm (common practice, no source).
ROOM_IN_SLOT = 6.0


def threaded_straps(pattern: Pattern) -> tuple[Threaded, ...]:
    """The straps that are put through slots. The file says of no slot what goes through it: a strap with
    tongue holes does that is joined to no other piece, where it alone suits the slot: that is no shorter than
    the strap is wide, and longer by no more than `ROOM_IN_SLOT`."""
    works = [*([run.piece for run in seam.runs] for seam in pattern.seams)]
    works += [[place.piece for place in opening.places] for opening in pattern.openings]
    joined = {
        name for names in works for name in names if len({pattern.piece(each).root for each in names}) > 1
    }
    holed = {
        place.piece
        for each in pattern.openings
        if each.opening.kind is OpeningKind.TONGUE
        for place in each.places
    }
    straps = [
        piece
        for piece in pattern.pieces
        if piece.name in holed and piece.on is None and piece.name not in joined
    ]
    slots = [
        (each.name, name, suiting[0])
        for each in pattern.openings
        if each.opening.kind is OpeningKind.SLOT
        for name in dict.fromkeys(place.piece for place in each.places)
        if len(suiting := [one for one in straps if one.name != name and _suits(one, each)]) == 1
    ]
    by_strap = grouped(slots, by=lambda slot: slot[2].name)
    return tuple(
        Threaded(some[0][2], tuple((name, piece) for name, piece, _ in some)) for some in by_strap.values()
    )


def _suits(strap: PatternPiece, slot: PatternOpening) -> bool:
    return 0.0 <= slot.opening.length - strap.least_width + SAME_POINT <= ROOM_IN_SLOT
