"""Break checks: that both ends of a straight part left out say the same of it.

In: the marks of all pages. Out: checks `breaks`. A window may lie anywhere, so what can be measured
is each line: straight but for its zigzag, and as long at one end as at the other, since the piece
goes on between them with straight, parallel edges.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from handkit.ink import Tag
from handkit.proof.checks.checking import WITHIN, check, pages_of, place_of, together
from handkit.proof.content.marks import MeasuredMark
from handkit.proof.proof import Check

# A piece's name, which drawing of it, and the number of its break.
BreakName = tuple[str, int, int]


def break_checks(marks: Sequence[MeasuredMark]) -> tuple[Check, ...]:
    """Every break that any line names; nothing where none does."""
    drawn = [mark for mark in marks if mark.tag is Tag.BREAK]
    if not drawn:
        return ()
    breaks: dict[BreakName, list[MeasuredMark]] = {}
    each: list[Check] = []
    for mark in drawn:
        name = _name(mark)
        if name is None:
            each.append(check("breaks/nameless", page=mark.page, at=place_of(mark)))
        else:
            breaks.setdefault(name, []).append(mark)
    each.extend(_break(name, lines) for name, lines in breaks.items())
    return together(check("breaks", True, breaks=len(breaks)), each)


def _name(mark: MeasuredMark) -> BreakName | None:
    piece, number, length = mark.text("Piece"), mark.count("Break"), mark.number("Length")
    if piece is None or number is None or mark.count("Window") is None or length is None or length <= 0:
        return None
    return piece, mark.count("Copy") or 1, number


def _break(name: BreakName, lines: Sequence[MeasuredMark]) -> Check:
    piece, _, number = name
    windows = {line.count("Window") for line in lines}
    claims = {line.number("Length") for line in lines}
    told = {"number": number, "piece": piece, "page": lines[0].page, "pages": pages_of(lines)}
    at = place_of(lines[0])
    if len(windows) < 2:
        return check("breaks/one-end", at=at, **told)
    if len(claims) > 1:
        return check("breaks/lengths", at=at, **told)
    bent = [line for line in lines if not _is_zigzag(line)]
    if bent:
        return check("breaks/zigzag", at=place_of(bent[0]), **told)
    lengths = [line.subpaths[0].length for line in lines]
    off = max(lengths) - min(lengths) if len(lines) == 2 else 0.0
    return check("breaks/alike", off <= WITHIN, off=off, at=at, **told)


def _is_zigzag(line: MeasuredMark) -> bool:
    """Whether it is one open line that leaves the straight between its ends to both sides."""
    if len(line.subpaths) != 1 or line.subpaths[0].closed:
        return False
    (ax, ay), *inner, (bx, by) = line.subpaths[0].points
    length = hypot(bx - ax, by - ay)
    if length == 0:
        return False
    offs = [((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / length for x, y in inner]
    return bool(offs) and min(offs) < -WITHIN and max(offs) > WITHIN
