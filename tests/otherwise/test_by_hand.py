"""A project written out by hand: the same holes, and the same project wherever no part is."""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import msgspec
import pytest
from click.testing import CliRunner, Result
from compared import furthest, most_turned
from random_projects import good, punched

from handkit.assemble.assembler import assemble
from handkit.cli import main
from handkit.commands.common.by_hand import by_hand, written_out
from handkit.findings import Source
from handkit.punch.punched import Punched
from handkit.read.project import PartKind, Project
from handkit.read.reader import read_project, read_project_text
from handkit.read.schema.keys import TABLES
from handkit.read.schema.rules import Kind
from handkit.read.written.project_text import comments_above, project_text
from handkit.read.written.values import WRITTEN_KINDS

TOP = Path(__file__).parents[2]
PROJECTS = sorted(
    path
    for folder in ("samples", "tests/projects")
    for path in (TOP / folder).glob("*/*.toml")
    if path.name != "expected.toml"
)
NEAR = 0.001  # mm
SLIT = 0.01  # degrees


def hold_by_hand(text: str) -> None:
    """The holes of what is written out are those of the project, and nothing more is told of it."""
    before = punched(text)
    after = punched(written_out(before.pattern, ".", comments_above(text)), "by-hand.toml")
    assert all(part.kind is PartKind.ROOM for part in after.pattern.project.parts)
    assert furthest(before, after) < NEAR
    assert most_turned(before, after) < SLIT
    assert not told(after) - told(before)


def told(of: Punched) -> Counter[str]:
    """How often each code is told in all steps to the article."""
    found = (*of.project.findings, *of.pattern.findings, *of.findings, *assemble(of).findings)
    return Counter(each.code for each in found)


@pytest.mark.parametrize(
    "path",
    [
        pytest.param(path, id=path.stem, marks=[pytest.mark.long] * (path.stem in ("pouch", "roll", "case")))
        for path in PROJECTS
    ],
)
def test_samples_and_projects_have_the_same_holes_by_hand(path: Path) -> None:
    hold_by_hand(path.read_text("utf-8"))


def test_random_projects_have_the_same_holes_by_hand() -> None:
    found = [hold_by_hand(text) for _, text in good(range(3))]
    assert len(found) == 3


@pytest.mark.long
def test_random_projects_have_the_same_holes_by_hand_at_length() -> None:
    found = [hold_by_hand(text) for _, text in good(range(3, 40))]
    assert len(found) > 25


def plain(project: Project) -> Project:
    """A project without where its entries stand."""

    def without(value: object) -> object:
        if isinstance(value, Source):
            return Source()
        if isinstance(value, msgspec.Struct):
            fields = {name: without(getattr(value, name)) for name in value.__struct_fields__}
            return msgspec.structs.replace(value, **fields)
        if isinstance(value, tuple):
            return tuple(map(without, value))
        return round(value, 5) if isinstance(value, float) else value

    bare = without(project)
    assert isinstance(bare, Project)
    pieces = tuple(msgspec.structs.replace(piece, stated=()) for piece in bare.pieces)
    seams = tuple(
        msgspec.structs.replace(seam, layers=tuple(msgspec.structs.replace(e, text="") for e in seam.layers))
        for seam in bare.seams
    )
    return msgspec.structs.replace(bare, name="", pieces=pieces, seams=seams, findings=(), thicknesses=())


EVERY_KEY = (TOP / "tests/read/every_key.toml").read_text("utf-8")
WITHOUT_PARTS = [path for path in PROJECTS if "[[part]]" not in path.read_text("utf-8")]
assert len(WITHOUT_PARTS) > 5


@pytest.mark.parametrize("path", WITHOUT_PARTS, ids=lambda path: path.stem)
def test_a_project_without_parts_is_read_back_as_itself(path: Path) -> None:
    project = read_project(path)
    again = read_project_text(project_text(project, str(path.parent)), file="p.toml", folder=path.parent)
    assert plain(again) == plain(project)


@pytest.mark.parametrize("unit", ["mm", "cm", "in"])
def test_every_key_is_read_back_as_itself(tmp_path: Path, unit: str) -> None:
    """Whatever the unit it is written in."""
    (tmp_path / "fonts").mkdir()
    (tmp_path / "fonts" / "orchard.ttf").write_bytes(b"")
    project = read_project_text(EVERY_KEY, file="p.toml", folder=tmp_path)
    project = msgspec.structs.replace(project, source=msgspec.structs.replace(project.source, unit=unit))
    text = project_text(project, str(tmp_path))
    assert f'unit = "{unit}"' in text
    assert plain(read_project_text(text, file="p.toml", folder=tmp_path)) == plain(project)


def test_every_key_of_a_plain_project_can_be_written() -> None:
    kinds = {
        key.kind
        for name, table in TABLES.items()
        if name not in ("item", "part")
        for key in table.keys.values()
    }
    assert kinds - WRITTEN_KINDS == {Kind.TABLE, Kind.TABLES}


Run = Callable[..., Result]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    monkeypatch.chdir(tmp_path)
    Path("wallet.toml").write_text(WALLET)
    return lambda *words: CliRunner().invoke(main, list(words))


WALLET = """# A wallet for the bindery.

format = 1
[material]
thickness = 2
[[piece]]
name = "back"
rectangle = [140, 210]
# It holds two things.
[[part]]
name = "pocket"
kind = "flat pocket"
on = "back"
at = [15, 15]
round = 8
[[item]]
name = "bone folder"
in = "pocket"
size = [22, 4, 150]
# Thinner than the rest.
[[piece]]
name = "pocket"
thickness = 1.2
"""


@pytest.mark.long
def test_the_command_writes_a_file_that_reads_well(run: Run) -> None:
    assert run("draft", "wallet.toml").exit_code == 0
    text = Path("wallet-by-hand.toml").read_text()
    assert text == BY_HAND
    assert tomllib.loads(text)["piece"][1]["thickness"] == 1.2
    assert run("check", "wallet-by-hand.toml").exit_code == 0


BY_HAND = """\
# Written out by hand from wallet.toml: its pieces, lines, seams and openings as they were drafted,
#   in the place of its parts. Change any of it; nothing here follows from the things carried.
# Left out, for only a part knows it: how much room each thing has; how a cover stands over it, so
#   what is in the way of what and how far a flap must reach; which seams go on with one thread.

# A wallet for the bindery.

format = 1
title = "wallet"
unit = "mm"

[material]
thickness = 2

[stitching]
start_back = 2

[[piece]]
name = "back"
rectangle = [140, 210]
[piece.items]
"bone folder" = [
  [22.570796, 21.59389], [44.570796, 21.59389], [44.570796, 171.59389], [22.570796, 171.59389],
]

# It holds two things.
# "pocket": a flat pocket on "back", drafted for bone folder, 22 mm x 4 mm x 150 mm

# Thinner than the rest.
[[piece]]
name = "pocket"
rectangle = [37.141593, 131.59389]
round = { A = 8, B = 8 }
thickness = 1.2
on = "back"
at = [15, 15]
[piece.items]
"bone folder" = [
  [7.570796, 6.59389], [29.570796, 6.59389], [29.570796, 156.59389], [7.570796, 156.59389],
]

[[seam]]
name = "pocket"
runs = ["pocket: D-A-B-C", "back"]
"""


def test_a_file_that_is_there_is_not_replaced(run: Run) -> None:
    Path("full.toml").write_text("mine")
    refused = run("draft", "wallet.toml", "-o", "full.toml")
    assert (refused.exit_code, Path("full.toml").read_text()) == (3, "mine")
    assert (
        refused.stderr
        == "error: can't write full.toml: it is there already; name a new file, or say --force\n"
    )


def test_a_project_with_errors_is_not_written_out(run: Run) -> None:
    Path("wallet.toml").write_text(WALLET.replace("round = 8", "round = 80"))
    refused = run("draft", "wallet.toml")
    assert refused.exit_code == 1
    assert "radius-too-big" in refused.stderr
    assert not Path("wallet-by-hand.toml").exists()


def test_what_is_written_out_is_told_from_the_library(tmp_path: Path) -> None:
    (tmp_path / "wallet.toml").write_text(WALLET)
    assert by_hand(tmp_path / "wallet.toml", tmp_path).text == BY_HAND
