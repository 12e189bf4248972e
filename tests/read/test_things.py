"""Files of things: [[item]] tables beside a project, and what an [[item]] of the project adds to them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from handkit.errors import ProjectError
from handkit.messages.message import Severity
from handkit.read.project import Item
from handkit.read.reader import read_project, read_project_text

HEAD = """format = 1
items = "things.toml"
[material]
thickness = 2
[[piece]]
name = "back"
rectangle = [200, 200]
[[part]]
name = "pocket"
kind = "flat pocket"
on = "back"
"""
HELD = '[[item]]\nname = "knife"\nin = "pocket"\n'  # lines 12 to 14
# As a tracing gives it: the long axis along x. In a place it stands on its left end: 20 wide, 100 long.
KNIFE = """format = 1
unit = "mm"

# on the photo, number 1
[[item]]
name = "knife"
outline = [[5, 5], [105, 5], [105, 15], [65, 25], [5, 25]]
thickness = 12
uncertainty = 0.9
"""


@pytest.fixture
def told(tmp_path: Path) -> Callable[..., list[str]]:
    """What is told of a project p.toml and its things.toml."""

    def telling(project: str, things: str | bytes | None = KNIFE, name: str = "things.toml") -> list[str]:
        if things is not None:
            (tmp_path / name).write_bytes(things.encode() if isinstance(things, str) else things)
        try:
            found = read_project_text(project, file="p.toml", folder=tmp_path).findings
        except ProjectError as error:
            found = error.findings
        return [str(each) for each in found]

    return telling


def items_of(tmp_path: Path, project: str, things: str = KNIFE) -> tuple[Item, ...]:
    (tmp_path / "things.toml").write_text(things, "utf-8")
    return read_project_text(project, file="p.toml", folder=tmp_path).items


def test_a_thing_has_its_shape_from_its_file_and_its_place_from_the_project(tmp_path: Path) -> None:
    (item,) = items_of(tmp_path, HEAD + HELD)
    assert (item.name, item.held_by, item.source.file, item.source.line) == ("knife", "pocket", "p.toml", 12)
    assert (item.width, item.thickness, item.length, item.uncertainty) == (20, 12, 100, 0.9)
    # Turned by a quarter, x to y and y to -x: worked by hand.
    assert item.plan == ((20, 0), (20, 100), (10, 100), (0, 60), (0, 0))


@pytest.mark.parametrize(
    ("own", "things", "cutting"),
    [("", "", None), ("", "covered", "covered"), ("bare", "covered", "bare"), ("covered", "", "covered")],
)
def test_a_thing_s_edge_is_told_in_either_file_and_by_the_project_where_in_both(
    tmp_path: Path, own: str, things: str, cutting: str | None
) -> None:
    said, there = (f'cutting = "{each}"\n' if each else "" for each in (own, things))
    (item,) = items_of(tmp_path, HEAD + HELD + said, KNIFE + there)
    assert item.cutting == cutting


@pytest.mark.parametrize(
    ("said", "plan"),
    [  # of the corner [105, 15], and its neighbour [65, 25]: where they stand, from the lower left
        ('up = "right"', ((10, 100), (0, 60))),
        ('up = "left"', ((10, 0), (20, 40))),
        ('up = "top"', ((100, 10), (60, 20))),
        ('up = "bottom"', ((0, 10), (40, 0))),
        ("turned_over = true", ((10, 100), (20, 60))),
        ('up = "top"\nturned_over = true', ((0, 10), (40, 20))),
    ],
)
@pytest.mark.parametrize("in_things", [True, False])
def test_what_is_up_is_the_makers(
    said: str, plan: tuple[tuple[float, float], ...], in_things: bool, tmp_path: Path
) -> None:
    things, project = (KNIFE + said, HEAD + HELD) if in_things else (KNIFE, HEAD + HELD + said)
    (item,) = items_of(tmp_path, project, things)
    assert set(plan) <= set(item.plan)
    area = sum(
        a[0] * b[1] - b[0] * a[1] for a, b in zip(item.plan, (*item.plan[1:], item.plan[0]), strict=True)
    )
    assert area / 2 == pytest.approx(100 * 20 - 40 * 10 / 2)  # counter-clockwise, whatever is up


def test_each_file_has_a_unit_of_its_own(tmp_path: Path) -> None:
    things = KNIFE.replace('"mm"', '"cm"').replace("thickness = 12", "thickness = 1.2")
    things = things.replace("[[5, 5], [105, 5], [105, 15], [65, 25], [5, 25]]", "[[0, 0], [10, 0], [10, 2]]")
    (item,) = items_of(
        tmp_path, 'unit = "in"\n' + HEAD.replace("200", "8").replace("= 2\n", '= "2 mm"\n') + HELD, things
    )
    assert (item.width, item.length, item.thickness) == (20, 100, 12)


def test_things_may_say_what_holds_them_and_stand_before_the_projects_own(tmp_path: Path) -> None:
    things = KNIFE + 'in = "pocket"\n[[item]]\nname = "rule"\nin = "pocket"\nsize = [30, 1, 150]\n'
    own = '[[item]]\nname = "awl"\nin = "pocket"\ndiameter = 4\nlength = 120\n'
    assert [item.name for item in items_of(tmp_path, HEAD + own, things)] == ["knife", "rule", "awl"]


def test_a_linked_folder_and_a_folder_inside_are_inside(tmp_path: Path) -> None:
    inside = tmp_path / "bench"
    (inside / "photos").mkdir(parents=True)
    (inside / "photos" / "knife.toml").write_text(KNIFE, "utf-8")
    (inside / "p.toml").write_text(HEAD.replace("things.toml", "photos/knife.toml") + HELD, "utf-8")
    (tmp_path / "link").symlink_to(inside, target_is_directory=True)
    for folder in (inside, tmp_path / "link"):
        assert [item.length for item in read_project(folder / "p.toml").items] == [100]


def test_nothing_outside_the_folder_is_read(tmp_path: Path, told: Callable[..., list[str]]) -> None:
    outside = tmp_path.parent / f"{tmp_path.name}-outside.toml"
    outside.write_text(KNIFE, "utf-8")
    (tmp_path / "link.toml").symlink_to(outside)
    for name in (f"../{outside.name}", str(outside), "link.toml"):
        (line,) = told(HEAD.replace("things.toml", name) + HELD, None)
        assert line.startswith("p.toml:2: error: items: found "), line
        assert line.endswith(
            "allowed: a .toml file in the project's folder; put the file beside the project [things-outside]"
        ), line


@pytest.mark.parametrize(
    ("things", "expected"),
    [
        (KNIFE.encode() + b"# caf\xe9\n", "things.toml:10: error: found byte 0xe9 at offset 170"),
        (KNIFE + "#" * (1 << 20), "things.toml: error: found more than 1048576 bytes"),
        (KNIFE + "a = " + "[" * 20, "things.toml:10: error: found more than 16 lists"),
    ],
    ids=["not UTF-8", "too big", "nested"],
)
def test_a_file_of_things_is_loaded_as_guarded_as_a_project(
    things: str | bytes, expected: str, told: Callable[..., list[str]]
) -> None:
    (line,) = told(HEAD + HELD, things)
    assert line.startswith(expected)


def test_both_files_have_no_more_items_than_one_may(told: Callable[..., list[str]]) -> None:
    things = "".join(f'[[item]]\nname = "a{k}"\nin = "pocket"\nsize = [5, 1, 90]\n' for k in range(150))
    own = "".join(f'[[item]]\nname = "b{k}"\nin = "pocket"\nsize = [5, 1, 90]\n' for k in range(51))
    assert told(HEAD + own, "format = 1\n" + things)[0] == (
        "p.toml:2: error: items: found 201 of [[item]], those of the file of things too; "
        "allowed: at most 200; split the project [too-many]"
    )


def test_things_beside_a_project_elsewhere_are_named_with_its_folder(tmp_path: Path) -> None:
    (tmp_path / "things.toml").write_text(KNIFE.replace("= 12", "= 0"), "utf-8")
    (tmp_path / "p.toml").write_text(HEAD + HELD, "utf-8")
    with pytest.raises(ProjectError) as caught:
        read_project(tmp_path / "p.toml")
    assert [each.where.file for each in caught.value.findings if each.severity is Severity.ERROR] == [
        str(tmp_path / "things.toml")
    ]
