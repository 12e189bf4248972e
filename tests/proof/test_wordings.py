"""The wordings of all checks: each way to fail says where, and what to do; what passes tells neither."""

from __future__ import annotations

import ast
import re
from pathlib import Path

from handkit.messages.proving import ANY_PAPER, AT, PAPER, PAPER_SIZE, PROVING
from handkit.messages.unseen import MAPPED, UNSEEN

PROOF = Path(__file__).parents[2] / "handkit" / "proof"

# Ways to fail that are about the whole file.
OF_THE_FILE = {
    "boxes/all",
    "content/all",
    "extras/action",
    "extras/attached",
    "extras/file",
    "fonts/missing",
    "kit/none",
    "list/broken",
    "list/none",
    "list/other",
    "print-scaling/not-said",
    "print-scaling/other",
    "project/other",
    "project/version",
    "rotate/all",
    "same-paper/all",
    "scale-bar/none",
    "test-square/none",
    "user-unit/all",
    "viewer/other",
}

# Ways to fail that are about a whole page: there is no place on it.
OF_A_PAGE = re.compile(
    r"(bookmarks|boxes|content|extras|fonts|labels|paper|rotate|same-paper|sheets|user-unit|words)/"
)

# What tells where on a page: a place, a reason that has one, the marks that are meant.
PLACES = ("{at}", "{x:", "{reason}", "{how}", "{one}", "{marks", "{windows}")


def test_each_way_to_fail_says_what_to_do_on_which_page_and_where() -> None:
    assert [key for key, row in PROVING.items() if bool(row.do) != ("/" in key)] == []
    paged = {key for key, row in PROVING.items() if re.search(r"{pages?}", row.what) or "/" not in key}
    assert PROVING.keys() - paged == OF_THE_FILE
    placed = {key for key, row in PROVING.items() if any(place in row.found for place in PLACES)}
    placed.remove("list/broken")  # whose reason is about the list
    ways = {key for key in PROVING if "/" in key and not OF_A_PAGE.match(key)}
    assert ways - placed == OF_THE_FILE - {key for key in OF_THE_FILE if OF_A_PAGE.match(key)}


def test_lengths_are_told_in_any_unit() -> None:
    texts = [text for row in PROVING.values() for text in (row.what, row.found, row.wanted, row.do)]
    texts += [*UNSEEN.values(), *MAPPED.values(), AT, PAPER, PAPER_SIZE, ANY_PAPER]
    assert [text for text in texts if re.search(r"\bmm\b", re.sub(r"{[^}]*}", "", text))] == []


def test_a_row_of_what_passes_is_never_told_of_what_fails() -> None:
    for path in PROOF.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "check":
                key, *more = node.args
                if isinstance(key, ast.Constant) and "/" not in key.value:
                    assert more and isinstance(more[0], ast.Constant) and more[0].value is True, key.value
