"""What a project file means: each value in mm, each default, each copy written out."""

from __future__ import annotations

import time
from collections.abc import Callable
from math import cos, pi, sin
from pathlib import Path

import pytest

from handkit.kinds.materials import Material
from handkit.kinds.openings import OpeningKind
from handkit.kinds.pages import Drawn, Straights, Windows
from handkit.kinds.stitches import StitchKind
from handkit.paper import Layout
from handkit.read.project import (
    Edges,
    Fibre,
    Hold,
    InnerLine,
    Iron,
    Project,
    Punching,
    RoundHole,
    Side,
    SlitHole,
    Spacing,
)
from handkit.read.reader import read_project, read_project_text
from handkit.read.schema.keys import TABLES
from handkit.read.schema.reference import reference_markdown
from handkit.read.values.letters import letter_names

HERE = Path(__file__).parent
Read = Callable[[str], Project]

FRONT = '[[piece]]\nname = "front"\nrectangle = [100, 80]\n'
BACK = '[[piece]]\nname = "back"\nrectangle = [120, 90]\n'
HEAD = "format = 1\nmaterial.thickness = 2\n"


@pytest.fixture
def every_key(tmp_path: Path) -> Project:
    (tmp_path / "fonts").mkdir()
    (tmp_path / "fonts" / "orchard.ttf").write_bytes(b"")
    text = (HERE / "every_key.toml").read_text("utf-8")
    return read_project_text(text, file="every_key.toml", folder=tmp_path)


def test_the_sketch_reads_as_it_is_meant() -> None:
    project = read_project(HERE / "sketch.toml")
    assert (project.name, project.title, project.copies, project.yield_share) == (
        "sketch",
        "Orchard pouch",
        1,
        0.75,
    )
    back, front, pocket = project.pieces
    assert [(corner.letter, corner.at, corner.radius) for corner in back.corners] == [
        ("A", (0.0, 0.0), 12.0),
        ("B", (200.0, 0.0), 12.0),
        ("C", (200.0, 270.0), 12.0),
        ("D", (0.0, 270.0), 12.0),
    ]
    assert back.lines[0] == InnerLine("left", ((30.0, 165.0), (30.0, 20.0)))
    assert (front.on, front.at, front.flat) == ("back", (26.0, 16.0), False)
    assert front.corners[3].at == (-18.0, 150.0)
    assert (pocket.thickness, pocket.material, pocket.flat) == (2.4, Material.FIRM_LEATHER, True)
    side, flat = project.seams
    assert side.bowed
    assert [(layer.piece, layer.run) for layer in side.layers] == [
        ("front", Edges(("D", "A"))),
        ("back", "left"),
    ]
    assert [layer.run for layer in flat.layers] == [Edges(("D", "A", "B", "C")), None]
    (rivet,) = project.openings
    assert (rivet.kind, rivet.diameter, rivet.cap, rivet.at) == (
        OpeningKind.RIVET,
        3.0,
        9.0,
        ((80.0, 250.0), (120.0, 250.0)),
    )
    # Two of the sketch's lines have no seam yet, and that is said.
    assert [finding.code for finding in project.findings] == ["line-unused", "line-unused"]


def test_every_key_is_in_the_file_of_every_key() -> None:
    names = ("every_key.toml", "every_part_key.toml")
    text = "".join((HERE / name).read_text("utf-8") for name in names)
    for schema in TABLES.values():
        for key in schema.keys if schema.name != "things" else ():  # see test_things.py
            assert f"{key} = " in text or f"[{key}]" in text or key == "items", (schema.name, key)


def test_every_key_is_read(every_key: Project) -> None:
    project = every_key
    assert project.findings == ()
    assert (project.title, project.copies, project.yield_share) == ("Orchard pouch", 2, 0.75)
    page = project.page
    assert (page.paper.width, page.paper.height, page.edge, page.margin, page.overlap) == (
        210,
        297,
        5,
        10,
        10,
    )
    assert page.font is not None
    assert page.font.endswith("orchard.ttf")
    assert page.layout == Layout(Windows.ONE_A_SHEET, Drawn.EACH, Straights.SHORTENED, 300, measured=True)
    back, front, pocket, lid, roll, disc, *_ = project.pieces
    assert (back.thickness, back.mark, back.grain_degrees) == (2.38125, Side.FLESH, 80.0)  # 6 x 25.4 / 64
    assert (back.corners[2].at, back.sagittas) == ((200.0, 266.7), (0.0, 12.0, 0.0, 0.0))  # 10 1/2 in
    assert [corner.radius for corner in back.corners] == [12.0, 12.0, 0.0, 0.0]
    assert [(str(trim.edges), trim.width) for trim in back.trims] == [("A-B", 2.0)]
    assert [(str(skive.edges), skive.width, skive.to) for skive in back.skives] == [("C-D", 12.0, 1.0)]
    assert (front.turn_degrees, front.turned_over, front.behind, front.flat) == (5.0, True, True, False)
    assert pocket.glued
    assert (lid.circle, lid.corners, lid.quantity, lid.material) == (60.0, (), 3, Material.FELT)
    works = [
        (each.work.value, str(each.edges), each.width, each.turns, each.turn_in, each.tape)
        for each in roll.works
    ]
    assert works == [
        ("hem", "A-B", 15.0, 2, 8.0, 0.0),
        ("hem", "B-C", 12.0, 1, 0.0, 0.0),
        ("turned", "C-D", 10.0, 1, 0.0, 0.0),
        ("binding", "D-A", 20.0, 0, 0.0, 0.5),
    ]
    assert [(each.work.value, each.width) for each in disc.works] == [("allowance", 12.0)]
    side, middle = project.seams
    assert side.layers[1].inset == 5.0
    assert (side.layers[1].from_start, side.layers[1].from_end) == (4.0, -4.0)
    assert [match.places for match in side.matches] == [("A", (30.0, 20.0)), (None, "B")]
    assert middle.after == ("side", "loop")
    sewn = middle.stitching
    assert (sewn.inset, sewn.thread, sewn.spacing, sewn.punch) == (5.0, 1.0, Spacing.EVEN, Punching.APART)
    assert (sewn.needle, sewn.tail, sewn.back, sewn.start_back) == (1.0, 177.8, 1, 1)  # 7 in
    assert (sewn.wrap_start, sewn.wrap_end, sewn.longest_side) == (2, 2, 1200.0)
    assert sewn.hole == SlitHole(2.5, 45.0)
    assert (sewn.stitch, sewn.left_handed, sewn.fibre) == (StitchKind.WHIP, False, Fibre.SYNTHETIC)
    assert (sewn.past_start, sewn.past_end, sewn.spool, sewn.iron) == (2.0, 0.0, 12_500.0, Iron(4, 4.0))
    common = side.stitching
    assert (common.stitch, common.left_handed, common.fibre) == (StitchKind.SADDLE, True, Fibre.LINEN)
    assert (sewn.hold, sewn.glue, common.hold, common.glue) == (Hold.CEMENT, 2.0, Hold.TAPE, 1.5)
    assert (common.spool, common.iron) == (25_000.0, Iron(6, 4.0))
    slot = project.openings[3]
    assert (slot.length, slot.diameter, slot.turn_degrees) == (30.0, 4.0, 90.0)
    assert slot.at == ((20.0, 20.0), (45.0, 20.0), (70.0, 20.0), (95.0, 20.0), (120.0, 20.0))


def test_defaults(read: Read) -> None:
    project = read(HEAD + FRONT + BACK + '[[seam]]\nname = "side"\nruns = ["front: A-B", "back: A-B"]')
    sewn = project.seams[0].stitching
    assert (sewn.pitch, sewn.inset, sewn.thread, sewn.tail, sewn.longest_side) == (4, 4, 0.8, 180, 1500)
    assert (sewn.spacing, sewn.punch, sewn.hole) == (Spacing.EVEN, Punching.APART, RoundHole(1.6))
    assert (sewn.needle, sewn.back, sewn.start_back, sewn.wrap_start, sewn.wrap_end) == (None, 2, 0, 0, 0)
    page = project.page
    assert (page.paper.name, page.edge, page.margin, page.overlap, page.font) == ("A4", 5, 10, 10, None)
    assert page.layout == Layout(Windows.SHARED, Drawn.ONCE, Straights.WHOLE)
    front = project.pieces[0]
    assert (front.material, front.quantity, front.mark) == (Material.FIRM_LEATHER, 1, Side.GRAIN)
    assert (front.grain_degrees, front.flat, front.on, front.at) == (90.0, True, None, (0.0, 0.0))
    assert (project.name, project.title, project.copies, project.yield_share) == ("p", "p", 1, 0.75)


@pytest.mark.parametrize(
    ("common", "own", "back", "hole"),
    [
        ("", "", 2, 1.6),
        ("pitch = 3", "", 3, 1.6),  # back stitches: three at pitch 3 mm and finer (common practice)
        ("", "pitch = 2.7", 3, 1.6),
        ("pitch = 3", "pitch = 3.38", 2, 1.6),
        ("back = 4", "pitch = 3", 4, 1.6),
        ("", "thread = 1", 2, 2.0),  # a round hole is two threads wide unless said (common practice)
        ("thread = 0.6", "", 2, 1.2),
        ("hole = { round = 1.5 }", "thread = 1", 2, 1.5),
        ("hole = { round = 1.5 }", "hole = { round = 1.7 }", 2, 1.7),
    ],
)
def test_a_seam_goes_before_the_stitching_of_all(
    common: str, own: str, back: int, hole: float, read: Read
) -> None:
    seam = f'[[seam]]\nname = "s"\nruns = ["front: A-B", "front: C-D"]\n{own}'
    text = f"{HEAD}[stitching]\n{common}\n{FRONT}{seam}"
    sewn = read(text).seams[0].stitching
    assert (sewn.back, sewn.hole) == (back, RoundHole(hole))


def test_plain_numbers_are_in_the_unit_of_the_file(read: Read) -> None:
    text = (
        'format = 1\nunit = "in"\nmaterial.thickness = "8 oz"\n[[piece]]\nname = "tab"\n'
        'points = [[0, 0], [2.25, 0], ["57.15 mm", 1]]\nround = 0.125\n'
    )
    tab = read(text).pieces[0]
    assert [corner.at for corner in tab.corners] == [(0, 0), (57.15, 0), (57.15, 25.4)]
    assert (tab.corners[0].radius, tab.thickness) == (3.175, 3.175)  # 1/8 in; 8 oz is 1/8 in
    assert read(text.replace('"in"', '"cm"')).pieces[0].corners[1].at == (22.5, 0)
    assert read(text).page.margin == 10  # a default is mm, whatever the unit


def test_several_of_a_piece_may_be_sewn_to_themselves(told: Callable[[str], list[str]]) -> None:
    """Ten key fobs, each folded over and sewn to itself, need no copies."""
    fob = HEAD + '[[piece]]\nname = "fob"\nrectangle = [150, 25]\nquantity = 10\n'
    fob += '[[seam]]\nname = "s"\nruns = ["fob: A-B", "fob: C-D"]\n'
    fob += '[[opening]]\nname = "o"\nkind = "eyelet"\nhole = 5\nthrough = ["fob"]\nat = [[12, 12]]\n'
    assert told(fob) == []


def test_a_line_is_used_where_a_copy_s_seam_runs_along_it(told: Callable[[str], list[str]]) -> None:
    text = HEAD + FRONT + "lines = { mid = [[50, 10], [50, 70]] }\n"
    text += '[[piece]]\nname = "b"\ncopy = "front"\n[[piece]]\nname = "c"\ncopy = "b"\n'
    seam = '[[seam]]\nname = "s"\nruns = ["c: mid", "b: A-B"]\n'
    assert told(text + seam) == []
    assert [line.split()[-1] for line in told(text)] == ["[line-unused]"]


def test_a_mirrored_copy_has_x_turned_and_its_letters_on_their_corners(read: Read) -> None:
    project = read(
        HEAD
        + '[[piece]]\nname = "left"\npoints = [[0, 0], [30, 0], [20, 90]]\nround = { B = 4 }\n'
        + 'arc = { "C-A" = 5 }\nlines = { mid = [[10, 5], [10, 50]] }\nfolds = { f = [[5, 0], [5, 60]] }\n'
        + 'trim = { "A-B" = 2 }\nskive = { "B-C" = { width = 8, to = 1 } }\ngrain = 60\nnote = "n"\n'
        + 'mark = "flesh"\nkind = "soft leather"\nquantity = 3\nthickness = 3\n'
        + '[[piece]]\nname = "right"\ncopy = "left"\nmirrored = true\n'
    )
    left, right = project.pieces
    assert [(corner.letter, corner.at, corner.radius) for corner in right.corners] == [
        ("A", (0.0, 0.0), 0.0),
        ("B", (-30.0, 0.0), 4.0),
        ("C", (-20.0, 90.0), 0.0),
    ]
    assert str(right.corners[0].at[0]) == "0.0"  # and not -0.0
    assert right.sagittas == left.sagittas == (0.0, 0.0, 5.0)
    assert right.lines[0].points == ((-10.0, 5.0), (-10.0, 50.0))
    assert right.folds[0].points == ((-5.0, 0.0), (-5.0, 60.0))
    assert (right.trims, right.skives) == (left.trims, left.skives)
    assert right.grain_degrees == 120.0  # an arrow at 60 degrees, mirrored in the y axis
    assert (right.thickness, right.material, right.mark, right.note) == (
        3,
        Material.SOFT_LEATHER,
        Side.FLESH,
        "n",
    )
    assert (right.quantity, right.copy_of, right.mirrored) == (1, "left", True)


def test_a_copy_may_say_anything_but_the_outline_itself(read: Read) -> None:
    text = (
        HEAD
        + FRONT
        + "lines = { a = [[10, 5], [10, 50]] }\ngrain = 60\nskive = { A-B = { width = 8, to = 1 } }\n"
    )
    text = text.replace("A-B", '"A-B"')
    text += (
        '[[piece]]\nname = "other"\ncopy = "front"\nmirrored = true\nlines = { b = [[20, 5], [20, 50]] }\n'
    )
    text += 'grain = 30\nthickness = "3 mm"\nskive = {}\nnote = "x"\nkind = "canvas"\nmark = "flesh"\n'
    other = read(text).pieces[1]
    assert other.lines == (InnerLine("b", ((20.0, 5.0), (20.0, 50.0))),)  # as written, in its own frame
    assert (other.grain_degrees, other.thickness, other.skives) == (30.0, 3.0, ())
    assert (other.note, other.material, other.mark) == ("x", Material.CANVAS, Side.FLESH)


def test_copies_of_copies_are_followed_wherever_they_stand(read: Read) -> None:
    text = HEAD + '[[piece]]\nname = "c"\ncopy = "b"\nmirrored = true\n[[piece]]\nname = "b"\ncopy = "a"\n'
    text += 'mirrored = true\n[[piece]]\nname = "a"\nrectangle = [40, 20]\nround = 3\n'
    third, second, first = read(text).pieces
    assert third.corners == first.corners  # mirrored twice
    assert second.corners[1].at == (-40.0, 0.0)


def test_placement_is_not_copied(read: Read) -> None:
    text = (
        HEAD
        + BACK
        + FRONT
        + 'on = "back"\nat = [1, 2]\nturn = 90\nturned_over = true\nbehind = true\nflat = false\n'
    )
    text += '[[piece]]\nname = "other"\ncopy = "front"\n'
    other = read(text).pieces[2]
    assert (other.on, other.at, other.turn_degrees) == (None, (0, 0), 0)
    assert (other.turned_over, other.behind, other.flat) == (False, False, True)


def test_a_copy_thinner_than_the_skive_it_takes_is_told(told: Callable[[str], list[str]]) -> None:
    text = HEAD + FRONT + 'skive = { "A-B" = { width = 8, to = 1 } }\n'
    text += '[[piece]]\nname = "other"\ncopy = "front"\nthickness = 0.8\n'
    assert told(text) == [
        'p.toml:10: error: piece "other": thickness: found skived to 1 mm; allowed: less than the piece\'s '
        "thickness, 0.8 mm; make it smaller [skive-not-thinner]"
    ]


def test_names_are_one_however_their_accents_are_written(read: Read) -> None:
    text = HEAD + '[[piece]]\nname = "cafe\\u0301"\nrectangle = [100, 80]\n'
    text += '[[seam]]\nname = "s"\nruns = ["caf\\u00e9: A-B", "caf\\u00e9: C-D"]'
    project = read(text)
    assert project.pieces[0].name == project.seams[0].layers[0].piece == "caf\u00e9"


@pytest.mark.parametrize(
    ("run", "piece", "where"),
    [
        ('"front: D - A"', "front", Edges(("D", "A"))),
        ('"front:D-A"', "front", Edges(("D", "A"))),
        ('" front : A-B-C-D-A "', "front", Edges(("A", "B", "C", "D", "A"))),
        ('"front: A-D-C-B-A"', "front", Edges(("A", "D", "C", "B", "A"))),
        ('"front: C-D-A-B"', "front", Edges(("C", "D", "A", "B"))),
        ('"lid: A-A"', "lid", Edges(("A", "A"))),
        ('"front: left side"', "front", "left side"),
        ('{ run = "front: A-B" }', "front", Edges(("A", "B"))),
    ],
)
def test_runs(run: str, piece: str, where: Edges | str, read: Read) -> None:
    text = HEAD + FRONT + 'lines = { "left side" = [[10, 10], [10, 70]] }\n'
    text += '[[piece]]\nname = "lid"\ncircle = 60\n'
    text += f'[[seam]]\nname = "s"\nruns = [{run}, "lid"]\n'
    layer = read(text).seams[0].layers[0]
    assert (layer.piece, layer.run) == (piece, where)


def test_letters_go_on_behind_z(read: Read) -> None:
    points = ", ".join(f"[{i}, {i * i}]" for i in range(30))
    text = f'{HEAD}[[piece]]\nname = "p"\npoints = [{points}]\n[[seam]]\nname = "s"\n'
    run = read(text + 'runs = ["p: Y-Z-AA-AB", "p: AD-A-B"]').seams[0].layers
    assert [str(layer.run) for layer in run] == ["Y-Z-AA-AB", "AD-A-B"]


def test_rows_are_written_out_place_by_place(read: Read) -> None:
    text = (
        HEAD
        + FRONT
        + BACK
        + '[[opening]]\nname = "o"\nkind = "tongue"\nhole = 4\nthrough = ["front", "back"]\n'
    )
    text += 'at = [[0, 5], [1, 6]]\nrow = [3, "1 in", 0.1]\n'
    text += "places = { back = [[0, 0], [1, 0], [2, 0], [3, 0], [4, 0], [5, 0]] }"
    (opening,) = read(text).openings
    assert opening.at == ((0, 5), (25.4, 5.1), (50.8, 5.2), (1, 6), (26.4, 6.1), (51.8, 6.2))
    assert opening.places == (("back", ((0, 0), (1, 0), (2, 0), (3, 0), (4, 0), (5, 0))),)


@pytest.mark.parametrize(
    ("line", "cap"),
    [(16, 10.16), (20, 12.7), (24, 15.24), (27, 17.145)],  # 1/40 in: button and dry-goods dictionaries
)
def test_a_snap_s_line_is_its_cap(line: int, cap: float, read: Read) -> None:
    text = HEAD + FRONT
    for name, mate in (("cap", "stud"), ("stud", "cap")):
        text += f'[[opening]]\nname = "{name}"\nkind = "snap"\nhole = 4\nline = {line}\nmate = "{mate}"\n'
        text += 'through = ["front"]\nat = [[20, 20]]\n'
    assert [opening.cap for opening in read(text).openings] == [cap, cap]


def test_entries_know_the_lines_of_their_keys_and_of_what_they_take_over(read: Read) -> None:
    project = read(
        "format = 1\n"  # 1
        "[material]\nthickness = 2\n"  # 2
        "[stitching]\n\npitch = 5\n"  # 4, 6
        '[[piece]]\nname = "front"\nrectangle = [100, 80]\nround = 4\n'  # 7, 10
        '[[piece]]\nname = "back"\ncopy = "front"\nnote = "n"\n'  # 11
        '[[seam]]\nname = "s"\nruns = [\n  "front: A-B",\n  { run = "back: A-B", inset = 5 },\n]\n'  # 15
    )
    front, back = project.pieces
    assert (front.source.line, front.source.at("round").line, front.source.at("on").line) == (7, 10, 7)
    assert (back.source.at().key, back.source.at("round").key) == ('piece "back"', 'piece "back": round')
    assert (back.source.at("round").line, back.source.at("note").line) == (10, 14)  # the other's, its own
    (seam,) = project.seams
    assert (seam.source.line, seam.source.at("pitch").line) == (15, 6)
    first, second = seam.layers
    assert (first.source.at().key, first.source.at().line) == ('seam "s": run "front: A-B"', 18)
    assert (second.source.at().line, second.source.at("inset").line) == (19, 19)
    assert project.source.at("format").line == 1


def test_the_name_of_the_project_is_the_file_s(read: Read) -> None:
    text = HEAD + FRONT
    for file, name in (("a/b/pouch.toml", "pouch"), ("pouch.v2.toml", "pouch.v2"), ("pouch", "pouch")):
        assert read_project_text(text, file=file, folder=Path()).name == name


def test_a_project_of_two_hundred_lines_takes_no_time() -> None:
    piece = '[[piece]]\nname = "p{0}"\nrectangle = [100, 80]\nround = {{ A = 5 }}\non = "p0"\nat = [1, 2]\n'
    seam = '[[seam]]\nname = "s{0}"\nruns = ["p{0}: D-A-B-C", "p0"]\npitch = 4\n'
    text = HEAD + piece.format(0).replace('on = "p0"\nat = [1, 2]\n', "")
    text += "".join(piece.format(i) + seam.format(i) for i in range(1, 20))
    assert 190 < text.count("\n") < 230
    times = []
    for _ in range(5):
        begin = time.process_time()
        read_project_text(text, file="p.toml", folder=Path())
        times.append(time.process_time() - begin)
    assert min(times) < 0.03


def test_the_reference_tells_every_key_and_its_range() -> None:
    text = reference_markdown()
    for schema in TABLES.values():
        for key in schema.keys.values():
            assert f"| `{key.name}` | {key.allowed} |" in text
    assert text.count("\n| `") == sum(len(schema.keys) for schema in TABLES.values())


def test_defaults_lie_in_their_own_range() -> None:
    for schema in TABLES.values():
        for key in schema.keys.values():
            if isinstance(key.default, int | float) and not isinstance(key.default, bool):
                assert key.least <= key.default <= key.most, key
            if key.choices and key.default is not None:
                assert key.default in key.choices
            assert not (key.required and key.default is not None)


def test_a_run_goes_round_an_outline_of_many_corners(read: Callable[[str], Project]) -> None:
    """Two hundred corners: their letters alone are longer than a line of text may be."""
    letters = letter_names(200)
    points = [[200 * cos(2 * pi * k / 200), 200 * sin(2 * pi * k / 200)] for k in range(200)]
    run = "-".join((*letters, "A"))
    project = read(
        f'format = 1\n[material]\nthickness = 2\n[[piece]]\nname = "disc"\npoints = {points}\n'
        f'[[seam]]\nname = "rim"\nruns = ["disc: {run}"]\n'
    )
    assert project.seams[0].layers[0].run == Edges((*letters, "A"))
