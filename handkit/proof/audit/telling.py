"""Telling: what deviates on the pages of a kit, as checks.

In: deviations, each with its page. Out: checks `drawing`: one for all marks of a kind that deviate alike on a
page; the first is named, the others are counted.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from handkit.ink import Tag
from handkit.manifest.listed import ListedPage
from handkit.messages.placeholders import Phrase
from handkit.proof.audit.deviations import Deviation, DeviationKind
from handkit.proof.audit.expected import MarkName, places
from handkit.proof.checks.checking import check
from handkit.proof.proof import Check
from handkit.tolerances import AS_LISTED
from handkit.wording.mark_names import MARK_NAMES
from handkit.wording.quoting import quoted

# The place of a page in the file, the listed page that it is, what deviates there.
DeviationOnPage = tuple[int, ListedPage, Deviation]


def told(deviations: Iterable[DeviationOnPage]) -> Iterator[Check]:
    """One check for all deviations of one kind of mark on a page: the first is named, others are counted."""
    for _, alike in groupby(sorted(deviations, key=_kind), key=_kind):
        (found, page, deviation), *others = alike
        yield check(
            deviation.kind.value,
            page=found + 1,
            label=page.label,
            mark=Phrase(
                "{name}{more}",
                {"name": _named(deviation.name), "more": f", and {len(others)} more" if others else ""},
            ),
            x=deviation.at[0],
            y=deviation.at[1],
            size=max(deviation.size, *(each.size for _, _, each in others), 0.0),
            how=deviation.how,
            within=AS_LISTED,
        )


def _kind(one: DeviationOnPage) -> tuple[int, str, str, int]:
    found, _, deviation = one
    whole = deviation.kind is DeviationKind.SHIFTED
    return (
        found,
        deviation.kind.value,
        deviation.name.piece if whole else deviation.name.tag,
        deviation.name.window * whole,
    )


def _named(name: MarkName) -> tuple[Phrase, ...]:
    """A mark as a sentence names it: `hole, number 3, run 1, "side", on "front"`."""
    if name.tag:
        return (Phrase(MARK_NAMES[Tag(name.tag)]), *places(name))
    if name.piece:
        portion = {"window": name.window, "piece": quoted(name.piece)}
        return (Phrase("portion {window} of {piece}", portion),)
    return (Phrase("all of the page"),)
