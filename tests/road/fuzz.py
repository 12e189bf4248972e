"""Random valid projects taken all the way: made, proved, told in every form, and made again.

In: how many, and the number of the first. Out: a line for each that a step tripped over, and how many were
sound. As a command: `python tests/road/fuzz.py --count 2000 --seed 1 [--keep FOLDER]`.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

from laid_again import layout_remembered
from valid_projects import project

from handkit import kit
from handkit.commands.common.shown import show
from handkit.draw.export.bench_page import bench_page
from handkit.draw.export.check_text import check_text
from handkit.draw.export.pieces_json import pieces_json
from handkit.draw.export.pieces_svg import pieces_svg
from handkit.draw.export.plan_csv import plan_csv
from handkit.draw.export.plan_json import plan_json
from handkit.draw.export.plan_text import plan_text
from handkit.draw.export.report_json import check_json
from handkit.errors import HandkitError, ProjectError
from handkit.kinds.pages import Pictured
from handkit.proof.prover import prove


def faults(text: str, folder: Path) -> Iterator[str]:
    """What is wrong with what handkit makes of a valid project."""
    file = folder / "project.toml"
    file.write_text(text, encoding="utf-8")
    try:
        with layout_remembered():
            made = kit.make(file)
            yield from _of_the_proof(made, folder / "kit.pdf")
            yield from _of_the_forms(made.made, file)
        again = kit.make(file)
        if (again.pdf, again.report) != (made.pdf, made.report):
            yield "made twice, it is not the same"
    except ProjectError as refused:
        yield "refused: " + "; ".join(str(each) for each in refused.findings)
    except HandkitError as refused:
        yield f"stopped: {refused}"
    except Exception:
        yield traceback.format_exc()


def _of_the_proof(made: kit.Kit, place: Path) -> Iterator[str]:
    place.write_bytes(made.pdf)
    measured = prove(place)
    if not measured.passed:
        yield "the proof fails: " + "; ".join(str(each) for each in measured.checks if not each.passed)
    json.loads(made.report)


def _of_the_forms(made: kit.Made, file: Path) -> Iterator[str]:
    """Each form is made, and is what it says it is."""
    punched, plan = made.punched, made.plan
    fits, units = punched.pattern.item_fits, punched.project.units
    texts = (
        plan_text(plan, punched, seams=(), whole=True, width=80),
        plan_text(plan, punched, seams=tuple(seam.name for seam in plan.seams), whole=False, width=None),
        plan_csv(plan, punched),
        check_text(made.findings, fits, len(made.sheets.sheets), measured=0, units=units, width=80),
        bench_page(plan, punched),
    )
    for told in (plan_json(plan, punched), pieces_json(punched), check_json(made.findings, fits)):
        json.loads(told)
    shown = show(file, Pictured.SVG)
    for picture in (pieces_svg(punched), shown.data.decode()):
        ElementTree.fromstring(picture)
    if shown.findings != made.findings and {each.code for each in shown.findings} - {
        each.code for each in made.findings
    }:
        yield "show tells what make does not"
    if not all(texts) or not show(file, Pictured.PDF).data.startswith(b"%PDF"):
        yield "a form is empty"


def run(count: int, seed: int, folder: Path, keep: Path | None = None) -> int:
    """Try so many projects; how many had a fault."""
    kinds: Counter[str] = Counter()
    begun = time.process_time()
    for number in range(seed, seed + count):
        text = project(number)
        found = list(faults(text, folder))
        for fault in found:
            print(f"{number}: {fault}", flush=True)
        if found and keep:
            (keep / f"{number}.toml").write_text(text, encoding="utf-8")
        kinds["with a fault" if found else "sound"] += 1
        if (number - seed) % 25 == 24:
            print(f"-- {number}: {dict(kinds)}, {time.process_time() - begun:.0f} s of processor", flush=True)
    print(f"{count} projects from {seed} on: {dict(kinds)}, {time.process_time() - begun:.0f} s of processor")
    return kinds["with a fault"]


def main() -> int:
    words = argparse.ArgumentParser(description="Take random valid projects all the way.")
    words.add_argument("--count", type=int, default=2000)
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--keep", type=Path, help="folder for the projects that had a fault")
    given = words.parse_args()
    if given.keep:
        given.keep.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        return 1 if run(given.count, given.seed, Path(folder), given.keep) else 0


if __name__ == "__main__":
    sys.exit(main())
