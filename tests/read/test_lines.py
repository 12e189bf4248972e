"""The key-to-line scanner, held against tomllib: every key path it finds, on the line where it is written.

Documents are written at random by a writer that notes the line of every key as it writes it:
tables, lists of tables in one another, dotted and quoted keys, inline tables, lists over several
lines with comments, and texts over several lines that look like keys, tables and comments.
"""

from __future__ import annotations

import random
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.read.file.lines import KEY, KeyPath, key_places
from handkit.read.file.tokens import tokens


def key_lines(text: str) -> dict[KeyPath, int]:
    places = key_places([*tokens(text)])
    return {path: place.line for path, place in places.items() if path[-1] != KEY}


SETTINGS = settings(derandomize=True, deadline=None, max_examples=300)


def paths(value: object, at: KeyPath = ()) -> Iterator[KeyPath]:
    """Every key path and list place of what tomllib made of a text."""
    inner: list[tuple[str | int, object]] = []
    if isinstance(value, dict):
        inner = list(value.items())
    elif isinstance(value, list):
        inner = list(enumerate(value))
    for part, each in inner:
        yield (*at, part)
        yield from paths(each, (*at, part))


# Keys as written, and what they are.
KEYS = [
    ("plain", "plain"),
    ("with-dash_9", "with-dash_9"),
    ("1234", "1234"),
    ('"quoted"', "quoted"),
    ('"a.b"', "a.b"),
    ('"[table]"', "[table]"),
    ('"# no comment"', "# no comment"),
    ('"say \\"x\\" = 1"', 'say "x" = 1'),
    ('"\\u00e9"', "é"),
    ('"tab\\there"', "tab\there"),
    ('""', ""),
    ("'literal \\ \"'", 'literal \\ "'),
    ("'é = {'", "é = {"),
]

SCALARS = [
    "1", "-0.5", "+1e5", "inf", "0xff", "1_000", "true", "1979-05-27 07:32:00.5", "1979-05-27T07:32:00Z",
    "07:32:00", '"x"', '"# no = [comment]"', "'it {'", '"a \\" ] b"', "''", '""', '""""""', "''''''",
    '"""one line"""', '"""\n[fake]\nkey = 1 # no\n"""', "'''\n[[fake]]\n\"\"\"\n'''", '"""a\\\n   b"""',
    '"""two quotes: "" and more"""', '"""ends in one quote""""',
    '"""ends in quotes"""""', "'''ends in 'quotes'''''", '"""\\""""',
]  # fmt: skip

COMMENTS = ["", " # one", '# "quote', "  # ''' [x] = {", "\t#é"]


@dataclass
class Writer:
    """A document being written, with the line of everything in it."""

    chance_of: random.Random
    text: str = ""
    lines: dict[KeyPath, int] = field(default_factory=dict)
    count: int = 0

    def pick(self, options: list[str]) -> str:
        return self.chance_of.choice(options)

    def chance(self) -> bool:
        return self.chance_of.random() < 0.5

    def number(self, most: int) -> int:
        return self.chance_of.randint(0, most)

    def here(self) -> int:
        return self.text.count("\n") + 1

    def end_line(self) -> None:
        self.text += self.pick(COMMENTS) + "\n" + "\n" * self.number(2)

    def key(self) -> tuple[str, str]:
        """A key that no table has yet: its text and what it is."""
        self.count += 1
        written, is_ = self.chance_of.choice(KEYS)
        if written[0] in "'\"":
            return f"{written[:-1]}{self.count}{written[-1]}", f"{is_}{self.count}"
        return f"{written}{self.count}", f"{is_}{self.count}"

    def dotted(self, table: KeyPath) -> KeyPath:
        """Write a key of one to three parts, and note them."""
        parts = [self.key() for _ in range(1 + self.number(2))]
        self.text += self.pick([".", " . "]).join(text for text, _ in parts)
        path = table
        for _, part in parts:
            path = (*path, part)
            self.lines.setdefault(path, self.here())
        return path

    def key_and_value(self, table: KeyPath, depth: int) -> None:
        path = self.dotted(table)
        self.text += self.pick(["=", " = ", "\t= "])
        self.value(path, depth)

    def value(self, path: KeyPath, depth: int) -> None:
        kind = self.number(3) if depth else 0
        if kind == 2:
            self.a_list(path, depth - 1)
        elif kind == 3:
            self.inline_table(path, depth - 1)
        else:
            self.text += self.pick(SCALARS)

    def a_list(self, path: KeyPath, depth: int) -> None:
        self.text += "["
        entries = self.number(3)
        for index in range(entries):
            self.gap()
            self.lines[*path, index] = self.here()
            self.value((*path, index), depth)
            self.gap()
            if index < entries - 1 or self.chance():
                self.text += ","
        self.gap()
        self.text += "]"

    def gap(self) -> None:
        """Between the entries of a list a line may end, with or without a comment."""
        for _ in range(self.number(2)):
            self.text += self.pick([" ", "\n", " # , ] }\n"])

    def inline_table(self, path: KeyPath, depth: int) -> None:
        self.text += "{ "
        for index in range(self.number(3)):
            self.text += ", " if index else ""
            self.key_and_value(path, depth)
        self.text += " }"

    def body(self, table: KeyPath) -> None:
        self.end_line()
        for _ in range(self.number(3)):
            self.text += self.pick(["", "  "])
            self.key_and_value(table, 3)
            self.end_line()

    def table(self, around: KeyPath, written: str) -> None:
        """A [table], perhaps two deep; `written` is the header's text of what it stands in."""
        text, is_ = self.key()
        path, line = (*around, is_), self.here()
        self.lines.setdefault(path, line)
        header = f"{written}{text}"
        if self.chance():
            more, inner = self.key()
            path, header = (*path, inner), f"{header}.{more}"
            self.lines[path] = line
        self.text += f"[{self.pick(['', ' '])}{header}{self.pick(['', ' '])}]"
        self.body(path)

    def tables(self, around: KeyPath, written: str, depth: int) -> None:
        """A [[list of tables]], each with tables and lists of tables inside."""
        text, is_ = self.key()
        for index in range(1 + self.number(2)):
            self.lines.setdefault((*around, is_), self.here())
            self.lines[*around, is_, index] = self.here()
            self.text += f"[[{written}{text}]]"
            self.body((*around, is_, index))
            for _ in range(self.number(2) if depth else 0):
                inner = f"{written}{text}."
                if self.chance():
                    self.table((*around, is_, index), inner)
                else:
                    self.tables((*around, is_, index), inner, depth - 1)


@SETTINGS
@given(seed=st.integers(0, 2**32))
def test_every_key_path_has_the_line_where_it_is_written(seed: int) -> None:
    writer = Writer(random.Random(seed))
    writer.body(())
    for _ in range(writer.number(4)):
        if writer.chance():
            writer.table((), "")
        else:
            writer.tables((), "", 2)
    found = tomllib.loads(writer.text)
    assert set(paths(found)) == set(writer.lines)
    assert key_lines(writer.text) == writer.lines


@SETTINGS
@given(st.text(alphabet="ab1.=\"'[]{},# \n\\\t", max_size=40))
def test_any_text_that_is_toml_has_its_paths(text: str) -> None:
    """Short heaps of TOML's own characters: whatever tomllib accepts has a line for each path."""
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        key_lines(text)  # of a faulty text it says something, or nothing, and ends
        return
    lines = key_lines(text)
    assert set(lines) == set(paths(found))
    assert all(1 <= line <= text.count("\n") + 1 for line in lines.values())


TABLE = [
    ("a = 1", {("a",): 1}),
    ("\n\na.b = 1\na.c = 2", {("a",): 3, ("a", "b"): 3, ("a", "c"): 4}),
    ("[a.b]\nc = 1\n[a]", {("a",): 1, ("a", "b"): 1, ("a", "b", "c"): 2}),
    ("[[a]]\n[[a]]\nb = 1", {("a",): 1, ("a", 0): 1, ("a", 1): 2, ("a", 1, "b"): 3}),
    (
        "[[a]]\n[[a.b]]\n[[a]]\n[[a.b]]",
        {("a",): 1, ("a", 0): 1, ("a", 0, "b"): 2, ("a", 0, "b", 0): 2}
        | {("a", 1): 3, ("a", 1, "b"): 4, ("a", 1, "b", 0): 4},
    ),
    ('a = """\nb = 1\n"""\nc = 1', {("a",): 1, ("c",): 4}),
    ("a = [\n1, # [\n\n2]", {("a",): 1, ("a", 0): 2, ("a", 1): 4}),
    ("a = { b = [\n1] }", {("a",): 1, ("a", "b"): 1, ("a", "b", 0): 2}),
    ("a = 1.5\nb = 07:32:00.5", {("a",): 1, ("b",): 2}),
    ("# only\n", {}),
]


@pytest.mark.parametrize(("text", "lines"), TABLE)
def test_lines(text: str, lines: dict[KeyPath, int]) -> None:
    assert key_lines(text) == lines
    assert set(paths(tomllib.loads(text))) == set(lines)


SPOTS = [
    # the path, and what its place marks
    ("a = 1.5 # so", ("a",), "1.5"),
    ('  name  =  "a b"  ', ("name",), '"a b"'),
    ("[[piece]]\n  [ page ] # x", ("page",), "[ page ]"),
    ("[[ piece ]]", ("piece", 0), "[[ piece ]]"),
    ("a = [[1, 2], [30, 4]]", ("a", 1), "[30, 4]"),
    ("a = [[1, 2], [30, 4]]", ("a", 1, 0), "30"),
    ("a = { b = 3, c = [4] }", ("a", "c"), "[4]"),
    ("a.b = true", ("a",), "a.b"),
    ("a = [ # so\n1,\n2]", ("a",), "["),
    ('a = """one\ntwo""" # x', ("a",), '"""one'),
    ('a = """\n\n"""\nb = \'x\'', ("b",), "'x'"),
    ('"é" = "é"', ("é",), '"é"'),
]


@pytest.mark.parametrize(("text", "path", "marked"), SPOTS)
def test_places_mark_the_value(text: str, path: KeyPath, marked: str) -> None:
    place = key_places([*tokens(text)])[path]
    line = text.split("\n")[place.line - 1]
    assert line[place.column - 1 :][: place.width] == marked


def test_a_key_has_a_place_of_its_own() -> None:
    """Of a value with keys in it each has one, of the entry of a list none."""
    places = key_places([*tokens('a = { bb = [7], "c c" = 8 }')])
    shown = {path: (place.column, place.width) for path, place in places.items() if path[-1] == KEY}
    assert shown == {("a", KEY): (1, 1), ("a", "bb", KEY): (7, 2), ("a", "c c", KEY): (17, 5)}
