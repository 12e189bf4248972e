"""Parts without a place on a bag's panels, on covers with sleeves or turn-ins, on both faces of a cover."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from arranged_sets import CODES
from random_panels import PLACES, panel_set, stated_on

from handkit.assemble.article import Article
from handkit.assemble.assembler import assemble
from handkit.draft.drafter import draft
from handkit.errors import ProjectError
from handkit.findings import Finding
from handkit.messages.message import Severity
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

HEAD = "format = 1\n[material]\nthickness = 2\n"
BAG = (
    '[[part]]\nname = "bag"\nkind = "bag"\nclosed_by = "none"\nwidth = 200\nheight = 150\n{}\n'
    '[[item]]\nname = "book"\nin = "bag"\nsize = [150, 18, 120]\n'
)
COVER = (
    '[[part]]\nname = "cover"\nkind = "fold cover"\nends = "{}"\nwidth = 120\nheight = 180\ndepth = {}\n'
    '[[item]]\nname = "book"\nin = "cover"\nsize = [110, 14, 165]\n'
)
POCKET = (
    '[[part]]\nname = "{0}"\nkind = "flat pocket"\non = "{1}"\nwidth = 40\nheight = 60\n{2}'
    '[[item]]\nname = "card of {0}"\nin = "{0}"\nsize = [25, 2, 50]\n'
)
WORD = '[[piece]]\nname = "{}"\nrectangle = "arranged"\n'


def made(text: str) -> Article:
    return assemble(punch(draft(read_project_text(text, file="p.toml", folder=Path()))))


def places(text: str) -> dict[str, tuple[float, float]]:
    project = draft(read_project_text(text, file="p.toml", folder=Path())).project
    return {part.name: part.at for part in project.parts}


@pytest.mark.parametrize(
    ("panel", "more", "at"),
    [
        ("bag front", "", (80.0, 48.0)),
        ("bag back", "", (80.0, 48.0)),
        ("bag back", "behind = true\n", (120.0, 48.0)),
    ],
)
def test_a_pocket_lies_in_the_middle_of_a_bags_panel(panel: str, more: str, at: tuple[float, float]) -> None:
    """By hand: the gusset's wall ends 4 + 2 inside the edges, which leaves 188 × 144 from the foot's wall to
    the mouth; with 8 on all sides the pocket takes 56 × 76: 6 + 66 + 8 and 6 + 34 + 8. What lies behind is
    told by its other corner."""
    text = HEAD + BAG.format("depth = 40") + POCKET.format("a", panel, more) + WORD.format(panel)
    assert places(text)["a"] == at
    assert not list(faults_of(made(text)))


def test_things_in_a_bag_lie_over_what_is_sewn_on_inside_it_as_far_as_it_is_deep() -> None:
    """By hand: the book is 18 thick, the card 2 and its pocket's leather 2: 22 deep is enough, 21.8 is not.
    The depth that is told is the least whole one."""
    for depth, enough in ((21, False), (22, True)):
        text = HEAD + BAG.format(f"depth = {depth}") + POCKET.format("a", "bag back", "at = [80, 48]\n")
        assert [each.code for each in faults_of(made(text))] == ([] if enough else ["clash"])
    text = HEAD + BAG.format("depth = 21") + POCKET.format("a", "bag back", "") + WORD.format("bag back")
    with pytest.raises(ProjectError) as refused:
        places(text)
    assert "make depth 22 mm;" in refused.value.findings[0].remedy


def test_what_is_drawn_out_inside_a_bag_passes_under_what_is_on_its_front() -> None:
    """By hand: the studs stand at (50, 90) and (150, 90), on the front; one card lies under the first, up to
    75.6, and is drawn up between front and back. A pocket with what is 12 thick, sewn from 86 on, stands
    in its way on the back: 14 high, and the card is lifted there, 6 beyond its mouth, by 1 + 6 ÷ 2."""
    closed, low = BAG.replace("none", "snaps").format("depth = 40"), "at = [30, 20]\n"
    text = HEAD + closed + POCKET.format("a", "bag back", low)
    (figure,) = made(text).figures
    assert {cap.at for cap in figure.caps if cap.pieces == ("bag front",)} == {(50, 90), (150, 90)}
    assert not list(faults_of(made(text)))
    over = POCKET.replace("2, 50", "12, 50").format("b", "bag back", "at = [20, 82]\n")
    (told,) = faults_of(made(text + over))
    assert "drawn out" in told.found and "beyond the mouth" in told.found


def test_thread_of_a_pocket_outside_a_bag_is_in_no_things_way_inside() -> None:
    """It stands out 0.8 under a book for which there are 2 to spare: that lies loose on it."""
    text = HEAD + BAG.format("depth = 20") + POCKET.format("a", "bag back", "behind = true\nat = [120, 48]\n")
    assert not list(faults_of(made(text)))
    tight = (
        HEAD + BAG.format("depth = 18.5") + POCKET.format("a", "bag back", "behind = true\nat = [120, 48]\n")
    )
    assert [each.code for each in faults_of(made(tight))] == ["clash"]


def test_a_book_has_room_over_the_tapes_of_its_bags_zip() -> None:
    """By hand: each is 0.6 thick, one inside the back, one inside the front; the book ends under the panels'
    lean, beside the tapes' lower edges: 1.2 deeper than it is thick is enough, 1.1 is not."""
    bag = BAG.replace("none", "zip").replace("150, 18, 120", "150, 18, 137")
    for depth, enough in ((19.1, False), (19.2, True)):
        told = [each.code for each in faults_of(made(HEAD + bag.format(f"depth = {depth}")))]
        assert told == ([] if enough else ["clash"]), depth


def test_things_are_drawn_out_past_what_is_sewn_on_inside_their_bag() -> None:
    """By hand: of 28 a book of 26 leaves 2, and the card in its pocket is 2 + 0.8 high. There is room for it
    above that book alone, in whose way out it would be."""
    assert outcome(panel_set(72, "inside")) == "without room"


def test_what_is_sewn_on_inside_a_bag_lies_under_its_front() -> None:
    text = HEAD + BAG.format("depth = 40") + POCKET.format("a", "bag back", "") + WORD.format("bag back")
    levels = {piece.name: piece.level for piece in made(text).punched.pattern.pieces}
    assert levels["bag back"] < levels["a"] < levels["bag front"]


def test_a_pocket_keeps_off_the_ends_of_a_bags_handles() -> None:
    """By hand: their ends are 20 wide, a quarter of 200 from its sides; a pocket 90 wide does not go between
    both, with 8 on either side: it lies under them."""
    pocket = POCKET.replace("width = 40", "width = 90").format("a", "bag front", "")
    text = HEAD + BAG.format("depth = 40\ndrop = 100\nstrap = 20") + pocket + WORD.format("bag front")
    front = made(text).punched.pattern.piece("bag front")
    low = min(y for line in front.lines for x, y in line.path.flattened(sagitta=1) if "handle" in line.name)
    assert places(text)["a"][1] + 60 + 8 <= low


def test_a_sleeve_and_the_outside_of_a_cover_have_room_where_no_book_lies() -> None:
    """By hand: a sleeve takes 0.6 of 116 beside its row, 69.6; of these and 180 less 4 twice the pocket takes
    56 × 76: ⌊13.6 ÷ 2⌋ + 8, and 4 + 48 + 8. Outside all lies on the leaf that the book does not lie on."""
    sleeve = (
        HEAD
        + COVER.format("sleeves", 40)
        + POCKET.format("a", "cover right", "")
        + WORD.format("cover right")
    )
    assert places(sleeve)["a"] == (14.0, 60.0)
    for ends in ("sleeves", "turn-ins"):
        text = (
            HEAD
            + COVER.format(ends, 40)
            + POCKET.format("a", "cover", "behind = true\n")
            + WORD.format("cover")
        )
        project = draft(read_project_text(text, file="p.toml", folder=Path())).project
        (spine,) = (each for each in project.pieces[0].folds if each.name == "spine, right")
        assert places(text)["a"][0] - 40 > spine.points[0][0] + 8
        assert not list(faults_of(made(text)))


def test_both_faces_of_a_leaf_have_parts_whose_rows_keep_apart() -> None:
    """Two pockets as large as one leaf has room for, one inside and one outside."""
    cover = COVER.format("open", 40).partition("[[item]]")[0]
    large = POCKET.replace("width = 40", "width = 80").replace("height = 60", "height = 150")
    both = large.format("a", "cover", "") + large.format("b", "cover", "behind = true\n")
    text = HEAD + cover + both + WORD.format("cover")
    assert not list(faults_of(made(text)))
    assert all(each.code != "arranged-without-room" for each in made(text).punched.pattern.findings)


def faults_of(article: Article) -> Iterator[Finding]:
    pattern = article.punched.pattern
    told = (*pattern.findings, *article.punched.findings, *article.findings)
    return (each for each in told if each.code.startswith(CODES))


def outcome(text: str) -> str:
    """ "laid", or "without room" where that alone is told; what is wrong else."""
    try:
        told = [str(each) for each in faults_of(made(text))]
    except ProjectError as refused:
        errors = [each for each in refused.findings if each.severity is Severity.ERROR]
        if [each.code for each in errors] == ["arranged-without-room"]:
            return "without room"
        told = [str(each) for each in errors]
    return "; ".join(told) or "laid"


def law_of_panels(seed: int, place: str) -> str:
    """All is laid clear by the model, or one message says that there is no room; a part that is stated where
    it came to lie stays there, and the others are clear of it."""
    text = panel_set(seed, place)
    alone = text.partition(f'\non = "{PLACES[place][0]}"')[0].rpartition("[[part]]")[0]
    if outcome(alone) != "laid":
        return "at fault by itself"
    found = outcome(text)
    if found == "laid":
        laid = places(text)
        name = sorted(laid.keys() - {"bag", "cover"})[seed % (len(laid) - 1)]
        stated = stated_on(text, name, laid[name])
        assert outcome(stated) in ("laid", "without room"), seed
        if outcome(stated) == "laid":
            assert places(stated)[name] == laid[name]
    return found


@pytest.mark.parametrize("place", PLACES)
def test_what_lies_on_a_panel_is_free_of_clashes(place: str) -> None:
    assert {law_of_panels(seed, place) for seed in range(3)} <= {*FINE}


FINE = ("laid", "without room", "at fault by itself")


@pytest.mark.long
@pytest.mark.parametrize("place", PLACES)
def test_panels_at_length(place: str) -> None:
    found = {seed: law_of_panels(seed, place) for seed in range(3, 33)}
    assert {seed: each for seed, each in found.items() if each not in FINE} == {}
    assert re.search("laid", " ".join(found.values()))
