"""The product of step 4: what is done in which order, how each seam is sewn, with how much thread.

All mm. Holes are named by their number in the seam; a place in the *walk* by its index from 0.

Words: the *walk* is the row of holes both needles visit, back stitches included; a *move* is one
step of it; the *stack* is the thickness of all layers at a place; a *tail* is what is left at
each end to hold; *after* names what must be done before, with the reason.

A seam's `way` has an entry for every place of its walk; `shared_holes` are holes that another seam
has as well; `lock` says how the end is locked, with its caution; `tooling` which holes an iron
marks and which the awl. A seam's `threads` are its parts of what is cut: `cut_threads` are the whole
ones. The plan's `shared` are threads that may serve several seams in place of the seams' own;
`threads` is the table by diameter, with what is left on the spool.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

import msgspec

from handkit.draft.pattern import PatternOpening
from handkit.findings import Finding
from handkit.geometry.affine import Point
from handkit.geometry.region import Region
from handkit.kinds.stitches import StitchKind
from handkit.punch.punched import PunchedLayer, PunchedSeam
from handkit.read.project import Fibre, Fitting, Hold, Side, Stitching
from handkit.wording.figures import Units
from handkit.wording.stretches import spans, stretch_table, stretch_words

# Thicknesses and threads are written and summed to a thousandth of a mm, so that whoever adds them up
# again from the plan's JSON gets the same.
DECIMALS = 3

# A hole, the other seam (or the same) that it serves as well, and its number there.
HolePartner = tuple[int, str, int]


class StepKind(StrEnum):
    """Fixed words for the steps of the work."""

    CUT = "cut"
    MARK = "mark"
    SKIVE = "skive"
    FOLD = "fold"
    DYE = "dye"
    SEAL = "seal"  # the cut ends of webbing
    HEM = "hem"  # an edge is turned to the back, or bound
    BEVEL = "bevel"  # sand and bevel edges that stay single, before the dye
    EDGES = "edges"  # burnish them, and finish in time what will be closed in
    GLUE = "glue"
    OPENING = "opening"
    FITTING = "fitting"  # a buckle, ring, keeper, zip … is put on
    SEAM = "seam"
    TURN = "turn"  # the work is laid the other side up
    TRIM = "trim"
    BURNISH = "burnish"  # the outer edges
    FINISH = "finish"


class SeamSide(StrEnum):
    """The two sides of a seam."""

    FRONT = "front"  # the face layer, which is looked at while stitching
    BACK = "back"


class WalkEvent(StrEnum):
    """Fixed words for what happens at a place of the walk beside an ordinary stitch."""

    START = "start"  # the thread is centred here, or a single needle comes in; not where it only goes on
    CORNER = "corner"
    BACK_STITCH = "back stitch"  # the stitch that reaches this hole is sewn a second time
    SHARED = "shared hole"  # another seam's thread, or the seam's own start, is in it
    TURN = "turn round the edge"
    JOIN = "join"  # a new thread begins here, over the end of the last one
    END = "end"  # a thread ends here


class Predecessor(msgspec.Struct, frozen=True):
    """Something that must be done first, and why, in a few words."""

    name: str
    why: str


class Move(msgspec.Struct, frozen=True):
    """One step of both needles: hole to hole, a strand on either face, then through the stack.

    `stack` is what one strand passes at the hole that is reached: the layers' thickness, or the way
    through a mitred corner; `passes` is how many strands pass there. All thread of a move is
    front + back + over + passes x stack.
    """

    start: int  # number of the hole left
    end: int  # number of the hole reached
    front: float
    back: float
    stack: float
    passes: int = 2
    over: float = 0.0  # thread that lies over the edge (whip stitch)


class Thread(msgspec.Struct, frozen=True):
    """One thread of a seam: from one place of the walk to another, and the length to cut.

    Of a thread that goes through several seams each has its part: `cut` is what the part takes of the
    `whole`, with the first hole and the tail of an end only where that end is in the seam.
    """

    start: int  # index into the walk
    end: int
    start_stack: float  # thickness at its first hole, crossed once
    wraps: float  # thread in turns round the edge
    tails: float  # of its ends that are in this seam
    cut: float
    start_strand: float = 0.0  # thread that lies between the first holes (cross stitch)
    number: int = 1  # from 1, among the threads of its seam's row
    whole: float = 0.0  # the length to cut, for all of `seams`
    seams: tuple[str, ...] = ()  # all that it goes through, in order

    def begins(self, seam: str) -> bool:
        """Whether it is begun in a seam that has a part of it."""
        return seam == self.seams[0]

    def ends(self, seam: str) -> bool:
        """Whether it ends in a seam that has a part of it."""
        return seam == self.seams[-1]


class SeamRow(msgspec.Struct, frozen=True):
    """Seams that are sewn as one, from the first through to the last; most are alone in theirs."""

    seams: tuple[str, ...]
    thread: float  # all that is cut for them


class WayStep(msgspec.Struct, frozen=True):
    """One place of the walk; `first` is the side the needle that goes first, or alone, comes from."""

    place: int  # index into the walk
    hole: int
    first: SeamSide
    events: tuple[WalkEvent, ...]


class Mouth(msgspec.Struct, frozen=True):
    """Turns of a strand round the edge at one end of a seam.

    With `past` above 0 they go into a hole made `at` in `base` alone, so far past the edge.
    """

    hole: int
    turns: int
    to_edge: float
    thread: float  # all of it
    past: float = 0.0
    base: str = ""
    at: Point | None = None


class Tooling(msgspec.Struct, frozen=True):
    """One layer's holes by iron and awl. On a closed line hole count + 1 is hole 1."""

    piece: str
    run: int
    groups: tuple[tuple[int, int, float], ...]  # first and last hole, drift; a hole may be in two
    awl: tuple[int, ...]  # numbers of the holes no group reaches


class SeamStack(msgspec.Struct, frozen=True):
    """Holes that follow one another and go through the same pieces."""

    first: int
    last: int
    pieces: tuple[str, ...]  # from the face that is looked at downwards; a folded one as often
    stack: float  # the greatest there


class GlueStrip(msgspec.Struct, frozen=True):
    """A strip of glue between two layers of a seam; it goes on both faces.

    `region` is where it lies, in the frame of `piece`, along whose edge or line (`along`) it goes; sides are
    words, "" where the file does not tell. `holes` has the first and the last hole beside each part of it,
    and nothing where it goes from end to end.
    """

    upper: str
    lower: str
    upper_side: str
    lower_side: str
    piece: str
    along: str
    width: float
    area_mm2: float  # of one face
    region: Region
    holes: tuple[tuple[int, int], ...] = ()


class LayersMet(msgspec.Struct, frozen=True):
    """Two layers of a seam that lie on each other, and the side of each that meets the other.

    Both sides are None where the file does not tell; runs count the seam's layers from 1.
    """

    upper: str
    upper_run: int
    upper_side: Side | None
    lower: str
    lower_run: int
    lower_side: Side | None

    @property
    def turned(self) -> LayersMet:
        """The same, seen from the other side."""
        upper = self.upper, self.upper_run, self.upper_side
        return LayersMet(self.lower, self.lower_run, self.lower_side, *upper)


class SeamPlan(msgspec.Struct, frozen=True):
    """How one seam is sewn."""

    punched: PunchedSeam
    length: float  # of the face layer's line
    pitch: float  # mean step on the face
    stack: float  # the greatest along the seam
    walk: tuple[int, ...]
    moves: tuple[Move, ...]
    row: SeamRow
    threads: tuple[Thread, ...]
    mouths: tuple[Mouth, ...]
    way: tuple[WayStep, ...]
    shared_holes: tuple[HolePartner, ...]
    lock: str
    tooling: tuple[Tooling, ...]  # empty where no iron is stated
    stacks: tuple[SeamStack, ...]  # one where every layer has every hole
    order: int = 0  # from 1, among the seams
    marked: tuple[str, ...] = ()  # pieces of cloth: their holes are marked, and never punched
    after: tuple[Predecessor, ...] = ()
    hold: Hold = Hold.NONE
    strips: tuple[GlueStrip, ...] = ()  # of cement or tape
    met: tuple[LayersMet, ...] = ()  # from the face down
    from_behind: bool = False  # the work lies face down on the bench for it
    zips: tuple[Fitting, ...] = ()  # of which it holds a tape: right under the face layer

    @property
    def name(self) -> str:
        """As in the file."""
        return self.punched.name

    @property
    def downwards(self) -> tuple[PunchedLayer, ...]:
        """Its layers as they lie on the bench, the highest first."""
        layers = self.punched.from_face
        return layers[::-1] if self.from_behind else layers

    @property
    def stitching(self) -> Stitching:
        """As the file has it."""
        return self.punched.stitching

    @property
    def stitch(self) -> StitchKind:
        """Its kind of stitch."""
        return self.stitching.stitch

    @property
    def needles(self) -> int:
        """How many needles sew it."""
        return self.stitching.traits.needles

    @property
    def is_punched(self) -> bool:
        """Whether any of its layers is punched: not where all are cloth."""
        return any(layer.piece not in self.marked for layer in self.punched.layers)

    @property
    def comes_from(self) -> str:
        """The seam whose thread goes on here; "" where its own begins."""
        place = self.row.seams.index(self.name)
        return self.row.seams[place - 1] if place else ""

    @property
    def goes_on(self) -> str:
        """The seam that its own thread goes on in; "" where it ends."""
        return "".join(self.row.seams[self.row.seams.index(self.name) + 1 :][:1])

    @property
    def begun(self) -> tuple[Thread, ...]:
        """The threads that begin here: that are cut for it, and maybe for what it goes on in."""
        return tuple(thread for thread in self.threads if thread.begins(self.name))

    @property
    def partners(self) -> tuple[HolePartner, ...]:
        """Its shared holes but for those through which its own thread comes from a seam or goes on in one."""
        joints = {(1, self.comes_from), (self.punched.count, self.goes_on)}
        return tuple(each for each in self.shared_holes if each[:2] not in joints)

    @property
    def thread(self) -> float:
        """What it takes of all that is cut."""
        return round(sum(thread.cut for thread in self.threads), DECIMALS)

    @property
    def wraps(self) -> float:
        """Thread in turns round the edge."""
        return round(sum(thread.wraps for thread in self.threads), DECIMALS)

    @property
    def rule_of_thumb(self) -> float:
        """What the rule of thumb would cut."""
        return round(rule_of_thumb(self.length), DECIMALS)

    @property
    def units(self) -> Units:
        """How lengths are written for whoever sews it."""
        return self.punched.source.units

    @property
    def part_way(self) -> bool:
        """Whether a layer goes part of the way only: then `stacks` tells what each hole goes through."""
        return not self.punched.whole

    def stretches(self, *, stack: bool) -> str:
        """What its holes go through, in words, from the back forward; tapes of zips go all along."""
        return "; all along ".join((stretch_words(self._rows, self.units, stack=stack), *self.tape_words))

    @property
    def stretch_lines(self) -> tuple[str, ...]:
        """The same in lines where they are many, else nothing."""
        lines = stretch_table(self._rows, self.units)
        return (*lines, *(f"all along {tape}" for tape in self.tape_words)) if lines else ()

    @property
    def _rows(self) -> list[tuple[int, int, tuple[str, ...], float]]:
        return [(one.first, one.last, one.pieces[::-1], one.stack) for one in self.stacks]

    @property
    def tape_words(self) -> tuple[str, ...]:
        """The tapes of zips it holds, in words."""
        return tuple(f"a tape of the {each.called}" for each in self.zips)

    def with_tapes(self, downwards: Sequence[str]) -> tuple[str, ...]:
        """Words for its layers as they lie, and under the face layer the tapes of zips it holds."""
        at = len(downwards) - 1 if self.from_behind else 1
        return (*downwards[:at], *self.tape_words, *downwards[at:])

    @property
    def stitches(self) -> int:
        """Steps from hole to hole, back stitches left out."""
        return self.punched.count if self.punched.closed else self.punched.count - 1

    @property
    def start_back(self) -> int:
        """Back stitches at the start, as sewn: a short seam has fewer than the file asks for."""
        return self.walk[0] - 1

    @property
    def back(self) -> int:
        """Back stitches at the end, as sewn."""
        return len(self.moves) - self.stitching.traits.rounds * self.stitches - self.start_back


class Overcast(msgspec.Struct, frozen=True):
    """The thread of an edge of cloth that is overcast by hand."""

    piece: str
    edge: str  # from letter to letter
    length: float  # of the edge
    stitches: int
    stitching: Stitching  # whose thread it is sewn with
    count: int  # of threads, all alike
    cut: float  # one of them, tails included

    @property
    def thread(self) -> float:
        """All of it."""
        return round(self.count * self.cut, DECIMALS)

    @property
    def tails(self) -> float:
        """Both tails of one thread."""
        return round(2 * self.stitching.tail, DECIMALS)


class CutThread(msgspec.Struct, frozen=True):
    """A thread as it is cut: the parts of it that seams are sewn with, in order; most have one."""

    order: int  # from 1, in the order in which threads are begun
    parts: tuple[tuple[SeamPlan, Thread], ...]
    count: int  # threads of its seams' row
    over: tuple[str, int] | None  # where the last thread ends, over whose end this one begins: seam, hole

    @property
    def code(self) -> str:
        """The number it is tied to at the bench, `T4`."""
        return f"T{self.order}"

    @property
    def seam(self) -> SeamPlan:
        """The seam it is begun in."""
        return self.parts[0][0]

    @property
    def stitching(self) -> Stitching:
        """That of the seam it is begun in."""
        return self.seam.stitching

    @property
    def number(self) -> int:
        """From 1, among the threads of its seams' row."""
        return self.parts[0][1].number

    @property
    def cut(self) -> float:
        """The length to cut."""
        return self.parts[0][1].whole

    @property
    def more(self) -> tuple[SeamPlan, ...]:
        """The seams that it goes on in."""
        return tuple(seam for seam, _ in self.parts[1:])

    @property
    def tails(self) -> float:
        """Both tails."""
        return round(sum(part.tails for _, part in self.parts), DECIMALS)

    @property
    def wraps(self) -> float:
        """Thread in turns round the edge."""
        return round(sum(part.wraps for _, part in self.parts), DECIMALS)

    @property
    def first_hole(self) -> int:
        """Where it begins, in the first of its seams."""
        seam, part = self.parts[0]
        return seam.walk[part.start]

    @property
    def last_hole(self) -> int:
        """Where it ends, in the last of its seams."""
        seam, part = self.parts[-1]
        return seam.walk[part.end]


def cut_threads(seams: Sequence[SeamPlan]) -> tuple[CutThread, ...]:
    """All threads in the order in which they are begun; of seams in working order."""
    by_name = {seam.name: seam for seam in seams}
    found: list[CutThread] = []
    for row in (seam.row for seam in seams if not seam.comes_from):
        parts = [(by_name[name], part) for name in row.seams for part in by_name[name].threads]
        count = max(part.number for _, part in parts)
        over = None
        for number in range(1, count + 1):
            own = tuple(each for each in parts if each[1].number == number)
            found.append(CutThread(len(found) + 1, own, count, over))
            over = (own[-1][0].name, found[-1].last_hole)
    return tuple(found)


STUB = 2.0  # mm of a synthetic thread that are left to be melted
RULE_OF_THUMB = 100.0  # mm beside five times the seam


def rule_of_thumb(length: float) -> float:
    """Five times the seam plus 100 mm (common practice).

    >>> rule_of_thumb(200)
    1100.0
    """
    return 5.0 * length + RULE_OF_THUMB


class Step(msgspec.Struct, frozen=True):
    """One line of the order of work."""

    kind: StepKind
    name: str  # of the seam, opening or pieces it is about
    what: str  # a sentence for the bench
    why: str
    besides: tuple[str, ...] = ()  # of a seam: what of it is more than its layers, holes and thread


class EdgeState(StrEnum):
    """What becomes of an edge of leather."""

    SINGLE = "single"  # nothing lies flush with it
    COVERED = "covered"  # it ends under another piece
    CAPTIVE = "captive"  # it lies close on what it is sewn to, and can't be reached all round
    MADE_ONE = "made one"  # layers end flush and are sanded into one
    TRIMMED = "trimmed"  # cut to its line after stitching


class EdgeFinish(StrEnum):
    """What is done to an edge of leather, in this order."""

    SAND = "sand"
    BEVEL = "bevel"
    DYE = "dye"
    BURNISH = "burnish"


class EdgeAction(msgspec.Struct, frozen=True):
    """One work, and the number of its step in the order of work, from 1."""

    work: EdgeFinish
    step: int


class EdgeRow(msgspec.Struct, frozen=True):
    """Edges of one piece that are finished alike.

    `mates` are the pieces they are made one with; `after` names what joins them, `before` what closes
    them in or hangs in the way, "" for none. Of a part of an edge `parts` tells from where to where along it
    that is, of others None.
    """

    piece: str
    edges: tuple[tuple[str, str], ...]  # the letters of each, in the outline's order
    state: EdgeState
    mates: tuple[str, ...]
    after: str
    before: str
    actions: tuple[EdgeAction, ...]
    parts: tuple[tuple[float, float] | None, ...] = ()

    @property
    def whole(self) -> bool:
        """Whether they are finished so from end to end."""
        return not any(self.parts)


class PostPlan(msgspec.Struct, frozen=True):
    """Places of an opening that go through the same pieces: their stack, and the post it needs."""

    numbers: tuple[int, ...]
    pieces: tuple[str, ...]  # from the back forward
    stack: float  # the greatest of them
    post: float | None
    common: float | None


class OpeningPlan(msgspec.Struct, frozen=True):
    """What an opening needs; `stack` and `post` are the greatest, `posts` tell them place by place."""

    pattern: PatternOpening
    stack: float
    post: float | None  # length of a rivet's or snap's post above which the cap holds
    after: tuple[Predecessor, ...]
    common: float | None = None  # the length of post that is commonly sold and fits best
    posts: tuple[PostPlan, ...] = ()  # one where all places go through the same pieces

    @property
    def units(self) -> Units:
        """How lengths are written for whoever makes it."""
        return self.pattern.opening.source.units

    @property
    def part_way(self) -> bool:
        """Whether a piece is pierced at some of the places only."""
        return len(self.posts) > 1

    def stretches(self, *, stack: bool) -> str:
        """What its places go through, in words, from the back forward."""
        rows = [(a, b, one.pieces, one.stack) for one in self.posts for a, b in spans(one.numbers)]
        return stretch_words(sorted(rows), self.units, stack=stack, noun="numbers")


class CutRow(msgspec.Struct, frozen=True):
    """One row of the cutting list."""

    piece: str
    quantity: int
    width: float
    height: float
    thickness: float
    area_mm2: float  # of one, as cut
    note: str


class MaterialRow(msgspec.Struct, frozen=True):
    """What one material takes: all pieces of one kind and thickness, net and with waste."""

    material: str
    thickness: float
    net_mm2: float
    gross_mm2: float


# What a binding is called in the hardware list; all else there is set in an opening.
TAPE = "tape"


class HardwareRow(msgspec.Struct, frozen=True):
    """One row of the hardware list; `article` is what a shop sells it as, whatever it is set through."""

    what: str
    count: int
    sizes: str
    post: float | None
    common: float | None = None  # the length of post that is commonly sold and fits best
    at_hand: float | None = None  # the post that the file says is there
    article: str = ""


class HardwareTotal(msgspec.Struct, frozen=True):
    """How many of one article are bought, of all rows."""

    what: str
    article: str
    count: int


class ThreadRow(msgspec.Struct, frozen=True):
    """Thread of one kind, for one article and for all copies."""

    diameter: float
    fibre: Fibre
    count: int  # threads cut, for one article
    length: float  # for one article
    all_copies: float
    spool: float | None  # on one spool
    spools: int | None  # needed
    left: float | None  # on the last spool
    seams: tuple[str, ...]


class SharedThread(msgspec.Struct, frozen=True):
    """One thread for several seams, in place of their own; tails and back stitches at its ends only."""

    seams: tuple[tuple[str, bool], ...]  # as sewn then; whether from the last hole to the first
    cuts: tuple[float, ...]  # more than one, joined, where one thread would be longer than allowed
    apart: float  # what the seams take with threads of their own
    rule_of_thumb: float  # what the rule of thumb would cut for them
    adopted: bool = False  # sewn so: the seams' own threads are parts of it


class ToolRow(msgspec.Struct, frozen=True):
    """Something that is needed at the bench."""

    what: str  # "needle", "awl", "iron", "punch", "setter"
    size: str
    why: str


class Totals(msgspec.Struct, frozen=True):
    """Of one made-up article; multiply by the copies."""

    holes: int  # to be made: a shared hole counts once, each layer counts
    openings: int
    thread: float
    leather_mm2: float  # net, of all pieces, whatever they are cut from
    leather_gross_mm2: float  # what to buy


class StitchPlan(msgspec.Struct, frozen=True):
    """The plan: seams in working order, all steps, lists and totals."""

    seams: tuple[SeamPlan, ...]
    openings: tuple[OpeningPlan, ...]
    steps: tuple[Step, ...]
    cut_list: tuple[CutRow, ...]
    hardware: tuple[HardwareRow, ...]
    totals: Totals
    findings: tuple[Finding, ...] = ()
    materials: tuple[MaterialRow, ...] = ()
    shared: tuple[SharedThread, ...] = ()
    threads: tuple[ThreadRow, ...] = ()
    tools: tuple[ToolRow, ...] = ()
    glue: tuple[tuple[str, str, float], ...] = ()  # piece, what it is glued on, mm² of one face
    hardware_totals: tuple[HardwareTotal, ...] = ()
    fittings: tuple[Fitting, ...] = ()  # in the file's order
    edges: tuple[EdgeRow, ...] = ()  # every edge of leather that ends in a cut
    overcast: tuple[Overcast, ...] = ()  # edges of cloth that stay raw, in the order of their pieces
