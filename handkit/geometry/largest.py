"""The largest size that still fits, for findings that say what is allowed.

In: the size that does not fit, in mm, and a question. Out: a size in whole steps below it.
"""

from __future__ import annotations

from collections.abc import Callable

# What a maker sets on dividers or reads on a rule.
_STEPS_PER_MM = 10


def largest_fitting(most: float, fits: Callable[[float], bool]) -> float:
    """The largest size up to `most`, in tenths of a mm, for which `fits` holds; 0 for none.

    By bisection: what is larger than a size that does not fit is taken not to fit either.

    >>> largest_fitting(12, lambda radius: 2 * radius <= 19.9)
    9.9
    >>> largest_fitting(12, lambda radius: False)
    0.0
    """
    low, high = 0, int(most * _STEPS_PER_MM + 1e-6) + 1
    while high - low > 1:
        middle = (low + high) // 2
        if fits(middle / _STEPS_PER_MM):
            low = middle
        else:
            high = middle
    return low / _STEPS_PER_MM
