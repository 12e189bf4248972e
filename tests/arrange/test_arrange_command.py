"""`handkit arrange`: its pictures and lines, the file that it writes, and what it refuses."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from handkit.cli import main
from handkit.commands.common.arrange_ways import MadeWay
from handkit.draft.arrange.steps import Arrangement

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


def test_leather_and_sheets_rank_them(project: Path) -> None:
    """Of two ways none is dearer in both than one behind it, by more than what else counts: 8 % where all
    that is heavy lies in front, 0.2 % a part that things are drawn out over. One is what the file is made
    as."""
    lines = arrange(project, "-o", str(project.parent / "ways.svg")).output.splitlines()[1:]
    told = [re.search(r", (\d+) sheets?, ([\d.]+) dm²", line) for line in lines]
    figures = [(int(each[1]), float(each[2])) for each in told if each is not None]
    assert len(figures) == len(lines)
    for k, (sheets, leather) in enumerate(figures):
        assert all(more >= sheets or dear >= leather * 0.91 for more, dear in figures[k + 1 :])
    (usual,) = (line for line in lines if line.endswith(", made so where none is taken"))
    size = re.search(r'"back" (\d+) × (\d+) mm', usual)
    checked = CliRunner().invoke(main, ["check", str(project)]).output
    assert size is not None and f"laid on {size[1]} × {size[2]} mm" in checked


@pytest.mark.parametrize(
    ("beside", "sheets", "first"), [(0.0, (4, 4), 0), (0.01, (4, 4), 1), (0.0, (9, 4), 1)]
)
def test_what_counts_beside_leather(beside: float, sheets: tuple[int, int], first: int) -> None:
    """By hand: the second takes 0.5 % more leather; 1 % in front is more, and so are five sheets, 5 %."""
    laid = [Arrangement("back", (100, 100), (), 0, share) for share in (beside, 0.0)]
    pair = zip(laid, (10_000.0, 10_050.0), sheets, strict=True)
    ways = [MadeWay((each,), None, "", leather, paper) for each, leather, paper in pair]  # type: ignore[arg-type]
    assert min(ways, key=lambda way: way.cost) is ways[first]


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
        refused.output == f"error: can't write {new}: it is there already; name a new file, or say --force\n"
    )
    assert new.read_text() == "mine"
    assert arrange(project, "--take", "1", "--force").exit_code == 0
    assert tomllib.loads(new.read_text())["part"][1]["at"]


def test_what_can_not_be_done_is_refused(project: Path) -> None:
    for words, told in (
        (("--take", "9"), "found 9; allowed: 1 to "),
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
        'write rectangle = "arranged" in a base that no part drafts, in a cover, or in the front or the '
        "back of a bag, and leave out at in parts on it\n"
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
