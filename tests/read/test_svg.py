"""Outlines from drawings: true size by hand, flattened as finely as promised, and what is refused."""

from __future__ import annotations

import time
from collections.abc import Callable
from math import cos, hypot, pi, sin
from pathlib import Path

import pytest

from handkit.errors import ProjectError
from handkit.read.reader import read_project_text

PROJECT = """format = 1
[material]
thickness = 2
[[piece]]
name = "back"
rectangle = [400, 400]
[[part]]
name = "pocket"
kind = "flat pocket"
on = "back"
[[item]]
name = "spoon"
in = "pocket"
outline = "things.svg#spoon"
up = "top"
thickness = 3
"""
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="200mm" viewBox="0 0 100 200">{}</svg>'
SPOON = '<path id="spoon" d="M10 10 h20 v60 l-10 80 l-10 -80 z"/>'


@pytest.fixture
def told(tmp_path: Path) -> Callable[..., list[str]]:
    """What is told of a project whose item's outline stands in a drawing."""

    def telling(drawing: str | bytes, project: str = PROJECT) -> list[str]:
        data = drawing if isinstance(drawing, bytes) else drawing.encode()
        (tmp_path / "things.svg").write_bytes(data)
        try:
            read_project_text(project, file="p.toml", folder=tmp_path)
        except ProjectError as error:
            return [str(each) for each in error.findings]
        return []

    return telling


@pytest.fixture
def plan_of(tmp_path: Path) -> Callable[..., tuple[tuple[float, float], ...]]:
    def reading(drawing: str, project: str = PROJECT) -> tuple[tuple[float, float], ...]:
        (tmp_path / "things.svg").write_text(drawing, "utf-8")
        (item,) = read_project_text(project, file="p.toml", folder=tmp_path).items
        return item.plan

    return reading


Plan = Callable[..., tuple[tuple[float, float], ...]]


def size_of(plan: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    return max(x for x, _ in plan), max(y for _, y in plan)


def test_a_shape_stands_as_it_is_drawn(plan_of: Plan) -> None:
    """SVG's y goes down: what is drawn at the top is up."""
    assert set(plan_of(SVG.format(SPOON))) == {(0, 140), (20, 140), (20, 80), (10, 0), (0, 80)}
    lying = plan_of(SVG.format(SPOON), PROJECT.replace('up = "top"', 'up = "bottom"'))
    assert set(lying) == {(20, 0), (0, 0), (0, 60), (10, 140), (20, 60)}


# A square 10 user units wide on pages of many sizes, by hand: 96 px, 72 pt, 6 pc an inch (CSS 2.1).
PAGES = [
    ('width="100mm" height="200mm" viewBox="0 0 100 200"', (10, 10)),
    ('width="10cm" height="20cm" viewBox="5 5 50 100"', (20, 20)),
    ('width="4in" height="4in" viewBox="0 0 96 96"', (10 * 101.6 / 96,) * 2),
    ('width="960" height="96"', (10 * 25.4 / 96,) * 2),
    ('width="72pt" height="144pt" viewBox="0 0 10 20"', (25.4, 25.4)),
    ('width="6pc" height="96px" viewBox="0,0,100,100"', (2.54, 2.54)),
    ('width="100mm" height="200mm" viewBox="0 0 100 100"', (10, 10)),  # meets
    ('width="100mm" height="200mm" viewBox="0 0 100 100" preserveAspectRatio="xMidYMid slice"', (20, 20)),
    ('width="100mm" height="200mm" viewBox="0 0 100 100" preserveAspectRatio="none"', (10, 20)),
]


@pytest.mark.parametrize(("page", "size"), PAGES)
def test_the_page_tells_how_long_a_unit_is(page: str, size: tuple[float, float], plan_of: Plan) -> None:
    drawing = f'<svg {page}><rect id="spoon" x="7" y="7" width="10" height="10"/></svg>'
    assert size_of(plan_of(drawing)) == pytest.approx(size, abs=2e-6)


# Where the corner (10, 0) of a square goes to, seen from (0, 0), by hand.
TURNS = [
    ("translate(3 4)", (10, 0)),
    ("scale(2)", (20, 0)),
    ("scale(2,3)", (20, 0)),
    ("rotate(90)", (0, 10)),
    ("rotate(90, 5, 5)", (0, 10)),
    ("skewY(45)", (10, 10)),
    ("matrix(0 2 -1 0 7 7)", (0, 20)),
    ("translate(9) rotate(90) scale(2)", (0, 20)),
]


@pytest.mark.parametrize(("turn", "to"), TURNS)
def test_transforms_by_hand(turn: str, to: tuple[float, float], plan_of: Plan) -> None:
    shape = '<polygon id="spoon" points="0,0 10,0 10,10 0,30"/>'
    plan = plan_of(SVG.format(f'<g transform="{turn}">{shape}</g>'))
    lengths = [hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(plan, (*plan[1:], plan[0]), strict=True)]
    assert min(abs(each - hypot(*to)) for each in lengths) < 1e-5
    ways = [(b[0] - a[0], a[1] - b[1]) for a, b in zip(plan, (*plan[1:], plan[0]), strict=True)]
    assert any(way == pytest.approx(at, abs=1e-5) for way in ways for at in (to, (-to[0], -to[1])))


@pytest.mark.parametrize("radius", [1.0, 40.0, 700.0])
def test_a_circle_is_flattened_as_finely_as_promised(radius: float, plan_of: Plan) -> None:
    """No place of it is more than 0.05 mm off, and no more corners than that takes twice over: a chord of a
    circle stands off by r(1 − cos(π/n))."""
    page = 'width="2000mm" height="2000mm" viewBox="0 0 2000 2000"'
    plan = plan_of(f'<svg {page}><circle id="spoon" cx="900" cy="900" r="{radius}"/></svg>')
    middle = max(x for x, _ in plan) / 2
    for (x0, y0), (x1, y1) in zip(plan, (*plan[1:], plan[0]), strict=True):
        offs = [hypot((x0 + (x1 - x0) * t) - middle, (y0 + (y1 - y0) * t) - middle) for t in (0, 0.5)]
        assert all(radius - 0.05 <= off <= radius + 0.02 for off in offs)
    assert len(plan) <= 4 + 2 * pi / (2 * 0.05 / radius) ** 0.5


def test_a_hole_in_a_shape_and_a_group_of_lines_in_it_are_passed_over(plan_of: Plan) -> None:
    hole = '<path id="spoon" d="M0 0h40v90h-40z M10 10h5v5h-5z"/>'
    group = '<g id="spoon"><rect width="40" height="90"/><circle cx="20" cy="20" r="4"/></g>'
    for shape in (hole, group):
        assert size_of(plan_of(SVG.format(shape))) == (40, 90)
        assert len(plan_of(SVG.format(shape))) == 4


def test_what_is_no_shape_is_passed_over(plan_of: Plan) -> None:
    """A photo, a style sheet, texts, what another program keeps there; nothing is fetched."""
    more = (
        '<?xml-stylesheet href="http://example.org/a.css"?><image href="file:///etc/passwd" width="9" '
        'height="9"/>'
        "<style>path { fill: url(http://example.org/x); text-transform: none }</style><text>1</text>"
        '<x:view xmlns:x="urn:other" id="spoon"/>'
    )
    assert size_of(plan_of(SVG.format(more + SPOON))) == (20, 140)


def test_the_file_of_things_and_a_folder_inside_name_drawings_too(tmp_path: Path) -> None:
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "bench.svg").write_text(SVG.format(SPOON), "utf-8")
    (tmp_path / "things.toml").write_text(
        'format = 1\nunit = "in"\n[[item]]\nname = "spoon"\noutline = "photos/bench.svg#spoon"\n'
        'thickness = "3 mm"\n',
        "utf-8",
    )
    start = PROJECT.index('outline = "')
    text = PROJECT[:start].replace("format = 1", 'format = 1\nitems = "things.toml"')
    (item,) = read_project_text(text, file="p.toml", folder=tmp_path).items
    assert (item.width, item.length) == (20, 140)


AT = 'p.toml:14: error: item "spoon": outline: found '
REFUSED = {
    "declares": (
        '<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;&a;">]>'
        + SVG.format("<text>&b;</text>" + SPOON),
        "a document type or an entity; allowed: an SVG without one; save it as plain SVG [svg-declares]",
    ),
    "reads another file": (
        '<!DOCTYPE svg SYSTEM "file:///etc/passwd">' + SVG.format(SPOON),
        "a document type or an entity; allowed: an SVG without one; save it as plain SVG [svg-declares]",
    ),
    "no XML": (
        SVG.format("<g>" + SPOON),
        "no XML in things.svg, line 1 (mismatched tag); allowed: an SVG file; save it anew as plain SVG "
        "[svg-unreadable]",
    ),
    "another XML": (
        "<html/>",
        "html as the root of things.svg; allowed: an SVG file; save it as plain SVG [svg-unreadable]",
    ),
    "nested": (
        SVG.format("<g>" * 70 + SPOON + "</g>" * 70),
        "more than 64 elements in one another in things.svg; allowed: at most 64; ungroup what is drawn "
        "[svg-too-large]",
    ),
    "many": (
        SVG.format("<g/>" * 100_001 + SPOON),
        "more than 100000 elements in things.svg; allowed: at most 100000; save the outlines alone "
        "[svg-too-large]",
    ),
    "large": (
        SVG.format(f"<!--{'-x' * (8 << 20)}-->"),
        "more than 16777216 bytes in things.svg; allowed: at most 16777216; link the photo instead of "
        "embedding "
        "it [svg-too-large]",
    ),
    "no such id": (
        SVG.format(SPOON.replace('"spoon"', '"spoons"')),
        'no shape with the id "spoon" in things.svg; allowed: one of "spoons"; name "spoons", or give the '
        "shape "
        "that id in the drawing program [svg-id-unknown]",
    ),
    "no id at all": (
        SVG.format(SPOON.replace('id="spoon" ', "")),
        'no shape with the id "spoon" in things.svg; allowed: the id of a shape there; give the shape that '
        "id in "
        "the drawing program [svg-id-unknown]",
    ),
    "twice": (
        SVG.format(SPOON * 2),
        '"spoon" twice in things.svg; allowed: an id of its own; give one of them another id [svg-id-twice]',
    ),
    "open": (
        SVG.format('<path id="spoon" d="M10 10 h20 v60 h-19"/>'),
        '"spoon", whose ends are 60.01 mm apart; allowed: a closed outline, ends 0.1 mm apart at the most; '
        "close "
        "the path in the drawing program [svg-open]",
    ),
    "crosses itself": (
        SVG.format('<path id="spoon" d="M0 0L20 90V0L0 60z"/>'),
        "an outline that crosses itself; allowed: points round it in order; list its points in their order "
        "round "
        "it [section-crosses]",
    ),
    "several": (
        SVG.format('<path id="spoon" d="M0 0h20v90h-20z M50 0h20v90h-20z"/>'),
        '2 areas apart from one another in "spoon"; allowed: one outline, with holes in it or none; name '
        "one of "
        "them by an id of its own, or make them one [svg-apart]",
    ),
    "no area": (
        SVG.format('<path id="spoon" d="M0 0h20h-20z"/>'),
        'no area in "spoon"; allowed: a closed outline; draw it round the thing [svg-no-area]',
    ),
    "a use": (
        SVG.format('<use id="spoon" href="other.svg#spoon"/>'),
        'use as "spoon", or in it; allowed: path, polygon, polyline, rect, circle or ellipse, or a group '
        "of them; "
        "draw it as one of these: in a drawing program, make it a path [svg-kind]",
    ),
    "nothing": (
        SVG.format('<g id="spoon"><title>spoon</title></g>'),
        'nothing drawn in "spoon"; allowed: path, polygon, polyline, rect, circle or ellipse, or a group '
        "of them; "
        "name the shape itself [svg-kind]",
    ),
    "in definitions": (
        SVG.format(f"<defs>{SPOON}</defs>"),
        '"spoon" among definitions, or in a drawing inside the drawing; allowed: a shape that is drawn; '
        "name one that is "
        "[svg-undrawn]",
    ),
    "no size": (
        SVG.format(SPOON).replace('width="100mm"', 'width="100%"'),
        'width = "100%" of the drawing in things.svg; allowed: width and height in mm, cm, in, pt, pc or '
        "px, a "
        "viewBox of four numbers; set the page's size in the drawing program, in mm [svg-size]",
    ),
    "no viewBox": (
        SVG.format(SPOON).replace("0 0 100 200", "0 0 100 0"),
        'viewBox = "0 0 100 0" of the drawing in things.svg; allowed: width and height in mm, cm, in, pt, '
        "pc or "
        "px, a viewBox of four numbers; set the page's size in the drawing program, in mm [svg-size]",
    ),
    "another transform": (
        SVG.format(f'<g transform="spin(3)">{SPOON}</g>'),
        'the transform "spin(3)" in things.svg; allowed: matrix, translate, scale, rotate, skewX and '
        "skewY, in an "
        "attribute; apply it in the drawing program [svg-transform]",
    ),
    "a styled transform": (
        SVG.format(SPOON.replace("<path", '<path style="transform:scale(2)"')),
        'the transform "transform:scale(2)" in things.svg; allowed: matrix, translate, scale, rotate, '
        "skewX and "
        "skewY, in an attribute; apply it in the drawing program [svg-transform]",
    ),
    "a style sheet's transform": (
        SVG.format("<style>.a { stroke: red; Transform : scale(2) }</style>" + SPOON),
        'the transform "Transform :" in things.svg; allowed: matrix, translate, scale, rotate, skewX and '
        "skewY, in an attribute; apply it in the drawing program [svg-transform]",
    ),
    "turned about another place": (
        SVG.format(SPOON.replace("<path", '<path transform="rotate(9)" transform-origin="center"')),
        'the transform "center" in things.svg; allowed: matrix, translate, scale, rotate, skewX and '
        "skewY, in an attribute; apply it in the drawing program [svg-transform]",
    ),
    "a drawing in a drawing": (
        SVG.format(f'<svg x="9" width="9" height="9" viewBox="0 0 1 1">{SPOON}</svg>'),
        '"spoon" among definitions, or in a drawing inside the drawing; allowed: a shape that is drawn; name '
        "one that is [svg-undrawn]",
    ),
    "path data": (
        SVG.format('<path id="spoon" d="M10 10 h2e9 v60 z"/>'),
        'path "spoon" with measures or path data that can\'t be read; allowed: what SVG 1.1 says of it, '
        "numbers up "
        "to a million, 20,000 segments; draw or save it anew [svg-attributes]",
    ),
    "a measure": (
        SVG.format('<rect id="spoon" width="50%" height="9"/>'),
        'rect "spoon" with measures or path data that can\'t be read; allowed: what SVG 1.1 says of it, '
        "numbers up "
        "to a million, 20,000 segments; draw or save it anew [svg-attributes]",
    ),
    "far off": (
        SVG.format('<rect id="spoon" x="9990" width="50" height="9"/>'),
        '"spoon" farther than 10000 mm from the page\'s corner; allowed: an outline on the page; look at the '
        "page's size and its viewBox [svg-too-wide]",
    ),
    "grown without end": (
        SVG.format('<g transform="scale(1e6)">' * 60 + '<circle id="spoon" r="3"/>' + "</g>" * 60),
        '"spoon" farther than 10000 mm from the page\'s corner; allowed: an outline on the page; look at the '
        "page's size and its viewBox [svg-too-wide]",
    ),
    "a comb": (
        SVG.format(f'<path id="spoon" d="M0 0h200v9{"l-.3 3l-.3-3" * 320}z"/>'),
        '"spoon" of more than 500 points; allowed: at most 500; simplify the path in the drawing program '
        "[svg-too-fine]",
    ),
}


@pytest.mark.parametrize(("drawing", "expected"), REFUSED.values(), ids=REFUSED)
def test_drawings_that_are_refused(drawing: str, expected: str, told: Callable[..., list[str]]) -> None:
    assert told(drawing) == [AT + expected]


ALLOWED = (
    "allowed: a list of 3 to 500 points [x, y], or a shape's id in an .svg file in the project's folder, "
    '"things.svg#knife"; '
)
NAMES = [
    ("things.svg", "write the file's name, # and the id [svg-reference]"),
    ("things.svg#", "write the file's name, # and the id [svg-reference]"),
    ("things.dxf#spoon", "write the file's name, # and the id [svg-reference]"),
    ("other.svg#spoon", "put the file there, or mend the name [svg-missing]"),
    ("../things.svg#spoon", "put the file beside the project [svg-outside]"),
    ("linked.svg#spoon", "put the file beside the project [svg-outside]"),
]


@pytest.mark.parametrize(("name", "expected"), NAMES)
def test_names_of_drawings_that_are_refused(
    name: str, expected: str, told: Callable[..., list[str]], tmp_path: Path
) -> None:
    outside = tmp_path.parent / f"{tmp_path.name}.svg"
    outside.write_text(SVG.format(SPOON), "utf-8")
    (tmp_path / "linked.svg").symlink_to(outside)
    (line,) = told(SVG.format(SPOON), PROJECT.replace("things.svg#spoon", name))
    found = name if expected.startswith("write") and "dxf" not in name else name.partition("#")[0]
    assert line == f'{AT}"{found}"; {ALLOWED}{expected}'


def ring_of(count: int) -> str:
    places = ((50 + 40 * cos(2 * pi * k / count), 50 + 40 * sin(2 * pi * k / count)) for k in range(count))
    return " ".join(f"{x:.4f},{y:.4f}" for x, y in places)


def test_numbers_may_have_any_count_of_digits(plan_of: Plan) -> None:
    """As a program writes 0.000001234…, which has no exponent in some: the rest is no number of its own."""
    long = "0.0000012345678901234567890"
    for shape in (
        f'<polygon id="spoon" points="{long},{long} 20,0 20,9"/>',
        f'<path id="spoon" d="M{long} {long}H20V9A1e-300 1e6 0 0 1 1e-300 0.{"0" * 99}1z"/>',
    ):
        plan = plan_of(SVG.format(shape))
        assert size_of(plan) == pytest.approx((20, 9), abs=1e-5)
        assert len(plan) == 3


def test_what_asks_for_much_is_soon_refused(told: Callable[..., list[str]]) -> None:
    """Wild curves, numbers of many digits, many segments, many shapes in a group: at most 2 s each."""
    wild = "".join(f"c{1e5 * cos(k):.0f} 1e5 -1e5 {1e5 * sin(k):.0f} 1 1" for k in range(3000))
    for shape in (
        f'<path id="spoon" d="M0 0{wild}z"/>',
        f'<path id="spoon" d="M0 0{"h1" * 30_000}z"/>',
        f'<path id="spoon" d="M{"9" * 100_000} 0h1v1z"/>',
        f'<path id="spoon" d="M0 0{"a1 1 0 0 1 1e-9 0" * 19_000}z"/>',
        f'<path id="spoon" d="M0 0{"h1" * 19_000}{" " * 12_000_000}h1"/>',
        f'<polygon id="spoon" points="{"1 2 " * 100_000}"/>',
        '<g id="spoon">' + f'<polygon points="{ring_of(15_000)}"/>' * 30 + "</g>",
        '<g id="spoon">' + '<circle cx="5" cy="5" r="50"/>' * 3000 + "</g>",
        f'<g transform="{"rotate(1)" * 20_000}">{SPOON}</g>' + "x" * 100_000,
    ):
        start = time.process_time()
        lines = told(SVG.format(shape))
        assert time.process_time() - start < 2
        assert len(lines) <= 1
