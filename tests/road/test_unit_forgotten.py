"""A unit that nobody wrote: inches and cm are suspected by what no project in mm has, and mm never."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import valid_projects
from click.testing import CliRunner

from handkit.cli import main
from handkit.findings import Finding
from handkit.read.checks.unit import check_unit
from handkit.read.entries.tables import top_of

ROOT = Path(__file__).parents[2]
FILES = [*ROOT.glob("samples/*/*.toml"), *ROOT.glob("tests/projects/*/*.toml")]
PROJECTS = sorted(path for path in FILES if path.name != "expected.toml")
UNIT = re.compile(r'^unit *= *"(\w+)".*\n', re.M)


def suspected(text: str) -> list[Finding]:
    """What is told of a file's unit where its line is taken out."""
    top = top_of("project", UNIT.sub("", text), file="p.toml", folder=Path())
    check_unit(top)
    return [each for each in top.location.file.findings if each.code == "unit-forgotten"]


# What things measure in inches, and what of it is seen to be no mm; by hand.
PIECE = '[[piece]]\nname = "p"\nrectangle = {}\n'
THING = '[[item]]\nname = "i"\nin = "p"\nsize = {}\n'
FACTS = [
    (PIECE.format("[1.5, 40]"), "rectangle = [1.5, 40]"),  # a belt
    ("[stitching]\npitch = 0.2\n" + PIECE.format("[30, 40]"), "pitch = 0.2"),
    ("[stitching]\ninset = 0.15\n" + PIECE.format("[30, 40]"), "inset = 0.15"),
    ("[material]\nthickness = 0.14\n" + PIECE.format("[30, 40]"), "thickness = 0.14"),
    (PIECE.format("[22, 30]") + THING.format("[1, 0.5, 6]"), "size = [1, 0.5, 6]"),
    (PIECE.format("[22, 14]") + PIECE.format("[8, 10]"), "rectangle = [22, 14] and rectangle = [8, 10]"),
    (PIECE.format("[8, 10]"), "rectangle = [8, 10]"),
    (
        '[[piece]]\nname = "p"\npoints = [[0, 0], [40, 0], [40, 1.5]]\n',
        "points = [[0, 0], [40, 0], [40, 1.5]]",
    ),
]
# Not these: a fob, a tag by itself, what is longer than anything in inches, what has its own unit.
NONE = [
    PIECE.format("[20, 60]"),
    PIECE.format("[26, 28]"),
    PIECE.format("[3, 300]"),
    "[material]\nthickness = 0.2\n" + PIECE.format("[30, 100]"),
    PIECE.format('["1.5 in", "40 in"]'),
    PIECE.format("[200, 300]") + THING.format("[12, 4, 15]"),
    'unit = "mm"\n' + PIECE.format("[8, 10]"),
]


@pytest.mark.parametrize(("text", "facts"), FACTS)
def test_what_is_no_mm_makes_a_unit_suspect(text: str, facts: str) -> None:
    (told,) = suspected(f"format = 1\n{text}")
    assert told.found.startswith(f"no unit, and {facts} with nothing larger than ")
    assert told.where.line  # so that the line is shown, with its mark


@pytest.mark.parametrize("text", NONE)
def test_what_may_be_mm_does_not(text: str) -> None:
    top = top_of("project", f"format = 1\n{text}", file="p.toml", folder=Path())
    check_unit(top)
    assert not [each for each in top.location.file.findings if each.code == "unit-forgotten"]


@pytest.mark.parametrize("path", PROJECTS, ids=lambda path: path.name)
def test_of_samples_those_in_inches_alone_are_suspected(path: Path) -> None:
    text = path.read_text("utf-8")
    unit = UNIT.search(text)
    assert unit is not None
    assert bool(suspected(text)) == (unit[1] == "in")


@pytest.mark.parametrize("count", [30, pytest.param(300, marks=pytest.mark.long)])
def test_random_projects_in_mm_are_never_suspected_and_those_in_inches_always(count: int) -> None:
    texts = [valid_projects.project(seed) for seed in range(count)]
    units = [found[1] for text in texts if (found := UNIT.search(text))]
    told = [bool(suspected(text)) for text in texts]
    assert not [seed for seed in range(count) if units[seed] == "mm" and told[seed]]
    assert not [seed for seed in range(count) if units[seed] == "in" and not told[seed]]
    of_cm = [told[seed] for seed in range(count) if units[seed] == "cm"]
    assert sum(of_cm) >= 0.7 * len(of_cm)


def test_it_is_a_warning_where_a_kit_can_be_made_and_else_the_one_error(tmp_path: Path) -> None:
    """A seam's inset of 4 mm leaves nothing of a pocket of 8: an error of drafting, which comes of that."""
    seam = '[[seam]]\nname = "s"\nruns = ["p: D-A-B-C"]\n'
    thick = 'format = 1\n[material]\nthickness = "2 mm"\n'
    for more, severity in (("", "warning"), (seam, "error"), (f"{seam}pitch = 0.15\n", "error")):
        project = tmp_path / "p.toml"
        project.write_text(thick + PIECE.format("[8, 10]") + more)
        told = CliRunner().invoke(main, ["check", str(project)]).output
        found = [line for line in told.splitlines() if ": error: " in line or ": warning: " in line]
        assert len(found) == 1
        assert f": {severity}: unit: found no unit, and " in found[0]
        assert found[0].endswith(
            ' mm; allowed: "mm", "cm" or "in"; mm where none is written; write unit = "in" at the top of the '
            'file where inches are meant, unit = "cm" where cm are, or unit = "mm" [unit-forgotten]'
        )
