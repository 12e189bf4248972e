"""The bench page used in a browser: nothing is asked for, nothing complained of, what is ticked is kept."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from axe_core_python.selenium import Axe
from browsing import SCREENS, Bench, Screen, sample

pytestmark = pytest.mark.long

POUCH, CASE, STRAP = map(sample, ("orchard_pouch", "sketching_case", "strap"))
BenchOf = Callable[[str], Path]

# Names that a page must show and never obey.
HOSTILE = "<script>alert(1)</script>"
LEFTWARDS = "كتاب الرسم"

ALL_SHOWN = """
for (const each of document.querySelectorAll("main [hidden]")) each.hidden = false;
for (const each of document.querySelectorAll("details")) [each.name, each.open] = ["", true];
for (const each of document.querySelectorAll("svg > :not(title)")) each.remove();
"""


def named(title: str) -> str:
    return POUCH.replace('title = "Orchard pouch"', f"title = {json.dumps(title)}")


@pytest.fixture(autouse=True)
def quiet(bench: Bench) -> Iterator[None]:
    """No page complains, and none asks for anything but itself; all is done without a network."""
    yield
    assert bench.complaints() == []
    assert {*bench.asked_for()} <= {"about:blank", *bench.opened}


def test_there_is_no_network_and_a_request_would_be_seen(bench: Bench, bench_of: BenchOf) -> None:
    """What the other tests find nothing of is found where it is: a request, and a complaint of its policy."""
    bench.open(bench_of(STRAP))
    bench.run("new Image().src = 'http://192.0.2.1/picture.png'")
    assert any("Content Security Policy" in each for each in bench.complaints())
    bench.driver.get("data:text/html,<title>no policy</title>")
    script = (
        "const done = arguments[0]; fetch('http://192.0.2.1/').then(() => done('there'), () => done('none'))"
    )
    assert bench.driver.execute_async_script(script) == "none"
    assert "http://192.0.2.1/" in bench.asked_for()
    bench.complaints()


@pytest.mark.parametrize("title", [HOSTILE, LEFTWARDS, "</title></script>"])
def test_a_name_is_shown_and_never_obeyed(bench: Bench, bench_of: BenchOf, title: str) -> None:
    """An alert that stood open would make every later word to the browser fail."""
    bench.open(bench_of(named(title)))
    assert bench.find("h1").text == title
    assert bench.driver.title == f"{title}: at the bench"
    way = "return getComputedStyle(document.querySelector('h1')).direction"
    assert bench.run(way) == ("rtl" if title == LEFTWARDS else "ltr")


def test_a_name_of_another_direction_does_not_turn_our_sentences(bench: Bench, bench_of: BenchOf) -> None:
    bench.open(bench_of(POUCH.replace('"label pocket"', f'"{LEFTWARDS}"')))
    bench.turn_to("step-14")
    (layers,) = [text for text in bench.all("#step-14 dd") if "stack" in text.text]
    assert layers.text.startswith(LEFTWARDS)
    assert layers.value_of_css_property("direction") == "ltr"
    bench.turn_to("leaf-1")
    cells = [cell for cell in bench.all("#leaf-1 td") if cell.text == LEFTWARDS]
    assert {cell.value_of_css_property("direction") for cell in cells} == {"rtl"}


@pytest.mark.parametrize("screen", SCREENS, ids=str)
@pytest.mark.parametrize("project", [POUCH, CASE, STRAP], ids=["pouch", "case", "strap"])
def test_names_and_contrast_by_an_accessibility_engine(
    bench: Bench, bench_of: BenchOf, project: str, screen: Screen
) -> None:
    """All leaves at once, on a screen so tall that nothing lies under another: no rule is broken, and no
    contrast is left undecided. Of a picture its name alone is judged: its ink, black on white, reaches beyond
    what is seen of it, and would hide what stands round it."""
    bench.screen(screen._replace(height=40_000))
    bench.open(bench_of(project))
    bench.run(ALL_SHOWN)
    found = Axe().run(bench.driver)
    undecided = (each for each in found["incomplete"] if each["id"] == "color-contrast")
    told = [
        (each["id"], node["html"][:100], node["failureSummary"])
        for each in (*found["violations"], *undecided)
        for node in each["nodes"]
    ]
    assert told == []
    assert len(found["passes"]) > 20
    paper = bench.run("return getComputedStyle(document.body).backgroundColor")
    assert (sum(map(int, paper.strip("rgb()").split(","))) < 200) is screen.dark
