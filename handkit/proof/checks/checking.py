"""Checking: how a check is made from its wording, and how many alike are listed as one.

In: a row of the table of wordings (`messages/proving.py`), measures in mm. Out: `Check`s.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from handkit.geometry.affine import Point
from handkit.messages.placeholders import Phrase
from handkit.messages.proving import AT, MORE, PAGES, PROVING
from handkit.proof.content.marks import MeasuredMark
from handkit.proof.content.paths import middle
from handkit.proof.proof import Check
from handkit.tolerances import FULL_SCALE

# So many failures of one kind are listed one by one; the rest are counted.
MOST_LISTED = 20

# Full scale, and a hair for the arithmetic.
WITHIN = FULL_SCALE + 1e-9


def check(key: str, passed: bool = False, /, **values: object) -> Check:
    """A check in the words of its row, with these values; `slack` is filled in for all.

    >>> check("test-square", True, page=1, way="across", length=-0.0001, wanted=50.0).found
    '0.000 mm'
    """
    page = values.get("page", 0)
    values["slack"] = FULL_SCALE
    return Check(key.partition("/")[0], passed, PROVING[key], values, page if isinstance(page, int) else 0)


def there(at: Point) -> Phrase:
    """Where on a page something is, as it stands behind what was found."""
    return Phrase(AT, {"x": at[0], "y": at[1]})


def place_of(mark: MeasuredMark) -> Phrase:
    """The same of the middle of a mark; nothing where nothing is drawn."""
    points = [point for subpath in mark.subpaths for point in subpath.points]
    return there(middle(points)) if points else Phrase("")


def pages_of(marks: Iterable[MeasuredMark]) -> Phrase:
    """Which pages marks are on."""
    pages = sorted({mark.page for mark in marks})
    return Phrase(PAGES[len(pages) > 1], {"pages": [str(page) for page in pages]})


def together(all_of_them: Check, each: Sequence[Check]) -> tuple[Check, ...]:
    """The one check that stands for all where each passed; else those that failed."""
    failed = [one for one in each if not one.passed]
    if not failed:
        return (all_of_them,)
    listed, rest = failed[:MOST_LISTED], failed[MOST_LISTED:]
    if rest:
        wording = replace(all_of_them.wording, found=MORE, do=rest[0].wording.do)
        values = {**all_of_them.values, "count": len(rest)}
        listed.append(replace(all_of_them, passed=False, wording=wording, values=values))
    return tuple(listed)
