"""No name of a picture lies on another, and no leader crosses one or another leader."""

from __future__ import annotations

from pathlib import Path

import pytest
from names_apart import faults, of_groups

from handkit.draw.model.fonts import shipped_fonts
from handkit.draw.model.marks import Group, Ink, Mark, Words, page_group
from handkit.draw.model.path_ops import line_ops
from handkit.ink import LEADER, Tag

SAMPLES = sorted((Path(__file__).parents[2] / "samples").glob("*/*.toml"))
MORE = sorted(
    file for file in (Path(__file__).parents[1] / "projects").glob("*/*.toml") if file.stem != "expected"
)


@pytest.mark.parametrize("file", SAMPLES, ids=lambda file: file.stem)
def test_names_of_samples_keep_apart(file: Path) -> None:
    assert list(faults(file)) == []


@pytest.mark.long
@pytest.mark.parametrize("file", MORE, ids=lambda file: file.stem)
def test_names_of_worked_projects_keep_apart(file: Path) -> None:
    assert list(faults(file)) == []


def _label(text: str, x: float, y: float, to: tuple[float, float]) -> Group:
    leader = Ink(line_ops((x, y), to), LEADER)
    return Group((Mark(Tag.PAGE, (), (leader, Words(text, (x, y), 3.0))),))


@pytest.mark.parametrize(
    ("groups", "told"),
    [
        ([_label("awl", 0, 0, (-20, 20)), _label("rule", 0, 20, (-20, 0))], ["cross"]),
        ([_label("awl", 0, 0, (-20, 20)), _label("rule", 0, 9, (-20, 20.2))], []),
        ([_label("awl", 0, 0, (-20, 20)), _label("rule", -12, 9, (-30, 9))], ["through"]),
        ([page_group(Words("120", (0, 0), 3.0)), page_group(Words("73", (3, 1), 3.0))], ["on"]),
    ],
    ids=["cross", "end in one place", "through a name", "on one another"],
)
def test_the_reading_finds_what_it_is_for(groups: list[Group], told: list[str]) -> None:
    found = list(of_groups(groups, shipped_fonts()))
    assert len(found) == len(told)
    assert all(word in each for word, each in zip(told, found, strict=True))
