"""Join checks: that the two windows of every join carry the same marks, as far apart.

In: the marks of all pages. Out: checks `registration`. A window may lie anywhere, turned any way:
what must agree are the distances from mark to mark, which decide whether the paper meets.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations
from math import dist

from handkit.geometry.affine import Point
from handkit.ink import Tag
from handkit.proof.checks.checking import SLACK, WITHIN, counted, mm, together
from handkit.proof.content.marks import Mark, Subpath, middle
from handkit.proof.proof import Check

CODE = "registration"

# Tags that name a join.
_OF_JOINS = (Tag.MARK, Tag.RULE, Tag.CUT)

# A piece's name, which drawing of it, and the numbers of two of its windows.
JoinName = tuple[str, int, tuple[int, int]]

# Where each mark of a join stands, by window and mark.
Places = dict[int, dict[int, Point]]


def join_checks(marks: Sequence[Mark]) -> tuple[Check, ...]:
    """Every join that any mark, rule line or trim line names; nothing where none does."""
    named = [mark for mark in marks if mark.tag in _OF_JOINS]
    if not named:
        return ()
    joins: dict[JoinName, Places] = {}
    each: list[Check] = []
    for mark in named:
        each.extend(_taken(mark, joins))
    each.extend(_join(name, places) for name, places in joins.items())
    count = sum(len(window) for places in joins.values() for window in places.values())
    found = f"{counted(len(joins), 'join', 'joins')}, {counted(count, 'mark', 'marks')}"
    wanted = f"alike in both windows of a join ± {SLACK}"
    return together(Check(CODE, "registration marks", found, wanted, True), each)


def _taken(mark: Mark, joins: dict[JoinName, Places]) -> Iterable[Check]:
    """Enter a mark where it belongs; the checks are what is wrong with it alone."""
    piece, window, pair = mark.text("Piece"), mark.count("Window"), mark.pair("Join")
    what = f"page {mark.page}: {'registration mark' if mark.tag is Tag.MARK else 'line of a join'}"
    if piece is None or window is None or pair is None:
        yield Check(CODE, what, "one that names no join", "piece, window and join", False)
        return
    places = joins.setdefault((piece, mark.count("Copy") or 1, pair), {})
    if mark.tag is not Tag.MARK:
        return
    number, centre = mark.count("Mark"), _centre(mark)
    if number is None:
        yield Check(CODE, what, "one without a number", "a number from 1", False)
    elif centre is None:
        yield Check(CODE, f"{what} {number}", "no cross in a circle", "both, about one centre", False)
    elif number in places.setdefault(window, {}):
        yield Check(CODE, f"{what} {number}", f"drawn twice in window {window}", "once", False)
    else:
        places[window][number] = centre


def _join(name: JoinName, places: Places) -> Check:
    """One join: its windows, how many marks, and whether their distances agree."""
    piece, copy, (first, second) = name
    drawing = f", drawing {copy}" if copy > 1 else ""
    what = f'join {first}-{second} of "{piece}"{drawing}'
    windows = sorted(window for window in places if places[window])
    if windows != [first, second]:
        listed = ", ".join(map(str, windows)) or "no window"
        return Check(CODE, what, f"marks in {listed}", f"in windows {first} and {second}", False)
    here, there = places[first], places[second]
    if sorted(here) != sorted(there):
        return Check(CODE, what, "marks that are in one window only", "each in both", False)
    if len(here) < 2:
        return Check(CODE, what, counted(len(here), "mark", "marks"), "at least 2", False)
    off = max(
        abs(dist(here[a], here[b]) - dist(there[a], there[b])) for a, b in combinations(sorted(here), 2)
    )
    found = f"distances that differ by {mm(off)}"
    return Check(CODE, what, found, f"at most {SLACK}", off <= WITHIN)


def _centre(mark: Mark) -> Point | None:
    """The centre of a cross in a circle; None where it is none, or the two stand apart."""
    rings = [path for path in mark.subpaths if path.is_round]
    lines = mark.lines
    if len(rings) != 1 or len(lines) != 2:
        return None
    crossing, centre = _crossing(*lines), middle(rings[0].points)
    return centre if crossing is not None and dist(crossing, centre) <= WITHIN else None


def _crossing(first: Subpath, second: Subpath) -> Point | None:
    """Where two lines cross; None where they are parallel."""
    (ax, ay), (bx, by) = first.points
    (cx, cy), (dx, dy) = second.points
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    cross = ux * vy - uy * vx
    if abs(cross) < 1e-9:
        return None
    t = ((cx - ax) * vy - (cy - ay) * vx) / cross
    return ax + t * ux, ay + t * uy
