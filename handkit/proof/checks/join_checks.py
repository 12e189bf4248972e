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
from handkit.proof.checks.checking import WITHIN, check, pages_of, place_of, together
from handkit.proof.content.marks import MeasuredMark
from handkit.proof.content.paths import Subpath, middle
from handkit.proof.proof import Check
from handkit.wording.quoting import words

# Tags that name a join.
_OF_JOINS = (Tag.MARK, Tag.RULE, Tag.CUT)

# A piece's name, which drawing of it, and the numbers of two of its windows.
JoinName = tuple[str, int, tuple[int, int]]

# Where each mark of a join stands, by window and mark.
Places = dict[int, dict[int, Point]]

# These, and all that names the join.
Named = tuple[Places, list[MeasuredMark]]


def join_checks(marks: Sequence[MeasuredMark]) -> tuple[Check, ...]:
    """Every join that any mark, rule line or trim line names; nothing where none does."""
    named = [mark for mark in marks if mark.tag in _OF_JOINS]
    if not named:
        return ()
    joins: dict[JoinName, Named] = {}
    each: list[Check] = []
    for mark in named:
        each.extend(_taken(mark, joins))
    each.extend(_join(name, *found) for name, found in joins.items())
    count = sum(len(window) for places, _ in joins.values() for window in places.values())
    return together(check("registration", True, joins=len(joins), marks=count), each)


def _taken(mark: MeasuredMark, joins: dict[JoinName, Named]) -> Iterable[Check]:
    """Enter a mark where it belongs; the checks are what is wrong with it alone."""
    piece, window, pair = mark.text("Piece"), mark.count("Window"), mark.pair("Join")
    if piece is None or window is None or pair is None:
        key = "registration/nameless-mark" if mark.tag is Tag.MARK else "registration/nameless-line"
        yield check(key, page=mark.page, at=place_of(mark))
        return
    places, marks = joins.setdefault((piece, mark.count("Copy") or 1, pair), ({}, []))
    marks.append(mark)
    if mark.tag is not Tag.MARK:
        return
    number, centre = mark.count("Mark"), _centre(mark)
    if number is None:
        yield check("registration/no-number", page=mark.page, at=place_of(mark))
    elif centre is None:
        yield check("registration/cross", page=mark.page, number=number, at=place_of(mark))
    elif number in places.setdefault(window, {}):
        told = {"page": mark.page, "number": number, "window": window}
        yield check("registration/twice", at=place_of(mark), **told)
    else:
        places[window][number] = centre


def _join(name: JoinName, places: Places, marks: Sequence[MeasuredMark]) -> Check:
    """One join: its windows, how many marks, and whether their distances agree."""
    piece, copy, (first, second) = name
    drawing = f", drawing {copy}" if copy > 1 else ""
    join = {"first": first, "second": second, "piece": piece, "drawing": drawing}
    join |= {"page": marks[0].page, "pages": pages_of(marks)}
    windows = sorted(window for window in places if places[window])
    if windows != [first, second]:
        listed = f"portion {words(map(str, windows), last='and')}" if windows else "no portion"
        return check("registration/windows", windows=listed, **join)
    here, there = places[first], places[second]
    alone = sorted(here.keys() ^ there.keys())
    if alone:
        return check("registration/one-window", marks=[f"mark {number}" for number in alone], **join)
    if len(here) < 2:
        return check("registration/few", marks=len(here), **join)
    off, one, other = max(
        (abs(dist(here[a], here[b]) - dist(there[a], there[b])), a, b)
        for a, b in combinations(sorted(here), 2)
    )
    return check("registration/alike", off <= WITHIN, off=off, one=one, other=other, **join)


def _centre(mark: MeasuredMark) -> Point | None:
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
