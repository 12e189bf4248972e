"""From a project's text to its plan, for the tests of this step."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

import pytest

from handkit.draft.drafter import draft
from handkit.draw.export.plan_json import plan_json
from handkit.draw.export.plan_text import plan_text
from handkit.punch.punched import Punched
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text
from handkit.stitch.plan import StitchPlan
from handkit.stitch.planner import plan

HEAD = """format = 1
[material]
thickness = 2
[stitching]
pitch = 4
inset = 4
thread = 0.8
tail = 100
"""

# A back with a pocket that lies flat on it, sewn round three sides.
POCKET = (
    HEAD
    + """
[[piece]]
name = "back"
rectangle = [200, 260]

[[piece]]
name = "front"
rectangle = [140, 150]
on = "back"
at = [30, 16]

[[seam]]
name = "front"
runs = ["front: D-A-B-C", "back"]
"""
)


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan and what it was made from."""

    plan: StitchPlan
    punched: Punched

    @property
    def tasks(self) -> list[str]:
        """Names of the gluings, openings and seams in working order."""
        return [s.name for s in self.plan.steps if s.kind.value in ("glue", "opening", "seam")]

    def after(self, name: str) -> list[str]:
        """What comes before a seam or an opening."""
        plans = {p.name: p.after for p in self.plan.seams} | {
            p.pattern.name: p.after for p in self.plan.openings
        }
        return [before.name for before in plans[name]]

    def kinds(self) -> list[str]:
        """The kinds of all steps, in order."""
        return [step.kind.value for step in self.plan.steps]

    def text(self) -> str:
        return plan_text(self.plan, self.punched, whole=True)

    def json(self) -> str:
        return plan_json(self.plan, self.punched)


@lru_cache(maxsize=500)
def punched_of(text: str) -> Punched:
    """What comes before this step, once for all tests that plan the same text."""
    return punch(draft(read_project_text(text, file="p.toml", folder=Path())))


@pytest.fixture(scope="session")
def planned() -> Callable[[str], Planned]:
    """The plan of a project file's text."""

    def make(text: str) -> Planned:
        punched = punched_of(text)
        return Planned(plan(punched), punched)

    return make


@pytest.fixture(scope="session")
def planned_file(planned: Callable[[str], Planned]) -> Callable[[Path], Planned]:
    """The plan of a sample, made once for all that hold it to something."""
    return cache(lambda file: planned(file.read_text("utf-8")))


@pytest.fixture(scope="session")
def head() -> str:
    """Material of 2 mm, pitch and inset of 4 mm, tails of 100 mm."""
    return HEAD


@pytest.fixture(scope="session")
def pocket() -> str:
    """A back and a front that is sewn flat on it, round three sides."""
    return POCKET
