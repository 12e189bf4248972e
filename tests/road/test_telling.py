"""How findings are told: where, the line itself, a mark; how much is told; in which colours.

The rows are by hand: what a reader of the file would point at.
"""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from handkit.cli import main

TAB = """\
format = 1
[material]
thickness = 2
[[piece]]
name = "tab"
rectangle = [80, 60]
round = 31
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("NO_COLOR", raising=False)
    Path("tab.toml").write_text(TAB)


def run(*words: str, **more: object) -> Result:
    return CliRunner().invoke(main, list(words), **more)  # type: ignore[arg-type]


def marked(told: str) -> list[str]:
    """What the marks of an output point at."""
    lines = told.splitlines()
    return [
        above[line.index("^") : line.index("^") + line.count("^")]
        for above, line in pairwise(lines)
        if set(line) == set(" |^")
    ]


MISTAKES = [
    ("round = 31", "round = 31", ["31"]),
    ("rectangle = [80, 60]", "rectangle = [80, -6]", ["-6"]),
    ('name = "tab"', 'name = "tab:le"', ['"tab:le"']),
    ("[[piece]]", "[[piece]]\nthicknes = 3", ["thicknes"]),
    ("thickness = 2", "thickness = 2,5", ["2,5"]),
    ("rectangle = [80, 60]\nround = 31", "points = [[0, 0], [9, 0], [9, true]]", ["true"]),
    ("rectangle = [80, 60]\nround = 31", "", ["[[piece]]"]),
    ("round = 31", 'arc = { "A-B" = 4, "B-X" = 2 }', ["2"]),
]


@pytest.mark.parametrize(("is_", "becomes", "meant"), MISTAKES)
def test_the_mark_is_under_what_is_meant(is_: str, becomes: str, meant: list[str]) -> None:
    Path("tab.toml").write_text(TAB.replace(is_, becomes))
    assert marked(run("make", "tab.toml").stderr)[: len(meant)] == meant


def test_an_error_is_told_with_its_line_and_counted() -> None:
    told = run("make", "tab.toml").stderr.splitlines()
    assert told[0].startswith('tab.toml:7:9: error: piece "tab": round: found ')
    assert told[1:] == [
        "    7 | round = 31",
        "      |         ^^",
        "1 error, no warnings; more of one: handkit explain radius-too-big",
    ]


def test_a_project_may_come_from_standard_input() -> None:
    told = run("check", "-", input=TAB)
    assert told.stdout.startswith("standard input:7:9: error: ")
    assert marked(told.stdout) == ["31"]
    assert run("make", "-", input=TAB.replace("31", "3")).exit_code == 0
    assert Path("project-kit.pdf").is_file()


@pytest.mark.parametrize(
    ("words", "env", "coloured"),
    [
        ((), {}, True),
        ((), {"NO_COLOR": "1"}, False),
        (("--color", "never"), {}, False),
        (("--color", "always"), {"NO_COLOR": "1"}, True),
    ],
)
def test_colours_are_asked_for_or_for_a_terminal(
    words: tuple[str, ...], env: dict[str, str], coloured: bool
) -> None:
    assert ("\x1b[31m" in run("make", "tab.toml", *words, env=env, color=True).stderr) == coloured


def test_without_a_terminal_there_is_no_colour_unless_it_is_asked_for() -> None:
    assert "\x1b" not in run("make", "tab.toml").stderr
    assert "\x1b" in run("make", "tab.toml", "--color", "always").stderr


def test_quiet_tells_errors_alone_and_verbose_each_step() -> None:
    good = TAB.replace("31", "3") + "lines = { fold = [[9, 9], [40, 9]] }\n"  # a line in no seam: a note
    Path("good.toml").write_text(good)
    plain, quiet, verbose = (run("make", "good.toml", *words) for words in ((), ("-q",), ("-v",)))
    assert "note: " in plain.stderr
    assert (quiet.stdout, quiet.stderr) == ("", "")
    assert "error: " in run("make", "-q", "tab.toml").stderr
    steps = [line.partition(" s  ")[2] for line in verbose.stderr.splitlines() if " s  " in line]
    assert steps[:2] == ["reading", "drafting"]
    assert steps == list(dict.fromkeys(steps)), "each is told once, and nothing of what it is at"


@pytest.mark.parametrize(("text", "mm"), [("12", 12.0), ("0.5in", 12.7), ("1/2 in", 12.7), ("1.2 cm", 12.0)])
def test_lengths_on_the_command_line_are_written_as_in_the_file(text: str, mm: float) -> None:
    Path("tab.toml").write_text(TAB.replace("31", "3"))
    made = [run("make", "tab.toml", "--overlap", each, "-o", "-").stdout_bytes for each in (text, f"{mm}mm")]
    assert made[0] == made[1]
    assert made[0].startswith(b"%PDF")


@pytest.mark.parametrize("text", ["wide", "-1", "101", "nan", "0,5in", "6 oz"])
def test_what_is_no_such_length_is_wrong_use(text: str) -> None:
    told = run("make", "tab.toml", f"--overlap={text}")
    assert told.exit_code == 2
    assert f"found {text!r}; allowed: a length from 0 to 100 mm, such as 12 or 0.5in" in told.stderr


OURS = ["kit.pdf", "plan.html", "plan.csv", "plan.json", "pieces.svg", "report.json", "article.png"]


def test_what_handkit_did_not_write_is_not_written_over() -> None:
    Path("tab.toml").write_text(TAB.replace("31", "3"))
    commands = [
        ["make", "tab.toml", "-o", "kit.pdf", "--report", "report.json"],
        ["plan", "tab.toml", "--format", "html", "-o", "plan.html"],
        ["plan", "tab.toml", "--format", "csv", "-o", "plan.csv"],
        ["plan", "tab.toml", "--format", "json", "-o", "plan.json"],
        ["pieces", "tab.toml", "--format", "svg", "-o", "pieces.svg"],
        ["show", "tab.toml", "-o", "article.png"],
    ]
    for _ in range(2):  # what it has written itself it writes again
        assert [run(*words).exit_code for words in commands] == [0] * len(commands)
    for name in OURS:
        Path(name).write_bytes(b"%PDF-1.4 somebody else's")
    for words in commands:
        told = run(*words)
        assert told.exit_code == 3
        assert "it is there, and handkit did not write it; name another, or say --force" in told.stderr
    assert {Path(name).read_bytes() for name in OURS} == {b"%PDF-1.4 somebody else's"}
    assert [run(*words, "--force").exit_code for words in commands] == [0] * len(commands)
