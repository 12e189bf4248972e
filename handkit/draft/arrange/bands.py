"""Bands: rows of boxes that lie over one another, with a clear line between two of them.

In: boxes, a packing of them. Out: the same boxes as a maker would lay them: each band in the middle, the
heavy bands behind; what a flap closes on alone at the foot, in the middle. All in whole steps.

A band is moved only where the whole grows by nothing: what is drawn out of one band needs as much room under
what lies over it there.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draft.arrange.packing import PackedBox, Packing, apart, measured

# Where a box lies: which one, x, y.
Laid = tuple[int, int, int]


def settled(boxes: Sequence[PackedBox], way: Packing, gap: int) -> Packing:
    """A packing with its bands in the middle and the heavy ones behind, where it stays as small."""
    bands = _bands(boxes, way)
    heavy_behind = sorted(bands, key=lambda band: sum(boxes[index].weight for index, _, _ in band))
    middled = [_in_the_middle(boxes, band, way.wide) for band in bands]
    both = [_in_the_middle(boxes, band, way.wide) for band in heavy_behind]
    for order in (both, heavy_behind, middled):
        tried = _stacked(boxes, order, gap)
        if tried.high <= way.high and tried.wide <= way.wide:
            return tried
    return way


def on_foot(boxes: Sequence[PackedBox], foot: int, way: Packing, gap: int) -> Packing:
    """One box at the foot in the middle, by its leather; over it a packing of the others, in their order."""
    box, others = boxes[foot], [*boxes[:foot], *boxes[foot + 1 :]]
    left, _, right, _ = box.leather
    half = max(left + right, 2 * box.wide - left - right)  # so wide that its middle is the middle of all
    wide = max(way.wide if others else 0, half)
    x, aside = (wide - left - right) // 2, (wide - way.wide) // 2
    up = max(
        (
            box.high + apart(box, other, at + aside - x, gap) - low
            for other, (at, low) in zip(others, way.places, strict=True)
        ),
        default=0,
    )
    places = [(at + aside, low + up) for at, low in way.places]
    places.insert(foot, (x, 0))
    return measured(boxes, tuple(places), gap, least=(wide, 0))


def _bands(boxes: Sequence[PackedBox], way: Packing) -> list[list[Laid]]:
    """From the foot up: what no level line keeps apart."""
    bands: list[list[Laid]] = []
    top = -1
    for index, (x, y) in sorted(enumerate(way.places), key=lambda each: (each[1][1], each[1][0])):
        if y < top or not bands:
            bands = bands or [[]]
            bands[-1].append((index, x, y))
        else:
            bands.append([(index, x, y)])
        top = max(top, y + boxes[index].high)
    return bands


def _in_the_middle(boxes: Sequence[PackedBox], band: Sequence[Laid], wide: int) -> list[Laid]:
    left = min(x for _, x, _ in band)
    right = max(x + boxes[index].wide for index, x, _ in band)
    return [(index, x - left + (wide - right + left) // 2, y) for index, x, y in band]


def _stacked(boxes: Sequence[PackedBox], bands: Sequence[Sequence[Laid]], gap: int) -> Packing:
    """Bands over one another, each as low as it may be."""
    laid: dict[int, tuple[int, int]] = {}
    for band in bands:
        low = min(y for _, _, y in band)
        up = max(
            (
                under + boxes[lower].high + apart(boxes[lower], boxes[index], x - left, gap) - (y - low)
                for index, x, y in band
                for lower, (left, under) in laid.items()
            ),
            default=0,
        )
        laid |= {index: (x, y - low + up) for index, x, y in band}
    return measured(boxes, tuple(laid[index] for index in range(len(boxes))), gap)
