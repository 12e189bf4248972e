"""The plan at the bench: what is told, how large, and where pictures put their marks."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draw.kit_pdf import kit_pages
from handkit.draw.layout.flow import poured
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.fonts import CAPITAL, shipped_fonts
from handkit.draw.model.marks import Page, Words, words_of
from handkit.draw.pages.document_blocks import part_blocks
from handkit.draw.pages.lower_layers import lower_layers
from handkit.draw.pages.seam_picture import seam_picture, seam_scene, sewn_again
from handkit.draw.pages.seam_way import labels
from handkit.draw.words.cautions import AT_HOLE, AT_STEP, CLOSING, RULES
from handkit.draw.words.document import Heading, Paragraph, Ticked
from handkit.draw.words.method import method
from handkit.draw.words.names import KitPlan, codes_of, kit_plan
from handkit.draw.words.needle_words import corners_of, shared_with
from handkit.draw.words.plan_document import plan_document
from handkit.draw.words.threads import thread_parts
from handkit.draw.words.work_order import MARKING, order_parts
from handkit.geometry.affine import Affine
from handkit.geometry.nearest import nearest_move
from handkit.stitch.plan import cut_threads

FONTS = shipped_fonts()

# Two seams that meet in a corner and share its hole, a fold-over, a bowed front, a closed seam.
CASE = """
format = 1
title = "Grafting case"
[material]
thickness = 2
[[piece]]
name = "base"
rectangle = [120, 100]
lines = { left = [[20, 80], [20, 20]], foot = [[20, 20], [100, 20]] }
[[piece]]
name = "front"
rectangle = [88, 70]
on = "base"
at = [16, 16]
flat = false
[[piece]]
name = "sleeve"
rectangle = [60, 90]
folds = { middle = [[30, 0], [30, 90]] }
[[piece]]
name = "disc"
circle = 50
on = "base"
at = [60, 60]
[[seam]]
name = "left"
runs = [{ run = "front: D-A", from_start = 2 }, { run = "base: left" }]
bowed = true
[[seam]]
name = "foot"
runs = ["front: A-B", "base: foot"]
[[seam]]
name = "sleeve"
runs = ["sleeve: A-D", "sleeve: B-C"]
start_back = 2
[[seam]]
name = "disc"
runs = ["disc: A-A", "base"]
"""


@pytest.fixture(scope="module")
def case(products_of: Callable[..., Any]) -> Any:
    return products_of(CASE)


@pytest.fixture(scope="module")
def pages(wallet: Any) -> list[Page]:
    return list(kit_pages(*wallet, FONTS))


def kit_of(products: Any) -> KitPlan:
    return kit_plan(products.punched, products.plan)


def words_in(blocks: Any) -> tuple[Words, ...]:
    return words_of([Page("", (), group_of(blocks))])


def order_words(products: Any, width: float = 190) -> tuple[Words, ...]:
    """All that stands on paper of the order of work."""
    kit = kit_of(products)
    return words_in(part_blocks(kit, tuple(order_parts(kit)), Typesetter(FONTS, width)))


def group_of(blocks: Any) -> Any:
    return tuple(group for block in blocks for group in block.groups)


def seam_of(products: Any, name: str) -> Any:
    return next(seam for seam in products.plan.seams if seam.name == name)


def test_every_step_has_its_number_and_its_sentence_large(wallet: Any) -> None:
    """Capitals of 3.6 mm and more are read at arm's length; numbers are larger still."""
    words = order_words(wallet)
    text = " ".join(word.text for word in words if word.size == 5.0)
    sizes = {word.text: word.size for word in words if word.bold}
    for number, step in enumerate(wallet.plan.steps, start=1):
        assert sizes[str(number)] * CAPITAL >= 4
        if step.kind not in ("seam", "opening"):
            assert step.what in text
        assert all(one in text for one in step.besides)
    assert min(word.size for word in words if word.text.startswith("Cut ")) * CAPITAL >= 3.6


def test_a_caution_is_told_once_at_the_first_step_it_is_for(wallet: Any) -> None:
    text = " ".join(word.text for word in order_words(wallet, 400))
    for kind in {step.kind for step in wallet.plan.steps} & set(AT_STEP):
        assert text.count(AT_STEP[kind]) == 1


def test_cautions_send_to_rules_and_training() -> None:
    for text in (CLOSING, RULES):
        assert "local rules" in text
        assert "trained advice" in text


def test_cloth_is_told_nothing_of_oily_rags(products_of: Callable[..., Any]) -> None:
    text = 'format = 1\n[material]\nthickness = 1\nkind = "canvas"\n[[piece]]\nname = "disc"\ncircle = 60\n'
    words = order_words(products_of(text), 400)
    assert "Rags" not in " ".join(word.text for word in words)


@pytest.mark.parametrize("words", ["tape", "Prick", "middle of the wide line", "scrap"])
def test_marking_is_spelled_out_before_the_order(words: str) -> None:
    assert any(words in text for text in MARKING)


def test_each_thread_is_told_with_number_seam_and_length(case: Any) -> None:
    kit = kit_of(case)
    parts = tuple(thread_parts(kit))
    words = words_in(part_blocks(kit, parts, Typesetter(FONTS, 190, 277)))
    sizes = {word.text: word.size for word in words}
    ticked = [part for part in parts if isinstance(part, Ticked)]
    assert [mark for part in ticked for mark in part.marks] == [f"T{k}" for k in range(1, 5)]
    for thread in cut_threads(case.plan.seams):
        (part,) = (part for part in ticked if thread.code in part.marks)
        assert part.aside.startswith(f"{thread.cut:.0f} mm")
        assert f"{kit.codes.seams[thread.seam.name]} {thread.seam.name}" in part.title
        for text in (thread.code, part.aside):
            assert sizes[text] * CAPITAL >= 4.3  # read at arm's length


def test_copies_are_counted_in_the_totals(products_of: Callable[..., Any]) -> None:
    kit = kit_of(products_of(CASE + "[make]\ncopies = 3\n"))
    told = [part.text for part in thread_parts(kit) if hasattr(part, "text")]
    assert "Each 3 times: 3 are made alike." in told[1]


ALIKE = """
format = 1
[material]
thickness = 2
[[piece]]
name = "back"
rectangle = [160, 200]
[[piece]]
name = "bar"
rectangle = [140, 20]
on = "back"
at = [10, 100]
lines = {{ one = [[20, 4], [20, 16]], two = [[70, 4], [70, 16]], three = [[120, 4], [120, {end}]] }}
[[seam]]
name = "bar one"
runs = ["bar: one", "back"]
[[seam]]
name = "bar two"
runs = ["bar: two", "back"]
[[seam]]
name = "bar three"
runs = ["bar: three", "back"]
"""
EYELET = """after = ["eyelet"]
[[opening]]
name = "eyelet"
kind = "eyelet"
hole = 4
cap = 8
through = ["back"]
at = [[20, 20]]
"""


@pytest.mark.parametrize(
    ("end", "after", "together"),
    [
        (16, "", [("bar one", "bar two", "bar three")]),
        (12, "", [("bar one", "bar two"), ("bar three",)]),
        (16, EYELET, [("bar one", "bar two"), ("bar three",)]),
    ],
)
def test_seams_that_are_alike_and_follow_one_another_are_told_once(
    products_of: Callable[..., Any], end: int, after: str, together: list[tuple[str, ...]]
) -> None:
    kit = kit_of(products_of(ALIKE.format(end=end) + after))
    steps = [step for step in order_parts(kit) if step.seams]
    assert [step.seams for step in steps] == together
    assert [len(step.marks) for step in steps] == [len(names) for names in together]
    first = steps[0]
    assert first.title.endswith(f": {len(together[0])} alike")
    assert first.aside.startswith(f"T1 {'to' if len(together[0]) > 2 else 'and'} T{len(together[0])}, ")
    assert [line.text for line in first.lines if line.key == "Layers"] == ["bar on back; stack 4 mm"]
    assert [walk.code for walk in first.walks] == [kit.codes.seams[name] for name in together[0]]


ROLL = Path(__file__).parents[2] / "samples" / "bindery_roll" / "roll.toml"


def test_rows_between_a_roll_s_tools_are_told_once(products_of: Callable[..., Any]) -> None:
    """They differ by the hole of the row round the pocket that each begins in; all six are told."""
    kit = kit_of(products_of(ROLL.read_text("utf-8")))
    (step,) = (each for each in order_parts(kit) if "roll 1" in each.seams)
    assert step.seams == tuple(f"roll {number}" for number in range(1, 7))
    (shared,) = (line.text for line in step.lines if line.key == "Shared")
    assert re.findall(r"(S\d)·1 is also S9·\d+", shared) == [kit.codes.seams[name] for name in step.seams]


def test_alike_seams_that_lie_unlike_have_a_picture_each(products_of: Callable[..., Any]) -> None:
    """The third runs the other way: its first hole lies at the other end."""
    text = ALIKE.format(end=16).replace("[[120, 4], [120, 16]]", "[[120, 16], [120, 4]]")
    (step,) = (step for step in order_parts(kit_of(products_of(text))) if step.seams)
    assert [figure.caption for figure in step.figures] == ["S1 and S2", "S3"]
    (one,) = (step for step in order_parts(kit_of(products_of(ALIKE.format(end=16)))) if step.seams)
    assert [figure.caption for figure in one.figures] == [""]


def test_what_is_glued_is_sewn_before_the_next_is_glued(products_of: Callable[..., Any]) -> None:
    """Along an edge, where there is room for cement: both pressed on first would bar the way."""
    text = ALIKE.format(end=16).replace('on = "back"\nat = [10, 100]', 'on = "back"')
    glued = text.replace('"bar: one"', '"bar: A-B"').replace('"bar: two"', '"bar: C-D"')
    steps = [
        step for step in order_parts(kit_of(products_of(glued))) if "Spread cement" in " ".join(step.said)
    ]
    assert [len(step.seams) for step in steps] == [1, 1]


def test_every_step_has_one_box(wallet: Any, case: Any) -> None:
    for products in (wallet, case):
        marks = [mark for step in order_parts(kit_of(products)) for mark in step.marks]
        assert marks == [str(k) for k in range(1, len(products.plan.steps) + 1)]


def test_headings_are_bookmarks(wallet: Any, pages: list[Page]) -> None:
    plan = [page for page in pages if page.label.startswith("Plan")]
    titles = [title for page in plan for level, title in page.bookmarks if level == 1]
    parts = [part for one in plan_document(kit_of(wallet)).chapters for part in one.parts]
    assert titles == [part.text for part in parts if isinstance(part, Heading)]
    assert {"Threads to cut", "Step by step"} <= set(titles)


def test_pictures_tell_start_end_and_shared_holes_in_letters_that_can_be_read(case: Any) -> None:
    for seam in case.plan.seams:
        room = Typesetter(FONTS, 190, 75)
        picture = seam_picture(kit_of(case), seam_scene(kit_of(case), [seam], room), room)
        words = [word for word in words_in([picture]) if word.text[0].isdigit()]
        assert min(word.size for word in words) * CAPITAL >= 2.5
        text = [word.text for word in words]
        assert any(t.startswith(f"{seam.walk[0]} start") for t in text), (seam.name, text)
        assert any(t.startswith(f"{seam.walk[-1]}") and "end" in t for t in text), (seam.name, text)


def test_a_shared_hole_names_the_other_seam_and_its_hole(case: Any) -> None:
    kit, left, foot = kit_of(case), seam_of(case, "left"), seam_of(case, "foot")
    count = left.punched.count
    assert shared_with(kit, left) == {count: (f"{kit.codes.seams['foot']}·1",)}
    assert shared_with(kit, foot) == {1: (f"{kit.codes.seams['left']}·{count}",)}
    assert labels(kit, foot)[1].text == f"1 start = {kit.codes.seams['left']}·{count}"


BOWED = """
format = 1
[material]
thickness = 2
[stitching]
longest = {longest}
[[piece]]
name = "back"
rectangle = [200, 220]
[[item]]
name = "hank"
in = "pocket"
size = [76, 24, 150]
[[part]]
name = "pocket"
kind = "bowed pocket"
on = "back"
at = [30, 10]
"""


@pytest.mark.parametrize(("longest", "joined", "head"), [(3000, 0, ("T1 1",)), (800, 1, ("T1 1", "T2 1"))])
def test_pictures_mark_an_end_only_where_a_thread_has_one(
    products_of: Callable[..., Any], longest: int, joined: int, head: tuple[str, ...]
) -> None:
    """A bowed pocket's three runs are sewn as one, so their joints are no start, no end, and no hole in
    which another thread is; a second thread begins where it is joined, in the foot. In one picture each joint
    is written once."""
    case = products_of(BOWED.format(longest=longest))
    kit, (left, foot, right) = kit_of(case), case.plan.seams
    assert [shared_with(kit, seam) for seam in case.plan.seams] == [{}, {}, {}]
    alone = [labels(kit, seam) for seam in case.plan.seams]
    assert not any(label.shared for each in alone for label in each.values())
    assert [[k for k, label in each.items() if label.start] for each in alone] == [[3], [], []]
    assert [[k for k, label in each.items() if label.end] for each in alone] == [[], [], [right.walk[-1]]]
    last = [seam.punched.count for seam in (left, foot)]
    assert (alone[0][last[0]].text, alone[1][1].text) == (f"{last[0]} on in S2", "1 from S1")
    assert (alone[1][last[1]].text, alone[2][1].text) == (f"{last[1]} on in S3", "1 from S2")
    told = [labels(kit, seam, within=case.plan.seams) for seam in case.plan.seams]
    assert last[0] not in told[0]
    assert (told[1][1].text, told[2][1].text) == ("S2·1", "S3·1")
    others = {k: label.text for k, label in told[1].items() if k != 1}
    assert others == {foot.walk[thread.start]: f"{foot.walk[thread.start]} thread 2" for thread in foot.begun}
    assert len(others) == joined
    (step,) = (step for step in order_parts(kit) if step.seams)
    begun = step.aside.split(", ")
    assert len(begun) == len(head)
    assert all(one.startswith(begin) for one, begin in zip(begun, head, strict=True)), step.aside


def test_lower_layers_are_laid_by_their_holes_or_carried(case: Any) -> None:
    """The front's A stands at (16, 16) of the base; so the base's origin at (-16, -16) of the front."""
    (base,) = lower_layers(case.punched, seam_of(case, "foot").punched)
    assert base.outline is not None
    assert base.outline.bounds() == pytest.approx((-16, -16, 104, 84), abs=0.1)
    (under,) = lower_layers(case.punched, seam_of(case, "disc").punched)
    assert under.outline is not None
    assert under.outline.bounds() == pytest.approx((-60, -60, 60, 40))
    (same,) = lower_layers(case.punched, seam_of(case, "sleeve").punched)
    assert same.folded


@given(
    angle=st.floats(-180, 180),
    at=st.tuples(st.floats(-200, 200), st.floats(-200, 200)),
    over=st.booleans(),
)
@settings(derandomize=True, deadline=None, max_examples=100)
def test_the_nearest_move_finds_a_move_again(angle: float, at: tuple[float, float], over: bool) -> None:
    points = [(0.0, 0.0), (40.0, 0.0), (40.0, 25.0), (10.0, 30.0)]
    true = Affine.shift(*at) @ Affine.turn(angle) @ (Affine.mirror() if over else Affine())
    found = nearest_move(points, true.apply_all(points), over=over)
    for point in points:
        assert found.apply(point) == pytest.approx(true.apply(point), abs=1e-5)


@pytest.mark.parametrize(
    ("walk", "twice"),
    [
        ((1, 2, 3, 4), ()),
        ((1, 2, 3, 4, 3, 2), ((2, 3), (3, 4))),
        ((3, 2, 1, 2, 3, 4), ((1, 2), (2, 3))),
        ((1, 2, 3, 1, 2), ((1, 2),)),
    ],
)
def test_back_stitches_are_the_stitches_sewn_again(walk: Any, twice: Any) -> None:
    assert sewn_again(walk) == twice
    assert sewn_again((*walk, *walk[-2::-1]), plain=4) == ()


def test_corners_are_told_where_the_way_turns(wallet: Any, case: Any) -> None:
    assert corners_of(seam_of(case, "left")) == ()
    assert corners_of(seam_of(case, "disc")) == ()  # a smooth round
    assert corners_of(seam_of(wallet, "étui seam"))


def test_the_stitch_is_told_for_the_stitches_and_threads_there_are(case: Any) -> None:
    texts = dict(method(case.plan, case.punched.pattern.families))
    assert "right hand has the front needle" in texts["Hold"]
    assert "melt" in texts["Lock"]
    assert "Linen" not in texts["Lock"]
    assert "Whip" not in texts


def test_seams_stand_in_working_order_with_their_threads(wallet: Any, pages: list[Page]) -> None:
    text = " ".join(w.text for page in pages if page.label.startswith("Plan") for w in words_of([page]))
    heads = [f"{codes_of(wallet.plan).seams[seam.name]} {seam.name}" for seam in wallet.plan.seams]
    # the first time among the threads, the second at the seam itself
    places = [text.rindex(head) for head in heads]
    assert places == sorted(places)
    for thread in cut_threads(wallet.plan.seams):
        assert f"{thread.code} {thread.cut:.0f} mm" in text


def test_a_slot_that_is_cut_first_asks_for_knife_and_punch_and_no_setter(
    products_of: Callable[..., Any],
) -> None:
    text = """format = 1
[material]
thickness = 2
[[piece]]
name = "strap"
rectangle = [200, 40]
grain = 0
[[opening]]
name = "slot"
kind = "slot"
slot = [20, 4]
through = ["strap"]
at = [[40, 20]]
"""
    rivet = '[[opening]]\nname = "rivet"\nkind = "rivet"\nhole = 3\ncap = 9\n'
    rivet += 'through = ["strap"]\nat = [[90, 20]]\n'
    for more, setters in (("", 0), (rivet, 1)):
        told = " ".join(word.text for word in order_words(products_of(text + more), 400))
        assert told.count(AT_HOLE) == 1
        assert told.count("Hold the setter") == setters


def test_however_many_are_alike_their_numbers_stay_on_the_paper(products_of: Callable[..., Any]) -> None:
    """Thirteen rows of one kind are ticked in two lines of boxes, and their threads too; text is below."""
    text = (Path(__file__).parents[1] / "projects/canvas_roll/roll.toml").read_text("utf-8")
    pages = kit_pages(*products_of(text), FONTS)
    marks = [f"T{k}" for k in range(3, 16)]
    for page in pages:
        words = [one for one in words_of((page,)) if not one.degrees]
        ends = [one.at[0] + FONTS.width(one.text, one.size, bold=one.bold) for one in words]
        assert max(ends, default=0.0) <= 210 - 10 + 0.01
        boxes = [one for one in words if one.text in marks]
        if len(boxes) == len(marks):
            levels = sorted({round(one.at[1], 2) for one in boxes}, reverse=True)
            assert len(levels) == 2
            below = [one for one in words if one.text.startswith("S3 between")]
            assert all(one.at[1] < levels[-1] for one in below)
    assert any({*marks} <= {one.text for one in words_of((page,))} for page in pages)


@pytest.mark.parametrize("lines", range(1, 9))
def test_no_heading_ends_a_page_with_the_text_under_it(lines: int) -> None:
    """However full the page is by then."""
    parts = [*[Paragraph("some line")] * lines, Heading("Step by step"), Paragraph("Read this first.")]
    blocks = part_blocks(None, [*parts, Paragraph("one")], Typesetter(FONTS, 100.0, 60.0))  # type: ignore[arg-type]
    for page in poured(blocks, left=0, top=0, height=40.0)[:-1]:
        texts = [part.text for group in page for mark in group.marks for part in mark.parts]
        assert texts[-1] not in {"Step by step", "Read this first."}
