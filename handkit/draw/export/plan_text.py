"""The plan as plain text, for a terminal of 100 columns and for the bench.

In: the plan and what it was made from. Out: text without control codes: what to cut and buy, the
order of work with reasons, and for each seam its layers, holes, thread and the needles' way.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from handkit.draw.export.check_text import fit_lines
from handkit.draw.export.text_lines import filled, headed, text_table
from handkit.draw.words.lists import (
    PIECES_AT_TERMINAL,
    edge_state,
    edge_works,
    glue_lines,
    hardware_lines,
    material_lines,
    tool_lines,
)
from handkit.draw.words.names import Codes, KitPlan, kit_plan
from handkit.draw.words.needle_words import punch_words, seam_lines
from handkit.draw.words.threads import shared_line, total_line
from handkit.punch.punched import Punched
from handkit.stitch.plan import OpeningPlan, SeamPlan, Step, StitchPlan
from handkit.wording.edge_names import edge_words
from handkit.wording.figures import THREAD, counted, plain

LABEL = 8  # columns of a label within a seam


def plan_text(plan: StitchPlan, punched: Punched) -> str:
    """The whole plan; lines of at most 100 characters, with a line's end."""
    kit = kit_plan(punched, plan)
    lines = [
        *_title(kit),
        *headed("Cut list"),
        *text_table(PIECES_AT_TERMINAL, plan.cut_list),
        *fit_lines(punched.pattern.item_fits),
        *_listed("Material", material_lines(plan.materials)),
        *_listed("Hardware", hardware_lines(plan)),
        *_listed("Thread", (*map(total_line, plan.threads), *_offered(plan))),
        *_listed("Tools", tool_lines(plan)),
        *_listed("To be glued, both faces", glue_lines(plan)),
        *headed("Order of work"),
        *(line for number, step in enumerate(plan.steps, 1) for line in _step(number, step, kit)),
        *_edges(plan),
        *(headed("Seams") if plan.seams else ()),
        *(line for seam in plan.seams for line in _seam(seam, kit.codes)),
        *(headed("Openings") if plan.openings else ()),
        *(line for opening in plan.openings for line in _opening(opening, kit.codes)),
    ]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _title(kit: KitPlan) -> list[str]:
    totals = kit.plan.totals
    copies = f", for one of {kit.copies} copies" if kit.copies > 1 else ""
    sums = (
        f"{counted(len(kit.plan.cut_list), 'piece')}, {counted(len(kit.plan.seams), 'seam')}, "
        f"{counted(totals.holes, 'stitch hole')}, {counted(totals.openings, 'opening')} (each layer "
        f"counts), {THREAD.text(totals.thread)} of thread{copies}. All lengths in mm."
    )
    return [*filled(f"{kit.punched.project.title}: plan"), *filled(sums)]


def _offered(plan: StitchPlan) -> Iterator[str]:
    """Threads that may serve several seams; those that do so anyway are told with their seams."""
    return (shared_line(shared) for shared in plan.shared if not shared.adopted)


def _edges(plan: StitchPlan) -> list[str]:
    """What becomes of each edge of leather, a line each."""
    texts = (
        f"{row.piece} {edge_words(row.edges)}: {edge_state(row)}; {edge_works(row)}" for row in plan.edges
    )
    return _listed("Edges of leather, with the step of each work", texts)


def _listed(title: str, texts: Iterable[str]) -> list[str]:
    """A headed list; nothing where nothing is in it."""
    lines = [line for text in texts for line in filled(text, first="  ")]
    return [*headed(title), *lines] if lines else []


def _step(number: int, step: Step, kit: KitPlan) -> Iterator[str]:
    code = kit.code_of(step)
    head = f'{code} "{step.name}": ' if code else ""
    first = f"{number:3d}  {step.kind.value:9s}"
    yield from filled(head + step.what, first=first)
    if step.why:
        yield from filled(f"Why: {step.why}.", first=" " * len(first))


def _seam(seam: SeamPlan, codes: Codes) -> Iterator[str]:
    yield ""
    yield from filled(f'{codes.seams[seam.name]} "{seam.name}"')
    facts = [("Punch" if seam.is_punched else "Mark", punch_words(seam)), *seam_lines(seam)]
    for (before, _), (label, words) in pairwise([("", ""), *facts]):
        yield from filled(words, first=f"    {'' if label == before else label:{LABEL}s}")


def _opening(opening: OpeningPlan, codes: Codes) -> Iterator[str]:
    name, kind = opening.pattern.name, opening.pattern.opening.kind.value
    pieces = ", ".join(dict.fromkeys(place.piece for place in opening.pattern.places))
    text = f'{codes.openings[name]} "{name}", {kind}: through {pieces}, stack {plain(opening.stack)}'
    if opening.part_way:
        text = f'{codes.openings[name]} "{name}", {kind}: {opening.stretches(stack=True)}'
    yield from filled(text, first="  ")
    for before in opening.after:
        yield from filled(f'after "{before.name}": {before.why}', first="      ")
