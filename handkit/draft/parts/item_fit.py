"""The fit of items: how much room each is given in its place, and what is told where it does not fit.

In: a part, an item, what its place is made of, how long the place is and how long it must be.
Out: `ItemFit`s, and a warning for each item that sits too tight or too loose, with the change that
mends it.

The ease by material is *common practice, no source*: makers give a finger's play, less where leather
stretches to the thing and holds it by its grip, more where cloth has no give and frays if it is
forced. The limits are ours, from the same practice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

import msgspec

from handkit.draft.pattern import Fit, ItemFit
from handkit.findings import Finding, Where, finding
from handkit.kinds.rows import table
from handkit.read.project import Item, Material, Part, Project


class EaseRange(msgspec.Struct, frozen=True):
    """The ease wanted and what is allowed, all mm."""

    wanted: float
    least: float
    most: float


EASES = table(
    Material,
    {
        Material.FIRM_LEATHER: EaseRange(2.0, 1.0, 6.0),  # gives a little with use
        Material.SOFT_LEATHER: EaseRange(2.0, 0.0, 8.0),  # stretches to the thing
        Material.FELT: EaseRange(3.0, 0.0, 10.0),  # gives, and rubs
        Material.CANVAS: EaseRange(4.0, 2.0, 12.0),  # gives nothing
    },
)


def ease_for(part: Part, material: Material, size: float) -> EaseRange:
    """The ease that a size gets in a part: the part's own, or the material's."""
    ease = EASES[material]
    return ease if part.ease is None else msgspec.structs.replace(ease, wanted=part.ease.of(size))


def girth_fit(
    part: Part, item: Item, ease: EaseRange, *, given: float, way: Callable[[float], float]
) -> ItemFit:
    """The fit of an item whose place is a way round it, as under a strap or a bowed front: `way` is
    how long that must be at an ease, `given` how long it is."""
    needed, least, most = (way(each) for each in (0.0, ease.least, ease.most))
    stated = "mouth" if part.length("mouth") else ""
    return ItemFit(
        (item.name,), part.name, "girth", needed, given, least - needed, most - needed, stated=stated
    )


def prolonged(way: Callable[[float], float], most: float) -> Callable[[float], float]:
    """A way that is known up to an ease only: beyond it grows by as much as the ease."""
    return lambda ease: way(min(ease, most)) + max(ease - most, 0.0)


def fit_findings(project: Project, fits: Iterable[ItemFit]) -> tuple[Finding, ...]:
    """A warning for each item that does not fit, at its place in the file."""
    items = {item.name: item for item in project.items}
    return tuple(_told(fit, items[fit.items[0]].source.at()) for fit in fits if fit.fit is not Fit.FITS)


def _told(fit: ItemFit, where: Where) -> Finding:
    """The change that mends it is of what the part states, or else of its ease."""
    told: dict[str, object] = {
        "ease": fit.ease,
        "measure": fit.measure,
        "part": fit.part,
        "least": fit.least,
        "most": fit.most,
    }
    tight = fit.fit is Fit.TIGHT
    if len(fit.items) > 1:
        told["items"] = fit.items
        if fit.wanted is None:
            return finding("item-too-tight/together" if tight else "item-too-loose/together", where, **told)
        key = "item-too-tight/together-width" if tight else "item-too-loose/together-width"
        return finding(key, where, **told, wanted=fit.wanted)
    if fit.stated == "mouth":
        return finding("item-too-tight/mouth" if tight else "item-too-loose/mouth", where, **told)
    if fit.wanted is not None:
        key = "item-too-tight/width" if tight else "item-too-loose/width"
        return finding(key, where, **told, wanted=fit.wanted)
    if fit.stated:
        key = "item-too-tight/key" if tight else "item-too-loose/key"
        return finding(key, where, **told, key=fit.stated)
    return finding("item-too-tight" if tight else "item-too-loose", where, **told)
