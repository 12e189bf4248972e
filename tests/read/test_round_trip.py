"""Random good projects, written as TOML by a writer of the test's own, are read as they were meant."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.read.project import Edges, Project
from handkit.read.reader import read_project_text
from handkit.read.values.letters import letter_names

MM = {"mm": 1.0, "cm": 10.0, "in": 25.4}
OUNCE = 25.4 / 64  # 1/64 in (conversion charts of the trade)
NAMES = ["front", "back", "flap", "gusset left", "Tasche ä", "底", "piece 7", "it's", 'the "big" one', "a\\b"]
Table = dict[str, Any]


def toml(value: Any) -> str:
    """A value as TOML text."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
    if isinstance(value, list):
        return "[" + ", ".join(toml(each) for each in value) + "]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{toml(key)} = {toml(each)}" for key, each in value.items()) + " }"
    return repr(value)


def document(project: Table) -> str:
    """A project as TOML text: plain keys first, then tables and lists of tables."""
    lines = [f"{key} = {toml(value)}" for key, value in project.items() if not isinstance(value, dict | list)]
    for key, value in project.items():
        for table in value if isinstance(value, list) else [value] if isinstance(value, dict) else []:
            lines.append(f"[[{key}]]" if isinstance(value, list) else f"[{key}]")
            lines += [f"{inner} = {toml(each)}" for inner, each in table.items()]
    return "\n".join(lines) + "\n"


@st.composite
def lengths(
    draw: st.DrawFn, unit: str, least: float, most: float, *, thick: bool = False
) -> tuple[Any, float]:
    """A length as it may be written, and what it is in mm."""
    mm = draw(st.floats(least, most, allow_nan=False).map(lambda value: round(value, 3)))
    mm = min(max(mm, least), most)
    match draw(st.sampled_from(["number", "mm", "cm", "fraction", "ounce"])):
        case "number":
            number = round(mm / MM[unit], 6)
            if least <= number * MM[unit] <= most:
                return number, number * MM[unit]
        case "cm":
            return f"{mm / 10:.4f} cm", round(mm / 10, 4) * 10
        case "fraction":
            sixteenths = int(mm * 16 / 25.4)
            if least <= sixteenths * 25.4 / 16 <= most and sixteenths > 0:
                whole, over = divmod(sixteenths, 16)
                return f"{whole} {over}/16 in" if whole else f"{over}/16 in", sixteenths * 25.4 / 16
        case "ounce" if thick:
            ounces = round(mm / OUNCE, 1)
            if least <= ounces * OUNCE <= most:
                return f"{ounces} oz", ounces * OUNCE
    return f"{mm:.3f} mm", mm


@st.composite
def projects(draw: st.DrawFn) -> tuple[Table, Table]:
    """A good project as tables, and the lengths it means, in mm."""
    unit = draw(st.sampled_from(list(MM)))
    names = draw(st.lists(st.sampled_from(NAMES), min_size=2, max_size=6, unique=True))
    thickness = draw(lengths(unit, 0.1, 30, thick=True))
    pitch = draw(lengths(unit, 1, 20))
    meant: Table = {"thickness": thickness[1], "pitch": pitch[1], "corners": {}, "runs": []}
    pieces = []
    for index, name in enumerate(names):
        count = draw(st.integers(3, 7))
        # Corners on rays of a growing spiral are never twice in one place.
        written = [
            [draw(lengths(unit, 10 * (i + 1), 10 * i + 19)), draw(lengths(unit, 5, 400))]
            for i in range(count)
        ]
        piece: Table = {"name": name, "points": [[x[0], y[0]] for x, y in written]}
        meant["corners"][name] = [(x[1], y[1]) for x, y in written]
        if draw(st.booleans()):
            letters = draw(st.lists(st.sampled_from(letter_names(count)), unique=True, min_size=1))
            piece["round"] = dict.fromkeys(letters, 4) if unit == "mm" else "4 mm"
        if index and draw(st.booleans()):
            piece |= {"on": draw(st.sampled_from(names[:index])), "turn": draw(st.integers(-360, 360))}
        pieces.append(piece)
    seams = []
    for number in range(draw(st.integers(0, 3))):
        runs = []
        for name in names[:2]:
            letters = letter_names(len(meant["corners"][name]))
            start, length = draw(st.integers(0, 9)), draw(st.integers(2, len(letters) + 1))
            way = draw(st.sampled_from([1, -1]))
            runs.append((name, tuple(letters[(start + way * i) % len(letters)] for i in range(length))))
        seams.append({"name": f"seam {number}", "runs": [f"{name}: {'-'.join(run)}" for name, run in runs]})
        meant["runs"].append(runs)
    project: Table = {"format": 1, "unit": unit, "material": {"thickness": thickness[0]}}
    project |= {"stitching": {"pitch": pitch[0]}, "piece": pieces}
    return project | ({"seam": seams} if seams else {}), meant


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=75)
@given(projects())
def test_good_projects_are_read_as_they_were_meant(drawn: tuple[Table, Table]) -> None:
    written, meant = drawn
    project: Project = read_project_text(document(written), file="p.toml", folder=Path())
    assert project.findings == ()
    assert project.seams == () or project.seams[0].stitching.pitch == pytest.approx(meant["pitch"], abs=1e-8)
    for piece in project.pieces:
        assert piece.thickness == pytest.approx(meant["thickness"], abs=1e-8)
        found = [x for corner in piece.corners for x in corner.at]
        assert found == pytest.approx([x for at in meant["corners"][piece.name] for x in at], abs=1e-8)
    for seam, runs in zip(project.seams, meant["runs"], strict=True):
        assert [(layer.piece, layer.run) for layer in seam.layers] == [
            (name, Edges(run)) for name, run in runs
        ]
