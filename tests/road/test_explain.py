"""Codes explained: each example shows what it is about, and every code that is told can be asked for."""

from __future__ import annotations

import re

import pytest
from click.testing import CliRunner, Result

from handkit.cli import main
from handkit.commands.common.explained import codes, examples, explained, told_of
from handkit.messages.table import MESSAGES

EXAMPLES = examples()


def explain(*words: str) -> Result:
    return CliRunner().invoke(main, ["explain", *words])


@pytest.mark.long
@pytest.mark.parametrize("code", EXAMPLES)
def test_of_an_example_its_code_is_told_and_nothing_else(code: str) -> None:
    assert [finding.code for finding in told_of(EXAMPLES[code])] == [code]


@pytest.mark.parametrize("code", sorted(EXAMPLES)[::25])
def test_of_some_examples_their_code_is_told(code: str) -> None:
    assert [finding.code for finding in told_of(EXAMPLES[code])] == [code]


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
