"""The first sheet as it is printed: it tells what `make` reports, and all of it has room on one page."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

# A strap cut across the grain (a warning), its holes large for the thread (a note with a remedy), and ease
# that is meant (a note that only says so).
STRAP = """
format = 1
title = "Basket strap"
[material]
thickness = 2
[[piece]]
name = "strap"
rectangle = [180, 18]
grain = 90
[[piece]]
name = "front"
rectangle = [109, 60]
flat = false
on = "back"
at = [0, 0]
[[piece]]
name = "back"
rectangle = [120, 80]
lines = { foot = [[10, 10], [110, 10]] }
[[seam]]
name = "rim"
runs = ["strap: A-B"]
hole = { round = 2 }
thread = 0.6
[[seam]]
name = "foot"
runs = ["front: A-B", "back: foot"]
bowed = true
"""


def text_of(kit: Any, label: str) -> str:
    pages = zip(kit.reader.page_labels, kit.reader.pages, strict=True)
    return " ".join(" ".join(p.extract_text() for name, p in pages if name.startswith(label)).split())


def test_warnings_and_what_is_to_be_done_are_printed(kit_of: Callable[[str], Any]) -> None:
    kit = kit_of(STRAP)
    findings = kit.report["findings"]
    assert {one["severity"] for one in findings} == {"warning", "note"}
    assert {bool(one["remedy"]) for one in findings if one["severity"] == "note"} == {True, False}
    text = text_of(kit, "First sheet")
    for one in findings:
        needed = one["severity"] == "warning" or bool(one["remedy"])
        assert (f"{one['key']}: found {one['found']}" in text) is needed, one


@pytest.mark.long
@pytest.mark.parametrize("name", ["pouch", "sketching case", "strap"])
def test_the_first_sheet_of_a_sample_is_one_page(kits: Callable[[str], Any], name: str) -> None:
    """Squares, settings, legend, cautions and the map of the sheets."""
    kit = kits(name)
    assert [label for label in kit.reader.page_labels if label.startswith("First sheet")] == ["First sheet"]
    text = text_of(kit, "First sheet")
    for told in ("50 mm square", "Print at full size", "Reading the sheets", "Take care", "All sheets"):
        assert told in text
