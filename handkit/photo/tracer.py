"""Step of its own: a photo of things on the mat to their outlines at true size, in two calls.

In: the photo's bytes, the mat, the lengths of its bars as a rule has them, how many things lie there. Out of
`find`: `Found`, the things as they are seen, numbered; of `outline`, with how thick each is: `Traced`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import hypot

import numpy as np

from handkit.errors import PhotoError
from handkit.findings import Finding, Where
from handkit.geometry.affine import Point
from handkit.messages.message import Severity
from handkit.photo import judged
from handkit.photo.blobs import blobs
from handkit.photo.camera import Camera, fitted, pixels_per_mm
from handkit.photo.marks import Marks, found_marks
from handkit.photo.mat import Mat
from handkit.photo.outlines import WITHIN, in_own_frame
from handkit.photo.paper import difference
from handkit.photo.parallax import corrected
from handkit.photo.picture import picture_of
from handkit.photo.rims import ThingRim, rim_of
from handkit.photo.straight import DOT, Plane, straightened
from handkit.photo.traced import Blob, Found, PhotoView, Thick, Traced, TracedThing

# What a rule of steel may be off on a bar, in mm.
READING = 0.25

# Of a rim: what is left however clear it is, in mm; of the blur of an edge, the share that may be lost; how
# many of the sigmas that neighbours differ by.
RIM, RIM_BLUR, RIM_ROUGH = 0.25, 0.25, 2.0
# A rim that mirrors the paper may lie so much farther out, in mm.
RIM_SHINY = judged.MIRRORED


def find(  # noqa: PLR0913 - what is said of a photo
    picture: bytes,
    mat: Mat,
    *,
    bars: tuple[float, float],
    count: int,
    name: str = "",
    first: int = 1,
) -> Found:
    """What lies on the mat. `bars` are the lengths of `mat.across` and `mat.up` in mm as measured; `name` is
    what findings call the photo, `first` the number of its first thing.

    Raises PhotoError where the photo does not do, or where it shows another number of things; what was found
    on it is then in its `reached`.
    """
    where = Where(name)
    _refuse(judged.bars_wrong(mat, bars, where))
    photo = picture_of(picture, where)
    marks = found_marks(photo.dots, mat)
    _refuse(judged.marks_wrong(len(marks.numbers) if marks else 0, mat, where))
    assert marks is not None  # refused otherwise
    scale = bars[0] / mat.across.length, bars[1] / mat.up.length
    drawn = np.array([mat.marks[number].centre for number in marks.numbers])
    size = photo.dots.shape[1], photo.dots.shape[0]
    camera = fitted(drawn, marks.middles, size, scale, photo.focal)
    view = _view(camera, mat, bars)
    plane = straightened(photo.dots, camera, mat.width * scale[0], mat.height * scale[1])
    del photo
    unlike = difference(plane, mat)
    _refuse(judged.sheet_wrong(view, marks.blur, unlike.colour, where))
    blur = marks.blur / view.pixels_per_mm / DOT
    rims = [rim_of(dots, unlike, blur) for dots in blobs(unlike, count)]
    seen = [_in_mm(rim, plane) for rim in rims]
    shown = enumerate(zip(rims, seen, strict=True), first)
    things = tuple(_blob(n, rim, points, marks, view) for n, (rim, points) in shown)
    shiny = (judged.shiny(blob.number, where) for blob in things if blob.shiny)
    advice = (*judged.cut(size, where), *judged.better(view, where), *shiny)
    found = Found(things, view, plane.png, DOT, plane.width, plane.height, advice)
    _refuse(judged.things_wrong(seen, count, mat, where), found)
    unclear = (told for n, rim in enumerate(rims, first) for told in judged.rim_wrong(n, rim.unclear, where))
    _refuse(unclear, found)
    return found


def outline(found: Found, thick: Mapping[int, Thick], *, name: str = "") -> Traced:
    """The things at true size; `thick` has one for each number.

    Raises PhotoError where a thing is thicker than the photo allows, or than what is seen of it.
    """
    where, view = Where(name), found.view
    _refuse(
        told
        for blob in found.blobs
        for told in judged.thick_wrong(blob.number, thick[blob.number], view, where)
    )
    true = {blob.number: corrected(blob.seen, thick[blob.number], view) for blob in found.blobs}
    _refuse(told for n, ring in true.items() for told in judged.lost(n, ring, thick[n], where))
    things = tuple(_thing(blob, true[blob.number], thick[blob.number], view) for blob in found.blobs)
    beside = [
        told for b in found.blobs for told in judged.beside(b.number, b.seen, thick[b.number], view, where)
    ]
    worst = max((thing.uncertainty for thing in things), default=0.0)
    return Traced(things, view, worst, (*found.advice, *beside))


def _refuse(findings: Iterable[Finding], reached: Found | None = None) -> None:
    errors = [each for each in findings if each.severity is Severity.ERROR]
    if errors:
        raise PhotoError(errors, reached)


def _view(camera: Camera, mat: Mat, bars: tuple[float, float]) -> PhotoView:
    """What is told of how the photo was taken."""
    lens, (height_error, foot_error) = camera.lens, camera.lens_error
    corners = camera.on_paper(np.array(mat.field.corners))
    residual = float(np.sqrt((camera.off**2).mean()))
    return PhotoView(
        foot=(float(lens[0]), float(lens[1])),
        height=float(lens[2]),
        tilt=camera.tilt,
        residual=residual,
        pixels_per_mm=float(pixels_per_mm(camera.seen, corners).min()),
        height_error=2 * height_error,
        foot_error=2 * foot_error,
        plane_error=max(0.05, 2 * residual),
        scale_error=READING / min(bars),
    )


def _in_mm(rim: ThingRim, plane: Plane) -> tuple[tuple[float, float], ...]:
    """A rim as places on the paper, counter-clockwise."""
    points = plane.mm(rim.places)
    x, y = points[:, 0], points[:, 1]
    if (x * np.roll(y, -1) - np.roll(x, -1) * y).sum() < 0:
        points = points[::-1]
    return tuple((round(float(px), 3), round(float(py), 3)) for px, py in points)


def _blob(
    number: int, rim: ThingRim, seen: tuple[tuple[float, float], ...], marks: Marks, view: PhotoView
) -> Blob:
    shiny = rim.faint > judged.SHINY
    blur = marks.blur / view.pixels_per_mm
    within = RIM + RIM_BLUR * blur + RIM_ROUGH * rim.rough * DOT + (RIM_SHINY if shiny else 0.0)
    return Blob(number, seen, round(within, 3), shiny)


def _thing(blob: Blob, true: Sequence[Point], thick: Thick, view: PhotoView) -> TracedThing:
    """A thing at true size. What may be off adds up as chances do, by squares: the rim, the paper's plane,
    the camera's height and foot as far as the thing rises into them, the bars, what fewer points leave; and
    where a thing mirrors the paper, all of a side that may have been taken for paper."""
    own, place = in_own_frame(true)
    length, width = max(x for x, _ in own), max(y for _, y in own)
    z = thick.mm / 2 if thick.round else thick.mm
    far = max(hypot(x - view.foot[0], y - view.foot[1]) for x, y in blob.seen)
    wall = z / view.height * far if blob.shiny else 0.0
    parts = (
        blob.within,
        wall,
        view.plane_error,
        z / view.height * far * view.height_error,
        z / view.height * view.foot_error,
        view.scale_error * length / 2,
        WITHIN / 2,
    )
    return TracedThing(blob.number, own, length, width, thick, place, round(hypot(*parts), 2))
