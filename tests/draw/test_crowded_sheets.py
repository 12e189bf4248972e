"""Sheets where pieces, seams and openings crowd: nothing is left untold, nothing can be mistaken."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from math import dist
from typing import Any, NamedTuple

import pytest
import shapely

from handkit.draw.model.fonts import CAPITAL, shipped_fonts
from handkit.draw.model.lettering import TextLine
from handkit.draw.model.marks import Ink, Mark, Words
from handkit.draw.model.view import View, view_of
from handkit.draw.templates.hole_ink import shown_holes
from handkit.draw.templates.join_ink import joins_of, keeps
from handkit.draw.templates.opening_ink import shown_openings
from handkit.draw.templates.template_pages import template_groups
from handkit.draw.words.names import codes_of
from handkit.ink import Tag

FONTS = shipped_fonts()

# Slits, a closed seam on a piece drawn from the flesh side, trims, skives, an eyelet row, tiny pieces.
PURSE = """
format = 1
title = "Bindery pocket with a round purse"
[material]
thickness = 1.8
kind = "soft leather"
[stitching]
pitch = 3.3
inset = 3.5
thread = 0.6
hole = { slit = 1.7, slant = 45 }
[[piece]]
name = "purse front"
circle = 130
mark = "flesh"
[[piece]]
name = "gusset"
rectangle = [386, 34]
skive = { "D-A" = { width = 10, to = 0.8 }, "B-C" = { width = 10, to = 0.8 } }
[[piece]]
name = "purse window"
circle = 60
on = "purse front"
[[piece]]
name = "pocket"
rectangle = [180, 140]
round = { A = 20, B = 3 }
trim = { "D-A-B-C" = 3 }
skive = { "C-D" = { width = 14, to = 0.9 } }
folds = { hem = [[0, 126], [180, 126]] }
mark = "flesh"
[[piece]]
name = "pen tunnel"
points = [[0, 0], [28, 0], [34, 120], [-6, 120]]
on = "pocket"
at = [140, 8]
[[piece]]
name = "tag"
rectangle = [30, 18]
quantity = 3
mark = "flesh"
[[piece]]
name = "tiny"
circle = 22
quantity = 2
[[seam]]
name = "window"
runs = ["purse window: A-A", "purse front"]
[[seam]]
name = "pen tunnel"
runs = ["pen tunnel: D-A-B-C", "pocket"]
[[seam]]
name = "hem line"
runs = ["pocket: D-C"]
hole = { round = 1.2 }
[[opening]]
name = "eyelets"
kind = "eyelet"
hole = 5
cap = 9
through = ["pocket"]
at = [[20, 112]]
row = [4, 26, 0]
[[opening]]
name = "tag rivet"
kind = "rivet"
hole = 3
cap = 8
through = ["tag"]
at = [[15, 9]]
"""

# Two seams on one corner hole, four corners inside stitch lines, extra holes past a mouth.
CASE = """
format = 1
title = "Felt seed case"
[material]
thickness = 3
kind = "felt"
[[piece]]
name = "front panel"
rectangle = [180, 140]
round = { A = 30, B = 30 }
[[piece]]
name = "gusset"
rectangle = [424, 40]
flat = false
[[piece]]
name = "pocket"
rectangle = [100, 80]
on = "front panel"
at = [40, 30]
[[seam]]
name = "pocket"
runs = ["pocket: D-A-B-C", "front panel"]
wrap_start = 2
past_start = 4
[[seam]]
name = "front to gusset"
runs = ["front panel: D-A-B-C", "gusset: A-B"]
[[seam]]
name = "top edge"
runs = ["front panel: C-D"]
"""


HOLDERS = """
format = 1
[material]
thickness = 2
[stitching]
pitch = 4
inset = 4
[[piece]]
name = "back"
rectangle = [150, 200]
[[part]]
name = "holder"
kind = "holder row"
on = "back"
at = [10, 20]
gap = 14
strap = 30
shows = 60
[[item]]
name = "one"
in = "holder"
size = [24, 18, 150]
[[item]]
name = "two"
in = "holder"
size = [24, 18, 150]
[[item]]
name = "three"
in = "holder"
size = [24, 18, 150]
"""

# A strip that its holes and its fold leave no long room.
FOB = """
format = 1
[material]
thickness = 2
[stitching]
pitch = 4
inset = 4
thread = 0.8
hole = { round = 1.6 }
[make]
copies = 5
[page]
draw = "each"
[[piece]]
name = "fob"
rectangle = [28, 150]
round = 8
[piece.folds]
ring = { line = [[0, 75], [28, 75]], radius = 1.5 }
[[seam]]
name = "fob"
runs = [{ run = "fob: D-A-B-C", from_start = 95, from_end = 95 }, "fob"]
[[fitting]]
name = "split ring"
kind = "ring"
on = "fob"
fold = "ring"
inside = 29
bar = 3
"""


class Shown(NamedTuple):
    """A window with what it should tell and what it tells."""

    view: View
    words: tuple[Words, ...]
    lines: tuple[Ink, ...]
    kept: Callable[[tuple[float, float]], bool]


class Drawn(NamedTuple):
    name: str
    products: Any
    shown: tuple[tuple[Shown, ...], ...]  # by sheet
    pages: tuple[tuple[Mark, ...], ...]  # by sheet, all marks


def marks_on(products: Any, sheet: Any) -> list[Mark]:
    punched, plan, sheets = products
    groups = template_groups(
        sheet, punched=punched, plan=plan, sheets=sheets, codes=codes_of(plan), fonts=FONTS
    )
    return [mark for group in groups for mark in group.marks]


@pytest.fixture(scope="module", params=["purse, A4", "purse, letter", "case, A4", "case, letter"])
def drawn(request: pytest.FixtureRequest, products_of: Callable[..., Any]) -> Drawn:
    name, paper = request.param.split(", ")
    products = products_of({"purse": PURSE, "case": CASE}[name], paper=paper)
    punched, _, sheets = products
    pages = []
    marks: list[tuple[Mark, ...]] = []
    for sheet in sheets.sheets:
        on_page = marks_on(products, sheet)
        views = [view_of(punched.pattern, window) for window in sheet.windows]
        pages.append(tuple(_shown(view, on_page, sheets) for view in views))
        marks.append(tuple(on_page))
    return Drawn(request.param, products, tuple(pages), tuple(marks))


def _shown(view: View, marks: list[Mark], sheets: Any) -> Shown:
    joins = joins_of(view, sheets)
    told = [part for mark in marks if mark.properties == view.properties for part in mark.parts]
    words = tuple(part for part in told if isinstance(part, Words))
    lines = tuple(part for part in told if isinstance(part, Ink))
    return Shown(view, words, lines, lambda at: keeps(view, joins, at))


def windows(drawn: Drawn) -> Iterator[Shown]:
    for page in drawn.shown:
        yield from page


def middle(words: Words) -> tuple[float, float]:
    width = FONTS.width(words.text, words.size, bold=words.bold)
    return (words.at[0] + width / 2, words.at[1] + CAPITAL * words.size / 2)


def test_every_corner_has_its_letter(drawn: Drawn) -> None:
    for shown in windows(drawn):
        told = {words.text for words in shown.words}
        for letter in shown.view.piece.letters:
            if shown.view.holds(letter.at) and shown.kept(shown.view.to_sheet.apply(letter.at)):
                assert letter.name in told, (shown.view.piece.name, letter.name)


def test_every_opening_and_every_seam_is_named(drawn: Drawn) -> None:
    punched, plan, _ = drawn.products
    codes = codes_of(plan)
    for shown in windows(drawn):
        told = [words.text for words in shown.words]
        openings = [o for o in shown_openings(shown.view, punched, codes) if shown.kept(o.at)]
        holes = [h for h in shown_holes(shown.view, punched, codes) if h.numbered and shown.kept(h.at)]
        for code in {opening.code for opening in openings} | {hole.code for hole in holes}:
            assert any(t == code or t.startswith((f"{code} ", f"{code}·")) for t in told), code


# Letters without a place by their corner, and without a line to it.
BARE: dict[str, set[tuple[str, str]]] = {
    "purse, A4": set(),
    "purse, letter": set(),
    "case, A4": set(),
    "case, letter": set(),
}


def lines_to(shown: Shown, at: tuple[float, float]) -> list[tuple[tuple[float, float], float]]:
    """Of each leader: where it begins, and how far it stops from a place, its end the nearer to it."""
    found = []
    for ink in shown.lines:
        if ink.path.operators == "ml":
            x0, y0, x1, y1 = ink.path.numbers
            start, end = sorted(((x0, y0), (x1, y1)), key=lambda point: -dist(point, at))
            found.append((start, dist(end, at)))
    return found


def test_a_letter_stands_by_its_corner_or_has_a_line_to_it(drawn: Drawn) -> None:
    """Within 8 mm, on bare paper nearer to it than to another piece; or a line leads to it, or stops 7 mm
    before it. Two corners of a small piece on letter paper have hole, number and neighbour all round them."""
    bare = set()
    for page in drawn.shown:
        shapes = [shapely.Polygon(shown.view.part()) for shown in page]
        for index, shown in enumerate(page):
            others = [shape for k, shape in enumerate(shapes) if k != index]
            for letter in shown.view.piece.letters:
                at = shown.view.to_sheet.apply(letter.at)
                mine = [words for words in shown.words if words.text == letter.name]
                if not shown.view.holds(letter.at) or not shown.kept(at):
                    continue
                place = shapely.Point(middle(min(mine, key=lambda words: dist(middle(words), at))))
                reach = dist(place.coords[0], at)
                near = shapes[index].covers(place) or all(other.distance(place) > reach for other in others)
                led = any(
                    dist(start, place.coords[0]) <= 3 and off <= 7.01 for start, off in lines_to(shown, at)
                )
                if not led and not (reach <= 8.01 and near):
                    bare.add((shown.view.piece.name, letter.name))
    assert bare == BARE[drawn.name]


def test_a_rows_name_stands_beside_its_first_hole_or_has_a_line_to_it(
    products_of: Callable[..., Any],
) -> None:
    """Between tools in holders there are 14 mm for a name of 11, and a row in their middle: it would stand
    across a tool's outline, as near to the next row."""
    products = products_of(HOLDERS)
    for sheet in products.sheets.sheets:
        marks = marks_on(products, sheet)
        for view in (view_of(products.punched.pattern, window) for window in sheet.windows):
            shown = _shown(view, marks, products.sheets)
            for hole in shown_holes(view, products.punched, codes_of(products.plan)):
                name = f"{hole.code}·1"
                if hole.first:
                    (words,) = [words for words in shown.words if words.text == name]
                    area = area_of(words)
                    led = any(
                        area.distance(shapely.Point(start)) < 1 for start, _ in lines_to(shown, hole.at)
                    )
                    assert led or area.distance(shapely.Point(hole.at)) <= 6, name


def test_an_openings_name_stands_nearer_to_it_than_to_any_other(drawn: Drawn) -> None:
    punched, plan, _ = drawn.products
    for shown in windows(drawn):
        seen = shown_openings(shown.view, punched, codes_of(plan))
        for words in shown.words:
            named = words.text.split(" ", 1)[0]
            mine = [o for o in seen if named in (o.code, f"{o.code}·{o.place.number}")]
            if mine and "turn" not in words.text:
                reach = dist(middle(words), mine[0].at)
                others = [o for o in seen if o is not mine[0]]
                assert all(dist(middle(words), other.at) > reach for other in others), words.text


def test_every_window_says_all_that_a_piece_can_not_be_cut_rightly_without(drawn: Drawn) -> None:
    """In however few words it has room for: how many, how thick, which side, that it is drawn mirrored."""
    for shown in windows(drawn):
        text, piece = " ".join(words.text for words in shown.words), shown.view.piece
        assert piece.name in text
        assert re.search(rf"cut {piece.quantity}\b|{piece.quantity}×", text), text
        assert f"{piece.thickness:g} mm" in text, text
        assert any(side in text for side in ("grain", "FLESH", "face", "BACK")), text
        assert ("drawn mirrored" in text) is piece.template_mirrored, text


def test_a_label_lies_across_no_fold_where_the_piece_has_other_room(products_of: Callable[..., Any]) -> None:
    """A strip of 28 by 150 with a row round either end, folded in its middle: 20 mm are free beside the
    fold and its bends, which take 8; three lines of short words are 8 mm high."""
    products = products_of(FOB)
    (sheet,) = products.sheets.sheets
    marks = marks_on(products, sheet)
    ink = ink_of(marks)
    words = [part for mark in marks for part in mark.parts if isinstance(part, Words)]
    assert sum(each.text == "fob" for each in words) == sum("2 mm" in each.text for each in words) == 5
    assert all(not lies_over(each, ink) & {Tag.FOLD, Tag.ITEM} for each in words)


def test_extra_holes_past_a_mouth_are_drawn_and_named(products_of: Callable[..., Any]) -> None:
    """By hand: the pocket's D is at (40, 110) of the front, its first hole at (44, 106), its mouth's
    edge 4 mm above that; 4 mm past it the extra hole, at (44, 114)."""
    products = products_of(CASE)
    (mouth,) = (m for seam in products.plan.seams for m in seam.mouths if m.at is not None)
    assert mouth.base == "front panel"
    sheet, window = next((s, w) for s in products.sheets.sheets for w in s.windows if w.piece == mouth.base)
    groups = template_groups(
        sheet,
        punched=products.punched,
        plan=products.plan,
        sheets=products.sheets,
        codes=codes_of(products.plan),
        fonts=FONTS,
    )
    parts = [part for group in groups for mark in group.marks for part in mark.parts]
    assert any(isinstance(part, Words) and part.text.endswith(" turn") for part in parts)
    x, y = window.placed.apply(mouth.at)
    dots = [part for part in parts if isinstance(part, Ink) and part.stroke is None]
    assert any(dist((x + 0.2, y), part.path.numbers[:2]) < 1e-6 for part in dots)


# What must never be written over: cuts, holes, and what is laid over something else to be true.
HARD = {Tag.OUTLINE, Tag.HOLE, Tag.CENTRE, Tag.OPENING, Tag.MARK, Tag.CUT, Tag.BREAK}

# Corners between a hem, a skive and a trim have no other room within 8 mm, and no bare paper of their own.
OVER_LINES = {
    "purse, A4": {("pocket", "C"), ("pocket", "D")},
    "purse, letter": {("pocket", "C"), ("pocket", "D")},
    "case, A4": set(),
    "case, letter": set(),
}


def lines_of(ink: Ink) -> shapely.Geometry:
    """What a pen draws, a curve by sixteen chords."""
    rings: list[list[tuple[float, ...]]] = []
    for name, at in ink.path.each():
        if name == "m":
            rings.append([at])
        elif name == "l":
            rings[-1].append(at)
        elif name == "h":
            rings[-1].append(rings[-1][0])
        else:
            (a, b), (c, d, e, f, g, h) = rings[-1][-1], at
            for t in (k / 16 for k in range(1, 17)):
                i, j, m, n = (1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3
                rings[-1].append((i * a + j * c + m * e + n * g, i * b + j * d + m * f + n * h))
    return shapely.MultiLineString(rings)


def area_of(words: Words) -> shapely.Geometry:
    """What a text covers: its line set about the origin, then moved to where the text begins."""
    line = TextLine(words.text, words.size, words.bold).measured(FONTS, upright=words.degrees == 90)
    box, start = line.box_at((0, 0)), line.words_at((0, 0))[0].at
    x, y = words.at[0] - start[0], words.at[1] - start[1]
    return shapely.box(box.left + x, box.bottom + y, box.right + x, box.top + y)


def ink_of(marks: Iterable[Mark]) -> list[tuple[Tag, shapely.Geometry]]:
    """All lines that are drawn and are no text's own, with their tags."""
    drawings = [mark for mark in marks if mark.tag != Tag.LABEL]
    return [(m.tag, lines_of(part)) for m in drawings for part in m.parts if isinstance(part, Ink)]


def lies_over(words: Words, ink: list[tuple[Tag, shapely.Geometry]]) -> set[Tag]:
    """The lines, by their tags, that a text lies over."""
    return {tag for tag, line in ink if line.intersects(area_of(words))}


def test_no_text_lies_over_thin_lines_but_letters_that_have_no_other_room(drawn: Drawn) -> None:
    """And none at all over what is cut, punched or lined up."""
    over = set()
    for marks in drawn.pages:
        ink = ink_of(marks)
        for mark in (mark for mark in marks if mark.tag == Tag.LABEL):
            for words in (part for part in mark.parts if isinstance(part, Words)):
                under = lies_over(words, ink)
                assert not under & HARD, words.text
                over |= {(dict(mark.properties)["Piece"], words.text)} if under else set()
    assert over == OVER_LINES[drawn.name]


def test_a_letter_goes_to_bare_paper_before_it_lies_over_lines(products_of: Callable[..., Any]) -> None:
    """Fold lines 2 mm apart leave no room in the piece for letters 2.5 mm high. There is bare paper
    beside every corner but A, which stands in the corner of what is drawn on."""
    folds = ", ".join(f"f{y} = [[0, {y}], [60, {y}]]" for y in range(2, 60, 2))
    piece = f'name = "ruled"\nrectangle = [60, 60]\nfolds = {{ {folds} }}\n'
    products = products_of(f"format = 1\n[material]\nthickness = 2\n[[piece]]\n{piece}")
    (sheet,) = products.sheets.sheets
    marks = marks_on(products, sheet)
    texts = {part.text: part for mark in marks for part in mark.parts if isinstance(part, Words)}
    view = view_of(products.punched.pattern, sheet.windows[0])
    ruled = shapely.Polygon(view.part())
    assert view.to_sheet.apply((0, 0)) == pytest.approx((10.25, 10.25))
    for letter in view.piece.letters:
        words = texts[letter.name]
        assert dist(middle(words), view.to_sheet.apply(letter.at)) <= 8
        assert ruled.disjoint(area_of(words)) == (letter.name != "A")
        assert lies_over(words, ink_of(marks)) == ({Tag.FOLD} if letter.name == "A" else set())
