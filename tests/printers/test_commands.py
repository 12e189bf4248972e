"""`handkit printer` and `make --printer`: what is kept, told and refused, and that nothing is lost."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest
from click.testing import CliRunner, Result

from handkit.cli import main

TAB = """format = 1
[material]
thickness = 2
[[piece]]
name = "tab"
rectangle = [80, 60]
[[seam]]
name = "rim"
runs = ["tab: A-B-C"]
"""
Run = Callable[..., Result]
SETTINGS = Path("settings/printers.toml")
# Of A4: bars 180 and 260. By hand: 178.56 ÷ 180 = 0.992, 257.14 ÷ 260 = 0.989.
OFF = ("--across", "178.56", "--down", "257.14")


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HANDKIT_PRINTERS", str(tmp_path / SETTINGS))
    Path("tab.toml").write_text(TAB)

    def running(*words: str) -> Result:
        result = CliRunner().invoke(main, list(words))
        assert result.exception is None or isinstance(result.exception, SystemExit), result.exc_info
        return result

    return running


def test_a_printer_is_kept_listed_and_forgotten(run: Run) -> None:
    assert run("printer").output == "no printer was measured yet\n"
    assert not SETTINGS.parent.exists()
    kept = run("printer", "measured", "office", *OFF)
    assert kept.exit_code == 0
    assert kept.stdout.splitlines()[:2] == [
        "measured: across 99.20 % ± 0.14 %, down 98.90 % ± 0.10 %; without diagonals no lean is known",
        "office: across × 1.008, down × 1.011; its edges are not known",
    ]
    run("printer", "measured", "attic 2", "--across", "180", "--down", "10.24 in", "--edges", "4,4,4,12.5")
    told = [
        "attic 2: true as far as a rule can tell; loses 4, 4, 4, 12.5 mm at the left, right, top, bottom",
        "office: across × 1.008, down × 1.011; its edges are not known",
    ]
    assert run("printer").output.splitlines() == told
    run("printer", "measured", "office", "--across", "181", "--down", "260")  # anew, in its place
    assert (
        run("printer").output.splitlines()[1]
        == "office: across × 0.994, down × 1.000; its edges are not known"
    )
    assert run("printer", "forget", "office").exit_code == 0
    assert run("printer").output.splitlines() == told[:1]


def test_inches_are_read_as_a_rule_has_them(run: Run) -> None:
    """By hand: 7 1/32 in = 178.594 mm, ÷ 180 = 0.99219; 10 1/8 in = 257.175 mm, ÷ 260 = 0.98913."""
    run("printer", "measured", "office", "--across", "7 1/32 in", "--down", "10 1/8 in")
    text = SETTINGS.read_text()
    assert "across = 0.992188\ndown = 0.989135\n" in text


COUNT = "lengths with commas between; write all {}, decimals with a point"
REFUSED = [
    (
        ("--across", "178,5", "--down", "257"),
        'found "178,5"; allowed: a decimal point; write "178.5" with a point',
    ),
    (("--across", "178.5 ft", "--down", "257"), 'found the unit "ft"'),
    ((*OFF, "--diagonals", "283,5,284,1"), f'found "283,5,284,1"; allowed: 2 {COUNT.format(2)}'),
    ((*OFF, "--edges", "4,4,4"), f'found "4,4,4"; allowed: 4 {COUNT.format(4)}'),
    ((*OFF, "--edges", "4,4,4,51"), "found an edge of 51 mm; allowed: 0 mm to 50 mm; give the step's number"),
    (
        ("--across", "7.03", "--down", "257"),
        "found across 7.03 mm, where 180 mm are drawn; allowed: what a rule says of the test page for A4; "
        'measure from middle to middle of its ends; inches are written "7 1/8 in"',
    ),
    (
        (*OFF, "--diagonals", "286,284"),
        "found diagonals of 285 mm in the mean, where the bars make it 283.16 mm; allowed: diagonals of a "
        "box with such sides; measure all four again, from cross to cross and from tick to tick",
    ),
    ((*OFF, "--paper", "A7"), "found paper 'A7'"),
]


@pytest.mark.parametrize(("words", "told"), REFUSED)
def test_what_no_rule_says_is_wrong_use(run: Run, words: tuple[str, ...], told: str) -> None:
    result = run("printer", "measured", "office", *words)
    assert result.exit_code == 2
    assert told in result.stderr.splitlines()[-1]
    assert not SETTINGS.exists()


FITTED = [
    # By hand: 174.85 ÷ 180 and 252.56 ÷ 260 are 0.9714, A4 fitted to A4 with edges of 3 mm.
    (
        ("--across", "174.85", "--down", "252.56"),
        "error: found a page at 97.1 % across and 97.1 % down, as by a fit to A4 with edges of 3.1 mm or a "
        "fit to legal with edges of 6 mm; allowed: a printer's own error, up to 1.5 %; in the print dialog "
        "choose 100 % and switch off all that fits, shrinks or enlarges a page or lays it out anew, print "
        "the test page again and measure that [printer-fitted]",
    ),
    (("--across", "198", "--down", "286"), "scaled by no fit that is known; allowed"),
    (
        ("--across", "174.6", "--down", "260"),
        "error: found a page at 97.0 % across and 100.0 % down; allowed: a printer's own error, up to 1.5 %; "
        "measure again; if it is so, in the print dialog",
    ),
    # Uprights that lean by 1 degree, by hand: diagonals² = 170² + 230² ± 2·170·230·sin 1°.
    (
        ("--across", "180", "--down", "260", "--diagonals", "288.38,283.61"),
        "error: found uprights that lean by 1.0°; allowed: a lean of up to 0.9°",
    ),
]


@pytest.mark.parametrize(("words", "told"), FITTED)
def test_a_page_that_was_fitted_is_answered_and_never_corrected(
    run: Run, words: tuple[str, ...], told: str
) -> None:
    result = run("printer", "measured", "office", *words)
    assert result.exit_code == 1
    (line,) = result.stderr.splitlines()
    assert told in line
    assert not SETTINGS.exists()


def test_what_cannot_be_told_from_a_fit_is_said_and_kept(run: Run) -> None:
    words = ("--across", "179.46", "--down", "259.22")
    result = run("printer", "measured", "office", *words)
    assert result.exit_code == 0
    assert result.stderr.startswith(
        "warning: found a page at 99.7 % across and 99.7 % down; a fit to A4 with edges of "
    )
    assert "[printer-either]" in result.stderr
    assert run("printer", "measured", "office", *words, "--edges", "4,4,4,4").stderr == ""


@pytest.mark.parametrize("name", ["", " a", "a/b", "x" * 25, "печать", "a\nb"])
def test_a_name_is_short_and_plain(run: Run, name: str) -> None:
    result = run("printer", "measured", name, *OFF)
    assert result.exit_code == 2
    assert (
        "allowed: 1 to 24 letters, digits, spaces, points, hyphens; give the printer a short name"
        in result.stderr
    )


@pytest.mark.parametrize(
    "words", [("make", "tab.toml", "--printer"), ("check", "tab.toml", "--printer"), ("printer", "forget"),
              ("printer", "test", "--printer")]
)  # fmt: skip
def test_an_unknown_printer_is_told_with_those_there(run: Run, words: tuple[str, ...]) -> None:
    none = run(*words, "offce")
    assert none.exit_code == 2
    assert 'found the printer "offce"; allowed: none, for no printer was measured' in none.stderr
    run("printer", "measured", "office", *OFF)
    run("printer", "measured", "attic", *OFF)
    some = run(*words, "offce")
    assert some.exit_code == 2
    assert (
        'found the printer "offce"; allowed: "attic" or "office"; `handkit printer` lists them' in some.stderr
    )
    assert not Path("tab-kit.pdf").exists()


@pytest.mark.parametrize(
    "words", [("printer",), ("printer", "measured", "new", *OFF), ("printer", "forget", "office"),
              ("make", "tab.toml", "--printer", "office")]
)  # fmt: skip
@pytest.mark.parametrize("data", [b"format = 1\nprinters = [\n", b"\xff\xfe", b"x" * (1 << 20) + b"y"])
def test_a_damaged_file_is_told_once_and_left(run: Run, words: tuple[str, ...], data: bytes) -> None:
    SETTINGS.parent.mkdir()
    SETTINGS.write_bytes(data)
    result = run(*words)
    assert result.exit_code == 1
    (line,) = result.stderr.splitlines()
    assert "found no list of printers as handkit writes it: " in line
    assert line.endswith("it is left as it stands [printers-damaged]")
    assert SETTINGS.read_bytes() == data
    assert [path.name for path in SETTINGS.parent.iterdir()] == [SETTINGS.name]


def test_a_file_that_cannot_be_read_or_written_is_told(run: Run) -> None:
    SETTINGS.mkdir(parents=True)
    assert "Is a directory" in run("printer").stderr
    SETTINGS.rmdir()
    SETTINGS.parent.rmdir()
    SETTINGS.parent.write_text("no folder")
    result = run("printer", "measured", "office", *OFF)
    assert (result.exit_code, "can't " in result.stderr) == (3, True)


@pytest.mark.long
def test_every_page_of_a_corrected_kit_says_so(run: Run) -> None:
    run("printer", "measured", "office", *OFF, "--diagonals", "283.4,282.4", "--edges", "4,4,4,4")
    made = run("make", "tab.toml", "--printer", "office", "--report", "report.json")
    assert "print at 100 % for the printer office alone" in made.stdout
    words = (
        "Corrected for the printer office: across × 1.008, down × 1.011, against a lean of 0.2° to the "
        "right; on another printer it is wrong."
    )
    pages = [page.extract_text() for page in pypdf.PdfReader("tab-kit.pdf").pages]
    assert all(words in page and "for the printer office alone · " in page for page in pages)
    assert "For one printer alone" in pages[0]
    report = json.loads(Path("report.json").read_text("utf-8"))
    assert report["corrected"] == {"printer": "office", "across": 0.992, "down": 0.989, "skew_degrees": 0.211}
    # By hand, from the middle out, at the foot (148.5 − 4) × 0.989 = 142.91 may be drawn on: 5.59 are left.
    assert "would lose what is nearer to the paper's edge than 5.6 mm" in made.stderr
    assert (report["paper"]["edge_mm"], report["paper"]["margin_mm"]) == (5.6, 10.0)


@pytest.mark.long
def test_a_true_printer_changes_no_page_but_its_edges(run: Run) -> None:
    run("printer", "measured", "attic", "--across", "180", "--down", "260", "--edges", "4,4,4,12.5")
    run("make", "tab.toml", "--printer", "attic", "-o", "attic.pdf", "--report", "report.json")
    report = json.loads(Path("report.json").read_text("utf-8"))
    assert report["corrected"] is None
    assert (report["paper"]["edge_mm"], report["paper"]["margin_mm"]) == (12.5, 16.5)
    assert "Corrected" not in pypdf.PdfReader("attic.pdf").pages[0].extract_text()


def test_no_project_is_written_over_by_the_test_page(run: Run) -> None:
    result = run("printer", "test", "-o", "tab.toml")
    assert (result.exit_code, Path("tab.toml").read_text()) == (3, TAB)
    assert "can't write tab.toml: .toml is a project file's ending; name another file" in result.stderr


@pytest.mark.parametrize(("paper", "pages"), [("A4", 1), ("letter", 1), ("A3", 1), ("100x150mm", 3)])
def test_the_test_page_tells_what_it_draws(run: Run, paper: str, pages: int) -> None:
    assert run("printer", "test", "--paper", paper, "-o", "test.pdf").exit_code == 0
    file = pypdf.PdfReader("test.pdf")
    assert len(file.pages) == pages
    text = " ".join(" ".join(page.extract_text() for page in file.pages).split())
    assert f"handkit printer measured NAME --paper {paper} --across … --down …" in text
    assert "50 mm square" in text
