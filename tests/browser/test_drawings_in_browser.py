"""Outlines taken from drawings, beside what a browser's own SVG says of the same shapes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import shapely
from browsing import Bench

from handkit.read.svg.svg_shapes import OFF, outline_in

pytestmark = pytest.mark.long

MM_PER_PX = 25.4 / 96  # CSS

# Every command, absolute and relative, run together as programs write them; every element; transforms.
SHAPES = {
    "lines": '<path d="M10 10h80v20H60V50l-20,5L10.5.5e2z"/>',
    "cubics": '<path d="m10,80c20-60 40-60 60 0s-20 60-40 20S10 120 10,80Z"/>',
    "quads": '<path d="M10 80Q50-20 90 80T100 120t-60-10Q20 100 10 80z"/>',
    "arcs": '<path d="M20 20a30 20 30 1 1 40 40A 60,60 0 01 90 20 10 5 0 00 20 20z"/>',
    "grown": '<path d="M10 10A5 3 20 0 1 80 40L10 40Z"/>',
    "flags": '<path d="M10 10a25 25 0 1150 0a25 25 0 01-50 0z"/>',
    "rect": '<rect x="10" y="20" width="60" height="40" rx="8"/>',
    "oval": '<rect x="10" y="20" width="60" height="40" rx="50" ry="12"/>',
    "sharp": '<rect x="10" y="20" width="60" height="40"/>',
    "circle": '<circle cx="50" cy="40" r="33.3"/>',
    "ellipse": '<ellipse cx="50" cy="40" rx="40" ry="12.5"/>',
    "polygon": '<polygon points="10,10 80,20 60,70 20 60"/>',
    "shut": '<polyline points="10,10 80,20 60,70 20 60 10 10"/>',
}
TURNS = [
    "",
    'transform="translate(5,-3) rotate(30 40 40) scale(1.5 -.7)"',
    'transform="matrix(.8 .2 -.3 1.1 4 5),skewX(20) skewY(-10)"',
]
PAGES = [
    'width="210mm" height="297mm" viewBox="0 0 210 297"',
    'width="8in" height="400pt" viewBox="-20 -10 300 200"',
    'width="600" height="20cm"',
    'width="30pc" height="640px" viewBox="0 0 100 300" preserveAspectRatio="none"',
    'width="300px" height="200px" viewBox="0 0 100 300" preserveAspectRatio="xMidYMin slice"',
]

SAMPLED = """
const shape = document.getElementById("s"), map = shape.getScreenCTM(), length = shape.getTotalLength();
const found = [];
for (let k = 0; k < 800; k++) {
  const at = shape.getPointAtLength(length * k / 800).matrixTransform(map);
  found.push([at.x, at.y]);
}
return found;
"""


def sampled(bench: Bench, path: Path) -> Any:
    bench.driver.get(path.as_uri())
    return [(x * MM_PER_PX, -y * MM_PER_PX) for x, y in bench.driver.execute_script(SAMPLED)]


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("turn", TURNS)
def test_outlines_are_where_a_browser_draws_them(page: str, turn: str, bench: Bench, tmp_path: Path) -> None:
    for name, shape in SHAPES.items():
        path = tmp_path / f"{name}.svg"
        whole = shape.replace(" ", ' id="s" ', 1)
        path.write_text(
            f'<svg xmlns="http://www.w3.org/2000/svg" {page}>'
            f'<g {turn}><g transform="translate(3)">{whole}</g></g></svg>',
            "utf-8",
        )
        theirs, ours = sampled(bench, path), outline_in(path, "s", file="s.svg")
        dx, dy = theirs[0][0] - ours[0][0], theirs[0][1] - ours[0][1]  # where the page lies in the window
        ring = shapely.LinearRing([(x + dx, y + dy) for x, y in ours])
        drawn = shapely.LinearRing(theirs)
        worst = max(ring.distance(shapely.Point(at)) for at in theirs)
        assert worst <= OFF + 0.01, (name, worst)  # the browser's own numbers have 24 bits
        # Our corners lie on their line, which is sampled: half a step of it and what an arc stands off.
        step = drawn.length / 800
        assert max(drawn.distance(shapely.Point(at)) for at in ring.coords) <= step / 2 + OFF, name
