"""Kits made by the command line, and a reading of their files that shares nothing with the writer.

A page is read by a small walker of its own over the content stream (pypdf parses the operators);
its marks are told by their tags, their places in mm from the page's lower left corner. Nothing of
handkit is imported but its command line, which is run with a maker's words.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import chdir
from dataclasses import dataclass, field
from functools import cache, cached_property
from pathlib import Path
from typing import Any

import numpy as np
import pypdf
import pytest
from click.testing import CliRunner
from pypdf.generic import ContentStream

from handkit.cli import main

UNIT = 25.4 / 72  # mm; ISO 32000-1, 8.3.2.3

# A case of our own with what the samples lack: names beyond Latin-1, a template drawn from the
# flesh side, a trimmed edge, holes punched through, slits, a closed seam, a mirrored copy, a slot.
CASE = """
format = 1
title = "Étui für Stifte, \u0421\u0443\u043c\u043a\u0430"
unit = "mm"
[material]
thickness = 2
[stitching]
pitch = 4
inset = 4
thread = 0.8
[[piece]]
name = "Rücken (groß)"
rectangle = [150, 460]
round = { A = 20, B = 20 }
arc = { "C-D" = 9 }
mark = "flesh"
trim = { "B-C" = 3 }
folds = { lid = [[0, 250], [150, 250]] }
skive = { "C-D" = { width = 14, to = 1 } }
[[piece]]
name = "\u043a\u0430\u0440\u043c\u0430\u043d"
points = [[0, 0], [150, 0], [150, 200], [90, 180], [0, 200]]
round = { A = 20, B = 20 }
on = "Rücken (groß)"
[[piece]]
name = "patch"
circle = 60
mark = "flesh"
[[piece]]
name = "ring"
circle = 60
on = "patch"
[[piece]]
name = "ear"
points = [[0, 0], [60, 0], [40, 50]]
quantity = 1
[[piece]]
name = "other ear"
copy = "ear"
mirrored = true
[[seam]]
name = "pocket"
runs = ["\u043a\u0430\u0440\u043c\u0430\u043d: E-A-B-C", "Rücken (groß)"]
hole = { slit = 2.2, slant = 45 }
inset = 5
spacing = "iron"
[[seam]]
name = "ring"
runs = ["ring: A-A", "patch"]
punch = "through"
hole = { slit = 2.1, slant = 30 }
pitch = 5
[[seam]]
name = "ears"
runs = ["ear: A-B", "other ear: A-B"]
wrap_start = 2
[[opening]]
name = "strap"
kind = "slot"
slot = [20, 4]
turn = 30
through = ["Rücken (groß)"]
at = [[75, 290]]
[[opening]]
name = "eye"
kind = "eyelet"
hole = 6
through = ["ear"]
at = [[38, 30]]
"""

# Kits by name: a sample or the case, and what `make` is asked for beside it.
KITS: dict[str, tuple[str, tuple[str, ...]]] = {
    "pouch": ("orchard_pouch/pouch.toml", ()),
    "strap": ("strap/strap.toml", ()),
    "pouch on letter": ("orchard_pouch/pouch.toml", ("--paper", "letter")),
    "pouch on small sheets": ("orchard_pouch/pouch.toml", ("--paper", "140x160mm", "--overlap", "14")),
    "strap on A3": ("strap/strap.toml", ("--paper", "A3", "--margin", "14", "--edge", "7")),
    "case": ("case/case.toml", ()),
    "sketching case": ("sketching_case/case.toml", ()),
    "wallet": ("wallet/wallet.toml", ()),
    "strap shortened": ("strap/strap.toml", ("--straights", "shortened")),
}

# Projects of our own, each with a table of what it comes to (`test_projects.py`).
PROJECTS = Path(__file__).parents[1] / "projects"
KITS |= {
    file.parent.name.replace("_", " "): (f"{file.parent.name}/{file.name}", ())
    for file in sorted(PROJECTS.glob("*/*.toml"))
    if file.name != "expected.toml"
}

# Kits that take long, and show what others show: on other paper, or held by a table besides.
SHORT = ("pouch", "strap", "sketching case", "card wallet", "bag")
LONG = tuple(name for name in KITS if name not in SHORT)

Point = tuple[float, float]


@dataclass(frozen=True)
class Line:
    """One subpath: its points in mm (curves as many), the way it was painted, straight or not."""

    points: np.ndarray
    painted: str
    straight: bool


@dataclass
class Mark:
    """What stands under one tag."""

    page: int  # from 0
    tag: str
    properties: dict[str, Any]
    lines: list[Line] = field(default_factory=list)

    @property
    def window(self) -> tuple[str, int]:
        return (self.properties["Piece"], self.properties["Window"])

    @property
    def centre(self) -> np.ndarray:
        """The middle of all it holds."""
        every = np.vstack([line.points for line in self.lines])
        return (every.min(axis=0) + every.max(axis=0)) / 2


@dataclass(frozen=True)
class Kit:
    """A finished kit: its file, what `make` reports and `pieces` and `plan` say of it."""

    pdf: Path
    report: dict[str, Any]
    pieces: dict[str, Any]
    plan: dict[str, Any]
    told: str  # the plan as text

    @cached_property
    def reader(self) -> pypdf.PdfReader:
        """The file as pypdf has it, opened once."""
        return pypdf.PdfReader(self.pdf)

    @cached_property
    def marks(self) -> list[Mark]:
        return [mark for number, page in enumerate(self.reader.pages) for mark in _read(page, number)]

    def tagged(self, tag: str) -> list[Mark]:
        return [mark for mark in self.marks if mark.tag == tag]

    def piece(self, name: str) -> dict[str, Any]:
        return next(piece for piece in self.pieces["pieces"] if piece["name"] == name)

    @property
    def windows(self) -> dict[tuple[str, int], dict[str, Any]]:
        """The report's windows by piece and number."""
        return {(w["piece"], w["window"]): w for s in self.report["sheets"] for w in s["windows"]}

    @cached_property
    def page_of(self) -> dict[tuple[str, int], int]:
        """The page each window is drawn on, by its outlines; one page for each."""
        pages: dict[tuple[str, int], set[int]] = {}
        for mark in self.marks:
            if "Window" in mark.properties:
                pages.setdefault(mark.window, set()).add(mark.page)
        assert all(len(found) == 1 for found in pages.values())
        return {window: found.pop() for window, found in pages.items()}

    def page_size(self, page: int = 0) -> Point:
        box = self.reader.pages[page].mediabox
        return (float(box.width) * UNIT, float(box.height) * UNIT)


def placed(matrix: list[float], points: Any) -> np.ndarray:
    """Points led through [a, b, c, d, e, f]: x' = a·x + c·y + e, y' = b·x + d·y + f."""
    a, b, c, d, e, f = matrix
    at = np.asarray(points, dtype=float)
    return np.stack([a * at[..., 0] + c * at[..., 1] + e, b * at[..., 0] + d * at[..., 1] + f], axis=-1)


def unplaced(matrix: list[float], points: Any) -> np.ndarray:
    """The way back."""
    a, b, c, d, e, f = matrix
    at = np.asarray(points, dtype=float) - (e, f)
    return at @ np.linalg.inv(np.array([[a, c], [b, d]])).T


def _read(page: Any, number: int) -> Iterator[Mark]:
    """The marks of a page: q, Q, cm, path and painting operators, tags, forms."""
    x0, y0 = float(page.mediabox.left), float(page.mediabox.bottom)
    start = np.array([[UNIT, 0, -x0 * UNIT], [0, UNIT, -y0 * UNIT], [0, 0, 1]])
    found: list[Mark] = []
    _follow(page.get_contents(), page["/Resources"], start, number, found)
    yield from found


def _follow(stream: Any, resources: Any, now: np.ndarray, page: int, found: list[Mark]) -> None:
    saved, open_tags, path = [], [], _Path()
    content = (
        stream if isinstance(stream, ContentStream) else ContentStream(stream, stream.indirect_reference.pdf)
    )
    for operands, operator in content.operations:
        name = operator.decode("latin-1")
        if name == "q":
            saved.append(now)
        elif name == "Q":
            now = saved.pop()
        elif name == "cm":
            now = now @ _matrix(operands)
        elif name in ("BDC", "BMC"):
            mark = Mark(page, operands[0], _properties(operands[1:], resources))
            open_tags.append(mark)
            if mark.tag.startswith("/hk"):
                found.append(mark)
        elif name == "EMC":
            open_tags.pop()
        elif name == "Do":
            form = resources["/XObject"][operands[0]].get_object()
            if form["/Subtype"] == "/Form":
                within = now @ _matrix(form.get("/Matrix", [1, 0, 0, 1, 0, 0]))
                _follow(form, form.get("/Resources", resources), within, page, found)
        elif name in ("S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "n"):
            lines = path.end(name)
            if open_tags and name != "n":
                open_tags[-1].lines.extend(lines)
        else:
            path.draw(name, operands, now)
    assert not saved and not open_tags


class _Path:
    """The subpaths being drawn."""

    def __init__(self) -> None:
        self.done: list[tuple[list[np.ndarray], bool]] = []

    def draw(self, name: str, operands: Any, now: np.ndarray) -> None:
        if name not in ("m", "l", "c", "v", "y", "re", "h"):
            return
        flat = [float(number) for number in operands]
        at = [now[:2, :2] @ xy + now[:2, 2] for xy in np.reshape(flat, (-1, 2))]
        if name == "m":
            self.done.append(([at[0]], True))
        elif name == "re":
            x, y, w, h = flat
            corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)]
            self.done.append(([now[:2, :2] @ xy + now[:2, 2] for xy in corners], True))
        else:
            points, straight = self.done[-1]
            if name == "l":
                points.append(at[0])
            elif name == "h":
                points.append(points[0])
            else:
                handles = {"c": at, "v": [points[-1], *at], "y": [*at, at[-1]]}[name]
                points.extend(_curve(points[-1], *handles))
                straight = False
            self.done[-1] = (points, straight)

    def end(self, painted: str) -> list[Line]:
        done, self.done = self.done, []
        close = painted in ("s", "b", "b*")
        return [
            Line(np.array([*points, points[0]] if close else points), painted, straight)
            for points, straight in done
            if len(points) > 1
        ]


# Shares of a cubic's four points at 32 places after its first.
T = np.arange(1, 33) / 32
BERNSTEIN = np.stack([(1 - T) ** 3, 3 * (1 - T) ** 2 * T, 3 * (1 - T) * T**2, T**3], axis=-1)


def _curve(a: Any, b: Any, c: Any, d: Any) -> Iterator[np.ndarray]:
    """Points of a cubic after its first; 22.5° in 32 bits are 0.006 mm off at r = 300, 0.0025 at 130."""
    return iter(BERNSTEIN @ np.array([a, b, c, d]))


def _matrix(numbers: Any) -> np.ndarray:
    a, b, c, d, e, f = (float(number) for number in numbers)
    return np.array([[a, c, e], [b, d, f], [0, 0, 1]])


def _properties(operands: Any, resources: Any) -> dict[str, Any]:
    if not operands:
        return {}
    listed = operands[0] if isinstance(operands[0], dict) else resources["/Properties"][operands[0]]
    return {str(key)[1:]: _plain(value.get_object()) for key, value in listed.items()}


def _plain(value: Any) -> Any:
    if isinstance(value, str):
        return str(value)
    if isinstance(value, list):
        return [_plain(part) for part in value]
    return int(value) if float(value).is_integer() and isinstance(value, int) else float(value)


def run_handkit(*words: str | Path, folder: Path) -> str:
    """What a call of handkit prints, made in this process; it must end well."""
    with chdir(folder):
        run = CliRunner().invoke(main, [str(word) for word in words])
    assert run.exit_code == 0, run.output
    return run.stdout


def run_script(*words: str | Path, folder: Path) -> str:
    """The same in a process of its own, by the script that was installed."""
    script = Path(sys.executable).with_name("handkit")
    run = subprocess.run(
        [script, *map(str, words)], cwd=folder, capture_output=True, encoding="utf-8", check=False
    )
    assert run.returncode == 0, run.stderr
    return run.stdout


@pytest.fixture(scope="session")
def handkit() -> Callable[..., str]:
    return run_handkit


@pytest.fixture(scope="session")
def script() -> Callable[..., str]:
    return run_script


@pytest.fixture(scope="session")
def projects(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the samples, copied as a maker gets them, and the case."""
    folder = tmp_path_factory.mktemp("projects")
    for sample in ("orchard_pouch", "sketching_case", "strap", "wallet"):
        run_handkit("sample", sample, folder=folder)
    (folder / "case").mkdir()
    (folder / "case" / "case.toml").write_text(CASE, "utf-8")
    shutil.copytree(PROJECTS, folder, dirs_exist_ok=True)
    return folder


@pytest.fixture(scope="session")
def kits(projects: Path) -> Callable[[str], Kit]:
    """A kit by its name in KITS, made once; what hangs on no paper is asked once a project."""

    @cache
    def told(command: str, project: str) -> dict[str, Any]:
        found: dict[str, Any] = json.loads(run_handkit(command, project, "--format", "json", folder=projects))
        return found

    @cache
    def made(name: str) -> Kit:
        project, options = KITS[name]
        pdf, report = projects / f"{name}.pdf", projects / f"{name}.json"
        run_handkit("make", project, "-o", pdf, "--report", report, *options, folder=projects)
        text = run_handkit("plan", project, "--all", folder=projects)
        asked = told("pieces", project), told("plan", project)
        return Kit(pdf, json.loads(report.read_text("utf-8")), *asked, text)

    return made


@pytest.fixture(scope="session")
def kit_of(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Kit]:
    """The kit of a project file's text."""

    def made(text: str) -> Kit:
        folder = tmp_path_factory.mktemp("project")
        (folder / "p.toml").write_text(text, "utf-8")
        run_handkit("make", "p.toml", "-o", "p.pdf", "--report", "p.json", folder=folder)
        pieces = json.loads(run_handkit("pieces", "p.toml", "--format", "json", folder=folder))
        return Kit(folder / "p.pdf", json.loads((folder / "p.json").read_text("utf-8")), pieces, {}, "")

    return made


@pytest.fixture(params=[pytest.param(name, marks=[pytest.mark.long] * (name in LONG)) for name in KITS])
def kit(request: pytest.FixtureRequest, kits: Callable[[str], Kit]) -> Kit:
    """Every kit in turn."""
    return kits(request.param)


@pytest.fixture
def pouch(kits: Callable[[str], Kit]) -> Kit:
    return kits("pouch")


@pytest.fixture
def strap(kits: Callable[[str], Kit]) -> Kit:
    return kits("strap")


@dataclass(frozen=True)
class Frames:
    """From a piece's frame to another, and back."""

    placed: Callable[..., np.ndarray] = placed
    unplaced: Callable[..., np.ndarray] = unplaced


@pytest.fixture(scope="session")
def frames() -> Frames:
    return Frames()


@pytest.fixture(scope="session")
def outside() -> Callable[..., subprocess.CompletedProcess[str]]:
    """Runs a tool that is not Python's; a machine without it passes the test over, CI has them all."""

    def run(*words: str | Path) -> subprocess.CompletedProcess[str]:
        if shutil.which(str(words[0])) is None:
            pytest.skip(f"{words[0]} is not installed")
        return subprocess.run([str(w) for w in words], capture_output=True, text=True, check=False)

    return run
