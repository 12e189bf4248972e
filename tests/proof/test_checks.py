"""The proof's checks: a sound file passes each, and each kind of wrong file fails with its own words."""

from __future__ import annotations

from typing import Any

import pytest

from handkit.proof.prover import prove

SOUND = [
    "ok print scaling asked for: None / None",
    "ok paper of 1 page: A4, 210.000 × 297.000 mm / A4, 210.000 × 297.000 mm",
    "ok one size for 1 page: 210.000 × 297.000 mm / 210.000 × 297.000 mm",
    "ok boxes of 1 page: all of the whole page / all of the whole page",
    "ok user unit of 1 page: 1 / 1",
    "ok rotation of 1 page: 0 degrees / 0 degrees",
    "ok what is asked of a viewer: DisplayDocTitle true / DisplayDocTitle true",
    "ok what the file carries and does: nothing else / a kit's pages and bookmarks",
    "ok what is seen on paper: 10 marks / every mark whole and black",
    "ok ink of 1 page: nothing that is no mark of a kit / marks of a kit alone",
    "ok page 1: test square, across: 50.000 mm / 50.000 ± 0.010 mm",
    "ok page 1: test square, down: 50.000 mm / 50.000 ± 0.010 mm",
    "ok scale bars: 2 scale bars, all as claimed / each as long as it claims ± 0.010 mm",
    "ok registration marks: 1 join, 4 marks / alike in both portions of a join ± 0.010 mm",
    "ok stitch holes: 3 holes on 1 piece / each tick about its point ± 0.010 mm",
]


def told(path: Any) -> list[str]:
    """The checks, a line each, in an order and wording that a test can write down; but that a file written
    by hand has no list of what it shows."""
    checks = [c for c in prove(path).checks if c.code != "list"]
    return [f"{'ok' if c.passed else 'FAILED'} {c.what}: {c.found} / {c.wanted}" for c in checks]


def failures(path: Any) -> list[str]:
    """All checks that fail, but those of what is seen, which `test_seen.py` looks at."""
    failed = (c for c in prove(path).checks if not c.passed and c.code not in ("list", "seen"))
    return [f"{check.what}: {check.found} / {check.wanted}" for check in failed]


def test_a_sound_file_passes_every_check(hand: Any) -> None:
    path = hand.pdf(hand.page())
    assert told(path) == SOUND
    assert [c.code for c in prove(path).checks if not c.passed] == ["list"]
    assert prove(path).file == "kit.pdf"


def test_the_codes_are_fixed_words(hand: Any) -> None:
    codes = list(dict.fromkeys(check.code for check in prove(hand.pdf(hand.page())).checks))
    assert codes == [
        "print-scaling",
        "paper",
        "same-paper",
        "boxes",
        "user-unit",
        "rotate",
        "viewer",
        "extras",
        "list",
        "seen",
        "loose",
        "test-square",
        "scale-bar",
        "registration",
        "holes",
    ]


# What the file holds instead, and every check that fails, in full. Sizes in units worked out by
# hand: 1 mm is 2.834645669; a page of 595 x 842 units is 209.9028 x 297.0389 mm.
BOXES, ALL = "page 1: boxes: one that is not the whole page", " / all of the whole page"
NO_TITLE = "what is asked of a viewer: nothing / DisplayDocTitle true"
WRONG_FILES = [
    ({"catalog": ""}, ["print scaling asked for: not said / None", NO_TITLE]),
    (
        {"catalog": "/ViewerPreferences <</PrintScaling /AppDefault /DisplayDocTitle true>>"},
        ["print scaling asked for: AppDefault / None"],
    ),
    (
        {"page": "/MediaBox [0 0 595 842]"},
        ["page 1: paper: 209.903 × 297.039 mm / A4, 210.000 × 297.000 mm"],
    ),
    (
        {"page": "/MediaBox [0 0 612 792]"},  # letter, 8.5 x 11 in (ASME Y14.1): as good as A4
        [],
    ),
    (
        {"page": "/MediaBox [0 0 566.929134 708.661417]"},  # 200 x 250 mm, as the project may say
        [],
    ),
    (
        {"page": "/MediaBox [0 0 595.44 841.68]"},  # 8.27 x 11.69 in, as a project may write it
        [],
    ),
    (
        {"page": "/MediaBox [0 0 283 708.661417]"},
        ["page 1: paper: 99.836 × 250.000 mm / a known paper, or sides from 100 to 5080 mm"],
    ),
    (
        {"page": "/MediaBox [0 0 595.275591 841.889764] /CropBox [0 0 595.275591 800]"},
        [f"{BOXES}: CropBox{ALL}"],  # what is seen is a sheet of 210 x 282.222 mm
    ),
    (
        {"page": "/MediaBox [0 0 595.275591 841.889764] /CropBox [0 0 595.275591 841]"},
        ["page 1: paper: 210.000 × 296.686 mm / A4, 210.000 × 297.000 mm", f"{BOXES}: CropBox{ALL}"],
    ),
    (
        {"page": "/MediaBox [0 0 297.637795 420.944882] /UserUnit 2"},
        [
            "page 1: user unit: 2 / 1",
            "page 1: test square, across: 100.000 mm at 90.0, 90.0 mm / 50.000 ± 0.010 mm",
            "page 1: test square, down: 100.000 mm at 90.0, 90.0 mm / 50.000 ± 0.010 mm",
            "page 1: scale bar across: 300.000 mm at 190.0, 20.0 mm / 150.000 ± 0.010 mm",
            "page 1: scale bar down: 400.000 mm at 20.0, 240.0 mm / 200.000 ± 0.010 mm",
            *(
                f'page 1: hole {n} of "side", run 1, on "back": 1 tick, 0 points at '
                f"240.0, {200 + 8 * n}.0 mm / a tick, and one point of at most 0.5 mm"
                for n in (1, 2, 3)
            ),
        ],
    ),
    (
        {"page": "/MediaBox [0 0 595.275591 841.889764] /Rotate 90"},
        ["page 1: rotation: 90 degrees / 0 degrees"],
    ),
]


WHOLE = "/MediaBox [0 0 595.275591 841.889764]"
ASKED = "/PrintScaling /None /DisplayDocTitle true"
BY_ITSELF = "what the file does by itself: an action: {} / nothing, or a page that is shown"
CARRIES = "what the file carries: {} / pages, bookmarks and the kit's manifest"
ON_PAGE = "page 1: what it carries: {} / its drawing alone"
VIEWER = "what is asked of a viewer: {} / DisplayDocTitle true"
MANIFEST = "(handkit-manifest.json)"
GO = "[3 0 R /Fit]"

# What a file's catalog has more, what its page has, and every check that fails.
EXTRAS = [
    ("", WHOLE + " /TrimBox [0 0 595.275591 841.889764] /ArtBox [0 0 595.275591 841.889764]", []),
    ("", WHOLE + " /CropBox [595.275591 841.889764 0 0]", []),  # the same corners
    ("", WHOLE + " /CropBox [0 0 595.28 841.89]", []),  # rounded to hundredths, 0.0016 mm
    ("", WHOLE + " /TrimBox [9 9 586 832]", [f"{BOXES}: TrimBox{ALL}"]),
    ("", WHOLE + " /BleedBox [0 0 9 9] /ArtBox [0 0 9 9]", [f"{BOXES}: BleedBox and ArtBox{ALL}"]),
    (f"/OpenAction {GO}", WHOLE, []),
    (f"/OpenAction <</S /GoTo /D {GO}>>", WHOLE, []),
    ("/OpenAction <</S /JavaScript /JS (x)>>", WHOLE, [BY_ITSELF.format("JavaScript")]),
    ("/OpenAction <</S /Named /N /Print>>", WHOLE, [BY_ITSELF.format("Named")]),
    (f"/OpenAction <</S /GoTo /D {GO} /Next <</S /Launch /F (x)>>>>", WHOLE, [BY_ITSELF.format("Next")]),
    ("/OpenAction <</D 1>>", WHOLE, [BY_ITSELF.format("unnamed")]),
    ("/AA <</WP <</S /JavaScript /JS (x)>>>>", WHOLE, [CARRIES.format("actions (AA)")]),
    ("/AcroForm <</Fields []>>", WHOLE, [CARRIES.format("a form to fill in (AcroForm)")]),
    (
        "/OCProperties <</OCGs [] /D <<>>>>",
        WHOLE,
        [CARRIES.format("layers that can be switched off (OCProperties)")],
    ),
    ("/URI <</Base (x)>>", WHOLE, [CARRIES.format("URI")]),
    ("/Names <</JavaScript <</Names []>>>>", WHOLE, [CARRIES.format("a script (JavaScript)")]),
    (f"/Names <</EmbeddedFiles <</Names [{MANIFEST} <<>>]>>>>", WHOLE, []),
    (f"/Names <</EmbeddedFiles <</Kids [<</Names [{MANIFEST} <<>>]>>]>>>>", WHOLE, []),
    (
        f"/Names <</EmbeddedFiles <</Names [(a.exe) <<>> {MANIFEST} <<>> {MANIFEST} <<>>]>>>>",
        WHOLE,
        [
            'attached files: "a.exe" / the kit\'s manifest alone',
            'attached files: "handkit-manifest.json" / the kit\'s manifest alone',
        ],
    ),
    ("/Outlines <</First <</Title (a) /Dest [3 0 R /Fit]>>>>", WHOLE, []),
    (
        "/Outlines <</First <</Title (a) /Next <</Title (b) /A <</S /URI /URI (x)>>>>>>>>",
        WHOLE,
        [BY_ITSELF.format("URI")],
    ),
    ("/Metadata 100 0 R /Lang (en) /MarkInfo <</Marked true>> /PageLayout /OneColumn", WHOLE, []),
    ("", WHOLE + " /Metadata 100 0 R /PieceInfo <<>> /LastModified (x) /Tabs /S", []),
    ("", WHOLE + " /Annots [] /Trans <<>>", []),
    (
        "",
        WHOLE + " /Annots [<</Subtype /Link /Rect [0 0 9 9]>>]",
        [ON_PAGE.format("annotations (Annots)")],
    ),
    ("", WHOLE + " /AA <</O <<>>>>", [ON_PAGE.format("actions (AA)")]),
    ("", WHOLE + " /Trans <</S /Wipe>>", [ON_PAGE.format("a page transition (Trans)")]),
    ("", WHOLE + " /Dur 3", [ON_PAGE.format("a time after which it is turned over (Dur)")]),
    ("", WHOLE + " /Group <</S /Transparency /CS /DeviceRGB>>", []),
    (
        "",
        WHOLE + " /Group <</S /Transparency /CS [/ICCBased 100 0 R]>>",
        [ON_PAGE.format("a group with colours of its own (Group)")],
    ),
]


@pytest.mark.parametrize(("catalog", "page", "expected"), EXTRAS)
def test_what_a_file_carries_and_does(hand: Any, catalog: str, page: str, expected: list[str]) -> None:
    catalog = f"/ViewerPreferences <<{ASKED}>> {catalog}"
    assert failures(hand.pdf(hand.page(), catalog=catalog, page=page, objects=("<<>>",))) == expected


ASKED_FOR = [
    ("/NumCopies 2", "DisplayDocTitle true, NumCopies 2"),
    ("/PrintArea /TrimBox", "DisplayDocTitle true, PrintArea TrimBox"),
    ("/Enforce [/PrintScaling]", "DisplayDocTitle true, Enforce a list"),
    ("/HideToolbar true", "DisplayDocTitle true, HideToolbar true"),
]


@pytest.mark.parametrize(("more", "found"), ASKED_FOR)
def test_a_viewer_is_asked_for_no_more(hand: Any, more: str, found: str) -> None:
    path = hand.pdf(hand.page(), catalog=f"/ViewerPreferences <<{ASKED} {more}>>")
    assert failures(path) == [VIEWER.format(found)]


@pytest.mark.parametrize(("file", "expected"), WRONG_FILES)
def test_a_wrong_file_or_page_fails(hand: Any, file: dict[str, str], expected: list[str]) -> None:
    assert failures(hand.pdf(hand.page(), **file)) == expected


def test_what_to_do_is_told_of_a_check_that_fails_and_of_no_other(hand: Any) -> None:
    checks = {c.what: c.do for c in prove(hand.pdf(hand.page(), catalog="")).checks if c.code != "list"}
    again = "a program has written this file again; print the kit handkit wrote"
    told = {what: do for what, do in checks.items() if do}
    assert told == {"print scaling asked for": again, "what is asked of a viewer": again}


def test_pages_of_two_sizes_fail(hand: Any) -> None:
    heads = "/MediaBox [0 0 612 792]|/MediaBox [0 0 612 1008]|/MediaBox [0 0 612 792]"
    assert failures(hand.pdf(hand.page(), "", "", page=heads)) == [
        "page 2: same as all pages: 215.900 × 355.600 mm / 215.900 × 279.400 mm"
    ]


def test_sizes_are_inherited_and_boxes_may_begin_anywhere(hand: Any) -> None:
    box = "[-100 50 495.275591 891.889764]"
    path = hand.pdf(f"q 1 0 0 1 -100 50 cm {hand.page()} Q", page=f"/MediaBox {box}")
    assert told(path) == SOUND


SQUARE = "/hkTestSquare <</Side 50>> BDC"
AT = " at 45.0, 45.0 mm"
NO_SQUARE = f"page 1: test square: no upright closed square{AT} / one, drawn as a line"
WRONG_SQUARES = [
    ("", ["test square: none / a square of 50.000 mm"]),
    (
        f"{SQUARE} 20 20 49.9 50 re S EMC",
        ["page 1: test square, across: 49.900 mm at 44.9, 45.0 mm / 50.000 ± 0.010 mm"],
    ),
    (
        f"{SQUARE} 20 20 50 50.011 re S EMC",
        ["page 1: test square, down: 50.011 mm at 45.0, 45.0 mm / 50.000 ± 0.010 mm"],
    ),
    (f"{SQUARE} 20 20 49.991 50.009 re S EMC", []),
    (f"{SQUARE} 20 20 m 70 20 l 70 70 l 20 70 l 20 20 l S EMC", []),
    (f"{SQUARE} 20 20 m 20 70 l 70 70 l 70 20 l s EMC", []),
    (f"{SQUARE} 20 20 m 70 20 l 70 70 l 20 70 l S EMC", [NO_SQUARE]),  # one side is missing
    (f"{SQUARE} 45 20 m 70 45 l 45 70 l 20 45 l s EMC", [NO_SQUARE]),  # on its corner
    (f"{SQUARE} 20 20 m 70 20 l 20 70 l 70 70 l s EMC", [NO_SQUARE]),  # crossed
    (f"{SQUARE} 20 20 50 50 re f EMC", [NO_SQUARE]),  # a black field has no line to measure
    (f"{SQUARE} 20 20 50 50 re n EMC", [NO_SQUARE.replace(AT, "")]),  # nothing is seen
    (
        "/hkTestSquare <</Side 49.9>> BDC 20 20 49.9 49.9 re S EMC",  # true to its claim, but not 50
        ["test square: none / a square of 50.000 mm"],
    ),
    (
        "/hkTestSquare BMC 20 20 50 50 re S EMC",
        [
            "page 1: test square: a square that claims no side at 45.0, 45.0 mm / a side",
            "test square: none / a square of 50.000 mm",
        ],
    ),
    (
        f"{SQUARE} 20 20 50 50 re S EMC /hkTestSquare <</Side 50.8>> BDC 20 90 50.8 50.7 re S EMC",
        ["page 1: test square, down: 50.700 mm at 45.4, 115.3 mm / 50.800 ± 0.010 mm"],
    ),
]


@pytest.mark.parametrize(("square", "expected"), WRONG_SQUARES)
def test_squares(hand: Any, square: str, expected: list[str]) -> None:
    assert failures(hand.pdf(hand.page(square=square))) == expected


BAR = "/hkScaleBar <</Length 150>> BDC"
WRONG_BARS = [
    (
        f"{BAR} 20 10 m 169.98 10 l S EMC",
        ["page 1: scale bar across: 149.980 mm at 95.0, 10.0 mm / 150.000 ± 0.010 mm"],
    ),
    (f"{BAR} 20 10 m 170.009 10 l S EMC", []),
    ("", ["scale bar across: none / at least one"]),
    (
        f"{BAR} 20 10 m 95 10 l 170 10 l S EMC",
        [
            "page 1: scale bar: 1 line at 95.0, 10.0 mm / one straight line",
            "scale bar across: none / at least one",
        ],
    ),
    (
        f"{BAR} 20 10 m 170 10 l S 20 12 m 170 12 l S EMC",
        ["page 1: scale bar: 2 lines at 95.0, 11.0 mm / one straight line"],
    ),
    (f"{BAR} 20 10 m 110 130 l S EMC", ["scale bar across: none / at least one"]),  # 90, 120, 150
    (
        "/hkScaleBar <</Length (150)>> BDC 20 10 m 170 10 l S EMC",
        ["page 1: scale bar: a bar that claims no length at 95.0, 10.0 mm / a length"],
    ),
]


@pytest.mark.parametrize(("bar", "expected"), WRONG_BARS)
def test_bars(hand: Any, bar: str, expected: list[str]) -> None:
    assert failures(hand.pdf(hand.page(across=bar))) == expected


JOIN = 'page 1: join 1-2 of "back"'
# Four numbers a mark: x, y, window, number.
WRONG_MARKS = [
    (
        [(100, 100, 1, 1), (100, 200, 1, 2), (150, 90, 2, 1), (150, 190.02, 2, 2)],
        [f"{JOIN}: marks 1 and 2 that are 0.020 mm further apart on one page / at most 0.010 mm"],
    ),
    # turned by a quarter, and a third mark: windows may lie any way
    ([(0, 0, 1, 1), (30, 40, 1, 2), (0, 0, 2, 1), (-40, 30, 2, 2)], []),
    (
        [(0, 0, 1, 1), (30, 40, 1, 2), (0, 80, 1, 3), (0, 0, 2, 1), (30, 40, 2, 2), (60, 80, 2, 3)],
        # 1 to 3 is 80 here and 100 there, 2 to 3 is 50 in both
        [f"{JOIN}: marks 1 and 3 that are 20.000 mm further apart on one page / at most 0.010 mm"],
    ),
    (
        [(100, 100, 1, 1), (150, 90, 2, 1)],
        [f"{JOIN}: 1 mark / at least 2"],
    ),
    (
        [(100, 100, 1, 1), (100, 200, 1, 2)],
        [f"{JOIN}: marks in portion 1 / in portions 1 and 2"],
    ),
    (
        [(100, 100, 1, 1), (100, 200, 1, 2), (150, 90, 3, 1), (150, 190, 3, 2)],
        [f"{JOIN}: marks in portion 1 and 3 / in portions 1 and 2"],
    ),
    (
        [(100, 100, 1, 1), (100, 200, 1, 2), (150, 90, 2, 1), (150, 190, 2, 3)],
        [f"{JOIN}: mark 2 and mark 3 in one portion only / each in both"],
    ),
    (
        [(100, 100, 1, 1), (100, 200, 1, 2), (150, 90, 2, 1), (150, 190, 2, 2), (9, 9, 2, 2)],
        ["page 1: registration mark 2: drawn twice in portion 2 at 9.0, 9.0 mm / once"],
    ),
]


@pytest.mark.parametrize(("marks", "expected"), WRONG_MARKS)
def test_registration(hand: Any, marks: list[tuple[float, ...]], expected: list[str]) -> None:
    drawn = " ".join(hand.mark(x, y, window=w, number=n) for x, y, w, n in marks)
    assert failures(hand.pdf(hand.page(marks=drawn))) == expected


TWO = "/hkRegistration <</Piece (back)/Window 1/Join [1 2]/Mark 1>> BDC"
NO_CROSS = "no cross in a circle at 100.0, 100.0 mm / both, about one centre"
BADLY_DRAWN = [
    (
        f"{TWO} 96 100 m 104 100 l S 100 96 m 100 104 l S EMC",
        NO_CROSS,
    ),
    (
        f"{TWO} RING S 96 100 m 104 100 l S EMC",
        NO_CROSS,
    ),
    (
        f"{TWO} RING S 96.1 100 m 104 100 l S 100.02 96 m 100.02 104 l S EMC",
        NO_CROSS,
    ),
]


@pytest.mark.parametrize(("drawn", "expected"), BADLY_DRAWN)
def test_a_mark_is_a_cross_in_a_circle(hand: Any, drawn: str, expected: str) -> None:
    others = " ".join(hand.mark(*at, window=w, number=n) for at, w, n in [((9, 9), 1, 2), ((9, 9), 2, 2)])
    path = hand.pdf(hand.page(marks=drawn.replace("RING", hand.ring(100, 100, 2.5)) + others))
    assert failures(path)[0] == f"page 1: registration mark 1: {expected}"


def test_a_join_that_only_its_rule_line_names_lacks_its_marks(hand: Any) -> None:
    rule = "/hkRuleLine <</Piece (flap)/Window 1/Join [1 3]>> BDC 20 30 m 90 30 l S EMC"
    assert failures(hand.pdf(hand.page(more=rule))) == [
        'page 1: join 1-3 of "flap": marks in no portion / in portions 1 and 3'
    ]


ZIGZAG = "{x} 20 m {x} 39 l {a} 39.5 l {b} 40.5 l {x} 41 l {x} {top} l S EMC"


def break_line(
    window: int, *, x: float = 100, top: float = 62.0, length: float = 612, bow: float = 2.5
) -> str:
    """A break line from 20 mm up, with a zigzag of `bow` to either side."""
    head = f"/hkBreak <</Piece (strap)/Window {window}/Break 1/Length {length}>> BDC "
    return head + ZIGZAG.format(x=x, a=x + bow, b=x - bow, top=top)


BREAKS = [
    (break_line(1) + break_line(2, x=150), []),
    (break_line(1), ["a line at one end only at 100.0, 41 / one at each end"]),
    (
        break_line(1) + break_line(2, length=611),
        ["ends that say unlike lengths at 100.0, 41 / one length"],
    ),
    (
        break_line(1) + break_line(2, top=62.02),
        ["lines that differ by 0.020 mm at 100.0, 41 / at most 0.010 mm"],
    ),
    (break_line(1) + break_line(2, bow=0), ["no line with a zigzag at 100.0, 41 / one at each end"]),
]


@pytest.mark.parametrize(("drawn", "expected"), BREAKS)
def test_both_ends_of_a_break_say_the_same(hand: Any, drawn: str, expected: list[str]) -> None:
    found = failures(hand.pdf(hand.page(more=drawn)))
    assert found == [f'page 1: break 1 of "strap": {each.replace("41 /", "41.0 mm /")}' for each in expected]


def test_a_break_line_without_a_length_fails(hand: Any) -> None:
    drawn = "/hkBreak <</Piece (strap)/Window 1/Break 1>> BDC EMC"
    assert failures(hand.pdf(hand.page(more=drawn))) == [
        "page 1: break line: one that names no break / piece, portion, break and length"
    ]


def test_two_drawings_of_a_piece_have_joins_of_their_own(hand: Any) -> None:
    marks = [
        hand.mark(x, y, window=window, number=number)
        for window, x in ((1, 100), (2, 150))
        for number, y in ((1, 100), (2, 200))
    ]
    twice = [*marks, *(mark.replace("/Join", "/Copy 2/Join") for mark in marks)]
    assert failures(hand.pdf(hand.page(marks=" ".join(twice)))) == []
    assert failures(hand.pdf(hand.page(marks=" ".join(twice[:-1])))) == [
        f"{JOIN}, drawing 2: mark 2 in one portion only / each in both"
    ]


def test_marks_and_holes_without_names_fail(hand: Any) -> None:
    nameless = (
        "/hkRegistration BMC EMC /hkTrimLine <</Piece (a)/Window 1/Join [2 1]>> BDC EMC /hkHole BMC EMC"
    )
    assert failures(hand.pdf(hand.page(more=nameless))) == [
        "page 1: registration mark: one that names no join / piece, portion and join",
        "page 1: line of a join: one that names no join / piece, portion and join",
        "page 1: hole: one that is not named / piece, portion, seam, run and number",
    ]


def test_holes_are_counted_once_however_often_they_are_drawn(hand: Any) -> None:
    twice = hand.hole(20, 30, number=1) + hand.hole(20, 30, number=1, window=2) + hand.hole(9, 9, number=2)
    holes = [line for line in told(hand.pdf(hand.page(holes=twice))) if "holes" in line]
    assert holes == ["ok stitch holes: 2 holes on 1 piece / each tick about its point ± 0.010 mm"]


def test_a_point_beside_its_tick_fails(hand: Any) -> None:
    holes = hand.hole(20, 30, number=7, off=0.011) + hand.hole(20, 40, number=8, off=0.009)
    assert failures(hand.pdf(hand.page(holes=holes))) == [
        'page 1: hole 7 of "side", run 1, on "back": marks 0.011 mm apart at 20.0, 30.0 mm / at most 0.010 mm'
    ]


def test_a_slit_stands_about_the_point_too(hand: Any) -> None:
    hole = hand.hole(20, 30, number=1)
    slit = hole.replace("EMC", "19 29 m 21 31.1 l S EMC")
    assert failures(hand.pdf(hand.page(holes=slit))) == [
        'page 1: hole 1 of "side", run 1, on "back": marks 0.050 mm apart at 20.0, 30.0 mm / at most 0.010 mm'
    ]


def test_a_round_pen_set_down_makes_a_point(hand: Any) -> None:
    head = "/hkHole <</Piece (b)/Window 1/Seam (s)/Run 1/Number 1>> BDC 1 J 0.4 w"
    dot = f"{head} 20 30 m 20 30 l S 18.8 30 m 21.2 30 l S EMC"
    assert failures(hand.pdf(hand.page(holes=dot))) == []
    assert failures(hand.pdf(hand.page(holes=dot.replace("0.4 w", "0.6 w")))) == [
        'page 1: hole 1 of "s", run 1, on "b": 1 tick, 0 points at 20.0, 30.0 mm / a tick, and one point '
        "of at most 0.5 mm"
    ]


def test_a_kit_without_joins_or_holes_is_not_told_that_they_are_right(hand: Any) -> None:
    proof = prove(hand.pdf(hand.page(marks="", holes="")))
    assert all(check.passed for check in proof.checks if check.code != "list")
    assert not {"kit", "registration", "holes"} & {check.code for check in proof.checks}


def test_many_failures_of_a_kind_are_told_in_part_and_counted(hand: Any) -> None:
    holes = " ".join(hand.hole(20, 30 + n, number=n, off=1) for n in range(1, 51))
    failed = failures(hand.pdf(hand.page(holes=holes)))
    assert len(failed) == 21
    assert failed[-1] == "stitch holes: 30 more that fail / each tick about its point ± 0.010 mm"


def test_a_file_that_is_no_kit_says_so_first_and_praises_nothing_it_lacks(hand: Any) -> None:
    path = hand.pdf("0 0 m 9 9 l S", catalog="")
    assert told(path)[0] == "FAILED this is none of handkit's kits: not one mark of a kit / a kit's marks"
    assert {check.code for check in prove(path).checks if check.passed} == {
        "paper",
        "same-paper",
        "boxes",
        "user-unit",
        "rotate",
        "extras",
    }
    assert failures(path) == [
        "this is none of handkit's kits: not one mark of a kit / a kit's marks",
        "print scaling asked for: not said / None",
        NO_TITLE,
        "test square: none / a square of 50.000 mm",
        "scale bar across: none / at least one",
        "scale bar down: none / at least one",
    ]
    assert not prove(path).passed
