"""Laws of the drafting, on random outlines with arcs, rounded corners and notches."""

from __future__ import annotations

import re
from math import cos, hypot, pi, sin
from types import SimpleNamespace
from typing import Any

import msgspec
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from handkit.draft.drafter import draft
from handkit.draft.pattern import PatternPiece, Run
from handkit.errors import ProjectError
from handkit.geometry.affine import Point
from handkit.geometry.path import Path
from handkit.read.project import Corner, InnerLine, Piece
from handkit.read.values.letters import letter_names

law = settings(derandomize=True, deadline=None, max_examples=60)


@st.composite
def shapes(draw: st.DrawFn) -> dict[str, Any]:
    """What `make.piece` takes: a star whose corners may be notches, either way round."""
    count = draw(st.integers(3, 8))
    size = draw(st.integers(30, 120))
    points = []
    for k in range(count):
        turn = 2 * pi * (k + draw(st.floats(-0.3, 0.3))) / count
        reach = size * draw(st.floats(0.5, 1.2))
        points.append((round(reach * cos(turn), 2), round(reach * sin(turn), 2)))
    if draw(st.booleans()):
        points.reverse()
    names = letter_names(count)
    arcs = {
        f"{names[k]}-{names[(k + 1) % count]}": draw(st.sampled_from([4.0, -4.0, 12.0]))
        for k in draw(st.sets(st.integers(0, count - 1), max_size=2))
    }
    radii = {n: draw(st.sampled_from([0.0, 2.0, 4.0, 5.0, 12.0])) for n in names}
    return {"points": points, "arc": arcs, "round": radii}


@st.composite
def runs(draw: st.DrawFn, count: int) -> str:
    """Letters of a run, either way round, open or closed."""
    names = letter_names(count)
    first, steps = draw(st.integers(0, count - 1)), draw(st.integers(1, count))
    way = draw(st.sampled_from([1, -1]))
    return "-".join(names[(first + way * k) % count] for k in range(steps + 1))


@st.composite
def cases(draw: st.DrawFn) -> tuple[dict[str, Any], str, float]:
    """A shape, a run on it, an inset."""
    shape = draw(shapes())
    return shape, draw(runs(len(shape["points"]))), draw(st.sampled_from([2.0, 4.0, 7.0]))


def drafted(make: SimpleNamespace, piece: Piece, text: str, inset: float) -> tuple[PatternPiece, Run]:
    """The piece and its run; examples that can't be drawn are passed over."""
    letters = [[letter] for letter in dict.fromkeys(text.split("-"))]
    seam = make.seam(make.layer(f"front: {text}", inset=inset), match=letters)
    try:
        pattern = draft(make.project(piece, seam))
    except ProjectError:
        assume(False)
    return pattern.pieces[0], pattern.seams[0].runs[0]


def line(run: Run) -> Path:
    assert run.path is not None
    return run.path


def off(path: Path, at: Point) -> float:
    near = path.point_at(path.along_of(at))
    return hypot(near[0] - at[0], near[1] - at[1])


def edges_of(piece: PatternPiece, text: str) -> Path:
    """The run's part of the outline, found by its letters' places alone."""
    names = text.split("-")
    at = {letter.name: piece.outline.along_of(letter.at) for letter in piece.letters}
    order = [letter.name for letter in piece.letters]
    if order[(order.index(names[0]) + 1) % len(order)] != names[1]:
        names.reverse()
    first, last = at[names[0]], at[names[-1]]
    return piece.outline.between(first, last if last > first + 1e-6 else last + piece.outline.length)


@law
@given(case=cases())
def test_every_place_of_a_stitch_line_is_the_inset_from_its_edges(
    make: SimpleNamespace, case: tuple[dict[str, Any], str, float]
) -> None:
    """And no nearer to its letters; where it goes all round, from every edge of the piece."""
    shape, text, inset = case
    piece, run = drafted(make, make.piece(**shape), text, inset)
    edges = edges_of(piece, text)
    assert not run.path or run.path.closed == (text[0] == text[-1])
    for k in range(41):
        at = line(run).point_at(line(run).length * k / 40)
        assert off(edges, at) == pytest.approx(inset, abs=5e-6)


@law
@given(case=cases())
def test_an_open_run_ends_at_the_inset_from_its_neighbours(
    make: SimpleNamespace, case: tuple[dict[str, Any], str, float]
) -> None:
    """So that a seam on the other side of the corner is no nearer than it should be."""
    shape, text, inset = case
    names = text.split("-")
    assume(names[0] != names[-1] and len(names) < len(shape["points"]))
    piece, run = drafted(make, make.piece(**shape), text, inset)
    whole = piece.outline
    for at, letter in ((line(run).start, names[0]), (line(run).end, names[-1])):
        stands = next(each.at for each in piece.letters if each.name == letter)
        along = whole.along_of(stands)
        around = whole.between(along + whole.length - 1.0, along + whole.length + 1.0)
        assert off(around, at) > inset - 5e-6


@law
@given(case=cases())
def test_a_mirrored_piece_has_the_mirrored_stitch_line(
    make: SimpleNamespace, case: tuple[dict[str, Any], str, float]
) -> None:
    shape, text, inset = case
    piece = make.piece(**shape)
    corners = tuple(Corner(c.letter, (-c.at[0], c.at[1]), c.radius) for c in piece.corners)
    other = msgspec.structs.replace(piece, corners=corners, mirrored=True)
    _, run = drafted(make, piece, text, inset)
    _, mirrored = drafted(make, other, text, inset)
    assert mirrored.inside == -run.inside
    assert mirrored.corners == pytest.approx(run.corners, abs=1e-6)
    assert mirrored.meets == pytest.approx(run.meets, abs=1e-6)
    for k in range(21):
        x, y = line(run).point_at(line(run).length * k / 20)
        assert line(mirrored).point_at(line(run).length * k / 20) == pytest.approx((-x, y), abs=1e-6)


@law
@given(case=cases())
def test_a_run_named_backwards_is_the_same_line_the_other_way(
    make: SimpleNamespace, case: tuple[dict[str, Any], str, float]
) -> None:
    shape, text, inset = case
    back = "-".join(reversed(text.split("-")))
    _, run = drafted(make, make.piece(**shape), text, inset)
    _, other = drafted(make, make.piece(**shape), back, inset)
    length = line(run).length
    assert line(other).length == pytest.approx(length, abs=1e-9)
    for k in range(21):
        at = line(run).point_at(length * k / 20)
        assert line(other).point_at(length * (1 - k / 20)) == pytest.approx(at, abs=1e-5)


@law
@given(case=cases())
def test_letters_stand_in_their_order_at_the_inset(
    make: SimpleNamespace, case: tuple[dict[str, Any], str, float]
) -> None:
    """Each opposite its corner: as far from it as from the edges, or farther in a sharp corner."""
    shape, text, inset = case
    piece, run = drafted(make, make.piece(**shape), text, inset)
    stations = [along for along in run.meets if along is not None]
    assert stations == sorted(stations)
    at = {letter.name: letter.at for letter in piece.letters}
    for letter, along in zip(dict.fromkeys(text.split("-")), stations, strict=True):
        x, y = line(run).point_at(along)
        assert hypot(at[letter][0] - x, at[letter][1] - y) > inset - 1e-6


@settings(law, max_examples=25)
@given(shape=shapes(), inset=st.sampled_from([15.0, 30.0, 60.0]))
def test_the_inset_that_is_said_to_fit_does(
    make: SimpleNamespace, shape: dict[str, Any], inset: float
) -> None:
    """And the next tenth of a millimetre does not."""
    names = letter_names(len(shape["points"]))
    text = "-".join((*names, names[0]))

    def told(inset: float) -> str:
        try:
            draft(make.project(make.piece(**shape), make.seam(make.layer(f"front: {text}", inset=inset))))
        except ProjectError as refused:
            return str(refused)
        return ""

    message = told(inset)
    assume("[inset-too-big]" in message)
    largest = re.search(r"allowed: at most ([\d.]+) mm", message)
    assert largest
    assert told(float(largest[1])) == ""
    assert "[inset-too-big]" in told(round(float(largest[1]) + 0.1, 1))


numbers = st.integers(-60, 60).map(float)


@settings(derandomize=True, deadline=None, max_examples=120)
@given(data=st.data())
def test_bad_shapes_end_in_findings_never_in_anything_else(
    make: SimpleNamespace, data: st.DataObject
) -> None:
    """Corners, radii, arcs, trims, lines and insets as they come."""
    count = data.draw(st.integers(3, 6))
    names = letter_names(count)
    edge_names = [f"{a}-{b}" for a, b in zip(names, (*names[1:], names[0]), strict=True)]
    sizes = st.sampled_from([1e-3, 0.5, 5.0, 20.0, 400.0])
    piece = make.piece(
        points=data.draw(st.lists(st.tuples(numbers, numbers), min_size=count, max_size=count)),
        round=data.draw(st.dictionaries(st.sampled_from(names), sizes)),
        arc=data.draw(st.dictionaries(st.sampled_from(edge_names), sizes | sizes.map(lambda s: -s))),
        trim=data.draw(st.dictionaries(st.sampled_from(edge_names), sizes, max_size=2)),
    )
    row = data.draw(st.lists(st.tuples(numbers, numbers), min_size=2, max_size=5, unique=True))
    piece = msgspec.structs.replace(piece, lines=(InnerLine("row", tuple(row)),))
    text = data.draw(runs(count))
    moved = {} if text[0] == text[-1] else {"from_start": data.draw(sizes), "from_end": -data.draw(sizes)}
    layer = make.layer(f"front: {text}", inset=data.draw(sizes), **moved)
    try:
        pattern = draft(make.project(piece, make.seam(layer), make.seam("front: row", name="row")))
    except ProjectError as refused:
        assert refused.findings
    else:
        assert all(line(run).length > 0 for seam in pattern.seams for run in seam.runs)
