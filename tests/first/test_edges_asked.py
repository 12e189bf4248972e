"""What cuts: whether its edge is covered, and its handle, are asked of each thing, or told by an option."""

from __future__ import annotations

import io
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from handkit.cli import main
from handkit.commands.interview.dialogue import begun
from handkit.commands.interview.questions import wanted
from handkit.commands.interview.ways import ways
from handkit.kit import made_of

OPTIONS = {
    "--title": "Binder's kit", "--unit": "mm", "--carried": "pouch", "--belt": "none", "--material": "firm",
    "--thickness": "2", "--pitch": "4", "--paper": "A4", "--hand": "right", "--take": "1",
}  # fmt: skip


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


# What cuts and is covered lies with the rest; what is not has a sheath, or its warning where none can be.
THINGS = ("rule: 30 x 3 x 150", "chisel: 24 x 4 x 120", "saw: 60 x 2 x 200")
EDGED = [  # how carried; typed; of chisel and saw: cutting, size, handle; parts
    (
        "pouch",
        "yes yes",
        {"chisel": ("covered", [24, 4, 120], None), "saw": ("covered", [60, 2, 200], None)},
        ["flat pocket"],
    ),
    (
        "pouch",
        "yes no 25 110",
        {"chisel": ("covered", [24, 4, 120], None), "saw": (None, [60, 2, 200], [60, 25, 110])},
        ["flat pocket", "sheath"],
    ),
    (  # an empty line: nobody vouches for it, and its handle is taken
        "pouch",
        "- yes - -",
        {"chisel": (None, [24, 4, 120], None), "saw": ("covered", [60, 2, 200], None)},
        ["flat pocket", "sheath"],
    ),
]


def first_way(monkeypatch: pytest.MonkeyPatch, typed: str, *edges: str, **said: str) -> dict[str, Any]:
    """The project of the first way, not made: what is said as options, then lines that are typed."""
    given = {key.removeprefix("--"): value for key, value in OPTIONS.items()} | {"belt": ""} | said
    items = (said["item"],) if "item" in said else THINGS
    monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
    answers = begun(given, items, edges, {}, ()).answers()
    return tomllib.loads(ways(wanted(answers))[0].text)


@pytest.mark.parametrize(("carried", "typed", "said", "kinds"), EDGED)
def test_of_each_thing_that_cuts_its_edge_and_its_handle_are_asked(
    carried: str, typed: str, said: dict[str, object], kinds: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = "".join(f"{word.removeprefix('-')}\n" for word in typed.split())
    project = first_way(monkeypatch, lines, carried=carried)
    found = {
        item["name"]: (item.get("cutting"), item["size"], item.get("handle")) for item in project["item"]
    }
    assert {name: found[name] for name in said} == said
    assert [part["kind"] for part in project["part"]] == kinds


def test_what_an_empty_line_takes_a_handle_to_be_is_told() -> None:
    answers = {key: value for key, value in OPTIONS.items() if key not in ("--unit", "--carried")}
    asked = CliRunner().invoke(
        main,
        ["new", "--item", "knife: 22 x 3", "--unit", "mm", *(w for pair in answers.items() for w in pair)],
        input="\nd 12\nback\nmaybe\nno\n90\n\n\n0\n\n\n",
    )
    assert asked.exit_code == 0, asked.stderr
    shown = asked.stderr.splitlines()
    for told in (
        "covered when it goes in: folded shut, or in a sheath or cap of its own? yes or "
        'no [no]: How long is the blade of "knife"?:   "d 12" is no length: write a number, or one with its '
        "unit such as 3.5 mm or 2 1/4 in",
        '  found "maybe"; allowed: yes or no',
        'How thick is the handle of "knife"? [15 mm]:   "0" is out of reach: a length from 0.5 to 1000 mm',
        "  taken for now: 15 mm; measure it, and mend it in the file",
        "  taken for now: 100 mm; measure it, and mend it in the file",
    ):
        assert any(told in line for line in shown), (told, shown)
    assert "[sheath]" in asked.stderr  # for one blade that nothing covers
    text = Path("binder_s_kit.toml").read_text()
    assert "handle" not in tomllib.loads(text)["item"][0]
    assert "a handle is taken for it: broad as the blade, 15 mm thick, 100 mm long" in text


# The same by options: what is told of the chisel, and what is asked of it still.
EDGES = [
    ("pouch", "chisel: covered", {"cutting": "covered"}),
    ("pouch", "chisel: bare", {}),
    ("sheath", "chisel: bare", {}),
    ("sheath", "chisel: handle 18 x 110", {"handle": [24, 18, 110]}),
    ("sheath", 'chisel: handle 1,8 cm x 4 1/2"', {"handle": [24, "1.8 cm", "4 1/2 in"]}),
]
WRONG_EDGES = [
    ("sheath", "chisel: handle 18", "How long is the handle of \"chisel\", beyond its blade? [100 mm]"),
    ("sheath", "chisel: handle", 'How thick is the handle of "chisel"? [15 mm]'),
    ("roll", "chisel: bare",
     'Invalid value for --edge: a roll has no sheath for the bare edge of "chisel", which would cut thread '
     "and hands: cover it, and say yes; or leave out --carried"),
    ("sheath", "chisel: covered", 'found "sheath"; allowed: pouch, roll, bag or cover'),
    ("pouch", "chisle: covered", 'found "chisle"; allowed: "chisel", then a colon and what its edge is'),
    ("pouch", "covered", 'found "covered"; allowed: "chisel", then a colon and what its edge is'),
    ("pouch", "chisel: sharp",
     'found "chisel: sharp"; allowed: "name: covered", "name: bare" (its handle taken to be broad as its '
     'blade, 15 mm thick, 100 mm long) or "name: handle thickness x length"; of '
     'what is traced "name: blade length", too'),
]  # fmt: skip


@pytest.mark.parametrize(("carried", "edge", "expected"), EDGES)
def test_the_same_is_told_by_an_option(
    carried: str, edge: str, expected: dict[str, object], monkeypatch: pytest.MonkeyPatch
) -> None:
    project = first_way(monkeypatch, "", edge, carried=carried, item="chisel: 24 x 4 x 120")
    (item,) = project["item"]
    del item["name"], item["in"]
    assert item == {"size": [24, 4, 120]} | expected


@pytest.mark.parametrize(("carried", "edge", "told"), WRONG_EDGES)
def test_what_is_missing_of_an_edge_is_asked_and_what_is_wrong_is_told(
    carried: str, edge: str, told: str
) -> None:
    answers = {**OPTIONS, "--carried": carried, "--item": "chisel: 24 x 4 x 120", "--edge": edge}
    ended = CliRunner().invoke(main, ["new", *(word for pair in answers.items() for word in pair)], input="")
    assert told in " ".join(ended.stderr.split())
    assert not list(Path().iterdir())


def test_left_at_the_handle_the_way_on_asks_for_the_rest_alone() -> None:
    told = CliRunner().invoke(
        main, ["new", "--title", "Kit", "--carried", "pouch"], input="\nknife\n\n22\n3\n90\n\n18\n"
    )
    assert told.stderr.splitlines()[-1].endswith("--item 'knife: 22 x 3 x 90' --edge 'knife: handle 18'")


def test_a_blade_is_flat() -> None:
    words = [
        "new",
        "--title",
        "Kit",
        "--unit",
        "mm",
        "--item",
        "chisel: d 24 x 120",
        "--edge",
        "chisel: bare",
    ]
    ended = CliRunner().invoke(main, words, input="")
    assert ended.exit_code == 2
    assert (
        '"d 24" is no length: write a number, or one with its unit such as 3.5 mm or 2 1/4 in; a blade is '
        "measured flat, where it is widest" in ended.stderr
    )


# What a photo shows of a knife, blade and handle in one outline; by hand: 220 long, 110 of it blade.
def test_a_traced_blade_says_how_far_up_it_is_blade() -> None:
    outline = "[[0, 0], [110, 2], [220, 2], [220, 24], [110, 24], [60, 24]]"
    Path("things.toml").write_text(
        f'format = 1\nunit = "mm"\n[[item]]\nname = "pruning knife"\noutline = {outline}\nthickness = 3\n'
    )
    answers = ["--things", "things.toml", *(word for pair in OPTIONS.items() for word in pair)]
    for typed in ("no\n110\n18\n", None):
        edge = ["--edge", "pruning knife: blade 110, handle 18"] if typed is None else []
        told = CliRunner().invoke(main, ["new", *answers, "-o", f"k{len(edge)}.toml", *edge], input=typed)
        assert told.exit_code == 0, told.stderr
        (item,) = tomllib.loads(Path(f"k{len(edge)}.toml").read_text())["item"]
        assert (item["blade"], item["handle"]) == (110, ["24 mm", 18, "110 mm"])
    refused = CliRunner().invoke(main, ["new", *answers], input="no\n220\n")
    assert '"220" is as long as all that was traced, 220 mm; where that is all blade' in refused.stderr


def test_a_traced_handle_that_nobody_measured_is_told_as_taken() -> None:
    outline = "[[0, 0], [110, 2], [220, 2], [220, 24], [110, 24], [60, 24]]"
    Path("things.toml").write_text(
        f'format = 1\nunit = "mm"\n[[item]]\nname = "pruning knife"\noutline = {outline}\nthickness = 3\n'
    )
    answers = ["--things", "things.toml", *(word for pair in OPTIONS.items() for word in pair)]
    told = CliRunner().invoke(main, ["new", *answers, "-o", "k.toml"], input="no\n110\n\n")
    assert "taken for now: 15 mm; measure it, and mend it in the file" in told.stderr
    assert "its handle is taken 15 mm thick; measured, it is handle = [" in Path("k.toml").read_text()
    rooms = made_of(Path("k.toml")).punched.pattern.rooms
    (handle,) = [each for room in rooms for each in room.items if each.assumed]
    assert handle.blade is not None
