"""Text from elsewhere never acts on a terminal, and never on a spreadsheet: paths, tags of a PDF, words of
the system, names of a project.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator
from io import StringIO
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from handkit import kit
from handkit.cli import main
from handkit.draw.export.plan_csv import plan_csv
from handkit.findings import Finding, Where
from handkit.messages.message import Severity
from handkit.messages.proving import Wording
from handkit.proof.proof import Check, Proof
from handkit.wording.quoting import escaped

# The screen wiped, a title set, the bell, a line begun anew, a new line, C1, letters turned about.
HOSTILE = "a\x1b[2J\x1b]0;b\x07c\rd\ne\x9bf\u202eg"
HARMLESS = r"a\x1b[2J\x1b]0;b\x07c\x0dd\x0ae\x9bf\u202eg"
TAB = """format = 1
[material]
thickness = 2
[[piece]]
name = "tab"
rectangle = [80, 60]
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The tests' own folder, and a terminal whose colours are let through, as click does on a real one."""
    monkeypatch.chdir(tmp_path)
    yield


def run(*words: str) -> Result:
    return CliRunner(env={"NO_COLOR": "1"}).invoke(main, list(words), color=True)


@pytest.mark.parametrize(
    ("words", "out", "err"),
    [
        (["check", f"{HOSTILE}.toml"], "", f"error: {HARMLESS}.toml: there is no such file\n"),
        (["proof", f"{HOSTILE}.pdf"], "", f"error: {HARMLESS}.pdf: there is no such file\n"),
        (
            ["make", "tab.toml", "-o", f"no{HOSTILE}/a.pdf"],
            "",
            f"error: can't write no{HARMLESS}/a.pdf: there is no folder no{HARMLESS}\n",
        ),
        (["sample", "strap", "-o", HOSTILE], f"{HARMLESS}/strap.toml\n", ""),
        (["show", "tab.toml", "-o", f"{HOSTILE}.svg"], f"{HARMLESS}.svg: the article put together\n", None),
        (
            ["plan", "tab.toml", "--format", "json", "-o", HOSTILE],
            f"{HARMLESS}: the plan\n",
            None,
        ),
    ],
)
def test_a_path_is_shown_and_does_nothing(words: list[str], out: str, err: str | None) -> None:
    Path("tab.toml").write_text(TAB)
    told = run(*words)
    assert told.stdout == out
    assert err is None or told.stderr == err


def test_a_finding_is_one_line_whatever_the_file_is_called() -> None:
    file = f"{HOSTILE}.toml"
    Path(file).write_text(TAB + "round = 31\n")
    for told in (run("make", file).stderr, run("check", file).stdout):
        assert told.startswith(f"{HARMLESS}.toml:7:9: error: ")
        assert escaped(told.replace("\n", "")) == told.replace("\n", "")
    found = json.loads(run("check", file, "--format", "json").stdout)["findings"]
    assert {each["file"] for each in found} == {file}


@pytest.mark.parametrize("passed", [True, False])
def test_tags_of_a_pdf_are_shown_and_do_nothing(passed: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    check = Check("bar", passed, Wording("page 1: {said}", "{said}", "50 mm"), {"said": HOSTILE})
    monkeypatch.setattr(kit, "proof_of", lambda *_, **__: Proof(f"{HOSTILE}.pdf", (check,)))
    head = "ok    " if passed else "FAILED"
    one, two = run("proof", "kit.pdf").stdout.splitlines()
    assert one == f"{head} page 1: {HARMLESS}: found {HARMLESS}; wanted 50 mm [bar]"
    assert two.startswith(f"{HARMLESS}.pdf: ")
    as_json = run("proof", "kit.pdf", "--format", "json").stdout
    assert escaped(as_json.replace("\n", "")) == as_json.replace("\n", "")
    assert json.loads(as_json)["checks"][0]["found"] == HOSTILE


def test_words_of_the_system_are_shown_and_do_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(5, HOSTILE)

    Path("tab.toml").write_text(TAB)
    monkeypatch.setattr("handkit.files.os.fsync", refuse)
    assert run("make", "tab.toml", "-o", "a.pdf").stderr.splitlines()[-1] == (
        f"error: can't write a.pdf: {HARMLESS}"
    )


@given(st.text())
def test_a_finding_stays_one_printable_line(text: str) -> None:
    told = str(Finding("code", Severity.NOTE, Where(text, 1, text), text, text, text))
    assert len(told.splitlines()) == 1
    assert escaped(told) == told


@pytest.mark.parametrize(
    ("name", "cell"),
    [  # OWASP, "CSV Injection": = + - @, tab and ends of lines (which no name may have)
        ("=1+1", "'=1+1"),
        ("+rim", "'+rim"),
        ("-rim", "'-rim"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("＝1", "'＝1"),
        ("=a, b", "'=a, b"),
        ("rim-1", "rim-1"),
        ("'rim", "'rim"),
    ],
)
def test_a_name_is_no_formula_for_a_spreadsheet(name: str, cell: str) -> None:
    seam = f'[[seam]]\nname = "{name}"\nruns = ["tab: A-B-C"]\n'
    Path("tab.toml").write_text(TAB + seam)
    punched = kit.punched_of(Path("tab.toml"))
    row = next(csv.DictReader(StringIO(plan_csv(kit.plan_of(punched), punched))))
    assert row["seam"] == cell
    assert float(row["cut_mm"]) > 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([HOSTILE], "No such command"),
        ([f"--{HOSTILE}"], "No such option"),
        (["check", f"--{HOSTILE}", "p.toml"], "No such option"),
        (["check", "p.toml", HOSTILE], "Got unexpected extra argument (a"),
        (["plan", "p.toml", "--format", HOSTILE], "is not one of 'text', 'html', 'json', 'csv'."),
        (["make", "p.toml", "--edge", HOSTILE], "Invalid value for '--edge'"),
        (["make", "p.toml", "--paper", HOSTILE], "Invalid value for '--paper'"),
    ],
)
def test_words_of_wrong_use_are_told_and_not_acted_on(words: list[str], said: str) -> None:
    told = run(*words)
    assert told.exit_code == 2
    assert said in told.output
    assert escaped(told.output.replace("\n", "")) == told.output.replace("\n", "")
