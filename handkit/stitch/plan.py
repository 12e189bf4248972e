"""The product of step 4: what is done in which order, how each seam is sewn, with how much thread.

All mm. Holes are named by their number in the seam; a place in the *walk* by its index from 0.

Words: the *walk* is the row of holes both needles visit, back stitches included; a *move* is one
step of it; the *stack* is the thickness of all layers at a place; a *tail* is what is left at
each end to hold; *after* names what must be done before, with the reason.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from handkit.draft.pattern import PatternOpening
from handkit.findings import Finding
from handkit.punch.punched import PunchedSeam


class StepKind(StrEnum):
    """Fixed words for the steps of the work."""

    CUT = "cut"
    MARK = "mark"
    SKIVE = "skive"
    FOLD = "fold"
    DYE = "dye"
    EDGES = "edges"  # bevel and burnish edges that will be closed in
    GLUE = "glue"
    OPENING = "opening"
    SEAM = "seam"
    TRIM = "trim"
    BURNISH = "burnish"  # the outer edges
    FINISH = "finish"


@dataclass(frozen=True, slots=True)
class Before:
    """Something that must be done first, and why, in a few words."""

    name: str
    why: str


@dataclass(frozen=True, slots=True)
class Move:
    """One step of both needles: hole to hole, a strand on either face, then through the stack.

    `stack` is the thickness at the hole that is reached, which both strands pass.
    """

    start: int  # number of the hole left
    end: int  # number of the hole reached
    front: float
    back: float
    stack: float


@dataclass(frozen=True, slots=True)
class Thread:
    """One thread of a seam: from one place of the walk to another, and the length to cut."""

    start: int  # index into the walk
    end: int
    start_stack: float  # thickness at its first hole, crossed once
    wraps: float  # thread in turns round the edge
    tails: float  # both tails
    cut: float


@dataclass(frozen=True, slots=True)
class SeamPlan:
    """How one seam is sewn."""

    punched: PunchedSeam
    order: int  # from 1, among the seams
    length: float  # of the face layer's line
    pitch: float  # mean step on the face
    stack: float  # the greatest along the seam
    walk: tuple[int, ...]
    moves: tuple[Move, ...]
    threads: tuple[Thread, ...]
    thread: float  # all that is cut
    wraps: float
    rule_of_thumb: float
    after: tuple[Before, ...]

    @property
    def name(self) -> str:
        """As in the file."""
        return self.punched.name

    @property
    def stitches(self) -> int:
        """Steps from hole to hole, back stitches left out."""
        return self.punched.count if self.punched.closed else self.punched.count - 1

    @property
    def start_back(self) -> int:
        """Back stitches at the start, as sewn: a short seam has fewer than it was told."""
        return self.walk[0] - 1

    @property
    def back(self) -> int:
        """Back stitches at the end, as sewn."""
        return len(self.moves) - self.stitches - self.start_back


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the order of work."""

    kind: StepKind
    name: str  # of the seam, opening or pieces it is about
    what: str  # a sentence for the bench
    why: str


@dataclass(frozen=True, slots=True)
class OpeningPlan:
    """What an opening needs; `stack` and `post` per place would be alike."""

    pattern: PatternOpening
    stack: float
    post: float | None  # length of a rivet's or snap's post above which the cap holds
    after: tuple[Before, ...]


@dataclass(frozen=True, slots=True)
class CutRow:
    """One row of the cutting list."""

    piece: str
    quantity: int
    width: float
    height: float
    thickness: float
    area_mm2: float  # of one, as cut
    note: str


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """What one material takes: all pieces of one kind and thickness, net and with waste."""

    material: str
    thickness: float
    net_mm2: float
    gross_mm2: float


@dataclass(frozen=True, slots=True)
class HardwareRow:
    """One row of the hardware list."""

    what: str
    count: int
    sizes: str
    post: float | None


@dataclass(frozen=True, slots=True)
class Totals:
    """Of one made-up article; multiply by the copies."""

    holes: int  # to be made: a shared hole counts once, each layer counts
    openings: int
    thread: float
    leather_mm2: float  # net, of all pieces, whatever they are cut from
    leather_gross_mm2: float  # what to buy


@dataclass(frozen=True, slots=True)
class StitchPlan:
    """The plan: seams in working order, all steps, lists and totals."""

    seams: tuple[SeamPlan, ...]
    openings: tuple[OpeningPlan, ...]
    steps: tuple[Step, ...]
    cut_list: tuple[CutRow, ...]
    hardware: tuple[HardwareRow, ...]
    totals: Totals
    findings: tuple[Finding, ...] = ()
    materials: tuple[MaterialRow, ...] = ()
