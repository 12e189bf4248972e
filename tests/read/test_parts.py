"""Items and parts as read, and what parts promise: pieces, lines, seams and openings with no shape yet."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from handkit.read.parts.part_kinds import KINDS
from handkit.read.project import Ease, PartKind, Project
from handkit.read.schema.reference import reference_markdown

HERE = Path(__file__).parent
Read = Callable[[str], Project]

BASE = """format = 1
[material]
thickness = 2
[[piece]]
name = "back"
rectangle = [200, 200]
"""
POCKET = """[[part]]
name = "pocket"
kind = "flat pocket"
on = "back"
[[item]]
name = "rule"
in = "pocket"
size = [30, 1, 150]
"""


def test_a_part_that_may_do_without_a_base_needs_no_piece_of_the_file(read: Read) -> None:
    """A sheath hangs on a belt, or lies on a piece; that a pocket needs one, `bad_parts.txt` tells."""
    blade = "size = [20, 3, 90]\n"
    for belt in ("", "belt = 40\n"):
        text = f'format = 1\n[material]\nthickness = 2\n[[part]]\nname = "s"\nkind = "sheath"\n{belt}'
        assert read(f'{text}[[item]]\nname = "knife"\nin = "s"\n{blade}').pieces[0].name == "s"


# What is told of a thing in a pocket, and of one in a sheath, by its name and keys.
EDGES = [
    ("rule", "", None),
    ("paring chisel", "", "note"),
    ("paring chisel", 'cutting = "covered"', None),
    ("rule", 'cutting = "bare"', "warning"),
    ("rule", "tip = 20", "warning"),
    ("rule", 'tip = 20\ncutting = "covered"', None),
]


@pytest.mark.parametrize(("name", "more", "weight"), EDGES)
def test_a_bare_edge_has_its_word_but_in_a_sheath(
    read: Read, name: str, more: str, weight: str | None
) -> None:
    item = POCKET.replace('"rule"', f'"{name}"') + more
    told = [each.severity.value for each in read(BASE + item).findings if each.code == "edge-bare"]
    assert told == ([weight] if weight else [])
    sheath = item.replace("flat pocket", "sheath").replace("[30, 1, 150]", "[30, 3, 150]")
    assert not [each for each in read(BASE + sheath).findings if each.code == "edge-bare"]


@pytest.fixture
def whole(read: Read) -> Project:
    return read((HERE / "every_part_key.toml").read_text("utf-8"))


# Part: pieces with letters, lines on them and on the base, seams with runs.
PROMISES = {
    "belt loop": {
        "pieces": {"belt loop": ("ABCD", ["belt loop low", "belt loop high"])},
        "seams": {
            "belt loop, low": ["belt loop: belt loop low", "back: belt loop low"],
            "belt loop, high": ["belt loop: belt loop high", "back: belt loop high"],
        },
    },
    "hook sheath": {
        "pieces": {
            "hook sheath": ("ABCDEFGHIJK", ["hook sheath loop"]),
            "hook sheath welt": ("ABCDEFGH", []),
            "hook sheath guard": ("ABCD", []),
        },
        "seams": {
            "hook sheath": ["hook sheath: A-B-C-D", "hook sheath welt", "hook sheath"],
            "hook sheath loop": ["hook sheath: hook sheath loop", "hook sheath"],
        },
    },
    "knife sheath": {
        "pieces": {
            "knife sheath": ("ABCDEFGHIJKLM", ["knife sheath hang", "knife sheath strap"]),
            "knife sheath welt": ("ABCDEFGHIJ", []),
            "knife sheath strap": ("ABCD", ["knife sheath strap"]),
            "knife sheath guard": ("ABCD", []),
        },
        "seams": {
            "knife sheath": ["knife sheath: A-B-C-D-E", "knife sheath welt", "knife sheath"],
            "knife sheath hang": ["knife sheath: knife sheath hang", "back"],
            "knife sheath strap": [
                "knife sheath strap: knife sheath strap",
                "knife sheath: knife sheath strap",
            ],
        },
    },
    "lid": {
        "pieces": {"lid": ("ABCD", ["lid"]), "lid tab": ("ABCD", [])},
        "seams": {"lid": ["lid: lid", "back"]},
    },
    "riveted loop": {"pieces": {"riveted loop": ("ABCD", [])}, "seams": {}},
    "sling": {
        "pieces": {"sling": ("ABCD", ["sling"])},
        "seams": {"sling": ["sling: sling", "back", "sling"]},
    },
    "rule pocket": {
        "pieces": {"rule pocket": ("ABCD", ["rule pocket 1"])},
        "seams": {
            "rule pocket": ["rule pocket: D-A-B-C", "back"],
            "rule pocket 1": ["rule pocket: rule pocket 1", "back"],
        },
    },
    "flap lining": {"pieces": {"flap lining": ("ABCD", [])}, "seams": {}},
    "tools": {
        "pieces": {"tools strap": ("ABCD", ["tools 1", "tools 2"])},
        "seams": {
            "tools 1": ["tools strap: tools 1", "label pocket: tools 1"],
            "tools 2": ["tools strap: tools 2", "label pocket: tools 2"],
        },
    },
}


@pytest.mark.parametrize("part", PROMISES)
def test_what_a_part_promises(whole: Project, part: str) -> None:
    promise = PROMISES[part]
    pieces = {
        piece.name: ("".join(corner.letter for corner in piece.corners), [line.name for line in piece.lines])
        for piece in whole.pieces
        if piece.drafted_by == part
    }
    assert pieces == promise["pieces"]
    seams = {seam.name: [layer.text for layer in seam.layers] for seam in whole.seams}
    own = {name: runs for name, runs in seams.items() if runs and runs[0].startswith(tuple(pieces))}
    assert own == promise["seams"]


def test_settings_and_sizes_are_in_mm(whole: Project) -> None:
    parts = {part.name: part for part in whole.parts}
    rule, box = parts["rule pocket"], parts["pencil box"]
    assert (rule.kind, rule.on, rule.at, rule.turn_degrees) == (
        PartKind.FLAT_POCKET,
        "back",
        (10.0, 12.0),
        90.0,
    )
    assert (rule.length("width"), rule.length("height"), rule.ease) == (90.0, 101.6, Ease(share=0.05))
    assert (rule.flag("dividers"), rule.length("mouth"), rule.word("gusset")) == (True, None, "")
    assert (box.word("gusset"), box.ease, box.length("shows")) == ("turned", None, 25.0)
    items = {item.name: item for item in whole.items}
    assert (items["scriber"].diameter, items["scriber"].length) == (6.0, 152.4)
    assert (items["steel rule"].width, items["steel rule"].thickness) == (30.0, 1.0)
    assert items["awl"].section[0] == (-10.0, 0.0)  # moved to stand about x = 0


def test_a_table_of_a_promised_name_adds_to_it(whole: Project) -> None:
    piece = next(piece for piece in whole.pieces if piece.name == "label pocket")
    assert (piece.drafted_by, piece.thickness, piece.on, piece.flat) == ("label pocket", 1.2, "back", False)
    assert piece.stated == ("thickness", "lines", "trim")
    assert [line.name for line in piece.lines] == ["hem", "tools 1", "tools 2"]
    seam = next(seam for seam in whole.seams if seam.name == "rule pocket")
    assert seam.stitching.pitch == 3.0
    rivets = next(opening for opening in whole.openings if opening.name == "label pocket rivets")
    assert (rivets.diameter, rivets.cap, rivets.through) == (3.0, 9.0, ("label pocket", "back"))


def test_a_lining_is_sewn_in_with_the_seams_it_names(whole: Project) -> None:
    hem = next(seam for seam in whole.seams if seam.name == "flap hem")
    assert [(layer.piece, layer.run is None) for layer in hem.layers] == [
        ("flap", False),
        ("flap lining", True),
    ]


def test_promised_pieces_stand_where_their_part_does(read: Read) -> None:
    """Among layers of one side the file's order counts, and a part stands in it."""
    late = (
        '[[piece]]\nname = "tab"\nrectangle = [20, 20]\non = "back"\n[[piece]]\nname = "pocket"\nround = 4\n'
    )
    project = read(BASE + POCKET + late)
    assert [piece.name for piece in project.pieces] == ["back", "pocket", "tab"]
    assert [corner.radius for corner in project.pieces[1].corners] == [4.0] * 4


def test_other_entries_name_what_is_promised(read: Read) -> None:
    more = """[[piece]]
name = "tab"
rectangle = [20, 20]
on = "pocket"
[[piece]]
name = "twin"
copy = "pocket"
[[seam]]
name = "tab"
runs = ["tab: A-B", "pocket"]
after = ["pocket"]
[[opening]]
name = "hole"
kind = "eyelet"
hole = 3
cap = 6
through = ["pocket", "back"]
at = [[5, 5]]
"""
    project = read(BASE + POCKET + more)
    twin = next(piece for piece in project.pieces if piece.name == "twin")
    assert [corner.letter for corner in twin.corners] == ["A", "B", "C", "D"]
    assert project.seams[1].after == ("pocket",)


def test_a_lining_of_a_circle_has_its_letter(read: Read) -> None:
    disc = '[[piece]]\nname = "lid"\ncircle = 60\n[[part]]\nname = "felt"\nkind = "lining"\nof = "lid"\n'
    project = read(BASE + disc)
    assert [layer.text for layer in project.seams[0].layers] == ["felt: A-A", "lid"]


def test_files_without_parts_have_none(read: Read) -> None:
    project = read(BASE)
    assert (project.items, project.parts) == ((), ())
    assert all(piece.drafted_by is None and piece.stated == () for piece in project.pieces)


def test_every_kind_and_what_it_drafts_is_in_the_reference() -> None:
    text = reference_markdown()
    for kind, row in KINDS.items():
        assert f"| {kind.value} |" in text
        assert row.drafts in text
