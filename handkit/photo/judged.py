"""What is wrong with a photo, and what would be better next time: limits, and findings where they are passed.

In: what was found and fitted. Out: findings; errors are raised by whoever asks.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot

from handkit.findings import Finding, Where, finding
from handkit.geometry.affine import Point
from handkit.geometry.box import box_of
from handkit.geometry.region import region_of_points
from handkit.photo.mat import Mat
from handkit.photo.traced import PhotoView, Thick

# So much of the marks is to be there.
MARKS = 0.70
# Of the marks, in mm (root of the mean square): above this the paper is not flat. Flat sheets stayed below
# 0.09 in nine of ten simulated photos.
FLAT = 0.12
# Pixels from a tenth to nine tenths of an edge.
BLUR = 5.0
# Of a rim, the share along which no edge is told; along which it is faint as one that mirrors the paper.
UNCLEAR, SHINY = 0.10, 0.10
# How much of a paper's light is one colour's: the greatest share of blue, green and red, less the least.
COLOUR = 0.30
# Advice: degrees, pixels a mm, mm beside its place; how much too small a rim that mirrors comes out.
TILT, COARSE, PARALLAX, MIRRORED = 12.0, 2.5, 5.0, 0.8
# Sides of photos as phones and cameras take them, longer to shorter; what is within the share of one is one.
UNCUT, NEAR = (4 / 3, 3 / 2, 16 / 9, 1.0, 20 / 9, 19.5 / 9), 0.012
# A bar that is read so much longer or shorter than it is drawn is another line's length, or a fitted page.
BARS = 0.06
# The share of the lens's height that a thing may have.
THICK = 0.25
# In mm: what comes out narrower is no thing.
LEAST_WIDE = 0.2


def bars_wrong(mat: Mat, bars: tuple[float, float], where: Where) -> Iterator[Finding]:
    """Lengths that can't be the bars'."""
    drawn = mat.across.length, mat.up.length
    if any(not abs(read / length - 1) <= BARS for read, length in zip(bars, drawn, strict=True)):
        yield finding(
            "photo-bars", where, across=bars[0], up=bars[1], drawn_across=drawn[0], drawn_up=drawn[1]
        )


def marks_wrong(found: int, mat: Mat, where: Where) -> Iterator[Finding]:
    """Too few marks."""
    least = int(-(-MARKS * len(mat.marks) // 1))
    if not found:
        yield finding("photo-marks/none", where, all=len(mat.marks))
    elif found < least:
        yield finding("photo-marks", where, found=found, all=len(mat.marks), least=least)


def sheet_wrong(view: PhotoView, blur: float, colour: Sequence[float], where: Where) -> Iterator[Finding]:
    """A sheet that is not flat, a blurred photo, a paper without colour."""
    if blur > BLUR:
        yield finding("photo-blurred", where, blur=blur, most=BLUR)
    elif view.residual > FLAT:
        yield finding("photo-not-flat", where, off=view.residual, most=FLAT)
    if (max(colour) - min(colour)) / sum(colour) < COLOUR:
        yield finding("photo-pale", where)


def things_wrong(seen: Sequence[Sequence[Point]], count: int, mat: Mat, where: Where) -> Iterator[Finding]:
    """Another number of things than should be; one that is not all in the field."""
    for rim in seen:
        box = box_of(rim)
        if not box.inside(mat.field.grown(0.5)):
            yield finding("photo-border", where, at=(round(box.middle[0]), round(box.middle[1])))
            return
    if not seen:
        yield finding("photo-count/none", where, count=count)
    elif len(seen) != count:
        boxes = [box_of(rim) for rim in seen[:8]]
        sizes = ", ".join(f"{box.width:.0f} × {box.height:.0f}" for box in boxes) + ", …" * (len(seen) > 8)
        yield finding("photo-count", where, found=len(seen), count=count, sizes=f"{sizes} mm")


def rim_wrong(number: int, unclear: float, where: Where) -> Iterator[Finding]:
    """An edge that can't be told from the paper."""
    if unclear > UNCLEAR:
        yield finding("photo-edge", where, number=number, share=unclear, most=UNCLEAR)


def better(view: PhotoView, where: Where) -> Iterator[Finding]:
    """What of the camera's place could be better."""
    if view.tilt > TILT:
        yield finding("photo-tilted", where, tilt=view.tilt, most=TILT)
    if view.pixels_per_mm < COARSE:
        yield finding("photo-coarse", where, pixels=view.pixels_per_mm, least=COARSE)


def cut(sides: tuple[int, int], where: Where) -> Iterator[Finding]:
    """A photo of other sides than a camera's: its middle may not be the lens's axis."""
    ratio = max(sides) / min(sides)
    if all(abs(ratio / each - 1) > NEAR for each in UNCUT):
        yield finding("photo-cut", where, width=sides[0], height=sides[1])


def shiny(number: int, where: Where) -> Finding:
    """Of a rim that mirrors the paper."""
    return finding("photo-shiny", where, number=number, off=MIRRORED)


def thick_wrong(number: int, thick: Thick, view: PhotoView, where: Where) -> Iterator[Finding]:
    """A thing that is thicker than can be, or a thickness that is none."""
    if not 0 <= thick.mm <= THICK * view.height:
        yield finding("photo-thick", where, number=number, thick=thick.mm, most=THICK * view.height)


def lost(number: int, true: Sequence[Point], thick: Thick, where: Where) -> Iterator[Finding]:
    """A thing of which nothing is left, were it so thick."""
    if not true or region_of_points(true).grown(-LEAST_WIDE / 2).empty:
        yield finding("photo-thick/lost", where, number=number, thick=thick.mm)


def beside(
    number: int, seen: Sequence[Point], thick: Thick, view: PhotoView, where: Where
) -> Iterator[Finding]:
    """A thing that is seen far beside its place."""
    far = max(hypot(x - view.foot[0], y - view.foot[1]) for x, y in seen)
    off = far * thick.mm / view.height
    if off > PARALLAX:
        yield finding("photo-parallax", where, number=number, thick=thick.mm, off=off, most=PARALLAX)
