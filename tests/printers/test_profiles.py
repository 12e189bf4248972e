"""The file of printers: what is written is read as the same, and what handkit did not write is told."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.errors import PrinterError
from handkit.printers.correction import Correction, Printer
from handkit.printers.profiles import profiles_of, profiles_text

SHARES = st.floats(0.985, 1.015)
EDGES = st.none() | st.tuples(*[st.floats(0, 50)] * 4)
NAMES = st.text("abzÉß09_.-", min_size=1, max_size=12) | st.just("two words")
PRINTERS = st.lists(st.tuples(NAMES, SHARES, SHARES, st.floats(-0.85, 0.85), EDGES), max_size=4)


@settings(max_examples=30, deadline=None)
@given(PRINTERS)
def test_what_is_written_is_read_as_the_same(listed: list[Any]) -> None:
    named = {name: Printer(Correction(name, *rest), edges) for name, *rest, edges in listed}
    read = profiles_of(profiles_text(list(named.values())), file="p.toml")
    assert read == tuple(named[name] for name in sorted(named))


GOOD = 'format = 1\n[[printer]]\nname = "a"\nacross = 0.99\ndown = 1\nskew = 0.1\nedges = [4, 4, 4, 4]\n'


@pytest.mark.parametrize(
    ("wrong", "right", "reason"),
    [
        ("format = 1", "format = ", "Invalid value (at line 1, column 10)"),
        ("format = 1", "format = 2", "format 2"),
        ("format = 1\n", "", "Object missing required field `format`"),
        ("across", "acros", "Object contains unknown field `acros` - at `$.printer[0]`"),
        ("0.99", '"0.99"', "Expected `float`, got `str` - at `$.printer[0].across`"),
        ("0.99", "0.95", "across = 0.95 of printer 1"),
        ("0.99", "nan", "across = nan of printer 1"),
        ("skew = 0.1", "skew = 2", "skew = 2.0 of printer 1"),
        ("edges = [4,", "edges = [-4,", "an edge of -4.0 of printer 1"),
        ("[4, 4, 4, 4]", "[4, 4, 4]", "Expected `array` of length 4, got 3 - at `$.printer[0].edges`"),
        ('"a"', '"a/b"', "the name of printer 1"),
        ("format", "a = " + "[" * 5000 + "\nformat", "tables in tables without end"),
    ],
)
def test_a_damaged_file_is_told_in_one_line(wrong: str, right: str, reason: str) -> None:
    assert len(profiles_of(GOOD, file="p.toml")) == 1
    with pytest.raises(PrinterError) as refused:
        profiles_of(GOOD.replace(wrong, right), file="p.toml")
    assert str(refused.value) == (
        f"p.toml: error: found no list of printers as handkit writes it: {reason}; mend it, or move it "
        "elsewhere and measure the printers again; it is left as it stands [printers-damaged]"
    )


def test_no_name_stands_twice() -> None:
    with pytest.raises(PrinterError, match='the name "a" twice'):
        profiles_of(GOOD + GOOD.removeprefix("format = 1\n"), file="p.toml")
