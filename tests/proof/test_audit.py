"""The audit: what is drawn held to the kit's own list, and to its project drafted anew.

Values by hand. What damage is told how stands in a table of its own, `damage/`.
"""

from __future__ import annotations

from math import sqrt, tan
from pathlib import Path
from typing import Any

import pytest

from handkit.errors import ProofError
from handkit.geometry.segment import Segment
from handkit.kit import make, proof_of
from handkit.overrides import PageOverrides, read_overrides
from handkit.paper import paper_named
from handkit.printers.correction import Correction, Printer
from handkit.proof.audit.aligned import aligned
from handkit.proof.audit.matching import Agreement, matched, off_by
from handkit.proof.content.objects import Allowance

LINE = Segment((0.0, 0.0), (10.0, 0.0))
QUARTER = Segment((10.0, 0.0), (0.0, 10.0), tan(0.39269908169872414))  # of a circle about the origin
HALVES = (Segment((1.0, 0.0), (-1.0, 0.0), 1.0), Segment((-1.0, 0.0), (1.0, 0.0), 1.0))

# A cubic for a quarter of a circle: handles of 0.5523 of its radius (any handbook of computer graphics).
K = 0.5522847498


def quarter(r: float, x: float, y: float) -> tuple[tuple[float, float], ...]:
    """A quarter of a circle about the origin, from the place (x, y) of the unit circle, counter-clockwise."""
    u, v = -y, x  # where it goes to
    points = ((x, y), (x + K * u, y + K * v), (u + K * x, v + K * y), (u, v))
    return tuple((r * a, r * b) for a, b in points)


BITS = tuple(quarter(10.0, 1.0, 0.0))
ROUND = tuple(quarter(1.0, x, y) for x, y in ((1, 0), (0, 1), (-1, 0), (0, -1)))
SLANTED = tuple(quarter(1.0, sqrt(0.5) * x, sqrt(0.5) * y) for x, y in ((1, 1), (-1, 1), (-1, -1), (1, -1)))


@pytest.mark.parametrize(
    ("expected", "drawn", "agreement"),
    [
        ([LINE], [((0.0, 0.0), (10.0, 0.0))], Agreement((), (), ())),
        ([LINE], [((10.0, 0.0), (0.0, 0.0))], Agreement((), (), ())),
        ([LINE], [((0.0, 0.019), (10.0, 0.0))], Agreement((), (), ())),
        (
            [LINE],
            [((0.0, 0.03), (10.0, 0.03))],
            Agreement((0,), (((0.0, 0.03), (10.0, 0.03)),), ()),
        ),
        ([LINE], [], Agreement((0,), (), ())),
        (
            [LINE],
            [((0.0, 0.0), (10.0, 0.0))] * 2,
            Agreement((), (), (((0.0, 0.0), (10.0, 0.0)),)),
        ),
        ([LINE, LINE], [((0.0, 0.0), (10.0, 0.0))] * 2, Agreement((), (), ())),  # listed twice
        ([QUARTER], [BITS], Agreement((), (), ())),
        ([QUARTER.reversed()], [BITS], Agreement((), (), ())),
        ([QUARTER], [((10.0, 0.0), (0.0, 10.0))], Agreement((0,), (((10.0, 0.0), (0.0, 10.0)),), ())),
        (HALVES, ROUND, Agreement((), (), ())),
        (HALVES, SLANTED, Agreement((), (), ())),  # the bits' ends are not the halves'
        (HALVES, ROUND[:3], Agreement((1,), (), ())),
        (HALVES, (*ROUND, ROUND[0]), Agreement((), (), (ROUND[0],))),
    ],
)
def test_what_is_drawn_is_told_from_what_is_not(
    expected: list[Segment], drawn: list[Any], agreement: Agreement
) -> None:
    assert matched(expected, drawn, Allowance(1000)) == agreement


def test_how_far_off_is_measured_to_all_that_is_expected() -> None:
    assert off_by([((0.0, 0.5), (10.0, 3.0))], [LINE]) == pytest.approx(3.0)


NOTHING = [frozenset[Any]()] * 5
SHOWN = [frozenset({("back", 1, 1)}), frozenset({("back", 2, 1)})]


@pytest.mark.parametrize(
    ("listed", "found", "pairs", "astray", "missing", "added"),
    [
        ("abc", "abc", ((0, 0), (1, 1), (2, 2)), (), (), ()),
        ("abc", "axc", ((0, 0), (1, 1), (2, 2)), (), (), ()),
        ("abc", "ac", ((0, 0), (2, 1)), (), (1,), ()),
        ("abc", "abbc", ((0, 0), (1, 1), (2, 3)), (), (), (2,)),
        ("abc", "acb", ((0, 0), (1, 2)), ((2, 1),), (), ()),
        ("abcd", "axd", ((0, 0), (3, 2)), (), (1, 2), (1,)),
    ],
)
def test_pages_are_known_by_what_they_draw(
    listed: str, found: str, *, pairs: Any, astray: Any, missing: Any, added: Any
) -> None:
    where = aligned(listed, found, NOTHING, NOTHING)
    assert (where.pairs, where.astray, where.missing, where.added) == (pairs, astray, missing, added)


def test_a_changed_page_is_known_by_the_portions_it_shows() -> None:
    where = aligned("ab", "yx", SHOWN, SHOWN[::-1])
    assert where.pairs == ((0, 1), (1, 0))


STRAP = """
format = 1
title = "Binding strap"
[material]
thickness = 2
[[piece]]
name = "strap"
rectangle = [320, {width}]
[[piece]]
name = "end"
rectangle = [40, {width}]
on = "strap"
at = [10, 0]
[[seam]]
name = "end"
runs = ["end: D-A-B-C", "strap"]
"""


@pytest.fixture(scope="module")
def straps(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project, one that differs from it by a tenth, and a kit of the first on other paper."""
    folder = tmp_path_factory.mktemp("straps")
    for name, width in (("strap.toml", 30), ("wider.toml", 30.1)):
        (folder / name).write_text(STRAP.format(width=width), encoding="utf-8")
    kit = make(folder / "strap.toml", PageOverrides(paper=paper_named("letter"), margin=12))
    (folder / "kit.pdf").write_bytes(kit.pdf)
    return folder


def test_a_kit_is_its_projects_with_the_options_it_was_made_with(straps: Path) -> None:
    proof = proof_of(straps / "kit.pdf", straps / "strap.toml")
    assert proof.passed and proof.project == "strap.toml"
    assert {check.code for check in proof.checks} >= {"list", "project", "drawing", "words", "content"}


def test_a_kit_for_one_printer_is_measured_as_that_prints_it(straps: Path) -> None:
    shed = Printer(Correction("shed", 0.992, 0.989, 0.2), edges=(4, 4, 5, 6))
    kit = make(straps / "strap.toml", PageOverrides(printer=shed, mirrored=True))
    file = straps / "shed.pdf"
    file.write_bytes(kit.pdf)
    proof = proof_of(file, straps / "strap.toml")
    assert proof.passed and proof.printer == "shed"
    assert [c.found for c in proof.checks if c.code == "test-square"] == ["50.000 mm"] * 2 + ["50.800 mm"] * 2


def test_a_kit_that_is_true_to_its_own_list_is_not_another_projects(straps: Path) -> None:
    assert proof_of(straps / "kit.pdf").passed
    proof = proof_of(straps / "kit.pdf", straps / "wider.toml")
    failed = [check for check in proof.checks if not check.passed]
    assert {check.code for check in failed} >= {"drawing"}
    assert "project" not in {check.code for check in failed}  # which follows
    assert {check.do for check in failed} == {
        "the project has changed since, or the file has: make the kit anew"
    }


@pytest.mark.parametrize(
    "options",
    [
        {"paper": "1x1mm"},
        {"margin": "wide"},
        {"draw": "twice"},
        {"printer": "{"},
        {"printer": '{"correction": {"name": "office", "across": 0}}'},
        {"printer": '{"correction": {"name": "office", "skew": 30}}'},
    ],
)
def test_options_that_no_kit_was_made_with_are_refused(options: dict[str, Any]) -> None:
    with pytest.raises(ProofError, match="options that handkit doesn't have"):
        read_overrides(options)
