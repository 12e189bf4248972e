"""Pictures of the article: where each thing is, read back as vectors; what is hidden, asked of a raster."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from xml.etree import ElementTree as ET

import pypdf
import pypdfium2
import pytest
from click.testing import CliRunner, Result

from handkit import ProjectText, kit
from handkit.assemble.assembler import assemble
from handkit.cli import main
from handkit.draw.article.pages import views
from handkit.draw.article.ways import ways_pdf

SVG = "{http://www.w3.org/2000/svg}"
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")

# A board of 160 x 220: a patch of 80 x 60 at [10, 10] with a rivet through both, a strip of 40 x 20 wholly
# under the patch, a tab behind that reaches 15 past the left edge, and a pocket with a bone in it.
PROJECT = """
format = 1
title = "Binder's board"
[material]
thickness = 2
[stitching]
pitch = 4
inset = 4
[[piece]]
name = "back"
rectangle = [160, 220]
[[piece]]
name = "strip"
rectangle = [40, 20]
on = "back"
at = [20, 30]
glued = true
[[piece]]
name = "patch"
rectangle = [80, 60]
on = "back"
at = [10, 10]
[[piece]]
name = "tab"
rectangle = [40, 20]
on = "back"
at = [25, 150]
behind = true
turned_over = true
[[seam]]
name = "tab"
runs = [{ run = "tab: D-A", inset = 4 }, "back"]
[[seam]]
name = "rim"
runs = ["patch: A-B-C-D-A", "back"]
[[opening]]
name = "post"
kind = "rivet"
hole = 3
cap = 8
through = ["back", "patch"]
at = [[75, 50]]
[[item]]
name = "bone"
in = "sleeve"
size = [30, 4, 120]
[[part]]
name = "sleeve"
kind = "flat pocket"
on = "back"
at = [100, 40]
"""

Box = tuple[float, float, float, float]


Show = Callable[[str, str], Path]


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> Show:
    """The file of a name that `show` writes of a project's text, written once."""

    @cache
    def make(text: str, name: str) -> Path:
        folder = tmp_path_factory.mktemp("shown")
        (folder / "board.toml").write_text(text, "utf-8")
        run = CliRunner().invoke(main, ["show", str(folder / "board.toml"), "-o", str(folder / name)])
        assert run.exit_code == 0, run.output
        return folder / name

    return make


def pictures(svg: Path) -> list[dict[str, Box]]:
    """By picture, in the file's order, the box of each kind and title: a new base's body begins one."""
    found: list[dict[str, Box]] = []
    for group in ET.parse(svg).iter(f"{SVG}g"):
        title, path = group.find(f"{SVG}title"), group.find(f"{SVG}path")
        if title is None or path is None:
            continue
        key = f"{group.get('class')} {title.text}"
        if not found or key in found[-1]:
            if key.startswith("body"):
                found.append({})
            else:
                continue
        numbers = [float(n) for n in NUMBER.findall(path.get("d", ""))]
        xs, ys = numbers[::2], numbers[1::2]
        found[-1][key] = (min(xs), -max(ys), max(xs), -min(ys))
    return found


def scales(svg: Path) -> list[float]:
    """The scales that the titles of pictures tell."""
    texts = [element.text or "" for element in ET.parse(svg).iter(f"{SVG}text")]
    told = [match for text in texts if (match := re.search(r", ([\d.]+) : ([\d.]+)$", text))]
    return [float(match[1]) / float(match[2]) for match in told]


# By hand, in the frame of the back: left, bottom, right, top. The sleeve's places follow from its ease.
PLACES = {
    "body back": (0, 0, 160, 220),
    "body patch": (10, 10, 90, 70),
    "body strip": (20, 30, 60, 50),
    "body tab": (-15, 150, 25, 170),
    "cap post 1": (71, 46, 79, 54),
}


@pytest.mark.parametrize("number", [0, 1])
def test_each_thing_is_drawn_where_the_file_puts_it(shown: Show, number: int) -> None:
    """The front as it is placed, the back with x turned; within 0.01 mm of the article."""
    file = shown(PROJECT, "board.svg")
    picture, scale = pictures(file)[number], scales(file)[number]
    left, bottom, right, _ = picture["body back"]
    for key, (x0, y0, x1, y1) in PLACES.items():
        wanted = (x0, y0, x1, y1) if number == 0 else (160 - x1, y0, 160 - x0, y1)
        a, b, c, d = picture[key]
        found = [n / scale for n in (a - left, b - bottom, c - left, d - bottom)]
        assert found == pytest.approx(wanted, abs=0.01), key
    assert right - left == pytest.approx(160 * scale, abs=0.01)


def test_an_item_stands_in_its_pocket(shown: Show) -> None:
    """30 x 120, its middle in the pocket's, its foot over the pocket's lower row."""
    file = shown(PROJECT, "board.svg")
    picture, scale = pictures(file)[0], scales(file)[0]
    x0, y0, x1, y1 = picture["thing bone"]
    a, b, c, _ = picture["body sleeve"]
    assert ((x1 - x0) / scale, (y1 - y0) / scale) == pytest.approx((30, 120), abs=0.01)
    assert (x0 + x1) / 2 == pytest.approx((a + c) / 2, abs=0.01)
    assert y0 >= b + 4 * scale


def black(pdf: Path, picture: Box, scale: float, at: tuple[float, float], reach: float) -> bool:
    """Whether anything dark is drawn within a reach of a place of the back, mm of the article."""
    page = pypdfium2.PdfDocument(pdf)[0]
    dots = 8.0
    image = page.render(scale=dots * 25.4 / 72, grayscale=True).to_numpy().squeeze()
    x, y = (picture[0] + at[0] * scale) * dots, -(picture[1] + at[1] * scale) * dots
    near = reach * scale * dots
    part = image[int(y - near) : int(y + near) + 1, int(x - near) : int(x + near) + 1]
    return bool(part.min() < 140)


# Places in the frame of the back, and whether something is seen there: from the front, from the back.
PROBES = {
    "the patch's edge": ((10, 40), True, False),
    "the strip's edge, under the patch": ((20.0, 33), False, False),
    "the tab's end beside the back": ((-15, 155), True, True),
    "the tab's end behind the back": ((25, 155), False, True),
    "the back's edge over the tab": ((0, 153), True, False),
    "the rivet's cap": ((79, 50), True, True),
    "the pocket's side": ((100, 60), True, False),
}


@pytest.mark.long
def test_what_is_hidden_is_not_seen(shown: Show) -> None:
    svg, pdf = shown(PROJECT, "board.svg"), shown(PROJECT, "board.pdf")
    one, other = pictures(svg)[:2]
    scale = scales(svg)[0]
    seen = {
        name: (
            at,
            black(pdf, one["body back"], scale, at, 0.5),
            black(pdf, other["body back"], scale, (160 - at[0], at[1]), 0.5),
        )
        for name, (at, _, _) in PROBES.items()
    }
    assert seen == PROBES


def drawn(svg: Path, picture: str, kind: str, title: str) -> list[Box]:
    """Boxes of what a picture draws under a kind and title, mm of the article: those of the page with it
    that come after the picture's own title would be mixed up, so each picture asked here has its page."""
    for page in ET.parse(svg).getroot():
        heads = [text.text or "" for text in page.iter(f"{SVG}text")]
        scale = next((1 / float(h.rpartition(" ")[2]) for h in heads if h.startswith(picture)), None)
        if scale is None:
            continue
        found = []
        for group in page.iter(f"{SVG}g"):
            if group.get("class") == kind and group.findtext(f"{SVG}title") == title:
                path = group.find(f"{SVG}path")
                assert path is not None
                n = [float(each) / scale for each in NUMBER.findall(path.get("d", ""))]
                found.append((min(n[::2]), -max(n[1::2]), max(n[::2]), -min(n[1::2])))
        return found
    raise AssertionError(picture)


def test_layer_by_layer_is_a_cabinet_projection_in_the_order_of_layers(shown: Show) -> None:
    """By hand: y recedes at 45 degrees by half its length, so 160 x 220 takes 160 + 77.78 by 77.78; what lies
    on the back is lifted off it, the tab behind it is not; what is on the strip is lifted further."""
    svg = shown(PROJECT, "board.svg")
    ((a, b, c, d),) = drawn(svg, "Layer by layer", "body", "back")
    assert (c - a, d - b) == pytest.approx((160 + 77.782, 77.782), abs=0.01)
    lift = {}
    for name, (x, y) in {"tab": (-15, 150), "back": (0, 0), "strip": (20, 30), "patch": (10, 10)}.items():
        (box,) = drawn(svg, "Layer by layer", "body", name)
        assert box[0] - a == pytest.approx(x + y * 0.35355, abs=0.01), name
        lift[name] = box[1] - b - y * 0.35355
    assert lift["tab"] < lift["back"] < lift["strip"] < lift["patch"]
    texts = [text.text for text in ET.parse(svg).iter(f"{SVG}text")]
    assert {"1 tab", "2 back", "3 strip", "4 patch", "5 sleeve", "bone"} <= set(texts)


def test_a_section_is_drawn_true_to_measure(shown: Show) -> None:
    """By hand: the bone is 30 wide, 4 thick and 120 long; the back under it is 2 thick."""
    svg = shown(PROJECT, "board.svg")
    across, along = drawn(svg, "Section across sleeve", "thing", "bone")
    assert (across[2] - across[0], across[3] - across[1]) == pytest.approx((30, 4), abs=0.01)
    assert (along[2] - along[0], along[3] - along[1]) == pytest.approx((120, 4), abs=0.01)
    back, _ = drawn(svg, "Section across sleeve", "body", "back")
    assert back[3] - back[1] == pytest.approx(2, abs=0.01)
    assert back[3] == pytest.approx(across[1], abs=0.01)


STRAP = """
format = 1
title = "Stool strap"
[material]
thickness = 4
[stitching]
pitch = 4
inset = 4
[[piece]]
name = "strap"
rectangle = [400, 30]
grain = 0
[piece.lines]
short = [[10, 5], [50, 5]]
long = [[150, 5], [110, 5]]
[piece.folds]
buckle = { line = [[80, 0], [80, 30]], out = "grain", angle = 180, radius = 3, stays = "C" }
[[seam]]
name = "row"
runs = ["strap: short", "strap: long"]
"""


def test_what_is_folded_back_lies_on_the_strap(shown: Show) -> None:
    """By hand: the fold's middle turns on 3 + 2 = 5 mm, so its zone is 15.708 wide and begins at 87.854; the
    outside of its turn reaches 5 + 2 back from there: the strap is 400 - 80.854 = 319.146 long. What moves
    lies on the far side and covers nothing there; the row is seen once."""
    svg = shown(STRAP, "strap.svg")
    scale = scales(svg)[0]
    parts = []
    for group in [each for each in ET.parse(svg).iter(f"{SVG}g") if each.get("class") == "body"][:2]:
        path = group.find(f"{SVG}path")
        assert path is not None
        n = [float(each) / scale for each in NUMBER.findall(path.get("d", ""))]
        parts.append((min(n[::2]), max(n[::2])))
    hidden, seen = parts
    assert seen[1] - seen[0] == pytest.approx(319.146, abs=0.01)
    assert hidden[0] == pytest.approx(seen[0], abs=0.01)
    assert hidden[1] - hidden[0] == pytest.approx(80 + 7.854 - 15.708 + 7, abs=0.01)
    texts = [text.text for text in ET.parse(svg).iter(f"{SVG}text")]
    assert texts.count("319.1 mm") == 2
    (left, _, right, _), *_ = drawn(svg, "Front", "thread", "row")
    assert (left - seen[0], right - seen[0]) == pytest.approx((110 - 80.854, 150 - 80.854), abs=1.0)


def test_the_kit_has_one_page_of_it(tmp_path: Path) -> None:
    """After the first sheet, with its scale; nothing on it is tagged as something to cut."""
    (tmp_path / "board.toml").write_text(PROJECT, "utf-8")
    run = CliRunner().invoke(main, ["make", str(tmp_path / "board.toml")])
    assert run.exit_code == 0, run.output
    reader = pypdf.PdfReader(tmp_path / "board-kit.pdf")
    texts = [page.extract_text() for page in reader.pages]
    assert [k for k, text in enumerate(texts) if "The finished article" in text] == [1]
    assert re.search(r"Front, 1 : [\d.]+", texts[1]) and "Layer by layer" in texts[1]
    content = reader.pages[1].get_contents()
    assert content is not None
    tags = set(re.findall(rb"/(hk\w+) <<", content.get_data()))
    assert tags == {
        *(b"hkBody", b"hkThing", b"hkHidden", b"hkCap", b"hkThread", b"hkMeasure", b"hkCentre", b"hkSheet")
    }


def invoked(*words: str) -> Result:
    return CliRunner().invoke(main, ["show", *words])


def test_refusals(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Wrong use ends with 2, what can't be read or written with 1; nothing is written."""
    monkeypatch.chdir(tmp_path)
    Path("board.toml").write_text(PROJECT, "utf-8")
    wrong = invoked("board.toml", "-o", "board.bmp")
    assert wrong.exit_code == 2
    assert "found 'board.bmp'; allowed: a name that ends in .pdf, .svg or .png" in wrong.output
    lost = invoked("board.toml", "-o", "no/board.svg")
    assert (lost.exit_code, lost.output.startswith("error: can't write no/board.svg: ")) == (3, True)
    missing = invoked("other.toml")
    assert missing.exit_code == 3
    assert {path.name for path in tmp_path.iterdir()} == {"board.toml"}


def test_without_the_extra_png_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("board.toml").write_text(PROJECT, "utf-8")
    monkeypatch.setitem(__import__("sys").modules, "handkit.draw.export.pages_png", None)
    run = invoked("board.toml", "-o", "board.png")
    assert (run.exit_code, run.output) == (
        3,
        "error: can't draw PNG: its renderer isn't installed; pip install 'handkit[png]', or name a .pdf or "
        ".svg\n",
    )
    assert not Path("board.png").exists()


def test_png_is_the_pages_as_a_renderer_shows_them(shown: Show) -> None:
    """A4 at 150 dots an inch: 1240.2 x 1753.9, rounded up."""
    data = shown(PROJECT, "board.png").read_bytes()
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    assert (int.from_bytes(data[16:20], "big"), int.from_bytes(data[20:24], "big") % 1754) == (1241, 0)


def test_the_same_file_every_time(shown: Show) -> None:
    first = shown(PROJECT, "one.pdf").read_bytes()
    assert shown(PROJECT, "two.pdf").read_bytes() == first


FLAP = """
format = 1
title = "Seed slip"
unit = "mm"
[material]
thickness = 2
kind = "firm leather"
[stitching]
pitch = 4
inset = 4
thread = 0.8
hole = { round = 1.6 }
[[piece]]
name = "back"
rectangle = [100, 240]
folds = { top = { line = [[0, 150], [100, 150]], out = "grain", angle = 180, radius = 4 } }
[[opening]]
name = "cap"
kind = "snap"
hole = 4
cap = 12
through = ["back"]
at = [[50, 220]]
mate = "stud"
[[opening]]
name = "stud"
kind = "snap"
hole = 4
cap = 10
through = ["back"]
at = [[50, 70]]
mate = "cap"
"""


def test_a_flap_is_drawn_shut_and_laid_open(shown: Show) -> None:
    """By hand: the fold's middle turns on 4 + 1, so that its zone begins 7.854 before the line at 150; the
    outside of the turn reaches 4 + 2 further: 148.146. What moves comes down behind, at 300 less what it is
    at: its end at 60, its cap at 80; so it is drawn first from the front, and last from the back."""
    svg = shown(FLAP, "slip.svg")
    bodies = drawn(svg, "Front", "body", "back")
    spans = [(low, high) for _, low, _, high in bodies]
    for k, wanted in enumerate(
        [(60, 148.146), (0, 148.146), (0, 148.146), (60, 148.146), (0, 240), (0, 240)]
    ):
        foot = spans[(1, 1, 2, 2, 4, 5)[k]][0]
        assert [at - foot for at in spans[k]] == pytest.approx(wanted, abs=0.01)
    behind = [box for box in drawn(svg, "Front", "cap", "cap 1") if box[0] > bodies[2][0]]
    x0, low, x1, high = max(behind, key=lambda box: box[1])
    assert ((x0 + x1) / 2 - bodies[2][0], (low + high) / 2 - bodies[2][1]) == pytest.approx(
        (50, 80), abs=0.01
    )
    texts = svg.read_text("utf-8")
    assert texts.count(">148.1 mm<") == texts.count(">240 mm<") == 2
    assert "Laid open, from behind, 1 :" in texts


STRAPPED = """
format = 1
title = "Strap"
[material]
thickness = 2
[[piece]]
name = "back"
rectangle = [110, 140]
[[part]]
name = "pocket"
kind = "flat pocket"
on = "back"
at = [5, 5]
width = 100
[[item]]
name = "cards"
in = "pocket"
size = [80, 4, 70]
[[part]]
name = "flap"
kind = "flap"
on = "back"
to = "pocket"
closed_by = "strap"
"""


def test_a_flaps_strap_is_drawn_under_its_loop(shown: Show) -> None:
    """Shut, from the front, the picture that comes first: what is drawn later hides what was drawn before."""
    groups = ET.parse(shown(STRAPPED, "strap.svg")).iter(f"{SVG}g")
    bodies = [group.findtext(f"{SVG}title") for group in groups if group.get("class") == "body"]
    places = [bodies.index(name) for name in ("pocket", "flap strap", "flap loop")]
    assert places == sorted(places)


SHEATH = """
format = 1
title = "Sheath"
[material]
thickness = 2.4
[stitching]
pitch = 4
inset = 4
[[part]]
name = "sheath"
kind = "sheath"
[[item]]
name = "knife"
in = "sheath"
size = [22, 3, 110]
tip = 30
"""


def test_a_blade_is_seen_in_its_sheath(shown: Show) -> None:
    """Shut it lies between both leaves, and is dashed on the one that hides it: as far beside the bend as its
    radius, half of a welt of 3, and the leather outside. Its handle, as broad and 100 long where none is
    stated, stands on above it."""
    svg = shown(SHEATH, "sheath.svg")
    drawn: list[tuple[str, Box]] = []
    for group in ET.parse(svg).iter(f"{SVG}g"):
        title, path = group.find(f"{SVG}title"), group.find(f"{SVG}path")
        if title is not None and path is not None:
            numbers = [float(n) for n in NUMBER.findall(path.get("d", ""))]
            box = (min(numbers[::2]), -max(numbers[1::2]), max(numbers[::2]), -min(numbers[1::2]))
            drawn.append((f"{group.get('class')} {title.text}", box))
    keys = [key for key, _ in drawn if key in ("body sheath", "thing knife", "hidden knife")]
    over = ["body sheath", "hidden knife", "hidden knife"]
    assert keys[:8] == [*over, "thing knife", "thing knife", *over]
    scale = scales(svg)[0]
    (_, leaf), (_, blade), (_, handle) = [one for one in drawn if one[0] in over][:3]
    assert handle == pytest.approx((blade[0], blade[3], blade[2], blade[3] + 100 * scale), abs=0.01)
    assert (blade[2] - blade[0], blade[3] - blade[1]) == pytest.approx((22 * scale, 110 * scale), abs=0.01)
    assert blade[0] - leaf[0] == pytest.approx(scale * (1.5 + 2.4), abs=0.01)  # the front is the leaf over it


def test_what_has_one_name_is_named_once(shown: Show) -> None:
    cards = (Path(__file__).parents[2] / "samples/wallet/wallet.toml").read_text("utf-8")
    svg = shown(cards, "wallet.svg")
    texts = [element.text for element in ET.parse(svg).iter(f"{SVG}text")]
    pictures_ = sum(1 for text in texts if text and re.search(r", [\d.]+ : [\d.]+$", text))
    assert 1 <= texts.count("left cards") <= pictures_


def test_a_strap_has_its_name_on_it(shown: Show) -> None:
    """At 1 : 6 it is 6.3 mm wide: the name stands inside, where no leader has to cross its holes."""
    strap = (Path(__file__).parents[2] / "samples/strap/strap.toml").read_text("utf-8")
    svg = shown(strap, "strap.svg")
    front = next(group for group in ET.parse(svg).iter(f"{SVG}g") if group.get("class") == "body")
    numbers = [float(n) for n in NUMBER.findall(front.find(f"{SVG}path").get("d", ""))]  # type: ignore[union-attr]
    name = next(each for each in ET.parse(svg).iter(f"{SVG}text") if each.text == "strap")
    x, y = float(name.get("x", 0)), float(name.get("y", 0))
    assert x < scales(svg)[0] * 700  # before the holes
    assert min(numbers[1::2]) < y < max(numbers[1::2])


def test_what_is_told_under_a_picture_keeps_clear_of_it_however_long_it_is() -> None:
    """Read back by pdfium: no line of words lies on another."""
    article = kit.article_of(kit.punched_of(ProjectText(PROJECT)))
    told = "one pocket for each thing that is carried, side by side and as near as may be, " * 6
    page = pypdfium2.PdfDocument(ways_pdf([(article, told)] * 2))[0].get_textpage()
    lines = [page.get_rect(k) for k in range(page.count_rects())]
    crossed = [
        (one, other)
        for number, one in enumerate(lines)
        for other in lines[:number]
        if min(one[2], other[2]) - max(one[0], other[0]) > 1
        and min(one[3], other[3]) - max(one[1], other[1]) > 1
    ]
    assert len(lines) > 10
    assert crossed == []


# A strip folded on itself, grain outside: nobody sees its flesh side. Unfolded that is its back.
FOLDED = """
format = 1
title = "Fob"
unit = "mm"
[material]
thickness = 2
[[piece]]
name = "fob"
rectangle = [28, 150]
[piece.folds]
ring = { line = [[0, 75], [28, 75]], radius = 1.5, angle = 180 }
"""


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (FOLDED, [(), ()]),
        (FOLDED.split("[piece.folds]", maxsplit=1)[0], [(), ("grey: flesh side",)]),
    ],
)
def test_the_tone_is_told_where_it_is_seen(text: str, told: list[tuple[str, ...]]) -> None:
    article = assemble(kit.punched_of(ProjectText(text)))
    assert [scene.notes for _, scene in views(article)] == told
