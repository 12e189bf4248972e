"""One whole road: a photo, rendered, to things, to a project, to a kit, to its proof."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pypdf
import pytest
from click.testing import CliRunner
from pypdf.generic import ContentStream
from rendering import Body, Scene, photographed
from scenes import placed
from shapely import Point, Polygon, box

from handkit.cli import main
from handkit.photo.mat import mat_of

# On A4, seen by a camera that leans by 2°: a bone folder of 118 × 22 mm and 2.5 mm, a tin of 44 and 12 mm.
FOLDER = box(-48, -11, 48, 11).union(Point(48, 0).buffer(11)).union(Point(-48, 0).buffer(11))
BODIES = (
    Body("bone folder", placed(FOLDER, 95, 210, 35), 2.5, (0.80, 0.76, 0.66)),
    Body("wax tin", placed(Point(0, 0).buffer(22), 115, 120, 0), 12.0, (0.55, 0.30, 0.05)),
)
SCENE = Scene(mat_of(210, 297), BODIES, "blue", (1000, 1333), height=430.0, tilt=2.0, sun=0.2, soft=6.0)

PROJECT = """format = 1
title = "Binder's pocket"
items = "things.toml"
[material]
thickness = 2
[[piece]]
name = "back"
rectangle = "arranged"
round = 8
[[part]]
name = "folder pocket"
kind = "flat pocket"
on = "back"
[[part]]
name = "tin pocket"
kind = "bowed pocket"
shows = 10
on = "back"
[[item]]
name = "bone folder"
in = "folder pocket"
[[item]]
name = "wax tin"
in = "tin pocket"
"""


@pytest.mark.long
def test_a_photo_becomes_a_kit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Agreement with a simulation: what the kit's templates show of each thing has its true size within what
    was stated of it."""
    monkeypatch.chdir(tmp_path)
    Path("bench.jpg").write_bytes(photographed(SCENE))
    Path("project.toml").write_text(PROJECT)
    numbers = {"bone folder": "2.5", "wax tin": "12"}
    told = ("--thickness", ",".join(numbers.values()), "--names", ",".join(numbers))
    for words in (
        ("trace", "bench.jpg", "--bars", "160,240", "--count", "2", *told),
        ("proof", "things.pdf"),
        ("make", "project.toml"),
        ("proof", "project-kit.pdf", "project.toml"),
    ):
        run = CliRunner().invoke(main, list(words))
        assert run.exit_code == 0, run.output
    seen = {round(max(sides(ring))): ring for ring in rings_tagged(Path("project-kit.pdf"), "/hkItem")}
    for body, within in zip(BODIES, (1.0, 1.0), strict=True):
        length, width = sorted(sides(body.outline), reverse=True)
        near = min(seen, key=lambda size, length=length: abs(size - length))
        assert sorted(sides(seen[near]), reverse=True) == pytest.approx((length, width), abs=within)


def sides(ring: Polygon) -> list[float]:
    """Of the smallest rectangle round it."""
    corners = list(ring.minimum_rotated_rectangle.exterior.coords)
    return [Point(corners[k]).distance(Point(corners[k + 1])) for k in (0, 1)]


def rings_tagged(pdf: Path, tag: str) -> Iterator[Polygon]:
    """The closed lines under a tag, by a reader of PDF of another hand; a kit's operands are mm."""
    reader = pypdf.PdfReader(pdf)
    for page in reader.pages:
        points: list[tuple[float, float]] = []
        inside = False
        for operands, operator in ContentStream(page.get_contents(), reader).operations:
            if operator == b"BDC":
                inside = operands[0] == tag
            elif operator in (b"m", b"l", b"c") and inside:
                points.append((float(operands[-2]), float(operands[-1])))
            elif operator == b"EMC" and inside and len(points) > 2:
                yield Polygon(points)
                points, inside = [], False
