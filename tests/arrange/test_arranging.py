"""Parts without a place on a base that is arranged: where they come to lie, and what is never moved."""

from __future__ import annotations

from pathlib import Path

import pytest
from arranged_sets import outcome_of
from random_sets import random_set

from handkit.draft.arrange.arranging import arrangements, laid
from handkit.draft.drafter import draft
from handkit.read.project import Project
from handkit.read.reader import read_project_text

BACK = 'format = 1\n[material]\nthickness = 2\n[[piece]]\nname = "back"\nrectangle = {}\n'
RULE = (
    '[[part]]\nname = "{}"\nkind = "flat pocket"\non = "back"\nwidth = 40\nheight = 100\n{}'
    '[[item]]\nname = "rule {}"\nin = "{}"\nsize = [25, 2, 110]\n'
)


def rule(name: str, more: str = "") -> str:
    return RULE.format(name, more, name, name)


def read(*tables: str, size: str = '"arranged"') -> Project:
    return read_project_text(BACK.format(size) + "".join(tables), file="p.toml", folder=Path())


def places(project: Project) -> dict[str, tuple[float, float]]:
    return {part.name: part.at for part in draft(project).project.parts}


def size(project: Project) -> tuple[float, float]:
    return draft(project).project.pieces[0].corners[2].at


def test_one_pocket_has_its_margins() -> None:
    # By hand: 40 wide; the rule stands 4 mm up on the foot's row and half of what the way over 2 mm takes
    # there, (pi / 2) x 1 mm, so it reaches to 4 + 1.57 + 110; 10 mm on every side; in whole mm.
    project = read(rule("a"))
    assert places(project) == {"a": (10.0, 10.0)}
    assert size(project) == (60.0, 136.0)


def test_two_pockets_stand_beside_each_other_or_over_each_other() -> None:
    # By hand: side by side 10 + 40 + 6 + 40 + 10 by 136.
    project = read(rule("a"), rule("b"))
    ways = arrangements(project, project.pieces[0])
    assert ways[0].size == (106.0, 136.0)
    assert {at for _, at in ways[0].places} == {(10.0, 10.0), (56.0, 10.0)}
    assert any(way.size[0] == 60.0 for way in ways)


def test_what_is_stated_is_never_moved() -> None:
    project = read(rule("a", "at = [50, 30]\n"), rule("b"), rule("c"))
    for way in arrangements(project, project.pieces[0]):
        assert {name for name, _ in way.places} == {"b", "c"}
        assert {part.name: part.at for part in laid(project, [way]).parts}["a"] == (50.0, 30.0)
    assert places(project)["a"] == (50.0, 30.0)
    assert size(project)[0] >= 100.0


def test_without_the_word_nothing_is_arranged() -> None:
    project = read(rule("a"), size="[80, 150]")
    assert places(project) == {"a": (0.0, 0.0)}
    assert size(project) == (80.0, 150.0)
    assert not draft(project).findings


def test_a_file_in_inches_is_laid_in_sixteenths() -> None:
    text = BACK.format('"arranged"').replace("thickness = 2", 'thickness = "5 oz"')
    text = text.replace("format = 1", 'format = 1\nunit = "in"')
    text += '[[part]]\nname = "a"\nkind = "flat pocket"\non = "back"\n'
    text += '[[item]]\nname = "rule"\nin = "a"\nsize = [1, 0.1, 6]\n'
    wide, high = size(read_project_text(text, file="p.toml", folder=Path()))
    assert [round(each / 25.4 * 16, 6) % 1 for each in (wide, high)] == [0, 0]


def test_copies_are_as_large() -> None:
    project = read('[[piece]]\nname = "front"\ncopy = "back"\nmirrored = true\n', rule("a"))
    assert draft(project).project.pieces[1].corners[2].at == (-60.0, 136.0)


def test_pieces_and_openings_of_the_file_stay_clear() -> None:
    tab = '[[piece]]\nname = "tab"\nrectangle = [30, 30]\non = "back"\nat = [10, 10]\n'
    ring = '[[opening]]\nname = "ring"\nkind = "eyelet"\nhole = 5\ncap = 10\n'
    ring += 'through = ["back"]\nat = [[60, 20]]\n'
    project = read(tab, ring, rule("a"))
    x, y = places(project)["a"]
    assert x >= 46 or y >= 46  # clear of the tab
    assert x >= 65 or x + 40 <= 55 or y >= 25  # and of the ring


def test_the_heavy_lies_behind() -> None:
    light, heavy = rule("light"), rule("heavy").replace("[25, 2, 110]", "[25, 3, 110]")
    for tables in ((light, heavy), (heavy, light)):
        project = read(*tables)
        ways = arrangements(project, project.pieces[0])
        over = dict(next(way for way in ways if way.size[0] < 70).places)
        assert over["heavy"][1] > over["light"][1]


def test_it_is_the_same_on_every_run() -> None:
    text = random_set(5)
    one, other = (read_project_text(text, file="p.toml", folder=Path()) for _ in range(2))
    assert arrangements(one, one.pieces[0]) == arrangements(other, other.pieces[0])


@pytest.mark.parametrize("seed", [3, 8])
def test_a_set_is_free_of_clashes(seed: int) -> None:
    outcome = outcome_of(random_set(seed, parts=4), f"set {seed}", most=2)
    assert not outcome.faults
    assert outcome.share <= 1.0


@pytest.mark.long
def test_sets_are_free_of_clashes_and_smaller_than_a_row() -> None:
    outcomes = [outcome_of(random_set(seed), f"set {seed}", most=1) for seed in range(1, 25)]
    assert [one for one in outcomes if one.faults] == []
    assert sum(one.share for one in outcomes) / len(outcomes) < 0.85
