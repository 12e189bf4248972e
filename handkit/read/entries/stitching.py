"""Stitching: how a seam is sewn, from its own keys and those of [stitching].

In: the seam's entry and the [stitching] entry. Out: `Stitching`. What a hole and the back stitches
are by default hangs on the seam's own thread and pitch. A spool is told in metres, as it is sold.
"""

from __future__ import annotations

import re

from handkit.quoting import quoted, words
from handkit.read.entries.entry import Entry, entry_of
from handkit.read.project import (
    Fibre,
    Iron,
    Punching,
    RoundHole,
    SlitHole,
    Spacing,
    StitchHole,
    Stitching,
    StitchKind,
)
from handkit.read.values.spot import Fault
from handkit.read.values.values import read_choice, read_number

# Two strands side by side are two threads wide (common practice: the default for a round hole).
HOLE_PER_THREAD = 2.0

# Back stitches: at least two, three at this pitch and finer (common practice).
FINE_PITCH = 3.0
BACK, BACK_FINE = 2, 3

_METRES = re.compile(r"(\d{1,6}(?:\.\d{1,6})?)\s*m", re.ASCII)
_MM_PER_METRE = 1000.0


def read_stitching(own: Entry, common: Entry) -> Stitching:
    """The stitching of a seam; of the project itself where `own` is `common`."""

    def of(key: str) -> Entry:
        return own if own.has(key) else common

    if own is not common:
        for end in ("start", "end"):
            _tell_idle_past(own, f"past_{end}", of(f"wrap_{end}").count(f"wrap_{end}"))
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
        stitch=of("stitch").choice("stitch", StitchKind),
        left_handed=_left_handed(of("hand")),
        fibre=of("fibre").choice("fibre", Fibre),
        past_start=of("past_start").length("past_start"),
        past_end=of("past_end").length("past_end"),
        spool=_spool(of("spool")),
        iron=_iron(of("iron")),
    )


def _tell_idle_past(own: Entry, key: str, turns: int) -> None:
    """Refuse a hole past the mouth that no turn of the thread would use."""
    if own.has(key) and own.length(key) > 0 and not turns:
        wrap = key.replace("past", "wrap")
        fault = Fault(
            "past-without-turns",
            "a hole past the mouth, and no turn",
            f"{key} with {wrap}",
            f"write {wrap} = 2",
        )
        own.at(key).refuse(fault)


def _left_handed(entry: Entry) -> bool:
    return read_choice(entry.value("hand"), entry.at("hand"), entry.rule("hand")) == "left"


def _spool(entry: Entry) -> float | None:
    """Mm of thread on a spool; a plain number is metres whatever the file's unit."""
    if not entry.has("spool"):
        return None
    value, spot, rule = entry.value("spool"), entry.at("spool"), entry.rule("spool")
    if isinstance(value, str):
        metres = _METRES.fullmatch(value.strip())
        if metres is None:
            spot.refuse(Fault("not-metres", quoted(value), rule.allowed, "write it in metres"))
            return None
        value = float(metres[1])
    return read_number(value, spot, rule) * _MM_PER_METRE


def _iron(entry: Entry) -> Iron | None:
    if not entry.has("iron"):
        return None
    iron = entry_of("iron", entry.value("iron"), entry.at("iron"), rule=entry.rule("iron"))
    if iron is None or not (iron.has("teeth") and iron.has("pitch")):  # and that is told
        return None
    return Iron(iron.count("teeth"), iron.length("pitch"))


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
