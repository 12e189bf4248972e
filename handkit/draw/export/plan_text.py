"""The plan as plain text, for a terminal of 100 columns and for the bench.

In: the plan and what it was made from. Out: text without control codes: what to cut and buy, the
order of work with reasons, and for each seam its layers, holes, thread and the needles' way.
"""

from __future__ import annotations

from itertools import pairwise

from handkit.draw.words.fit_text import fit_lines
from handkit.draw.words.names import Codes, codes_of, count_of, figure
from handkit.draw.words.needle_words import seam_lines
from handkit.draw.words.text_lines import filled, headed, text_table
from handkit.punch.punched import Punched
from handkit.read.project import Punching, RoundHole, Stitching
from handkit.stitch.plan import SeamPlan, SharedThread, Step, StepKind, StitchPlan
from handkit.units import MM2_PER_DM2, MM2_PER_FT2

LABEL = 8  # columns of a label within a seam


def plan_text(plan: StitchPlan, punched: Punched) -> str:
    """The whole plan; lines of at most 100 characters, with a line's end."""
    codes = codes_of(plan)
    lines = [
        *_title(plan, punched),
        *_cut_list(plan),
        *fit_lines(punched.pattern.item_fits),
        *_shopping(plan),
        *headed("Order of work"),
        *(line for number, step in enumerate(plan.steps, 1) for line in _step(number, step, codes)),
        *(headed("Seams") if plan.seams else ()),
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
    return [*filled(f"{project.title}: plan"), *filled(sums)]


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
    return [*headed("Cut list"), *text_table(heads, rows)]


def _shopping(plan: StitchPlan) -> list[str]:
    lines = headed("Material")
    for row in plan.materials:
        net, gross = row.net_mm2, row.gross_mm2
        lines += filled(
            f"{row.material} {figure(row.thickness)} mm: {net / MM2_PER_DM2:.2f} dm² "
            f"({net / MM2_PER_FT2:.2f} sq ft) net, "
            f"{gross / MM2_PER_DM2:.2f} dm² ({gross / MM2_PER_FT2:.2f} sq ft) with waste",
            first="  ",
        )
    if plan.hardware:
        lines += headed("Hardware")
        for piece in plan.hardware:
            common = f"; commonly sold: {figure(piece.common)} mm" if piece.common else ""
            lines += filled(f"{piece.count} x {piece.what}: {piece.sizes}{common}", first="  ")
    return [*lines, *_threads(plan), *_tools(plan)]


def _threads(plan: StitchPlan) -> list[str]:
    """By diameter, with the spool; then what seams may share."""
    lines = headed("Thread") if plan.threads else []
    for row in plan.threads:
        spool = ""
        if row.spool is not None and row.spools is None:
            spool = f"; a spool of {figure(row.spool / 1000)} m is too short for the longest"
        elif row.spool is not None and row.left is not None:
            spools = count_of(row.spools or 1, "spool")
            spool = f"; {spools} of {figure(row.spool / 1000)} m, {row.left / 1000:.2f} m left on the last"
        copies = f", {row.all_copies / 1000:.2f} m for all copies" if row.all_copies > row.length else ""
        lines += filled(
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
    return filled(
        f"May be sewn on: {names}: cut {cuts} mm in place of {thread.apart:.0f} mm, back stitches at both "
        "ends alone",
        first="  ",
    )


def _tools(plan: StitchPlan) -> list[str]:
    lines = headed("Tools") if plan.tools else []
    for row in plan.tools:
        lines += filled(f"{row.what}, {row.size}: {row.why}", first="  ")
    if plan.glue:
        lines += headed("To be glued, both faces")
        for piece, on, area in plan.glue:
            lines += filled(f"{piece} on {on}: {area / MM2_PER_DM2:.2f} dm²", first="  ")
    return lines


def _step(number: int, step: Step, codes: Codes) -> list[str]:
    names = codes.seams if step.kind is StepKind.SEAM else codes.openings
    code = names[step.name] if step.kind in (StepKind.SEAM, StepKind.OPENING) else ""
    head = f'{code} "{step.name}": ' if code else ""
    first = f"{number:3d}  {step.kind.value:9s}"
    return [
        *filled(head + step.what, first=first),
        *filled(f"Why: {step.why}.", first=" " * len(first)),
    ]


def _seam(seam: SeamPlan, codes: Codes) -> list[str]:
    settings = seam.punched.stitching
    facts = [("Punch", f"{_hole(settings)}, {_punching(settings)}"), *seam_lines(seam)]
    lines = ["", *filled(f'{codes.seams[seam.name]} "{seam.name}"')]
    for (before, _), (label, words) in pairwise([("", ""), *facts]):
        lines += filled(words, first=f"    {'' if label == before else label:{LABEL}s}")
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
    lines = headed("Openings") if plan.openings else []
    for opening in plan.openings:
        name = opening.pattern.name
        pieces = ", ".join(dict.fromkeys(place.piece for place in opening.pattern.places))
        kind = opening.pattern.opening.kind.value
        text = f'{codes.openings[name]} "{name}", {kind}: through {pieces}, stack {figure(opening.stack)}'
        lines += filled(text, first="  ")
        for before in opening.after:
            lines += filled(f'after "{before.name}": {before.why}', first="      ")
    return lines
