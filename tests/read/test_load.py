"""The guarded load: what a file can do wrong before a single key of it is read."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from math import cos, pi, sin
from pathlib import Path

import pytest

from handkit.errors import FileError, ProjectError
from handkit.read.file.load import MOST_BYTES
from handkit.read.project import Project
from handkit.read.reader import read_project, read_project_text

GOOD = 'format = 1\n[[piece]]\nname = "tab"\nrectangle = [40, 20]\nthickness = 2\n'


@pytest.fixture
def read_bytes(tmp_path: Path) -> Callable[[bytes], Project]:
    """The project in a file of these bytes."""

    def reading(data: bytes) -> Project:
        path = tmp_path / "tab.toml"
        path.write_bytes(data)
        return read_project(path)

    return reading


def told_of(call: Callable[[], object], *, folder: Path = Path("nowhere")) -> str:
    with pytest.raises(ProjectError) as caught:
        call()
    return str(caught.value).replace(f"{folder}{os.sep}", "")


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(GOOD.encode(), id="as it is"),
        pytest.param(b"\xef\xbb\xbf" + GOOD.encode(), id="byte-order mark"),
        pytest.param(GOOD.replace("\n", "\r\n").encode(), id="CRLF"),
        pytest.param(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode(), id="both"),
        pytest.param(GOOD.rstrip("\n").encode(), id="no line end at the end"),
    ],
)
def test_files_as_editors_write_them_are_read(data: bytes, read_bytes: Callable[[bytes], Project]) -> None:
    project = read_bytes(data)
    assert (project.name, project.title) == ("tab", "tab")
    assert project.pieces[0].source.line == 2
    assert dict(project.pieces[0].source.keys)["thickness"].line == 5


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        (
            GOOD.encode() + b"# caf\xe9\n",
            "tab.toml:6: error: found byte 0xe9 at offset 74; allowed: UTF-8 text; "
            "save the file as UTF-8 in the editor [not-utf8]",
        ),
        (
            GOOD.encode("utf-16"),
            "tab.toml:1: error: found text saved as UTF-16; allowed: text saved as UTF-8; "
            'save it anew, with the encoding "UTF-8" in the editor [not-utf8]',
        ),
        (
            GOOD.encode() + b"note = \xc0\xaf\n",
            "tab.toml:6: error: found byte 0xc0 at offset 76; allowed: UTF-8 text; "
            "save the file as UTF-8 in the editor [not-utf8]",
        ),
        (
            GOOD.encode() + b"\0",
            "tab.toml:6: error: found what can't be read here (invalid statement); allowed: a key, "
            "= and its value: text in quotes, a list in [ ]; mend this line; nothing else was read "
            "[toml-syntax]",
        ),
        (
            b"",
            "tab.toml: error: found nothing in it, remarks apart; allowed: a project; "
            'begin with format = 1 and a [[piece]], or let "handkit new" write it [empty-file]',
        ),
        (
            b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n",
            "tab.toml: error: found a PDF; allowed: a project, which is a text file such as pouch.toml; "
            'name the project file it was made from; "handkit proof" looks at a kit [not-a-project]',
        ),
        (
            b" " * (MOST_BYTES + 1),
            "tab.toml: error: found more than 1048576 bytes; allowed: at most 1048576 bytes; "
            "check that this is the project file [file-too-big]",
        ),
    ],
)
def test_what_is_no_project_file_is_told(
    data: bytes, expected: str, read_bytes: Callable[[bytes], Project], tmp_path: Path
) -> None:
    assert told_of(lambda: read_bytes(data), folder=tmp_path) == expected


def test_half_a_character_from_a_caller_is_told() -> None:
    text = told_of(lambda: read_project_text(GOOD + "# \ud800", file="p.toml", folder=Path()))
    assert text.startswith("p.toml:6: error: found half a character, U+D800; ")


def test_a_gigabyte_costs_nothing(tmp_path: Path) -> None:
    path = tmp_path / "huge.toml"
    with path.open("wb") as stream:
        stream.truncate(1 << 30)  # a hole: it takes no room either
    begin = time.perf_counter()
    text = told_of(lambda: read_project(path), folder=tmp_path)
    assert text.startswith("huge.toml: error: found more than 1048576 bytes")
    assert time.perf_counter() - begin < 0.1


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("missing.toml", "missing.toml: there is no such file"),
        ("folder", "folder: is a folder; name the project file, such as pouch.toml"),
        ("pipe", "pipe: is no ordinary file; name the project file, such as pouch.toml"),
        ("file.toml/p.toml", "file.toml/p.toml: can't be read: Not a directory"),
        ("ring", "ring: can't be read: Too many levels of symbolic links"),
        ("n\0ll.toml", "n\0ll.toml: can't be read: embedded null byte"),
        ("x" * 300, "x" * 300 + ": can't be read: File name too long"),
    ],
)
def test_what_can_not_be_opened_is_told(name: str, expected: str, tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    (tmp_path / "file.toml").write_text(GOOD, "utf-8")
    (tmp_path / "ring").symlink_to(tmp_path / "ring")
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(FileError) as caught:
        read_project(tmp_path / name)
    assert str(caught.value).replace(f"{tmp_path}{os.sep}", "") == expected


def test_no_permission_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Refused by the system: whoever runs the tests may be allowed everything, so it is acted."""

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    path = tmp_path / "p.toml"
    path.write_text(GOOD, "utf-8")
    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(FileError, match=r"p\.toml: can't be read: Permission denied$"):
        read_project(path)


def padded(line: str) -> str:
    return f"format = 1\n{line}\n" + GOOD.removeprefix("format = 1\n")


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("a = " + "[" * 100_000 + "]" * 100_000, "[nested-too-deep]"),
        ("a = " + "[" * 100_000, "[nested-too-deep]"),
        ("a = " + "{a=" * 100_000 + "1" + "}" * 100_000, "[nested-too-deep]"),
        (".".join("a" * 200_000) + " = 1", "[key-too-long]"),
        ("[" + ".".join("a" * 200_000) + "]", "[key-too-long]"),
        ("a = " + "1" * 10_000, "[number-too-long]"),
        ("a = 0." + "1" * 10_000, "[number-too-long]"),
        ("a = 0x" + "f" * 10_000, "[number-too-long]"),
        ("a = 1e" + "9" * 10_000, "[number-too-long]"),
        ('a = """' + '\\"""\n' * 100_000, "[toml-syntax]"),
        ('"""' + '\n\\"""' * 100_000, "[toml-syntax]"),
        ("= a" + " " * 900_000 + "!", "[toml-syntax]"),
        ("a = b" + " b" * 400_000 + "!", "[toml-syntax]"),
        ("\n".join(f"k{i} = 1" for i in range(20_000)), "[too-many-faults]"),
        ('a = "' + "x" * 1_000_000 + '"', "[unknown-key]"),
        ("x" * 1_000_000 + " = 1", "[unknown-key]"),
    ],
    ids=lambda value: value[:12] if value[:1] != "[" else value,
)
def test_traps_are_told_and_cost_little(line: str, code: str) -> None:
    begin = time.process_time()
    text = told_of(lambda: read_project_text(padded(line), file="p.toml", folder=Path()))
    assert code in text
    assert len(text) < 40_000
    assert time.process_time() - begin < 5


def test_more_faults_than_anyone_reads_are_cut_off() -> None:
    lines = "".join(f"k{i} = 1\n" for i in range(500))
    text = told_of(lambda: read_project_text("format = 1\n" + lines, file="p.toml", folder=Path()))
    assert len(text.split("\n")) == 102
    assert text.split("\n")[0] == (
        "p.toml: error: found more than 100 faults; mend these first; the rest of the file was not read "
        "[too-many-faults]"
    )


OPENINGS_200 = (
    'kind = "tongue"\nhole = 3\nthrough = ["tab"]\nat = [[1, 1], [1, 9], [9, 1], [9, 9]]\nrow = [50, 0, 9]'
)


def test_notes_are_no_faults_however_many() -> None:
    text = many("opening", 150, lambda i: f'kind = "rivet"\nhole = 3\nthrough = ["tab"]\nat = [[9, {i}]]')
    project = read_project_text(text, file="p.toml", folder=Path())
    assert [finding.code for finding in project.findings] == ["cap-missing"] * 150


def many(table: str, count: int, body: Callable[[int], str]) -> str:
    return GOOD + "".join(f"[[{table}]]\nname = '{table} {i}'\n{body(i)}\n" for i in range(count))


ROUND_1800 = (
    f"points = {[[round(50 * cos(k / 900 * pi), 3), round(50 * sin(k / 900 * pi), 3)] for k in range(1800)]}"
)


def _on(k: int) -> str:
    return f"on = 'piece {k - 1}'" if k else ""


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            many("piece", 200, lambda _: "circle = 40\nthickness = 2"),
            "p.toml:2: error: piece: found 201 of [[piece]]; allowed: at most 200; "
            "split the project [too-many]",
        ),
        (
            many("seam", 301, lambda _: 'runs = ["tab: A-B"]'),
            "p.toml:6: error: seam: found 301 of [[seam]]; allowed: at most 300; "
            "split the project [too-many]",
        ),
        (
            many("opening", 11, lambda _: OPENINGS_200),
            'p.toml:81: error: opening "opening 10": at: found 2200 openings up to here, on all pieces they '
            "go through; allowed: at most 2000; split the project [too-many]",
        ),
        (
            many("piece", 3, lambda k: f"thickness = 2\n{ROUND_1800}"),
            'p.toml:17: error: piece "piece 2": points: found 5404 corners up to here, of all outlines; '
            "allowed: at most 4000; take corners out that lie on a straight or an arc, or split the project "
            "[too-many]",
        ),
        (
            many("piece", 61, lambda k: f"circle = 40\nthickness = 1\n{_on(k)}"),
            'p.toml:310: error: piece "piece 60": on: found 61 pieces on one another; allowed: at most 60; '
            "split the project, or leave some out [too-many]",
        ),
        (
            GOOD + "points = [" + "[0, 0]," * 2001 + "]",
            'p.toml:6: error: piece "tab": points: found rectangle and points; allowed: exactly one of '
            "rectangle, points, circle and copy; take the others out [outline-several]",
        ),
        (
            'format = 1\n[[piece]]\nname = "tab"\nthickness = 2\npoints = [' + "[0, 0]," * 2001 + "]",
            'p.toml:5: error: piece "tab": points: found a list of 2001; allowed: a list of 3 to 2000 points '
            "[x, y], one for each corner in order; leave some out [too-many]",
        ),
        (
            GOOD + "lines = {" + ", ".join(f"l{i} = [[0, 0], [1, 1]]" for i in range(101)) + "}",
            'p.toml:6: error: piece "tab": lines: found a table of 101; allowed: at most 100; '
            "leave some out [too-many]",
        ),
    ],
)
def test_more_than_a_project_holds_is_told(text: str, expected: str) -> None:
    assert told_of(lambda: read_project_text(text, file="p.toml", folder=Path())) == expected


def test_a_font_is_found_beside_the_project_and_nowhere_else(tmp_path: Path) -> None:
    inside, outside = tmp_path / "project", tmp_path / "elsewhere"
    inside.mkdir()
    outside.mkdir()
    for font in (inside / "Orchard.TTF", outside / "other.ttf"):
        font.write_bytes(b"")
    (inside / "link.ttf").symlink_to(outside / "other.ttf")
    (inside / "ring.ttf").symlink_to(inside / "ring.ttf")
    (inside / "folder.ttf").mkdir()

    def reading(font: str) -> str | None:
        text = GOOD + f'[page]\nfont = "{font}"\n'
        return read_project_text(text, file="p.toml", folder=inside).page.font

    assert reading("Orchard.TTF") == str(inside / "Orchard.TTF")
    assert reading("../project/Orchard.TTF") == str(inside / "../project/Orchard.TTF")
    for name in ("link.ttf", "../elsewhere/other.ttf", str(outside / "other.ttf")):
        assert told_of(lambda name=name: reading(name)).endswith("[font-outside]"), name
    for name in ("ring.ttf", "folder.ttf", "missing.ttf", "x" * 150 + "/y.ttf"):
        assert told_of(lambda name=name: reading(name)).endswith("[font-missing]"), name


def test_a_font_beside_a_linked_folder_is_inside(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "real" / "f.ttf").write_bytes(b"")
    (tmp_path / "link").symlink_to(tmp_path / "real")
    text = GOOD + '[page]\nfont = "f.ttf"\n'
    project = read_project_text(text, file="p.toml", folder=tmp_path / "link")
    assert project.page.font == str(tmp_path / "link" / "f.ttf")
