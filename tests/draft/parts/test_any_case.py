"""Wallets, covers, bags and their pockets in any sizes: a kit, or one message that names what to change.

`python tests/draft/parts/test_any_case.py 500` tries so many random projects of each kind, and tells how many
became a kit; the suite tries a few.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from handkit.assemble.assembler import assemble
from handkit.draft.drafter import draft
from handkit.errors import ProjectError
from handkit.findings import Finding
from handkit.messages.message import Severity
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text
from handkit.stitch.planner import plan

IN_SUITE = 12

HEAD = """format = 1
[material]
thickness = {thickness}
kind = "{material}"
[stitching]
pitch = {pitch}
inset = {inset}
thread = {thread}
"""


def head(rng: random.Random) -> str:
    """A material, and stitching that goes together: what does not is told by other rules."""
    pitch, inset, thread = rng.choice([(3, 3, 0.5), (3.38, 3, 0.6), (4, 4, 0.8), (5, 4, 0.8), (4, 6, 0.6)])
    return HEAD.format(
        thickness=rng.choice([0.6, 0.8, 1.2, 1.6, 2.4]),
        material=rng.choice(["firm leather", "soft leather", "canvas"]),
        pitch=pitch,
        inset=inset,
        thread=thread,
    )


def item(rng: random.Random, name: str, part: str, sizes: tuple[list[float], ...]) -> str:
    size = ", ".join(f"{rng.choice(each)}" for each in sizes)
    return f'[[item]]\nname = "{name}"\nin = "{part}"\nsize = [{size}]\n'


def some(rng: random.Random, choices: dict[str, list[str]], most: int) -> str:
    keys = rng.sample(sorted(choices), rng.randint(0, most))
    return "".join(f"{key} = {rng.choice(choices[key])}\n" for key in sorted(keys))


def stepped_pockets(rng: random.Random) -> str:
    lengths = ["3", "5", "8", "10", "12", "14", "20", "33.3", "60"]
    keys = some(
        rng,
        {
            "steps": ["1", "2", "3", "6", "12"],
            "reveal": lengths,
            "tees": ["true"],
            "width": [*lengths, "98", "150"],
            "round": lengths,
            "ease": ["0", "3", '"5 %"', "40"],
        },
        3,
    )
    sizes = ([9.0, 40, 85.6, 88, 140], [0.3, 0.76, 1.5, 6], [12.0, 30, 53.98, 77, 125])
    items = "".join(item(rng, f"card {k}", "cards", sizes) for k in range(rng.choice([1, 1, 2, 4])))
    base = '[[piece]]\nname = "back"\nrectangle = [600, 600]\n'
    return (
        head(rng)
        + base
        + f'[[part]]\nname = "cards"\nkind = "stepped pockets"\non = "back"\nat = [20, 20]\n{keys}{items}'
    )


def bag(rng: random.Random) -> str:
    lengths = ["5", "12", "20", "33.3", "60", "150", "300"]
    keys = some(
        rng,
        {
            "width": lengths,
            "height": lengths,
            "depth": lengths,
            "round": lengths,
            "strips": ['"three"'],
            "closed_by": ['"zip"', '"flap"', '"snaps"', '"stud"', '"tab"', '"strap"'],
            "flap": lengths,
            "hem": ["6", "12", "20"],
            "drop": lengths,
            "strap": ["10", "20", "32", "60"],
            "ease": ["0", "5", '"10 %"'],
            "allowance": ["3", "10", "25"],
            "below": ["5", "30"],
            "stud_head": ["3", "9", "20"],
        },
        6,
    )
    sizes = ([5.0, 40, 150, 210], [1.0, 12, 40, 120], [8.0, 60, 148, 297])
    items = "".join(item(rng, f"thing {k}", "bag", sizes) for k in range(rng.choice([1, 1, 2, 4])))
    return head(rng) + f'[[part]]\nname = "bag"\nkind = "bag"\n{keys}{items}'


def sound_bag(rng: random.Random, closed_by: str = "") -> str:
    """Keys that go together, so that most become a kit."""
    closing = closed_by or rng.choice(["none", "none", "zip", "flap", "snaps", "stud"])
    strips = rng.choice(["one", "three"])

    def perhaps(share: float, key: str, *values: str) -> str:
        return f"{key} = {rng.choice(values)}\n" if rng.random() < share else ""

    keys = f'closed_by = "{closing}"\nstrips = "{strips}"\n'
    keys += perhaps(0.4, "hem", "8", "12", "20") + perhaps(0.4, "allowance", "6", "10", "15")
    if strips == "one":
        keys += perhaps(0.3, "round", "25", "40", "60")
    if closing not in ("none", "zip"):
        keys += perhaps(0.5, "flap", "40", "80", "120")
        if closed_by == "strap":
            keys += perhaps(0.4, "strap", "12", "25", "60") + perhaps(0.2, "band", "8", "14", "40")
        if closed_by in ("strap", "tab"):
            keys += perhaps(0.3, "below", "5", "30", "80") + perhaps(0.2, "rivet_cap", "6", "14")
    elif handles := perhaps(0.5, "drop", "20", "80", "150"):
        keys += handles + perhaps(0.5, "strap", "20", "25", "40")
    for key in ("width", "height", "depth"):
        keys += perhaps(0.2, key, "60", "150", "300")
    sizes = ([20.0, 90, 150, 210, 300], [4.0, 12, 40, 120], [40.0, 90, 148, 297])
    items = "".join(item(rng, f"thing {k}", "bag", sizes) for k in range(rng.choice([1, 1, 2, 3])))
    return f'{head(rng)}[[part]]\nname = "bag"\nkind = "bag"\n{keys}{items}'


def closed_bag(closing: str) -> Callable[[random.Random], str]:
    """A bag that is sound but for what its flap is closed by."""
    return lambda rng: sound_bag(rng, closing)


def fold_cover(rng: random.Random) -> str:
    lengths = ["5", "8", "12", "20", "33.3", "60", "105", "150", "300"]
    keys = some(
        rng,
        {
            **dict.fromkeys(("width", "height", "depth", "flap", "round", "sleeve"), lengths),
            "board": ["0.5", "1", "2", "5"],
            "ends": ['"turn-ins"', '"open"'],
            "spine": ['"level"'],
            "ease": ["0", "5", '"10 %"'],
            "allowance": ["3", "10", "25"],
            "below": ["5", "30"],
            "stud_head": ["3", "9", "20"],
        },
        6,
    )
    sizes = ([9.0, 54, 105, 148], [0.5, 2, 12, 40], [12.0, 85.6, 148, 210])
    items = item(rng, "book", "cover", sizes) if rng.random() < 0.8 else ""
    return head(rng) + f'[[part]]\nname = "cover"\nkind = "fold cover"\n{keys}{items}'


CLOSINGS = ("snap", "tab", "stud", "strap")
POCKETS = {"flat pocket": "", "bowed pocket": "", "boxed pocket": " front", "stepped pockets": " 2"}


def flap(closing: str) -> Callable[[random.Random], str]:
    """A flap over a pocket that is sound by itself: what is told is told of the flap."""

    def over(rng: random.Random) -> str:
        lengths = ["5", "6", "10", "15", "22", "33.3", "60", "150"]
        own = {
            "strap": {"strap": ["10", "14", "20", "60"], "band": ["4", "10", "20"], "rivet_cap": ["6", "14"]},
            "stud": {"stud_head": ["3", "9", "20"], "stud_neck": ["2", "5"]},
            "tab": {"snap_cap": ["10", "30"], "rivet_cap": ["3", "14"]},
            "snap": {"snap_cap": ["4", "10", "30"]},
        }
        keys = dict.fromkeys(("width", "reach", "below", "lap", "round"), lengths)
        told = some(rng, {**keys, "continues": ["true"], **own[closing]}, 3)
        kind, wide = rng.choice(sorted(POCKETS)), rng.choice([40, 62, 110])
        high, beside, above = rng.choice([54, 90, 140]), rng.choice([30, 45]), rng.choice([12, 30, 90])
        thick = 0.8 if kind == "stepped pockets" else rng.choice([3, 14])
        steps = "steps = 2\n" if kind == "stepped pockets" else ""
        return (
            head(rng).replace("canvas", "firm leather")
            + f'[[piece]]\nname = "back"\nrectangle = [{wide + 2 * beside}, {high + 20 + above}]\n'
            + f'[[part]]\nname = "pocket"\nkind = "{kind}"\non = "back"\nat = [{beside - 16}, 12]\n{steps}'
            + item(rng, "glass", "pocket", ([float(wide)], [thick], [float(high)]))
            + f'[[part]]\nname = "flap"\nkind = "flap"\non = "back"\nto = "pocket{POCKETS[kind]}"\n'
            + f'closed_by = "{closing}"\n{told}'
        )

    return over


CASES: dict[str, Callable[[random.Random], str]] = {
    "stepped pockets": stepped_pockets,
    "bag": bag,
    "sound bag": sound_bag,
    "fold cover": fold_cover,
    **{f"bag with a {closing}": closed_bag(closing) for closing in ("tab", "strap")},
    **{f"flap with a {closing}": flap(closing) for closing in CLOSINGS},
}


def faults(text: str) -> list[Finding]:
    """The errors that a project is refused with; none where it becomes a kit. Of a flap with several keys out
    of range one is counted: each is a cause of its own, told at a key of the file."""
    try:
        punched = punch(draft(read_project_text(text, file="p.toml", folder=Path())))
        plan(assemble(punched).punched)
    except ProjectError as refused:
        told = [each for each in refused.findings if each.severity is Severity.ERROR]
        of_flap = {each.where.key for each in told if each.where.key.startswith('part "flap": ')}
        return told[:1] if len(of_flap) == len(told) else told
    return []


def at_key(told: Finding) -> bool:
    """Whether a message is told of what the file says: no drafted seam, opening or piece."""
    return told.where.key.startswith(('part "', 'item "', 'piece "back"'))


@pytest.mark.long
@pytest.mark.parametrize("kind", CASES)
@pytest.mark.parametrize("seed", range(IN_SUITE))
def test_any_sizes_give_a_kit_or_one_message(kind: str, seed: int) -> None:
    text = CASES[kind](random.Random(f"{kind} {seed}"))
    told = faults(text)
    assert len(told) <= 1, text
    assert all(map(at_key, told)) or "flap" not in kind, text


def main(count: int, kinds: list[str]) -> None:
    for kind in kinds or CASES:
        kits = 0
        for seed in range(count):
            text = CASES[kind](random.Random(f"{kind} {seed}"))
            told = faults(text)
            kits += not told
            if len(told) > 1 or ("flap" in kind and not all(map(at_key, told))):
                print(text, *told, sep="\n")
        print(f"{kind}: {count} tried, {kits} kits, the others told in one message but for those above")


if __name__ == "__main__":
    main(int(sys.argv[1]), sys.argv[2:])
