"""Ease for items: how much room a thing is given, by what its place is made of.

In: a part's own ease, a material, the size that the ease is added to. Out: the ease in mm, with the
least and the most that fits. One table; every row is *common practice, no source*: makers give a
finger's play, less where leather stretches to the thing and holds it by its grip, more where cloth
has no give and frays if it is forced. The limits are ours, from the same practice.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import msgspec

from handkit.read.project import Material, Part


class EaseRow(msgspec.Struct, frozen=True):
    """Mm of ease: what is given where nothing is said, the least and the most that fits."""

    given: float
    least: float
    most: float
    source: str


PRACTICE = "common practice, no source"

EASES: Mapping[Material, EaseRow] = MappingProxyType(
    {
        Material.FIRM_LEATHER: EaseRow(2.0, 1.0, 6.0, PRACTICE),  # gives a little with use
        Material.SOFT_LEATHER: EaseRow(2.0, 0.0, 8.0, PRACTICE),  # stretches to the thing
        Material.FELT: EaseRow(3.0, 0.0, 10.0, PRACTICE),  # gives, and rubs
        Material.CANVAS: EaseRow(4.0, 2.0, 12.0, PRACTICE),  # gives nothing
    }
)


class EaseRange(msgspec.Struct, frozen=True):
    """The ease wanted and what is allowed, all mm."""

    wanted: float
    least: float
    most: float


def ease_for(part: Part, material: Material, size: float) -> EaseRange:
    """The ease that a size gets in a part: the part's own, or the material's."""
    row = EASES[material]
    wanted = part.ease.of(size) if part.ease is not None else row.given
    return EaseRange(wanted, row.least, row.most)
