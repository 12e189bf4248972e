"""The product of step 4: the article put together, as far as the file tells.

All mm. Each *figure* is what stands on one base, in the base's frame seen from the side that shows: x and
y in plan, z towards the eye, 0 on the face of the base that is looked at. What is behind has z below the
base's far face.

Words: a *body* is a piece where it lies; it *stands* where a part says how it rises over its base, is a
*wall* where it stands between others, as a gusset does, *hangs* where it is held at its ends and free between
them, as a handle is, and is *loose* where the file tells its place in plan alone; a *thing* is an item in its
place; a *cap* is what of a rivet, snap or eyelet stands out on one face; a *row* is the thread of a seam on
both faces, hole by hole. A *plate* is the section of one piece; its *upper* line is the one away from the
base, so that a picture can say which way each side looks.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from enum import StrEnum
from functools import cached_property

import msgspec

from handkit.draft.pattern import HeldItem, PatternPiece, Room
from handkit.findings import Finding
from handkit.geometry.affine import Affine, Point
from handkit.geometry.laid.heights import Heights
from handkit.geometry.path import Path
from handkit.geometry.space import FoldedSheet, Motion, Place
from handkit.punch.punched import Punched
from handkit.read.project import Fitting, Side
from handkit.tolerances import SAGITTA


class BodyKind(StrEnum):
    """How a body is known."""

    FLAT = "flat"
    STANDING = "standing"
    WALL = "wall"
    HANGING = "hanging"
    LOOSE = "loose"


class Leaf(msgspec.Struct, frozen=True):
    """A panel of a body, and where it is once all is folded.

    `outline` is its plan while all lies open, without the bent zones; `fold` leads from there, z and all, to
    where it comes to. `level` counts among the leaves of all that stands on the base once it is folded. `on`
    is what carries it, a piece and one of its panels, itself where it is folded, and `middle` the height of
    the middle of that one's leather then.
    """

    outline: Path
    fold: Motion = Motion()
    level: int = 0
    on: tuple[str, int] = ("", 0)
    middle: float = 0.0


class Body(msgspec.Struct, frozen=True):
    """A piece where it lies. `outline` is its finished edge in plan; `lie` leads there from its own frame.

    Of a standing body both are those of its place: what it takes of its base.
    """

    piece: PatternPiece
    kind: BodyKind
    outline: Path
    lie: Affine
    level: int  # 0 the base, higher nearer the eye, negative behind
    up: Side  # what the eye sees of it
    room: Room | None = None  # the room it covers
    leaves: tuple[Leaf, ...] = ()  # its panels, what keeps its place first
    sheet: FoldedSheet | None = None  # what it is folded by, None where it is not

    def leaf_at(self, points: Sequence[Point]) -> Leaf:
        """The leaf that places of the plan lie on; what keeps its place where they lie on several."""
        if self.sheet is None:
            return self.leaves[0]
        return self.leaves[self.sheet.panel_of(self.lie.inverse().apply_all(points))]

    @property
    def name(self) -> str:
        """Its piece's."""
        return self.piece.name

    @property
    def thickness(self) -> float:
        """Its piece's, mm."""
        return self.piece.thickness

    @property
    def depth(self) -> int:
        """How many pieces it stands on."""
        return self.piece.depth

    @property
    def on(self) -> str | None:
        """The piece it lies on."""
        return self.piece.on

    @property
    def over(self) -> str | None:
        """The base of the room it covers."""
        return None if self.room is None else self.room.base

    def rise(self, at: Point) -> float:
        """How far its inside is off that base at a place of the plan, mm; 0 of what does not stand."""
        return 0.0 if self.room is None else self.room.height(self.lie.inverse().apply(at))

    @property
    def lies(self) -> bool:
        """Whether `lie` tells where each of its places is: it neither stands on edge nor hangs."""
        return self.kind not in (BodyKind.WALL, BodyKind.HANGING)

    @property
    def in_front(self) -> bool:
        """Whether it lies on the side of the base that is looked at; the base does."""
        return self.level >= 0


class Thing(msgspec.Struct, frozen=True):
    """An item in its place, between two heights; `way` is the unit vector in plan it is drawn out by. A
    blade's handle is a thing of its own, of the same item."""

    held: HeldItem
    room: Room
    floor: str  # the piece it lies on: its base, or what lies on that all over its place
    outline: Path
    lie: Affine  # from the room's frame to the plan
    low: float
    high: float
    way: Point

    @property
    def in_front(self) -> bool:
        """Whether it lies on the side of the base that is looked at."""
        return self.high > 0

    @property
    def item(self) -> str:
        """Its item's name."""
        return self.held.item

    @property
    def words(self) -> str:
        """As findings name it."""
        return self.held.words

    @property
    def is_handle(self) -> bool:
        """Whether it is what of a blade stands out of its room, and so lies on its floor in part alone."""
        return self.held.blade is not None

    @property
    def seat(self) -> tuple[Point, ...]:
        """Corners of what of it is held, in plan: by them it is told on which leaf it lies."""
        return tuple(self.held.seat.moved(self.lie).flattened(sagitta=SAGITTA))


class Cap(msgspec.Struct, frozen=True):
    """What of an opening's hardware stands out on one face, between two heights.

    `pieces` are those it goes through, from the back to the face; `on` the one it stands out from.
    """

    opening: str
    number: int
    at: Point
    radius: float
    low: float
    high: float
    on: str
    to_eye: bool
    pieces: tuple[str, ...]


class SewnRow(msgspec.Struct, frozen=True):
    """The thread of one seam over holes that go through the same pieces, from the back to the face.

    `front` and `back` are the places of its holes on both faces; the thread stands out from there. A seam
    that goes through several leaves has a row on each: while all lies open they have their places apart.
    """

    seam: str
    first: int
    pieces: tuple[str, ...]
    front: tuple[Place, ...]
    back: tuple[Place, ...]
    thread: float


# Whose something is: "piece", "item", "opening", "seam", "fitting" or "fold", and its name.
Owner = tuple[str, str]


class PlacedFitting(msgspec.Struct, frozen=True):
    """A fitting where it lies, between two heights; `on` is the piece that holds it, `outline` in plan."""

    fitting: Fitting
    on: str
    outline: Path
    low: float
    high: float
    to_eye: bool  # whether it lies on the side of that piece that is looked at

    @property
    def words(self) -> str:
        """As findings name it."""
        return f'"{self.fitting.name}"'

    @property
    def owner(self) -> Owner:
        """As a clash has it."""
        return ("fitting", self.fitting.name)


class PassedStrap(msgspec.Struct, frozen=True):
    """A strap that goes round a figure through slots of it, all in plan once that is shut: what lies `over`
    what they are cut in, on its face or its back, what lies under that, and all of it on the other side.
    `slots` is their opening, `through` the piece that they are cut in."""

    piece: str
    slots: str
    through: str
    on_face: bool
    over: tuple[Path, ...]
    under: tuple[Path, ...]
    behind: Path


class Figure(msgspec.Struct, frozen=True, dict=True):
    """What stands on one base; bodies from the back to the face."""

    base: str
    bodies: tuple[Body, ...]
    things: tuple[Thing, ...]
    caps: tuple[Cap, ...]
    rows: tuple[SewnRow, ...]
    fittings: tuple[PlacedFitting, ...] = ()
    ties: tuple[PlacedFitting, ...] = ()  # by their first few mm; they give way to all
    straps: tuple[PassedStrap, ...] = ()

    def body(self, piece: str) -> Body:
        """The body of a piece. Raises KeyError where it has none."""
        return self._by_name[piece]

    @cached_property
    def _by_name(self) -> Mapping[str, Body]:
        return {body.name: body for body in self.bodies}


class Plate(msgspec.Struct, frozen=True):
    """The section of a piece, closed; `upper` is its line away from the base, and `up` the side there."""

    piece: str
    outline: Path
    upper: Path
    up: Side


class SectionThing(msgspec.Struct, frozen=True):
    """The section of an item."""

    item: str
    outline: Path


class ArticleSection(msgspec.Struct, frozen=True):
    """One cut: of which room or folded piece, along it or across."""

    of: str
    along: bool
    plates: tuple[Plate, ...]
    things: tuple[SectionThing, ...] = ()


class Clash(msgspec.Struct, frozen=True):
    """One thing, cap or fitting in the way of another: how deep in plan, how much in height, which way out,
    and where they meet in the plan of a base.

    `key` is the row that tells it; `of` the item, the opening, the fitting or the folded piece that it is
    told of, `said` what findings name that by where it is not its name, `other` as the maker knows it,
    `against` whose that is; `items` all that are in it, `room` what a
    folded piece has between its leaves, `free` how far a thing is to be drawn until it is out, where that is
    what counts; `ways` how far what it is told of is to be moved each way.
    """

    key: str
    of: str
    other: str
    deep: float
    high: float
    way: str
    at: Point
    base: str
    items: tuple[str, ...] = ()
    room: float | None = None
    free: float = 0.0
    against: Owner = ("", "")
    ways: tuple[tuple[str, float], ...] = ()
    said: str = ""

    @property
    def words(self) -> str:
        """What it is told of, as findings name it."""
        return self.said or f'"{self.of}"'


class Article(msgspec.Struct, frozen=True):
    """All figures, in the order of their bases in the file."""

    punched: Punched
    figures: tuple[Figure, ...]
    clashes: tuple[Clash, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def hindered(self) -> frozenset[str]:
        """The items that clash with something: what is said of their room is not all that counts."""
        return frozenset(item for clash in self.clashes for item in clash.items)


def heights_of(bodies: Sequence[Body]) -> Heights:
    """Between which heights the bodies of one figure lie; a wall stands between others, and has none."""
    return Heights([body for body in bodies if body.kind is not BodyKind.WALL])
