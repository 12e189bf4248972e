"""Whatever the bytes: a project, or one of the two errors that the reading may raise, and no other."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.errors import FileError, ProjectError
from handkit.read.project import Project
from handkit.read.reader import read_project

HERE = Path(__file__).parent
SEEDS = [(HERE / name).read_bytes() for name in ("every_key.toml", "every_part_key.toml", "sketch.toml")]
SETTINGS = settings(derandomize=True, deadline=None, max_examples=250)

# What is put in where a mutation hits: bits of syntax, values of every type, and raw bytes.
BITS = [
    b"", b"\n", b"[", b"]", b"[[", b"]]", b"{", b"}", b"=", b".", b",", b'"', b"'", b'"""', b"#", b"-",
    b"true", b"nan", b"inf", b"-inf", b"1e999", b"0", b"-1", b"0.0", b"99999999999999999999", b"1979-05-27",
    b'""', b"[]", b"{}", b"[[]]", b"[0]", b"[0, 0]", b'["A"]', b'"front"', b'"front: A-B"', b'"2,5 mm"',
    b'"back: A-Z"', b'"9 oz"', b"{ A = 1 }", b'{ "A-B" = 1 }', b"name", b"copy", b"on", b"\xff", b"\x00",
    b"\xef\xbb\xbf", b"\r\n", "é".encode(), b"[piece]", b"[[piece]]\n", b"[[seam]]\n", b"[seam.x]\n",
]  # fmt: skip


@st.composite
def mutated(draw: st.DrawFn) -> bytes:
    """A good project with one to four stretches of it replaced."""
    data = draw(st.sampled_from(SEEDS))
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(data)))
        length = draw(st.sampled_from([0, 0, 1, 1, 2, 5, 20, 100]))
        bit = draw(st.sampled_from(BITS) | st.binary(max_size=4))
        data = data[:start] + bit + data[start + length :]
    return data


@st.composite
def with_values_swapped(draw: st.DrawFn) -> bytes:
    """A good project in which values are replaced by others, so that it is TOML still."""
    lines = draw(st.sampled_from(SEEDS)).split(b"\n")
    for _ in range(draw(st.integers(1, 6))):
        index = draw(st.sampled_from([i for i, line in enumerate(lines) if b" = " in line]))
        key = lines[index].split(b" = ")[0]
        other = draw(st.sampled_from([line for line in lines if b" = " in line]))
        value = draw(st.sampled_from([*BITS, other.split(b" = ", 1)[1]]))
        lines[index] = key + b" = " + value
    return b"\n".join(lines)


def read_all(data: bytes, path: Path) -> Project | ProjectError | FileError:
    path.write_bytes(data)
    try:
        return read_project(path)
    except (ProjectError, FileError) as error:
        return error


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("fuzz")
    (folder / "fonts").mkdir()
    (folder / "fonts" / "orchard.ttf").write_bytes(b"")
    return folder / "p.toml"


def test_the_seeds_are_read(path: Path) -> None:
    assert all(isinstance(read_all(seed, path), Project) for seed in SEEDS)


@pytest.mark.long
@SETTINGS
@given(data=mutated() | with_values_swapped())
def test_mutated_projects_are_read_or_told(path: Path, data: bytes) -> None:
    found = read_all(data, path)
    if isinstance(found, ProjectError):
        assert found.findings
        for line in str(found).split("\n"):
            assert line.startswith(str(path)), line
            assert line.isprintable(), line


@SETTINGS
@given(data=st.binary(max_size=60))
def test_any_bytes_are_told(path: Path, data: bytes) -> None:
    found = read_all(data, path)
    assert isinstance(found, ProjectError)
    assert found.findings
