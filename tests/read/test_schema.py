"""The schema for editors, the examples and the reader agree: they are written from one table.

What the schema refuses is told by a general-purpose checker of JSON Schema (draft 7), fastjsonschema, which
shares nothing with the reader.
"""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from random import Random

import fastjsonschema
import pytest
from click.testing import CliRunner, Result

from handkit.cli import main
from handkit.errors import ProjectError
from handkit.read.entries.entry import READERS
from handkit.read.file.project_file import Location, ProjectFile
from handkit.read.reader import read_project_text
from handkit.read.schema.examples import example
from handkit.read.schema.json_schema import json_schema
from handkit.read.schema.keys import STITCHING_KEYS, TABLES
from handkit.read.schema.reference import reference_text
from handkit.read.schema.rules import Kind
from handkit.read.values.field import Field

TOP = Path(__file__).parents[2]
FILES = sorted([*TOP.glob("samples/*/*.toml"), *TOP.glob("tests/projects/*/*.toml")])
PROJECTS = [path for path in FILES if path.name != "expected.toml"]
ACCEPTS = fastjsonschema.compile(json.loads(json_schema()))

# Values that a hasty hand puts in the place of another.
OTHERS = [
    "true", "0", "5", "-3", "1.5", "1e9", '"x"', '"5 mm"', '"back"', "[]", "[1, 2]", '["a", "b"]',
    "[1, 2, 3]", "{}", "{ A = 1 }", '{ "A-B" = true }', "[[0, 0], [9, 0], [9, 9]]", "[[0, 0], [9]]",
    "{ round = 1 }", "{ run = 1 }", "2026-01-01", "nan", '["arranged"]', '"arranged"',
]  # fmt: skip


def refuses(text: str) -> str:
    """Why the schema refuses a project, "" where it takes it. JSON has no dates: they are words there."""
    try:
        ACCEPTS(json.loads(json.dumps(tomllib.loads(text), default=lambda _: {"a date": 1})))
    except fastjsonschema.JsonSchemaValueException as why:
        return str(why)
    return ""


def is_read(text: str, folder: Path) -> bool:
    try:
        read_project_text(text, file="p.toml", folder=folder)
    except ProjectError:
        return False
    return True


@pytest.mark.parametrize("path", PROJECTS, ids=lambda path: path.parent.name)
def test_a_project_that_is_read_is_one_by_the_schema(path: Path) -> None:
    assert refuses(path.read_text("utf-8")) == ""


def mutilated(random: Random) -> tuple[str, Path]:
    """A project with a value, a key or a table of another kind, by one line."""
    path = random.choice(PROJECTS)
    lines = path.read_text("utf-8").splitlines()
    written = [number for number, line in enumerate(lines) if line and line[0].isalpha() and " = " in line]
    number = random.choice(written)
    key, _, _ = lines[number].partition(" = ")
    if random.random() < 0.1:
        lines[number] = f"{key}x = 1"
    elif random.random() < 0.1:
        lines[number] = ""
    else:
        lines[number] = f"{key} = {random.choice(OTHERS)}"
    return "\n".join(lines), path.parent


def disagreements(seeds: range) -> tuple[int, int, list[str]]:
    """Of so many files how many the schema refuses, and takes; those that it alone refuses."""
    refused = taken = 0
    alone = []
    for seed in seeds:
        text, folder = mutilated(Random(seed))
        try:
            tomllib.loads(text)
        except tomllib.TOMLDecodeError:
            continue
        why = refuses(text)
        taken += not why
        refused += bool(why)
        if why and is_read(text, folder):
            alone.append(f"{seed}: {why}")
    return refused, taken, alone


def test_what_the_schema_refuses_the_reader_refuses() -> None:
    refused, taken, alone = disagreements(range(60))
    assert alone == []
    assert refused > 20
    assert taken > 10


@pytest.mark.long
def test_what_the_schema_refuses_the_reader_refuses_at_length() -> None:
    assert disagreements(range(1000, 1250))[2] == []


KEYS = [(schema.name, key) for schema in TABLES.values() for key in schema.keys.values()]
# What these name lies in a file beside the project.
BESIDE = (Kind.FONT, Kind.THINGS, Kind.SHAPE)


def test_every_example_is_one_that_its_key_takes() -> None:
    for schema, key in KEYS:
        if key.kind in (Kind.TABLE, Kind.TABLES, *BESIDE):
            continue
        value = tomllib.loads(example(key))[key.name]
        file = ProjectFile("p.toml", Path(), "mm", {})
        READERS[key.kind](Field(value, key, Location(file, (key.name,), f"{schema}: {key.name}")))
        assert [str(found) for found in file.findings] == []


def keys(*words: str) -> Result:
    return CliRunner().invoke(main, ["keys", *words])


def test_keys_are_looked_for_by_a_word() -> None:
    assert keys("ROUND").stdout.startswith("[[piece]] round = { A = 12, B = 12 }\n    radius of rounded ")
    assert "[[part]] closed_by = " in keys("roll").stdout
    assert max(len(line) for line in reference_text("", 60).splitlines() if line.startswith("  ")) <= 60
    assert keys().stdout.count("\n\n") + 1 == len(KEYS) - len(STITCHING_KEYS)  # which stand once


def test_a_word_that_no_key_is_about_is_told() -> None:
    told = keys("ruond")
    assert (told.exit_code, told.stderr) == (1, "error: no key is about 'ruond'; did you mean round?\n")
    assert keys("round", "--format", "markdown").exit_code == 2


def test_other_forms_have_every_key() -> None:
    assert json.loads(keys("--format", "json-schema").stdout) == json.loads(json_schema())
    assert keys("--format", "markdown").stdout.count("\n## ") == len(TABLES)


def test_a_word_that_is_a_key_and_a_kind_of_part_tells_the_keys_of_both() -> None:
    told = reference_text("flap")
    assert "[[part]] flap = " in told and "[[part]] closed_by = " in told and "[[part]] below = " in told
    assert "handle_strap" not in told
