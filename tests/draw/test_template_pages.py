"""Template sheets read back: every mark at its place, no text on a hole or a cut, nothing too near
the sheet's edge. What is read is the content stream as another library parses it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from io import BytesIO
from itertools import combinations
from math import cos, hypot, radians, sin
from pathlib import Path
from typing import Any, NamedTuple

import pypdf
import pypdfium2
import pytest
import shapely
from pypdf.generic import ContentStream

from handkit.draw.kit_pdf import kit_pages, kit_pdf
from handkit.draw.model.fonts import CAPITAL, shipped_fonts
from handkit.draw.model.free_space import LEADER
from handkit.draw.model.marks import Ink, Page, words_of
from handkit.draw.model.view import view_of
from handkit.draw.templates.join_ink import beyond, joins_of, kept_part
from handkit.ink import ARROW, Tag

ROLL = """
format = 1
title = "Bindery roll"
[material]
thickness = 2
[[piece]]
name = "roll"
rectangle = [180, 420]
round = 20
[[piece]]
name = "pocket"
rectangle = [160, 120]
round = { A = 10, B = 10 }
on = "roll"
at = [10, 8]
[[piece]]
name = "tie"
points = [[0, 0], [16, 0], [16, 140], [8, 150], [0, 140]]
mark = "flesh"
quantity = 2
[[piece]]
name = "tag"
circle = 24
[[seam]]
name = "pocket seam"
runs = ["pocket: D-A-B-C", "roll"]
punch = "through"
[[opening]]
name = "thong holes"
kind = "eyelet"
hole = 5
cap = 9
through = ["roll"]
at = [[40, 400]]
row = [3, 50, 0]
"""


SAMPLES = Path(__file__).parents[2] / "samples"


class Read(NamedTuple):
    """A mark as the file has it: its tag, properties and subpaths in mm."""

    tag: str
    properties: dict[str, Any]
    paths: list[list[tuple[float, float]]]


def marks_in(page: pypdf.PageObject, reader: pypdf.PdfReader) -> Iterator[Read]:
    """Marks of a page whose one scale turns mm into units; points on curves only."""
    open_mark: Read | None = None
    for operands, operator in ContentStream(page["/Contents"].get_object(), reader).operations:
        numbers = [float(x) for x in operands] if operator in (b"m", b"l", b"c", b"cm") else []
        if operator == b"cm":
            assert numbers == pytest.approx([72 / 25.4, 0, 0, 72 / 25.4, 0, 0])
        elif operator == b"BDC":
            properties = {key[1:]: value for key, value in operands[1].items()}
            open_mark = Read(str(operands[0])[1:], properties, [])
        elif operator == b"EMC":
            assert open_mark is not None
            yield open_mark
            open_mark = None
        elif open_mark is not None and operator == b"m":
            open_mark.paths.append([(numbers[0], numbers[1])])
        elif open_mark is not None and operator in (b"l", b"c"):
            open_mark.paths[-1].append((numbers[-2], numbers[-1]))


@pytest.fixture(scope="module", params=["wallet", "roll", "roll, small paper"])
def products(request: pytest.FixtureRequest, wallet: Any, products_of: Callable[..., Any]) -> Any:
    if request.param == "wallet":
        return wallet
    return products_of(ROLL, paper="120x150mm" if "small" in request.param else "A4")


@pytest.fixture(scope="module")
def data(products: Any) -> bytes:
    return kit_pdf(*products).data


@pytest.fixture(scope="module")
def read(data: bytes) -> dict[int, list[Read]]:
    """Marks by sheet number."""
    reader = pypdf.PdfReader(BytesIO(data))
    labels = reader.page_labels
    return {
        int(label.split()[1]): list(marks_in(page, reader))
        for label, page in zip(labels, reader.pages, strict=True)
        if label.startswith("Sheet ")
    }


@pytest.fixture(scope="module")
def pages(products: Any) -> list[Page]:
    drawn = kit_pages(*products, shipped_fonts())
    return [page for page in drawn if page.label.startswith("Sheet ")]


def windows_of(products: Any) -> dict[tuple[str, int], tuple[int, Any]]:
    return {(w.piece, w.number): (s.number, w) for s in products.sheets.sheets for w in s.windows}


def expected_holes(products: Any) -> dict[tuple[str, int, str, int, int], tuple[float, float]]:
    """Every hole that should be ticked in a window, with its place on the sheet."""
    found = {}
    for (piece, number), (_, window) in windows_of(products).items():
        area = shapely.Polygon(window.polygon)
        for seam, layer, hole in products.punched.holes_of(piece):
            through = seam.stitching.punch == "through" and layer.run != seam.face.run
            if through and hole.number not in (1, seam.count):
                continue
            if area.distance(shapely.Point(hole.at)) <= 1e-6:
                key = (piece, number, seam.name, layer.run, hole.number)
                found[key] = window.placed.apply(hole.at)
    return found


def from_rim(products: Any, key: Any, place: tuple[float, float]) -> float:
    """How far a hole on the sheet is from its window's rim."""
    _, window = windows_of(products)[key[:2]]
    rim = shapely.Polygon(window.placed.apply_all(window.polygon))
    return float(rim.exterior.distance(shapely.Point(place)))


@pytest.mark.long
def test_every_hole_is_in_every_window_that_has_room_for_its_tick(
    products: Any, read: dict[int, list[Read]]
) -> None:
    """A tick whose middle is the place, then a round point about it; no other hole."""
    wanted = expected_holes(products)
    seen = {}
    for marks in read.values():
        for mark in marks:
            if mark.tag != "hkHole":
                continue
            p = mark.properties
            key = (str(p["Piece"]), int(p["Window"]), str(p["Seam"]), int(p["Run"]), int(p["Number"]))
            (x0, y0), (x1, y1) = mark.paths[0]
            xs, ys = zip(*mark.paths[-1], strict=True)
            dot = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
            assert ((x0 + x1) / 2, (y0 + y1) / 2) == pytest.approx(dot, abs=0.001)
            assert max(xs) - min(xs) == pytest.approx(0.4, abs=0.001)
            assert key not in seen
            seen[key] = dot
    assert seen.keys() <= wanted.keys()
    for key, place in seen.items():
        assert place == pytest.approx(wanted[key], abs=0.001)
    for key in wanted.keys() - seen.keys():  # half a tick is left out, where another window has it whole
        elsewhere = [other for other in seen if (other[0], *other[2:]) == (key[0], *key[2:])]
        assert elsewhere
        assert from_rim(products, key, wanted[key]) <= 2.5
    drawn = {(piece, *rest) for piece, _, *rest in seen}
    for seam in products.punched.seams:
        assert {(seam.face.piece, seam.name, seam.face.run, k + 1) for k in range(seam.count)} <= drawn


def test_ticks_stand_across_the_seam(products: Any, read: dict[int, list[Read]]) -> None:
    """At a right angle to the way of the holes, on the sheet as in the piece."""
    windows = windows_of(products)
    holes = {
        (s.name, la.run, h.number): h for s in products.punched.seams for la in s.layers for h in la.holes
    }
    for marks in read.values():
        for mark in (mark for mark in marks if mark.tag == "hkHole"):
            p = mark.properties
            hole = holes[(str(p["Seam"]), int(p["Run"]), int(p["Number"]))]
            placed = windows[(str(p["Piece"]), int(p["Window"]))][1].placed
            angle = radians(hole.along_degrees)
            ax, ay = placed.apply_direction((cos(angle), sin(angle)))
            (x0, y0), (x1, y1) = mark.paths[0]
            assert (x1 - x0) * ax + (y1 - y0) * ay == pytest.approx(0, abs=0.001)
            if hole.slit_degrees is not None:
                angle = radians(hole.slit_degrees)
                sx, sy = placed.apply_direction((cos(angle), sin(angle)))
                (x0, y0), (x1, y1) = mark.paths[1]
                assert hypot(x1 - x0, y1 - y0) == pytest.approx(2.5, abs=0.001)
                assert (x1 - x0) * sy - (y1 - y0) * sx == pytest.approx(0, abs=0.001)


def test_openings_are_at_true_size_and_place(products: Any, read: dict[int, list[Read]]) -> None:
    windows = windows_of(products)
    seen = set()
    for marks in read.values():
        for mark in (mark for mark in marks if mark.tag == "hkOpening"):
            p = mark.properties
            pattern = next(o for o in products.punched.pattern.openings if o.name == p["Opening"])
            place = next(q for q in pattern.places if (q.piece, q.number) == (p["Piece"], p["Number"]))
            centre = windows[(str(p["Piece"]), int(p["Window"]))][1].placed.apply(place.at)
            rim = shapely.Polygon(mark.paths[0])
            assert rim.centroid.coords[0] == pytest.approx(centre, abs=0.001)
            reach = [hypot(x - centre[0], y - centre[1]) for x, y in mark.paths[0]]
            assert max(reach) == pytest.approx(pattern.opening.length / 2, abs=0.001)
            if pattern.opening.kind != "slot":
                assert min(reach) == pytest.approx(pattern.opening.diameter / 2, abs=0.001)
            seen.add((p["Piece"], p["Opening"], p["Number"]))
    assert seen == {(q.piece, o.name, q.number) for o in products.punched.pattern.openings for q in o.places}


def test_registration_marks_are_at_one_place_of_the_drawing(
    products: Any, read: dict[int, list[Read]]
) -> None:
    windows = windows_of(products)
    found: dict[tuple[Any, ...], list[tuple[float, float]]] = {}
    for marks in read.values():
        for mark in (mark for mark in marks if mark.tag == "hkRegistration"):
            p = mark.properties
            xs, ys = zip(*(point for path in mark.paths for point in path), strict=True)
            centre = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
            back = windows[(str(p["Piece"]), int(p["Window"]))][1].placed.inverse().apply(centre)
            key = (str(p["Piece"]), tuple(int(x) for x in p["Join"]), int(p["Mark"]))
            found.setdefault(key, []).append(back)
    wanted = {
        (join.piece, join.windows, k): place
        for join in products.sheets.joins
        for k, place in enumerate(join.marks, start=1)
    }
    assert found.keys() == wanted.keys()
    for key, place in wanted.items():
        assert len(found[key]) == 2
        for at in found[key]:
            assert at == pytest.approx(place, abs=0.001)


def test_a_piece_in_one_window_has_its_outline_closed(products: Any, read: dict[int, list[Read]]) -> None:
    windows = windows_of(products)
    for marks in read.values():
        for mark in (mark for mark in marks if mark.tag == "hkOutline"):
            piece, number = str(mark.properties["Piece"]), int(mark.properties["Window"])
            if windows[(piece, number)][1].count > 1:
                continue
            (path,) = mark.paths
            area = abs(products.punched.pattern.piece(piece).cut_outline.signed_area())
            assert shapely.Polygon(path).area == pytest.approx(area, rel=0.03)  # chords of cubics


class Written(NamedTuple):
    text: str
    area: shapely.Polygon


def written_on(page: Page) -> list[Written]:
    """The capitals' boxes of all text that stands in the drawing's room."""
    fonts = shipped_fonts()
    found = []
    for words in words_of([page]):
        (x, y), wide = words.at, fonts.width(words.text, words.size, bold=words.bold)
        angle, high = radians(words.degrees), CAPITAL * words.size
        ux, uy = cos(angle), sin(angle)
        corners = [(0, 0), (wide, 0), (wide, high), (0, high)]
        found.append(
            Written(
                words.text, shapely.Polygon([(x + a * ux - b * uy, y + a * uy + b * ux) for a, b in corners])
            )
        )
    return found


def test_no_text_lies_on_a_hole_an_opening_or_a_cut(
    products: Any, pages: list[Page], read: dict[int, list[Read]]
) -> None:
    for page, sheet in zip(pages, products.sheets.sheets, strict=True):
        texts = written_on(page)
        for mark in read[sheet.number]:
            if mark.tag not in ("hkHole", "hkOpening", "hkOutline", "hkRegistration"):
                continue
            shapes = [shapely.LineString(path) for path in mark.paths if len(path) > 1]
            if mark.tag == "hkOutline":
                shapes = _true_outline(products, mark)
            for text in texts:
                assert not any(shape.intersects(text.area) for shape in shapes), (text.text, mark.properties)


def _true_outline(products: Any, mark: Read) -> list[Any]:
    """What shows of an outline in its window, finely flattened."""
    _, window = windows_of(products)[(str(mark.properties["Piece"]), int(mark.properties["Window"]))]
    outline = products.punched.pattern.piece(window.piece).cut_outline.flattened(sagitta=0.01)
    ring = window.placed.apply_all([*outline, outline[0]])
    line = shapely.LineString(ring)
    return [line.intersection(shapely.Polygon(window.placed.apply_all(window.polygon)).buffer(0.1))]


def test_no_two_texts_overlap(pages: list[Page]) -> None:
    for page in pages:
        for one, other in combinations(written_on(page), 2):
            assert one.area.intersection(other.area).area < 1e-6, (one.text, other.text)


def test_each_window_says_its_name_and_each_piece_what_to_cut_and_which_side(
    products: Any, pages: list[Page]
) -> None:
    texts: dict[str, str] = {}
    for page, sheet in zip(pages, products.sheets.sheets, strict=True):
        text = " ".join(words.text for words in words_of([page]))
        for window in sheet.windows:
            assert window.piece in text
            if window.count > 1:
                assert f"portion {window.number} of {window.count}" in text
            texts[window.piece] = texts.get(window.piece, "") + text
    for piece in products.punched.pattern.pieces:
        assert f"cut {piece.quantity}" in texts[piece.name]
        assert ("FLESH" if piece.mark == "flesh" else "grain side") in texts[piece.name]


def test_nothing_is_printed_nearer_to_the_sheets_edge(data: bytes) -> None:
    """By raster at 100 dpi: a rim of 5 mm less one pixel is white on every page."""
    document = pypdfium2.PdfDocument(data)
    rim = int(5 / 25.4 * 100) - 1
    for page in document:
        grey = page.render(scale=100 / 72).to_numpy().min(axis=2)
        for strip in (grey[:rim], grey[-rim:], grey[:, :rim], grey[:, -rim:]):
            assert strip.min() > 250
    document.close()


def test_numbers_stand_at_the_first_the_tenth_and_the_last_hole(wallet: Any) -> None:
    pages = [page for page in kit_pages(*wallet, shipped_fonts()) if page.label.startswith("Sheet ")]
    texts = {words.text for words in words_of(pages)}
    count = next(seam.count for seam in wallet.punched.seams if seam.name == "hem")
    code = next(f"S{seam.order}" for seam in wallet.plan.seams if seam.name == "hem")
    assert {f"{code}·1", "10", str(count)} <= texts


def test_long_ticks_are_five_mm_and_short_ones_2_4(read: dict[int, list[Read]]) -> None:
    for marks in read.values():
        for mark in (mark for mark in marks if mark.tag == "hkHole"):
            (a, b), number = mark.paths[0], int(mark.properties["Number"])
            length = hypot(b[0] - a[0], b[1] - a[1])
            assert length == pytest.approx(5.0 if number % 10 == 0 or number == 1 else length, abs=0.001)
            assert length == pytest.approx(2.4, abs=0.001) or length == pytest.approx(5.0, abs=0.001)


def test_scale_bars_are_as_long_as_they_claim(products: Any, read: dict[int, list[Read]]) -> None:
    """With edge 5 and margin 10, the tens that fit: A4 195 and 282, 120 x 150: 105 and 135."""
    wanted = {210: [190, 280], 120: [100, 130]}[round(products.sheets.paper.width)]
    for marks in read.values():
        bars = [mark for mark in marks if mark.tag == "hkScaleBar"]
        assert [float(bar.properties["Length"]) for bar in bars] == wanted
        for bar in bars:
            ((a, b),) = bar.paths
            assert hypot(b[0] - a[0], b[1] - a[1]) == pytest.approx(
                float(bar.properties["Length"]), abs=0.001
            )


def test_a_leader_ends_on_what_is_kept_of_a_portion_when_it_is_trimmed(
    products_of: Callable[..., Any],
) -> None:
    """One that ends beyond the trim line names waste: the case has a gusset that is named beside it."""
    products = products_of((SAMPLES / "sketching_case" / "case.toml").read_text("utf-8"))
    windows = windows_of(products)
    pages = kit_pages(*products, shipped_fonts())
    for page in (page for page in pages if page.label.startswith("Sheet ")):
        for mark in (mark for group in page.groups for mark in group.marks if mark.tag is Tag.LABEL):
            p = dict(mark.properties)
            view = view_of(products.punched.pattern, windows[str(p["Piece"]), int(str(p["Window"]))][1])
            kept = shapely.Polygon(kept_part(view, joins_of(view, products.sheets))).buffer(0.3)
            for part in mark.parts:
                if isinstance(part, Ink) and part.stroke == LEADER:
                    x0, y0, x1, y1 = part.path.numbers
                    assert any(kept.contains(shapely.Point(*at)) for at in ((x0, y0), (x1, y1)))


def test_what_is_kept_of_a_portion_ends_at_its_trim_lines(products: Any) -> None:
    for _, window in windows_of(products).values():
        view = view_of(products.punched.pattern, window)
        joins = joins_of(view, products.sheets)
        kept = shapely.Polygon(kept_part(view, joins))
        assert 0 < kept.area <= shapely.Polygon(view.part()).area + 0.01
        for join in joins:
            waste = shapely.Polygon(beyond(view, join))
            assert kept.intersection(waste).area <= 0.01


ROWS = ("tests/projects/bone_folder_case/case", "samples/wallet/wallet", "samples/bindery_roll/roll")


@pytest.mark.parametrize("project", ROWS)
def test_every_row_of_holes_has_its_arrow(products_of: Callable[..., Any], project: str) -> None:
    """A ring on a base and a row between the outlines of tools too: beside its first hole, or one of the
    next; one for each layer of each seam."""
    products = products_of((Path(__file__).parents[2] / f"{project}.toml").read_text("utf-8"))
    pages = [page for page in kit_pages(*products, shipped_fonts()) if page.sheet]
    arrows = [
        ink
        for page in pages
        for group in page.groups
        for mark in group.marks
        for ink in mark.parts
        if mark.tag is Tag.LABEL and isinstance(ink, Ink) and ink.stroke == ARROW
    ]
    layers = [layer for seam in products.punched.seams for layer in seam.layers if len(layer.holes) > 1]
    assert len(arrows) == len(layers)
