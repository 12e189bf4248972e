"""Flow and lettering: nothing is lost between pages, lines keep to their width."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draw.layout.flow import Block, beside, kept_together, on_fresh_page, poured, stacked
from handkit.draw.layout.table import column_widths
from handkit.draw.layout.typesetter import TextCell, Typesetter
from handkit.draw.model.fonts import shipped_fonts
from handkit.draw.model.lettering import shortened, wrapped
from handkit.draw.model.marks import Group, Mark, Words, words_of
from handkit.draw.model.marks import Page as DrawnPage
from handkit.draw.words.listing import Column
from handkit.ink import Tag

FONTS = shipped_fonts()


def block(name: str, height: float, *, kept: bool = False, head: Block | None = None) -> Block:
    words = Words(name, (0.0, -height), 3.5)
    return Block(height, (Group((Mark(Tag.PAGE, (), (words,)),)),), kept, head)


def pages_of(blocks: list[Block], height: float) -> list[list[tuple[str, float]]]:
    """For each page what is written and how far its lower edge is below the top."""
    return [
        [(w.text, -w.at[1]) for w in words_of([DrawnPage("", (), groups)])]
        for groups in poured(blocks, left=0, top=0, height=height)
    ]


def test_blocks_stand_under_each_other_and_go_on_overleaf() -> None:
    blocks = [block(name, 10) for name in "abcde"]
    assert pages_of(blocks, 25) == [
        [("a", 10), ("b", 20)],
        [("c", 10), ("d", 20)],
        [("e", 10)],
    ]


def test_a_kept_block_stays_with_the_next() -> None:
    blocks = [block("a", 10), block("head", 5, kept=True), block("b", 15)]
    assert pages_of(blocks, 25) == [[("a", 10)], [("head", 5), ("b", 20)]]


def test_a_fresh_block_opens_a_page() -> None:
    blocks = [block("a", 5), *on_fresh_page([block("b", 5), block("c", 5)])]
    assert pages_of(blocks, 25) == [[("a", 5)], [("b", 5), ("c", 10)]]
    assert pages_of(blocks[1:], 25) == [[("b", 5), ("c", 10)]]
    assert on_fresh_page([]) == ()


def test_free_room_gives_way_where_that_saves_a_page_with_little_on_it() -> None:
    """26 drawn and two gaps of 4 are 34: on 33 the gaps are 3, so that all stand on one page."""
    blocks = [block("a", 10), Block(4.0), block("b", 10), Block(4.0), block("c", 6)]
    assert pages_of(blocks, 36) == [[("a", 10), ("b", 24), ("c", 34)]]
    assert pages_of(blocks, 33) == [[("a", 10), ("b", 23), ("c", 32)]]
    # What is worth a page stays on it, and so does what no room would save.
    assert pages_of([*blocks[:4], block("c", 9)], 33) == [[("a", 10), ("b", 24)], [("c", 9)]]
    assert pages_of(blocks, 26.5) == [[("a", 10), ("b", 24)], [("c", 6)]]


def test_kept_together_leaves_the_last_free() -> None:
    assert [b.kept for b in kept_together([block("a", 1), block("b", 1)])] == [True, False]
    assert kept_together([]) == ()


def test_a_head_is_drawn_again_overleaf() -> None:
    head = block("head", 5)
    blocks = [head, *(block(name, 10, head=head) for name in "abc")]
    assert pages_of(blocks, 25) == [[("head", 5), ("a", 15), ("b", 25)], [("head", 5), ("c", 15)]]


def test_what_is_kept_but_higher_than_a_page_goes_on_overleaf() -> None:
    """Only its first, which may be a head, is never alone."""
    blocks = [block("a", 10), *(block(str(k), 10, kept=k < 4) for k in range(5))]
    assert pages_of(blocks, 25) == [
        [("a", 10)],
        [("0", 10), ("1", 20)],
        [("2", 10), ("3", 20)],
        [("4", 10)],
    ]


@given(
    heights=st.lists(st.tuples(st.floats(0.5, 30), st.booleans()), max_size=30),
    height=st.floats(40, 90),
)
@settings(derandomize=True, deadline=None, max_examples=200)
def test_nothing_is_lost_and_nothing_overflows(heights: list[tuple[float, bool]], height: float) -> None:
    blocks = [block(str(k), h, kept=kept) for k, (h, kept) in enumerate(heights)]
    pages = pages_of(blocks, height)
    assert [name for page in pages for name, _ in page] == [str(k) for k in range(len(blocks))]
    assert all(low <= height + 1e-6 for page in pages for _, low in page)


def test_beside_and_stacked_take_the_room_they_need() -> None:
    assert beside(block("a", 10), block("b", 14), offset=50).height == 14
    pile = stacked([block("a", 10), block("b", 14)])
    assert pile.height == 24
    assert [w.at[1] for w in words_of([DrawnPage("", (), pile.groups)])] == [-10, -24]


@given(words=st.lists(st.text("abcdéwiIm-", min_size=1, max_size=18), max_size=25), width=st.floats(12, 90))
@settings(derandomize=True, deadline=None, max_examples=200)
def test_wrapped_lines_keep_to_the_width_and_lose_no_letter(words: list[str], width: float) -> None:
    lines = wrapped(" ".join(words), width, FONTS, size=3.5)
    assert "".join(lines).replace(" ", "") == "".join(words)
    assert all(FONTS.width(line, 3.5) <= width + 1e-6 for line in lines)


def test_a_line_is_broken_only_where_it_must() -> None:
    text = "cut along the back of the hide"
    whole = FONTS.width(text, 3.5)
    assert wrapped(text, whole + 0.001, FONTS, size=3.5) == (text,)
    assert wrapped(text, whole - 0.1, FONTS, size=3.5) == ("cut along the back of the", "hide")


def test_shortened_text_ends_with_an_ellipsis() -> None:
    assert shortened("Orchard pouch", 100, FONTS, size=3.5) == "Orchard pouch"
    short = shortened("Orchard pouch", 15, FONTS, size=3.5)
    assert short.endswith("…")
    assert FONTS.width(short, 3.5) <= 15
    assert shortened("Orchard", 0.5, FONTS, size=3.5) == ""


def test_paragraphs_are_a_block_a_line_and_empty_text_is_none() -> None:
    assert Typesetter(FONTS, 50).text("") == ()
    lines = Typesetter(FONTS, 30).text("one two three four five six seven", space=2)
    assert len(lines) > 1
    assert lines[-1].height == pytest.approx(lines[0].height + 2)


def test_a_row_goes_line_by_line() -> None:
    cells = [TextCell("1", 0, 5), TextCell("one two three four five six", 10, 15)]
    lines = Typesetter(FONTS, 50).row_lines(cells, space=1)
    assert len(lines) == len(wrapped(cells[1].text, 15, FONTS, size=3.5)) > 1
    assert [line.kept for line in lines] == [True] * (len(lines) - 1) + [False]
    assert sum(line.height for line in lines) == pytest.approx(
        Typesetter(FONTS, 50).row(cells, space=1).height
    )


def test_figures_end_at_the_right_of_their_cell() -> None:
    cells = [TextCell("12.5", 10, 20, right=True)]
    (words,) = words_of([DrawnPage("", (), Typesetter(FONTS, 50).row(cells).groups)])
    assert words.at[0] + FONTS.width("12.5", 3.5) == pytest.approx(30)


def test_columns_of_figures_are_not_broken_where_there_is_room() -> None:
    columns = (Column("piece", 9), Column("size, mm", 1, right=True))
    rows = [("back", "245.4 × 232.1")]
    widths = column_widths(columns, rows, FONTS, 100)
    assert sum(widths) == pytest.approx(100)
    assert widths[1] >= FONTS.width("245.4 × 232.1", 3.5)
    assert sum(column_widths(columns, rows, FONTS, 18)) == pytest.approx(18)
    assert Typesetter(FONTS, 100).table(columns, []) == ()


def test_free_room_at_a_pages_foot_opens_no_page() -> None:
    """A section's free room behind its last line made a page with nothing on it."""
    blocks = [block("a", 10), block("b", 12), Block(5.0)]
    assert pages_of(blocks, 25) == [[("a", 10), ("b", 22)]]
    assert pages_of([*blocks, block("c", 10)], 25) == [[("a", 10), ("b", 22)], [("c", 10)]]
