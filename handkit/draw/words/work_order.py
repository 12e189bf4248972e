"""Work order: the steps of the work as steps to tick, and how to mark and cut before them.

In: the plan. Out: parts of the document. Steps that are alike and follow one another are told once, with a
box for each: seams that differ in names and places alone, other works of one kind with one reason. A caution
is told at the first step it is for.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import partial
from itertools import groupby

import msgspec
from msgspec import structs

from handkit.draw.words.cautions import AT_HOLE, AT_MARK, AT_SHEARS, AT_STEP, AT_TURNED_LEATHER
from handkit.draw.words.document import Illustration, Line, Ticked
from handkit.draw.words.names import KitPlan, span_words
from handkit.draw.words.needle_words import SHARED, layer_lines, layers_of, seam_lines, shared_with
from handkit.draw.words.seen_side import seen_lines
from handkit.draw.words.walks import walk_of
from handkit.grouping import grouped
from handkit.kinds.materials import Family
from handkit.read.project import Hold
from handkit.stitch.plan import SeamPlan, Step, StepKind, cut_threads

MARKING: tuple[str, ...] = (
    "Measure the squares and bars of the first sheet. A piece in portions: trim and tape its sheets at the "
    "joins, marks on marks; check along the long line with a steel rule.",
    "Cut the paper roughly, outside the wide line. Lay it print up on the side of the material that it "
    "names, its double arrow along the {arrow}, clear of flaws; tape it on every side.",
    "On a scrap as thick as the seam, first test: mark {and_punch}five holes, stitch them{set_one}. "
    "Does the thread pass, does the hole hold?",
    "Prick through the paper, square and just deep enough to be seen: every point on a stitch line, every "
    "centre cross. {cloth}Prick corners of lines that are needed later (folds, {lines}, what lies on top). "
    "Count a seam's pricks against its last number before you lift the paper.",
    "Cut along the middle of the wide line, through paper and material, straight edges along a steel "
    "rule. {shears}Write the piece's name on the side that will not show.",
    "{pierce}Openings with a punch of the size printed beside them. Hole 1 of a seam meets hole 1 of its "
    "mate.",
)
_PUNCH = "Punch or pierce each prick, the tool's middle on the prick; a slit as the template draws it. "
_NEVER = "Never punch stitch holes in cloth: awl and needle part the yarns at each mark, a punch cuts them. "
_SHEARS = "Cloth with sharp shears, the paper pinned or taped to it. "
_CHALK = "Chalk or a soft pencil through each prick marks cloth. "


def marking(families: Sequence[Family], hardware: Iterable[str] = ()) -> tuple[str, ...]:
    """How templates are used: what is of leather is pricked and punched, what is of cloth is marked; of the
    hardware there is, one is tried."""
    leather, cloth = (family in families for family in (Family.LEATHER, Family.CLOTH))
    told = {
        "arrow": "way that must not stretch, in cloth the warp" if cloth else "way that must not stretch",
        "and_punch": "and punch " if leather else "",
        "set_one": "".join(f", set one {noun}" for noun in hardware),
        "cloth": _CHALK if cloth else "",
        "shears": _SHEARS if cloth else "",
        "lines": "hems, trims" if cloth else "trims",
        "pierce": (_PUNCH if leather else "") + (_NEVER if cloth else ""),
    }
    return tuple(text.format(**told) for text in MARKING)


class _Numbered(msgspec.Struct, frozen=True):
    """A step with its number, its seam, and its cautions where they are due."""

    number: int
    step: Step
    seam: SeamPlan | None
    cautions: tuple[str, ...]


def order_parts(kit: KitPlan) -> Iterator[Ticked]:
    """All steps, each with a box."""
    for _, some in groupby(_numbered(kit), key=partial(_likeness, kit)):
        steps = list(some)
        yield _seams_ticked(kit, steps) if steps[0].seam is not None else _work_ticked(kit, steps)


def _numbered(kit: KitPlan) -> Iterator[_Numbered]:
    given: set[str] = set()
    seams = {seam.name: seam for seam in kit.plan.seams}
    for number, step in enumerate(kit.plan.steps, start=1):
        due = tuple(caution for caution in _cautions(step, kit) if caution and caution not in given)
        given.update(due)
        yield _Numbered(number, step, seams[step.name] if step.kind is StepKind.SEAM else None, due)


def _likeness(kit: KitPlan, one: _Numbered) -> tuple[object, ...]:
    """What steps that are told together have in common."""
    seam = one.seam
    if seam is None:
        return (one.step.kind, one.step.why)
    if len(seam.row.seams) > 1:
        return (seam.row.seams, seam.punched.face.piece)
    if len(seam.threads) > 1 or seam.strips:  # what is glued is sewn before the next is glued
        return (one.number,)
    lines = (line for line in seam_lines(kit, seam) if line.key != SHARED)
    own = tuple(sorted(shared_with(kit, seam)))  # whose mates are told of each
    return (len(seam.punched.layers), seam.stitching.thread, seam.hold, own, *lines)


def _work_ticked(kit: KitPlan, steps: Sequence[_Numbered]) -> Ticked:
    """Works beside the needle, each with the short name that it has."""
    said = tuple(dict.fromkeys(_told(kit, one.step) for one in steps))
    return Ticked(_marks(steps), said=said, notes=_reasons(steps), caution=_due(steps), brief=" ".join(said))


def _told(kit: KitPlan, step: Step) -> str:
    code, what = kit.code_of(step), step.what
    return f"{code} {step.name}: {what[0].lower()}{what[1:]}" if code else what


def _seams_ticked(kit: KitPlan, steps: Sequence[_Numbered]) -> Ticked:
    """A seam, seams that are sewn as one, or seams that are alike: what is said of each is told once."""
    seams = tuple(one.seam for one in steps if one.seam is not None)
    besides = " ".join(dict.fromkeys(text for one in steps for text in one.step.besides))
    several, as_one = len(seams) > 1, len(seams[0].row.seams) > 1
    told = seams if as_one else seams[:1]
    joined = {seam.name for seam in seams} if as_one and several else set()
    alike = f": {len(seams)} alike" * (several and not as_one)
    equals = () if as_one else seams
    lines = [line for seam in told for line in seam_lines(kit, seam, joined=joined, alike=equals)]
    return Ticked(
        marks=_marks(steps),
        title="; ".join(map(kit.seam_title, seams)) + alike,
        aside=_thread_aside(kit, seams),
        said=(besides,) * bool(besides),
        lines=(*_layers(kit, seams), *_by_key((*seen_lines(kit.punched.pattern, seams), *lines))),
        notes=_reasons(steps),
        caution=_due(steps),
        figures=_pictures(kit, seams, as_one=as_one),
        walks=tuple(walk_of(kit.codes.seams[seam.name], seam) for seam in seams),
        brief=" ".join(f"{kit.codes.seams[one.step.name]} {one.step.what}" for one in steps),
        seams=tuple(seam.name for seam in seams),
    )


def _pictures(kit: KitPlan, seams: Sequence[SeamPlan], *, as_one: bool) -> tuple[Illustration, ...]:
    """One of seams that are sewn as one, else one of each way in which alike seams lie: mirrored and turned
    ones look unlike."""
    ways = [list(seams)] if as_one else list(grouped(seams, by=_lie).values())
    return tuple(
        Illustration(
            tuple(some if as_one else some[:1]),
            f"{', '.join(map(kit.seam_title, some))}: its face, with all holes",
            caption=span_words([kit.codes.seams[seam.name] for seam in some]) if len(ways) > 1 else "",
        )
        for some in ways
    )


def _lie(seam: SeamPlan) -> tuple[tuple[float, float], ...]:
    """Where its holes are, seen from the first, to a tenth of a mm."""
    x, y = seam.punched.face.holes[0].at
    return tuple((round(hole.at[0] - x, 1), round(hole.at[1] - y, 1)) for hole in seam.punched.face.holes)


def _by_key(lines: Iterable[Line]) -> Iterator[Line]:
    """Lines of several seams, those with one key under it, in the order in which they are needed."""
    for some in grouped(lines, by=lambda line: (line.at_hand, line.key)).values():
        yield from (structs.replace(line, key="" if k else line.key) for k, line in enumerate(some))


def _layers(kit: KitPlan, seams: Sequence[SeamPlan]) -> tuple[Line, ...]:
    """Of several seams their pieces alone, with their names where these differ."""
    if len(seams) == 1 or any(seam.part_way for seam in seams):
        return tuple(_by_key(line for seam in seams for line in layer_lines(seam)))
    texts = grouped(seams, by=layers_of)
    each = [
        pieces + f" ({span_words([kit.codes.seams[seam.name] for seam in some])})" * (len(texts) > 1)
        for pieces, some in texts.items()
    ]
    return (Line("Layers", f"{'; '.join(each)}; stack {kit.units.rough.text(seams[0].stack)}"),)


def _marks(steps: Iterable[_Numbered]) -> tuple[str, ...]:
    return tuple(str(one.number) for one in steps)


def _reasons(steps: Iterable[_Numbered]) -> tuple[str, ...]:
    return tuple(filter(None, dict.fromkeys(one.step.why for one in steps)))


def _due(steps: Iterable[_Numbered]) -> str:
    return " Also: ".join(caution for one in steps for caution in one.cautions)


def _thread_aside(kit: KitPlan, seams: Sequence[SeamPlan]) -> str:
    """The threads to have at hand, with their lengths; one that only goes on has none."""
    names = {seam.name for seam in seams}
    own = [
        thread
        for thread in cut_threads(kit.plan.seams)
        if not names.isdisjoint(seam.name for seam, _ in thread.parts)
    ]
    lengths = [kit.units.cut_thread.text(one.cut) if one.seam.name in names else "goes on" for one in own]
    if len(own) == len(seams) > 1 == len(set(lengths)):
        return f"{span_words([one.code for one in own])}, {lengths[0]} each"
    return ", ".join(f"{one.code} {length}" for one, length in zip(own, lengths, strict=True))


def _cautions(step: Step, kit: KitPlan) -> tuple[str, ...]:
    """A seam that is cemented first has that of glue as well."""
    if step.kind is StepKind.SEAM and step.name in _cemented(kit):
        return AT_STEP[StepKind.GLUE], AT_STEP[StepKind.SEAM]
    return (_caution(step, kit),)


def _cemented(kit: KitPlan) -> set[str]:
    return {seam.name for seam in kit.plan.seams if seam.hold is Hold.CEMENT and seam.strips}


def _caution(step: Step, kit: KitPlan) -> str:
    """Cloth and felt are marked without a mallet, and finished without oil; leather is turned without an
    iron; a hole without hardware takes no setter."""
    families = kit.punched.pattern.families
    if step.kind is StepKind.FINISH and step.name != _leather_names(kit):
        return ""
    if step.kind is StepKind.CUT and Family.LEATHER not in families:
        return AT_SHEARS
    if step.kind is StepKind.MARK and Family.LEATHER not in families:
        return AT_MARK
    if step.kind is StepKind.HEM and set(families) == {Family.LEATHER}:
        return AT_TURNED_LEATHER
    if step.kind is StepKind.OPENING and step.name in _plain_holes(kit):
        return AT_HOLE
    return AT_STEP.get(step.kind, "")


def _leather_names(kit: KitPlan) -> str:
    """Of whom the step tells that oils leather."""
    return ", ".join(piece.name for piece in kit.punched.pattern.pieces if piece.traits.is_leather)


def _plain_holes(kit: KitPlan) -> set[str]:
    """Openings that nothing is hammered into: tongue holes, slots, button studs, which are screwed in."""
    openings = kit.punched.pattern.openings
    return {each.name for each in openings if each.opening.traits.setter != "setter"}
