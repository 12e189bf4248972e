"""Codes explained: each example shows what it is about, and every code that is told can be asked for."""

from __future__ import annotations

import re

import pytest
from click.testing import CliRunner, Result

from handkit.cli import main
from handkit.commands.common.explained import codes, example_of, examples, explained, told_of
from handkit.messages.table import MESSAGES

EXAMPLES = examples()


# What no project shows by its text alone, by what it takes.
NO_TEXT = {
    "a photo": """
        names-count photo-bars photo-blurred photo-border photo-coarse photo-count photo-cut photo-edge
        photo-file photo-large photo-marks photo-not-flat photo-pale photo-parallax photo-shiny photo-small
        photo-thick photo-tilted things-count things-named""",
    "readings of a printer": """
        diagonals-off printer-askew printer-edge printer-either printer-fitted printer-name printer-scaled
        printer-uneven printer-unknown printers-damaged reading-far reading-out readings-count""",
    "an option": "edge-negative overlap-too-small trial-unfit",
    "bytes that are no text, or a megabyte": """
        file-too-big not-a-project not-utf8 svg-too-fine svg-too-large""",
}
_TAB = 'format = 1\n[material]\nthickness = 2\n[[piece]]\nname = "tab"\n'
_SEAM = '\n[[seam]]\nname = "foot"\nruns = '
# What an earlier step refuses already: what would be told, and what refuses it first.
REFUSED_BEFORE = [
    ("edge-without-length", "points = [[0, 0], [60, 0], [60, 0], [0, 40]]", "point-repeated"),
    ("edge-without-length", "points = [[0, 0], [60, 0], [0, 40], [0, 0]]", "point-repeated"),
    (
        "hole-outside",
        "points = [[0, 0], [120, 0], [120, 40], [70, 40], [70, 2], [50, 2], [50, 40], [0, 40]]"
        f'{_SEAM}["tab: A-B"]\ninset = 12',
        "inset-too-big",
    ),
    (
        "hole-outside",
        f'rectangle = [60, 40]\nlines = {{ far = [[50, 10], [50, 90]] }}{_SEAM}["tab: far"]',
        "line-outside-piece",
    ),
    (
        "opening-count",
        'rectangle = [60, 40]\n[[piece]]\nname = "loop"\nrectangle = [20, 40]\n[[opening]]\nname = "rivet"\n'
        'kind = "rivet"\nhole = 3\ncap = 8\npost = 8\nthrough = ["tab", "loop"]\nat = [[20, 20], [40, 20]]\n'
        "places = { loop = [[10, 20]] }",
        "places-count",
    ),
]
# Told when a hundred others are.
NEVER_ALONE = "too-many-faults"
# What goes with a code wherever that is told.
BESIDE = {"opening-at-mouth": {"opening-part-way"}, "through-unlike": {"ease-noted"}}


def explain(*words: str) -> Result:
    return CliRunner().invoke(main, ["explain", *words])


def codes_told(code: str) -> set[str]:
    return {finding.code for finding in told_of(EXAMPLES[code])}


@pytest.mark.long
@pytest.mark.parametrize("code", EXAMPLES)
def test_of_an_example_its_code_is_told_and_nothing_else(code: str) -> None:
    assert codes_told(code) == {code} | BESIDE.get(code, set())


@pytest.mark.parametrize("code", sorted(EXAMPLES)[::25])
def test_of_some_examples_their_code_is_told(code: str) -> None:
    assert codes_told(code) == {code} | BESIDE.get(code, set())


def test_every_other_code_has_an_example() -> None:
    """A new code gets one with its message: see `smallest_example.py`."""
    known = {code for listed in codes().values() for code in listed}
    without = {*" ".join((*NO_TEXT.values(), NEVER_ALONE)).split(), *(code for code, *_ in REFUSED_BEFORE)}
    assert sorted(known - set(EXAMPLES)) == sorted(without)


@pytest.mark.parametrize(("code", "piece", "first"), REFUSED_BEFORE)
def test_what_is_refused_before_is_refused_before(code: str, piece: str, first: str) -> None:
    """Else it could be shown by its text, and `code` would have an example."""
    assert [each.code for each in told_of(example_of(f"{_TAB}{piece}\n"))] == [first]


def test_too_many_faults_are_told_with_a_hundred_others() -> None:
    tables = "".join(f'[[piece]]\nname = "{k}"\nrectangle = 1\n' for k in range(101))
    told = [
        each.code
        for each in told_of(example_of(f'format = 1\nunit = "mm"\n[material]\nthickness = 2\n{tables}'))
    ]
    assert sorted(told) == [*["not-a-pair"] * 101, NEVER_ALONE]


def test_what_an_example_names_is_shown_beside_it() -> None:
    told = explain("thing-twice").stdout
    assert "with things.toml beside it:\n\n    format = 1\n    [[item]]\n" in told
    assert "in things.toml:2;" in told


def test_every_code_is_explained_in_all_its_ways() -> None:
    known = [code for listed in codes().values() for code in listed]
    assert len(known) == len(set(known)) == len({key.partition("/")[0] for key in MESSAGES})
    assert set(EXAMPLES) <= set(known)
    for code in set(known) - set(EXAMPLES):
        told = explained(code)
        ways = [key for key in MESSAGES if key.partition("/")[0] == code]
        assert sum(line.startswith("  - found ") for line in told) == len(ways)
        assert not re.search(r"[{}]\w*:", "".join(told))


def test_an_explanation_has_its_example_with_the_mark() -> None:
    told = explain("[radius-too-big]").stdout
    assert told.startswith("radius-too-big: an error, which stops the work until it is mended, told when ")
    assert re.search(r"\n    \d+ \| round = \d+\n +\| +\^+\n$", told)


def test_an_unknown_code_is_told_with_the_nearest() -> None:
    told = explain("radius-to-big")
    wanted = "error: no message has the code 'radius-to-big'; did you mean radius-too-big?\n"
    assert (told.exit_code, told.stderr) == (1, wanted)
    assert "radius-too-big" in explain().stdout
