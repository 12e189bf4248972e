"""The bench page at work: turned, ticked and counted by hand and by keys, and all of it still there."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from browsing import SCREENS, Bench, Screen, plan_of, sample
from selenium.webdriver.common.keys import Keys

pytestmark = pytest.mark.long

POUCH, CASE = map(sample, ("orchard_pouch", "sketching_case"))
# Threads of 600 mm a side at most: long seams are sewn with several.
SHORT = CASE.replace("thread = 0.8", "thread = 0.8\nlongest = 600", 1)
BenchOf = Callable[[str], Path]
SHOWN = "return [...document.querySelectorAll('.leaf')].filter((leaf) => !leaf.hidden).map((leaf) => leaf.id)"
HEAD = (
    "return [...document.querySelectorAll('.leaf:not([hidden]) h2')].map((head) => head.textContent).join()"
)
TICKED = "return [...document.querySelectorAll('input')].filter((box) => box.checked).map((box) => box.id)"


@pytest.fixture(autouse=True)
def quiet(bench: Bench) -> Iterator[None]:
    """No page complains, and none asks for anything but itself; all is done without a network."""
    yield
    assert bench.complaints() == []
    assert {*bench.asked_for()} <= {"about:blank", *bench.opened}


def opened(bench: Bench, page: Path) -> Bench:
    """As on the first day: with nothing kept."""
    bench.open(page)
    bench.run("localStorage.clear()")
    bench.open(page)
    return bench


def test_through_all_steps_each_ticked_and_kept_when_loaded_anew(bench: Bench, bench_of: BenchOf) -> None:
    page = bench_of(POUCH)
    steps = plan_of(page)["steps"]
    opened(bench, page)
    assert bench.run(SHOWN) == ["contents"]
    seen = []
    while bench.find("#turn .next").is_enabled():
        bench.touch("#turn .next")
        (shown,) = bench.run(SHOWN)
        seen.append(shown)
        assert bench.focused()["text"] == bench.run(HEAD)
        for box in bench.all(f"#{shown} input"):
            bench.touch(box)
    boxes = [f"done-{number}" for number in range(1, len(steps) + 1)]
    threads = [f"cut-T{number}" for number in range(1, 15)]
    assert seen[-1] == f"step-{len(steps)}"
    assert bench.run(TICKED) == threads + boxes
    last = len(steps)
    bench.touch(f"#done-{last}")
    bench.driver.refresh()
    assert bench.run(TICKED) == threads + boxes[:-1]
    bench.open(page)
    assert bench.run(SHOWN) == [f"step-{last}"]
    bench.touch("#turn a")
    assert bench.find("#so-far").text == f"{last - 1} of {last} steps done"
    assert bench.find("#to-do").text.startswith(f"To do next: {last} Oil sparingly")
    done = {link.get_attribute("href").split("#")[1] for link in bench.all("#contents .done")}
    assert done == {each for each in seen if each.startswith("step-")} - {f"step-{last}"} | {"leaf-2"}
    bench.touch("#to-do")
    assert bench.run(SHOWN) == [f"step-{last}"]
    bench.touch(f"#done-{last}")
    bench.touch("#turn a")
    assert not bench.find("#to-do").is_displayed()


@pytest.mark.parametrize("project", [POUCH, CASE, SHORT], ids=["pouch", "case", "short threads"])
def test_every_seam_is_counted_as_its_walk_in_the_plan(bench: Bench, bench_of: BenchOf, project: str) -> None:
    """Hole after hole with what happens there, by the plan's JSON; back again; and kept."""
    page = bench_of(project)
    opened(bench, page)
    assert any("back stitch" in place["at"] for seam in plan_of(page)["seams"] for place in seam["way"])
    for number, seam in enumerate(plan_of(page)["seams"], start=1):
        walk = f"#walk-S{number}"
        bench.turn_to(bench.run("return document.querySelector(arguments[0]).closest('.leaf').id", walk))
        bench.run(f"document.querySelector('{walk}').open = true")
        holes = bench.run(COUNTED, walk)
        told = [
            f"Hole {place['hole']}" + ": " * bool(place["at"]) + ", ".join(place["at"])
            for place in seam["way"]
        ]
        assert [here for here, _, _ in holes] == told
        begun = {thread["to"]: seam["walk"][each["from"]] for thread, each in pairwise(seam["threads"])}
        over = [f"{LOCK} {begun[k]}, over the same holes. " if k in begun else "" for k in range(len(told))]
        nexts = [f"{lock}Next h{each[1:]}" for lock, each in zip(over, told[1:], strict=False)]
        assert [then for _, then, _ in holes[:-1]] == nexts
        ends = "The seam is sewn: lock the thread." if "end" in seam["way"][-1]["at"] else GOES_ON
        assert holes[-1][1] == ends
        last = len(told) - 1
        for at, (_, _, later) in enumerate(holes):
            ahead = next((k for k in range(at + 2, last + 1) if seam["way"][k]["at"] or k == last), None)
            comes = "" if ahead is None else f"; in {ahead - at}, h{told[ahead][1:]}"
            assert later == f"{at + 1} of {last + 1}{comes}"
    bench.touch(f"{walk} button")
    # A browser keeps things in a process beside the page's: after some hundred presses within a moment it
    # may be behind, and a page that is loaded anew at once is then given what stood there before.
    for _ in range(20):
        bench.driver.refresh()
        if (here := bench.find(f"{walk} .here").text) == told[-2]:
            break
        time.sleep(0.25)
    assert here == told[-2]


LOCK = "Lock this thread; the next begins in hole"
GOES_ON = "The thread goes on in the next seam."
# Each of a counter's three texts at every place, by pressing its button until it can't be pressed.
COUNTED = """
const walk = document.querySelector(arguments[0]);
const texts = () => [...walk.querySelectorAll("p")].map((text) => text.textContent);
const found = [texts()];
for (const next = walk.querySelector(".next"); !next.disabled; found.push(texts())) next.click();
return found;
"""


def test_a_counter_tells_where_back_stitches_begin_and_the_thread_ends(
    bench: Bench, bench_of: BenchOf
) -> None:
    """The pouch's S5, by hand: 30 holes, 3 → 1, on to 30, back to 28."""
    opened(bench, bench_of(POUCH))
    bench.turn_to("step-14")
    texts = [text.text for text in bench.all("#walk-S5 p")]
    assert texts == ["Hole 3: start", "Next hole 2", "1 of 34; in 3, hole 2: back stitch"]
    for _ in range(5):
        bench.touch("#walk-S5 .next")
    assert [text.text for text in bench.all("#walk-S5 p")] == [
        "Hole 4",
        "Next hole 5",
        "6 of 34; in 27, hole 29: back stitch",
    ]
    assert bench.find("#walk-S5 summary").text == "Count along S5: 6 of 34"


def test_by_keys_alone(bench: Bench, bench_of: BenchOf) -> None:
    """Arrows turn, and the focus goes to what is shown; tab comes to each thing in the order in which it is
    seen, space ticks and counts."""
    opened(bench, bench_of(POUCH))
    bench.turn_to("step-11")
    bench.turn_to("step-10")
    assert bench.focused()["text"].startswith("Steps 10 to 13: S1 left loop, low")
    bench.press(Keys.ARROW_RIGHT)
    assert bench.focused()["text"] == "Step 14: S5 label pocket"
    bench.press(Keys.ARROW_LEFT, Keys.ARROW_RIGHT)
    assert bench.run(SHOWN) == ["step-14"]
    names, heights = [], []
    for _ in range(6):
        bench.press(Keys.TAB)
        names.append(bench.focused()["text"] or bench.focused()["id"])
        heights.append(bench.run("return document.activeElement.getBoundingClientRect().top + scrollY"))
        if names[-1] in ("Next hole", "done-14"):
            bench.press(Keys.SPACE)
    assert names == ["Count along S5", "Next hole", "done-14", "Back", "Contents", "Next"]
    assert heights == sorted(heights)
    assert bench.find("#walk-S5 .here").text == "Hole 2"
    assert bench.run(TICKED) == ["done-14"]
    bench.press(Keys.ENTER)
    assert bench.focused()["text"] == "Step 15"


@pytest.mark.parametrize("screen", SCREENS[::2], ids=str)
def test_what_is_touched_is_large_and_nothing_hangs_over(
    bench: Bench, bench_of: BenchOf, screen: Screen
) -> None:
    """44 pixels of the page are what a finger hits (WCAG 2.1, 2.5.5); a box is touched by its label."""
    bench.screen(screen)
    for project in (POUCH, CASE):
        opened(bench, bench_of(project))
        for leaf in bench.run("return [...document.querySelectorAll('.leaf')].map((leaf) => leaf.id)"):
            bench.turn_to(leaf)
            bench.run("for (const walk of document.querySelectorAll('.walk')) walk.open = true")
            assert bench.run(SMALL) == []
            assert bench.run(BESIDE) == 0


BESIDE = "return document.documentElement.scrollWidth - document.documentElement.clientWidth"
SMALL = """
const all = [...document.querySelectorAll("a, button, label, summary")];
return all.map((each) => [each.outerHTML, each.getBoundingClientRect()])
  .filter(([, box]) => box.width && (box.width < 44 || box.height < 44));
"""


def test_what_is_ticked_is_there_when_the_browser_is_opened_again(
    new_bench: Callable[[Path], Bench], bench_of: BenchOf, tmp_path: Path
) -> None:
    page = bench_of(CASE)
    for ticked in ([], ["done-1"]):
        again = new_bench(tmp_path / "profile")
        try:
            again.open(page)
            assert again.run(TICKED) == ticked
            if not ticked:
                again.turn_to("step-1")
                again.touch("#done-1")
        finally:
            again.driver.quit()


def test_where_nothing_can_be_kept_it_says_so(bench: Bench, bench_of: BenchOf) -> None:
    no_store = "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('none') }})"
    added = bench.driver.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": no_store})
    try:
        bench.open(bench_of(CASE))
        assert bench.find("#kept").text.startswith("This browser keeps nothing for a file")
        bench.touch("#turn .next")
        assert bench.run(SHOWN) == ["leaf-1"]
    finally:
        bench.driver.execute_cdp_cmd("Page.removeScriptToEvaluateOnNewDocument", added)
    opened(bench, bench_of(CASE))
    assert not bench.find("#kept").is_displayed()


@pytest.mark.parametrize(
    "kept", ["", "null", "5", "[]", '{"ticked": 5, "counted": [], "at": {}}', '{"at": "nowhere"}']
)
def test_what_was_kept_and_can_not_be_read_is_begun_anew(bench: Bench, bench_of: BenchOf, kept: str) -> None:
    page = bench_of(CASE)
    opened(bench, page)
    bench.run("localStorage.setItem(document.documentElement.dataset.key, arguments[0])", kept)
    bench.open(page)
    assert (bench.run(SHOWN), bench.run(TICKED)) == (["contents"], [])
    bench.turn_to("step-1")
    bench.touch("#done-1")
    bench.open(page)
    assert (bench.run(SHOWN), bench.run(TICKED)) == (["step-1"], ["done-1"])


def test_on_paper_all_of_it_stands_in_dark_ink(bench: Bench, bench_of: BenchOf) -> None:
    opened(bench, bench_of(POUCH))
    wish = [{"name": "prefers-color-scheme", "value": "dark"}]
    bench.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print", "features": wish})
    leaves = bench.all(".leaf:not(#contents)")
    assert len(leaves) > 20
    assert all(leaf.is_displayed() for leaf in leaves)
    assert not any(bench.find(each).is_displayed() for each in ("#turn", "#contents", "#walk-S3"))
    inks = bench.run(
        "return [...document.querySelectorAll('p, h2')].map((text) => getComputedStyle(text).color)"
    )
    assert all(max(map(int, ink.strip("rgb()").split(","))) < 160 for ink in inks)
    bench.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
