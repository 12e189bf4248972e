"""The table of damage: a row for each kind, with the code of the check that must fail.

In: nothing. Out: `ROWS`. What each row does to a kit stands in `damage_edits.py` and `damage_files.py`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from damage_edits import (
    WHITE,
    Edit,
    again,
    body,
    both,
    changed,
    corner_moved,
    every,
    gone,
    in_pen,
    is_dot,
    is_stroke,
    is_text,
    lopsided,
    mirror,
    nothing,
    on_last_sheet,
    on_sheet,
    one,
    only,
    only_first_marks,
    renamed,
    saying,
    scale,
    shift,
    straight,
    turn,
    untagged,
    within,
    without_segment,
)
from damage_files import (
    FAINT,
    GROUP,
    annotated,
    bookmarks,
    boxed,
    catalog,
    content_elsewhere,
    contents_swapped,
    covered,
    encrypted,
    every_page,
    fonts,
    handed_down,
    in_form,
    layered,
    other_grey,
    page_before,
    page_entry,
    pages_gone,
    preferences,
    rounded,
    scaled_but_bars,
    sheet_again,
    sheets_swapped,
    states,
    tree_turned,
    updated,
    whole_page,
    window,
    windows_swapped,
    written_on,
)
from damage_manifests import (
    attached,
    bare,
    correction_claimed,
    digest_other,
    font_other,
    hole_left_out,
    hole_less,
    hole_lied,
    hole_moved,
    lied,
    loose_end,
    made_by_another,
    no_manifest,
    of_another_kit,
    page_less,
    said,
    two_manifests,
    window_moved,
)
from damaging import op

# One cause gives few lines.
MOST_LINES = 25


@dataclass(frozen=True)
class Row:
    """A kind of damage: what is done, and the codes of which one must fail; or what refuses the file; in how
    many lines it is told at most."""

    name: str
    edit: Edit
    codes: tuple[str, ...] = ()
    refused: str = ""
    most: int = MOST_LINES


def by(code: str, *rows: Row) -> tuple[Row, ...]:
    """Rows that all fail by one check, but for those that say another."""
    return tuple(row if row.codes or row.refused else replace(row, codes=(code,)) for row in rows)


# Everything that stands on a template sheet, by the name of its tag.
LINES = {
    "outline": "hkOutline",
    "stitch line": "hkStitchLine",
    "fold line": "hkFold",
    "trim": "hkTrim",
    "finished edge": "hkFinishedEdge",
    "hem fold": "hkHemFold",
    "skive line": "hkSkive",
    "outline of what lies on top": "hkOnTop",
    "item's outline": "hkItem",
    "meet mark": "hkMeet",
    "notch": "hkNotch",
    "rule line": "hkRuleLine",
    "trim line of a join": "hkTrimLine",
    "break line": "hkBreak",
}
PLACES = {
    "hole": "hkHole",
    "opening": "hkOpening",
    "centre cross": "hkCentre",
    "registration mark": "hkRegistration",
}
BESIDE = {
    "grain arrow": "hkGrain",
    "label": "hkLabel",
    "map of portions": "hkMap",
    "test square": "hkTestSquare",
    "scale bar": "hkScaleBar",
    "ticks of a bar": "hkScaleBarTick",
}
ALL = LINES | PLACES | BESIDE

# What no list has but as part of a page's content; or as a text.
CONTENT, WORDS = ("content",), ("words",)


def _moved(tag: str) -> tuple[str, ...]:
    return CONTENT if tag in ("hkLabel", "hkMap") else ("drawing",)


def _codes(tag: str) -> tuple[str, ...]:
    return {"hkLabel": WORDS, "hkMap": CONTENT}.get(tag, ("drawing",))


MISSING = by(
    "drawing",
    *(Row(f"one {name} missing", changed(one(tag), gone), _codes(tag)) for name, tag in ALL.items()),
    *(
        Row(f"every {name} missing", changed(every(tag), gone), _codes(tag))
        for name, tag in ALL.items()
        if name in ("hole", "outline", "opening", "registration mark", "test square", "scale bar")
    ),
    Row("the labels of one sheet missing", changed(on_sheet(every("hkLabel")), gone), WORDS),
    Row("the holes of one sheet missing", changed(on_sheet(every("hkHole")), gone)),
    Row("a hole's tick missing", changed(one("hkHole"), body(only(nothing, is_stroke)))),
    Row("a hole's point missing", changed(one("hkHole"), body(only(nothing, is_dot)))),
    Row("a hole's slit missing", changed(one("hkHole"), body(only(nothing, is_stroke, 1)))),
    Row("a segment of the outline missing", changed(one("hkOutline", holding="l"), body(without_segment))),
    Row("half of an opening missing", changed(one("hkOpening"), body(without_segment))),
    Row(
        "words of a label missing",
        changed(one("hkLabel", holding="Tj"), body(only(nothing, is_text))),
        WORDS,
    ),
    Row("a measured drawing's lines missing", changed(every("hkMeasured"), gone), CONTENT),
    Row("a window missing", window(None)),
    Row("all template sheets missing", pages_gone("hkOutline", all_of_them=True), ("sheets",)),
    Row("one template sheet missing", pages_gone("hkOutline"), ("sheets",)),
    Row("the first page missing", pages_gone("hkTestSquare"), ("sheets",)),
    Row("a page of the plan missing", pages_gone(""), ("sheets",)),
    Row("all but one sheet missing", pages_gone("hkOutline", others=True), ("sheets",)),
)

TWICE = by(
    "drawing",
    *(Row(f"one {name} twice", changed(one(tag), again()), _codes(tag)) for name, tag in ALL.items()),
    Row("a template sheet twice", sheet_again(), ("sheets",)),
    Row("a hole once more beside itself", changed(one("hkHole"), again((1, 0, 0, 1, 1.5, 0)))),
    Row("an opening once more beside itself", changed(one("hkOpening"), again((1, 0, 0, 1, 9, 0)))),
    Row("an outline once more, larger", changed(one("hkOutline"), again((1, 0, 0, 1, 3, 3)))),
)

MOVED = by(
    "drawing",
    *(
        Row(f"a {name} moved by 0.03 mm", changed(one(tag), body(shift(0.03, 0.03))))
        for name, tag in (LINES | PLACES).items()
    ),
    *(Row(f"a hole moved by {by:g} mm", changed(one("hkHole"), body(shift(by)))) for by in (0.1, 1, 5)),
    *(
        Row(f"a {name} moved by 5 mm", changed(one(tag), body(shift(5, 5))), _moved(tag))
        for name, tag in BESIDE.items()
    ),
    Row("a hole's tick moved by 0.03 mm", changed(one("hkHole"), body(only(shift(0.03), is_stroke)))),
    Row("a hole's point moved by 0.1 mm", changed(one("hkHole"), body(only(shift(0.1), is_dot)))),
    Row("a hole's tick turned by 45°", changed(one("hkHole"), body(only(turn(45), is_stroke)))),
    Row("a hole's slit turned by 45°", changed(one("hkHole"), body(only(turn(45), is_stroke, 1)))),
    Row("a hole's slit twice as long", changed(one("hkHole"), body(only(scale(2), is_stroke, 1)))),
    Row("an outline turned by 0.5°", changed(one("hkOutline"), body(turn(0.5)))),
    Row("an outline mirrored", changed(lopsided, body(mirror))),
    Row("an outline 3 % too large", changed(one("hkOutline"), body(scale(1.03)))),
    Row("an outline 0.5 % too wide", changed(one("hkOutline"), body(scale(1.005, 1)))),
    Row("a corner of an outline moved", changed(one("hkOutline", holding="l"), body(corner_moved(0.2)))),
    Row("an opening 10 % too large", changed(one("hkOpening"), body(scale(1.1)))),
    Row("an opening 2 % too small", changed(one("hkOpening"), body(scale(0.98)))),
    Row("a grain arrow turned by 90°", changed(one("hkGrain"), body(turn(90)))),
    Row("all but bars and squares 3 % too large", scaled_but_bars(1.03, 1.03)),
    Row("all but bars and squares 1 % too wide", scaled_but_bars(1.01, 1.0)),
    *(
        Row(f"a sheet {how}", whole_page(*matrix), most=1)
        for how, matrix in {
            "3 % too small": (0.97, 0, 0, 0.97, 0, 0),
            "3 % too large": (1.03, 0, 0, 1.03, 0, 0),
            "0.5 % too high": (1, 0, 0, 1.005, 0, 0),
            "2 % too wide, 1 % too low": (1.02, 0, 0, 0.99, 0, 0),
            "moved by 0.1 mm": (1, 0, 0, 1, 0.1, 0),
            "mirrored": (-1, 0, 0, 1, 210, 0),
            "skewed": (1, 0, 0.004, 1, 0, 0),
            "turned by 1°": (0.99985, 0.01745, -0.01745, 0.99985, 0, 0),
            "on its head": (-1, 0, 0, -1, 200, 280),
        }.items()
    ),
    Row("every page 3 % too small", whole_page(0.97, 0, 0, 0.97, 0, 0, every=True), most=8),
    Row(
        "a sheet 3 % too small, a hole on it missing",
        both(changed(on_last_sheet("hkHole"), gone), whole_page(0.97, 0, 0, 0.97, 0, 0)),
        most=2,
    ),
    Row(
        "a sheet 3 % too large, a hole on it moved by 0.1 mm",
        both(changed(on_last_sheet("hkHole"), body(shift(0.1))), whole_page(1.03, 0, 0, 1.03, 0, 0)),
        most=2,
    ),
    *(
        Row(f"a window {how}", window(matrix), most=1)
        for how, matrix in {
            "moved by 0.1 mm with all it holds": (1, 0, 0, 1, 0.1, 0),
            "moved by 5 mm with all it holds": (1, 0, 0, 1, 0, 5),
            "turned by 1°": (0.99985, 0.01745, -0.01745, 0.99985, 0, 0),
            "turned by 90°": (0, 1, -1, 0, 0, 0),
            "1 % too large": (1.01, 0, 0, 1.01, 0, 0),
            "mirrored": (-1, 0, 0, 1, 0, 0),
        }.items()
    ),
    Row("two windows swapped", windows_swapped()),
    Row("two template sheets swapped", sheets_swapped(), ("sheets",), most=2),
    Row("the contents of two template sheets swapped", contents_swapped(), ("sheets",)),
)

UNSEEN = by(
    "seen",
    *(
        Row(f"a {name} {how}", changed(one(tag), body(change)))
        for name, tag in {
            "hole": "hkHole",
            "outline": "hkOutline",
            "opening": "hkOpening",
            "fold line": "hkFold",
        }.items()
        for how, change in {
            "white": WHITE,
            "grey 0.9": in_pen(op("G", 0.9), op("g", 0.9)),
            "with a pen of 5 mm": in_pen(op("w", 5.0)),
            "clipped away": within(op("re", 0.0, 0.0, 0.1, 0.1), op("W"), op("n")),
        }.items()
    ),
    Row(
        "an outline white in red, green and blue",
        changed(one("hkOutline"), body(in_pen(op("RG", 1.0, 1.0, 1.0)))),
    ),
    Row("an outline yellow", changed(one("hkOutline"), body(in_pen(op("RG", 1.0, 1.0, 0.6))))),
    Row(
        "an outline white in four inks", changed(one("hkOutline"), body(in_pen(op("K", 0.0, 0.0, 0.0, 0.0))))
    ),
    Row(
        "an outline white by a colour space",
        changed(one("hkOutline"), body(in_pen(op("CS", "/DeviceGray"), op("SCN", 1.0)))),
    ),
    Row("an outline with a pen of 0", changed(one("hkOutline"), body(in_pen(op("w", 0.0))))),
    Row("an outline dashed", changed(one("hkOutline"), body(in_pen(op("d", "[", "6", "1.5", "]", "0"))))),
    Row(
        "an outline with dashes of nothing",
        changed(one("hkOutline"), body(in_pen(op("d", "[", "0.01", "50", "]", "0")))),
    ),
    Row("a fold line drawn through", changed(one("hkFold"), body(in_pen(op("d", "[", "]", "0"))))),
    Row(
        "a hole's point not filled",
        changed(one("hkHole"), body(only(lambda path: [*path[:-1], op("n")], is_dot))),
        ("drawing",),
    ),
    Row("a label white", changed(one("hkLabel", holding="Tj"), body(WHITE))),
    Row(
        "a label in the mode that shows nothing",
        changed(one("hkLabel", holding="Tj"), body(within(op("Tr", "3")))),
    ),
    Row("a label squeezed to nothing", changed(one("hkLabel", holding="Tj"), body(within(op("Tz", "1"))))),
    Row("every hole white", changed(every("hkHole"), body(WHITE))),
    Row("every outline white", changed(every("hkOutline"), body(WHITE))),
    Row("a window clipped by half", window(None, clip=0.5)),
    Row(
        "an outline half clipped",
        changed(one("hkOutline"), body(within(op("re", 0.0, 0.0, 100.0, 100.0), op("W"), op("n")))),
    ),
    *(Row(f"an outline {how}", states("hkOutline", **state)) for how, state in FAINT.items()),
    Row("a hole in a layer that is off", layered("hkHole", printed=False)),
    Row("an outline in a layer that is not printed", layered("hkOutline", printed=False, seen=True)),
    Row("a white rectangle over a window", covered("rectangle")),
    Row("a black rectangle over a window", covered("black")),
    Row("an image over a window", covered("image")),
    Row("an image in the content over a window", covered("inline image")),
    Row("a shading over a sheet", covered("shading")),
    Row("a white line over a row of holes", covered("line")),
    Row("a white spot on an outline", covered("spot")),
    Row("a white rectangle over one hole", covered("one hole")),
    Row("a second content with a white rectangle", covered("second content")),
    Row("a white form over a window", covered("form")),
    Row(
        "an outline filled white over its lines",
        changed(one("hkOutline"), body(lambda found: [op("q"), op("g", 1.0), *found[:-1], op("B"), op("Q")])),
    ),
)

PAGES = by(
    "drawing",
    Row("an annotation over a window", annotated("Square"), ("extras",)),
    Row("a text annotation on a sheet", annotated("FreeText"), ("extras",)),
    Row("a sheet's MediaBox cut in half", boxed("/MediaBox", (0, 0, 0.5, 1)), ("same-paper",)),
    Row("a sheet's paper in whole units", rounded(), ("paper",)),
    Row("a sheet's MediaBox moved by 5 mm", boxed("/MediaBox", (0.02, 0, 1.02, 1))),
    Row("a sheet's CropBox cut by a fifth", boxed("/CropBox", (0, 0, 0.8, 1)), ("boxes",)),
    Row("a sheet's TrimBox cut by a fifth", boxed("/TrimBox", (0, 0, 0.8, 1)), ("boxes",)),
    Row("a sheet's BleedBox cut by a fifth", boxed("/BleedBox", (0.1, 0, 1, 1)), ("boxes",)),
    Row("a sheet with a user unit of 2", page_entry("/UserUnit", 2), ("user-unit",)),
    Row("a sheet turned by 90°", page_entry("/Rotate", 90), ("rotate",)),
    Row("a sheet turned by 180°", page_entry("/Rotate", 180), ("rotate",)),
    Row("a sheet in a form that makes it smaller", in_form((0.97, 0, 0, 0.97, 0, 0), (0, 0, 1, 1))),
    Row("a sheet in a form of a layer", in_form((1, 0, 0, 1, 0, 0), (0, 0, 1, 1), layer=True), ("seen",)),
    Row("another colour in grey's place", other_grey, ("seen",)),
    Row("every page turned by its tree", handed_down("/Rotate", 90), ("rotate",)),
    Row("every page cut by its tree", handed_down("/CropBox", [0, 0, 300, 300]), ("boxes",), most=2),
    Row("every page with a user unit of 2", every_page("/UserUnit", 2), ("user-unit",)),
    Row("every page on legal paper", every_page("/MediaBox", [0, 0, 612, 1008]), ("same-paper",)),
    Row("a user unit of the tree's", handed_down("/UserUnit", 2), ("extras",)),
    Row("a script of the tree's", handed_down("/AA", "script"), ("extras",)),
    Row("a tree that counts less pages than it has", handed_down("/Count", 2), ("extras",)),
    Row("pages in another order by their tree", tree_turned(), ("sheets",)),
    Row("a sheet turned by an update", updated("/Rotate", 90), ("rotate",)),
    Row("a sheet with a group of other colours", page_entry("/Group", GROUP), ("extras",)),
    Row("a sheet's content in another file", content_elsewhere, refused="data is in another file"),
    Row("an encrypted copy", encrypted, refused="found an encrypted file"),
    Row("a sheet in a form that shows half of it", in_form((1, 0, 0, 1, 0, 0), (0, 0, 1, 0.5)), ("seen",)),
)

FILE = (
    Row("print scaling not said", preferences(PrintScaling=None), ("print-scaling",)),
    Row("print scaling left to the viewer", preferences(PrintScaling="/AppDefault"), ("print-scaling",)),
    Row("no viewer preferences", catalog("/ViewerPreferences", None), ("print-scaling",)),
    Row("two copies asked for", preferences(NumCopies=2), ("viewer",)),
    Row("both sides of the paper asked for", preferences(Duplex="/DuplexFlipLongEdge"), ("viewer",)),
    Row("a range of pages asked for", preferences(PrintPageRange=[0, 0]), ("viewer",)),
    Row("what is printed cut to another box", preferences(PrintArea="/TrimBox"), ("viewer",)),
    Row("the paper chosen by the page's size", preferences(PickTrayByPDFSize=False), ("viewer",)),
    Row("a script at opening", catalog("/OpenAction", "script"), ("extras",)),
    Row("a program started at opening", catalog("/OpenAction", "launch"), ("extras",)),
    Row("a script before printing", catalog("/AA", "script"), ("extras",)),
    Row("a script by name", catalog("/Names", "script"), ("extras",)),
    Row("a script of a page", page_entry("/AA", "script"), ("extras",)),
    Row("a form to fill in", catalog("/AcroForm", "form"), ("extras",)),
    Row("a link with a script", annotated("Link"), ("extras",)),
    Row("a file attached", catalog("/EmbeddedFiles", "file"), ("extras",)),
    Row("a font of the viewer's in place of the kit's", fonts("viewer"), ("fonts",)),
    Row("fonts not embedded", fonts("not embedded"), ("fonts",)),
    Row("fonts that no page has", fonts("gone"), ("fonts",)),
    Row("fonts that the last page hasn't", fonts("gone from one"), ("seen",)),
    Row("fonts that tell no letters", fonts("no text"), ("fonts",)),
    Row("fonts that tell other letters", fonts("letters"), ("fonts",)),
    Row("fonts with a second program", fonts("another program"), ("fonts",)),
    Row("fonts drawn by operators", fonts("Type3"), ("fonts",)),
    Row("fonts with letters twice as wide", fonts("widths"), ("fonts",)),
    Row("two fonts of a page in each other's place", fonts("exchanged"), ("fonts",)),
    Row("other page labels", catalog("/PageLabels", "labels"), ("labels",), most=1),
    Row("no page labels", catalog("/PageLabels", None), ("labels",), most=1),
    Row("a bookmark called otherwise", bookmarks("called"), ("bookmarks",), most=1),
    Row("a bookmark that leads elsewhere", bookmarks("led"), ("bookmarks",), most=1),
)

TAGS = by(
    "drawing",
    Row("a hole tagged as a centre cross", changed(one("hkHole"), renamed("hkCentre"))),
    Row("every hole tagged as the page's", changed(every("hkHole"), renamed("hkSheet"))),
    Row("an outline tagged as a stitch line", changed(one("hkOutline"), renamed("hkStitchLine"))),
    Row("a stitch line tagged as an outline", changed(one("hkStitchLine"), renamed("hkOutline"))),
    Row(
        "a sheet's marks tagged as measured",
        changed(on_sheet(every("hkOutline", "hkHole")), renamed("hkMeasured")),
    ),
    Row("a hole's number changed", changed(one("hkHole"), saying("Number", "+100"))),
    Row("a hole's run changed", changed(one("hkHole"), saying("Run", "+5"))),
    Row("a hole's seam changed", changed(one("hkHole"), saying("Seam", "(another)"))),
    Row(
        "a hole of a seam with a very long name",
        changed(one("hkHole"), saying("Seam", f"({'x' * 9000})"), names=()),
    ),
    Row("a hole's window changed", changed(one("hkHole"), saying("Window", "+7"))),
    Row("an outline's piece changed", changed(one("hkOutline"), saying("Piece", "(another)"))),
    Row("an outline's window changed", changed(one("hkOutline"), saying("Window", "+7"))),
    Row("an opening's number changed", changed(one("hkOpening"), saying("Number", "+7"))),
    Row("an opening's diameter changed", changed(one("hkOpening"), saying("Diameter", "+0.5"))),
    Row("a registration mark's number changed", changed(one("hkRegistration"), saying("Mark", "+5"))),
    Row("a trim line's join changed", changed(one("hkTrimLine"), saying("Join", "[ 1 9 ]"))),
    Row("a break's length changed", changed(every("hkBreak"), saying("Length", "+10"))),
    Row(
        "a bar that claims 1 mm more, and has it",
        changed(
            one("hkScaleBar"),
            saying("Length", "201"),
            body(lambda found: [op("w", 0.25), op("m", 5.0, 9.0), op("l", 206.0, 9.0), op("S")]),
        ),
    ),
    Row("a hole's tag taken off, its ink kept", changed(one("hkHole"), untagged)),
    Row("every tag of a sheet taken off, all ink kept", changed(on_sheet(every()), untagged)),
    Row("an outline's tag taken off, its ink kept", changed(one("hkOutline"), untagged)),
    Row("a hole's tag a second time elsewhere", changed(one("hkHole"), again((1, 0, 0, 1, 20, 0)))),
)

ADDED = by(
    "drawing",
    Row("a hole more", changed(one("hkHole"), again((1, 0, 0, 1, 2, 2), Number="777"), names=("777",))),
    Row("a tick more, untagged", changed(one("hkHole"), again((1, 0, 0, 1, 2, 2), tagged=False)), ("loose",)),
    Row("a stitch line more", changed(one("hkStitchLine"), again((1, 0, 0, 1, 3, 0)))),
    Row("an opening more", changed(one("hkOpening"), again((1, 0, 0, 1, 12, 0), Number="99"), names=("99",))),
    Row("an untagged line on a sheet", written_on("sheet", "line"), ("loose",)),
    Row("an untagged heavy line on a sheet", written_on("sheet", "heavy line"), ("loose",)),
    Row("an image on a sheet", covered("image"), ("loose",)),
    Row("a filled field on a sheet", written_on("sheet", "field"), ("loose",)),
    Row("a tagged line on a sheet", written_on("sheet", "tagged line"), CONTENT),
    Row("a tagged line on every page", written_on("every", "tagged line"), CONTENT, most=1),
    Row("a text on a sheet", written_on("sheet", "text"), ("loose",)),
    Row("a text on the first page", written_on("first", "text"), ("loose",)),
    Row("a text on a page of the plan", written_on("plan", "text"), ("loose",)),
    Row(
        "a second outline, untagged",
        changed(one("hkOutline"), again((1, 0, 0, 1, 3, 3), tagged=False)),
        ("loose",),
    ),
    Row("a blank page more", sheet_again(blank=True), ("sheets",), most=1),
    Row("a blank page before all", page_before(), ("sheets",), most=1),
)

LISTS = (
    Row("no list attached", no_manifest, ("list",)),
    Row("two lists attached", two_manifests, ("list",)),
    Row("a list that is no JSON", attached(b"{"), ("list",)),
    Row("a list that is empty", attached(b""), ("list",)),
    Row("a list of something else", attached(b'{"format": 1}'), ("list",)),
    Row("a list nested without end", attached(b"[" * 100_000), ("list",)),
    Row("a list of a format to come", said(lambda manifest: manifest.update(format=2)), ("list",)),
    Row("a list with a piece that it hasn't", said(loose_end), ("list",)),
    Row("the list of another kit", of_another_kit, ("list",)),
    Row("the list lacks a hole", said(hole_less), ("drawing",)),
    Row("the list has a hole elsewhere", said(hole_moved), ("drawing",)),
    Row("the list has a window elsewhere", said(window_moved), ("drawing",)),
    Row("the list lacks a page", said(page_less), ("sheets",)),
    Row("the list has another digest of a page", said(digest_other), ("content",)),
    Row("the list claims a printer", said(correction_claimed), ("drawing",)),
    Row("the list has another digest of a font", said(font_other), ("fonts",)),
)

# What is left to be found in a file whose list is gone, as a program loses it that writes all anew.
BARE = tuple(
    Row(f"{name}, no list", bare(edit), (code,))
    for code, edits in {
        "holes": {
            "a hole's point missing": changed(one("hkHole"), body(only(nothing, is_dot))),
            "a hole's point moved": changed(one("hkHole"), body(only(shift(0.05), is_dot))),
            "a hole without its number": changed(one("hkHole"), saying("Number", "(x)"), names=()),
        },
        "registration": {
            "a registration mark missing": changed(one("hkRegistration"), gone),
            "the marks of one sheet missing": changed(on_sheet(every("hkRegistration")), gone),
            "a registration mark moved": changed(one("hkRegistration"), body(shift(0.05, 0.05))),
            "a registration mark without its ring": changed(
                one("hkRegistration"), body(only(nothing, is_stroke)), names=("no cross in a circle",)
            ),
            "a registration mark twice": changed(one("hkRegistration"), again(), names=()),
            "a mark without its number": changed(
                one("hkRegistration"), saying("Mark", "(x)"), names=("one without a number",)
            ),
            "a mark without its join": changed(
                one("hkRegistration"),
                saying("Join", "(x)"),
                names=("registration mark: one that names no join",),
            ),
            "a rule line without its join": changed(one("hkRuleLine"), saying("Join", "(x)"), names=()),
            "one mark in each portion": changed(every("hkRegistration"), only_first_marks),
        },
        "breaks": {
            "a break line missing": changed(one("hkBreak"), gone),
            "a break line without its zigzag": changed(one("hkBreak"), body(straight)),
            "a break line longer": changed(one("hkBreak"), body(scale(1.01))),
            "a break's length at one end another": changed(one("hkBreak"), saying("Length", "+10")),
            "a break line without its number": changed(
                one("hkBreak"), saying("Break", "(x)"), names=("names no break",)
            ),
        },
        "scale-bar": {
            "a bar too long": changed(one("hkScaleBar"), body(scale(1.001))),
            "a bar without its line": changed(one("hkScaleBar"), body(nothing)),
            "a bar that claims nothing": changed(one("hkScaleBar"), saying("Length", "(x)")),
            "no bar": changed(every("hkScaleBar"), gone),
        },
        "test-square": {
            "a square too large": changed(one("hkTestSquare"), body(scale(1.001))),
            "a square of three sides": changed(one("hkTestSquare"), body(without_segment)),
            "a square that claims nothing": changed(one("hkTestSquare"), saying("Side", "(x)")),
            "no square": changed(every("hkTestSquare"), gone),
        },
        "kit": {"no mark at all": changed(every(), untagged)},
    }.items()
    for name, edit in edits.items()
)

# What file and list tell alike: only the project, drafted anew, shows it.
LIES = (
    Row("a hole moved on paper and in the list", hole_lied, ("drawing",)),
    Row("a hole neither on paper nor in the list", hole_left_out, ("drawing",)),
    Row("a label moved, its digest agreeing", lied(changed(one("hkLabel"), body(shift(5, 5)))), CONTENT),
    Row("a line on the plan, its digest agreeing", lied(written_on("plan", "tagged line")), CONTENT),
    Row("another title in the list", said(lambda manifest: manifest.update(title="Another")), ("project",)),
    Row("a list by another handkit", said(made_by_another), ("project",)),
)

ROWS = (*MISSING, *TWICE, *MOVED, *UNSEEN, *PAGES, *FILE, *TAGS, *ADDED, *LISTS, *BARE)
