"""Checking: how a check is made from its wording, and how many alike are listed as one.

In: a row of the table of wordings (`messages/proving.py`), measures in mm. Out: `Check`s.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.messages.placeholders import filled
from handkit.messages.proving import MORE, PROVING
from handkit.proof.proof import Check
from handkit.tolerances import FULL_SCALE

# So many failures of one kind are listed one by one; the rest are counted.
MOST_LISTED = 20

# Full scale, and a hair for the arithmetic.
WITHIN = FULL_SCALE + 1e-9


def check(key: str, passed: bool = False, /, **values: object) -> Check:
    """A check in the words of its row, with these values filled in; `slack` is filled in for all.

    >>> check("test-square", True, page=1, way="across", length=-0.0001, wanted=50.0).found
    '0.000 mm'
    """
    row = PROVING[key]
    values["slack"] = FULL_SCALE
    texts = (row.what, row.found, row.wanted, "" if passed else row.do)
    what, found, wanted, do = (filled(text, values) for text in texts)
    page = values.get("page", 0)
    return Check(key.partition("/")[0], what, found, wanted, passed, do, page if isinstance(page, int) else 0)


def together(all_of_them: Check, each: Sequence[Check]) -> tuple[Check, ...]:
    """The one check that stands for all where each passed; else those that failed."""
    failed = [one for one in each if not one.passed]
    if not failed:
        return (all_of_them,)
    listed, rest = failed[:MOST_LISTED], failed[MOST_LISTED:]
    if rest:
        more = MORE.format(count=len(rest))
        listed.append(Check(all_of_them.code, all_of_them.what, more, all_of_them.wanted, False, rest[0].do))
    return tuple(listed)
