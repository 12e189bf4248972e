"""Questions: what is asked, in which order, and what each answer may be.

In: the answers so far. Out: the next question, or all that is wanted. Every answer is checked at once, by the
rules of the project file's own keys. The same questions are the options of the command.

Words: an *answer* has the key of its question, such as `width 2` of the second thing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import msgspec

from handkit.commands.interview.typed import Typed, typed_length
from handkit.commands.interview.wanted import (
    THREADS,
    Answered,
    CarriedAs,
    ToldThing,
    least_pitch,
    thread_for,
)
from handkit.errors import PaperError
from handkit.findings import nearest
from handkit.kinds.edged_tools import tells_of_an_edge
from handkit.kinds.materials import MATERIALS, Family, Material
from handkit.paper import paper_named
from handkit.read.parts.promises import MOST_ITEMS
from handkit.read.schema.keys import TABLES
from handkit.read.schema.rules import Key
from handkit.units import LENGTH_UNITS
from handkit.wording.figures import UNITS
from handkit.wording.quoting import is_unprintable, quoted, words

ROUND = ("d ", "d.", "⌀", "ø")

_ITEM, _PART = TABLES["item"].keys, TABLES["part"].keys
_MATERIAL, _STITCHING = TABLES["material"].keys, TABLES["stitching"].keys
_LONGEST = _ITEM["name"].many  # letters of a name

# The answer that stands in for all things: those of a file.
TRACED = "things"

Answers = Mapping[str, Any]


class WrongAnswerError(Exception):
    """An answer that can't be taken; says why in a line."""


class Question(msgspec.Struct, frozen=True):
    """What is asked: its words, what makes a value of what is typed, and what an empty line means ("" for
    nothing, None where an answer is needed)."""

    key: str
    words: str
    taken: Callable[[str], Any]
    empty: str | None = None

    def value_of(self, text: str) -> Any:
        """The value of a line. Raises WrongAnswerError."""
        if text:
            return self.taken(text)
        if self.empty is None:
            raise WrongAnswerError("an answer is needed here")
        return self.taken(self.empty) if self.empty else None


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
        covered=answers.get("covered") != "no",
        **{key: answers[key] for key in ("material", "thickness", "pitch", "paper", "hand")},
    )


def things_of(answers: Answers) -> tuple[ToldThing, ...]:
    """The things that are answered whole so far."""
    if TRACED in answers:
        traced: tuple[ToldThing, ...] = answers[TRACED]
        return traced
    found = []
    for number in range(1, MOST_ITEMS + 1):
        name = answers.get(f"name {number}")
        if not name or f"length {number}" not in answers:
            break
        width, thickness = answers[f"width {number}"], answers.get(f"thickness {number}")
        long, cuts = answers[f"length {number}"], tells_of_an_edge(name)
        found.append(ToldThing(name, width, thickness, long, cuts=cuts))
    return tuple(found)


def _first(answers: Answers) -> tuple[Question, ...]:
    return (
        Question("title", "What will it be called?", _name),
        Question(
            "unit", "Plain numbers are mm, cm or in?", lambda text: _choice(text, tuple(LENGTH_UNITS)), "mm"
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
    said = quoted(name)
    width = Question(
        f"width {number}", f"How wide is {said}? Of a round one d and its diameter, such as d 12",
        lambda text: _width(text, unit),
    )  # fmt: skip
    thick = Question(f"thickness {number}", f"How thick is {said}?", lambda text: _length(text, unit))
    long = Question(f"length {number}", f"How long is {said}?", lambda text: _length(text, unit))
    across = answers.get(f"width {number}")
    return (asked, width, long) if across and across.round else (asked, width, thick, long)


def _last(answers: Answers, unit: str) -> tuple[Question, ...]:
    things = things_of(answers)
    ways = [way for way in CarriedAs if way.suits(len(things))]
    told = "; ".join(f"{way.value}: {way.told}" for way in ways)
    material = answers.get("material", Material.FIRM_LEATHER)
    leather = MATERIALS[Material(material)].family is Family.LEATHER
    thick = {"mm": ("2.4", "0.8"), "cm": ("0.24", "0.08"), "in": ("6 oz", "1/32")}[unit][not leather]
    paper = "letter" if unit == "in" else "A4"
    listed = [
        Question(
            "carried", f"How are they carried? {told}", lambda text: CarriedAs(_choice(text, tuple(ways))),
            CarriedAs.POUCH.value,
        ),
        Question(
            "material", f"Of what? {words(tuple(Material))}", lambda text: _choice(text, tuple(Material)),
            Material.FIRM_LEATHER.value,
        ),
        Question(
            "thickness", "How thick is it?",
            lambda text: _typed(text, unit, _MATERIAL["thickness"]), thick,
        ),
        Question(
            "pitch", "From hole to hole?", lambda text: _pitch(text, unit),
            "5/32 in" if unit == "in" else "4 mm",
        ),
        Question("paper", "Which paper is in the printer? A4, letter, A3 …", _paper, paper),
        Question(
            "hand", "Which hand leads when you sew, right or left?",
            lambda text: _choice(text, ("right", "left")), "right",
        ),
    ]  # fmt: skip
    if answers.get("carried") in (CarriedAs.POUCH, CarriedAs.SHEATH):
        belt = Question(
            "belt", "How wide is the belt that it hangs on? An empty line: on none",
            lambda text: _typed(text, unit, _PART["belt"]), "",
        )  # fmt: skip
        listed.insert(1, belt)
    edged = [thing.name for thing in things if thing.cuts]
    if edged and answers.get("carried") is not CarriedAs.SHEATH:
        named = words(map(quoted, edged), last="and")
        asked = f"Is the edge of {named} covered, by a sheath or cap that the size takes in?"
        covered = Question("covered", f"{asked} yes or no", lambda text: _choice(text, ("yes", "no")))
        listed.insert(1, covered)
    return tuple(listed)


def _name(text: str) -> str:
    name = " ".join(text.split())
    if not name:
        raise WrongAnswerError("give it a name")
    if len(name) > _LONGEST:
        raise WrongAnswerError(f"a name has {_LONGEST} letters at most; found {len(name)}")
    for letter in name:
        if letter in ":#" or is_unprintable(letter):
            raise WrongAnswerError(
                f"leave {quoted(letter)} out of the name: a project file has a meaning for it"
            )
    return name


def _other_name(text: str, number: int, answers: Answers) -> str:
    name = _name(text)
    if name in [answers.get(f"name {other}") for other in range(1, number)]:
        raise WrongAnswerError(
            f"{quoted(name)} is there already: give this one another name, such as {name} {number}"
        )
    return name


def _width(text: str, unit: str) -> Typed:
    for sign in ROUND:
        if text.lower().startswith(sign):
            found = _length(text[len(sign) :], unit)
            return msgspec.structs.replace(found, round=True)
    return _length(text, unit)


def _length(text: str, unit: str) -> Typed:
    return _typed(text, unit, _ITEM["length"])


def _typed(text: str, unit: str, rule: Key) -> Typed:
    found = typed_length(text, unit, rule)
    if isinstance(found, str):
        raise WrongAnswerError(found)
    return found


def _pitch(text: str, unit: str) -> Typed:
    """A pitch for which there is a thread."""
    found = _typed(text, unit, _STITCHING["pitch"])
    if thread_for(found.mm) is None:
        least = f"{UNITS[unit].at_least(least_pitch(THREADS[-1]))} {unit}"
        raise WrongAnswerError(
            f"{quoted(text)} is too near: {least} at least, or holes tear into one another"
        )
    return found


def _choice(text: str, choices: tuple[str, ...]) -> str:
    """One of a few words, or the beginning of one that no other begins with."""
    word = " ".join(text.lower().split())
    begun = [choice for choice in choices if choice.startswith(word)]
    if word in choices or len(begun) == 1:
        return word if word in choices else begun[0]
    near = nearest(word, choices)
    meant = f"; did you mean {near}?" if near else ""
    raise WrongAnswerError(f"found {quoted(text)}; allowed: {words(choices)}{meant}")


def _paper(text: str) -> str:
    try:
        paper_named(text)
    except PaperError as why:
        raise WrongAnswerError(str(why)) from None
    return text
