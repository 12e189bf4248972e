"""The commands on a project of things carried: what each of them tells about their room."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from handkit.cli import main

PROJECT = """format = 1
[material]
thickness = 1.6
[[piece]]
name = "back"
rectangle = [120, 200]
[[part]]
name = "pocket"
kind = "flat pocket"
on = "back"
at = [10, 10]
{width}
[[item]]
name = "folder"
in = "pocket"
size = [30, 4, 150]
"""


@pytest.fixture
def project(tmp_path: Path, request: pytest.FixtureRequest) -> str:
    """With the line for the pocket's width that a test asks for."""
    path = tmp_path / "case.toml"
    path.write_text(PROJECT.format(width=getattr(request, "param", "")), "utf-8")
    return str(path)


def test_check_tells_the_room_of_each_item(project: str) -> None:
    run = CliRunner().invoke(main, ["check", project])
    assert run.exit_code == 0
    # 34 − 1.6 + 0.8·π = 34.913 and 2 of ease: by hand.
    assert "  folder  pocket, width   34.9  36.9   2.0  1 to 6   fits" in run.stdout.splitlines()


@pytest.mark.parametrize("project", ["width = 42"], indirect=True)
def test_too_tight_is_warned_of_by_every_command_with_what_mends_it(project: str) -> None:
    told = "allowed: 1 mm to 6 mm; make the part's width 44.91 mm, or leave it out [item-too-tight]"
    for words in (["check", project], ["plan", project], ["make", project]):
        run = CliRunner().invoke(main, words)
        assert run.exit_code == 0
        assert told in run.output


@pytest.mark.parametrize("project", ["width = 42"], indirect=True)
def test_check_tells_programs_the_same(project: str) -> None:
    run = CliRunner().invoke(main, ["check", project, "--format", "json"])
    document = json.loads(run.stdout)
    assert [finding["code"] for finding in document["findings"]] == ["item-too-tight"]
    (room,) = document["rooms"]
    assert (room["item"], room["ease_mm"], room["fit"]) == ("folder", -0.913, "too tight")


@pytest.mark.parametrize("project", ["width = 9"], indirect=True)
def test_a_project_that_is_refused_has_no_rooms(project: str) -> None:
    run = CliRunner().invoke(main, ["check", project, "--format", "json"])
    assert run.exit_code == 1
    assert set(json.loads(run.stdout)) == {"format", "findings"}
