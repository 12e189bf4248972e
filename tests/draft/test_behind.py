"""Parts on the far side of their base: all that they put on it is the mirror image of the near side's."""

from __future__ import annotations

from pathlib import Path

import pytest

from handkit.draft.drafter import draft
from handkit.draft.pattern import Pattern
from handkit.read.reader import read_project_text

MIDDLE = 200.0
SIZES = {
    "flat pocket": "size = [40, 3, 120]",
    "bowed pocket": "size = [80, 20, 90]",
    "boxed pocket": "size = [70, 30, 120]",
    "holder row": "diameter = 16\nlength = 120",
}
MORE = {"bowed pocket": "rivets = true", "boxed pocket": "round = 24"}


def drafted(kind: str, *, x: float, behind: bool) -> Pattern:
    text = f"""format = 1
[material]
thickness = 1.6
[[piece]]
name = "back"
rectangle = [{2 * MIDDLE}, 400]
[[part]]
name = "part"
kind = "{kind}"
on = "back"
at = [{x}, 60]
behind = {str(behind).lower()}
{MORE.get(kind, "")}
[[item]]
name = "thing"
in = "part"
{SIZES[kind]}
"""
    return draft(read_project_text(text, file="p.toml", folder=Path()))


@pytest.fixture(params=SIZES)
def pair(request: pytest.FixtureRequest) -> tuple[Pattern, Pattern]:
    """The same part at the same place from the base's middle, near and far."""
    near = drafted(request.param, x=MIDDLE - 150, behind=False)
    return near, drafted(request.param, x=MIDDLE + 150, behind=True)


def mirrored(points: tuple[tuple[float, float], ...]) -> list[float]:
    return [value for x, y in points for value in (2 * MIDDLE - x, y)]


def test_lines_and_items_on_the_base_are_mirror_images(pair: tuple[Pattern, Pattern]) -> None:
    near, far = (pattern.piece("back") for pattern in pair)
    paths = [
        [*(line.path for line in piece.lines), *(item.path for item in piece.items)] for piece in (near, far)
    ]
    assert len(paths[0]) == len(paths[1]) > 0
    for one, other in zip(*paths, strict=True):
        found = [value for at in other.flattened(sagitta=0.1) for value in at]
        assert found == pytest.approx(mirrored(one.flattened(sagitta=0.1)))


def test_openings_on_the_base_are_mirror_images(pair: tuple[Pattern, Pattern]) -> None:
    places = [
        tuple(place.at for opening in pattern.openings for place in opening.places if place.piece == "back")
        for pattern in pair
    ]
    assert [value for at in places[1] for value in at] == pytest.approx(mirrored(places[0]))


def test_its_pieces_keep_their_shape_and_lie_under_the_base(pair: tuple[Pattern, Pattern]) -> None:
    near, far = pair
    for piece in near.pieces[1:]:
        other = far.piece(piece.name)
        assert other.outline == piece.outline
        assert (piece.level > 0, other.level < 0) == (True, True)
