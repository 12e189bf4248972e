"""The damage table at length, as a command: every row on every kit.

In: words on the command line. Out: each row that is not told as it must be, a line for each kit; how many.

    python tests/proof/damage/run.py --all                 every row on every kit
    python tests/proof/damage/run.py --once                every row on one kit
    python tests/proof/damage/run.py --mutations           every check taken out: which row needs it
    python tests/proof/damage/run.py "hole moved" --show   the rows with these words, and all that is told
"""

from __future__ import annotations

import argparse
import sys
import time

from damage_judge import Outcome, complaints, outcome, outcome_at_one
from damage_makes import KITS
from damage_mutations import needs
from damage_rows import LIES, ROWS, Row


def table(words: list[str], *, once: bool, show: bool) -> int:
    """How many damages are not told as they must be."""
    begun, count, wrong = time.process_time(), 0, 0
    rows = [row for row in ROWS if not words or any(word in row.name for word in words)]
    for turn, row in enumerate(rows):
        if once:
            cases = [outcome_at_one(row, turn)]
        else:
            cases = [(name, found) for name in KITS if (found := outcome(row, name))]
        for name, found in cases:
            count += 1
            faults = complaints(row, found)
            wrong += bool(faults)
            for fault in faults:
                print(f"{row.name}, {name}: {fault}", flush=True)
            if show:
                _show(row, name, found)
    spent = time.process_time() - begun
    print(f"{len(rows)} rows, {count} damaged files, {wrong} told wrongly; {spent:.0f} s of processor")
    return wrong


def mutations() -> int:
    """How many checks no row needs."""
    idle = 0
    for name, row in needs((*ROWS, *LIES)):
        idle += row is None
        print(f"{name}: {f'needed by: {row.name}' if row else 'NEEDED BY NO ROW'}", flush=True)
    print(f"{idle} of the checks are needed by no row")
    return idle


def _show(row: Row, name: str, found: Outcome) -> None:
    print(f"{row.name}, {name}: page {found.where.page}, sheet {found.where.sheet}, {found.where.words}")
    for check in found.failed:
        print(f"    [{check['code']}] {check['what']}: found {check['found']}; wanted {check['wanted']}")
    if found.refused:
        print(f"    refused: {found.refused}")


def main() -> int:
    words = argparse.ArgumentParser(description="Damage kits in every way, and see what their proof tells.")
    words.add_argument("rows", nargs="*", help="words of the rows to try")
    words.add_argument("--all", action="store_true", help="every row")
    words.add_argument("--once", action="store_true", help="every row, on one kit each")
    words.add_argument("--mutations", action="store_true", help="take each check out")
    words.add_argument("--show", action="store_true", help="print all that is told")
    given = words.parse_args()
    if given.mutations:
        return 1 if mutations() else 0
    if not (given.rows or given.all or given.once):
        words.print_help()
        return 2
    return 1 if table(given.rows, once=given.once, show=given.show) else 0


if __name__ == "__main__":
    sys.exit(main())
