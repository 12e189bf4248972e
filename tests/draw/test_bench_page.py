"""The page for the bench, read back by the standard parser: whole, escaped, asking for nothing."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from handkit.draw.export.bench_page import bench_page
from handkit.draw.words.names import kit_plan
from handkit.draw.words.work_order import order_parts

SAMPLE = Path(__file__).parents[2] / "samples/orchard_pouch/pouch.toml"
HOSTILE = "<script>alert(\"1\")</script> & '{x}'"


class Read(HTMLParser):
    """All that stands in a page: elements with what they are given, texts by the element they stand in."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[tuple[str, str]] = []
        self.open = [""]
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if tag not in ("meta", "input", "br", "link"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.texts.append((self.open[-1], data))

    def of(self, *tags: str) -> str:
        return " ".join(text for tag, text in self.texts if tag in tags)


@pytest.fixture(scope="module")
def page(products_of: Callable[..., Any]) -> str:
    made = products_of(SAMPLE.read_text("utf-8"))
    return bench_page(made.plan, made.punched)


@pytest.mark.long
def test_it_is_small_and_the_same_each_time(page: str, products_of: Callable[..., Any]) -> None:
    made = products_of(SAMPLE.read_text("utf-8"))
    assert len(page.encode()) < 300_000
    assert bench_page(made.plan, made.punched) == page


def test_it_asks_for_nothing_and_lets_nothing_in(page: str) -> None:
    """CSP level 2: a hash allows the text of one inline style or script."""
    read = Read(page)
    for tag, given in read.elements:
        assert tag not in ("link", "img", "iframe", "object", "base", "form"), tag
        assert not any(name.startswith("on") or name in ("src", "style", "xlink:href") for name in given), (
            given
        )
        assert (given.get("href") or "#").startswith("#")
    policy = next(given["content"] for _, given in read.elements if given.get("http-equiv")) or ""
    rules = dict(rule.split(" ", 1) for rule in policy.split("; "))
    assert rules["default-src"] == "'none'"
    for kind in ("style", "script"):
        digest = base64.b64encode(hashlib.sha256(read.of(kind).encode()).digest()).decode()
        assert rules[f"{kind}-src"] == f"'sha256-{digest}'"
    assert "url(" not in read.of("style")


@pytest.mark.long
@pytest.mark.parametrize("title", [HOSTILE, "كتاب الرسم", "ספר סקיצות", "</title></script>"])
def test_any_name_is_text(products_of: Callable[..., Any], title: str) -> None:
    text = SAMPLE.read_text("utf-8").replace('"holder 1"', '"<b>one</b>"')
    made = products_of(text.replace('title = "Orchard pouch"', f"title = {quoted(title)}"))
    read = Read(bench_page(made.plan, made.punched))
    assert title == read.of("h1")
    assert [tag for tag, _ in read.elements].count("script") == 1


def quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def test_each_step_has_its_box_its_texts_and_its_walks(page: str, products_of: Callable[..., Any]) -> None:
    made = products_of(SAMPLE.read_text("utf-8"))
    read = Read(page)
    told = " ".join(text for _, text in read.texts)
    boxes = [given["id"] for tag, given in read.elements if tag == "input"]
    assert len(boxes) == len(set(boxes))
    walks = {given["id"]: given for _, given in read.elements if given.get("class") == "walk"}
    for step in order_parts(kit_plan(made.punched, made.plan)):
        assert all(f"done-{mark}" in boxes for mark in step.marks)
        for text in (*step.said, *step.notes, *(line.text for line in step.lines), step.caution, step.aside):
            assert text in told
        for walk in step.walks:
            holes = " ".join(str(place.hole) for place in walk.places)
            assert walks[f"walk-{walk.code}"]["data-holes"] == holes
    assert len(walks) == len(made.plan.seams)
    assert {name for tag, given in read.elements if tag == "svg" for name in [given["aria-labelledby"]]} <= {
        given.get("id") for tag, given in read.elements if tag == "title"
    }


def test_pictures_of_one_step_have_the_names_of_their_seams(page: str) -> None:
    """The pouch's loops are sewn down at both ends: a picture of each way in which they lie."""
    captions = [
        text for tag, text in Read(page).texts if tag == "p" and text.startswith("S") and " and S" in text
    ]
    assert captions == ["S1 and S3", "S2 and S4"]
