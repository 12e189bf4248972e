"""Beginners' mistakes: what `handkit check` tells of each, all of it, to the letter.

The table is mistakes.txt: a mark from 1 to 5 and a title; what is changed in a sound project (`= inch` for
that in inches, `- ` a line taken out, `+ ` one put in its place), or `= ` and what is there instead of a
project; and behind `-> ` all that is told.

The marks were given by hand, as one who is new to programs would: is it told where, what, and what to do, in
words of the bench, and once for one cause? 5: mended at once; 4: after a second look; 3: one has to ask.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from handkit.cli import main

TABLE = Path(__file__).parent / "mistakes.txt"
MM = """\
format = 1
unit = "mm"
[material]
thickness = 2
[[piece]]
name = "back"
rectangle = [200, 260]
[[part]]
name = "pocket"
kind = "flat pocket"
on = "back"
at = [40, 30]
[[item]]
name = "rule"
in = "pocket"
size = [30, 1, 150]
[[piece]]
name = "tab"
rectangle = [60, 40]
on = "back"
at = [20, 205]
[[seam]]
name = "tab"
runs = ["tab: A-B", "back"]
"""
INCH = """\
format = 1
unit = "in"
[material]
thickness = "2 mm"
[[piece]]
name = "back"
rectangle = [8, 10]
[[part]]
name = "pocket"
kind = "flat pocket"
on = "back"
at = [1.5, 1]
[[item]]
name = "rule"
in = "pocket"
size = [1.25, 0.05, 6]
[[piece]]
name = "tab"
rectangle = [2.5, 1.5]
on = "back"
at = [1, 8]
[[seam]]
name = "tab"
runs = ["tab: A-B", "back"]
"""


def cases() -> list[tuple[int, str, list[str], str]]:
    """Mark, title, what is changed, and what is told, of each row."""
    found = []
    for row in re.split(r"^## ", TABLE.read_text("utf-8"), flags=re.MULTILINE)[1:]:
        head, *lines = row.rstrip("\n").split("\n")
        mark, title = head.split(" ", 1)
        told = "".join(f"{line[3:]}\n" for line in lines if line.startswith("->"))
        found.append((int(mark), title, [line for line in lines if not line.startswith("->")], told))
    return found


def changed(text: str, changes: list[str]) -> str:
    """A project with lines taken out and put in, each group where its lines stand together first."""
    for old, new in re.findall(
        r"((?:^- .*\n)+)((?:^\+ .*\n)*)", "".join(f"{line}\n" for line in changes), re.M
    ):
        out, into = (re.sub(r"^. ", "", part, flags=re.M) for part in (old, new))
        assert out in text, out
        text = text.replace(out, into, 1)
    return text


def lay_out(changes: list[str], path: Path) -> None:
    """Put there what a row is about."""
    kind, _, bytes_in_hex = changes[0].removeprefix("= ").partition(" ")
    if kind == "folder":
        path.mkdir()
    elif kind == "bytes":
        path.write_bytes(bytes.fromhex(bytes_in_hex))
    elif kind != "nothing":
        path.write_bytes(changed(INCH if kind == "inch" else MM, changes).encode())


def told_of(changes: list[str], folder: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[int, str]:
    monkeypatch.chdir(folder)
    lay_out(changes, folder / "p.toml")
    result = CliRunner().invoke(main, ["check", "p.toml"])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.output


@pytest.mark.parametrize(
    ("mark", "changes", "told"), [pytest.param(*row[:1], *row[2:], id=row[1]) for row in cases()]
)
def test_a_mistake_is_told_in_full(
    mark: int, changes: list[str], told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert told_of(changes, tmp_path, monkeypatch)[1] == told
    errors = [line for line in told.split("\n") if re.match(r"p\.toml(:\d+)*: (error|warning): ", line)]
    assert len(errors) <= 1  # one cause, one message


def test_the_table_is_as_large_and_as_good_as_promised() -> None:
    marks = [mark for mark, *_ in cases()]
    assert len(marks) >= 80
    assert min(marks) >= 4


@pytest.mark.parametrize("text", [MM, INCH])
def test_the_project_is_sound_without_the_mistake(text: str, tmp_path: Path) -> None:
    project = tmp_path / "p.toml"
    project.write_text(text)
    result = CliRunner().invoke(main, ["check", str(project)])
    assert (result.exit_code, "no errors, no warnings" in result.output) == (0, True), result.output
