"""The fit of items: how much room each is given in its place, and what is told where it does not fit.

In: a part, an item, what its place is made of, how long the place is and how long it must be.
Out: `ItemFit`s, and a warning for each item that sits too tight or too loose, with the change that
mends it.

The ease by material is a row's in `kinds/materials.py`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

import msgspec

from handkit.draft.pattern import Fit, ItemFit
from handkit.findings import Finding, Where, finding
from handkit.kinds.materials import MATERIALS, EaseRange, Material
from handkit.read.project import Item, Part, PartKind, Project

# An item is held by at least this share of its length (common practice, no source).
LEAST_HELD = 1 / 3


def ease_for(part: Part, material: Material, size: float, uncertainty: float = 0.0) -> EaseRange:
    """The ease that a size gets in a part: the part's own, or the material's; on either side at least as much
    as the size may be off there."""
    ease = MATERIALS[material].item_ease
    if part.ease is not None:
        ease = msgspec.structs.replace(ease, wanted=part.ease.of(size))
    room = 2 * uncertainty
    more = max(room - ease.wanted, 0.0)
    return EaseRange(max(ease.wanted, room), max(ease.least, room), ease.most + more) if room else ease


def girth_fit(
    part: Part, item: Item, ease: EaseRange, *, given: float, way: Callable[[float], float]
) -> ItemFit:
    """The fit of an item whose place is a way round it, as under a strap or a bowed front: `way` is
    how long that must be at an ease, `given` how long it is."""
    needed, least, most = (way(each) for each in (0.0, ease.least, ease.most))
    stated = "mouth" if part.length("mouth") else ""
    at_mouth = part.kind is PartKind.BOWED_POCKET
    rows = "rivets or rows of stitches at the mouth" if at_mouth else "rows of stitches"
    between = f"along the middle of the leather, between the {rows}"
    room = (needed, given, least - needed, most - needed)
    return ItemFit((item.name,), part.name, "girth", *room, stated, where=between)


def prolonged(way: Callable[[float], float], most: float) -> Callable[[float], float]:
    """A way that is known up to an ease only: beyond it grows by as much as the ease."""
    return lambda ease: way(min(ease, most)) + max(ease - most, 0.0)


def standing_out(part: Part, item: Item, held: float) -> Iterator[Finding]:
    """A warning where `held`, what of an item's length stands in its pocket, is too little to hold it."""
    if held < item.length * LEAST_HELD:
        yield finding(
            "item-stands-out/pocket",
            item.source.at(),
            shows=item.length - held,
            length=item.length,
            part=part.name,
            most=item.length * (1 - LEAST_HELD),
        )


def fit_findings(project: Project, fits: Iterable[ItemFit]) -> tuple[Finding, ...]:
    """A warning for each item that does not fit, at its place in the file; left out where its part's sizes
    are told as wrong."""
    items = {item.name: item for item in project.items}
    parts = {part.name: part for part in project.parts}
    return tuple(
        _told(fit, items[fit.items[0]].source.at()).following(fit_of(parts[fit.part]))
        for fit in fits
        if fit.fit is not Fit.FITS
    )


def fit_of(part: Part) -> str:
    """What a part's stated sizes decide beside its place, as findings that follow from them name it."""
    return f"{part.source.path}: fit"


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
