"""Telling: clashes as findings, one for each two that are in one place, with what mends them.

In: a figure's clashes. Out: findings.

Two parts that are in one place are told once, by what counts most of all that clashes between them, with
the things that are in it. A move is told only where it was tried (`moving.py`): of either of the two the
shortest that is clear of all else. Where there is none, a larger base is tried; where that helps no more than
the rest, one of the two has to go.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import ceil
from operator import itemgetter

from handkit.assemble.advice.flaps import closing_mended, row_mended
from handkit.assemble.advice.moving import Moved, Trials
from handkit.assemble.article import Clash, Owner
from handkit.draft.pattern import Pattern
from handkit.findings import Finding, Where, finding
from handkit.geometry.affine import Point
from handkit.grouping import grouped
from handkit.kinds.fittings import FittingKind
from handkit.read.project import PartKind
from handkit.wording.quoting import quoted, words

# What counts most is told, of two parts: things, then what holds down, and so on; on the way after that.
RANKS = (
    "thing",
    "under",
    "through",
    "piece",
    "over",
    "cap",
    "row",
    "fold",
    "way-through",
    "way-thing",
    "way",
    "beyond",
)

WAYS: Mapping[str, Point] = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "down": (0.0, -1.0), "up": (0.0, 1.0)}
OTHER_WAY = {"left": "right", "right": "left", "down": "up", "up": "down"}

# How much further than it must a move is tried, mm, and how many moves of one thing are tried.
FURTHER, TRIES = (0.0, 3.0, 6.0, 12.0, 24.0, 48.0), 24


def clash_findings(trials: Trials, clashes: Sequence[Clash]) -> Iterator[Finding]:
    """What is told of a figure's clashes but those of folds that shut."""
    pattern = trials.pattern
    for (one, other), group in grouped(clashes, by=lambda clash: _owners(pattern, clash)).items():
        worst = min(group, key=lambda clash: (_rank(clash), -clash.deep))
        where = _where(pattern, worst)
        told = {"other": worst.other, "deep": worst.deep, "high": worst.high, "free": worst.free}
        told.update(of=worst.words, at=worst.at, base=worst.base, more=_more(worst, group))
        mend = _mend(trials, where, group, (one, other))
        yield finding(worst.key, where, **told, mend=mend + _taken(pattern, where, worst))


def _taken(pattern: Pattern, where: Where, clash: Clash) -> str:
    """Of a handle that the file tells nothing of, as what it was taken."""
    for held in (each for room in pattern.rooms for each in room.items if each.assumed):
        if held.words in (clash.words, clash.other):
            told = {"what": "it", "handle": held.words, "sizes": held.sizes(pattern.project.units)}
            return finding("clash/mend-handle", where, **told).remedy
    return ""


def _rank(clash: Clash) -> int:
    kind = clash.key.partition("/")[2]
    return RANKS.index(kind) if kind in RANKS else 0


def _more(worst: Clash, group: Sequence[Clash]) -> str:
    """The things of two parts that are in one another's way besides the two that are told."""
    known = {worst.of, *worst.items}
    others = dict.fromkeys(item for clash in group for item in clash.items if item not in known)
    return f"; {words([quoted(each) for each in others], last='and')} too" if others else ""


def _where(pattern: Pattern, clash: Clash) -> Where:
    """The item, the opening or the fitting in the file."""
    if clash.key == "clash/caps":
        return next(each.source.at("in") for each in pattern.openings if each.name == clash.of)
    if clash.key == "clash/fitting":
        return next(each.fitting.source.at("on") for each in pattern.fittings if each.name == clash.of)
    return next(each.source.at("in") for each in pattern.project.items if each.name == clash.of)


def _owners(pattern: Pattern, clash: Clash) -> tuple[Owner, Owner]:
    """Whose the two are: a part's, where a part drafted them."""
    kind = {"clash/caps": "opening", "clash/fitting": "fitting"}.get(clash.key, "item")
    one, other = _owner(pattern, (kind, clash.of)), _owner(pattern, clash.against)
    return (one, other) if other != one else (one, clash.against)


def _owner(pattern: Pattern, owner: Owner) -> Owner:
    kind, name = owner
    part: str | None = None
    if kind == "item":
        part = next((room.part for room in pattern.rooms for each in room.items if each.item == name), None)
    elif kind == "piece":
        part = next((each.drafted_by for each in pattern.project.pieces if each.name == name), None)
    elif kind in ("seam", "opening"):
        listed = pattern.seams if kind == "seam" else pattern.openings
        line = next(each.source.line for each in listed if each.name == name)
        part = next((each.name for each in pattern.project.parts if each.source.line == line), None)
    return ("part", part) if part is not None else owner


def _mend(trials: Trials, where: Where, group: Sequence[Clash], owners: tuple[Owner, Owner]) -> str:
    """What is to be done, in words."""
    pairs = frozenset((clash.of, clash.other) for clash in group)
    ways = [dict(clash.ways) for clash in group]
    needed = {way: max(each[way] for each in ways) for way in ways[0] if all(way in each for each in ways)}
    mend = ""
    sides = [(owners[0], needed), (owners[1], {OTHER_WAY[way]: by for way, by in needed.items()})]
    movers = [(mover, far) for owner, far in sides if (mover := _mover(trials, owner)) is not None]
    for mover, far in movers:
        move = _shortest(trials, mover, far, pairs)
        if move is not None:
            told: dict[str, object] = {"what": mover.words, "way": move[0], "by": move[1], "first": mend}
            key = "clash/mend-more" if mend else "clash/mend"
            mend = finding(key, where, **told).remedy
    for mover, far in () if mend else movers:
        move = _shortest(trials, mover, far, pairs, larger=True)
        if move is not None:
            told = {"what": mover.words, "way": move[0], "by": move[1], "base": trials.figure.base}
            return finding("clash/mend-larger", where, **told).remedy
    if mend:
        return mend
    for kind, name in owners:
        if kind == "part" and _is_flap(trials.pattern, name):
            if {clash.against[1] for clash in group} <= {name, f"{name} hinge"}:
                return row_mended(trials, where, name, dict(sides)[kind, name].get("up"), pairs)
            return closing_mended(trials, where, name)
    fold = any(clash.key == "clash/fold" for clash in group)
    return finding("clash/mend-fold" if fold else "clash/mend-none", where, what="it").remedy


def _shortest(
    trials: Trials,
    mover: Moved,
    needed: Mapping[str, float],
    pairs: frozenset[tuple[str, str]],
    *,
    larger: bool = False,
) -> tuple[str, float] | None:
    """The shortest move that is clear, of those tried."""
    tried = sorted(((by + more, way) for way, by in needed.items() for more in FURTHER), key=itemgetter(0))
    for by, way in tried[:TRIES]:
        far = ceil(by * 10 - 1e-6) / 10
        dx, dy = WAYS[way]
        if trials.clears(mover, (dx * far, dy * far), pairs, larger=larger):
            return way, far
    return None


def _mover(trials: Trials, owner: Owner) -> Moved | None:
    """What can be moved of one of the two; None where it has no place of its own."""
    pattern, (kind, name) = trials.pattern, owner
    words_, here = quoted(name), {body.name for body in trials.figure.bodies}
    own: set[str] = set()
    if kind == "part" and _is_flap(pattern, name):
        return None  # it lies where its base ends, and closes where its keys say
    if kind == "part":
        own = here & {each.name for each in pattern.project.pieces if each.drafted_by == name}
    elif kind == "piece":
        own = {name} - {trials.figure.base}
    elif kind == "seam":
        seam = next(each for each in pattern.seams if each.name == name)
        own = here & {run.piece for run in seam.runs} - {trials.figure.base}
        words_ = words([quoted(each) for each in own], last="and")
    if own and (kind != "seam" or len(own) == 1):
        return trials.standing_on(words_, own)
    return _hardware(trials, owner) if kind in ("opening", "fitting") else None


def _is_flap(pattern: Pattern, name: str) -> bool:
    return any(part.name == name and part.kind is PartKind.FLAP for part in pattern.project.parts)


def _hardware(trials: Trials, owner: Owner) -> Moved | None:
    """An opening or a fitting that is moved by itself, or with the piece that it is on."""
    pattern, (kind, name), words_ = trials.pattern, owner, quoted(owner[1])
    if kind == "opening":
        opening = next(each for each in pattern.openings if each.name == name)
        alone = opening.count == 1 and opening.opening.mate is None
        return Moved(words_, openings=frozenset({name})) if alone else None
    fitting = next(each.fitting for each in pattern.fittings if each.name == name)
    if fitting.kind is FittingKind.MAGNET and len(fitting.at) == 1:
        return Moved(words_, fittings=frozenset({name}))
    if fitting.on is None or fitting.on == trials.figure.base:
        return None
    return trials.standing_on(quoted(fitting.on), {fitting.on})
