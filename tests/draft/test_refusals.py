"""What can't be drawn is refused, in these words, with the largest that would fit; all in one go."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from handkit.draft.drafter import draft
from handkit.errors import ProjectError
from handkit.messages.drafting import DRAFTING
from handkit.messages.message import Severity

BOX = [(0, 0), (100, 0), (100, 60), (0, 60)]
NECK = [
    (0, 0), (40, 0), (40, 17), (60, 17), (60, 0), (100, 0), (100, 40), (60, 40), (60, 23), (40, 23),
    (40, 40), (0, 40),
]  # fmt: skip
RING = "A-B-C-D-E-F-G-H-I-J-K-L-A"
Entries = Callable[[SimpleNamespace], list[Any]]


def piece(**more: Any) -> Entries:
    return lambda make: [make.piece(**more)]


def seam(*layers: Any, match: Any = (), **more: Any) -> Entries:
    """A seam on one piece; a tuple is a layer's text and its settings."""

    def entries(make: SimpleNamespace) -> list[Any]:
        made = [make.layer(each[0], **each[1]) if isinstance(each, tuple) else each for each in layers]
        return [make.piece(**more), make.seam(*made, match=match)]

    return entries


# One fault each. What is allowed is worked out by hand, rounded down to 0.1 mm: an edge of 60 takes
# two radii of 30, or 40 and 30 shared out as 34.29 and 25.71; the arc of radius 30 and the edge at 45
# degrees take a circle of (30 + 30·√½) / 2 = 25.607 between them; the circle in the triangle of 100,
# 60 and 116.62 has radius 21.69; a neck of 6 takes less than 3 on either side, a slot of 20 less than 10.
REFUSALS: list[tuple[Entries, list[str]]] = [
    (
        piece(points=[(0, 0), (50, 0), (50, 0), (0, 50)]),
        [
            (
                'p.toml:1: error: piece "front": points: found corners B and C at the same point; '
                "allowed: corners that lie apart; "
                "move or leave out one of them [edge-without-length]"
            )
        ],
    ),
    (
        piece(points=[(0, 0), (50, 0), (20, 0)]),
        [
            (
                'p.toml:1: error: piece "front": points: found corners that all lie on one line; '
                "allowed: corners that go round the piece; "
                "move a corner off the line [outline-without-area]"
            )
        ],
    ),
    (
        piece(points=BOX, arc={"B-C": 700.0}),
        [
            (
                'p.toml:1: error: piece "front": arc: found an arc 700 mm tall over edge B-C, which '
                "is 60 mm long; "
                "allowed: at most 600 mm; "
                "give the arc's height over its chord, or move the corners apart [sagitta-too-tall]"
            )
        ],
    ),
    (
        piece(points=[(0, 0), (100, 0), (0, 60), (100, 60)]),
        [
            (
                'p.toml:1: error: piece "front": points: found edges B-C and D-A meeting at [50, 30]; '
                "allowed: an outline that neither touches nor crosses itself; "
                "list the corners in their order round the piece, or flatten the arc "
                "[outline-crosses-itself]"
            )
        ],
    ),
    (
        piece(points=BOX, arc={"A-B": -61.0}),
        [
            (
                'p.toml:1: error: piece "front": points: found edges A-B and B-C meeting at [100, 20.02]; '
                "allowed: an outline that neither touches nor crosses itself; "
                "list the corners in their order round the piece, or flatten the arc "
                "[outline-crosses-itself]"
            )
        ],
    ),
    (
        piece(points=BOX, round=40.0),
        [
            (
                'p.toml:1: error: piece "front": round: found radii of 40 mm at corners A, B, C and D, more '
                "than their edges have room for; "
                "allowed: at most 30 mm; "
                "make the radii smaller [radius-too-big]"
            ),
        ],
    ),
    (
        piece(points=BOX, round={"B": 40.0, "C": 30.0}),
        [
            (
                'p.toml:1: error: piece "front": round: found radii 40 mm at B and 30 mm at C, more '
                "than the 60 mm of edge B-C have room for; "
                "allowed: at most 34.2 mm and 25.6 mm; "
                "make the radii smaller [radius-too-big]"
            )
        ],
    ),
    (
        piece(points=BOX, round={"B": 20.0, "C": 50.0, "D": 55.0}),
        [
            (
                'p.toml:1: error: piece "front": round: found radii of 20 mm, 50 mm and 55 mm at corners B, '
                "C and D, more than their edges have room for; "
                "allowed: at most 17.1 mm, 42.8 mm and 47.1 mm; "
                "make the radii smaller [radius-too-big]"
            )
        ],
    ),
    (
        piece(points=BOX, round={"B": 40.0, "C": 40.0, "D": 5.0}),
        [
            (
                'p.toml:1: error: piece "front": round: found radii 40 mm at B and 40 mm at C, more '
                "than the 60 mm of edge B-C have room for; "
                "allowed: at most 30 mm each; "
                "make the radii smaller [radius-too-big]"
            )
        ],
    ),
    (
        piece(points=BOX, round={"B": 70.0}),
        [
            (
                'p.toml:1: error: piece "front": round: found radius 70 mm at corner B, more than '
                "its edges have room for; "
                "allowed: at most 60 mm; "
                "make the radius smaller [radius-too-big]"
            )
        ],
    ),
    (
        piece(points=[(0, 0), (60, 0), (0, 60)], arc={"A-B": 30.0}, round={"B": 50.0}),
        [
            (
                'p.toml:1: error: piece "front": round: found radius 50 mm at corner B, more than '
                "its edges have room for; "
                "allowed: at most 25.6 mm; "
                "make the radius smaller [radius-too-big]"
            )
        ],
    ),
    (
        lambda make: [make.piece("back"), make.piece(points=BOX, on="back", at=(112.0, -70.5))],
        [
            (
                'p.toml:1: error: piece "front": at: found 15.95 mm off "back", on which it is to lie; '
                "allowed: a piece that lies on its base, in whole or in part; "
                "move it by more than 12 mm to the left and 10.5 mm up, or leave out on and at "
                "[piece-beside-base]"
            )
        ],
    ),
    (
        lambda make: [
            make.piece("back"),
            make.piece(points=BOX, on="back", at=(200.0, 0.0)),
            make.opening(["front", "back"], [(20.0, 20.0)]),
            make.seam("front: A-B", "back"),
        ],
        [
            (
                'p.toml:1: error: piece "front": at: found 100 mm off "back", on which it is to lie; '
                "allowed: a piece that lies on its base, in whole or in part; "
                "move it by more than 100 mm to the left, or leave out on and at [piece-beside-base]"
            )
        ],
    ),
    (
        piece(points=BOX, lines={"row": [(0, 0), (50, 50), (50, 0), (0, 50)]}),
        [
            (
                'p.toml:1: error: piece "front": lines: found line "row" meeting itself at [25, 25]; '
                "allowed: a line that neither touches nor crosses itself; "
                "list its points in their order, or make two lines of it [line-crosses-itself]"
            )
        ],
    ),
    (
        piece(points=BOX, lines={"row": [(10, 10), (10, 70)]}),
        [
            (
                'p.toml:1: error: piece "front": lines: found line "row" with [10, 70] outside; '
                "allowed: a line inside the outline, its edge included; "
                "move the line, or the outline [line-outside-piece]"
            )
        ],
    ),
    (
        piece(points=NECK, folds={"spine": [(50, 20), (20, 20), (70, 2)]}),
        [
            (
                'p.toml:1: error: piece "front": folds: found fold "spine" leaving the piece between '
                "its points; "
                "allowed: a line inside the outline, its edge included; "
                "move the line, or the outline [line-outside-piece]"
            )
        ],
    ),
    (
        piece(points=NECK, trim={"B-C-D-E": 12.0}),
        [
            (
                'p.toml:1: error: piece "front": trim: found a trim of 12 mm, whose cut would cross '
                "itself; "
                "allowed: at most 9.9 mm; "
                "make the trim narrower [trim-too-wide]"
            )
        ],
    ),
    (
        seam(f"front: {RING}", points=NECK),
        [
            (
                'p.toml:3: error: seam "side": inset: found inset 4 mm on "front: '
                'A-B-C-D-E-F-G-H-I-J-K-L-A", where the stitch line would cross itself or leave the '
                "piece; "
                "allowed: at most 2.9 mm; "
                "make the inset smaller or the piece wider [inset-too-big]"
            )
        ],
    ),
    (
        seam(("front: A-B", {"inset": 31.0}), points=[(0, 0), (100, 0), (100, 60)]),
        [
            (
                'p.toml:3: error: seam "side": inset: found inset 31 mm on "front: A-B", where the '
                "stitch line would cross itself or leave the piece; "
                "allowed: at most 21.6 mm; "
                "make the inset smaller or the piece wider [inset-too-big]"
            )
        ],
    ),
    (
        seam(("front: A-B", {"inset": 7.0}), points=[(0, 0), (100, 0), (100, 6), (0, 6)]),
        [
            (
                'p.toml:3: error: seam "side": inset: found inset 7 mm on "front: A-B", where the '
                "stitch line would cross itself or leave the piece; "
                "allowed: at most 6 mm; "
                "make the inset smaller or the piece wider [inset-too-big]"
            )
        ],
    ),
    (
        seam("front: A-A", circle=6.0),
        [
            (
                'p.toml:3: error: seam "side": inset: found inset 4 mm on "front: A-A", where the '
                "stitch line would cross itself or leave the piece; "
                "allowed: at most 2.9 mm; "
                "make the inset smaller or the piece wider [inset-too-big]"
            )
        ],
    ),
    (
        seam(("front: A-B", {"from_start": 50.0, "from_end": 45.0}), points=BOX),
        [
            (
                'p.toml:2: error: run "front: A-B": from_start: found 95 mm taken off the stitch '
                'line of "front: A-B", which is 92 mm long; '
                "allowed: less than 92 mm in all; "
                "make from_start or from_end smaller [nothing-left-of-run]"
            )
        ],
    ),
    (
        seam(("front: A-B", {"from_end": -4.5}), points=BOX),
        [
            (
                'p.toml:2: error: run "front: A-B": from_end: found "front: A-B" prolonged beyond '
                "the edge of the piece; "
                "allowed: a stitch line inside the piece; "
                "prolong it by less [run-outside-piece]"
            )
        ],
    ),
    (
        seam(
            ("front: spiral", {"from_end": -12.0}),
            points=BOX,
            lines={"spiral": [(20, 20), (80, 20), (80, 50), (40, 50), (40, 30)]},
        ),
        [
            (
                'p.toml:2: error: run "front: spiral": from_end: found "front: spiral" prolonged over '
                "itself; "
                "allowed: a stitch line that neither touches nor crosses itself; "
                "prolong it by less [run-crosses-itself]"
            )
        ],
    ),
    (
        seam(("front: A-B", {"from_start": 10.0}), points=BOX, match=[["A"]]),
        [
            (
                'p.toml:3: error: seam "side": match: found match point A, which the stitch line of '
                '"front: A-B" does not reach; '
                "allowed: a letter it passes (B) or a point [x, y]; "
                "name another letter, or leave more of the run's end [match-off-run]"
            )
        ],
    ),
    (
        seam("front: A-B", points=BOX, match=[[(30.0, 15.0)]]),
        [
            (
                'p.toml:3: error: seam "side": match: found match point [30, 15], 11 mm from the '
                'stitch line of "front: A-B"; '
                "allowed: at most 8 mm from it; "
                "give the point in the frame of this layer's piece, on its stitch line or edge "
                "[match-off-run]"
            )
        ],
    ),
    (
        seam(
            "front: A-B",
            "front: C-D",
            points=BOX,
            match=[[(30.0, 4.0), (30.0, 56.0)], [(40.0, 4.0), (40.0, 56.0)]],
        ),
        [
            (
                'p.toml:3: error: seam "side": match: found match points that follow one another on '
                '"front: C-D" in another order than on "front: A-B"; '
                "allowed: the same order on every layer, each point apart from the others; "
                "swap the points, or name the run's letters the other way round [match-order]"
            )
        ],
    ),
    (
        seam("front: A-B-C-D-A", "front: row", points=BOX, lines={"row": [(20, 20), (60, 20)]}),
        [
            (
                'p.toml:3: error: seam "side": runs: found "front: A-B-C-D-A" going all round and '
                '"front: row" with two ends; '
                "allowed: runs that all go round, or none, or an edge whose two ends another seam sews to "
                "each other; repeat the first letter or point on each, or on none; or sew the strip's ends "
                "to a tube [closed-and-open-runs]"
            )
        ],
    ),
    (
        lambda make: [make.piece(), make.piece("back"), make.seam("front: A-B", "back")],
        [
            (
                'p.toml:2: error: run "back": found "back" without a run of its own, and no run '
                "before it on a piece it lies flat with; "
                "allowed: a layer that takes the holes of the nearest run before it that it lies "
                "flat on or under; "
                'name its edges or line, or say with "on" and "at" where it lies [nothing-to-carry]'
            )
        ],
    ),
    (
        lambda make: [make.piece(), make.piece("back"), make.opening(["front", "back"], [(9.0, 9.0)])],
        [
            (
                'p.toml:4: error: opening "rivet": through: found piece "back", which does not lie '
                'flat with "front" and has no places; '
                'allowed: pieces that lie flat with the first, or have their own points in "places"; '
                'add places = { "back" = [[x, y], …] } [opening-not-placed]'
            )
        ],
    ),
    (
        lambda make: [
            make.piece(),
            make.piece("top", on="front"),
            make.opening(["front", "top"], [(9.0, 9.0)], places={"top": [(9.0, 9.0)]}),
        ],
        [
            (
                'p.toml:4: error: opening "rivet": places: found places on piece "top", which lies '
                'flat with "front"; '
                'allowed: places only for pieces that do not lie flat with the first in "through"; '
                "leave them out: they are carried over [opening-placed-twice]"
            )
        ],
    ),
    (
        lambda make: [
            make.piece(),
            make.piece("back", on="front"),
            make.opening(["front", "back"], [(9.0, 2000.0)]),
        ],
        [
            (
                'p.toml:4: error: opening "rivet": through: found no place of opening "rivet" on "back"; '
                "allowed: a piece that at least one place lies on; take it out of through, or move it "
                "[opening-misses-piece]"
            )
        ],
    ),
    (
        lambda make: [
            make.piece(),
            make.piece("back"),
            make.opening(["front", "back"], [(9.0, 9.0)], places={"back": [(9.0, 9.0), (20.0, 9.0)]}),
        ],
        [
            (
                'p.toml:4: error: opening "rivet": places: found 2 places on piece "back"; '
                'allowed: 1, as many as on "front"; '
                "give each opening its place on each piece [opening-count]"
            )
        ],
    ),
]


@pytest.mark.parametrize(("entries", "expected"), REFUSALS)
def test_refused_in_these_words(make: SimpleNamespace, entries: Entries, expected: list[str]) -> None:
    with pytest.raises(ProjectError) as raised:
        draft(make.project(*entries(make)))
    assert [str(finding) for finding in raised.value.findings] == expected


def test_the_tables_have_each_of_the_codes_of_drafting() -> None:
    """Those of parts and edges stand in the texts beside this."""
    errors = {key.partition("/")[0] for key, row in DRAFTING.items() if row.severity is Severity.ERROR}
    told = {line[line.rindex("[") + 1 : -1] for _, expected in REFUSALS for line in expected}
    text = "".join(table.read_text("utf-8") for table in sorted(Path(__file__).parent.glob("*.txt")))
    of_parts = re.findall(r"^-> .*: error: .* \[([a-z-]+)\]$", text, re.MULTILINE)
    assert errors <= told | set(of_parts)  # reading has codes there, too


def codes(make: SimpleNamespace, *entries: Any) -> list[str]:
    with pytest.raises(ProjectError) as raised:
        draft(make.project(*entries))
    return [finding.code for finding in raised.value.findings]


def test_all_faults_are_told_in_one_go(make: SimpleNamespace) -> None:
    """Those of sound pieces beside unsound ones; what hangs on an unsound piece or line is not told twice."""
    assert codes(
        make,
        make.piece("front", points=BOX, round={"B": 70.0}),
        make.piece("back", points=BOX, lines={"row": [(10, 10), (10, 70)]}),
        make.seam("front: A-B", "back: A-B", name="one"),
        make.seam("back: row", "back: A-B-C-D-A", name="two"),
        make.seam(make.layer("back: A-B", inset=50.0), name="three"),
        make.opening(["back", "front"], [(9.0, 9.0)]),
    ) == ["radius-too-big", "line-outside-piece", "inset-too-big"]


def test_a_copys_fault_is_told_once(make: SimpleNamespace) -> None:
    first = make.piece("left", points=BOX, round={"B": 70.0})
    mirrored = [(-x, y) for x, y in BOX]
    copy = make.piece("right", points=mirrored, round={"B": 70.0}, copy_of="left", mirrored=True)
    assert codes(make, copy, first) == ["radius-too-big"]


def test_a_faulty_layer_before_a_carried_one_is_told_alone(make: SimpleNamespace) -> None:
    assert codes(
        make,
        make.piece("front", points=BOX, round={"B": 70.0}),
        make.piece("back"),
        make.seam("front: A-B", "back"),
    ) == ["radius-too-big"]
