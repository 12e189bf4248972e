"""`handkit arrange`: its pictures and lines, the file that it writes, and what it refuses."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from handkit.cli import main

FILE = """format = 1
title = "Roll" # ours
[material]
thickness = 1.6
[[piece]]
name = "back"
rectangle = "arranged"   # as large as it must be
[[part]]
name = "a"
kind = "flat pocket"
  on   = "back" # here
[[item]]
name = "rule"
in = "a"
size = [25, 2, 110]
[[part]]
name = "b"
kind = "flat pocket"
on = "back"
[[item]]
name = "folder"
in = "b"
size = [20, 3, 90]
"""


@pytest.fixture
def project(tmp_path: Path) -> Path:
    path = tmp_path / "roll.toml"
    path.write_text(FILE)
    return path


def arrange(project: Path, *words: str) -> Result:
    return CliRunner().invoke(main, ["arrange", str(project), *words])


def test_pictures_are_written_with_a_line_a_way(project: Path) -> None:
    done = arrange(project, "-o", str(project.parent / "ways.svg"))
    assert done.exit_code == 0
    lines = done.output.splitlines()
    assert 2 <= len(lines) <= 6
    assert lines[1].startswith('1: "back" ')
    assert "sheet" in lines[1]
    picture = (project.parent / "ways.svg").read_text()
    assert all(f"Way {number}, 1 : " in picture for number in range(1, len(lines)))


def test_what_is_taken_is_the_file_with_places(project: Path) -> None:
    new = project.parent / "roll-arranged.toml"
    done = arrange(project, "--take", "1")
    assert done.exit_code == 0, done.output
    lines, old = new.read_text().splitlines(), FILE.splitlines()
    size = next(line for line in lines if line.startswith("rectangle"))
    assert size.startswith("rectangle = [")
    assert size.endswith("]   # as large as it must be")
    places = [line for line in lines if line.lstrip().startswith("at ")]
    kept = [line for line in lines if line not in places and not line.startswith("rectangle")]
    assert kept == [line for line in old if not line.startswith("rectangle")]
    assert [line.partition("=")[0] for line in places] == ["  at   ", "at "]
    said = tomllib.loads(new.read_text())
    told = CliRunner().invoke(main, ["check", str(new)])
    assert "[arranged]" not in told.output
    assert said["part"][0]["at"] != said["part"][1]["at"]
    assert f"{said['piece'][0]['rectangle'][0]} × {said['piece'][0]['rectangle'][1]} mm" in done.output


def test_no_file_is_written_over_untold(project: Path) -> None:
    new = project.parent / "roll-arranged.toml"
    new.write_text("mine")
    refused = arrange(project, "--take", "1")
    assert refused.exit_code == 3
    assert (
        refused.output
        == f"error: can't write {new}: it is there already; name a new file, or say --replace\n"
    )
    assert new.read_text() == "mine"
    assert arrange(project, "--take", "1", "--replace").exit_code == 0
    assert tomllib.loads(new.read_text())["part"][1]["at"]


def test_what_can_not_be_done_is_refused(project: Path) -> None:
    for words, told in (
        (("--take", "9"), "found 9; allowed: 1 to "),
        (("--replace",), "--replace is for --take"),
        (("--take", "0"), "--take"),
    ):
        refused = arrange(project, *words)
        assert refused.exit_code == 2
        assert told in refused.output
    project.write_text(FILE.replace('"arranged"', "[200, 200]"))
    refused = arrange(project)
    assert refused.exit_code == 3
    assert refused.output == (
        f"error: {project} has nothing to arrange; "
        'write rectangle = "arranged" in a base, and leave out at in parts on it\n'
    )


def test_a_file_of_other_lines_is_refused(project: Path) -> None:
    text = FILE.replace('name = "a"\nkind = "flat pocket"\n  on   = "back" # here', "")
    inline = 'part = [{ name = "a", kind = "flat pocket", on = "back" }]\n'
    text = text.replace("[[part]]\n\n", "").replace("format = 1\n", f"format = 1\n{inline}")
    head, _, _ = text.partition("[[part]]")
    project.write_text(head)
    refused = arrange(project, "--take", "1")
    assert refused.exit_code == 3
    assert "are not written a key a line" in refused.output
