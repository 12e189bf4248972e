"""The plan as plain text, for a terminal of 100 columns and for the bench.

In: the plan and what it was made from. Out: text without control codes: what to cut and buy, the
order of work with reasons, and for each seam its layers, holes, thread and the needles' way.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from textwrap import wrap

from handkit.draw.names import Codes, codes_of, count_of, figure
from handkit.draw.needle_words import seam_lines
from handkit.punch.punched import Punched
from handkit.read.project import Punching, RoundHole, Stitching
from handkit.stitch.plan import SeamPlan, SharedThread, Step, StepKind, StitchPlan
from handkit.units import MM2_PER_DM2, MM2_PER_FT2

WIDTH = 100
LABEL = 8  # columns of a label within a seam


def plan_text(plan: StitchPlan, punched: Punched) -> str:
    """The whole plan; lines of at most 100 characters, with a line's end."""
    codes = codes_of(plan)
    lines = [
        *_title(plan, punched),
        *_cut_list(plan),
        *_shopping(plan),
        *_headed("Order of work"),
        *(line for number, step in enumerate(plan.steps, 1) for line in _step(number, step, codes)),
        *(_headed("Seams") if plan.seams else ()),
        *(line for seam in plan.seams for line in _seam(seam, codes)),
        *_openings(plan, codes),
    ]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _title(plan: StitchPlan, punched: Punched) -> list[str]:
    project, totals = punched.pattern.project, plan.totals
    copies = f", for one of {project.copies} copies" if project.copies > 1 else ""
    sums = (
        f"{count_of(len(plan.cut_list), 'piece')}, {count_of(len(plan.seams), 'seam')}, "
        f"{count_of(totals.holes, 'stitch hole')}, {count_of(totals.openings, 'opening')} (each layer "
        f"counts), {totals.thread / 1000:.2f} m of thread{copies}. All lengths in mm."
    )
    return [*_filled(f"{project.title}: plan"), *_filled(sums)]


def _cut_list(plan: StitchPlan) -> list[str]:
    rows = [
        (
            row.piece,
            str(row.quantity),
            f"{row.width:.1f}",
            f"{row.height:.1f}",
            figure(row.thickness),
            f"{row.area_mm2 / MM2_PER_DM2:.2f}",
            row.note,
        )
        for row in plan.cut_list
    ]
    heads = ("piece", "number", "width", "height", "thick", "dm²", "note")
    return [*_headed("Cut list"), *_table(heads, rows)]


def _shopping(plan: StitchPlan) -> list[str]:
    lines = _headed("Material")
    for row in plan.materials:
        net, gross = row.net_mm2, row.gross_mm2
        lines += _filled(
            f"{row.material} {figure(row.thickness)} mm: {net / MM2_PER_DM2:.2f} dm² "
            f"({net / MM2_PER_FT2:.2f} sq ft) net, "
            f"{gross / MM2_PER_DM2:.2f} dm² ({gross / MM2_PER_FT2:.2f} sq ft) with waste",
            first="  ",
        )
    if plan.hardware:
        lines += _headed("Hardware")
        for piece in plan.hardware:
            common = f"; commonly sold: {figure(piece.common)} mm" if piece.common else ""
            lines += _filled(f"{piece.count} x {piece.what}: {piece.sizes}{common}", first="  ")
    return [*lines, *_threads(plan), *_tools(plan)]


def _threads(plan: StitchPlan) -> list[str]:
    """By diameter, with the spool; then what seams may share."""
    lines = _headed("Thread") if plan.threads else []
    for row in plan.threads:
        spool = ""
        if row.spool is not None and row.spools is None:
            spool = f"; a spool of {figure(row.spool / 1000)} m is too short for the longest"
        elif row.spool is not None and row.left is not None:
            spools = count_of(row.spools or 1, "spool")
            spool = f"; {spools} of {figure(row.spool / 1000)} m, {row.left / 1000:.2f} m left on the last"
        copies = f", {row.all_copies / 1000:.2f} m for all copies" if row.all_copies > row.length else ""
        lines += _filled(
            f"⌀{figure(row.diameter)} mm, {row.fibre.value}: {count_of(row.count, 'thread')}, "
            f"{row.length / 1000:.2f} m{copies}{spool}",
            first="  ",
        )
    return [*lines, *(line for thread in plan.shared for line in _shared(thread))]


def _shared(thread: SharedThread) -> list[str]:
    names = ", then ".join(
        f'"{name}"' + (" from its last hole to its first" if turned else "") for name, turned in thread.seams
    )
    cuts = " and ".join(f"{cut:.0f}" for cut in thread.cuts)
    return _filled(
        f"May be sewn on: {names}: cut {cuts} mm in place of {thread.apart:.0f} mm, back stitches at both "
        "ends alone",
        first="  ",
    )


def _tools(plan: StitchPlan) -> list[str]:
    lines = _headed("Tools") if plan.tools else []
    for row in plan.tools:
        lines += _filled(f"{row.what}, {row.size}: {row.why}", first="  ")
    if plan.glue:
        lines += _headed("To be glued, both faces")
        for piece, on, area in plan.glue:
            lines += _filled(f"{piece} on {on}: {area / MM2_PER_DM2:.2f} dm²", first="  ")
    return lines


def _step(number: int, step: Step, codes: Codes) -> list[str]:
    names = codes.seams if step.kind is StepKind.SEAM else codes.openings
    code = names[step.name] if step.kind in (StepKind.SEAM, StepKind.OPENING) else ""
    head = f'{code} "{step.name}": ' if code else ""
    first = f"{number:3d}  {step.kind.value:9s}"
    return [
        *_filled(head + step.what, first=first),
        *_filled(f"Why: {step.why}.", first=" " * len(first)),
    ]


def _seam(seam: SeamPlan, codes: Codes) -> list[str]:
    settings = seam.punched.pattern.seam.stitching
    facts = [("Punch", f"{_hole(settings)}, {_punching(settings)}"), *seam_lines(seam)]
    lines = ["", *_filled(f'{codes.seams[seam.name]} "{seam.name}"')]
    for (before, _), (label, words) in pairwise([("", ""), *facts]):
        lines += _filled(words, first=f"    {'' if label == before else label:{LABEL}s}")
    return lines


def _hole(settings: Stitching) -> str:
    hole = settings.hole
    if isinstance(hole, RoundHole):
        return f"round holes, {figure(hole.diameter)} across"
    return f"slits {figure(hole.width)} long, at {figure(hole.slant)} degrees to the line"


def _punching(settings: Stitching) -> str:
    if settings.punch is Punching.THROUGH:
        return "through all layers from the face layer's marks"
    return "each layer by its own marks"


def _openings(plan: StitchPlan, codes: Codes) -> list[str]:
    lines = _headed("Openings") if plan.openings else []
    for opening in plan.openings:
        name = opening.pattern.name
        pieces = ", ".join(dict.fromkeys(place.piece for place in opening.pattern.places))
        kind = opening.pattern.opening.kind.value
        text = f'{codes.openings[name]} "{name}", {kind}: through {pieces}, stack {figure(opening.stack)}'
        lines += _filled(text, first="  ")
        for before in opening.after:
            lines += _filled(f'after "{before.name}": {before.why}', first="      ")
    return lines


def _headed(text: str) -> list[str]:
    return ["", text, "-" * len(text)]


def _filled(text: str, first: str = "") -> list[str]:
    """Text wrapped under what stands before its first line."""
    return wrap(
        text,
        WIDTH,
        initial_indent=first,
        subsequent_indent=" " * (len(first) if first.strip() else len(first) + (4 if first else 0)),
        break_on_hyphens=False,
    )


def _table(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """Columns as wide as they need; names and the note to the left, figures to the right.

    A name takes at most 32 columns and what is left of the width goes to the note; both go on
    over several lines.
    """
    widths = [max(len(cell) for cell in column) for column in zip(heads, *rows, strict=True)]
    widths[0] = min(widths[0], 32)
    widths[-1] = max(WIDTH - 2 * len(widths) - sum(widths[:-1]), 16)
    return [line for row in (heads, *rows) for line in _row(row, widths)]


def _row(cells: Sequence[str], widths: Sequence[int]) -> list[str]:
    columns = [wrap(cell, width) or [""] for cell, width in zip(cells, widths, strict=True)]
    lines = []
    for index in range(max(map(len, columns))):
        parts = []
        for number, (column, width) in enumerate(zip(columns, widths, strict=True)):
            text = column[index] if index < len(column) else ""
            left = number in (0, len(widths) - 1)
            parts.append(f"{text:<{width}}" if left else f"{text:>{width}}")
        lines.append("  " + "  ".join(parts))
    return lines
