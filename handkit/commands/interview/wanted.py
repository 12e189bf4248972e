"""What is wanted: the answers of an interview, checked.

In: nothing. Out: the records that questions fill and ways to carry are made from.

Words: *carried* says how things are carried: in a pouch on the belt, a roll, a sheath, a bag, a cover.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

import msgspec

from handkit.commands.interview.typed import Typed
from handkit.kinds.materials import MATERIALS, Material
from handkit.kinds.stitch_holes import least_step
from handkit.read.entries.seams import HOLE_PER_THREAD

# Threads that are sewn by hand, the usual one first, the finest last, mm (common practice, no source).
THREADS = (0.8, 0.7, 0.6, 0.5, 0.4)


def least_pitch(thread: float) -> float:
    """How near to one another holes for a thread may be, mm."""
    return least_step(HOLE_PER_THREAD * thread, slant=None, thread=thread)


def thread_for(pitch: float) -> float | None:
    """The first of the threads whose holes may be so near to one another; None where there is none.

    >>> thread_for(4), thread_for(3), thread_for(2), thread_for(1.5)
    (0.8, 0.7, 0.5, None)
    """
    return next((thread for thread in THREADS if least_pitch(thread) <= pitch), None)


def left_raw(material: str) -> bool:
    """Whether a cut edge of it frays, and does not melt shut."""
    traits = MATERIALS[Material(material)]
    return traits.frays and not traits.sealed


class CarriedAs(StrEnum):
    """How the things are carried, and for how many of them that is."""

    POUCH = "pouch"
    ROLL = "roll"
    BAG = "bag"
    SHEATH = "sheath"
    COVER = "cover"

    @property
    def told(self) -> str:
        """In words."""
        return _TOLD[self]

    def suits(self, things: Sequence[ToldThing]) -> bool:
        """Whether these can be carried so: a sheath and a cover hold one, a sheath what is flat and nothing
        covers; a bare edge goes into a sheath alone, which a pouch has for it."""
        if self is CarriedAs.SHEATH:
            return len(things) == 1 and things[0].cutting != "covered" and things[0].thickness is not None
        bare = any(thing.cutting == "bare" for thing in things)
        return (self.has_sheaths or not bare) and (len(things) == 1 or self is not CarriedAs.COVER)

    @property
    def has_sheaths(self) -> bool:
        """Whether what is bare goes into a sheath there."""
        return self in (CarriedAs.POUCH, CarriedAs.SHEATH)

    def sheathes(self, thing: ToldThing) -> bool:
        """Whether the thing goes into a sheath: on a back, what is bare and flat has one."""
        on_back = self is CarriedAs.POUCH and thing.cutting == "bare" and thing.thickness is not None
        return on_back or self is CarriedAs.SHEATH


_TOLD = {
    CarriedAs.POUCH: "a back with pockets and holders on it, to hang or to wear on a belt",
    CarriedAs.ROLL: "tools side by side in one pocket, rolled up and tied",
    CarriedAs.BAG: "front, back and a gusset between them",
    CarriedAs.SHEATH: "of one blade: folded round its back, with a welt before its edge",
    CarriedAs.COVER: "of one book or pad: two leaves and a spine",
}


class ToldThing(msgspec.Struct, frozen=True):
    """One thing as a ruler has it; a round one has a diameter as its width and no thickness. What is traced
    has its shape in a file of things. `cutting` is "bare" or "covered" where it has an edge; what is bare is
    measured as its blade, with the thickness and length of its `handle` beside it (of what is traced, which
    shows both, `blade` is how far up it is blade), where these are told."""

    name: str
    width: Typed
    thickness: Typed | None
    length: Typed
    traced: bool = False
    cutting: str = ""
    handle: tuple[Typed | None, Typed | None] = (None, None)
    blade: Typed | None = None

    @property
    def deep(self) -> float:
        """How thick it is, in mm."""
        return self.width.mm if self.thickness is None else self.thickness.mm


class Answered(msgspec.Struct, frozen=True):
    """All answers. `belt` is a belt's width, None where it hangs on none; `traced` the file of things that
    the project is to name, "" for none."""

    title: str
    unit: str
    things: tuple[ToldThing, ...]
    carried: CarriedAs
    belt: Typed | None
    material: str
    thickness: Typed
    pitch: Typed
    paper: str
    hand: str
    traced: str = ""
