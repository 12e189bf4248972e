"""The interview: a newcomer answers, nonsense among it, and has a project file that is made and proved."""

from __future__ import annotations

import os
import shlex
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from newcomer import Newcomer

from handkit import ProjectText, kit
from handkit.cli import main
from handkit.commands.interview.typed import Typed, typed_length
from handkit.read.schema.keys import TABLES

OPTIONS = {
    "--title": "Binder's kit", "--unit": "mm", "--carried": "pouch", "--belt": "none", "--material": "firm",
    "--thickness": "2", "--pitch": "4", "--paper": "A4", "--hand": "right", "--take": "1",
}  # fmt: skip
ITEMS = ("--item", "bone folder: 22 x 4 x 150", "--item", "scriber: d 8 × 160")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def new(*words: str, typed: str | None = None, without: str = "", **other: str) -> Result:
    said = OPTIONS | {f"--{key}": value for key, value in other.items()}
    given = [word for key, value in said.items() if key != without for word in (key, value)]
    return CliRunner().invoke(main, ["new", *ITEMS, *given, *words], input=typed)


# As people write lengths, in a file of mm and in one of inches: mm, and how the file has it. By hand; 25.4.
LENGTHS = [
    ("58", "mm", 58, "58"),
    (" 2.5 ", "mm", 2.5, "2.5"),
    ("2,5", "mm", 2.5, "2.5"),
    ("2,5 mm", "in", 2.5, '"2.5 mm"'),
    ("5.8 cm", "mm", 58, '"5.8 cm"'),
    ("58mm", "in", 58, '"58 mm"'),
    ('2 1/4"', "mm", 57.15, '"2 1/4 in"'),
    ("2 1/4", "in", 57.15, '"2 1/4 in"'),
    ("2-1/4 in", "mm", 57.15, '"2 1/4 in"'),
    ("2¼", "in", 57.15, '"2 1/4 in"'),
    ("3/16 in.", "mm", 4.7625, '"3/16 in"'),
    ("½ Inch", "mm", 12.7, '"1/2 in"'),
    ("2.25", "in", 57.15, "2.25"),
    ("40 millimetres", "mm", 40, '"40 mm"'),
]


@pytest.mark.parametrize(("text", "unit", "mm", "toml"), LENGTHS)
def test_lengths_are_taken_as_people_write_them(text: str, unit: str, mm: float, toml: str) -> None:
    found = typed_length(text, unit, TABLES["item"].keys["length"])
    assert isinstance(found, Typed)
    assert (found.mm, found.toml) == (pytest.approx(mm), toml)


def test_ounces_are_a_thickness_alone() -> None:
    found = typed_length("6oz", "mm", TABLES["material"].keys["thickness"])
    assert isinstance(found, Typed)
    assert (found.mm, found.toml) == (pytest.approx(6 * 25.4 / 64), '"6 oz"')
    assert isinstance(typed_length("6oz", "mm", TABLES["item"].keys["length"]), str)


@pytest.mark.parametrize(
    "text", ["", "wide", "-5", "2 5/4 in", "1/0 in", "3,,5", "1e3", "5 miles", "0", "9999999"]
)
def test_what_is_no_length_is_said_so(text: str) -> None:
    assert isinstance(typed_length(text, "mm", TABLES["item"].keys["length"]), str)


def test_with_all_options_nothing_is_asked_and_every_line_has_its_comment() -> None:
    told = new()
    assert (told.exit_code, told.stderr) == (0, "")
    assert told.stdout.startswith("binder_s_kit.toml: written; see it with: handkit show binder_s_kit.toml\n")
    lines = Path("binder_s_kit.toml").read_text().splitlines()
    assert all("  # " in line for line in lines if " = " in line and not line.startswith("#"))
    written = tomllib.loads("\n".join(lines))
    assert [item["name"] for item in written["item"]] == ["bone folder", "scriber"]
    made = kit.make(Path("binder_s_kit.toml"))
    Path("kit.pdf").write_bytes(made.pdf)
    assert kit.proof_of(Path("kit.pdf"), Path("binder_s_kit.toml")).passed


def test_what_is_there_is_never_written_over() -> None:
    new()
    before = Path("binder_s_kit.toml").read_bytes()
    assert "binder_s_kit_2.toml: written" in new().stdout
    refused = new("-o", "binder_s_kit.toml")
    assert refused.exit_code == 3
    assert refused.stderr == "error: can't write binder_s_kit.toml: it is there already; name a new file\n"
    assert Path("binder_s_kit.toml").read_bytes() == before


@pytest.mark.parametrize(
    ("option", "value", "told"),
    [
        ("unit", "furlong", 'found "furlong"; allowed: mm, cm or in'),
        ("carried", "rol1", 'found "rol1"; allowed: pouch, roll or bag; did you mean roll?'),
        ("carried", "sheath", 'found "sheath"; allowed: pouch, roll or bag'),
        ("thickness", "900", '"900" is out of reach: a thickness from 0.1 to 30 mm'),
        ("pitch", "1.5", '"1.5" is too near: 1.8 mm at least, or holes tear into one another'),
        ("paper", "A44", "A44"),
        ("take", "3", "3"),
        ("title", "a:b", 'leave ":" out'),
    ],
)
def test_an_option_that_cannot_be_taken_is_wrong_use(option: str, value: str, told: str) -> None:
    result = new(**{option: value})
    assert result.exit_code == 2
    assert told in result.stderr
    assert not list(Path().iterdir())


@pytest.mark.parametrize(("pitch", "thread"), [("4", None), ("3", "0.7 mm"), ("2", "0.5 mm")])
def test_a_dense_seam_gets_a_finer_thread(pitch: str, thread: str | None) -> None:
    """By hand: holes are two threads wide, and their centres two holes apart, with 1 mm left between."""
    assert new(pitch=pitch, title="Kit").exit_code == 0
    assert tomllib.loads(Path("kit.toml").read_text())["stitching"].get("thread") == thread


# Things too small for the sizes that parts have where a file says none.
@pytest.mark.parametrize("size", ["20 x 20 x 20", "40 x 20 x 10", "40 x 40 x 20"])
@pytest.mark.parametrize("carried", ["pouch", pytest.param("bag", marks=pytest.mark.long)])
def test_small_blocks_are_carried(size: str, carried: str) -> None:
    given = [word for key, value in (OPTIONS | {"--carried": carried}).items() for word in (key, value)]
    told = CliRunner().invoke(main, ["new", "--item", f"block: {size}", *given])
    assert told.exit_code == 0, told.stderr


@pytest.mark.parametrize("size", ["d 10 x 10", "d 2 x 5"])
def test_short_things_are_rolled(size: str) -> None:
    given = [word for key, value in (OPTIONS | {"--carried": "roll"}).items() for word in (key, value)]
    told = CliRunner().invoke(main, ["new", "--item", f"pin: {size}", *given])
    assert (told.exit_code, told.stderr) == (0, "")


def test_left_half_way_nothing_is_written_and_the_way_on_is_told() -> None:
    told = CliRunner().invoke(main, ["new"], input="Kit\n\nawl\nd 12\n140\nrule\n30\nquit\n")
    assert told.exit_code == 1
    assert told.stderr.splitlines()[-1].endswith(
        "nothing is written; go on with: handkit new --title Kit --item 'awl: d 12 x 140' --item 'rule: 30'"
    )
    on = ["new", "--title", "Kit", "--unit", "mm", "--item", "awl: d 12 x 140", "--item", "rule: 30"]
    asked = CliRunner().invoke(main, on, input="").stderr
    assert 'How thick is "rule"?' in asked
    assert not list(Path().iterdir())


# What is no number of a way, though it stands in the words that tell them: "1 or 2".
@pytest.mark.parametrize("typed", ["or", "1 or 2", "o", "3", "0"])
def test_a_way_is_chosen_by_its_number_alone(typed: str) -> None:
    told = new(typed=f"{typed}\n2\n", without="--take")
    assert (told.exit_code, told.exception) == (0, None)
    assert f"  found '{typed}'; allowed: 1 or 2\n" in told.stderr


def test_the_way_on_tells_what_was_said_and_is_taken_again() -> None:
    told = CliRunner().invoke(
        main, ["new", "--take", "2", "-o", "kit.toml"], input="Kit\nmm\npen\nø 9\n140\n"
    )
    way_on = shlex.split(told.stderr.splitlines()[-1].partition("handkit ")[2])
    assert way_on[-4:] == ["--take", "2", "-o", "kit.toml"]
    assert "What else?" in CliRunner().invoke(main, way_on, input="").stderr
    told = CliRunner().invoke(
        main, ["new", "--title", "Kit", "--unit", "mm", "--belt", "none"], input="pen\n"
    )
    assert told.stderr.endswith("go on with: handkit new --title Kit --unit mm --belt none --item 'pen: '\n")
    way_on = shlex.split(told.stderr.splitlines()[-1].partition("handkit ")[2])
    assert 'How wide is "pen"?' in CliRunner().invoke(main, way_on, input="").stderr


@pytest.mark.parametrize(
    "given", ["<&-", "0>written", "</dev/zero", "</dev/null"], ids=["closed", "to write", "endless", "empty"]
)
@pytest.mark.parametrize(
    ("words", "told"), [("new --title Kit", "go on with: handkit new --title Kit"), ("check -", "error: ")]
)
def test_where_nothing_can_be_read_it_ends_in_plain_words(words: str, told: str, given: str) -> None:
    line = f'"{sys.executable}" -m handkit {words} {given}'
    ended = subprocess.run(["sh", "-c", line], capture_output=True, text=True, check=False, timeout=60)
    assert ended.returncode in (1, 3)
    assert told in ended.stdout + ended.stderr
    assert "Traceback" not in ended.stderr


@pytest.mark.parametrize(
    ("name", "told"), [("no/kit.toml", "there is no folder no"), ("k" * 300, "too long")]
)
def test_where_it_cannot_be_written_nothing_is_asked(name: str, told: str) -> None:
    refused = CliRunner().invoke(main, ["new", "-o", f"{name.removesuffix('.toml')}.toml"])
    assert (refused.exit_code, told in refused.stderr) == (3, True)
    assert "What" not in refused.stderr


def test_back_asks_the_last_question_anew() -> None:
    told = new(typed="\nback\n\nrol\n", without="--carried", title="Kit")
    assert told.stderr.count("What else?") == 2
    assert told.exit_code == 0
    assert 'kind = "roll"' in Path("kit.toml").read_text()


def test_pictures_drawn_anew_stand_in_for_those_before() -> None:
    Path("kit-ways.pdf").write_bytes(b"of another")
    assert new(typed="back\n1\n", without="--take", title="Kit").exit_code == 0
    assert {each.name for each in Path().iterdir()} == {"kit.toml", "kit-ways.pdf", "kit_2-ways.pdf"}
    assert Path("kit-ways.pdf").read_bytes() == b"of another"


def test_traced_things_stand_in_for_sizes() -> None:
    outline = "[[0, 0], [150, 4], [150, 18], [0, 22]]"
    Path("things.toml").write_text(
        f'format = 1\nunit = "mm"\n[[item]]\nname = "bone folder"\noutline = {outline}\nthickness = 4\n'
    )
    given = [word for key, value in OPTIONS.items() for word in (key, value)]
    told = CliRunner().invoke(main, ["new", "--things", "things.toml", *given])
    assert told.exit_code == 0, told.stderr
    text = Path("binder_s_kit.toml").read_text()
    assert 'items = "things.toml"' in text
    assert "size" not in text
    assert kit.made_of(Path("binder_s_kit.toml")).punched.pattern.project.items[0].plan


@pytest.mark.parametrize("number", [1, 4])
def test_a_newcomer_gets_through(number: int, folder: Path) -> None:
    gets_through(number, folder, noise=0.4)


@pytest.mark.long
@pytest.mark.parametrize("number", range(8 * int(os.environ.get("TIMES", "1"))))
def test_newcomers_get_through_and_their_kits_are_proved(number: int, folder: Path) -> None:
    written = gets_through(number, folder, noise=0.5 if number % 4 else 0)
    made = kit.make(ProjectText(written.read_text(), written.name, folder))
    Path("kit.pdf").write_bytes(made.pdf)
    assert kit.proof_of(Path("kit.pdf")).passed


def gets_through(number: int, folder: Path, *, noise: float) -> Path:
    ended = Newcomer(number, folder, noise=noise).run()
    assert "Traceback" not in ended.shown
    assert (ended.code, ended.written is not None) == (0, True), ended.shown[-1500:]
    assert not (folder / "bad").exists()
    assert ended.written is not None
    return ended.written


# A disc lies flat; what is short shows less, and is held by a narrower strap; slots take no thick tools.
@pytest.mark.parametrize(
    ("carried", "item", "kinds"),
    [
        ("pouch", "lens: d 38 x 12.7", ["bowed pocket"]),
        ("pouch", "tin: 60 x 20 x 30", ["bowed pocket"]),
        ("pouch", "thimble: 20 x 18 x 25", ["holder row"]),
        ("pouch", "file: d 8 x 150", ["holder row"]),
        ("roll", "pliers: 95 x 14 x 225", ["roll of holders"]),
        ("roll", "rule: 30 x 3 x 150", ["roll"]),
    ],
)
def test_no_way_holds_a_thing_as_it_can_not_be_held(carried: str, item: str, kinds: list[str]) -> None:
    answers = {**OPTIONS, "--carried": carried, "--item": item}
    told = CliRunner().invoke(main, ["new", *(word for pair in answers.items() for word in pair)])
    assert told.exit_code == 0, told.stderr
    looked_at = CliRunner().invoke(main, ["check", "binder_s_kit.toml"])
    assert "no errors, no warnings" in looked_at.stdout + looked_at.stderr
    parts = tomllib.loads(Path("binder_s_kit.toml").read_text())["part"]
    assert [part["kind"] + " of holders" * ("holds" in part) for part in parts] == kinds


def test_what_can_be_answered_is_told_once() -> None:
    told = CliRunner().invoke(main, ["new"], input="\n\nKit\nfurlong\nin\n").stderr
    assert told.count("An empty line takes what stands in [brackets]") == 1
    assert told.count("an answer is needed here") == 2
