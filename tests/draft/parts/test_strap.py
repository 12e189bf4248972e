"""Straps: where holes, rows and keepers are, by hand; what girth they close round, reckoned another way.

`python tests/draft/parts/test_strap.py 500` tries so many random straps, and tells how many became a kit; the
suite tries a few.
"""

from __future__ import annotations

import random
import re
import sys
from collections.abc import Callable
from itertools import pairwise
from math import cos, hypot, pi, sin
from pathlib import Path
from typing import Any

import pytest

from handkit.draft.drafter import draft
from handkit.draft.pattern import Pattern, PatternPiece
from handkit.errors import ProjectError
from handkit.messages.message import Severity
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

IN_SUITE = 25

HEAD = "format = 1\n[material]\nthickness = {thickness}\n[stitching]\npitch = {pitch}\ninset = {inset}\n"
PART = '[[part]]\nname = "belt"\nkind = "strap"\n'
STOOL = "width = 38\nbar = 5\ngirth = [605, 755]\n"


def strap(own: str = STOOL, *, thickness: float = 3.6, pitch: float = 5, inset: float = 5) -> Pattern:
    text = HEAD.format(thickness=thickness, pitch=pitch, inset=inset) + PART + own
    return draft(read_project_text(text, file="p.toml", folder=Path()))


def holes_of(pattern: Pattern) -> list[float]:
    """Where the tongue holes are, from the fold."""
    fold = pattern.piece("belt").fold("buckle").ends[0][0]
    (found,) = (each for each in pattern.openings if each.name == "belt holes")
    return [place.at[0] - fold for place in found.places if place.piece == "belt"]


def rows_of(pattern: Pattern) -> dict[str, list[float]]:
    """From where to where the rows on the long leaf are, from the fold."""
    fold = pattern.piece("belt").fold("buckle").ends[0][0]
    return {
        seam.name: [run.path.bounds()[k] - fold for k in (0, 2)]
        for seam in pattern.seams
        if "er" in seam.name and seam.runs[0].piece == "belt" and "keeper" not in seam.name
        for run in seam.runs[1:]
    }


def keepers_of(pattern: Pattern) -> list[float | None]:
    return [one.fitting.from_fold for one in pattern.fittings if one.fitting.kind == "keeper"]


def size(piece: PatternPiece) -> tuple[float, float]:
    left, low, right, high = piece.outline.bounds()
    return right - left, high - low


# By hand. The turn is π · (bar + s) / 2, the slot twice that in whole mm; rows begin 2 mm and half a hole of
# 1.6 beyond the slot and are half the strap's width long, rounded up to whole steps; the keeper has 2 mm and
# half a hole to either side. The butt ends two insets beyond the rows, in whole mm. A hole is turn ÷ 2 +
# bar ÷ 2 + π · s further from the fold than its girth, s being all of the strap there.
WORKED = [
    # 3.6 on a bar of 5: turn 13.509; 14 + 2.8 = 16.8, 4 steps of 5, keeper of 0.4 · 38 = 15. 605 + 6.754 +
    # 2.5 + 11.310 = 625.564; 88 + 775.564 + 2.5 · 38 = 958.564. 2 · (38 + 3 · 3.6) + π · 3.6 + 2 + 14 =
    # 124.910.
    (
        {},
        STOOL,
        28,
        {"lower 1": [16.8, 36.8], "lower 2": [57.4, 77.4]},
        [39.6],
        88,
        (625.564, 25, 7),
        958.564,
        (124.910, 15),
    ),
    # 2.4 on a bar of 4, a lining as thick: turn 10.053; 11 + 2.8, 4 steps of 4, keeper of 10. 330 + 5.027 +
    # 2 + π · 4.8 = 352.106; 90 ÷ 2 ÷ 25 = 1.8, so 2 holes to either side, 22.5 apart. 70 + 442.106 + 62.5 =
    # 574.606. 2 · (25 + 4 · 2.4) + π · 2.4 + 2 + 14 = 92.740.
    (
        {"thickness": 2.4, "pitch": 4, "inset": 4},
        "width = 25\nbar = 4\ngirth = [330, 420]\nlined = true\n",
        22,
        {"lower 1": [13.8, 29.8], "lower 2": [45.4, 61.4]},
        [32.6],
        70,
        (352.106, 22.5, 5),
        574.606,
        (92.740, 10),
    ),
    # 1.2 on a bar of 1.8 without a keeper: turn 4.712; 5 + 2.8 = 7.8, 20 ÷ 4 = 5 steps. One girth: 200 +
    # 2.356 + 0.9 + 3.770 = 207.026; 36 + 207.026 + 50 = 293.026: 7.8 + 20 + 8 = 35.8 to the butt.
    (
        {"thickness": 1.2, "pitch": 4, "inset": 4},
        "width = 20\nbar = 1.8\ngirth = [200, 200]\nkeepers = 0\n",
        10,
        {"lower": [7.8, 27.8]},
        [],
        36,
        (207.026, 0, 1),
        293.026,
        None,
    ),
]


@pytest.mark.parametrize("case", WORKED, ids=["stool", "collar", "watch"])
def test_by_hand(case: Any) -> None:
    settings, own, slot, rows, keepers, butt, (first, step, count), long, ring = case
    pattern = strap(own, **settings)
    opening = next(each.opening for each in pattern.openings if each.name == "belt slot")
    assert opening.length == slot
    found = rows_of(pattern)
    for name, row in rows.items():
        for side in ("lower", "upper"):
            assert found[f"belt, {name.replace('lower', side)}"] == pytest.approx(row, abs=0.001)
    assert keepers_of(pattern) == pytest.approx(keepers, abs=0.001)
    assert pattern.piece("belt").fold("buckle").ends[0][0] == butt
    assert holes_of(pattern) == pytest.approx([first + k * step for k in range(count)], abs=0.001)
    assert size(pattern.piece("belt"))[0] == pytest.approx(long, abs=0.001)
    if ring:
        assert size(pattern.piece("belt keeper")) == pytest.approx(ring, abs=0.001)


def walk(points: list[tuple[float, float]]) -> float:
    return sum(hypot(c - a, d - b) for (a, b), (c, d) in pairwise(points))


def closed_round(pattern: Pattern, along: float, *, bar: float) -> float:
    """What a strap closes round in a hole, walked point by point: half of the way round the bar and half of
    the bar are taken off its middle, the rest is bent to a ring, and the ring's inside is walked.
    """
    thick = sum(piece.thickness for piece in pattern.pieces if piece.name in ("belt", "belt lining"))
    bent = (bar + pattern.piece("belt").thickness) / 2
    arc = [(bent * cos(pi * k / 20000), bent * sin(pi * k / 20000)) for k in range(20001)]
    middle = (along - walk(arc) / 2 - bar / 2) / (2 * pi)
    inside = middle - thick / 2
    return walk([(inside * cos(2 * pi * k / 40000), inside * sin(2 * pi * k / 40000)) for k in range(40001)])


@pytest.mark.parametrize("lined", ["", "lined = true\n"])
@pytest.mark.parametrize(("thickness", "bar"), [(3.6, 5), (1.2, 1.8), (5, 8)])
def test_its_first_and_last_hole_close_round_the_girths(thickness: float, bar: float, lined: str) -> None:
    own = f"width = 40\nbar = {bar}\ngirth = [612.5, 740]\n{lined}"
    pattern = strap(own, thickness=thickness)
    holes = holes_of(pattern)
    assert closed_round(pattern, holes[0], bar=bar) == pytest.approx(612.5, abs=0.01)
    assert closed_round(pattern, holes[-1], bar=bar) == pytest.approx(740, abs=0.01)
    assert closed_round(pattern, holes[len(holes) // 2], bar=bar) == pytest.approx(676.25, abs=0.01)
    steps = [b - a for a, b in pairwise(holes)]
    assert steps == pytest.approx([steps[0]] * len(steps))
    assert len(holes) % 2 == 1


def test_the_middle_hole_is_at_the_usual_girth() -> None:
    pattern = strap(STOOL + "usual = 640\n")
    girths = [closed_round(pattern, along, bar=5) for along in holes_of(pattern)]
    assert girths[len(girths) // 2] == pytest.approx(640, abs=0.01)
    assert girths[-1] == pytest.approx(755, abs=0.01)
    assert girths[0] == pytest.approx(640 - 115, abs=0.01)  # past the least, for as many holes to either side


# What a measure moves of all that is told from the fold: nothing else.
MOVES = {
    "girth = [640, 800]": {"holes", "length"},
    "step = 12": {"holes"},
    "usual = 650": {"holes"},
    "beyond = 120": {"length"},
    'point = "round"': {"point"},
    "tip = 30": {"point"},
    "band = 20": {"rows", "ring"},
    "keepers = 2": {"rows", "keepers"},
    "loose = 1": {"keepers"},
    "tongue = 4": {"slot"},
    "inside = 38.5": set[str](),
    "lined = true": {"holes", "length", "ring"},
}


def parts_of(pattern: Pattern) -> dict[str, Any]:
    belt = pattern.piece("belt")
    openings = {each.name: each.opening for each in pattern.openings}
    fold, x = belt.fold("buckle").ends[0][0], belt.outline.bounds()[2]
    ring = next(piece for piece in pattern.pieces if "keeper" in piece.name)
    tip = [round(at[1], 6) for at in belt.outline.flattened(sagitta=0.01) if at[0] > x - 60]
    rounded: Callable[[Any], Any] = lambda values: [round(each, 6) for each in values]  # noqa: E731
    return {
        "holes": rounded(holes_of(pattern)),
        "length": round(x - fold, 6),
        "rows": {name: rounded(row) for name, row in rows_of(pattern).items()},
        "keepers": keepers_of(pattern),
        "ring": rounded(size(ring)),
        "slot": openings["belt slot"].diameter,
        "point": tip,
    }


@pytest.mark.parametrize("own", MOVES)
def test_a_measure_moves_its_own_part_alone(own: str) -> None:
    before = parts_of(strap())
    base = STOOL if "girth" not in own else STOOL.replace("girth = [605, 755]\n", "")
    after = parts_of(strap(f"{base}{own}\n"))
    assert {what for what in before if before[what] != after[what]} == MOVES[own]


@pytest.mark.parametrize("key", ["width", "bar", "beyond", "band"])
def test_more_is_longer(key: str) -> None:
    """A wider strap, a thicker bar, a longer end, a wider keeper: never a shorter strap."""
    stool = {"width": 38.0, "bar": 5.0, "beyond": 95.0, "band": 15.0, "tongue": 4.5}
    longs = []
    for more in (0, 0.5, 1, 2, 4, 8):
        own = "".join(f"{name} = {value + (more if name == key else 0)}\n" for name, value in stool.items())
        longs.append(size(strap(f"{own}girth = [605, 755]\n").piece("belt"))[0])
    assert longs == sorted(longs)
    assert longs[-1] > longs[0]


@pytest.mark.parametrize(
    ("own", "key", "value"),
    [
        ("bar = 5\ngirth = [605, 755]", "width", 12),
        ("bar = 5\ngirth = [605, 755]\nlined = true", "width", 15),
        ("width = 38\nbar = 5\ngirth = [605, 755]", "band", 5),
        ("width = 38\nbar = 5\ngirth = [605, 755]", "beyond", 30),
        ("width = 38\nbar = 5\ngirth = [605, 755]\nkeepers = 0", "beyond", 30),
        ("width = 38\nbar = 5\ngirth = [605, 755]", "tip", 12),
        ("width = 38\nbar = 5\ngirth = [100, 755]", "usual", 300),
    ],
)
def test_the_least_that_is_named_is_taken(own: str, key: str, value: float) -> None:
    def told(value: float) -> str:
        try:
            strap(f"{own}\n{key} = {value}\n")
        except ProjectError as refused:
            return str(refused)
        return ""

    named = re.search(rf": {key}: .* allowed: (?:at least )?([\d.]+)(?: mm| to)", told(value))
    assert named, told(value)
    least = float(named[1])
    assert told(least) == ""
    assert f": {key}: " in told(round(least - 0.1, 2))


def random_strap(rng: random.Random) -> str:
    """Sizes of all sorts, and stitching that goes together: what does not is told by other rules."""
    pitch, inset, thread = rng.choice([(3, 3, 0.5), (4, 4, 0.8), (5, 4, 0.8), (6, 6, 1.0)])
    least = rng.choice([20, 80, 150, 300, 600, 900])
    most = least + rng.choice([0, 2, 10, 40, 90, 150, 400])
    choices: dict[str, list[Any]] = {
        "tongue": [1, 2, 4, 6], "usual": [100, 320, 650, (least + most) / 2], "step": [3, 10, 25, 60],
        "beyond": [5, 20, 60, 120], "tip": [6, 10, 16, 30],
        "point": ['"round"', '"straight"', '"pointed"', '"English"'],
        "keepers": [0, 1, 2, 3], "loose": [0, 1, 2], "band": [5, 10, 16, 30], "lined": ["true"],
        "inside": [20, 25, 38], "padding": [1, 3, 8], "padding_width": [3, 8, 20, 60],
    }  # fmt: skip
    width, bar = rng.choice([5, 8, 12, 16, 20, 25, 32, 38, 50, 100]), rng.choice([0.8, 1.8, 3, 5, 8, 12])
    own = [f"{key} = {rng.choice(choices[key])}\n" for key in rng.sample(sorted(choices), rng.randint(0, 4))]
    if any("padding" in each for each in own) and "lined = true\n" not in own:
        own.append(rng.choice(["lined = true\n"] * 4 + [""]))
    head = HEAD.format(thickness=rng.choice([0.8, 1.2, 2, 2.4, 3.6, 5]), pitch=pitch, inset=inset)
    needs = f"width = {width}\nbar = {bar}\ngirth = [{least}, {most}]\n"
    return f"{head}thread = {thread}\n{PART}{needs}{''.join(own)}"


def faults(text: str) -> list[str]:
    """The errors that a project is refused with; none where it becomes a kit."""
    try:
        punch(draft(read_project_text(text, file="p.toml", folder=Path())))
    except ProjectError as refused:
        return [str(each) for each in refused.findings if each.severity is Severity.ERROR]
    return []


NAMED = re.compile(
    r'(part "belt"|fitting "belt buckle"): (width|girth|usual|beyond|tip|band|inside|padding|padding_width): '
)


@pytest.mark.parametrize("seed", range(IN_SUITE))
def test_any_sizes_give_a_kit_or_one_message(seed: int) -> None:
    text = random_strap(random.Random(f"strap {seed}"))
    told = faults(text)
    assert len(told) <= 1, text
    assert all(NAMED.search(each) for each in told), told


def main(count: int) -> None:
    kits = 0
    for seed in range(count):
        text = random_strap(random.Random(f"strap {seed}"))
        told = faults(text)
        kits += not told
        if len(told) > 1 or not all(NAMED.search(each) for each in told):
            print(text, *told, sep="\n")
    print(f"{count} tried, {kits} kits, the others told in one message but for those above")


if __name__ == "__main__":
    main(int(sys.argv[1]))
