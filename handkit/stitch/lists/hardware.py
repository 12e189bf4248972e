"""Hardware: what is bought ready-made and set or put on.

In: the openings' plans, the fittings, the pieces' bindings. Out: rows with sizes, and how many of each
article that makes.

Words: an *article* is what a shop sells under one size, whatever stack it is set through.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from handkit.draft.pattern import FinishedEdge, PatternPiece
from handkit.kinds.edge_works import EdgeWork
from handkit.read.project import Fitting
from handkit.stitch.lists.posts import POST_LEAST, POST_MOST, common_post
from handkit.stitch.plan import DECIMALS, TAPE, HardwareRow, HardwareTotal, OpeningPlan, PostPlan
from handkit.wording.figures import Units


def hardware(openings: Sequence[OpeningPlan]) -> tuple[HardwareRow, ...]:
    """What to buy for the openings, alike rows together; a snap and its mate are one."""
    rows: dict[HardwareRow, int] = {}
    for row in _rows(openings):
        alike = _counted(row, 0)
        rows[alike] = rows.get(alike, 0) + row.count
    return tuple(_counted(row, count) for row, count in rows.items())


def hardware_totals(rows: Iterable[HardwareRow]) -> tuple[HardwareTotal, ...]:
    """How many of each article the rows make, in their order."""
    counts: dict[tuple[str, str], int] = {}
    for row in rows:
        counts[row.what, row.article] = counts.get((row.what, row.article), 0) + row.count
    return tuple(HardwareTotal(what, article, count) for (what, article), count in counts.items())


def _counted(row: HardwareRow, count: int) -> HardwareRow:
    return HardwareRow(row.what, count, row.sizes, row.post, row.common, row.at_hand, row.article)


def _rows(openings: Sequence[OpeningPlan]) -> Iterator[HardwareRow]:
    """A row for each opening that takes hardware, or for each stack it goes through."""
    plans = {plan.pattern.name: plan for plan in openings}
    done: set[str] = set()
    for plan in openings:
        facts = plan.pattern.opening
        if not facts.traits.hardware or facts.name in done:
            continue
        mate = plans.get(facts.mate or "")
        mate = mate if mate is not None and mate.pattern.opening.traits.hardware else None
        halves = (plan, mate) if mate else (plan,)
        done |= {half.pattern.name for half in halves}
        if mate is None:
            for one in plan.posts:
                yield _row(plan, len(one.numbers), _sizes(plan, one), one.post)
        else:
            greatest = ((half, half.posts[0], half.stack) for half in halves)
            sizes = dict.fromkeys(_sizes(half, post, stack) for half, post, stack in greatest)
            count = max(half.pattern.count for half in halves)
            yield _row(plan, count, "; ".join(sizes), plan.post)


def _row(plan: OpeningPlan, count: int, sizes: str, post: float | None) -> HardwareRow:
    facts, common, units = plan.pattern.opening, common_post(post), plan.units
    article = size_words(plan)
    if (bought := facts.post or common) is not None:
        article.append(f"post {units.tool(bought)}")
    elif post is not None:
        article.append(f"post {_post_range(post, units)}")
    return HardwareRow(facts.kind.value, count, sizes, post, common, facts.post, ", ".join(article))


def size_words(plan: OpeningPlan) -> list[str]:
    """What its size is in a shop; what it is set with goes by the first of them."""
    facts = plan.pattern.opening
    hole = f"hole {plan.units.tool(facts.diameter)}"
    return [f"{facts.traits.cap_word} {plan.units.tool(facts.cap)}", hole] if facts.cap else [hole]


def _post_range(post: float, units: Units) -> str:
    """From the shortest post that holds to the longest.

    >>> from handkit.wording.figures import METRIC
    >>> _post_range(5.5875, METRIC)
    '5.6 to 7.2 mm'
    """
    return units.post(post, post - POST_LEAST + POST_MOST)


def _sizes(plan: OpeningPlan, one: PostPlan, stack: float | None = None) -> str:
    """Sizes of what is set in an opening through a stack, for the shop and the bench."""
    units = plan.units
    thick = units.text(one.stack if stack is None else stack)
    if one.post is None:
        tried = "" if plan.pattern.opening.post else ", to be tried on a scrap"
        return ", ".join([*size_words(plan), f"stack {thick}{tried}"])
    return ", ".join(
        [*size_words(plan), f"post {_post_range(one.post, units)} (stack {thick} and 1/16 to 1/8 in)"]
    )


def bought_fittings(fittings: Sequence[Fitting]) -> tuple[HardwareRow, ...]:
    """Fittings to buy, alike ones together; a keeper that is made is cut with the pieces."""
    rows: dict[tuple[str, str], list[Fitting]] = {}
    for each in fittings:
        if each.piece is None:
            rows.setdefault((each.kind.value, each.size_words), []).append(each)
    return tuple(
        HardwareRow(
            what,
            sum(max(len(each.at), 1) for each in alike),
            f"{sizes} ({', '.join(each.name for each in alike)}){_shortened(alike[0])}",
            None,
            article=sizes,
        )
        for (what, sizes), alike in rows.items()
    )


def _shortened(one: Fitting) -> str:
    """The length that a shop has, of which it is made."""
    return f"; made of one {one.source.units.tool(one.longer)} long, shortened" if one.longer else ""


def tapes(pieces: Sequence[PatternPiece]) -> tuple[HardwareRow, ...]:
    """The tape of bindings, cut to the finished edge's length, in the file's order."""
    return tuple(
        HardwareRow(
            TAPE,
            piece.quantity,
            f"{_tape(each, piece.source.units)}, for {each.work.edges} of {piece.name}",
            None,
            article=_tape(each, piece.source.units),
        )
        for piece in pieces
        for each in piece.works
        if each.work.work is EdgeWork.BINDING
    )


def _tape(each: FinishedEdge, units: Units) -> str:
    """A tape's sizes."""
    wide, thick = units.text(each.work.width), units.text(each.work.tape)
    return f"{wide} wide, {thick} thick, {tape_length(each, units)} long"


def tape_length(each: FinishedEdge, units: Units) -> str:
    """How long the tape of a bound edge is cut: to the next whole mm, or sixteenth of an inch."""
    return units.about.text(units.about.no_less(round(each.path.length, DECIMALS)))
