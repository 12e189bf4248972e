"""Questions: what is asked, in which order, and what each answer may be.

In: the answers so far. Out: the next question, or all that is wanted. The same questions are the options of
the command; what an answer may be stands in `question.py`, what is asked of edges in `edges.py`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from handkit.commands.interview.edges import (
    blade_width_in,
    cuts,
    edge_question,
    handle_questions,
    with_edge,
)
from handkit.commands.interview.question import (
    Answers,
    Question,
    WrongAnswerError,
    choice_in,
    name_in,
    size_in,
    typed_in,
)
from handkit.commands.interview.typed import Typed
from handkit.commands.interview.wanted import (
    THREADS,
    Answered,
    CarriedAs,
    ToldThing,
    least_pitch,
    thread_for,
)
from handkit.errors import PaperError
from handkit.kinds.materials import MATERIALS, Family, Material
from handkit.paper import paper_named
from handkit.read.parts.promises import MOST_ITEMS
from handkit.read.schema.keys import TABLES
from handkit.units import LENGTH_UNITS
from handkit.wording.figures import UNITS
from handkit.wording.quoting import quoted, words

ROUND = ("d ", "d.", "⌀", "ø")

_PART, _MATERIAL, _STITCHING = (TABLES[name].keys for name in ("part", "material", "stitching"))

# The answer that stands in for all things: those of a file.
TRACED = "things"


def next_question(answers: Answers) -> Question | None:
    """What is to be asked next, None where all is answered."""
    unit = answers.get("unit", "mm")
    for question in _first(answers):
        if question.key not in answers:
            return question
    number = 1
    while TRACED not in answers:
        for question in _of_thing(number, answers, unit):
            if question.key not in answers:
                return question
        if not answers[f"name {number}"] or number == MOST_ITEMS:
            break
        number += 1
    for number, thing in enumerate(answers.get(TRACED, ()), start=1):
        if not thing.cutting and cuts(number, thing.name, answers) and f"edge {number}" not in answers:
            return edge_question(number, thing.name)
    for question in _last(answers, unit):
        if question.key not in answers:
            return question
    return None


def wanted(answers: Answers, traced: str = "") -> Answered:
    """All that is wanted, of answers to every question; `traced` is the file of things to be named."""
    return Answered(
        title=answers["title"],
        unit=answers["unit"],
        things=things_of(answers),
        carried=answers["carried"],
        belt=answers.get("belt"),
        traced=traced,
        **{key: answers[key] for key in ("material", "thickness", "pitch", "paper", "hand")},
    )


def things_of(answers: Answers) -> tuple[ToldThing, ...]:
    """The things that are answered whole so far."""
    return tuple(with_edge(number, thing, answers) for number, thing in enumerate(_told(answers), start=1))


def _told(answers: Answers) -> Sequence[ToldThing]:
    """As they were measured or traced, without what is answered of their edges."""
    if TRACED in answers:
        traced: tuple[ToldThing, ...] = answers[TRACED]
        return traced
    found = []
    for number in range(1, MOST_ITEMS + 1):
        name = answers.get(f"name {number}")
        if not name or f"length {number}" not in answers:
            break
        width, thickness = answers[f"width {number}"], answers.get(f"thickness {number}")
        found.append(ToldThing(name, width, thickness, answers[f"length {number}"]))
    return found


def _first(answers: Answers) -> tuple[Question, ...]:
    return (
        Question("title", "What will it be called?", name_in),
        Question(
            "unit", "Plain numbers are mm, cm or in?", lambda text: choice_in(text, tuple(LENGTH_UNITS)), "mm"
        ),
    )


def _of_thing(number: int, answers: Answers, unit: str) -> tuple[Question, ...]:
    name = answers.get(f"name {number}")
    which = "What do you carry? A name" if number == 1 else "What else? A name; an empty line ends"
    asked = Question(
        f"name {number}",
        which,
        lambda text: _other_name(text, number, answers),
        None if number == 1 else "",
    )
    if name is None or not name:
        return (asked,)
    edge = (edge_question(number, name),) if cuts(number, name, answers) else ()
    if edge and edge[0].key not in answers:
        return (asked, *edge)
    bare = answers.get(f"edge {number}") == "bare"
    said = f"the blade of {quoted(name)}" if bare else quoted(name)
    or_round = "" if bare else " Of a round one d and its diameter, such as d 12"
    width = Question(
        f"width {number}", f"How wide is {said}?{or_round}",
        lambda text: blade_width_in(text, unit) if bare else _width(text, unit),
    )  # fmt: skip
    thick = Question(f"thickness {number}", f"How thick is {said}?", lambda text: size_in(text, unit))
    long = Question(f"length {number}", f"How long is {said}?", lambda text: size_in(text, unit))
    across = answers.get(f"width {number}")
    return (asked, *edge, width, *(() if across and across.round else (thick,)), long)


def _last(answers: Answers, unit: str) -> tuple[Question, ...]:
    things = things_of(answers)
    ways = [way for way in CarriedAs if way.suits(things)]
    told = "; ".join(f"{way.value}: {way.told}" for way in ways)
    bare = len(things) == 1 and things[0].cutting == "bare" and CarriedAs.SHEATH in ways
    carried = Question(
        "carried",
        f"How are they carried? {told}",
        lambda text: _carried_in(text, ways, things),
        (CarriedAs.SHEATH if bare else CarriedAs.POUCH).value,
    )
    if "carried" not in answers:
        return (carried,)
    return (*_handles(answers), *_belt(answers, unit), *_made_of(answers, unit))


def _carried_in(text: str, ways: Sequence[CarriedAs], things: Sequence[ToldThing]) -> CarriedAs:
    """One of the ways that suit; of a bare edge it is told why others don't. Raises WrongAnswerError."""
    try:
        return CarriedAs(choice_in(text, tuple(ways)))
    except WrongAnswerError as why:
        bare = next((thing for thing in things if thing.cutting == "bare"), None)
        meant = [way for way in CarriedAs if way.startswith(" ".join(text.lower().split()))]
        if bare is None or len(meant) != 1 or meant[0].has_sheaths:
            raise
        raise WrongAnswerError(
            f"{why}; {no_sheath(meant[0], bare.name)}: cover it, go back and say so"
        ) from None


def no_sheath(way: CarriedAs, name: str) -> str:
    """Why what is bare is not carried so."""
    return f"a {way} has no sheath for the bare edge of {quoted(name)}, which would cut thread and hands"


def _handles(answers: Answers) -> Iterator[Question]:
    for number, thing in enumerate(_told(answers), start=1):
        yield from handle_questions(number, thing, answers)


def _belt(answers: Answers, unit: str) -> Iterator[Question]:
    if answers["carried"] in (CarriedAs.POUCH, CarriedAs.SHEATH):
        yield Question(
            "belt", "How wide is the belt that it hangs on? An empty line: on none",
            lambda text: typed_in(text, unit, _PART["belt"]), "",
        )  # fmt: skip


def _made_of(answers: Answers, unit: str) -> tuple[Question, ...]:
    material = answers.get("material", Material.FIRM_LEATHER)
    leather = MATERIALS[Material(material)].family is Family.LEATHER
    thick = {"mm": ("2.4", "0.8"), "cm": ("0.24", "0.08"), "in": ("6 oz", "1/32")}[unit][not leather]
    paper = "letter" if unit == "in" else "A4"
    return (
        Question(
            "material", f"Of what? {words(tuple(Material))}", lambda text: choice_in(text, tuple(Material)),
            Material.FIRM_LEATHER.value,
        ),
        Question(
            "thickness", "How thick is it?",
            lambda text: typed_in(text, unit, _MATERIAL["thickness"]), thick,
        ),
        Question(
            "pitch", "From hole to hole?", lambda text: _pitch(text, unit),
            "5/32 in" if unit == "in" else "4 mm",
        ),
        Question("paper", "Which paper is in the printer? A4, letter, A3 …", _paper, paper),
        Question(
            "hand", "Which hand leads when you sew, right or left?",
            lambda text: choice_in(text, ("right", "left")), "right",
        ),
    )  # fmt: skip


def _other_name(text: str, number: int, answers: Answers) -> str:
    name = name_in(text)
    if name in [answers.get(f"name {other}") for other in range(1, number)]:
        raise WrongAnswerError(
            f"{quoted(name)} is there already: give this one another name, such as {name} {number}"
        )
    return name


def _width(text: str, unit: str) -> Typed:
    for sign in ROUND:
        if text.lower().startswith(sign):
            found = size_in(text[len(sign) :], unit)
            return msgspec.structs.replace(found, round=True)
    return size_in(text, unit)


def _pitch(text: str, unit: str) -> Typed:
    """A pitch for which there is a thread."""
    found = typed_in(text, unit, _STITCHING["pitch"])
    if thread_for(found.mm) is None:
        least = f"{UNITS[unit].at_least(least_pitch(THREADS[-1]))} {unit}"
        raise WrongAnswerError(
            f"{quoted(text)} is too near: {least} at least, or holes tear into one another"
        )
    return found


def _paper(text: str) -> str:
    try:
        paper_named(text)
    except PaperError as why:
        raise WrongAnswerError(str(why)) from None
    return text
