"""`handkit trace`: what is asked, written, refused; and that what is written is what was traced."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from base64 import b64decode
from collections.abc import Callable
from math import dist
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import cv2
import numpy as np
import pypdf
import pypdfium2
import pytest
from click.testing import CliRunner, Result
from on_a_mat import KNIFE, RULER, THINGS, TIN, found
from shapely import Polygon

from handkit.cli import main
from handkit.commands.common import tracing
from handkit.errors import PhotoError
from handkit.findings import Finding, Where
from handkit.messages.message import Severity
from handkit.photo.traced import Found
from handkit.read.project import Item, Project
from handkit.read.reader import read_project

SVG = "{http://www.w3.org/2000/svg}"
Run = Callable[..., Result]
GIVEN = ("--bars", "160,240", "--count", "3", "--thickness", "3.175,10,2.5", "--names", "ruler,tin,knife")


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """handkit in a folder of its own, where every photo shows the same things, but a.jpg the ruler alone."""
    monkeypatch.chdir(tmp_path)
    for name in ("bench.jpg", "a.jpg"):
        Path(name).write_bytes(name.encode())

    def find(picture: bytes, *_: Any, first: int, **__: Any) -> Found:
        return found(("ruler",) if picture == b"a.jpg" else tuple(THINGS), first=first)

    monkeypatch.setattr(tracing, "find", find)

    def running(*words: str, answers: str = "") -> Result:
        result = CliRunner().invoke(main, ["trace", *words], input=answers)
        assert result.exception is None or isinstance(result.exception, SystemExit), result.exc_info
        return result

    return running


def written() -> set[str]:
    return {path.name for path in Path().iterdir()} - {"bench.jpg", "a.jpg"}


def carried(things: str, *more: str) -> Project:
    """A project that takes the things of a file."""
    holders = "".join(f'[[item]]\nname = "{name}"\nin = "pocket"\n' for name in more)
    Path("project.toml").write_text(
        f'format = 1\nitems = "{things}"\n[material]\nthickness = 2\n'
        '[[piece]]\nname = "back"\nrectangle = [300, 300]\n'
        f'[[part]]\nname = "pocket"\nkind = "flat pocket"\non = "back"\nat = [20, 20]\n{holders}'
    )
    return read_project(Path("project.toml"))


def off(got: Any, true: Any) -> float:
    """How far two outlines are apart at the most, each moved to the origin."""
    rings = [Polygon(points).exterior for points in (got, true)]
    return float(rings[0].hausdorff_distance(rings[1]))


def test_what_is_written_is_read_by_a_project(run: Run) -> None:
    """An outline's length stands upright in its place: (x, y) of what lies there comes to (w - y, x)."""
    result = run("bench.jpg", *GIVEN)
    assert result.exit_code == 0, result.output
    assert written() == {"things.toml", "things.svg", "things.pdf", "things.png"}
    assert result.stdout.splitlines() == [
        "things.png: the things with their numbers",
        "things.svg: the outlines over their pictures, to mend them by hand",
        "things.pdf: print at 100 %, and lay the things on it before you cut",
        "things.toml: 3 things, each within 0.3 mm or less; a project takes them by its key items",
    ]
    items: dict[str, Item] = {
        item.name: item for item in carried("things.toml", "ruler", "tin", "knife").items
    }
    for name, ring, thick in (("ruler", RULER, 3.175), ("tin", TIN, 10.0), ("knife", KNIFE, 2.5)):
        item, wide = items[name], max(y for _, y in ring)
        standing = [(wide - y, x) for x, y in ring]
        turned = [(y, max(x for x, _ in ring) - x) for x, y in ring]
        assert (
            min(off(item.seen, standing), off(item.seen, turned)) < 0.25
        )  # parallax at 1 to 2 mm, 0.1 thinned
        assert item.thickness == pytest.approx(thick, abs=0.005)
        assert 0 < item.uncertainty < 0.5


def test_the_file_tells_what_was_measured(run: Run) -> None:
    run("bench.jpg", *GIVEN)
    lines = Path("things.toml").read_text("utf-8").splitlines()
    assert lines[0] == "# Things traced from photos by handkit 0.1.0; bars of the mat 160 and 240 mm."
    assert "simulated photos" in lines[1]
    (told,) = [line for line in lines if line.startswith("# 1: ")]
    assert re.fullmatch(
        r"# 1: 150 × 20 mm, within 0\.3 mm \(95 %\); bench\.jpg, marks of the mat within 0\.03 mm", told
    )


@pytest.mark.parametrize(
    ("unit", "bars", "thick", "written_as"),
    [
        ("in", "6.299,9.449", "1/8,10 mm,2.5 mm", 'unit = "in"'),
        ("cm", "16,24", "0.3175,1,.25", 'unit = "cm"'),
    ],
)
def test_plain_numbers_are_in_the_unit_that_is_said(
    run: Run, unit: str, bars: str, thick: str, written_as: str
) -> None:
    words = ("--count", "3", "--names", "ruler,tin,knife")
    result = run("bench.jpg", "--bars", bars, "--thickness", thick, "--unit", unit, *words)
    assert result.exit_code == 0, result.output
    assert written_as in Path("things.toml").read_text("utf-8")
    (ruler,) = [item for item in carried("things.toml", "ruler").items if item.name == "ruler"]
    assert (ruler.thickness, ruler.length) == pytest.approx((3.175, 150), abs=0.01)


def points_of(path: ET.Element) -> list[tuple[float, float]]:
    """Of a path of straight lines, y up."""
    numbers = [float(word) for word in re.findall(r"-?[\d.]+", path.attrib["d"])]
    return [(x, -y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]


def test_the_drawing_has_each_outline_over_its_picture_at_true_size(run: Run) -> None:
    run("bench.jpg", *GIVEN)
    root = ET.parse("things.svg").getroot()
    width, height = (root.attrib[side] for side in ("width", "height"))
    assert root.attrib["viewBox"] == f"0 0 {width.removesuffix('mm')} {height.removesuffix('mm')}"
    groups = root.findall(f"{SVG}g")
    items = tracing_items("things.toml")
    assert [group.find(f"{SVG}text").text for group in groups] == ["1 ruler", "2 tin", "3 knife"]  # type: ignore[union-attr]
    for number, (group, name) in enumerate(zip(groups, items, strict=True), start=1):
        path, image = group.find(f"{SVG}path"), group.find(f"{SVG}image")
        assert path is not None and image is not None
        assert path.attrib["id"] == f"thing-{number}"
        points = points_of(path)
        low = min(x for x, _ in points), min(y for _, y in points)
        assert off([(x - low[0], y - low[1]) for x, y in points], items[name]) < 0.01
        assert beside_picture(image, points) < 0.2


def test_the_drawing_is_read_again_as_it_was_written_and_as_it_was_mended(run: Run) -> None:
    """The points of the file are taken out and the drawing's paths named in their place; then the ruler's
    right end is moved out by 5 mm."""
    run("bench.jpg", *GIVEN)
    written_as = {item.name: item.seen for item in carried("things.toml", "ruler", "tin", "knife").items}
    text = re.sub(
        r"(?s)outline = \[.*?\]\n(?=\n|$)", 'outline = ""\n', Path("things.toml").read_text("utf-8")
    )
    for number in (1, 2, 3):
        text = text.replace('outline = ""', f'outline = "things.svg#thing-{number}"', 1)
    Path("by_hand.toml").write_text(text, "utf-8")
    for item in carried("by_hand.toml", "ruler", "tin", "knife").items:
        assert off(item.seen, written_as[item.name]) < 0.01
    drawing = Path("things.svg").read_text("utf-8")
    mended = re.sub(r'(id="thing-1".*? L )164( .*? L )164 ', r"\g<1>169\g<2>169 ", drawing)
    assert mended != drawing
    Path("things.svg").write_text(mended, "utf-8")
    (ruler,) = [item for item in carried("by_hand.toml", "ruler").items if item.name == "ruler"]
    assert (ruler.width, ruler.length) == pytest.approx((20, 155), abs=0.02)


def tracing_items(path: str) -> dict[str, list[tuple[float, float]]]:
    """Names and outlines of a file of things, by Python's own reader."""
    return {one["name"]: one["outline"] for one in tomllib.loads(Path(path).read_text("utf-8"))["item"]}


def beside_picture(image: ET.Element, points: list[tuple[float, float]]) -> float:
    """How far the middle of the upper face, which is white, is from that of what the outline holds, mm."""
    data = image.attrib["{http://www.w3.org/1999/xlink}href"].removeprefix("data:image/jpeg;base64,")
    picture = cv2.imdecode(np.frombuffer(b64decode(data), np.uint8), cv2.IMREAD_COLOR)
    assert picture is not None
    x, y, wide = (float(image.attrib[key]) for key in ("x", "y", "width"))
    dots = picture.shape[1] / wide
    rows, columns = np.nonzero(picture.min(axis=2) > 200)
    middle = Polygon(points).centroid
    seen = ((columns + 0.5).mean() / dots + x, -((rows + 0.5).mean() / dots + y))
    return dist((middle.x, middle.y), seen)


def test_the_print_measures_what_was_traced(run: Run) -> None:
    """Rendered by a reader that shares no code: each outline's longest and narrowest box, to the middle of
    its line, which is 0.5 mm wide."""
    run("bench.jpg", *GIVEN)
    found_boxes = sorted(boxes_on(Path("things.pdf"), 1))
    wanted = [
        cv2.minAreaRect(np.array(ring, np.float32))[1] for ring in tracing_items("things.toml").values()
    ]
    for got, ring in zip(found_boxes, sorted(tuple(sorted(box)) for box in wanted), strict=True):
        assert got == pytest.approx(ring, abs=0.2)


def boxes_on(pdf: Path, page: int) -> list[tuple[float, float]]:
    """Of each closed line on a page what it is wide and long, in mm, the line's width taken off."""
    dots = 10
    document = pypdfium2.PdfDocument(pdf)
    grey = document[page].render(scale=dots * 25.4 / 72, grayscale=True).to_numpy()
    document.close()
    dark = (grey.reshape(grey.shape[:2]) < 128).astype(np.uint8)
    rings, parents = cv2.findContours(dark, cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    holes = [ring for ring, (*_, parent) in zip(rings, parents[0], strict=True) if parent >= 0]
    sides = [sorted(side / dots for side in cv2.minAreaRect(hole)[1]) for hole in holes]
    return [(a - 0.1 + 0.5, b - 0.1 + 0.5) for a, b in sides if a > 8]  # a hole's contour is a dot wider


def test_a_thing_longer_than_the_paper_is_printed_in_portions(run: Run) -> None:
    result = run("bench.jpg", *GIVEN, "--paper", "120x150mm")
    assert result.exit_code == 0, result.output
    pages = [page.extract_text() for page in pypdf.PdfReader("things.pdf").pages]
    assert any("portion 1 of 2" in page and "rule 1–2" in page for page in pages)
    proof = CliRunner().invoke(main, ["proof", "things.pdf"])
    assert proof.exit_code == 0, proof.output


def test_the_print_can_be_corrected_for_a_printer(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HANDKIT_PRINTERS", "printers.toml")
    CliRunner().invoke(main, ["printer", "measured", "office", "--across", "178.56", "--down", "257.92"])
    assert run("bench.jpg", *GIVEN, "--printer", "office").exit_code == 0
    assert "Corrected for the printer office" in pypdf.PdfReader("things.pdf").pages[0].extract_text()
    longest = max(box[1] for box in boxes_on(Path("things.pdf"), 1))
    assert longest == pytest.approx(180 / 0.992, abs=0.35)  # 178.56 ÷ 180 and 257.92 ÷ 260, by hand


def test_a_name_that_the_print_has_no_letters_for_is_its_number_there(run: Run) -> None:
    run("bench.jpg", *GIVEN[:6], "--names", "ruler,紙刀,knife")
    text = pypdf.PdfReader("things.pdf").pages[1].extract_text()
    assert "1 ruler" in text
    assert "thing 2" in text
    assert list(tracing_items("things.toml")) == ["ruler", "紙刀", "knife"]


def test_the_same_photo_gives_the_same_bytes(run: Run) -> None:
    run("bench.jpg", *GIVEN)
    first = {name: Path(name).read_bytes() for name in written()}
    assert run("bench.jpg", *GIVEN, "--force").exit_code == 0
    assert {name: Path(name).read_bytes() for name in written()} == first


def test_what_is_not_given_is_asked_with_the_numbers_of_the_picture(run: Run) -> None:
    answers = "1\nruler\n2,5\n2.5 round\n\n0\n1/16 in\nruler\nbone: 2\nbone folder\n"
    result = run("bench.jpg", *GIVEN[:4], answers=answers)
    assert result.exit_code == 0, result.output
    assert result.stderr.splitlines() == [
        "things.png: the things with their numbers",
        "How thick is each as it lies there? Plain numbers are mm; of what is round, as a pen, "
        '"8 round". Then a name, or Enter.',
        '1, thickness: 1, name [thing 1]: 2, thickness: found "2,5"; allowed: a decimal point; write "2.5" '
        "with a point",
        '2, thickness: 2, name [thing 2]: 3, thickness: found "0"; allowed: a length from 0.2 to 3000 mm',
        '3, thickness: 3, name [thing 3]: found the name "ruler" twice; allowed: a name for each thing; '
        "change one",
        '3, name [thing 3]: found "bone: 2"; allowed: a name, at most 60 characters, without : or #; leave '
        "the : out; it has a meaning in runs",
        "3, name [thing 3]: ",
    ]
    file = Path("things.toml").read_text("utf-8")
    assert [line for line in file.splitlines() if line.startswith(("name", "thick"))] == [
        'name = "ruler"', "thickness = 1", 'name = "thing 2"', "thickness = 2.5",
        'name = "bone folder"', "thickness = 1.59",
    ]  # fmt: skip


@pytest.mark.parametrize("answers", ["", "1\nruler\n2\n"])
def test_where_nobody_answers_nothing_but_the_picture_is_written(run: Run, answers: str) -> None:
    result = run("bench.jpg", *GIVEN[:4], answers=answers)
    assert result.exit_code == 2
    assert result.stderr.endswith(
        "Error: found no answer; where nobody is there to be asked, give --thickness\n"
    )
    assert written() == {"things.png"}


def test_names_are_their_numbers_where_thickness_alone_is_given(run: Run) -> None:
    assert run("bench.jpg", *GIVEN[:6]).exit_code == 0
    assert list(tracing_items("things.toml")) == ["thing 1", "thing 2", "thing 3"]


def test_of_another_number_of_things_the_picture_shows_what_was_counted(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    told = Finding(
        "photo-count", Severity.ERROR, Where("bench.jpg"), "3 things", "4 things", "lay them apart"
    )

    def find(*_: Any, first: int, **__: Any) -> Found:
        raise PhotoError([told], found(tuple(THINGS), first=first))

    monkeypatch.setattr(tracing, "find", find)
    refused = run("./bench.jpg", *GIVEN[:2], "--count", "4")
    assert refused.exit_code == 1
    assert "things.png: what was found in bench.jpg, with numbers\n" in refused.stderr
    assert "error: found 3 things; allowed: 4 things; lay them apart [photo-count]" in refused.stderr
    assert written() == {"things.png"}
    assert cv2.imdecode(np.frombuffer(Path("things.png").read_bytes(), np.uint8), 1) is not None


def test_several_photos_go_on_counting(run: Run) -> None:
    words = (
        "--bars",
        "160,240",
        "--count",
        "1,3",
        "--thickness",
        "1,1,2,1",
        "--names",
        "rule,ruler,tin,knife",
    )
    result = run("a.jpg", "bench.jpg", *words, "-o", "carried.toml")
    assert result.exit_code == 0, result.output
    assert written() == {"carried.toml", "carried.svg", "carried.pdf", "carried-1.png", "carried-2.png"}
    text = Path("carried.toml").read_text("utf-8")
    assert re.findall(r"# (\d): .*; (\w+)\.jpg, ", text) == [
        ("1", "a"),
        ("2", "bench"),
        ("3", "bench"),
        ("4", "bench"),
    ]
    ids = [path.attrib["id"] for path in ET.parse("carried.svg").iter(f"{SVG}path")]
    assert ids == ["thing-1", "thing-2", "thing-3", "thing-4"]


REFUSED = [
    ((), "Missing option '--bars'."),
    (("--bars", "160,240"), "Missing option '--count'."),
    (
        ("--bars", "160", "--count", "3"),
        'Invalid value for --bars: found "160"; allowed: 2 lengths with commas between; write all 2, '
        "decimals with a point",
    ),
    (
        ("--bars", "160,240 yd", "--count", "3"),
        'Invalid value for --bars: found the unit "yd"; allowed: mm, cm, in; write "8640 in"',
    ),
    (
        ("--bars", "160,240", "--count", "3,1"),
        'Invalid value for --count: found "3,1"; allowed: 1 number from 1 to 100, one for each photo, with '
        "commas between; say how many things lie on each mat",
    ),
    (
        ("--bars", "160,240", "--count", "0"),
        'Invalid value for --count: found "0"; allowed: 1 number from 1 to 100, one for each photo, with '
        "commas between; say how many things lie on each mat",
    ),
    (
        (*GIVEN[:4], "--thickness", "1,2"),
        'Invalid value for --thickness: found "1,2"; allowed: 3 lengths with commas between; write all 3, '
        "decimals with a point",
    ),
    (
        (*GIVEN[:4], "--thickness", "1,0.1,2"),
        'Invalid value for --thickness: found "0.1"; allowed: a length from 0.2 to 3000 mm',
    ),
    (
        (*GIVEN[:6], "--names", "a,b"),
        'Invalid value for --names: found "a,b"; allowed: 3 names with commas between; name all things in '
        "the order of their numbers",
    ),
    (
        (*GIVEN[:6], "--names", "a,b,a"),
        'Invalid value for --names: found the name "a" twice; allowed: a name for each thing; change one',
    ),
    (
        (*GIVEN, "-o", "things.txt"),
        "Invalid value for -o: found 'things.txt'; allowed: a name that ends in .toml",
    ),
    (
        (*GIVEN, "--mat", "100x150mm"),
        "Invalid value for '--mat': found paper 100 × 150 mm for a mat; allowed: sides from 120 to 600 mm",
    ),
]


@pytest.mark.parametrize(("words", "told"), REFUSED)
def test_wrong_use_is_told_before_a_photo_is_looked_at(run: Run, words: tuple[str, ...], told: str) -> None:
    result = run("no.jpg", *words)
    assert (result.exit_code, written()) == (2, set())
    assert result.stderr.splitlines()[-1] == f"Error: {told}"


# The ruler, 20 wide, lies 90 to 110 mm beyond the foot of a lens 500 mm up: were it 120 thick, its far edge
# would be brought back by 24 % of that, 26 mm, over the near one.
@pytest.mark.parametrize(
    ("thick", "told"), [("120", "leaves nothing of what is seen"), ("126", "up to 125 mm")]
)
def test_a_thing_is_no_thicker_than_what_is_seen_allows(run: Run, thick: str, told: str) -> None:
    refused = run("bench.jpg", *GIVEN[:4], "--thickness", f"{thick},10,2.5")
    assert (refused.exit_code, written()) == (1, {"things.png"})
    assert f"found thing 1, {thick} mm thick" in refused.stderr
    assert told in refused.stderr


def test_what_a_maker_may_have_changed_is_not_written_over(run: Run) -> None:
    Path("things.svg").write_text("mended by hand")
    refused = run("bench.jpg", *GIVEN)
    assert (refused.exit_code, written()) == (3, {"things.svg"})
    assert refused.stderr == (
        "error: can't write things.svg: it is there already; name a new file, or say --force\n"
    )
    Path("things.png").write_bytes(b"the photo itself")
    refused = run("things.png", *GIVEN, "--force")
    assert refused.stderr == "error: can't write things.png: it is one of the photos; name another file\n"
    assert Path("things.png").read_bytes() == b"the photo itself"


@pytest.mark.parametrize("name", ["things.png", "things.pdf"])
def test_a_picture_that_handkit_did_not_write_stays_and_its_own_is_written_anew(run: Run, name: str) -> None:
    Path(name).write_bytes(b"another picture")
    refused = run("bench.jpg", *GIVEN[:4], answers="1\n\n2\n\n3\n\n")
    assert (refused.exit_code, written()) == (3, {name})
    assert "thickness" not in refused.stderr
    assert Path(name).read_bytes() == b"another picture"
    assert run("bench.jpg", *GIVEN, "--force").exit_code == 0
    assert cv2.imread("things.png") is not None
    for each in ("things.toml", "things.svg"):
        Path(each).unlink()
    assert run("bench.jpg", *GIVEN).exit_code == 0


def test_names_of_files_are_no_text_of_the_file_of_things(run: Run) -> None:
    """A name of bytes that are no UTF-8, and one that would end a comment."""
    odd = "b\udcff\nsize = [1, 1, 1]\u202e.jpg"
    Path(odd).write_bytes(b"b")
    assert run(odd, *GIVEN, "-o", "t\udcff.toml").exit_code == 0
    text = Path("t\udcff.toml").read_text("utf-8")
    assert r"; b\udcff\x0asize = [1, 1, 1]\u202e.jpg, marks" in text
    assert r"draw it anew in t\udcff.svg" in text
    assert list(tracing_items("t\udcff.toml")) == ["ruler", "tin", "knife"]


def test_a_photo_that_is_not_there_is_told(run: Run) -> None:
    result = run("no.jpg", *GIVEN)
    assert (result.exit_code, written()) == (3, set())
    assert result.stderr == "error: can't read no.jpg: No such file or directory\n"


def test_a_photo_that_does_not_do_is_told_and_nothing_written(tmp_path: Path) -> None:
    photo = tmp_path / "bench.jpg"
    photo.write_text("no picture")
    result = CliRunner().invoke(main, ["trace", str(photo), *GIVEN, "-o", str(tmp_path / "things.toml")])
    assert (result.exit_code, [path.name for path in tmp_path.iterdir()]) == (1, ["bench.jpg"])
    assert result.stderr == (
        f"{photo}: error: found no picture that can be read; allowed: JPEG or PNG; save it as JPEG or PNG, "
        "as large as the camera takes it [photo-file]\n"
    )


def python(code: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-c", code], cwd=cwd, capture_output=True, text=True, check=False)


def test_without_its_library_one_line_says_what_to_install(tmp_path: Path) -> None:
    words = ["trace", "bench.jpg", *GIVEN]
    code = f"import sys; sys.modules['cv2'] = None; from handkit.cli import main; main({words})"
    result = python(code, tmp_path)
    assert (result.returncode, result.stdout) == (3, "")
    assert result.stderr == (
        "error: can't read photos: the library for that isn't installed; pip install 'handkit[photo]'\n"
    )


def test_other_commands_load_nothing_of_it(tmp_path: Path) -> None:
    """The mat's measures and records are light; the photo's library and all that calls it are not."""
    (tmp_path / "tab.toml").write_text(
        'format = 1\n[material]\nthickness = 2\n[[piece]]\nname = "tab"\nrectangle = [80, 60]\n'
    )
    code = (
        "import sys\nfrom handkit.cli import main\n"
        "for words in (['make', 'tab.toml'], ['mat'], ['trace', '--help']):\n"
        "    main(words, standalone_mode=False)\n"
        "print([name for name in sys.modules if name.startswith(('cv2', 'handkit.photo'))])"
    )
    result = python(code, tmp_path)
    assert result.returncode == 0, result.stderr
    loaded = set(result.stdout.splitlines()[-1][2:-2].split("', '"))
    assert loaded <= {"handkit.photo", "handkit.photo.mat", "handkit.photo.traced"}
