"""handkit as a library: a program that uses the public names, as its own type checker would read it.

Run like every test, and checked by `mypy --strict` against the installed wheel (.ci/run).
"""

from __future__ import annotations

from pathlib import Path
from typing import assert_type

import pytest

import handkit
from handkit import Capsule, Finding, Kit, PageOverrides, Placed, ProjectError, Shape, Straights, make, place

BELT = """
format = 1
title = "Belt"
[material]
thickness = 3
[stitching]
pitch = 4
inset = 4
thread = 0.8
[[piece]]
name = "belt"
rectangle = [900, 40]
grain = 0
[[piece]]
name = "lining"
rectangle = [200, 40]
on = "belt"
grain = 0
[[seam]]
name = "lining"
runs = ["lining: A-B", "belt"]
"""


@pytest.fixture
def belt(tmp_path: Path) -> Path:
    path = tmp_path / "belt.toml"
    path.write_text(BELT, "utf-8")
    return path


def test_the_road_from_a_project_to_a_proved_kit(belt: Path, tmp_path: Path) -> None:
    kit = make(belt, PageOverrides(paper=handkit.paper_named("letter"), straights=Straights.SHORTENED))
    assert_type(kit, Kit)
    assert_type(kit.pdf, bytes)
    (tmp_path / "belt.pdf").write_bytes(kit.pdf)
    proof = handkit.proof_of(tmp_path / "belt.pdf")
    assert_type(proof.passed, bool)
    assert proof.passed
    text = handkit.ProjectText(BELT, "belt")
    again = make(text, PageOverrides(paper=handkit.paper_named("letter"), straights=Straights.SHORTENED))
    assert handkit.proof_of(again.pdf, text).checks == handkit.proof_of(kit.pdf, belt).checks
    assert kit.made.sheets.paper.name == "letter"


def test_the_steps_one_by_one(belt: Path) -> None:
    punched = handkit.punched_of(belt)
    plan = handkit.plan_of(punched)
    made = handkit.made_of(belt)
    assert (made.punched, made.plan) == (punched, plan)


def test_what_is_wrong_is_raised_with_every_finding(belt: Path) -> None:
    belt.write_text(BELT.replace("pitch = 4", "pitch = 4\nptich = 5"), "utf-8")
    with pytest.raises(ProjectError) as refused:
        make(belt)
    findings = assert_type(refused.value.findings, tuple[Finding, ...])
    assert [(one.code, one.severity) for one in findings] == [("unknown-key", handkit.Severity.ERROR)]
    assert isinstance(refused.value, handkit.HandkitError)


def test_outlines_without_a_project() -> None:
    ring = ((0.0, 0.0), (400.0, 0.0), (400.0, 38.0), (0.0, 38.0))
    placed = place(
        [Shape("strap", ring, keep_outs=(Capsule((20, 19), (20, 19), 2.5),))],
        paper=handkit.PAPERS[0],
        margin=10,
    )
    assert_type(placed, Placed)
    assert [window.piece for sheet in placed.sheets for window in sheet.windows] == ["strap", "strap"]
