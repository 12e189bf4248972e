"""Random projects, by number: the same text for a number everywhere. Most are good, the rest is refused.

A project is put together of blocks that have nothing to do with one another: pieces by hand with what a piece
may carry, and every kind of part that holds things, in a frame turned or behind as it comes.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

from handkit.errors import ProjectError
from handkit.kit import punched_from
from handkit.punch.punched import Punched
from handkit.read.reader import read_project_text

PER_UNIT = {"mm": 1.0, "cm": 10.0, "in": 25.4}
HOLES = ("{ round = 1.6 }", "{ slit = 2.4, slant = 45 }", "{ slit = 2.1, slant = 30 }")
THINGS = ("size", "diameter", "section")


class Writer:
    """Text in a unit, by a random source."""

    def __init__(self, number: int) -> None:
        self.random = Random(number)
        self.unit = self.random.choice(["mm", "mm", "mm", "cm", "in"])

    def size(self, least: float, most: float) -> float:
        """A length of mm in tenths, in the unit."""
        return self.length(round(self.random.uniform(least, most), 1))

    def length(self, mm: float) -> float:
        return round(mm / PER_UNIT[self.unit], 6)

    def at(self, x: float, y: float) -> list[float]:
        return [self.length(x), self.length(y)]

    def chance(self, share: float) -> bool:
        return self.random.random() < share


def text_of(number: int) -> str:
    """The project of a number."""
    w = Writer(number)
    blocks = w.random.sample([patch, twins, strap, flat, bowed, boxed, holders], w.random.randint(1, 3))
    slit = w.random.choice(HOLES)
    head = [
        "# A random project.",
        "format = 1",
        f'unit = "{w.unit}"',
        "[material]",
        f'thickness = "{w.random.choice(["1.2 mm", "2 mm", "6 oz", "2.4 mm"])}"',
        "[stitching]",
        f'pitch = "{w.random.choice([4, 4.5, 5])} mm"',
        'inset = "4 mm"',
        f"hole = {in_mm(slit, w)}",
        f'spacing = "{w.random.choice(["even", "iron"])}"',
    ]
    return "\n".join([*head, *(line for k, block in enumerate(blocks) for line in block(w, k))]) + "\n"


def in_mm(slit: str, w: Writer) -> str:
    if w.unit == "mm":
        return slit
    key, _, rest = slit.strip("{ }").partition(" = ")
    width, _, slant = rest.partition(",")
    return f'{{ {key} = "{width} mm"{"," + slant if slant else ""} }}'


def piece(name: str, *lines: str) -> list[str]:
    return ["[[piece]]", f'name = "{name}"', *lines]


def seam(name: str, runs: str, *lines: str) -> list[str]:
    return ["[[seam]]", f'name = "{name}"', f"runs = {runs}", *lines]


def patch(w: Writer, k: int) -> list[str]:
    """A front sewn flat on a back, skived or trimmed, rivets in a row, a slot beside it."""
    wide, high = w.random.randint(60, 140), w.random.randint(60, 120)
    more = w.random.choice(
        [
            f'skive = {{ "C-D" = {{ width = {w.length(12)}, to = "0.8 mm" }} }}',
            f'trim = {{ "A-B" = {w.length(2)} }}',
            f'arc = {{ "C-D" = {w.length(7)} }}',
            f"items = {{ awl = [{w.at(10, 10)}, {w.at(24, 10)}, {w.at(24, 50)}] }}",
        ]
    )
    return [
        *piece(f"back {k}", f"rectangle = {w.at(wide + 60, high + 60)}", f"round = {w.size(3, 14)}"),
        *piece(
            f"front {k}",
            f"rectangle = {w.at(wide, high)}",
            f"round = {{ A = {w.size(4, 14)}, B = {w.size(4, 14)} }}",
            f'on = "back {k}"',
            f"at = {w.at(15, 20)}",
            f'thickness = "{w.random.choice(["3 oz", "1.6 mm"])}"',
            more,
        ),
        *seam(
            f"rim {k}", f'["front {k}: D-A-B-C", "back {k}"]', f"after = {w.random.choice(['[]', after(k)])}"
        ),
        "[[opening]]",
        f'name = "rivets {k}"',
        'kind = "rivet"',
        'hole = "3 mm"',
        'cap = "9 mm"',
        f'through = ["front {k}", "back {k}"]',
        f"at = [{w.at(18, high - 14)}]",
        f"row = [3, {w.length(12.5)}, 0]",
        "[[opening]]",
        f'name = "slot {k}"',
        'kind = "slot"',
        f"slot = [{w.length(20)}, {w.length(4)}]",
        f"turn = {w.random.choice([0, 30, 90])}",
        f'through = ["back {k}"]',
        f"at = [{w.at(wide + 38, high / 2)}]",
    ]


def after(k: int) -> str:
    return f'["slot {k}"]'


def twins(w: Writer, k: int) -> list[str]:
    """A slanted piece with a line and a fold, its mirror image behind it, sewn to it by a match point."""
    wide, high = w.random.randint(60, 120), w.random.randint(70, 120)
    start = w.size(0, 5)
    runs = [f'{{ run = "{side} {k}: B-C", from_start = {start} }}' for side in ("left", "right")]
    middle = (wide - 4.5, 3 + high / 2)
    places = (w.at(*middle), w.at(-middle[0], middle[1]))
    match = [f"match = [[{places[0]}, {places[1]}]]"] * w.chance(0.5)
    shape = [w.at(0, 0), w.at(wide, 6), w.at(wide - 9, high), w.at(4, high + 5)]
    return [
        *piece(
            f"left {k}",
            f"points = {shape}",
            f"lines = {{ hang = [{w.at(12, 30)}, {w.at(12, 60)}, {w.at(30, 60)}] }}",
            f"marks = {{ meet = [[{w.at(wide / 2, 10)}, {w.at(wide / 2, 18)}]] }}",
            f'mark = "{w.random.choice(["grain", "flesh"])}"',
            f"grain = {w.random.choice([90, 60, 0])}",
        ),
        *piece(f"right {k}", f'copy = "left {k}"', "mirrored = true", *over(w, f"left {k}", 0, 0)),
        *seam(f"side {k}", f"[{runs[0]}, {runs[1]}]", *match),
        *seam(
            f"hang {k}", f'["left {k}: hang", "right {k}: hang"]', f"start_back = {w.random.randint(0, 2)}"
        ),
    ]


def over(w: Writer, on: str, x: float, y: float) -> list[str]:
    """Behind a piece and turned over, so that a mirrored copy lies edge on edge."""
    return [f'on = "{on}"', f"at = {w.at(x, y)}", "turned_over = true", "behind = true"]


def strap(w: Writer, k: int) -> list[str]:
    """A strap folded back round a buckle, with tongue holes."""
    long, wide = w.random.randint(250, 420), w.random.choice([25, 30, 38])
    rows = {"short": ((8, 5), (45, 5)), "long": ((112, 5), (75, 5))}
    lines = ", ".join(f"{name} = [{w.at(*a)}, {w.at(*b)}]" for name, (a, b) in rows.items())
    fold = f'line = [{w.at(60, 0)}, {w.at(60, wide)}], out = "grain", radius = {w.length(1.5)}, stays = "B"'
    return [
        *piece(
            f"strap {k}",
            f"rectangle = {w.at(long, wide)}",
            "grain = 0",
            f"lines = {{ {lines} }}",
            f"folds = {{ bar = {{ {fold} }} }}",
        ),
        *seam(f"turned end {k}", f'["strap {k}: short", "strap {k}: long"]', 'note = "wax the thread well"'),
        "[[opening]]",
        f'name = "holes {k}"',
        'kind = "tongue"',
        'hole = "4 mm"',
        f'through = ["strap {k}"]',
        f"at = [{w.at(long - 90, wide / 2)}]",
        f"row = [3, {w.length(25)}, 0]",
        "[[fitting]]",
        f'name = "buckle {k}"',
        'kind = "buckle"',
        f'on = "strap {k}"',
        'fold = "bar"',
        f'inside = "{wide + 1} mm"',
        'bar = "4 mm"',
    ]


def thing(w: Writer, name: str, held: str, box: tuple[float, float, float]) -> list[str]:
    """Something to be carried, of about this width, thickness and length."""
    wide, thick, long = (round(side * w.random.uniform(0.8, 1.2), 1) for side in box)
    how = w.random.choice(THINGS) if thick > 5 else "size"
    shapes: dict[str, list[Any]] = {
        "size": [f"size = {[w.length(wide), w.length(thick), w.length(long)]}"],
        "diameter": [f"diameter = {w.length(thick)}", f"length = {w.length(long)}"],
        "section": [
            f"section = [{w.at(0, 0)}, {w.at(wide, 0)}, {w.at(wide - 2, thick)}, {w.at(2, thick)}]",
            f"length = {w.length(long)}",
        ],
    }
    return ["[[item]]", f'name = "{name}"', f'in = "{held}"', *shapes[how]]


def part(w: Writer, k: int, kind: str, base: float, *lines: str) -> list[str]:
    """A part in the middle of a large base, turned or behind as it comes."""
    turn = w.random.choice([0, 0, 0, 90, 23.5])
    behind = w.chance(0.25)
    middle = base * (0.35 if not turn else 0.55)
    return [
        *piece(f"base {k}", f"rectangle = {w.at(base, base)}", 'thickness = "3 mm"'),
        "[[part]]",
        f'name = "part {k}"',
        f'kind = "{kind}"',
        f'on = "base {k}"',
        f"at = {w.at(base - middle if behind else middle, middle)}",
        *([f"turn = {turn}"] if turn else []),
        *(["behind = true"] if behind else []),
        *lines,
    ]


def flat(w: Writer, k: int) -> list[str]:
    held = [
        line for n in range(w.random.randint(1, 3)) for line in thing(w, f"{k} {n}", f"part {k}", (30, 2, 90))
    ]
    own = [f"round = {w.size(4, 10)}"] * w.chance(0.5) + ["dividers = false"] * w.chance(0.3)
    lining = ["[[part]]", f'name = "lining {k}"', 'kind = "lining"', f'of = "part {k}"', "inset_by = 0"]
    return [*part(w, k, "flat pocket", 520, *own), *held, *(lining if w.chance(0.4) else [])]


def bowed(w: Writer, k: int) -> list[str]:
    own = ["rivets = true"] * w.chance(0.5) + [f"round = {w.size(8, 14)}"] * w.chance(0.3)
    own += [f"hem = {w.size(12, 16)}"] * w.chance(0.3)
    return [*part(w, k, "bowed pocket", 560, *own), *thing(w, f"thing {k}", f"part {k}", (60, 18, 130))]


def boxed(w: Writer, k: int) -> list[str]:
    own = ['gusset = "turned"'] * w.chance(0.5) + [f"shows = {w.size(5, 20)}"]
    lines = part(w, k, "boxed pocket", 600, *own) + thing(w, f"thing {k}", f"part {k}", (80, 30, 130))
    return lines + ["[[piece]]", f'name = "part {k} gusset"', 'thickness = "1.4 mm"'] * w.chance(0.5)


def holders(w: Writer, k: int) -> list[str]:
    tools = [
        line
        for n in range(w.random.randint(1, 4))
        for line in thing(w, f"{k} {n}", f"part {k}", (14, 12, 80))
    ]
    own = [f"gap = {w.size(10, 16)}", f"shows = {w.size(20, 30)}"]
    return [*part(w, k, "holder row", 600, *own), *tools]


def punched(text: str, file: str = "random.toml") -> Punched:
    """A project drafted and punched. Raises ProjectError."""
    return punched_from(read_project_text(text, file=file, folder=Path()))


def good(numbers: range) -> Iterator[tuple[int, str]]:
    """The good projects of some numbers."""
    for number in numbers:
        text = text_of(number)
        try:
            punched(text)
        except ProjectError:
            continue
        yield number, text
