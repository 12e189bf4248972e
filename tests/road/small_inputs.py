"""Small files that ask for much, projects and kits, and what one of them takes of a process of its own.

In: a name of `INPUTS`. Out: exit code, words, seconds of processor, and memory. As a command it measures all
of them, or those that are named: `python tests/road/small_inputs.py [NAME …]`.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Callable
from math import cos, pi, sin
from pathlib import Path
from typing import NamedTuple

from small_pdfs import hex_strings, lists, nested_forms, nested_tags, operands

SECONDS = 10.0  # of processor, for each command
MEGABYTES = 500.0  # of memory, at the most
SOUND = (0, 1, 3)  # exit codes: done, refused, a file that can't be read

HEAD = "format = 1\n[material]\nthickness = 2\n[stitching]\ntail = 100\n"


class Small(NamedTuple):
    """A project's text or a kit's bytes, and the words of a command after its name."""

    text: Callable[[], str | bytes]
    options: tuple[str, ...] = ()

    @property
    def commands(self) -> tuple[str, ...]:
        """What it is given to."""
        return ("proof",) if isinstance(self.text(), bytes) else ("check", "make")


class Taken(NamedTuple):
    """What a command came to."""

    code: int
    said: str
    seconds: float
    megabytes: float


def rectangle(name: str, wide: float, high: float, more: str = "") -> str:
    return f'[[piece]]\nname = "{name}"\nrectangle = [{wide}, {high}]\n{more}\n'


def seam(name: str, runs: str, more: str = "") -> str:
    return f'[[seam]]\nname = "{name}"\nruns = [{runs}]\n{more}\n'


def opening(name: str, piece: str, at: str, more: str = "") -> str:
    what = f'[[opening]]\nname = "{name}"\nkind = "eyelet"\nhole = 4\nthrough = ["{piece}"]\n'
    return f"{what}at = [{at}]\n{more}\n"


def one(wide: float, high: float) -> str:
    return HEAD + rectangle("one", wide, high)


def circle() -> str:
    return HEAD + '[[piece]]\nname = "round"\ncircle = 2000\n'


def many_seams(after: int) -> str:
    """300 seams on 100 pieces: at each of the fronts of 50 pairs six seams, one above the other."""
    text = HEAD
    for k in range(50):
        text += rectangle(f"back {k}", 120, 140)
        text += rectangle(f"front {k}", 100, 120, f'on = "back {k}"\nat = [10, 10]\n' + _lines(6))
    for k in range(300):
        names = ", ".join(f'"s{j}"' for j in range(max(0, k - after), k))
        text += seam(f"s{k}", f'"front {k % 50}: l{k // 50}", "back {k % 50}"', f"after = [{names}]")
    return text


def _lines(count: int) -> str:
    rows = (f"l{k} = [[10, {10 + 18 * k}], [90, {10 + 18 * k}]]" for k in range(count))
    return f"lines = {{ {', '.join(rows)} }}"


def outlines(count: int, points: int, wide: float = 100) -> str:
    """Round pieces with as many corners, their radius going in and out a little."""
    text = HEAD
    for k in range(count):
        radii = [wide + 2 * sin(12 * pi * j / points * (k + 1)) for j in range(points)]
        turns = [2 * pi * j / points for j in range(points)]
        ring = ", ".join(f"[{r * cos(t):.3f}, {r * sin(t):.3f}]" for r, t in zip(radii, turns, strict=True))
        text += f'[[piece]]\nname = "blob {k}"\npoints = [{ring}]\n'
    return text


def stacked() -> str:
    """200 pieces, each on the one before, sewn through at their foot by twenties."""
    text = HEAD.replace("thickness = 2", "thickness = 0.1") + rectangle("p0", 200, 100)
    for k in range(1, 200):
        text += rectangle(f"p{k}", 200, 100 - k * 0.1, f'on = "p{k - 1}"')
    for k in range(0, 200, 20):
        text += seam(f"s{k}", ", ".join([f'"p{k}: A-B"', *(f'"p{k + j}"' for j in range(1, 20))]))
    return text


def openings(entries: int, each: int) -> str:
    text = HEAD + rectangle("board", 600, 600)
    count = 0
    for k in range(entries):
        at = []
        for _ in range(each):
            at.append(f"[{10 + 18 * (count % 32)}, {10 + 18 * (count // 32)}]")
            count += 1
        text += opening(f"o{k}", "board", ", ".join(at))
    return text


def quantity(wide: float, high: float, count: int = 500) -> str:
    return HEAD + rectangle("tag", wide, high, f"quantity = {count}\nround = 4")


def fine_pitch() -> str:
    return HEAD + rectangle("long", 4000, 40) + seam("edge", '"long: A-B"', "pitch = 0.1")


def long_seam(pieces: int = 1, pitch: float = 1) -> str:
    """3,000 holes a seam."""
    text = HEAD.replace("tail", "thread = 0.2\nhole = { round = 0.4 }\ntail")
    for k in range(pieces):
        text += rectangle(f"long {k}", 3000 * pitch + 10, 40)
        text += rectangle(f"on {k}", 3000 * pitch + 10, 40, f'on = "long {k}"')
        text += seam(f"edge {k}", f'"long {k}: A-B", "on {k}"', f"pitch = {pitch}")
    return text


def items(parts: int, each: int) -> str:
    text = HEAD
    for k in range(parts):
        text += rectangle(f"back {k}", 60 + 40 * each, 200)
        text += f'[[part]]\nname = "pocket {k}"\nkind = "flat pocket"\non = "back {k}"\nat = [15, 15]\n'
        text += "".join(
            f'[[item]]\nname = "thing {k} {j}"\nin = "pocket {k}"\nsize = [20, 2, 120]\n' for j in range(each)
        )
    return text


def long_label() -> str:
    return HEAD + rectangle("one", 100, 100, f'note = "{"word " * 2000}"')


def long_name() -> str:
    return HEAD + rectangle("n" * 10_000, 100, 100)


def megabytes() -> str:
    return HEAD + rectangle("one", 100, 100) + "# much ado\n" * 500_000


def nested() -> str:
    return HEAD + "deep = " + "[" * 100_000 + "]" * 100_000


def many_keys() -> str:
    return HEAD + "".join(f"k{k} = 1\n" for k in range(80_000))


def many_tables() -> str:
    return HEAD + "".join(f"[t{k}]\n" for k in range(80_000))


def huge_numbers() -> str:
    return (
        HEAD
        + rectangle("one", 1, 1).replace("[1, 1]", "[1e308, 1e308]")
        + opening("o", "one", "[1e308, -1e308]", "row = [100000, 1e308, 1e308]")
    )


def long_row() -> str:
    return HEAD + rectangle("one", 1000, 1000) + opening("o", "one", "[10, 10]", "row = [100000, 5, 0]")


def with_joins() -> str:
    return HEAD + "".join(rectangle(f"p{k}", 400 + k, 250 + k) for k in range(200))


def too_many_pieces() -> str:
    return HEAD + "".join(rectangle(f"p{k}", 400 + k, 250 + k) for k in range(300))


INPUTS: dict[str, Small] = {
    "a piece of 4000 by 1": Small(lambda: one(4000, 1)),
    "a piece of 2000 by 1": Small(lambda: one(2000, 1)),
    "a piece of 10000 by 10000": Small(lambda: one(10000, 10000)),
    "a circle of 2000": Small(circle),
    "300 seams on 100 pieces": Small(lambda: many_seams(0)),
    "300 seams, each after 100": Small(lambda: many_seams(100)),
    "20 outlines of 2000 points": Small(lambda: outlines(20, 2000)),
    "20 large outlines of 2000 points": Small(lambda: outlines(20, 2000, 500)),
    "200 pieces stacked": Small(stacked),
    "1000 openings of one entry": Small(lambda: openings(2, 500)),
    "1000 openings of 250 entries": Small(lambda: openings(250, 4)),
    "500 drawn each": Small(lambda: quantity(60, 30), ("--draw", "each")),
    "40 of two portions drawn each": Small(lambda: quantity(300, 200, 40), ("--draw", "each")),
    "500 large ones drawn each": Small(lambda: quantity(300, 200), ("--draw", "each")),
    "a pitch of 0.1": Small(fine_pitch),
    "3000 holes a seam": Small(long_seam),
    "3000 holes each of five seams": Small(lambda: long_seam(5)),
    "200 items": Small(lambda: items(20, 10)),
    "500 items": Small(lambda: items(50, 10)),
    "a label of 10000 letters": Small(long_label),
    "a name of 10000 letters": Small(long_name),
    "a file of 5 MB": Small(megabytes),
    "lists in one another": Small(nested),
    "80000 keys": Small(many_keys),
    "80000 tables": Small(many_tables),
    "numbers like 1e308": Small(huge_numbers),
    "a row of 100000": Small(long_row),
    "200 pieces with joins": Small(with_joins),
    "300 pieces with joins": Small(too_many_pieces),
    "a PDF of eleven nested forms": Small(nested_forms),
    "a PDF of 16 kB of operands": Small(lambda: operands(8000)),
    "a PDF of a million operands": Small(lambda: operands(1_000_000)),
    "a PDF of lists in one another": Small(lambda: lists(8000)),
    "a PDF of a hex string": Small(lambda: hex_strings(1, 1_000_000)),
    "a PDF of many hex strings": Small(lambda: hex_strings(2000, 500)),
    "a PDF of 2000 pages of nested tags": Small(lambda: nested_tags(2000, 200, shared=False)),
    "a PDF of 2000 pages of a few nested tags": Small(lambda: nested_tags(2000, 20, shared=False)),
    "a PDF of 2000 pages that share their tags": Small(lambda: nested_tags(2000, 200, shared=True)),
    "a PDF of 50000 tags in one another": Small(lambda: nested_tags(1, 50_000, shared=False)),
}


# Runs a command and says after its output how it ended, its seconds and its kilobytes. It stands between,
# since the peak of a child counts that of the process which it was split off from.
BETWEEN = """
import os, subprocess, sys
child = subprocess.Popen(sys.argv[1:], stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
sys.stdout.buffer.write(child.stdout.read())
_, status, used = os.wait4(child.pid, 0)
print(f"\\n{os.waitstatus_to_exitcode(status)} {used.ru_utime + used.ru_stime} {used.ru_maxrss}")
os._exit(sys.stdout.flush() or 0)
"""


def taken(command: str, small: Small, folder: Path) -> Taken:
    """What a command of handkit takes for it, in a process of its own."""
    given = small.text()
    file = folder / ("small.pdf" if isinstance(given, bytes) else "small.toml")
    file.write_bytes(given if isinstance(given, bytes) else given.encode())
    words = [sys.executable, "-m", "handkit", command, str(file), *small.options]
    told = subprocess.run([sys.executable, "-c", BETWEEN, *words], stdout=subprocess.PIPE, check=True)
    said, _, figures = told.stdout.decode().rstrip("\n").rpartition("\n")
    code, seconds, kilobytes = figures.split()
    return Taken(int(code), said, float(seconds), float(kilobytes) / 1024)


def main(names: list[str]) -> int:
    """Measure, a line for each command; how many took too much."""
    over = 0
    with tempfile.TemporaryDirectory() as folder:
        for name in names or INPUTS:
            for command in INPUTS[name].commands:
                got = taken(command, INPUTS[name], Path(folder))
                much = got.seconds > SECONDS or got.megabytes > MEGABYTES or got.code not in SOUND
                over += much
                last = got.said.strip().rpartition("\n")[2][:160]
                mark = "OVER" if much else "    "
                cost = f"{got.seconds:6.1f} s {got.megabytes:5.0f} MB"
                print(f"{mark} {cost} {got.code} {command:5} {name}: {last}", flush=True)
    return over


if __name__ == "__main__":
    sys.exit(bool(main(sys.argv[1:])))
