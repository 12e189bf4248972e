"""Flaps: what is told of one whose own thread or metal is in the way.

In: a figure on which it is tried, where it is told, the flap's name, how far each way it must go. Out: words.

A flap has no place of its own. Its row lies as far under the edge of its base as its `lap` says: with less of
it the row goes up. More is not tried, for nothing here tells what else the flap would then lie under. What
closes it is on the way of what is carried whatever its `reach`, for things are drawn out under it; only a
strap's loop stands out inside, with the caps of its rivets.

    ──fold──┐
    · · · · │ row, behind: lap − inset under the edge
"""

from __future__ import annotations

from math import floor

from handkit.assemble.advice.moving import Moved, Trials
from handkit.findings import Where, finding
from handkit.read.project import Part
from handkit.tolerances import SAME_POINT
from handkit.wording.quoting import quoted

# How much further than it must its row is tried, mm.
FURTHER = (0.0, 2.0, 4.0, 8.0, 16.0, 32.0)

_Pairs = frozenset[tuple[str, str]]


def row_mended(trials: Trials, where: Where, name: str, up: float | None, pairs: _Pairs) -> str:
    """Of a flap whose row, or the rivets beside it, must go `up`: the lap with which that is clear."""
    part = next(each for each in trials.pattern.project.parts if each.name == name)
    lap = None if up is None else _lap_that_clears(trials, part, up, pairs)
    key = "clash/mend-flap" if lap is None else "clash/mend-lap"
    told: dict[str, object] = {"what": quoted(name), "key": "lap", "lap": lap}
    return finding(key, where, **told).remedy


def closing_mended(trials: Trials, where: Where, name: str) -> str:
    """Of a flap whose fastening is in the way."""
    part = next(each for each in trials.pattern.project.parts if each.name == name)
    key = "clash/mend-loop" if part.word("closed_by") == "strap" else "clash/mend-flap"
    return finding(key, where, what=quoted(name), key="reach").remedy


def _lap_that_clears(trials: Trials, part: Part, up: float, pairs: _Pairs) -> float | None:
    """A smaller lap, in whole steps."""
    row = next((each for each in trials.figure.rows if each.seam == part.name), None)
    if row is None:
        return None
    hung = Moved("", rows=frozenset({part.name}), openings=frozenset({f"{part.name} hinge"}))
    inset, step = trials.inset(part.name), part.source.units.whole
    lap = trials.figure.body(trials.figure.base).outline.bounds()[3] - row.front[0][1] + inset
    for more in FURTHER:
        value = floor((lap - up - more) / step + SAME_POINT) * step
        if value >= 2 * inset - SAME_POINT and trials.clears(hung, (0.0, lap - value), pairs):
            return value
    return None
