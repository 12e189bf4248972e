"""Bowed pockets: the front by its items, its sides, hem and rivets, and what can't be drafted."""

from __future__ import annotations

from collections.abc import Callable
from math import hypot

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.pattern import Fit
from handkit.punch.punched import Punched

law = settings(derandomize=True, deadline=None, max_examples=20)


def pocket(more: str = "", sizes: tuple[str, ...] = ("size = [58, 20, 150]",)) -> str:
    part = f'[[part]]\nname = "front"\nkind = "bowed pocket"\non = "back"\nat = [20, 30]\n{more}\n'
    return part + "".join(
        f'[[item]]\nname = "thing {k}"\nin = "front"\n{size}\n' for k, size in enumerate(sizes)
    )


def mouth_of(punched: Punched) -> float:
    """From stitch line to stitch line at the mouth: both sides' lines prolonged to its edge."""
    runs = {seam.name: seam.pattern.runs[0].path for seam in punched.seams}
    left, right = runs["front, left"], runs["front, right"]
    assert left is not None and right is not None
    top = punched.pattern.piece("front").outline.bounds()[3]
    hemless = next(letter.at[1] for letter in punched.pattern.piece("front").letters if letter.name == "C")
    assert hemless <= top
    ends = []
    for path in (left.reversed(), right):
        (x0, y0), (x1, y1) = path.start, path.end
        ends.append(x0 + (x1 - x0) * (hemless - y0) / (y1 - y0))
    return ends[1] - ends[0]


def test_the_mouth_of_a_thin_front(punched_of: Callable[..., Punched]) -> None:
    """58 × 20 on 80 with a thin front: 110.692, worked out by hand; 0.2 mm thick it is a little more."""
    punched = punched_of(pocket("ease = 0\nwidth = 88"), thickness=0.2)
    assert mouth_of(punched) == pytest.approx(110.692, abs=0.1)


def test_the_mouth_by_its_height(punched_of: Callable[..., Punched]) -> None:
    """b = 80, h = 20: 92.7295; h = 60: 170.351: worked out by hand."""
    for height, length in ((20, 92.7295), (60, 170.351)):
        text = pocket(f"width = 88\nmouth = {height}", ("size = [40, 2, 150]",))
        assert mouth_of(punched_of(text)) == pytest.approx(length, abs=6e-4)


def test_slanted_sides_meet_straight_lines(punched_of: Callable[..., Punched]) -> None:
    """A side is as long as its slant, the base's line as it stands up; counts are equal."""
    punched = punched_of(pocket("width = 88\nheight = 158"))
    seams = {seam.name: seam for seam in punched.seams}
    slanted, straight = (layer.length for layer in seams["front, left"].layers)
    spread = (mouth_of(punched) - 80) / 2
    assert straight == pytest.approx(150)
    assert slanted == pytest.approx(150 * hypot(spread, 154) / 154, abs=0.01)
    foot = seams["front, foot"].layers
    assert foot[0].length == pytest.approx(80) == foot[1].length
    for seam in punched.seams:
        assert len({len(layer.holes) for layer in seam.layers}) == 1


def test_corners_are_shared_on_front_and_base(punched_of: Callable[..., Punched]) -> None:
    """The foot's ends are the sides' ends: one hole on either piece."""
    shared = {(hole.piece, *(user[0] for user in hole.users)) for hole in punched_of(pocket()).shared}
    assert shared == {
        (piece, f"front, {side}", "front, foot")
        if side == "left"
        else (piece, "front, foot", f"front, {side}")
        for piece in ("front", "back")
        for side in ("left", "right")
    }


def test_the_hem_covers_no_hole(punched_of: Callable[..., Punched]) -> None:
    """Folded behind at the mouth it lies between the seams and beside the rivets' caps."""
    punched = punched_of(pocket("hem = 18\nrivets = true"))
    front = punched.pattern.piece("front")
    at = {letter.name: letter.at for letter in front.letters}
    assert list(at) == list("ABCDEFGH")
    assert at["E"][1] - at["D"][1] == pytest.approx(18)
    mouth = at["D"][1]
    folded = shapely.Polygon([(x, 2 * mouth - y) for x, y in (at["D"], at["E"], at["F"], at["G"])])
    holes = [hole.at for _, _, hole in punched.holes_of("front")]
    assert holes
    assert min(folded.distance(shapely.Point(hole)) for hole in holes) > 0.8
    rivets = [place.at for place in punched.pattern.openings[0].places if place.piece == "front"]
    assert min(folded.distance(shapely.Point(rivet)) for rivet in rivets) > 4.5
    (fold,) = front.folds
    assert {fold.path.start, fold.path.end} == {at["D"], at["G"]}


@pytest.mark.parametrize(("hole", "cap"), [(3, 9), (4, 12), (3, 6), (5, 8)])
def test_mouth_rivets_keep_their_distances(
    punched_of: Callable[..., Punched], hole: float, cap: float
) -> None:
    """Two diameters and the cap's rim from the edges; the cap's rim and 2 mm from every stitch hole."""
    punched = punched_of(pocket(f"rivets = true\nrivet_hole = {hole}\nrivet_cap = {cap}"))
    (rivets,) = punched.pattern.openings
    assert [finding.code for finding in punched.findings if "opening" in finding.code] == []
    edge = max(2 * hole, cap / 2 + 2)
    outline = shapely.LinearRing(punched.pattern.piece("front").outline.flattened(sagitta=0.01))
    for place in rivets.places:
        if place.piece == "front":
            assert outline.distance(shapely.Point(place.at)) == pytest.approx(edge, abs=1e-6)
        near = min(
            hypot(h.at[0] - place.at[0], h.at[1] - place.at[1]) for _, _, h in punched.holes_of(place.piece)
        )
        assert near >= cap / 2 + 2 - 1e-9
    heights = {piece: [p.at[1] for p in rivets.places if p.piece == piece] for piece in ("front", "back")}
    assert heights["back"] == pytest.approx([y + 30 for y in heights["front"]])


tenths = st.integers(100, 600).map(lambda n: n / 10)


@law
@given(w=tenths, t=st.integers(20, 300).map(lambda n: n / 10), more=st.integers(1, 150).map(lambda n: n / 10))
def test_a_larger_item_never_gives_a_narrower_front(
    punched_of: Callable[..., Punched], w: float, t: float, more: float
) -> None:
    sizes = [(w, t), (w + more, t), (w, t + more)]
    mouths = [mouth_of(punched_of(pocket("", (f"size = [{a}, {b}, 150]",)))) for a, b in sizes]
    assert mouths[0] < min(mouths[1:])
    stated = [mouth_of(punched_of(pocket("width = 120", (f"size = [{a}, {b}, 150]",)))) for a, b in sizes]
    assert stated[0] <= min(stated[1:]) + 1e-6


@law
@given(
    sizes=st.lists(st.tuples(tenths, st.integers(20, 300).map(lambda n: n / 10)), min_size=1, max_size=3),
    rivets=st.booleans(),
)
def test_items_fit_and_cover_no_line_of_the_base(
    punched_of: Callable[..., Punched], sizes: list[tuple[float, float]], rivets: bool
) -> None:
    things = tuple(f"size = [{max(w, t)}, {min(w, t)}, 150]" for w, t in sizes)
    punched = punched_of(pocket(f"rivets = {str(rivets).lower()}", things))
    assert {room.fit for room in punched.pattern.item_fits} == {Fit.FITS}
    holes = [shapely.Point(hole.at) for _, _, hole in punched.holes_of("back")]
    for outline in punched.pattern.piece("back").items:
        lies = shapely.Polygon(outline.path.flattened(sagitta=0.01)).buffer(-1e-6)
        assert not any(lies.contains(hole) for hole in holes)


@pytest.mark.parametrize("radius", [3, 12, 30])
def test_a_round_foot_meets_the_base_hole_for_hole(punched_of: Callable[..., Punched], radius: float) -> None:
    """Side and foot share the hole at the middle of the corner; the lengths differ by the slant alone."""
    punched = punched_of(pocket(f"width = 88\nround = {radius}"))
    for seam in punched.seams:
        front, base = seam.layers
        assert len(front.holes) == len(base.holes)
        assert front.length == pytest.approx(base.length, rel=0.05)
    assert len(punched.shared) == 4
    middle = max(radius - 4, 0) * (1 - 0.5**0.5)
    corner = next(hole.at for hole in punched.shared if hole.piece == "back" and hole.at[0] < 60)
    assert corner == pytest.approx((20 + 4 + middle, 30 + 4 + middle), abs=1e-3)


@pytest.mark.parametrize("size", ["cap = 14", "cap = 6", "hole = 5", "hole = 4\ncap = 12"])
def test_rivets_are_drafted_for_the_cap_and_hole_that_they_have(
    punched_of: Callable[..., Punched], size: str
) -> None:
    """Said of the rivets themselves or in the part, it is one pocket, and no rivet stands too near."""
    in_part = "\n".join(f"rivet_{line}" for line in size.splitlines())
    beside = pocket("rivets = true") + f'[[opening]]\nname = "front rivets"\n{size}\n'
    one, other = punched_of(beside), punched_of(pocket(f"rivets = true\n{in_part}"))
    assert one.pattern.piece("front").outline == other.pattern.piece("front").outline
    assert one.pattern.openings[0].places == other.pattern.openings[0].places
    assert {finding.code for finding in one.findings} == {"ease-meant"}
