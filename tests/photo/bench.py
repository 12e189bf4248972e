"""How well simulated photos are traced: `python tests/photo/bench.py --scenes 60 [--paper white]`.

Prints a table by condition: how many things, missed, the outline's distance, and whether what was stated is
true; with `--show FOLDER` it draws what was traced over each sheet. It is agreement with a simulation: no
real photo is in it.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from pathlib import Path

import cv2
import numpy as np
from measuring import Measured, all_measured, thicknesses
from rendering import Body, photographed
from scenes import Case, case, with_lens

from handkit.errors import PhotoError
from handkit.photo import judged
from handkit.photo.traced import Found, Traced
from handkit.photo.tracer import find, outline

Row = tuple[Case, str, Measured]


def show(path: Path, found: Found, traced: Traced, bodies: tuple[Body, ...]) -> None:
    """The straightened sheet with what was seen (thin), traced (green), and the truth (red)."""
    picture = cv2.imdecode(np.frombuffer(found.straightened, np.uint8), cv2.IMREAD_COLOR)

    def line(points, colour, thick=1) -> None:
        dot = found.mm_per_pixel
        dots = [(x / dot - 0.5, (found.height - y) / dot - 0.5) for x, y in points]
        cv2.polylines(
            picture, [np.round(np.array(dots) * 16).astype(np.int32)], True, colour, thick, cv2.LINE_AA, 4
        )

    for blob in found.blobs:
        line(blob.seen, (255, 255, 0))
    for body in bodies:
        line(body.outline.exterior.coords, (0, 0, 255))
    for thing in traced.things:
        line([thing.place.apply(point) for point in thing.outline], (0, 255, 0))
    cv2.imwrite(str(path), picture)


def run(scenes: range, paper: str, folder: Path | None) -> tuple[list[Row], Counter[str], int, list[float]]:
    rows: list[Row] = []
    told: Counter[str] = Counter()
    lost, seconds = 0, []
    for seed in scenes:
        each = case(seed, paper=paper)
        bodies = each.scene.bodies
        photo = with_lens(photographed(each.scene), each.film)
        start = time.process_time()
        try:
            found = find(photo, each.scene.mat, bars=each.bars, count=len(bodies))
            traced = outline(found, thicknesses(found, bodies))
        except PhotoError as refused:
            told.update(each.code for each in refused.findings)
            print(f"{seed}: {refused}", file=sys.stderr)
            lost += len(bodies)
            continue
        seconds.append(time.process_time() - start)
        told.update({f"({advice.code})" for advice in traced.advice})
        for one in all_measured(traced, found, bodies):
            kind = each.materials[bodies.index(one.body)]
            rows.append((each, kind, one))
            if one.p95 > one.stated or one.p95 > 0.8:
                print(
                    f"{seed}: {kind} {one.body.name} {one.body.thick:.1f} mm, {each.light}, "
                    f"{each.scene.paper}: "
                    f"{one.p95:.2f} (in place {one.placed:.2f}) stated {one.stated} {'shiny' * one.shiny}",
                    file=sys.stderr,
                )
        missed = [b for b in bodies if all(one.body is not b for *_, one in rows[-len(traced.things) :])]
        lost += len(missed)
        if folder:
            show(folder / f"{seed}.png", found, traced, bodies)
    return rows, told, lost, seconds


def table(rows: list[Row]) -> None:
    def line(name: str, some: list[Row]) -> None:
        if not some:
            return
        far = np.array([one.p95 for *_, one in some])
        there = np.array([one.placed for *_, one in some])
        length = np.abs([one.length for *_, one in some])
        own = np.mean([one.p95 <= one.stated for *_, one in some])
        true = np.mean([one.placed <= one.stated for *_, one in some])
        stated = np.median([one.stated for *_, one in some])
        print(
            f"| {name} | {len(some)} | {np.median(far):.2f} / {np.percentile(far, 90):.2f} "
            f"| {np.median(there):.2f} / {np.percentile(there, 90):.2f} | {np.median(length):.2f} "
            f"| {np.mean(far <= 0.5):.0%} | {stated:.2f} | {own:.0%} / {true:.0%} |"
        )

    print(
        "| | things | distance, 95th percentile: median / p90 | the same in place | length off, median "
        "| within 0.5 mm | stated, median | it is true, and in place |"
    )
    print("| --- | ---: | --- | --- | ---: | ---: | ---: | ---: |")
    line("all", rows)
    for kind in ("coloured", "white", "black", "metal"):
        line(kind, [row for row in rows if row[1] == kind])
    line("all but metal", [row for row in rows if row[1] != "metal"])
    line("told to mirror", [row for row in rows if row[2].shiny])
    for light in ("even", "soft shadow", "hard shadow"):
        line(light, [row for row in rows if row[0].light == light])
    for low, high in ((0, 4), (4, 12), (12, 99)):
        line(f"{low} to {high} mm thick", [row for row in rows if low < row[2].body.thick <= high])
    line("round", [row for row in rows if row[2].body.rod])
    for paper in ("blue", "green", "red", "white"):
        line(f"{paper} paper", [row for row in rows if row[0].scene.paper == paper])
    line("lens told", [row for row in rows if row[0].film])
    line("lens not told", [row for row in rows if not row[0].film])
    line("tilt over 8°", [row for row in rows if row[0].scene.tilt > 8])
    line("A4", [row for row in rows if row[0].scene.mat.width < 250])
    line("A3", [row for row in rows if row[0].scene.mat.width > 250])


def main() -> None:
    parse = argparse.ArgumentParser()
    parse.add_argument("--scenes", type=int, default=60)
    parse.add_argument("--first", type=int, default=1)
    parse.add_argument("--paper", default="")
    parse.add_argument("--show", type=Path)
    asked = parse.parse_args()
    if asked.paper == "white":
        judged.COLOUR = 0.0  # it is refused otherwise
    if asked.show:
        asked.show.mkdir(parents=True, exist_ok=True)
    rows, told, lost, seconds = run(range(asked.first, asked.first + asked.scenes), asked.paper, asked.show)
    table(rows)
    untold = [one for *_, one in rows if one.placed > max(1.5, 1.5 * one.stated) and not one.shiny]
    print(f"\nthings {len(rows) + lost}, without an outline {lost}, far off and not told {len(untold)}")
    print("told: " + ", ".join(f"{code} {count}" for code, count in sorted(told.items())))
    print(f"processor seconds a photo: {np.median(seconds):.2f}, at most {max(seconds):.2f}")


if __name__ == "__main__":
    main()
