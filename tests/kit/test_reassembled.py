"""Cut out and taped: a kit's windows, put together again, show the pieces as drawn whole.

An apron and a tote are printed twice by `handkit make`: on A4, in windows, and on one sheet large
enough for all. Both are drawn by pdfium at 150 dpi in the piece's own frame. Nothing is
resampled: a page's content is put under the matrix that leads from the sheet to the piece (the
report's `placed`, backwards) and a pixel grid, and drawn once.

Labels, registration marks, rule lines and the like differ by nature, so that only what is cut and
punched is compared: outline, holes, openings. A small walker of its own copies a page's operators,
leaves out text, and lets nothing be painted but under the tags of those three and of the window that
is looked at (another may lie beside it on the sheet); clips stay. So what a window hides by its clip
is hidden here too.

Each window is cut out along its polygon and trimmed at the cut lines of its joins, as a maker
does it; where two windows overlap, what each shows must be the piece's, too.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import Any

import numpy as np
import pypdf
import pypdfium2
import pytest
from pypdf.generic import ArrayObject, ContentStream, DecodedStreamObject, NameObject

UNIT = 25.4 / 72  # mm
PIXEL = 25.4 / 150  # mm
DARK = 128  # of 255: a pixel with ink
ROOM = 3  # pixels round what is drawn

SHOWN = {"/hkOutline", "/hkHole", "/hkOpening"}
STATE = {b"q", b"Q", b"cm", b"w", b"d", b"j", b"J", b"M", b"G", b"g", b"W", b"W*", b"n"}
PATH = {b"m", b"l", b"c", b"v", b"y", b"re", b"h"}
PAINT = {b"S", b"s", b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*"}

HEAD = """
format = 1
title = "For sketching trips"
[material]
thickness = 2
kind = "canvas"
[stitching]
pitch = 9
inset = 7
thread = 1
hole = { round = 2 }
"""
APRON = """
[[piece]]
name = "apron"
points = [[0, 0], [680, 0], [680, 500], [480, 660], [460, 880], [220, 880], [200, 660], [0, 500]]
round = { A = 60, B = 60, D = 30, G = 30 }
arc = { "C-D" = -35, "G-H" = -35, "E-F" = 12 }
[[piece]]
name = "apron pocket"
points = [[0, 0], [300, 0], [290, 190], [10, 190]]
round = { A = 24, B = 24 }
on = "apron"
at = [190, 180]
[[seam]]
name = "apron pocket"
runs = ["apron pocket: D-A-B-C", "apron"]
[[opening]]
name = "neck eyelet"
kind = "eyelet"
hole = 8
through = ["apron"]
at = [[250, 850], [430, 850]]
[[opening]]
name = "tie slot"
kind = "slot"
slot = [30, 4]
turn = 90
through = ["apron"]
at = [[22, 450], [658, 450]]
"""
TOTE = """
[[piece]]
name = "tote front"
rectangle = [300, 420]
round = { A = 30, B = 30 }
[[piece]]
name = "tote back"
copy = "tote front"
mirrored = true
mark = "flesh"
[[piece]]
name = "tote gusset"
points = [[0, 0], [1106, 0], [1106, 60], [0, 60]]
[[piece]]
name = "handle"
rectangle = [560, 30]
round = 8
quantity = 2
[[seam]]
name = "front of the tote"
runs = ["tote front: D-A-B-C", "tote gusset: A-B"]
[[seam]]
name = "back of the tote"
runs = ["tote back: D-A-B-C", "tote gusset: D-C"]
"""
STRAP = """
format = 1
title = "For the ladder"
[material]
thickness = 3
[[piece]]
name = "sling"
points = [[0, 0], [880, 0], [900, 20], [880, 40], [0, 40]]
round = { A = 12, E = 12 }
mark = "flesh"
[[opening]]
name = "eye"
kind = "eyelet"
hole = 6
through = ["sling"]
at = [[30, 20], [500, 20], [850, 20]]
"""
WHOLE = "1200x1200mm"
CUT = "A4"

Matrix = np.ndarray  # 3 × 3, on columns
Operation = tuple[Any, bytes]


@dataclass(frozen=True)
class Print:
    """A kit as printed: its pages and its report."""

    pdf: Path
    report: dict[str, Any]

    @cached_property
    def pages(self) -> dict[tuple[str, int], list[Operation]]:
        """The operators of the page that shows a piece's window, told by its tags."""
        found = {}
        for page in pypdf.PdfReader(self.pdf).pages:
            content = page.get_contents()
            shows = b"/Window" in content.get_data()
            operations = ContentStream(content, page.pdf).operations if shows else []
            for operands, operator in operations:
                if operator == b"BDC" and "/Window" in operands[1]:
                    found[_window_of(operands)] = operations
        return found

    def windows(self, piece: str) -> list[dict[str, Any]]:
        return [w for sheet in self.report["sheets"] for w in sheet["windows"] if w["piece"] == piece]

    def joins(self, piece: str) -> list[dict[str, Any]]:
        return [join for join in self.report["joins"] if join["piece"] == piece]


@dataclass(frozen=True)
class Canvas:
    """A pixel grid in a piece's frame: pixel (row, column) of a picture stands `rows` up, `left` on."""

    left: int
    bottom: int
    width: int
    height: int

    @staticmethod
    def round_about(points: np.ndarray) -> Canvas:
        low = np.floor(points.min(axis=0) / PIXEL).astype(int) - ROOM
        high = np.ceil(points.max(axis=0) / PIXEL).astype(int) + ROOM
        return Canvas(*map(int, (*low, *(high - low))))

    @property
    def matrix(self) -> Matrix:
        """From the piece's frame to pixels, y up."""
        return np.array([[1 / PIXEL, 0, -self.left], [0, 1 / PIXEL, -self.bottom], [0, 0, 1]])

    @cached_property
    def centres(self) -> tuple[np.ndarray, np.ndarray]:
        """x of the columns and y of the rows, in mm, as they can be put against one another."""
        x = (self.left + np.arange(self.width) + 0.5) * PIXEL
        y = (self.bottom + self.height - np.arange(self.height) - 0.5) * PIXEL
        return x[None, :], y[:, None]

    def inside(self, polygon: np.ndarray) -> np.ndarray:
        """The pixels in a convex polygon."""
        x, y = self.centres
        ends = np.roll(polygon, -1, axis=0)
        turn = np.sign(np.sum(polygon[:, 0] * ends[:, 1] - polygon[:, 1] * ends[:, 0]))
        mask = np.ones((self.height, self.width), dtype=bool)
        for (ax, ay), (bx, by) in zip(polygon, ends, strict=True):
            mask &= turn * ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) >= 0
        return mask


def _window_of(operands: Any) -> tuple[str, int]:
    return str(operands[1]["/Piece"]), int(operands[1]["/Window"])


def _kept(operations: list[Operation], window: tuple[str, int]) -> bytearray:
    """Operators without text; a path that is not the window's outline, hole or opening ends unpainted."""
    kept, tags, texts = bytearray(), [], False
    for operands, operator in operations:
        assert operator not in (b"Do", b"sh", b"BI"), "nothing is drawn in another way"
        if operator in (b"BT", b"ET"):
            texts = operator == b"BT"
        elif operator in (b"BDC", b"BMC"):
            tags.append(operands[0] in SHOWN and _window_of(operands) == window)
        elif operator == b"EMC":
            tags.pop()
        elif operator in PAINT:
            kept += b"\n" + (operator if any(tags) else b"n")
        elif operator in STATE | PATH and not texts:
            kept += b"\n" + b" ".join([*map(_written, operands), operator])
    assert not tags
    return kept


def _written(operand: Any) -> bytes:
    if isinstance(operand, ArrayObject):
        return b"[" + b" ".join(map(_written, operand)) + b"]"
    return f"{float(operand):.6f}".encode()


def _matrix(numbers: list[float]) -> Matrix:
    a, b, c, d, e, f = numbers
    return np.array([[a, c, e], [b, d, f], [0, 0, 1]])


def pictures(printed: Print, wanted: list[tuple[dict[str, Any], Canvas]]) -> list[np.ndarray]:
    """Windows drawn on canvases in their pieces' frames; a unit of the page is a pixel."""
    writer = pypdf.PdfWriter()
    for window, canvas in wanted:
        page = writer.add_blank_page(canvas.width, canvas.height)
        placed = canvas.matrix @ np.linalg.inv(_matrix(window["placed"])) @ np.diag([UNIT, UNIT, 1])
        head = " ".join(f"{number:.9f}" for number in placed[:2].T.ravel()) + " cm"
        stream = DecodedStreamObject()
        shown = (window["piece"], window["window"])
        stream.set_data(head.encode() + _kept(printed.pages[shown], shown))
        page[NameObject("/Contents")] = writer._add_object(stream)
    target = printed.pdf.with_suffix(".windows.pdf")
    writer.write(target)
    with pypdfium2.PdfDocument(target) as document:
        return [_rendered(document[number], canvas) for number, (_, canvas) in enumerate(wanted)]


def _rendered(page: Any, canvas: Canvas) -> np.ndarray:
    grey = page.render(scale=1, grayscale=True).to_numpy()
    assert grey.shape[:2] == (canvas.height, canvas.width)
    return grey.reshape(canvas.height, canvas.width) < DARK


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory, handkit: Callable[..., str]) -> Callable[..., Print]:
    """A project on a paper, printed once."""
    folder = tmp_path_factory.mktemp("reassembled")
    for name, text in {"trip": HEAD + APRON + TOTE, "tote": HEAD + TOTE, "strap": STRAP}.items():
        (folder / f"{name}.toml").write_text(text, "utf-8")

    @cache
    def on(project: str, paper: str, *options: str) -> Print:
        name = f"{project} on {paper}"
        pdf, report = folder / f"{name}.pdf", folder / f"{name}.json"
        handkit(
            "make",
            f"{project}.toml",
            "-o",
            pdf,
            "--report",
            report,
            "--paper",
            paper,
            *options,
            folder=folder,
        )
        return Print(pdf, json.loads(report.read_text("utf-8")))

    return on


@dataclass(frozen=True)
class Assembled:
    """A piece drawn whole, and its windows: each with its ink, and what is left of it once trimmed."""

    canvas: Canvas
    whole: np.ndarray
    shown: list[tuple[Canvas, np.ndarray, np.ndarray]]

    @property
    def together(self) -> np.ndarray:
        """All trimmed windows laid in place."""
        every = np.zeros_like(self.whole)
        for canvas, ink, trimmed in self.shown:
            every[self.at(canvas)] |= ink & trimmed
        return every

    def at(self, canvas: Canvas) -> tuple[slice, slice]:
        """Where a window's pixels are among the whole's."""
        top = self.canvas.bottom + self.canvas.height - canvas.bottom - canvas.height
        left = canvas.left - self.canvas.left
        return slice(top, top + canvas.height), slice(left, left + canvas.width)


def assembled(name: str, *, cut: Print, whole: Print, slip: float = 0.0) -> Assembled:
    """A piece's windows and the piece; the first window out of place by `slip` mm along the page."""
    (one,) = whole.windows(name)
    windows = [dict(window) for window in cut.windows(name)]
    polygons = [np.array(window["polygon"]) for window in windows]
    canvas = Canvas.round_about(np.vstack([np.array(one["polygon"]), *polygons]))
    canvases = [Canvas.round_about(polygon) for polygon in polygons]
    a, b, c, d, e, f = windows[0]["placed"]
    windows[0]["placed"] = [a, b, c, d, e + slip, f]
    inks = pictures(cut, list(zip(windows, canvases, strict=True)))
    shown = []
    for window, where, polygon, ink in zip(windows, canvases, polygons, inks, strict=True):
        cut_out = where.inside(polygon)
        shown.append((where, ink & cut_out, cut_out & trimmed(where, window, windows, cut.joins(name))))
    return Assembled(canvas, pictures(whole, [(one, canvas)])[0], shown)


def trimmed(canvas: Canvas, window: dict[str, Any], windows: Any, joins: Any) -> np.ndarray:
    """What a window keeps: at each of its joins, its own side of the cut line, prolonged."""
    middle = {other["window"]: np.mean(other["polygon"], axis=0) for other in windows}
    x, y = canvas.centres
    mask = np.ones((canvas.height, canvas.width), dtype=bool)
    for join in joins:
        if window["window"] not in join["windows"]:
            continue
        (other,) = (number for number in join["windows"] if number != window["window"])
        (ax, ay), (bx, by) = join["cut_line"]
        normal = np.array([ay - by, bx - ax])
        side = np.sign(normal @ (middle[window["window"]] - middle[other]))
        mask &= side * (normal[0] * (x - ax) + normal[1] * (y - ay)) >= 0
    return mask


def strays(one: np.ndarray, other: np.ndarray) -> list[list[int]]:
    """Inked pixels of one picture, row and column, that have none within a pixel in the other."""
    rows, columns = np.nonzero(one)
    around = np.pad(other, 1)
    near = np.zeros(len(rows), dtype=bool)
    for down in (0, 1, 2):
        for right in (0, 1, 2):
            near |= around[rows + down, columns + right]
    return np.column_stack([rows, columns])[~near].tolist()


@pytest.mark.long
@pytest.mark.parametrize(
    ("project", "name"),
    [
        *(("tote", name) for name in ("tote front", "tote back", "tote gusset")),
        *(("trip", name) for name in ("apron", "tote front", "tote back", "tote gusset")),
    ],
)
def test_windows_put_together_are_the_piece(project: str, name: str, printed: Callable[..., Print]) -> None:
    found = assembled(name, cut=printed(project, CUT), whole=printed(project, WHOLE))
    assert len(found.shown) > 1
    assert found.whole.sum() > 1000
    together = found.together
    assert strays(found.whole, together) == []
    assert strays(together, found.whole) == []
    for canvas, ink, _ in found.shown:  # untrimmed: what lies under its neighbour at a join
        assert strays(ink, found.whole[found.at(canvas)]) == []


@pytest.mark.long
def test_a_window_a_little_out_of_place_is_seen(printed: Callable[..., Print]) -> None:
    """Three pixels, 0.5 mm."""
    found = assembled("tote front", cut=printed("tote", CUT), whole=printed("tote", WHOLE), slip=3 * PIXEL)
    assert strays(found.whole, found.together)
    assert strays(found.together, found.whole)


def test_the_ends_of_a_shortened_strap_are_the_strap_but_for_what_is_left_out(
    printed: Callable[..., Print],
) -> None:
    """Two straight parts are left out: of three windows each shows all there is to its break lines."""
    cut, whole = printed("strap", CUT, "--straights", "shortened"), printed("strap", WHOLE)
    found = assembled("sling", cut=cut, whole=whole)
    assert (len(found.shown), len(cut.report["breaks"]), cut.joins("sling")) == (3, 2, [])
    x, _ = found.canvas.centres
    out = np.zeros_like(found.whole)
    for one in cut.report["breaks"]:
        (start, _), (end, _) = (line[0] for line in one["lines"])
        assert end - start == pytest.approx(one["length_mm"], abs=0.002)
        out |= (x > start) & (x < end)
    assert found.whole[out].any()
    assert strays(found.whole & ~out, found.together) == []
    assert strays(found.together, found.whole) == []
    beyond = found.together & out  # half a pen's width at most beside the lines
    assert beyond.sum() <= 4 * len(cut.report["breaks"]) * (0.6 / PIXEL) ** 2
