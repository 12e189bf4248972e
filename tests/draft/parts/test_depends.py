"""One measure changed, all else kept: in the samples, what an item's part does not draft stays as it was."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import shapely
from written_places import with_its_places

from handkit.draft.drafter import draft
from handkit.draft.parts.part_kinds import CLOSES_OVER
from handkit.draft.pattern import Pattern, PatternPiece
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

SAMPLES = Path(__file__).parents[3] / "samples"
FILES = [SAMPLES / "orchard_pouch" / "pouch.toml", SAMPLES / "sketching_case" / "case.toml"]
ITEM = re.compile(r"\[\[item\]\]\nname = \"([^\"]+)\"\nin = \"([^\"]+)\"\n(size = \[|diameter = )([\d.]+)")


def read(text: str) -> Pattern:
    return draft(read_project_text(text, file="p.toml", folder=Path()))


def cases() -> list[object]:
    return [
        pytest.param(file, match, id=match[1])
        for file in FILES
        for match in ITEM.finditer(file.read_text("utf-8"))
    ]


def shape(piece: PatternPiece) -> object:
    """All of a piece that could move, but for what is carried on it."""
    return piece.outline, piece.letters, piece.lines, piece.folds, piece.placed, piece.marks


@pytest.mark.long
@pytest.mark.parametrize(("file", "match"), cases())
def test_a_wider_item_moves_its_own_part_alone(file: Path, match: re.Match[str]) -> None:
    """Its part's pieces, and that part's lines on the base; and what closes over it: nothing else."""
    text = with_its_places(file)
    wider = f"{match[0].removesuffix(match[4])}{float(match[4]) + 0.5}"
    before, after = read(text), read(text.replace(match[0], wider))
    (part,) = [each for each in before.project.parts if each.name == match[2]]
    drafted = {piece.name: piece.drafted_by for piece in before.project.pieces}
    moved = {
        piece.name
        for piece, other in zip(before.pieces, after.pieces, strict=True)
        if shape(piece) != shape(other)
    }
    assert moved
    over = {each.name for each in before.project.parts if each.kind in CLOSES_OVER}
    assert {name for name in moved if drafted[name] not in {part.name, *over}} <= {part.on}
    lines = {
        line.name
        for line, other in zip(
            before.piece(part.on or "").lines, after.piece(part.on or "").lines, strict=True
        )
        if line != other
    }
    assert all(name == part.name or name.startswith(f"{part.name} ") for name in lines)
    assert before.piece(part.on or "").outline == after.piece(part.on or "").outline or drafted[part.on or ""]


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_no_piece_lies_over_a_hole_it_is_not_sewn_through(file: Path) -> None:
    """What lies flat on another piece covers only holes that it shares; what is folded is sewn before."""
    punched = punch(read(file.read_text("utf-8")))
    seen = 0
    for piece in punched.pattern.pieces:
        own = piece if piece.bends or not piece.on else punched.pattern.piece(piece.on)
        for top, lie in punched.pattern.tops_of(piece.name):
            if own.bends and top.name == own.on:
                continue
            body = shapely.Polygon(top.outline.moved(lie).flattened(sagitta=0.01)).buffer(0.8)
            for seam, _, hole in punched.holes_of(piece.name):
                if body.contains(shapely.Point(hole.at)):
                    seen += 1
                    assert top.name in {layer.piece for layer in seam.layers}
    assert seen > 0


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_item_of_the_samples_fits(file: Path) -> None:
    """And no coordinate is typed for what is drafted: its tables add no points, lines or places."""
    pattern = read(file.read_text("utf-8"))
    assert {room.item for room in pattern.item_fits} == {item.name for item in pattern.project.items}
    assert {room.fit.value for room in pattern.item_fits} == {"fits"}
    drafted = [piece for piece in pattern.project.pieces if piece.drafted_by]
    assert len(drafted) >= 3
    assert all(set(piece.stated) <= {"name", "thickness", "note"} for piece in drafted)
