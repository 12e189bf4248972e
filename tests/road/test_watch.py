"""A watched project: made again when it is saved, by whatever way editors save, and left by Ctrl-C alone."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from itertools import islice
from pathlib import Path
from random import Random

import pytest

from handkit import ProjectText
from handkit.commands.common.shown import show
from handkit.draft import drafter
from handkit.draft.parts import parts
from handkit.errors import ProjectError
from handkit.kept.kept import RUNS, Kept, KeptOf
from handkit.kit import made_of, make, punched_of, shape_of, sheets_of
from handkit.overrides import AS_WRITTEN, PageOverrides
from handkit.read.reader import read_project
from handkit.sheets.cut import candidates
from handkit.sheets.labels import on_sheet

PATIENCE = 30.0  # seconds, on a busy machine
TAB = 'format = 1\n[material]\nthickness = 2\n[[piece]]\nname = "tab"\nrectangle = [80, {height}]\n'
# Two pieces that are sewn together, and a rivet.
TWO = """format = 1
title = "Tab"
unit = "mm"

[material]
thickness = 2

[stitching]
pitch = 4
inset = 4
hole = { round = 1.5 }

[[piece]]
name = "back"
rectangle = [60, 40]

[[piece]]
name = "tab"
rectangle = [20, 20]
on = "back"
at = [10, 8]

[[seam]]
name = "foot"
runs = ["tab: D-A-B-C", "back"]

[[opening]]
name = "rivet"
kind = "rivet"
hole = 3
cap = 8
through = ["back"]
at = [[50, 20]]
"""


class Watched:
    """A command that watches, and the lines that it has told so far."""

    def __init__(self, *words: str) -> None:
        line = [sys.executable, "-m", "handkit", *words, "--watch"]
        self.process = subprocess.Popen(line, stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
        assert self.process.stdout is not None
        os.set_blocking(self.process.stdout.fileno(), False)
        self.told = ""

    def until(self, words: str) -> str:
        """All that is told up to these words, which are told next."""
        assert self.process.stdout is not None
        end = time.monotonic() + PATIENCE
        while words not in self.told:
            assert time.monotonic() < end, self.told
            assert self.process.poll() is None, self.told
            self.told += (self.process.stdout.read() or b"").decode()
            time.sleep(0.01)
        before, _, self.told = self.told.partition(words)
        return before

    def end(self) -> None:
        """Gone, whatever it was at."""
        self.process.kill()
        self.process.communicate()


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    Path("tab.toml").write_text(TAB.format(height=60))
    return tmp_path


@pytest.fixture
def watched(folder: Path) -> Iterator[Watched]:
    found = Watched("make", "tab.toml")
    yield found
    found.end()


END = "watching tab.toml; Ctrl-C ends it\n"


def saved_in_place(text: str) -> None:
    Path("tab.toml").write_text(text)


def saved_by_replacing(text: str) -> None:
    Path("tab.toml.new").write_text(text)
    Path("tab.toml.new").replace("tab.toml")


def saved_by_moving_away(text: str) -> None:
    Path("tab.toml").rename("tab.toml~")
    time.sleep(0.15)
    Path("tab.toml").write_text(text)


@pytest.mark.parametrize("save", [saved_in_place, saved_by_replacing, saved_by_moving_away])
def test_what_is_saved_is_made_and_what_is_wrong_leaves_the_last_kit(watched: Watched, save: object) -> None:
    assert callable(save)
    assert "tab-kit.pdf: " in watched.until(END)
    first = Path("tab-kit.pdf").read_bytes()
    save(TAB.format(height="-6"))
    assert "tab.toml:6:18: error: " in watched.until(END)
    assert Path("tab-kit.pdf").read_bytes() == first
    save(TAB.format(height=70))
    assert "tab-kit.pdf: " in watched.until(END)
    assert Path("tab-kit.pdf").read_bytes() != first
    watched.process.send_signal(signal.SIGINT)
    assert watched.process.wait(PATIENCE) == 130


def test_a_save_in_two_halves_is_read_once_it_is_whole(watched: Watched) -> None:
    watched.until(END)
    text = TAB.format(height=70)
    with Path("tab.toml").open("w") as file:
        for half in (text[:70], text[70:]):
            file.write(half)
            file.flush()
            time.sleep(0.02)
    assert "error" not in watched.until(END)


def test_what_is_named_beside_it_counts_too(folder: Path) -> None:
    Path("tab.toml").write_text('items = "things.toml"\n' + TAB.format(height=60))
    found = Watched("check", "tab.toml")
    try:
        assert "put the file there" in found.until(END)
        Path("things.toml").write_text("format = 1\n")
        assert "put the file there" not in found.until(END)
    finally:
        found.end()


def test_what_the_command_writes_is_no_change_and_a_link_to_nothing_hides_none(folder: Path) -> None:
    Path(".#things.toml").symlink_to("nobody@nowhere")  # as an editor locks a file
    found = Watched("show", "tab.toml", "-o", "tab.svg")
    try:
        assert "tab.svg: " in found.until(END)
        time.sleep(1)  # ten looks
        saved_in_place(TAB.format(height="-6"))
        assert "tab.svg: " not in found.until(END)
    finally:
        found.end()


def test_a_pipe_can_not_be_watched(folder: Path) -> None:
    line = [sys.executable, "-m", "handkit", "check", "-", "--watch"]
    told = subprocess.run(line, input="", capture_output=True, text=True, check=False)
    assert told.returncode == 2
    assert told.stderr.endswith("Error: --watch needs a file; found the standard input\n")


@pytest.mark.long
def test_a_hundred_changes_are_seen(folder: Path) -> None:
    found = Watched("check", "tab.toml")
    try:
        found.until(END)
        for height in range(100):
            Path("tab.toml").write_text(TAB.format(height=f"-{height + 1}"))
            assert f"found -{height + 1};" in found.until(END)
    finally:
        found.end()


KINDS = (
    "number",
    "number",
    "number",
    "alike",
    "zero",
    "line",
    "gone",
    "title",
    "name",
    "table",
    "table",
    "none",
)
SPARE = '[[piece]]\nname = "spare {}"\nrectangle = [30, 20]\n'


def edits(text: str, seed: int) -> Iterator[str]:
    """A text as it is saved again and again: a number is another, or written otherwise, a line or a table is
    added, or goes, or comes again, the title and names change; now and then that is an error, and is taken
    back."""
    random = Random(seed)
    while True:
        lines, before = text.split("\n"), text
        at = random.randrange(len(lines))
        kind = random.choice(KINDS)
        tables = re.split(r"^(?=\[)", text, flags=re.MULTILINE)
        table = random.randrange(1, len(tables))
        numbers = list(re.finditer(r"(?<=[ \[])\d+(\.\d+)?(?=[,\]\n])", text))
        number = random.choice(numbers)
        if kind == "line":
            text = "\n".join([*lines[:at], f"# {at}", *lines[at:]])
        elif kind == "gone":
            text = "\n".join([*lines[:at], *lines[at + 1 :]])
        elif kind == "table":
            text = "".join([*tables[:table], SPARE.format(len(tables)), *tables[table:]])
        elif kind == "none":
            text = "".join([*tables[:table], *tables[table + 1 :]])
        elif kind == "title":
            text = re.sub('title = "', 'title = "My ', text, count=1)
        elif kind == "name":
            text = re.sub(r'"(\w+)"', r'"\1 two"', text) if "two" not in text else text.replace(" two", "")
        else:
            value = float(number[0])
            ways = {"number": value + random.choice([-0.5, 0.25, 1, 3]), "alike": value, "zero": -0.0}
            text = f"{text[: number.start()]}{ways[kind]}{text[number.end() :]}"
        yield text
        if kind in ("gone", "zero", "none") or random.random() < 0.3:
            yield (text := before)


def outcome(text: str, folder: Path, asked: PageOverrides, kept: Kept | None) -> object:
    """All that comes of a text: the kit, what is told with its lines, or why there is none."""
    try:
        kit = make(ProjectText(text, "p.toml", folder), asked, kept=kept)
    except ProjectError as refused:
        return refused.findings
    return kit.pdf, kit.report, kit.made.findings


def held_to_anew(texts: Iterable[str], folder: Path, asked: PageOverrides = AS_WRITTEN) -> None:
    """Of each of some texts, saved one after the other, the same as if there had been no run before."""
    kept = Kept()
    for text in texts:
        kept.next_run()
        assert outcome(text, folder, asked, kept) == outcome(text, folder, asked, None), text


def test_what_is_kept_changes_no_byte() -> None:
    held_to_anew(islice(edits(TWO, seed=3), 4), Path())


# The same with a board on a sheet of its own, and edits one after the other: a rivet's place, a pitch, a
# needle, and copies, which the label of each piece tells. How often what is drawn is made again: texts of two
# sheets, lists of three pieces, the seam's picture, five of the article, seven pages.
BOARD = TWO + '[[piece]]\nname = "board"\nrectangle = [180, 250]\n'
AGAIN = ("texts of a sheet", "shapes of a piece", "seam picture", "picture", "groups")
CHANGES = (
    ("[[50, 20]]", "[[49, 21]]", (1, 1, 0, 3, 2)),
    ("pitch = 4", "pitch = 3", (2, 2, 1, 3, 5)),
    ("inset = 4", "inset = 4\nneedle = 1.1", (0, 0, 1, 0, 1)),
    ("250]\n", "250]\n[make]\ncopies = 2\n", (2, 0, 0, 0, 4)),
)


def test_what_is_kept_of_another_geometry_changes_no_byte(monkeypatch: pytest.MonkeyPatch) -> None:
    """What shows the same is not drawn again."""
    kept, text, done, of = Kept(), BOARD, list[str](), Kept.of

    def watched(self: Kept, name: str, made_from: object, work: Callable[[], object]) -> object:
        return of(self, name, made_from, lambda: done.append(name) or work())

    outcome(text, Path(), AS_WRITTEN, kept)
    monkeypatch.setattr(Kept, "of", watched)
    for old, new, again in CHANGES:
        text = text.replace(old, new)
        done.clear()
        made = outcome(text, Path(), AS_WRITTEN, kept)
        assert tuple(map(done.count, AGAIN)) == again, (old, new)
        assert made == outcome(text, Path(), AS_WRITTEN, None), (old, new)


def test_of_another_geometry_only_what_shows_it_is_laid_out_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """A hole moves: nothing is cut anew, and one sheet's labels are looked for; a piece is wider: its cut."""
    kept, sought = Kept(), list[str]()
    for module, name in ((candidates, "_uncut"), (on_sheet, "labels_on")):
        work = getattr(module, name)
        monkeypatch.setattr(module, name, lambda *known, w=work, n=name: sought.append(n) or w(*known))
    moved, wider = BOARD.replace("[[50, 20]]", "[[49, 21]]"), BOARD.replace("[180, 250]", "[181, 250]")
    for text, anew in ((BOARD, (3, 2)), (moved, (0, 1)), (wider, (1, 1))):
        sought.clear()
        outcome(text, Path(), AS_WRITTEN, kept)
        assert (sought.count("_uncut"), sought.count("labels_on")) == anew


# Two pockets on a base, each by what it holds.
POCKET = """[[item]]
name = "{0} card"
in = "{0}"
size = [30, 2, 40]

[[part]]
name = "{0}"
kind = "flat pocket"
on = "back"
at = [{1}, 12]
"""
POCKETS = TWO.partition("[[piece]]")[0] + '[[piece]]\nname = "back"\nrectangle = [140, 80]\n'
POCKETS += POCKET.format("left", 12) + POCKET.format("right", 76)


def test_a_part_that_moves_is_drafted_again_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """And of the pieces that one and its base have a shape anew; of another pitch all parts, and no shape."""
    kept, done = Kept(), list[str]()
    for module, name in ((parts, "_drafted"), (drafter, "shape_piece")):
        work = getattr(module, name)
        monkeypatch.setattr(module, name, lambda of, *k, w=work, **m: done.append(of.name) or w(of, *k, **m))
    moved, finer = POCKETS.replace("[76,", "[78,"), POCKETS.replace("pitch = 4", "pitch = 3")
    first, third = ["left", "right", "back", "left", "right"], ["left", "right"]
    for text, anew in ((POCKETS, first), (moved, ["right", "back", "right"]), (finer, third)):
        done.clear()
        project = read_project(ProjectText(text, "p"))
        pattern = drafter.draft(project, KeptOf(kept))
        assert done == anew
        assert pattern == drafter.draft(project)


def test_what_is_kept_of_another_hand_changes_no_byte() -> None:
    titles = (TWO.replace('"Tab"', f'"{title}"') for title in ("Tab", "Tag"))
    held_to_anew(titles, Path(), PageOverrides(mirrored=True))


def test_what_is_kept_of_pictures_changes_no_byte() -> None:
    """A title, a line more, an error, and a seam without the layer that its piece lies on: what is told is
    marked in the pictures."""
    near, kept = TWO.replace("[[50, 20]]", "[[55, 20]]"), Kept()
    lone = TWO.replace(', "back"]', "]")
    texts = (near, near.replace('"Tab"', '"Tag"'), f"# one\n{near}", near.replace("40]", "41]"), lone, "x")
    for text in texts:
        kept.next_run()
        told = []
        for known in (kept, None):
            try:
                told.append(show(ProjectText(text, "p"), kept=known))
            except ProjectError as refused:
                told.append(refused.findings)
        assert told[0] == told[1]


@pytest.mark.long
@pytest.mark.parametrize("name", ["strap", "wallet", "orchard_pouch"])
def test_what_is_kept_of_a_sample_changes_no_byte(name: str) -> None:
    file = next((Path(__file__).parents[2] / "samples" / name).glob("*.toml"))
    held_to_anew(islice(edits(file.read_text(), seed=len(name)), 4), file.parent)


def test_a_line_more_is_told_and_nothing_is_worked_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is found stands in the lines of the text that was read last, those of things that say the same
    too; a title asks for no step."""
    kept, text = Kept(), TWO.replace("[[50, 20]]", "[[55, 20]]").replace(', "back"]', "]")
    first = made_of(ProjectText(text, "p"), kept=kept)
    monkeypatch.setattr("handkit.kit.punched_from", None)
    kept.next_run()
    again = made_of(ProjectText("# one\n# two\n" + text.replace('"Tab"', '"Other"'), "p"), kept=kept)
    assert again.punched.project.title == "Other"
    told = [(each.where.line, each.where.column, each.words) for each in first.findings]
    assert told
    assert [(each.where.line - 2, each.where.column, each.words) for each in again.findings] == told


def test_where_a_table_is_added_or_goes_all_others_say_the_same() -> None:
    """Wherever it stands; findings have the lines of the text all the same."""
    kept, lone, said = Kept(), TWO.replace(', "back"]', "]"), []
    heads = ("[material]", "[stitching]", '[[piece]]\nname = "tab"', "[[opening]]")
    added = [lone.replace(head, SPARE.format(1) + head) for head in heads]
    for text in (lone, *added, lone):
        shape, _ = shape_of(read_project(ProjectText(text, "p")), kept)
        pieces = [each for each in shape.pieces if "spare" not in each.name]
        said.append((pieces, shape.seams, shape.openings))
        found = made_of(ProjectText(text, "p"), kept=kept).findings
        assert found == made_of(ProjectText(text, "p")).findings != ()
    assert said == said[:1] * len(said)


def test_of_the_same_shapes_sheets_are_laid_out_once() -> None:
    """A title moves nothing; another height does."""
    kept, sheets = Kept(), []
    for text in (TAB.format(height=60), 'title = "Tabs"\n' + TAB.format(height=60), TAB.format(height=70)):
        kept.next_run()
        sheets.append(sheets_of(punched_of(ProjectText(text, "tab")), kept=kept).sheets)
    assert sheets[0] is sheets[1]
    assert sheets[2] != sheets[1]


def test_of_the_same_the_work_is_done_once_and_what_is_long_unused_is_let_go() -> None:
    """What is asked for within another work stays with it, though nobody asks for it while that is kept."""
    kept, done = Kept(), list[str]()

    def work(name: str) -> str:
        done.append(name)
        return kept.of("within", f"{name} within", lambda: f"{name}!") if name == "a" else name

    runs = [("a", "b"), *[("a",)] * RUNS, ("a", "b"), *[("a",)] * (RUNS + 1), ("a", "b")]
    for run in runs:
        kept.next_run()
        for name in run:
            kept.of("work", name, lambda name=name: work(name))  # type: ignore[misc]
    assert done == ["a", "b", "b"]
    assert kept.of("within", "a within", lambda: "anew") == "a!"


@pytest.mark.parametrize("unlike", [(0.0, -0.0), (1, 1.0), (True, 1), ("a", ("a",))])
def test_what_is_written_otherwise_is_not_the_same(unlike: tuple[object, object]) -> None:
    kept = Kept()
    assert [kept.of("work", each, lambda each=each: each) for each in unlike] == list(unlike)  # type: ignore[misc]
    assert [str(kept.of("work", each, lambda: None)) for each in unlike] == [str(each) for each in unlike]
