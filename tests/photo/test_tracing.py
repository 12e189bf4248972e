"""From a simulated photo to outlines: a few scenes against their truth; every error and every advice."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from typing import Any

import cv2
import numpy as np
import pytest
from measuring import all_measured, thicknesses
from rendering import Body, Scene, photographed, placed
from scenes import case, with_lens
from shapely import LineString, Point, box

from handkit.errors import PhotoError
from handkit.findings import Where
from handkit.photo import judged
from handkit.photo.marks import found_marks
from handkit.photo.mat import mat_of
from handkit.photo.traced import Thick
from handkit.photo.tracer import find, outline

MAT = mat_of(210, 297)
BARS = (160.0, 240.0)
CARD = Body("card", placed(box(0, 0, 86, 54), 80, 80, 15), 1.0, (0.8, 0.8, 0.78))
BLOCK = Body("block", placed(box(0, 0, 60, 38), 120, 180, 40), 18.0, (0.5, 0.32, 0.16))
PEN = Body(
    "pen", placed(LineString([(0, 0), (110, 0)]).buffer(6), 60, 190, 70), 12.0, (0.5, 0.05, 0.05), rod=True
)
TIN = Body("tin", placed(Point(0, 0).buffer(20), 130, 100, 0), 9.0, (0.2, 0.2, 0.2), metal=0.95, edge=3.0)
PLAIN = Scene(MAT, (CARD, BLOCK, PEN), pixels=(1080, 1440), height=330)


@cache
def photo(scene: Scene) -> bytes:
    return photographed(scene)


@cache
def dots() -> np.ndarray:
    return cv2.imdecode(np.frombuffer(photo(PLAIN), np.uint8), cv2.IMREAD_COLOR)


def coded(picture: np.ndarray) -> bytes:
    return cv2.imencode(".png", picture)[1].tobytes()


def traced(data: bytes, count: int = 3):
    found = find(data, MAT, bars=BARS, count=count, name="bench.jpg")
    return found, outline(found, thicknesses(found, PLAIN.bodies))


@cache
def plainly_traced():
    return traced(photo(PLAIN))


def test_a_plain_photo_is_traced_true() -> None:
    found, things = plainly_traced()
    measured = all_measured(things, found, PLAIN.bodies)
    assert sorted(one.body.name for one in measured) == ["block", "card", "pen"]
    assert max(one.p95 for one in measured) < 0.4
    assert all(one.placed < one.stated < 1.0 for one in measured)
    assert max(abs(one.length) for one in measured) < 0.5
    by_name = {one.body.name: thing for one, thing in zip(measured, things.things, strict=True)}
    assert (by_name["card"].length, by_name["card"].width) == pytest.approx((86, 54), abs=0.4)
    assert found.view.height == pytest.approx(330, rel=0.06)
    assert things.advice == ()


def test_the_same_photo_gives_the_same_bytes() -> None:
    assert traced(photo(PLAIN))[0] == plainly_traced()[0]


def test_a_straightened_sheet_is_to_scale() -> None:
    """Its marks' middles lie where the mat has them, to a dot."""
    found, _ = plainly_traced()
    sheet = cv2.imdecode(np.frombuffer(found.straightened, np.uint8), cv2.IMREAD_COLOR)
    assert sheet.shape == (round(297 / found.mm_per_pixel), round(210 / found.mm_per_pixel), 3)
    for mark in MAT.marks:
        x, y = mark.centre
        column, row = int(x / found.mm_per_pixel), int((found.height - y) / found.mm_per_pixel)
        reach = round(3 / found.mm_per_pixel)
        inside = sheet[row - reach : row + reach, column - reach : column + reach, 0]
        assert (np.median(inside) < 90) != mark.hollow or np.percentile(inside, 30) < 90


@pytest.mark.parametrize("quarters", [1, 2])
def test_which_way_round_the_photo_is_does_not_matter(quarters: int) -> None:
    found, _ = traced(coded(np.rot90(dots(), quarters).copy()))
    plain, _ = plainly_traced()
    for one, other in zip(found.blobs, plain.blobs, strict=True):
        assert one.middle == pytest.approx(other.middle, abs=0.3)


def test_a_bench_full_of_small_squares_hides_no_mat() -> None:
    """Tiles with holes, smaller than the marks and many more, above and below the sheet."""
    tile = np.full((20, 20), 255, np.uint8)
    tile[3:17, 3:17], tile[7:13, 7:13] = 0, 255
    tiles = cv2.merge([np.tile(tile, (12, dots().shape[1] // 20 + 1))[:, : dots().shape[1]]] * 3)
    among = found_marks(np.vstack([tiles, dots(), tiles]), MAT)
    assert among is not None
    assert among.numbers == found_marks(dots(), MAT).numbers


def test_a_few_marks_may_be_hidden() -> None:
    picture = dots().copy()
    cv2.rectangle(picture, (0, 0), (160, 400), (120, 90, 60), -1)
    found, _ = traced(coded(picture))
    assert len(found.blobs) == 3


# --- what is refused --------------------------------------------------------------------------------------


@cache
def plane() -> np.ndarray:
    """The sheet's map onto the plain photo, by its corner marks."""
    marks = found_marks(dots(), MAT)
    corners = [number for number, mark in enumerate(MAT.marks) if {*mark.centre} <= {12.0, 198.0, 285.0}]
    sheet = np.array([MAT.marks[i].centre for i in corners], np.float32)
    seen = np.array([marks.middles[marks.numbers.index(i)] for i in corners], np.float32)
    return cv2.getPerspectiveTransform(sheet, seen)


def at(x: float, y: float) -> tuple[int, int]:
    """Where the plain photo has a place of the sheet, in whole pixels."""
    u, v = cv2.perspectiveTransform(np.array([[(x, y)]], np.float32), plane())[0, 0]
    return round(float(u)), round(float(v))


WHITE = (235, 235, 235)


def painted(*patches: tuple[tuple[float, float, float, float], tuple[int, int, int]]) -> bytes:
    picture = dots().copy()
    for (x0, y0, x1, y1), colour in patches:
        corners = [at(x, y) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]
        cv2.fillPoly(picture, [np.array(corners, np.int32)], colour, cv2.LINE_AA)
    return coded(picture)


def comb() -> bytes:
    """Strips beside one another: taken for one thing, it has no edge where they are apart."""
    return painted(*(((x, 112, x + 2, 124), WHITE) for x in np.arange(132.0, 180.0, 4.4)))


def wavy() -> bytes:
    """The photo as of a sheet that stands up in waves."""
    rows, columns = np.mgrid[0 : dots().shape[0], 0 : dots().shape[1]].astype(np.float32)
    return coded(cv2.remap(dots(), columns + 3.0 * np.sin(rows / 110), rows, cv2.INTER_LINEAR))


def slow(keys: Iterable[str], *those: str) -> list[Any]:
    """Keys as parameters; those that take seconds are for the long run."""
    return [pytest.param(key, marks=[pytest.mark.long] * (key in those)) for key in keys]


REFUSED = {
    "photo-blurred": lambda: (coded(cv2.GaussianBlur(dots(), (0, 0), 2.2)), 3),
    "photo-not-flat": lambda: (wavy(), 3),
    "photo-border": lambda: (painted(((140, 50, 194, 70), WHITE)), 4),
    "photo-count": lambda: (photo(PLAIN), 4),
    "photo-count/none": lambda: (photo(replace(PLAIN, bodies=())), 2),
    "photo-marks": lambda: (painted(((0, 0, 210, 110), WHITE)), 3),
    "photo-marks/none": lambda: (coded(np.full((600, 800, 3), 120, np.uint8)), 3),
    "photo-pale": lambda: (photo(replace(PLAIN, paper="white", bodies=(BLOCK,))), 1),
    "photo-edge": lambda: (comb(), 4),
    "photo-file": lambda: (b"no picture", 3),
}


@pytest.mark.parametrize("key", slow(REFUSED, "photo-marks", "photo-blurred", "photo-pale", "photo-edge"))
def test_what_can_not_be_traced_is_refused(key: str) -> None:
    data, count = REFUSED[key]()
    with pytest.raises(PhotoError) as refused:
        traced(data, count)
    assert {each.code for each in refused.value.findings} == {key.partition("/")[0]}
    assert refused.value.findings[0].where == Where("bench.jpg")
    if key == "photo-count":  # what was counted can be shown: the three that lie there
        assert [blob.number for blob in refused.value.reached.blobs] == [1, 2, 3]


def test_bars_that_are_none_are_refused() -> None:
    with pytest.raises(PhotoError, match="160 mm and 240 mm are drawn"):
        find(photo(PLAIN), MAT, bars=(240.0, 160.0), count=3)


def test_a_thickness_that_can_not_be_is_refused() -> None:
    found, _ = plainly_traced()
    with pytest.raises(PhotoError, match=r"thing 2, 120 mm thick; allowed: up to \d+"):
        outline(found, {1: Thick(1.0), 2: Thick(120.0), 3: Thick(1.0)})


# --- what is advised --------------------------------------------------------------------------------------

LEANING = replace(PLAIN, bodies=(CARD,), tilt=14.0, height=360.0)
SMALL = replace(PLAIN, bodies=(CARD,), pixels=(600, 800), blur=0.5)
TALL = replace(PLAIN, bodies=(replace(BLOCK, thick=28.0, outline=placed(box(0, 0, 60, 38), 70, 240, 0)),))
SHINY = replace(PLAIN, bodies=(TIN,), pixels=(1620, 2160))
ADVISED = {"photo-tilted": LEANING, "photo-coarse": SMALL, "photo-parallax": TALL, "photo-shiny": SHINY}


@pytest.mark.parametrize("code", slow(ADVISED, "photo-shiny", "photo-parallax"))
def test_what_would_be_better_is_told(code: str) -> None:
    scene = ADVISED[code]
    found = find(photo(scene), MAT, bars=BARS, count=1)
    things = outline(found, thicknesses(found, scene.bodies))
    assert code in {each.code for each in things.advice}
    (one,) = all_measured(things, found, scene.bodies)
    assert one.placed <= one.stated


# --- at length --------------------------------------------------------------------------------------------


@pytest.mark.long
@pytest.mark.parametrize("seed", [3, 4, 6, 10])
def test_random_scenes_are_traced_or_refused(seed: int) -> None:
    each = case(seed, megapixels=2.0)
    bodies = each.scene.bodies
    found = find(
        with_lens(photographed(each.scene), each.film), each.scene.mat, bars=each.bars, count=len(bodies)
    )
    measured = all_measured(outline(found, thicknesses(found, bodies)), found, bodies)
    assert len({one.body.outline.wkt for one in measured}) == len(bodies)
    assert all(one.p95 <= max(one.stated, 0.8) for one in measured)
    assert np.median([one.p95 for one in measured]) < 0.4


def test_limits_stand_as_they_were_measured() -> None:
    limits = judged.MARKS, judged.FLAT, judged.BLUR, judged.TILT, judged.COARSE, judged.PARALLAX
    assert limits == (0.70, 0.12, 5.0, 12.0, 2.5, 5.0)


# Sides in pixels as phones and cameras give them (from memory); with a tenth cut off one.
@pytest.mark.parametrize(
    ("sides", "told"),
    [
        ((4000, 3000), False), ((3024, 4032), False), ((6000, 4000), False), ((3840, 2160), False),
        ((3000, 3000), False), ((3600, 3000), True), ((4000, 2700), True), ((5400, 4000), True),
    ],
)  # fmt: skip
def test_a_picture_that_may_be_cut_is_told(sides: tuple[int, int], told: bool) -> None:
    assert [each.code for each in judged.cut(sides, Where("bench.jpg"))] == ["photo-cut"] * told
