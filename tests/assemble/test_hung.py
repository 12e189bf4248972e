"""What hangs: handles between their sewn ends, and the zip that they hang beside."""

from __future__ import annotations

from pathlib import Path as FilePath

import msgspec
import pytest
import shapely

from handkit import ProjectText, kit
from handkit.assemble.article import Article, BodyKind, Figure
from handkit.assemble.section import sections_of
from handkit.commands.common.shown import reached_article
from handkit.draw.article.pages import views
from handkit.geometry.affine import Affine
from handkit.geometry.region import region_of

BAG = """
format = 1
title = "Bag"
[material]
thickness = 2
kind = "soft leather"
[stitching]
pitch = 5
inset = 5
thread = 1
hole = {{ round = 2 }}
[[part]]
name = "bag"
kind = "bag"
closed_by = "zip"
width = 360
height = 200
depth = 40
strap = 30
drop = {drop}
[[item]]
name = "book"
in = "bag"
size = [200, 18, 150]
"""


def figure(drop: float) -> Figure:
    (found,) = kit.article_of(kit.punched_of(ProjectText(BAG.format(drop=drop)))).figures
    return found


@pytest.mark.parametrize(
    ("drop", "top"),
    [
        # Its ends are 180 apart: half a circle of 90, and 30 straight on. Both are as far above the mouth as
        # is stated on the middle of the strip, half of whose 30 lie beyond.
        (120, 335),
        # An arc, flatter than half a circle, from the mouth on, where it turns sharply.
        (40, 255),
    ],
)
def test_a_handle_stands_up_over_its_panel_as_far_as_its_drop(drop: float, top: float) -> None:
    found = figure(drop)
    for panel in ("front", "back"):
        body = found.body(f"bag {panel} handle")
        left, low, right, high = body.outline.bounds()
        assert body.kind is BodyKind.HANGING
        assert shapely.Polygon(body.outline.flattened(sagitta=0.1)).is_valid  # it crosses itself nowhere
        assert high == pytest.approx(top, abs=0.05)
        assert (left + right) / 2 == pytest.approx(180, abs=0.01)
        strip = region_of(body.piece.outline).area  # nothing of it is lost where it bends
        assert region_of(body.outline).area == pytest.approx(strip, rel=0.002 if drop > 90 else 0.03)
        rows = [row for row in found.rows if body.name in row.pieces]
        assert len(rows) == 2
        for row in rows:  # each end lies under its own row, which turns an inset above its edge
            places = [(x, y) for x, y, _ in row.front]
            assert region_of(body.outline).outside(places) == frozenset()
            assert min(y for _, y in places) == pytest.approx(low + 5, abs=0.01)


def test_a_gusset_stands_on_edge_and_is_no_handle() -> None:
    assert figure(120).body("bag gusset").kind is BodyKind.WALL


def test_a_zips_tapes_lie_inside_and_are_drawn_dashed_from_outside() -> None:
    found = figure(120)
    assert {(each.on, each.to_eye) for each in found.fittings} == {("bag front", False), ("bag back", True)}
    article = kit.article_of(kit.punched_of(ProjectText(BAG.format(drop=120))))
    for _, scene in views(article):
        hidden = [
            mark
            for group in scene.groups
            for mark in group.marks
            if mark.tag.value == "hkHidden" and ("Fitting", "bag zip") in mark.properties
        ]
        assert len(hidden) == 1
        assert "bag zip" in {name.text for name in scene.names}
    assert [clash.words for clash in article.clashes] == []


SAMPLES = FilePath(__file__).parents[2] / "samples"


def sample(name: str) -> Article:
    return kit.article_of(kit.punched_of(SAMPLES / name))


def case_with(slots: str) -> Article:
    """The case, its slots elsewhere; the brushes stay, though some leave them no room."""
    text = (SAMPLES / "sketching_case/case.toml").read_text("utf-8")
    text = text.replace("turn = 90\ngap", "at = [113, 300]\nturn = 90\ngap")
    return kit.article_of(kit.punched_of(ProjectText(text.replace("[[72, 446], [112, 446]]", slots))))


def test_a_strap_through_two_slots_goes_round_the_shut_case() -> None:
    """The flap is 184 wide, the strap 22: over the flap to 72, under it to 112, over it to its other edge."""
    figure = sample("sketching_case/case.toml").figures[0]
    (strap,) = figure.straps
    boxes = [path.bounds() for path in (*strap.over, *strap.under, strap.behind)]
    assert strap.on_face
    assert [(left, right) for left, _, right, _ in boxes] == [
        pytest.approx(span, abs=0.01) for span in ((0, 72), (112, 184), (72, 112), (0, 184))
    ]
    assert {round(high - low, 6) for _, low, _, high in boxes} == {22}
    assert len({round(low, 6) for _, low, _, _ in boxes}) == 1


@pytest.mark.parametrize(
    "slots", ["[[72, 446]]", "[[52, 446], [132, 430]]", "[[40, 446], [92, 446], [144, 446]]"]
)
def test_slots_that_do_not_tell_the_way_of_their_strap_have_none(slots: str) -> None:
    """One alone, two that it would go aslant through, an odd number, of which it would end inside."""
    assert case_with(slots).figures[0].straps == ()


def test_a_tie_leaves_its_eyelet_on_both_faces_by_the_shortest_way_to_the_edge() -> None:
    """The roll is 230.154 wide, its eyelet near the right edge: 45 of the tie are shown beyond that."""
    (figure,) = sample("bindery_roll/roll.toml").figures
    eye = next(cap.at for cap in figure.caps if cap.opening == "roll eye")
    assert [tie.to_eye for tie in figure.ties] == [True, False]
    for tie in figure.ties:
        left, low, right, high = tie.outline.bounds()
        assert (left, right) == pytest.approx((eye[0], 230.154 + 45), abs=0.01)
        assert (low + high) / 2 == pytest.approx(eye[1], abs=0.01)
        assert high - low == pytest.approx(tie.fitting.width or tie.fitting.diameter or 0)


def test_of_an_eyelet_on_the_edge_no_tie_is_drawn_and_the_eyelet_is_told() -> None:
    text = """format = 1
unit = "mm"
[material]
thickness = 2
[[piece]]
name = "back"
rectangle = [60, 40]
[[opening]]
name = "eye"
kind = "eyelet"
hole = 5
cap = 8
through = ["back"]
at = [[0, 20]]
[[fitting]]
name = "tie"
kind = "tie"
through = "eye"
width = 3
length = 300
"""
    reached, findings = reached_article(ProjectText(text, "p.toml"))
    assert reached.article.figures[0].ties == ()
    assert {each.where.key for each in findings} == {'opening "eye": at'}


RIVET = """
[[opening]]
name = "plate"
kind = "rivet"
hole = 3
cap = 9
through = ["{piece}"]
at = [[{x}, {y}]]
"""


def crossed(name: str, piece: str, x: float, y: float) -> list[str]:
    text = (SAMPLES / name).read_text("utf-8") + RIVET.format(piece=piece, x=x, y=y)
    _, findings = reached_article(ProjectText(text, "p.toml"))
    return [each.words for each in findings if each.code == "strap-crossed"]


@pytest.mark.parametrize(
    ("piece", "x", "y", "told"),
    [
        ("back", 30, 446, True),  # on the flap, under the strap
        ("back", 30, 420, False),  # 26 beside its middle, half of both is 11 + 4.5
        ("back", 92, 446, False),  # between the slots, where the strap is on the other side
        ("box front", 40, 10, False),  # under the flap
    ],
)
def test_a_cap_under_a_strap_that_goes_round_is_told(piece: str, x: float, y: float, told: bool) -> None:
    assert bool(crossed("sketching_case/case.toml", piece, x, y)) is told


PLAIN = """format = 1
[material]
thickness = 2
[[piece]]
name = "case"
rectangle = [120, 200]
folds = {{ top = {{ line = [[0, 100], [120, 100]], angle = 180, radius = 6, out = "grain", stays = "A" }} }}
[[piece]]
name = "strap"
rectangle = [400, 20]
grain = 0
[[opening]]
name = "holes"
kind = "tongue"
hole = 4
through = ["strap"]
at = [[380, 10]]
[[opening]]
name = "slots"
kind = "slot"
slot = [22, 4]
through = ["case"]
at = [[40, 170], [80, 170]]
turn = 90
[[opening]]
name = "plate"
kind = "rivet"
hole = 3
cap = 9
through = ["case"]
at = [[{x}, {y}]]
"""


@pytest.mark.parametrize(
    ("x", "y", "told"),
    [
        (20, 172, True),  # the slots are in line at 170, on the leaf that is folded over
        (60, 170, False),  # between them
        (20, 30, True),  # on the other leaf, where 170 comes to lie: 100 - (170 - 100), and the bend
        (20, 60, False),  # clear of the strap, which is 20 wide, and of 9 across
    ],
)
def test_a_strap_goes_round_behind_too(x: float, y: float, told: bool) -> None:
    article = kit.article_of(kit.punched_of(ProjectText(PLAIN.format(x=x, y=y))))
    found = [each for each in article.findings if each.code == "strap-crossed"]
    assert len(found) == told
    if told:
        assert found[0].found == '"strap" over a cap of "plate", which stands out 2 mm'


def test_a_cap_under_a_tie_is_told() -> None:
    (figure,) = sample("bindery_roll/roll.toml").figures
    eye = next(cap.at for cap in figure.caps if cap.opening == "roll eye")
    x, y = figure.body("roll").lie.inverse().apply((eye[0] + 10, eye[1]))
    assert len(crossed("bindery_roll/roll.toml", "roll", x, y)) == 1
    assert crossed("bindery_roll/roll.toml", "roll", x, y + 12) == []


def cut(article: Article, of: str, *, along: bool, piece: str) -> list[tuple[float, ...]]:
    return [
        tuple(round(number, 1) for number in plate.outline.bounds())
        for section in sections_of(article)
        for plate in section.plates
        if (section.of, section.along, plate.piece) == (of, along, piece)
    ]


def test_a_section_cuts_the_handles_of_a_bag() -> None:
    """At the mouth both their ends, 32 wide, as far off the middle of its 352.6, on leather of 1.8 that holds
    22 and its ease of 2 between; along it what the middle of the book meets of their arcs."""
    bag = sample("market_bag/bag.toml")
    front, back = (cut(bag, "bag", along=False, piece=f"bag {each} handle") for each in ("front", "back"))
    assert front == [(72.2, 25.8, 104.2, 27.6), (248.4, 25.8, 280.4, 27.6)]
    assert back == [(72.2, -3.6, 104.2, -1.8), (248.4, -3.6, 280.4, -1.8)]
    (along,) = cut(bag, "bag", along=True, piece="bag front handle")
    assert along[1::2] == (25.8, 27.6) and along[0] > 187.3  # over the mouth


def test_a_section_cuts_the_strap_that_goes_round() -> None:
    """Leather of 2 is cut square to the folds, between the slots: the strap lies under the flap there, which
    is 48 over the back, and behind it; it is 22 wide."""
    found = cut(sample("sketching_case/case.toml"), "back", along=True, piece="closing strap")
    assert [(low, high) for _, low, _, high in found] == [(47, 49), (-3, -1)]
    assert {round(right - left, 1) for left, _, right, _ in found} == {22}
    assert len({left for left, *_ in found}) == 1


def test_a_section_cuts_a_tie() -> None:
    """The roll's eye moved so far left that its tie goes past the middle: a cord of 5 on either face."""
    article = sample("bindery_roll/roll.toml")
    (figure,) = article.figures
    ties = [
        msgspec.structs.replace(tie, outline=tie.outline.moved(Affine.shift(-110, 0))) for tie in figure.ties
    ]
    moved = msgspec.structs.replace(figure, ties=tuple(ties))
    article = msgspec.structs.replace(article, figures=(moved,))
    things = [each for section in sections_of(article) for each in section.things if each.item == "roll tie"]
    boxes = [each.outline.bounds() for each in things]
    assert [(round(right - left, 6), round(high - low, 6)) for left, low, right, high in boxes] == [
        (5, 5)
    ] * 2
