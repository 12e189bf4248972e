"""Opening kinds: what makes a rivet, snap, eyelet, tongue hole or slot unlike the others.

One row a kind: its shape, whether it takes hardware, which keys of the file it has, the room it
needs round it, what may not cover it, and its words on the work plan. A new kind is a member of
`OpeningKind` and a row.

Words: *d* is the hole's diameter (of a slot the width across), *c* that of the cap that covers it,
at least d. All mm, from an opening's centre (a slot's middle line).

| kind | to the edge | to its like | to a stitch hole | source |
| --- | --- | --- | --- | --- |
| rivet | 2 d, c/2 + 2 | 3 d, c + 2 | c/2 + 2 | d: metal-work manuals; c: common practice |
| snap | c/2 + 2 | c + 2 | c/2 + 2 | as the rivet's cap; it holds less than it is held |
| eyelet | d, c/2 + 2 | c + 2 | c/2 + 2 | as the snap, and as much leather as half its hole |
| tongue | 1.5 d | 3 d | d/2 + 2 | our own: a narrow strap has no room for 2 d |
| slot | d/2 + 3 | d + 3 | d/2 + 2 | our own: 3 mm of leather beside it |
| hole | d/2 + 3 | d + 3 | d/2 + 2 | as the slot |
| button stud | c/2 + 2 | c + 2 | c/2 + 2 | as the snap; c is its head |
| buttonhole | d/2 + 3 | d + 3 | d/2 + 2 | as the slot |

A *buttonhole* is a hole of d with a straight cut on from it, which a button stud's head is pushed through:
the stud's neck stands in the hole, and what pulls at it pulls away from the cut.

What it needs to be free of, besides what it goes through; a piece that is only held in one row folds
back, and covers nothing:

| kind | is covered by |
| --- | --- |
| tongue hole | a piece closed over it on either side: the tongue goes right through |
| slot, hole, eyelet | a piece that lies on one it goes through: a lining, a pocket |
| snap, button stud | pieces on both sides: behind its cap one may lie |
| buttonhole | a piece on either side: the stud's head goes right through |
| rivet | nothing: it is hammered, and needs no room |
"""

from __future__ import annotations

from enum import Enum, StrEnum

import msgspec

from handkit.kinds.rows import table

# Leather between a cap, or a hole without one, and a stitch hole (common practice).
BESIDE_STITCH = 2.0


class OpeningKind(StrEnum):
    """What an opening is for."""

    RIVET = "rivet"
    SNAP = "snap"
    EYELET = "eyelet"
    TONGUE = "tongue"  # a strap's hole for the buckle's tongue
    SLOT = "slot"  # a slot for a strap to pass
    HOLE = "hole"  # nothing but a hole: for water to run out, or a cord
    BUTTON_STUD = "button stud"  # a post with a round head, screwed in
    BUTTONHOLE = "buttonhole"  # what its head goes through


class OpeningShape(StrEnum):
    """What is cut."""

    ROUND = "round"
    SLOT = "slot"  # with round ends
    KEYED = "keyed"  # a round hole, and a straight cut on from it


class Freedom(Enum):
    """What may not cover an opening."""

    EITHER_SIDE = "a piece on either side"
    WHAT_LIES_ON_IT = "a piece that lies on it"
    BOTH_SIDES = "pieces on both sides"
    NONE = "nothing"


class Clearance(msgspec.Struct, frozen=True):
    """What an opening needs: to an edge, to another of its kind, to a stitch hole's centre."""

    edge: float
    apart: float
    stitch: float


class OpeningTraits(msgspec.Struct, frozen=True):
    """One kind. `keys` are those of the file that not all kinds have; `needs` are required.

    The room to an edge is `edge_diameters` of the hole or `beside` mm past its cap, to its like
    `apart_diameters` or `beside` mm between caps, whichever is more.
    """

    shape: OpeningShape
    keys: tuple[str, ...]
    needs: tuple[str, ...]
    edge_diameters: float
    apart_diameters: float
    beside: float
    freedom: Freedom
    noun: str
    to_punch: str  # what the punch of its diameter is for
    work: str  # the step of the plan; `what` is the noun, of several with an s
    hardware: bool = False  # set with a setter: its cap or rim stands out, and it joins its layers
    cap_expected: bool = False
    post: bool = False  # its post is as long as the stack asks for; of others it is tried on a scrap
    buckled: bool = False  # a buckle's tongue goes in
    stands_out: float = 0.0  # how far its cap or rim stands out of a face, mm (common practice, no source)
    stands_in: float = 0.0  # and of the other face: that towards the piece that all stands on
    mates: OpeningKind | None = None  # the kind of its other half
    cap_word: str = "cap"
    setter: str = ""  # what it is set with

    @property
    def long(self) -> bool:
        """Whether it is no round hole: it has a length, along its turn."""
        return self.shape is not OpeningShape.ROUND

    @property
    def takes_post(self) -> bool:
        """Whether it has a post at all, whose length the file may state."""
        return "post" in self.keys

    def clearance(self, diameter: float, cap: float) -> Clearance:
        """The table above; `cap` is 0 where there is none.

        >>> OPENINGS[OpeningKind.RIVET].clearance(3, 9)
        Clearance(edge=6.5, apart=11.0, stitch=6.5)
        """
        cap = max(cap, diameter)
        return Clearance(
            edge=max(self.edge_diameters * diameter, cap / 2 + self.beside),
            apart=max(self.apart_diameters * diameter, cap + self.beside),
            stitch=cap / 2 + BESIDE_STITCH,
        )


_SET = "Set {count} {what} through {pieces}: hole {diameter}{post}{mate}."

OPENINGS = table(
    OpeningKind,
    {
        OpeningKind.RIVET: OpeningTraits(
            OpeningShape.ROUND,
            keys=("hole", "cap", "post"),
            needs=("hole",),
            edge_diameters=2.0,
            apart_diameters=3.0,
            beside=2.0,
            freedom=Freedom.NONE,
            noun="rivet",
            to_punch="rivet holes",
            work=_SET,
            hardware=True,
            setter="setter",
            cap_expected=True,
            post=True,
            stands_out=2.0,
            stands_in=2.0,
        ),
        OpeningKind.SNAP: OpeningTraits(
            OpeningShape.ROUND,
            keys=("hole", "cap", "line", "mate", "post"),
            needs=("hole", "mate"),
            edge_diameters=0.0,
            apart_diameters=0.0,
            beside=2.0,
            freedom=Freedom.BOTH_SIDES,
            noun="snap",
            to_punch="snap holes",
            work=_SET,
            hardware=True,
            setter="setter",
            cap_expected=True,
            stands_out=3.0,
            stands_in=1.0,
            mates=OpeningKind.SNAP,
        ),
        OpeningKind.EYELET: OpeningTraits(
            OpeningShape.ROUND,
            keys=("hole", "cap"),
            needs=("hole",),
            edge_diameters=1.0,
            apart_diameters=0.0,
            beside=2.0,
            freedom=Freedom.WHAT_LIES_ON_IT,
            noun="eyelet",
            to_punch="eyelet holes",
            work=_SET,
            hardware=True,
            setter="setter",
            stands_out=1.0,
            stands_in=1.0,
        ),
        OpeningKind.TONGUE: OpeningTraits(
            OpeningShape.ROUND,
            keys=("hole",),
            needs=("hole",),
            edge_diameters=1.5,
            apart_diameters=3.0,
            beside=0.0,
            freedom=Freedom.EITHER_SIDE,
            noun="tongue hole",
            to_punch="tongue holes",
            work="Punch {count} {what} of {diameter} in {pieces}.",
            buckled=True,
        ),
        OpeningKind.SLOT: OpeningTraits(
            OpeningShape.SLOT,
            keys=("slot", "turn"),
            needs=("slot",),
            edge_diameters=0.0,
            apart_diameters=0.0,
            beside=3.0,
            freedom=Freedom.WHAT_LIES_ON_IT,
            noun="slot",
            to_punch="ends of slots; the rest with the knife",
            work="Cut {count} {what} of {length} x {diameter} in {pieces}.",
        ),
        OpeningKind.HOLE: OpeningTraits(
            OpeningShape.ROUND,
            keys=("hole",),
            needs=("hole",),
            edge_diameters=0.0,
            apart_diameters=0.0,
            beside=3.0,
            freedom=Freedom.WHAT_LIES_ON_IT,
            noun="hole",
            to_punch="holes",
            work="Punch {count} {what} of {diameter} in {pieces}.",
        ),
        OpeningKind.BUTTON_STUD: OpeningTraits(
            OpeningShape.ROUND,
            keys=("hole", "cap", "mate"),
            needs=("hole", "mate"),
            edge_diameters=0.0,
            apart_diameters=0.0,
            beside=2.0,
            freedom=Freedom.BOTH_SIDES,
            noun="button stud",
            to_punch="button studs' holes",
            work="Screw {count} {what} into {pieces}: hole {diameter}, head out{mate}. A drop of thread lock "
            "keeps the screw.",
            hardware=True,
            cap_expected=True,
            stands_out=7.0,
            stands_in=1.0,
            mates=OpeningKind.BUTTONHOLE,
            cap_word="head",
            setter="screwdriver",
        ),
        OpeningKind.BUTTONHOLE: OpeningTraits(
            OpeningShape.KEYED,
            keys=("slot", "turn", "mate"),
            needs=("slot", "mate"),
            edge_diameters=0.0,
            apart_diameters=0.0,
            beside=3.0,
            freedom=Freedom.EITHER_SIDE,
            noun="buttonhole",
            to_punch="holes of buttonholes; the cut with the knife",
            work="Make {count} {what} in {pieces}: punch the hole of {diameter}, then cut on from it "
            "along the line, {length} over all{mate}. Try it on the stud before you cut any further.",
            mates=OpeningKind.BUTTON_STUD,
        ),
    },
)
