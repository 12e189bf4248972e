"""Stitching: how a seam is sewn, from its own keys and those of [stitching].

In: the seam's entry and the [stitching] entry. Out: `Stitching`. What a hole and the back stitches
are by default hangs on the seam's own thread and pitch.
"""

from __future__ import annotations

from handkit.read.entry import Entry, entry_of
from handkit.read.project import Punching, RoundHole, SlitHole, Spacing, StitchHole, Stitching
from handkit.read.shown import words
from handkit.read.spot import Fault

# Two strands side by side are two threads wide (common practice: the default for a round hole).
HOLE_PER_THREAD = 2.0

# Back stitches: at least two, three at this pitch and finer (common practice).
FINE_PITCH = 3.0
BACK, BACK_FINE = 2, 3


def read_stitching(own: Entry, common: Entry) -> Stitching:
    """The stitching of a seam; of the project itself where `own` is `common`."""

    def of(key: str) -> Entry:
        return own if own.has(key) else common

    pitch = of("pitch").length("pitch")
    thread = of("thread").length("thread")
    return Stitching(
        pitch=pitch,
        inset=of("inset").length("inset"),
        thread=thread,
        spacing=of("spacing").choice("spacing", Spacing),
        punch=of("punch").choice("punch", Punching),
        hole=_hole(of("hole"), thread=thread),
        needle=of("needle").optional_length("needle"),
        tail=of("tail").length("tail"),
        back=_back(of("back"), pitch=pitch),
        start_back=of("start_back").count("start_back"),
        wrap_start=of("wrap_start").count("wrap_start"),
        wrap_end=of("wrap_end").count("wrap_end"),
        longest_side=of("longest").length("longest"),
    )


def _back(entry: Entry, *, pitch: float) -> int:
    if entry.has("back"):
        return entry.count("back")
    return BACK_FINE if pitch <= FINE_PITCH else BACK


def _hole(entry: Entry, *, thread: float) -> StitchHole:
    """The hole as written, or a round one for the thread."""
    default = RoundHole(HOLE_PER_THREAD * thread)
    if not entry.has("hole"):
        return default
    hole = entry_of("hole", entry.value("hole"), entry.at("hole"), rule=entry.rule("hole"))
    if hole is None:
        return default
    written = [key for key in ("round", "slit") if hole.has(key)]
    if len(written) != 1:
        found = words(written, last="and") or "neither round nor slit"
        remedy = "take one of them out" if written else "add one of them"
        hole.spot.refuse(Fault("hole-round-or-slit", found, entry.rule("hole").allowed, remedy))
        return default
    if hole.has("slant") and written == ["round"]:
        fault = Fault("slant-of-round", "slant of a round hole", "slant of a slit", "take it out")
        hole.at("slant").refuse(fault)
    if written == ["round"]:
        return RoundHole(hole.length("round"))
    return SlitHole(hole.length("slit"), hole.number("slant"))
