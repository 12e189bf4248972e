"""What is seen of a page, and why not: content streams as tables, in mm, by the rules of ISO 32000-1."""

from __future__ import annotations

from typing import Any

import pytest

from handkit.errors import ProofError
from handkit.ink import Tag
from handkit.messages.placeholders import Phrase
from handkit.proof.checks.visible import looks_of, visibility
from handkit.proof.content.document import opened
from handkit.proof.content.marks import PageDrawing
from handkit.proof.content.objects import Allowance
from handkit.proof.content.walker import budget_of, walked

MM = "2.834645669 0 0 2.834645669 0 0 cm"
PEN = "0.5 w [] 0 d 0 G"  # an outline's
LINE = "20 50 m 80 50 l S"
FORM = "/Type /XObject /Subtype /Form /BBox [0 0 999 999] "
IMAGE = "/Subtype /Image /Width 1 /Height 1 /ColorSpace /DeviceGray /BitsPerComponent 8 "
RESOURCES = (
    "/XObject <</F 100 0 R /I 101 0 R /G 102 0 R /L 107 0 R>> /Shading <</S 103 0 R>> /Font <</T 104 0 R>> "
    "/ExtGState <</Thin <</CA 0.5>> /FillThin <</ca 0.5>> /Opaque <</CA 1 /ca 1>> "
    "/Multiply <</BM /Multiply>> /Normal <</BM /Normal>> /Mask <</SMask <</S /Alpha /G 102 0 R>>>> "
    "/Bare <</SMask /None>> /Wide <</LW 2>> /Dashed <</D [[3 1] 0]>> "
    "/Transfer <</TR 106 0 R>> /Plain <</TR /Identity>>>>"
)


def drawing_of(hand: Any, as_stream: Any, content: str, **file: str) -> PageDrawing:
    objects = (
        as_stream(f"{PEN} {LINE}", FORM),
        as_stream("\0", IMAGE),
        as_stream(f"{PEN} {LINE}", f"{FORM}/Group <</S /Transparency>> "),
        "<</ShadingType 2 /ColorSpace /DeviceGray /Coords [0 0 1 1] /Function 106 0 R>>",
        "<</Type /Font /Subtype /TrueType /BaseFont /AAAAAA+Some-Bold /FirstChar 65 "
        "/Widths [600 500] /ToUnicode 105 0 R>>",
        as_stream("2 beginbfchar <41> <00D8> <42> <0042> endbfchar"),
        "<</FunctionType 2 /Domain [0 1] /N 1 /C0 [1] /C1 [0]>>",
        as_stream(f"{PEN} {LINE}", f"{FORM}/OC <</Type /OCG /Name (x)>> "),
    )
    path = hand.pdf(f"q {MM} {content} Q", resources=RESOURCES, objects=objects, **file)
    return walked(opened(path).pages[0], budget=budget_of(0))


def reason(hand: Any, as_stream: Any, content: str, *, tag: str = "hkOutline") -> str:
    """Why the page's mark of a tag isn't seen, at all points of it."""
    drawing = drawing_of(hand, as_stream, content)
    (mark,) = (mark for mark in drawing.marks if mark.tag.value == tag)
    return told(visibility(drawing, looks_of(0)).unseen_mark(mark))


def told(reason: Phrase | None) -> str:
    return reason.told() if reason else ""


# What is drawn in an outline's tag (`#` is a line by an outline's pen, from 20, 50 to 80, 50 mm), and why it
# isn't seen.
LOOKS = [
    ("#", ""),
    (f"{PEN} 0.004 G {LINE}", ""),  # a hair of grey, as a writer rounds it
    (f"{PEN} 0.6 G {LINE}", "of 60 % white"),
    (f"{PEN} 1 G {LINE}", "of 100 % white"),
    (f"{PEN} 1 1 1 RG {LINE}", "of 100 % white"),
    (f"{PEN} 1 0 0 RG {LINE}", "of 30 % white"),
    (f"{PEN} 0 0 0 RG {LINE}", ""),
    (f"{PEN} 0 0 0 1 K {LINE}", ""),
    (f"{PEN} 0 0 0 0.2 K {LINE}", "of 80 % white"),
    (f"{PEN} 0.3 0.3 0.3 0.7 K {LINE}", ""),
    (f"{PEN} /DeviceRGB CS {LINE}", ""),  # a space begins with black
    (f"{PEN} /DeviceCMYK CS {LINE}", ""),
    (f"{PEN} /DeviceRGB CS 1 1 1 SC {LINE}", "of 100 % white"),
    (f"{PEN} /DeviceGray CS 1 SCN {LINE}", "of 100 % white"),
    (f"{PEN} /Other CS 0 SCN {LINE}", "in a colour that can't be told"),
    (f"{PEN} /Pattern CS /P SCN {LINE}", "in a colour that can't be told"),
    (f"{PEN} q 1 G Q {LINE}", ""),
    (f"0.3 w 0 G {LINE}", "drawn with a pen of 0.300 mm"),
    (f"0.005 w 0 G {LINE}", "drawn with a pen of 0.005 mm"),
    (f"{PEN} /Wide gs {LINE}", "drawn with a pen of 2.000 mm"),
    (f"0.5 w [6 1] 0 d 0 G {LINE}", "drawn with a pen of 0.500 mm, dashed 6 1"),
    (f"{PEN} /Dashed gs {LINE}", "drawn with a pen of 0.500 mm, dashed 3 1"),
    (f"0.5 w [0 0] 0 d 0 G {LINE}", ""),  # no dashes at all
    ("0.05 w 0 G q 10 0 0 10 0 0 cm 2 5 m 8 5 l S Q", ""),  # as wide as it comes out
    ("0.5 w 0 G q 4 0 0 0.25 0 0 cm 5 200 m 20 200 l S Q", "drawn with a pen of 0.500 mm"),  # an ellipse
    (f"{PEN} 20 50 m 80 50 l 80 90 l f", ""),  # filled black, as points and quarters are
    (f"{PEN} 1 g 20 50 m 80 50 l 80 90 l f", "of 100 % white"),
    (f"{PEN} 1 g 20 50 m 80 50 l 80 90 l B", "of 100 % white"),
    ("/Thin gs #", "see-through, 50 % opaque"),
    ("/FillThin gs #", ""),  # of fills alone
    ("/FillThin gs 20 50 m 80 50 l 80 90 l f", "see-through, 50 % opaque"),
    ("/Thin gs /Opaque gs #", ""),
    ("/Multiply gs #", "blended with what lies under it"),
    ("/Multiply gs /Normal gs #", ""),
    ("/Mask gs #", "under a mask"),
    ("/Mask gs /Bare gs #", ""),
    ("/Transfer gs #", "changed by a transfer function or a halftone"),
    ("/Plain gs #", ""),
    ("/F Do", ""),
    ("/G Do", ""),
    ("/FillThin gs /G Do", "part of a see-through group"),
    ("/Multiply gs /G Do", "part of a see-through group"),
    ("/FillThin gs /F Do", ""),  # no group: its strokes are as opaque as they were
    ("/Thin gs /F Do", "see-through, 50 % opaque"),
    ("/L Do", "in a layer that can be switched off"),
    ("/OC /Layer BDC # EMC", "in a layer that can be switched off"),
    ("/Span BMC # EMC", ""),
    ("/OC /Layer BDC /F Do EMC", "in a layer that can be switched off"),
]


@pytest.mark.parametrize(("drawn", "expected"), LOOKS)
def test_how_ink_looks(hand: Any, as_stream: Any, drawn: str, expected: str) -> None:
    content = f"/hkOutline BMC {drawn.replace('#', f'{PEN} {LINE}')} EMC"
    assert reason(hand, as_stream, content) == expected


MARK = f"/hkOutline BMC {PEN} {LINE} EMC"

# A page's content (`#` is an outline from 20, 50 to 80, 50 mm), and why that isn't seen.
PLACES = [
    ("10 10 90 90 re W n #", ""),
    ("10 10 30 90 re W n #", "cut off by a clip at 50.0, 50.0 mm"),
    ("q 10 10 30 90 re W n Q #", ""),
    ("10 10 30 90 re W* n #", "cut off by a clip at 50.0, 50.0 mm"),
    ("10 10 90 90 re 15 15 80 80 re W* n #", "cut off by a clip at 20.0, 50.0 mm"),  # a ring, by even and odd
    ("10 10 90 90 re 15 15 80 80 re W n #", ""),  # both ways round alike: all of it
    ("10 10 90 90 re W n 0 0 9 9 re W n #", "cut off by a clip at 20.0, 50.0 mm"),  # both at once
    ("W n #", "cut off by a clip at 20.0, 50.0 mm"),  # a clip without a path
    ("10 10 90 90 re W S #", ""),  # it is painted first
    ("10 49.9 90 0.2 re W n #", "cut off by a clip at 20.0, 50.0 mm"),  # a slit over its middle
    ("10 49.95 90 9 re W n #", ""),  # half of it is seen
    ("1 g 30 40 9 20 re f #", ""),  # under it
    ("# 1 g 45 40 9 20 re f", "covered by what is painted over it at 50.0, 50.0 mm"),
    ("# 0.9 g 45 40 9 20 re f", "covered by what is painted over it at 50.0, 50.0 mm"),
    ("# 1 1 0 rg 45 40 9 20 re f", "covered by what is painted over it at 50.0, 50.0 mm"),
    ("# /Pattern cs /P scn 45 40 9 20 re f", "covered by what is painted over it at 50.0, 50.0 mm"),
    ("# 1 g 45 40 9 20 re 46 41 7 18 re f*", ""),  # a frame about the place
    ("# 1 g 45 51 9 20 re f", ""),  # beside it
    ("# 1 g q 0 0 9 9 re W n 45 40 9 20 re f Q", ""),  # not where it lies
    ("# 1 G 3 w 45 40 m 55 60 l S", "covered by what is painted over it at 50.0, 50.0 mm"),
    ("# 1 g 10 50.1 90 9 re f 10 40 90 9.9 re f", "covered by what is painted over it at 20.0, 50.0 mm"),
    ("# 0 g 45 40 9 20 re f", "lost in a black area at 50.0, 50.0 mm"),
    ("0 g 45 40 9 20 re f #", "lost in a black area at 50.0, 50.0 mm"),  # black on black
    ("# 0 g 49 49.9 2 0.4 re f", ""),  # no blacker than a hole's point
    ("# 0 G 5 w 45 40 m 55 60 l S", "lost in a black area at 50.0, 50.0 mm"),
    ("# q 9 0 0 9 45 45 cm /I Do Q", "covered by an image at 50.0, 50.0 mm"),
    ("# q 9 0 0 9 45 45 cm BI /W 1 /H 1 /CS /G /BPC 8 ID \0 EI Q", "covered by an image at 50.0, 50.0 mm"),
    ("q 9 0 0 9 45 45 cm /I Do Q #", ""),
    ("# /S sh", "covered by a shading at 20.0, 50.0 mm"),
    ("# q 45 45 9 9 re W n /S sh Q", "covered by a shading at 50.0, 50.0 mm"),
    ("# 1 g BT /T 9 Tf 1 0 0 1 48 48 Tm (AAA) Tj ET", "covered by letters at 50.0, 50.0 mm"),
    ("# BT /T 9 Tf 1 0 0 1 48 48 Tm (AAA) Tj ET", ""),  # black letters of a text
    ("# BT /T 90 Tf 1 0 0 1 30 20 Tm (AAA) Tj ET", "covered by letters at 50.0, 50.0 mm"),
    ("q 1 0 0 1 180 0 cm # Q", "off the page at 230.0, 50.0 mm"),
    ("q 1 0 0 1 0 -60 cm # Q", "off the page at 20.0, -10.0 mm"),
    ("BT /T 9 Tf 7 Tr (A) Tj ET #", "cut off by a clip at 20.0, 50.0 mm"),  # letters as a clip
]


@pytest.mark.parametrize(("drawn", "expected"), PLACES)
def test_where_ink_is_seen(hand: Any, as_stream: Any, drawn: str, expected: str) -> None:
    assert reason(hand, as_stream, drawn.replace("#", MARK)) == expected


SQUEEZED = "squeezed, slanted or mirrored letters"

# A text operator's content, and what is read of it: text, place and size in mm, or why it isn't seen.
WORDS = [
    ("BT /T 4 Tf 1 0 0 1 30 40 Tm (AB) Tj ET", ("ØB", 30, 40, 4, 0), ""),
    ("BT /T 4 Tf 1 0 0 1 30 40 Tm <4142> Tj (A) Tj ET", ("ØBØ", 30, 40, 4, 0), ""),
    ("BT /T 4 Tf 1 0 0 1 30 40 Tm [(A) -500 (B)] TJ ET", ("ØB", 30, 40, 4, 0), ""),
    ("BT /T 4 Tf 0 1 -1 0 30 40 Tm (A) Tj ET", ("Ø", 30, 40, 4, 90), ""),
    ("BT /T 1 Tf 4 0 0 4 30 40 Tm (A) Tj ET", ("Ø", 30, 40, 4, 0), ""),
    ("BT /T 4 Tf 30 40 Td (A) Tj ET", ("Ø", 30, 40, 4, 0), ""),
    ("BT /T 4 Tf 1 0 0 1 30 40 Tm (AC) Tj ET", ("Ø\ufffd", 30, 40, 4, 0), ""),
    ("BT /T 4 Tf 5 Ts 1 0 0 1 30 40 Tm (A) Tj ET", ("Ø", 30, 45, 4, 0), ""),
    ("BT /T 4 Tf 3 Tr 1 0 0 1 30 40 Tm (A) Tj ET", ("Ø", 30, 40, 4, 0), "letters that are not filled"),
    (
        "BT /Missing 4 Tf 1 0 0 1 30 40 Tm (A) Tj ET",
        ("\ufffd", 30, 40, 4, 0),
        "in a font that the page doesn't have",
    ),
    ("1 g BT /T 4 Tf 1 0 0 1 30 40 Tm (A) Tj ET", ("Ø", 30, 40, 4, 0), "of 100 % white"),
    (
        "BT /T 4 Tf 50 Tz 1 0 0 1 30 40 Tm (A) Tj ET",
        ("Ø", 30, 40, 4, 0),
        SQUEEZED,
    ),
    (
        "BT /T 4 Tf -1 0 0 1 30 40 Tm (A) Tj ET",
        ("Ø", 30, 40, 4, 180),
        SQUEEZED,
    ),
    (
        "0 0 9 9 re W n BT /T 4 Tf 1 0 0 1 30 40 Tm (A) Tj ET",
        ("Ø", 30, 40, 4, 0),
        "cut off by a clip at 30.0, 41.4 mm",
    ),
]


@pytest.mark.parametrize(("drawn", "words", "expected"), WORDS)
def test_words(hand: Any, as_stream: Any, drawn: str, words: tuple[Any, ...], expected: str) -> None:
    drawing = drawing_of(hand, as_stream, f"/hkLabel BMC {drawn} EMC")
    (mark,) = drawing.marks
    (found,) = mark.words
    assert (found.text, *(round(x, 4) for x in (*found.at, found.size, found.degrees))) == words
    assert told(visibility(drawing, looks_of(0)).unseen_words(found)) == expected
    assert found.bold == (found.fonts != ("",))


def test_each_placing_begins_new_words(hand: Any, as_stream: Any) -> None:
    text = "BT /T 4 Tf 5 TL 30 40 Td (A) Tj T* (B) Tj 0 -5 TD (A) Tj (B) ' 1 2 (A) \" ET"
    (mark,) = drawing_of(hand, as_stream, f"/hkLabel BMC {text} EMC").marks
    found = [(words.text, round(words.at[0], 3), round(words.at[1], 3)) for words in mark.words]
    assert found == [("Ø", 30, 40), ("B", 30, 35), ("Ø", 30, 30), ("B", 30, 25), ("Ø", 30, 20)]
    # widths 0.6 and 0.5 of 4 mm; the last with 2 more
    assert [round(words.length, 3) for words in mark.words] == [2.4, 2, 2.4, 2, 4.4]


def test_what_stands_in_no_tag_is_kept_apart(hand: Any, as_stream: Any) -> None:
    drawing = drawing_of(
        hand,
        as_stream,
        f"{PEN} {LINE} /Span BMC {LINE} EMC BT /T 4 Tf (A) Tj ET {MARK} /hkSheet BMC {LINE} EMC /I Do",
    )
    assert [len(mark.painted) for mark in drawing.marks] == [1, 1]
    assert (len(drawing.loose), [words.text for words in drawing.loose_words]) == (2, ["Ø"])
    assert [picture.what for picture in drawing.pictures] == ["an image"]


def test_other_colours_in_the_place_of_the_devices(hand: Any) -> None:
    spaces = "/ColorSpace <</DefaultGray [/ICCBased 100 0 R]>>"
    drawing = walked(opened(hand.pdf(f"q {MM} {MARK} Q", resources=spaces)).pages[0], budget=budget_of(0))
    found = visibility(drawing, looks_of(0)).unseen_mark(drawing.marks[0])
    assert told(found) == "in a colour that can't be told"


def test_an_annotation_covers_what_lies_under_it(hand: Any, as_stream: Any) -> None:
    box = "/MediaBox [0 0 595.275591 841.889764] /Annots [<</Subtype /Square /Rect [100 100 160 200]>>]"
    drawing = drawing_of(hand, as_stream, MARK, page=box)
    found = visibility(drawing, looks_of(0)).unseen_mark(drawing.marks[0])
    assert told(found) == "covered by an annotation at 50.0, 50.0 mm"


def test_points_asked_for_are_the_ones_that_are_looked_at(hand: Any, as_stream: Any) -> None:
    drawing = drawing_of(hand, as_stream, f"10 10 30 90 re W n {MARK}")
    (painted,), seen = drawing.marks[0].painted, visibility(drawing, looks_of(0))
    assert seen.unseen(painted, [(25.0, 50.0), (39.0, 50.0)], tag=Tag.OUTLINE) is None
    found = seen.unseen(painted, [(25.0, 50.0), (41.0, 50.0)], tag=Tag.OUTLINE)
    assert told(found) == "cut off by a clip at 41.0, 50.0 mm"


def test_looks_at_borders_are_counted(hand: Any, as_stream: Any) -> None:
    drawing = drawing_of(hand, as_stream, f"10 10 90 90 re W n {MARK}")
    with pytest.raises(ProofError, match="found more areas"):
        visibility(drawing, Allowance(10, "found more areas")).unseen_mark(drawing.marks[0])
