"""Checking: how a check is worded, and how many alike are told as one.

In: measures in mm. Out: `Check`s whose texts have mm with three decimals.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.proof.proof import Check
from handkit.tolerances import FULL_SCALE

# So many failures of one kind are told one by one; the rest are counted.
MOST_TOLD = 20

# Full scale, and a hair for the arithmetic.
WITHIN = FULL_SCALE + 1e-9

# The same, as the texts have it.
SLACK = f"{FULL_SCALE:.3f} mm"


def mm(length: float) -> str:
    """A length as the checks write it.

    >>> mm(50), mm(-0.0001)
    ('50.000 mm', '0.000 mm')
    """
    return f"{round(length, 3) + 0.0:.3f} mm"


def within(length: float) -> str:
    """What is wanted of a length.

    >>> within(50)
    '50.000 ± 0.010 mm'
    """
    return f"{length:.3f} ± {SLACK}"


def counted(count: int, one: str, many: str) -> str:
    """A number and what it counts.

    >>> counted(1, "page", "pages"), counted(0, "page", "pages")
    ('1 page', '0 pages')
    """
    return f"{count} {one if count == 1 else many}"


def together(all_of_them: Check, each: Sequence[Check]) -> tuple[Check, ...]:
    """The one check that stands for all where each passed; else those that failed."""
    failed = [check for check in each if not check.passed]
    if not failed:
        return (all_of_them,)
    told, rest = failed[:MOST_TOLD], failed[MOST_TOLD:]
    if rest:
        more = f"{len(rest)} more that fail"
        told.append(Check(all_of_them.code, all_of_them.what, more, all_of_them.wanted, False))
    return tuple(told)
