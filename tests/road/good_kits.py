"""Good kits: of random valid projects, laid out in every way and for printers of all kinds, each must pass.

In: the number of a project, from which all follows: how it is laid out, on which paper, in which unit, for
which printer. Out: what the proof tells of its kit, by itself and beside its project; nothing where it
passes. As a command: `python tests/road/good_kits.py --count 300 --seed 1`.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from random import Random

from laid_again import layout_remembered
from valid_projects import project

from handkit.errors import ProjectError
from handkit.kit import make, proof_of
from handkit.overrides import PageOverrides
from handkit.printers.correction import Correction, Printer

# As far as a printer is corrected, and as an honest one leans, in degrees.
MOST_OFF, MOST_LEAN = 0.015, 0.3


def printer_of(seed: int) -> Printer | None:
    """Every other kit is for a printer that scales and leans as printers may."""
    if seed % 2:
        return None
    rng = Random(seed)
    across, down = (round(1 + rng.uniform(-MOST_OFF, MOST_OFF), 4) for _ in range(2))
    return Printer(Correction("bench", across, down, round(rng.uniform(-MOST_LEAN, MOST_LEAN), 2)))


def complaint(seed: int, folder: Path) -> str:
    """What is wrong with the kit of this number, or why there is none; "" where it passes."""
    file, kit = folder / "project.toml", folder / "kit.pdf"
    file.write_text(project(seed), encoding="utf-8")
    with layout_remembered():
        try:
            kit.write_bytes(make(file, PageOverrides(printer=printer_of(seed))).pdf)
        except ProjectError as refused:
            return f"refused: {refused.findings[0]}"
        checks = (*proof_of(kit).checks, *proof_of(kit, file).checks)
    failed = [f"{check.what}: {check.found} [{check.code}]" for check in checks if not check.passed]
    return "; ".join(failed)


def main() -> int:
    words = argparse.ArgumentParser(description="Prove the kits of random valid projects.")
    words.add_argument("--count", type=int, default=300)
    words.add_argument("--seed", type=int, default=1)
    given = words.parse_args()
    begun, told = time.process_time(), Counter[str]()
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(given.seed, given.seed + given.count):
            found = complaint(seed, Path(folder))
            told["refused" if found.startswith("refused") else "wrong" if found else "passes"] += 1
            if found:
                print(f"{seed}: {found}", flush=True)
            if (seed - given.seed) % 25 == 24:
                print(
                    f"-- {seed}: {dict(told)}, {time.process_time() - begun:.0f} s of processor", flush=True
                )
    print(f"{given.count} kits: {dict(told)}; {time.process_time() - begun:.0f} s of processor")
    return 1 if told["wrong"] else 0


if __name__ == "__main__":
    sys.exit(main())
