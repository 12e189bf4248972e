"""Joining: the joins of a piece, as a maker sees them.

In: a shape and how it is cut. Out: `Join` for each pair of windows that meet, in the piece's frame,
and how many of them run through a hole.

The rule line crosses the cut line at right angles, within the piece on either side, clear of other
joins' rule lines, where it meets fewest holes, stands clear of the marks and is long both ways; a
quarter of the way over the piece rather than in its middle, which is left to the label. All mm.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.box import around
from handkit.geometry.capsule import Capsule
from handkit.sheets.cut.cut import Cut, CutJoin
from handkit.sheets.cut.profile import Span, merged
from handkit.sheets.joins.keep_out import runs_through
from handkit.sheets.joins.marking import CutLine, is_on_mark
from handkit.sheets.laid import Join
from handkit.sheets.shape import Shape

# Clear of a hole: room for its tick beside the rule.
RULE_CLEAR = 1.5

# Places tried for a rule line, and how much of one counts on either side.
PLACES = 24
LONG_ENOUGH = 60.0

# How far a rule line goes at most from its cut line: what a bench rule of 30 cm lies on whole, and so
# far only that a window with a join at either end keeps this much between two for its label.
LONGEST = 110.0
LABEL_ROOM = 50.0

# Where on the piece the rule line is wanted: off the middle, which is left to the label.
RULE_SHARE = 0.25

# The rule line ends short of the piece's edge, and keeps off one that it runs beside.
RULE_INSET = 1.0
OFF_EDGE = 2.0
SAME = 1e-6

# Two rule lines beside each other, with a name between them.
RULE_APART = 6.0


class _Rule(msgspec.Struct, frozen=True):
    """A rule line: where along the cut line it crosses it, and from where to where it goes."""

    along: float
    low: float
    high: float
    upright: bool  # the cut line, so that the rule line is level

    def is_over(self, other: _Rule) -> bool:
        """Whether two rule lines lie over one another, or too near to tell which is which."""
        beside = self.upright == other.upright and abs(self.along - other.along) < RULE_APART
        return beside and self.low < other.high and other.low < self.high


def joins_of(shape: Shape, cut: Cut, *, copy: int = 1, before: int = 0) -> tuple[Join, ...]:
    """The joins of a piece, by window numbers; so many windows of it come `before` the cut's."""
    back = cut.base.inverse()
    keep_outs = tuple(keep_out.moved(cut.base) for keep_out in shape.keep_outs)
    joins = []
    rules: list[_Rule] = []
    for join in cut.joins:
        rule = _rule(cut, join, keep_outs, rules)
        rules.append(rule)
        ends = (rule.low - join.line.at, rule.high - join.line.at)
        joins.append(
            Join(
                piece=shape.name,
                windows=(before + join.first + 1, before + join.second + 1),
                cut_line=(back.apply(join.line.ends[0]), back.apply(join.line.ends[1])),
                marks=back.apply_all(join.marks),
                rule_line=(
                    back.apply(join.line.point(rule.along, ends[0])),
                    back.apply(join.line.point(rule.along, ends[1])),
                ),
                copy=copy,
            )
        )
    return tuple(joins)


def count_through(joins: tuple[Join, ...], keep_outs: tuple[Capsule, ...]) -> int:
    """How many cut lines come nearer than 3 mm to the edge of a hole or opening."""
    return sum(runs_through(join.cut_line, keep_outs) for join in joins)


def _rule(cut: Cut, join: CutJoin, keep_outs: tuple[Capsule, ...], others: Sequence[_Rule]) -> _Rule:
    """The best of the places tried, beside the rule lines that are there already."""
    line, wanted = join.line, _wanted(join.line)
    rules = [_at(cut, join, place) for place in _places(cut, join)]
    reaches = [_reach(line, keep_out) for keep_out in keep_outs]

    def rank(rule: _Rule) -> tuple[float, ...]:
        short = min(rule.high - line.at, line.at - rule.low, LONG_ENOUGH)
        return (
            short <= 0,
            any(rule.is_over(other) for other in others),
            sum(
                low < rule.along < high and first < rule.high and last > rule.low
                for low, high, first, last in reaches
            ),
            _trouble(join, rule),
            -round(short / 5),
            round(abs(rule.along - wanted), 3),
            rule.along,
        )

    return min(rules, key=rank)


def _wanted(line: CutLine) -> float:
    return line.inked[0] + (line.inked[1] - line.inked[0]) * RULE_SHARE


def _places(cut: Cut, join: CutJoin) -> list[float]:
    """Places along a cut line that lie in the piece, the wanted one among them where it does."""
    start, end = join.line.ends
    spans = [
        (join.line.start + a, join.line.start + b)
        for drawn in (cut.drawn[join.first], cut.drawn[join.second])
        for a, b in drawn.region.along(start, end)
    ]
    inked = merged(spans, 0.0)
    step = sum(high - low for low, high in inked) / PLACES
    counts = [(low, high, max(1, round((high - low) / step))) for low, high in inked]
    even = [low + (high - low) * (k + 0.5) / count for low, high, count in counts for k in range(count)]
    marks = [_along(join.line, mark) for mark in join.marks]
    return [_wanted(join.line), *marks, *even]


def _trouble(join: CutJoin, rule: _Rule) -> int:
    """How ill a rule line can be read: 1 where it is a mark's own arm, 2 beside that or at the edge."""
    if any(abs(rule.along - _along(join.line, mark)) < SAME for mark in join.marks):
        return 1
    near = min(abs(rule.along - end) for end in join.line.inked) < OFF_EDGE
    return 2 if near or is_on_mark(join.line.point(rule.along), join.marks) else 0


def _at(cut: Cut, join: CutJoin, along: float) -> _Rule:
    """How far the piece goes both ways at a place of the cut line, within the two windows."""
    line = join.line
    both = around([cut.windows[join.first], cut.windows[join.second]])
    low, high = (both.left, both.right) if line.upright else (both.bottom, both.top)
    start, end = line.point(along, low - line.at), line.point(along, high - line.at)
    stretches: list[Span] = [
        (low + a, low + b)
        for drawn in (cut.drawn[join.first], cut.drawn[join.second])
        for a, b in drawn.region.along(start, end)
    ]
    before, after = _lengths(cut, join)
    for edge_a, edge_b in merged(stretches, 0.0):
        a, b = max(edge_a, line.at - before), min(edge_b, line.at + after)
        if a <= line.at <= b:
            inset = RULE_INSET if min(line.at - a, b - line.at) > 2 * RULE_INSET else 0.0
            return _Rule(along, a + inset, b - inset, line.upright)
    return _Rule(along, line.at, line.at, line.upright)


def _lengths(cut: Cut, join: CutJoin) -> tuple[float, float]:
    """How far a rule line may go before and after its cut line."""
    boxes = sorted(
        (cut.windows[join.first], cut.windows[join.second]),
        key=lambda box: box.left + box.right if join.line.upright else box.bottom + box.top,
    )
    sizes = [box.width if join.line.upright else box.height for box in boxes]
    before, after = (min(LONGEST, max(LONG_ENOUGH, (size - LABEL_ROOM) / 2)) for size in sizes)
    return before, after


def _reach(line: CutLine, keep_out: Capsule) -> tuple[float, float, float, float]:
    """From where to where along a cut line a keep-out, with room for its tick, is hit by a rule line that
    goes over it, and from where to where off it the keep-out lies."""
    (x0, y0), (x1, y1) = keep_out.start, keep_out.end
    along, off = ((y0, y1), (x0, x1)) if line.upright else ((x0, x1), (y0, y1))
    room = keep_out.radius + RULE_CLEAR
    return min(along) - room, max(along) + room, min(off) - keep_out.radius, max(off) + keep_out.radius


def _along(line: CutLine, at: Point) -> float:
    return at[1] if line.upright else at[0]
