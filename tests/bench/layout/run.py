"""The layout bench: sets, bound, three plain ways, and handkit's, in one run.

    python tests/bench/layout/run.py                     # everything, some minutes
    python tests/bench/layout/run.py --random 10         # fewer random sets
    python tests/bench/layout/run.py --sets c_straps g_keyfobs60 --random 0 --growth

What a cell holds: sheets/joins/joins through holes. The tables are Markdown, as they stand in
DEVELOPERS.md. Exit code 1 where handkit takes more sheets than the best plain way, or breaks its word.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from time import process_time

from layout_baselines import boxes, one_drawing, one_grid_each
from layout_bound import bound
from layout_case import Case, Count, cases
from layout_ours import faults, ours
from layout_random import growing_case, random_case

WAYS = (one_grid_each, one_drawing, boxes)


@dataclass(frozen=True)
class Row:
    """One set, laid out in every way."""

    case: Case
    least: int
    plain: tuple[Count, ...]
    ours: Count
    seconds: float
    faults: tuple[str, ...]

    @property
    def best_plain(self) -> int:
        """The sheets of the best plain way."""
        return min(count.sheets for count in self.plain)

    @property
    def sound(self) -> bool:
        """Kept its word, and beaten by no plain way."""
        return not self.faults and self.least <= self.ours.sheets <= self.best_plain


def measured(case: Case) -> Row:
    """A set laid out in every way, ours timed and looked through."""
    start = process_time()
    laid = ours(case)
    seconds = process_time() - start
    plain = tuple(way(case) for way in WAYS)
    return Row(case, bound(case).sheets, plain, laid.count, seconds, tuple(faults(laid)))


def cell(count: Count) -> str:
    """Sheets/joins/through.

    >>> cell(Count(9, 4, 0))
    '9/4/0'
    """
    return f"{count.sheets}/{count.joins}/{count.through}"


def table(rows: Iterable[Row]) -> Iterable[str]:
    """The sets, a line each as soon as it is there."""
    yield "| set | paper | drawn | bound | one grid a piece | one drawing tiled | boxes, grids | ours | s |"
    yield "| --- | --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |"
    for row in rows:
        plain = " | ".join(cell(count) for count in row.plain)
        head = f"| {row.case.name} | {row.case.paper} | {len(row.case.drawings)} | {row.least} | {plain} "
        yield f"{head}| {cell(row.ours)} | {row.seconds:.2f} |{told(row)}"


def told(row: Row) -> str:
    """What is wrong with a row, after it."""
    worse = [] if row.ours.sheets <= row.best_plain else ["worse than a plain way"]
    return "".join(f" {fault};" for fault in (*worse, *row.faults))


def summary(rows: Sequence[Row]) -> Iterable[str]:
    """Random sets, in sum."""
    seconds = sorted(row.seconds for row in rows)
    yield f"{len(rows)} random sets, {sum(len(row.case.drawings) for row in rows)} pieces"
    yield "| | bound | one grid a piece | one drawing tiled | boxes, grids | best of these | ours |"
    yield "| --- | ---: | ---: | ---: | ---: | ---: | ---: |"
    for name in ("sheets", "joins", "through"):
        plain = [str(sum(getattr(row.plain[k], name) for row in rows)) for k in range(len(WAYS))]
        least = str(sum(row.least for row in rows)) if name == "sheets" else ""
        best = str(sum(row.best_plain for row in rows)) if name == "sheets" else ""
        found = sum(getattr(row.ours, name) for row in rows)
        yield f"| {name} | {least} | {' | '.join(plain)} | {best} | {found} |"
    worse = [row.case.name for row in rows if row.ours.sheets > row.best_plain]
    yield f"at the bound: {sum(row.ours.sheets == row.least for row in rows)}"
    yield f"worse than the best of these: {worse or 'none'}"
    yield f"seconds: half under {seconds[len(seconds) // 2]:.2f}, all under {seconds[-1]:.2f}"
    yield from (f"{row.case.name}:{told(row)}" for row in rows if row.faults)


def blind_and_seeing(some: Iterable[Case]) -> Iterable[str]:
    """Pieces with holes, laid out by one who doesn't see the holes and by one who does."""
    yield "| pieces with holes of | one grid a piece | one drawing tiled | boxes, grids | unseen | ours |"
    yield "| --- | ---: | ---: | ---: | ---: | ---: |"
    for whole in some:
        case = replace(whole, pieces=tuple(piece for piece in whole.pieces if piece.holes))
        bare = replace(case, pieces=tuple(replace(piece, holes=()) for piece in case.pieces))
        counts = [*(way(case) for way in WAYS), replace(ours(bare), case=case).count, ours(case).count]
        yield f"| {whole.name} | {' | '.join(cell(count) for count in counts)} |"


def growth(counts: Iterable[int]) -> Iterable[str]:
    """Seconds for more and more pieces."""
    yield "| pieces | bound | ours | s |"
    yield "| ---: | ---: | ---: | ---: |"
    for count in counts:
        case = growing_case(count)
        start = process_time()
        laid = ours(case)
        yield f"| {count} | {bound(case).sheets} | {cell(laid.count)} | {process_time() - start:.2f} |"


def main() -> int:
    """Run what is asked for; 1 where a set is not as promised."""
    ask = argparse.ArgumentParser(description="Lay out the bench's sets in several ways.")
    ask.add_argument("--sets", nargs="*", metavar="NAME", help="only these")
    ask.add_argument("--random", type=int, default=100, metavar="N", help="random sets (100)")
    ask.add_argument(
        "--growth", nargs="*", type=int, default=[30, 100, 300], metavar="N", help="pieces (30 100 300)"
    )
    asked = ask.parse_args()
    rows: list[Row] = []

    def kept(some: Iterable[Case]) -> Iterable[Row]:
        for case in some:
            rows.append(measured(case))
            yield rows[-1]

    wanted = [case for case in cases() if asked.sets is None or case.name in asked.sets]
    for line in table(kept(wanted)):
        print(line, flush=True)
    for line in blind_and_seeing(case for case in wanted if any(piece.holes for piece in case.pieces)):
        print(line, flush=True)
    if asked.random:
        lot = list(kept(random_case(seed) for seed in range(asked.random)))
        print("", *summary(lot), sep="\n", flush=True)
    if asked.growth:
        print("", *growth(asked.growth), sep="\n", flush=True)
    return 0 if all(row.sound for row in rows) else 1


if __name__ == "__main__":
    sys.exit(main())
