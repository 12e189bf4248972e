"""The plan's three forms tell what its JSON says: on paper, on a terminal, in a browser.

Each number of the JSON is looked for near the name of what it is about, in the text of each form as a reader
of its own gives it (pypdf, the standard library's HTML parser), as rounded as it is written there. Not looked
for: strands and stacks of single moves, shares of threads, places of the way (the walk's turning points are
looked for), drifts of an iron, turns round an edge, lengths of single layers, and the steps of edges, which
are the steps' own numbers. A length may be written in m, an area in dm² or square feet.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

SHORT = ("pouch", "strap")
NAMES = (
    "pouch",
    "strap",
    "sketching case",
    "bag",
    "canvas roll",
    "card wallet",
    "dog collar",
    "welted sheath",
)
FORMS = ("paper", "terminal", "browser")

# How far behind a name its numbers stand at most, in letters.
NEAR, BEFORE = 2000, 120

# How many mm or mm² a unit is, and with how many decimals at least a length is rounded in it.
Unit = tuple[float, int]
COUNT = ((1.0, 0),)
MM: tuple[Unit, ...] = ((1.0, 1),)
THREAD: tuple[Unit, ...] = ((1.0, 0), (1000.0, 2))
AREA: tuple[Unit, ...] = ((1e4, 1), (92903.04, 2))


class Texts(HTMLParser):
    """The words of a page: those of scripts, styles and pictures left out."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.words: list[str] = []
        self.quiet = 0
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: Any) -> None:
        self.quiet += tag in ("script", "style", "svg")

    def handle_endtag(self, tag: str) -> None:
        self.quiet -= tag in ("script", "style", "svg")

    def handle_data(self, data: str) -> None:
        if not self.quiet:
            self.words.append(data)


@pytest.fixture(scope="module")
def told(
    kits: Callable[[str], Any], handkit: Callable[..., str], projects: Path
) -> Callable[[str, str], str]:
    @cache
    def text(name: str, form: str) -> str:
        kit = kits(name)
        if form == "terminal":
            found = kit.told
        elif form == "paper":
            pages = zip(kit.reader.page_labels, kit.reader.pages, strict=True)
            found = " ".join(page.extract_text() for label, page in pages if label.startswith("Plan"))
        else:
            folder = "orchard_pouch" if name == "pouch" else name.replace(" ", "_")
            (file,) = (one for one in (projects / folder).glob("*.toml") if one.name != "expected.toml")
            handkit("plan", file, "--format", "html", "-o", projects / "bench.html", folder=projects)
            found = " ".join(Texts((projects / "bench.html").read_text("utf-8")).words)
        return " ".join(found.split())

    return text


def numbers(text: str) -> Iterator[tuple[float, int]]:
    """Each number with its decimals."""
    for found in re.findall(r"\d+(?:\.\d+)?", text):
        yield float(found), len(found.partition(".")[2])


def written(value: float, text: str, units: Iterable[Unit]) -> bool:
    """Whether a value stands in a text in one of the units, rounded, with so many decimals at least."""
    return any(
        abs(number - value / size) <= 0.5000001 * 10.0**-decimals
        for number, decimals in numbers(text)
        for size, least in units
        if decimals >= least or round(value / size, least) == number
    ) or any(0 < value / size < 0.005 and "<0.01" in text for size, _ in units)


def near(text: str, *names: str) -> str:
    """What stands about each place where the names stand."""
    places = [
        found.span() for name in names for found in re.finditer(re.escape(" ".join(name.split())), text)
    ]
    return " ".join(text[max(0, first - BEFORE) : first] + text[last : last + NEAR] for first, last in places)


def wanted(plan: dict[str, Any]) -> Iterator[tuple[str, float, Iterable[Unit]]]:
    """Each number with what it is told of, and the units in which it may be written."""
    copies = plan["copies"]
    rows: tuple[tuple[str, str, dict[str, Iterable[Unit]]], ...] = (
        ("cut_list", "piece", {"width_mm": MM, "height_mm": MM, "thickness_mm": MM, "area_mm2": AREA}),
        ("hardware", "what", {"post_mm": MM, "post_at_hand_mm": MM}),
        ("rooms", "item", dict.fromkeys(("needed_mm", "given_mm", "ease_mm", "least_mm", "most_mm"), MM)),
        ("openings", "name", {"count": COUNT, "stack_mm": MM}),
        ("threads", "fibre", {"all_copies_mm": THREAD, "diameter_mm": MM}),
    )
    for table, name, keys in rows:
        for row in plan.get(table, ()):
            yield from ((row[name], row[key], units) for key, units in keys.items() if row[key] is not None)
    for table, name, keys_of_all in (
        ("cut_list", "piece", {"quantity": COUNT}),
        ("hardware", "what", {"count": COUNT}),
        ("glue", "piece", {"area_mm2": AREA}),
        ("materials", "material", {"net_mm2": AREA[:1], "gross_mm2": AREA[:1]}),
        ("materials", "material", {"net_mm2": AREA[1:], "gross_mm2": AREA[1:]}),
    ):
        for row in plan[table]:
            yield from ((row[name], row[key] * copies, units) for key, units in keys_of_all.items())
    for key, units in (("holes", COUNT), ("openings", COUNT), ("thread_mm", THREAD[1:])):
        yield "seam", plan["totals"][key], units
    for seam in plan["seams"]:
        yield from of_a_seam(seam, plan)


def of_a_seam(seam: dict[str, Any], plan: dict[str, Any]) -> Iterator[tuple[str, float, Iterable[Unit]]]:
    title = f"S{seam['order']} {seam['name']}"
    yield title, seam["holes"], COUNT
    for key in ("length_mm", "pitch_mm", "stack_mm"):
        yield title, seam[key], MM
    yield from ((title, hole, COUNT) for hole in (seam["walk"][0], seam["walk"][-1]))
    for thread in plan["cut_threads"]:
        if thread["parts"][0]["seam"] == seam["name"]:
            yield title, thread["cut_mm"], THREAD
    if seam["hold"] == "cement":
        yield from ((strip["upper"], strip["area_mm2"] * plan["copies"], AREA) for strip in seam["glue"])


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize(
    "name", [pytest.param(name, marks=[pytest.mark.long] * (name not in SHORT)) for name in NAMES]
)
def test_every_number_stands_by_what_it_is_of(
    told: Callable[[str, str], str], kits: Callable[[str], Any], name: str, form: str
) -> None:
    text, plan = told(name, form), kits(name).plan
    missing = [
        (what, value) for what, value, units in wanted(plan) if not written(value, near(text, what), units)
    ]
    assert missing == []


@pytest.mark.parametrize("form", FORMS)
def test_steps_stand_in_their_order_with_what_is_done(
    told: Callable[[str, str], str], kits: Callable[[str], Any], form: str
) -> None:
    """Of a seam that is told with those like it, and of an opening, the name."""
    for name in SHORT:
        text = told(name, form)
        for step in kits(name).plan["steps"]:
            words = step["name"] if step["kind"] in ("seam", "opening") else step["what"]
            assert " ".join(words.split()) in text, (name, form)


def test_a_number_that_is_not_told_is_missed() -> None:
    assert not written(27.4, near("S1 back 27 holes, 26.4 mm", "S1 back"), MM)
    assert written(27.4, near("S1 back, 27 holes of 27.40", "S1 back"), MM)
    assert not written(27.4, near(f"S1 back {'and so on, ' * 200} 27.4", "S1 back"), MM)


@pytest.mark.parametrize(("name", "most"), [("pouch", 13), ("sketching case", 13), ("strap", 7)])
def test_a_kit_is_short(kits: Callable[[str], Any], name: str, most: int) -> None:
    """What a maker prints at most, at letters that are read at arm's length: decided, no source."""
    assert len(kits(name).reader.pages) <= most
