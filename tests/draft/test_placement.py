"""Where pieces lie: frames, layers, carried holes, openings carried over."""

from __future__ import annotations

from math import pi
from types import SimpleNamespace
from typing import Any

import msgspec
import pytest

from handkit.draft.drafter import draft
from handkit.draft.pattern import Pattern
from handkit.read.project import FoldLine, Side

BOX = [(0, 0), (100, 0), (100, 60), (0, 60)]


def pattern_of(make: SimpleNamespace, *entries: Any) -> Pattern:
    return draft(make.project(*entries))


def levels(pattern: Pattern) -> dict[str, int]:
    return {piece.name: piece.level for piece in pattern.pieces}


def folded_levels(pattern: Pattern) -> dict[str, tuple[int, ...]]:
    return {piece.name: piece.folded.levels for piece in pattern.pieces}


class TestFrames:
    def test_turned_over_then_turned_then_moved(self, make: SimpleNamespace) -> None:
        """By hand: (10, 5) is mirrored to (−10, 5), turned to (−5, −10), moved to (45, 20)."""
        label = make.piece("label", on="back", at=(50, 30), turn_degrees=90.0, turned_over=True)
        placed = pattern_of(make, make.piece("back"), label).piece("label").placed
        assert placed is not None
        assert placed.apply((10, 5)) == (45, 20)

    def test_one_on_the_other(self, make: SimpleNamespace) -> None:
        pattern = pattern_of(
            make,
            make.piece("label", on="pocket", at=(5, 6)),
            make.piece("pocket", on="back", at=(20, 10)),
            make.piece("back"),
        )
        label = pattern.piece("label")
        assert label.placed is not None
        assert label.placed.apply((0, 0)) == (25, 16)
        assert (label.root, label.depth, label.level) == ("back", 2, 2)

    def test_what_does_not_lie_flat_is_a_root_of_its_own(self, make: SimpleNamespace) -> None:
        pattern = pattern_of(
            make,
            make.piece("back"),
            make.piece("front", on="back", at=(20, 10), flat=False),
            make.piece("label", on="front", at=(5, 6)),
        )
        front, label = pattern.piece("front"), pattern.piece("label")
        assert (front.root, front.placed, front.depth) == ("front", None, 1)
        assert (label.root, label.depth) == ("front", 2)
        assert label.placed is not None
        assert label.placed.apply((0, 0)) == (5, 6)


class TestLevels:
    def test_file_order_outwards(self, make: SimpleNamespace) -> None:
        """Above the base and behind it; what stands on a piece goes with it."""
        pattern = pattern_of(
            make,
            make.piece("back"),
            make.piece("front", on="back", flat=False),
            make.piece("lining", on="back", behind=True),
            make.piece("strap", on="back"),
            make.piece("loop", on="back", behind=True),
            make.piece("label", on="front"),
        )
        assert levels(pattern) == {
            "loop": -2,
            "lining": -1,
            "back": 0,
            "front": 1,
            "label": 2,
            "strap": 3,
        }

    def test_what_stands_on_a_turned_over_piece_lies_on_its_far_side(self, make: SimpleNamespace) -> None:
        pattern = pattern_of(
            make,
            make.piece("back"),
            make.piece("flap", on="back", behind=True, turned_over=True),
            make.piece("tab", on="flap"),
        )
        assert levels(pattern) == {"back": 0, "flap": -1, "tab": -2}

    def test_each_base_counts_for_itself(self, make: SimpleNamespace) -> None:
        pattern = pattern_of(make, make.piece("a"), make.piece("b"), make.piece("c", on="b"))
        assert levels(pattern) == {"a": 0, "b": 0, "c": 1}


class TestOnALeaf:
    """A sheath of 200 by 60 that is folded by half a turn at x = 100: what is left of it moves."""

    def sheath(
        self, make: SimpleNamespace, *pieces: Any, out: Side = Side.FLESH, angle: float = 180.0
    ) -> Pattern:
        fold = FoldLine("back", ((100, 0), (100, 60)), out=out, angle_degrees=angle, stays="B")
        sheath = make.piece("sheath", [(0, 0), (200, 0), (200, 60), (0, 60)])
        return pattern_of(make, msgspec.structs.replace(sheath, folds=(fold,)), *pieces)

    @pytest.mark.parametrize(
        ("out", "leaf", "row"),
        [
            # Towards the eye, the grain inside: what lies on the leaf's grain comes between both.
            (Side.FLESH, 3, {"sheath": 0, "pocket": 1, "badge": 2, "strap": 4}),
            # Away from the eye: the leaf is below, what lies on its grain is outside, below it.
            (Side.GRAIN, -2, {"badge": -3, "strap": -1, "sheath": 0, "pocket": 1}),
        ],
    )
    def test_its_levels(self, make: SimpleNamespace, out: Side, leaf: int, row: dict[str, int]) -> None:
        box = [(0, 0), (30, 0), (30, 20), (0, 20)]
        pattern = self.sheath(
            make,
            make.piece("pocket", box, on="sheath", at=(150, 10)),
            make.piece("badge", box, on="sheath", at=(10, 10)),
            make.piece("strap", box, on="sheath", at=(10, 10), behind=True),
            out=out,
        )
        assert folded_levels(pattern) == {name: (level,) for name, level in row.items()} | {
            "sheath": (0, leaf)
        }
        assert levels(pattern) == {"sheath": 0, "pocket": 1, "badge": 2, "strap": -1}  # of the flat piece
        assert [pattern.piece(name).panel for name in ("pocket", "badge", "strap")] == [0, 1, 1]

    def test_where_it_comes_to(self, make: SimpleNamespace) -> None:
        """By hand: x = 10 lies 90 left of the fold, and comes to 190; on no radius the middles of leather
        2 thick are 2 apart. On the flat piece it keeps its place."""
        label = make.piece("label", [(0, 0), (30, 0), (30, 20), (0, 20)], on="sheath", at=(10, 12))
        pattern = self.sheath(make, label)
        placed = pattern.piece("label")
        assert placed.folded.motion.apply((0, 0, 0)) == pytest.approx((190, 12, 2))
        assert placed.folded.plan is not None
        assert placed.folded.plan.apply((1, 0)) == pytest.approx((189, 12))
        assert placed.folded.turned
        assert (placed.in_root.apply((0, 0)), placed.in_base.apply((0, 0))) == ((10, 12), (10, 12))
        assert not placed.turned

    def test_what_stands_on_it_goes_with_it(self, make: SimpleNamespace) -> None:
        box = [(0, 0), (30, 0), (30, 20), (0, 20)]
        pocket = make.piece("pocket", box, on="sheath", at=(10, 12))
        pattern = self.sheath(make, pocket, make.piece("tab", box, on="pocket", at=(1, 2)))
        assert pattern.piece("tab").folded.motion.apply((0, 0, 0)) == pytest.approx((189, 14, 2))
        assert folded_levels(pattern) == {"sheath": (0, 3), "tab": (1,), "pocket": (2,)}

    def test_turned_over_on_a_leaf_that_is(self, make: SimpleNamespace) -> None:
        """Twice turned is not turned; x = 40 − 30 = 10 is its own 30."""
        box = [(0, 0), (30, 0), (30, 20), (0, 20)]
        label = make.piece("label", box, on="sheath", at=(40, 12), turned_over=True)
        placed = self.sheath(make, label).piece("label")
        assert placed.folded.motion.apply((30, 0, 0)) == pytest.approx((190, 12, 2))
        assert (placed.turned, placed.folded.turned) == (True, False)

    def test_over_the_fold_it_keeps_its_place(self, make: SimpleNamespace) -> None:
        """It bends along: no panel is its own."""
        top = make.piece("top", [(0, 0), (30, 0), (30, 20), (0, 20)], on="sheath", at=(90, 10))
        pattern = self.sheath(make, top)
        assert pattern.piece("top").folded.motion.apply((0, 0, 0)) == (90, 10, 0)
        assert folded_levels(pattern) == {"sheath": (0, 2), "top": (1,)}

    def test_on_what_stands_at_an_angle(self, make: SimpleNamespace) -> None:
        """By hand: a quarter on the neutral radius of 1 takes pi/2 of the leather, pi/4 on either side."""
        top = make.piece("top", [(0, 0), (30, 0), (30, 20), (0, 20)], on="sheath", at=(10, 10))
        pattern = self.sheath(make, top, angle=90.0)
        up = 90 - pi / 4 + 1
        assert pattern.piece("top").folded.motion.apply((0, 0, 0)) == pytest.approx(
            (100 + pi / 4 - 1, 10, up)
        )
        assert pattern.piece("top").folded.plan is None
        assert folded_levels(pattern) == {"sheath": (0, 0), "top": (1,)}

    def test_without_angles_as_on_the_flat_piece(self, make: SimpleNamespace) -> None:
        label = make.piece("label", on="back", at=(50, 30), turn_degrees=90.0, turned_over=True)
        placed = pattern_of(make, make.piece("back"), label).piece("label")
        assert placed.folded.plan == placed.in_base
        assert (placed.folded.levels, placed.folded.turned) == ((1,), True)


class TestRoundAnEdge:
    """A back of 100 by 60 with a flap of 60 by 80 that is folded by half a turn at y = 30 of its own."""

    def row(
        self,
        make: SimpleNamespace,
        up: float,
        *,
        out: Side = Side.FLESH,
        behind: bool = True,
        over: bool = False,
        first: bool = False,
    ) -> dict[str, tuple[int, ...]]:
        fold = FoldLine("top", ((0, 30), (60, 30)), out=out, angle_degrees=180.0, stays="A")
        at = (80.0, up) if over else (20.0, up)
        flap = make.piece("flap", [(0, 0), (60, 0), (60, 80), (0, 80)], on="back", at=at, behind=behind)
        flap = msgspec.structs.replace(flap, folds=(fold,), turned_over=over)
        box = [(0, 0), (20, 0), (20, 10), (0, 10)]
        front = make.piece("front", box, on="back", at=(30, 20))
        badge = make.piece("badge", box, on="flap", at=(20, 60))
        entries = (flap, front) if first else (front, flap)
        return folded_levels(pattern_of(make, make.piece("back", BOX), *entries, badge))

    @pytest.mark.parametrize(
        ("up", "out", "row"),
        [
            # Its line on the back's upper edge, folded towards the eye: round the back and over its front;
            # the badge, on the side that shows, is turned to them.
            (30.0, Side.FLESH, {"flap": (-1, 3), "back": (0,), "front": (1,), "badge": (2,)}),
            (30.8, Side.FLESH, {"flap": (-1, 3), "back": (0,), "front": (1,), "badge": (2,)}),
            (29.0, Side.FLESH, {"flap": (-1, 3), "back": (0,), "front": (1,), "badge": (2,)}),
            # 20 below the edge it is a loop, and can't go through the back.
            (10.0, Side.FLESH, {"flap": (-3, -1), "back": (0,), "front": (1,), "badge": (-2,)}),
            # Away from the back it stays behind.
            (30.0, Side.GRAIN, {"flap": (-1, -2), "back": (0,), "front": (1,), "badge": (-3,)}),
        ],
    )
    def test_from_behind(
        self, make: SimpleNamespace, up: float, out: Side, row: dict[str, tuple[int, ...]]
    ) -> None:
        assert self.row(make, up, out=out) == row

    def test_what_comes_after_it_in_the_file_is_under_it_all_the_same(self, make: SimpleNamespace) -> None:
        assert self.row(make, 30.0, first=True) == self.row(make, 30.0)

    def test_from_the_face(self, make: SimpleNamespace) -> None:
        """As a strap's end that is turned in behind: the badge, outside then, is the farthest off."""
        row = self.row(make, 30.0, out=Side.GRAIN, behind=False)
        assert row == {"flap": (2, -1), "back": (0,), "front": (1,), "badge": (-2,)}

    def test_turned_over(self, make: SimpleNamespace) -> None:
        """Sewn on behind with its grain to the back's: the grain is outside when it is folded over."""
        row = self.row(make, 30.0, out=Side.GRAIN, over=True)
        assert row == {"flap": (-1, 2), "back": (0,), "front": (1,), "badge": (3,)}


class TestFaceToBack:
    def order(self, make: SimpleNamespace, *layers: str) -> tuple[int, ...]:
        entries = (
            make.piece("back"),
            make.piece("front", on="back"),
            make.piece("lining", on="back", behind=True),
            make.piece("flap", on="back", behind=True, turned_over=True),
            make.piece("tab", on="flap"),
            make.piece("gusset"),
        )
        runs = [f"{name}: A-B" for name in layers]
        return pattern_of(make, *entries, make.seam(*runs)).seams[0].face_to_back

    @pytest.mark.parametrize(
        ("layers", "expected"),
        [
            (("back", "front"), (1, 0)),
            (("lining", "back", "front"), (2, 1, 0)),
            (("gusset", "back"), (0, 1)),  # unrelated: as listed
            (("back", "gusset", "front"), (2, 1, 0)),  # the related ones change places
            (("tab", "flap"), (0, 1)),  # both turned over: looked at from the side that shows
            (("flap", "back"), (1, 0)),
        ],
    )
    def test_order(self, make: SimpleNamespace, layers: tuple[str, ...], expected: tuple[int, ...]) -> None:
        assert self.order(make, *layers) == expected

    def test_a_piece_folded_over_as_listed(self, make: SimpleNamespace) -> None:
        pattern = pattern_of(make, make.piece("sheath"), make.seam("sheath: A-B", "sheath: C-D"))
        assert pattern.seams[0].face_to_back == (0, 1)

    def test_a_welt_stays_between_the_halves_of_its_sheath(self, make: SimpleNamespace) -> None:
        pieces = (make.piece("sheath"), make.piece("welt", on="sheath"))
        pattern = pattern_of(make, *pieces, make.seam("sheath: A-B", "welt: A-B", "sheath: C-D"))
        assert pattern.seams[0].face_to_back == (0, 1, 2)


class TestCarried:
    def test_from_the_nearest_run_before_that_lies_flat(self, make: SimpleNamespace) -> None:
        pattern = pattern_of(
            make,
            make.piece("back"),
            make.piece("pocket", on="back"),
            make.piece("front", on="back", flat=False),
            make.piece("label", on="front"),
            make.seam("pocket: A-B", "label: A-B", "back", "front"),
        )
        runs = pattern.seams[0].runs
        assert [run.carried_from for run in runs] == [None, None, 0, 1]
        assert [run.path is None for run in runs] == [False, False, True, True]
        assert runs[2].text == ""

    def test_of_several_the_nearest(self, make: SimpleNamespace) -> None:
        pattern = pattern_of(
            make,
            make.piece("back"),
            make.piece("pocket", on="back"),
            make.piece("label", on="back"),
            make.seam("pocket: A-B", "label: A-B", "back"),
        )
        assert pattern.seams[0].runs[2].carried_from == 1


class TestOpenings:
    def test_carried_to_flat_layers(self, make: SimpleNamespace) -> None:
        """By hand: the strap lies at (20, 10) turned by 90 degrees; its (5, 3) is (17, 15) on the back."""
        pattern = pattern_of(
            make,
            make.piece("back"),
            make.piece("strap", on="back", at=(20, 10), turn_degrees=90.0),
            make.opening(["strap", "back"], [(5.0, 3.0), (25.0, 3.0)], turn_degrees=30.0),
        )
        places = pattern.openings[0].places
        assert [(p.piece, p.number) for p in places] == [("strap", 1), ("strap", 2), ("back", 1), ("back", 2)]
        assert places[2].at == pytest.approx((17, 15))
        assert places[3].at == pytest.approx((17, 35))
        assert [p.degrees for p in places] == pytest.approx([30, 30, 120, 120])

    def test_on_what_it_lies_on_though_that_is_not_flat(self, make: SimpleNamespace) -> None:
        pattern = pattern_of(
            make,
            make.piece("back"),
            make.piece("front", on="back", flat=False),
            make.piece("label", on="front", at=(10, 10)),
            make.opening(["front", "label"], [(15.0, 12.0)]),
        )
        assert pattern.openings[0].places[1].at == pytest.approx((5, 2))

    def test_stated_places_elsewhere(self, make: SimpleNamespace) -> None:
        pattern = pattern_of(
            make,
            make.piece("back"),
            make.piece("loop"),
            make.opening(["back", "loop"], [(5.0, 3.0)], places={"loop": [(8.0, 9.0)]}, turn_degrees=10.0),
        )
        second = pattern.openings[0].places[1]
        assert (second.at, second.degrees) == ((8, 9), 10)
