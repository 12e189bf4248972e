"""OnTrial: whether there is a way to carry what is answered so far, and what would do where there is none.

In: the answers, and options for those to come. Out: nothing, or which question is to be answered anew, and
why.

Each answer is tried with the usual ones in place of those to come. So the usual answers to the rest lead to a
kit wherever one is: the last of them is tried with all that stands before it.

Words: answers *work* where a way of them can be made, and nothing is warned of.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import Any

import msgspec

from handkit.commands.interview.question import Answers, WrongAnswerError
from handkit.commands.interview.questions import TRACED, next_question, no_sheath, things_of, wanted
from handkit.commands.interview.typed import Typed, between, figure
from handkit.commands.interview.wanted import Answered, CarriedAs, left_raw
from handkit.kinds.edged_tools import HANDLE_LONG, HANDLE_THICK
from handkit.kinds.materials import Material
from handkit.paper import PAPERS
from handkit.wording.quoting import quoted, words

# Figures that do, mm: of a thing, of its handle, of what all is made of.
_USUAL: Mapping[str, float] = MappingProxyType(
    {
        "width": 40.0, "thickness": 4.0, "length": 150.0, "handle": HANDLE_THICK,
        "handle length": HANDLE_LONG, "blade": 100.0, "belt": 40.0, "of leather": 2.4, "pitch": 4.0,
    }
)  # fmt: skip
_OF_THING = ("width", "thickness", "length")
_TOO: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "width": ("wide", "narrow"), "thickness": ("thick", "thin"), "length": ("long", "short"),
        "handle": ("thick", "thin"), "handle length": ("long", "short"), "blade": ("long", "short"),
        "belt": ("wide", "narrow"), "of leather": ("thick", "thin"), "pitch": ("far", "near"),
    }
)  # fmt: skip
_CHOICES: Mapping[str, Iterable[str]] = MappingProxyType(
    {
        "carried": tuple(CarriedAs), "material": tuple(Material), "edge": ("covered", "bare"),
        "paper": tuple(paper.name for paper in PAPERS),
    }
)  # fmt: skip

# The way from what does to what does not is halved so often.
_HALVINGS = 6

# What is wanted -> whether there is a way.
Works = Callable[[Answered], bool]


class Refusal(msgspec.Struct, frozen=True):
    """An answer that leads nowhere: the key of the question to be answered anew, and why, in a line."""

    key: str
    why: str


class OnTrial:
    """Answers on trial. `works` says whether they do; what was tried is remembered."""

    def __init__(self, works: Works, traced: str = "") -> None:
        self._known: dict[Answered, bool] = {}
        self._works, self._traced = works, traced

    def refusal(self, key: str, answers: Answers, given: Mapping[str, str]) -> Refusal | None:
        """Why the answer to the question of this key, the last that was taken, leads nowhere; None where it
        leads on, or where nothing can be said yet."""
        part = _part_of(key)
        if part == "edge" and answers[key] == "bare" and (way := _sheathless(given)):
            name = _names(answers)[int(key.rpartition(" ")[2]) - 1]
            return Refusal(key, f"{no_sheath(way, name)}: cover it, and say yes; or leave out --carried")
        if part in _FREE or (TRACED not in answers and part in _BEFORE_A_LENGTH and part != key):
            return None
        alone = self._not_alone(key, answers, given) if part == "length" else None
        if alone or self.carried(answers, given) is not None:
            return alone
        return self._together(key, part, answers)

    def _not_alone(self, key: str, answers: Answers, given: Mapping[str, str]) -> Refusal | None:
        """Why a thing can't be carried even if it were the only one, which is soon found."""
        number = key.rpartition(" ")[2]
        alone = _alone(int(number), answers)
        if self.carried(alone, {**given, "name 2": ""}) is not None:
            return None
        part, why = self._of_measures("1", alone)
        return Refusal(f"{part} {number}", why)

    def _together(self, key: str, part: str, answers: Answers) -> Refusal | None:
        if part in _CHOICES:
            return self._of_choice(key, answers)
        if part == "length":
            return self._of_thing(key.rpartition(" ")[2], answers)
        why = self._measure(key, part, answers)
        return Refusal(key, f"{quoted(answers[key].text)} {why}") if why else None

    def carried(self, answers: Answers, given: Mapping[str, str]) -> CarriedAs | None:
        """How what is answered so far can be carried, the usual way first; options count where they can."""
        return self._first(answers, given) or (self._first(answers, {}) if given else None)

    def _first(self, answers: Answers, given: Mapping[str, str]) -> CarriedAs | None:
        settled = "carried" in answers or "carried" in given
        for said in [given] if settled else [given, *({**given, "carried": way} for way in CarriedAs)]:
            whole = _completed(answers, said)
            if whole is not None and self._of(whole):
                carried: CarriedAs = whole["carried"]
                return carried
        return None

    def _of(self, answers: Answers) -> bool:
        plain = wanted({**answers, "title": "Kit", "hand": "right"}, self._traced)
        if plain not in self._known:
            self._known[plain] = self._works(plain)
        return self._known[plain]

    def _do(self, answers: Answers) -> bool:
        return self._first(answers, {}) is not None

    def _of_choice(self, key: str, answers: Answers) -> Refusal:
        part = _part_of(key)
        before = {name: value for name, value in answers.items() if name != key}
        others = [each for each in _CHOICES[part] if self._do({**before, key: _chosen(part, each)})]
        frays = part == "material" and left_raw(answers[key])
        why = "its cut edges fray, and have to be turned" if frays else "it can't be made so"
        why = (self._in_the_way(answers) if part == "carried" else "") or why
        allowed = words(["yes" if each == "covered" else "no" if each == "bare" else each for each in others])
        return Refusal(key, f"{quoted(str(answers[key]))}: {why}; allowed here: {allowed}")

    def _in_the_way(self, answers: Answers) -> str:
        """Which thing can't be carried as it was said, by which of its measures."""
        for number in range(1, len(things_of(answers)) + 1) if TRACED not in answers else ():
            alone = {**_alone(number, answers), "name 2": None}
            if not self._do(alone):
                return self._of_measures("1", alone)[1]
        return ""

    def _of_thing(self, number: str, answers: Answers) -> Refusal:
        part, why = self._of_measures(number, answers)
        return Refusal(f"{part} {number}", why)

    def _of_measures(self, number: str, answers: Answers) -> tuple[str, str]:
        """Which measure of a thing is in the way, and why, in words: one of them, or all together."""
        name = quoted(answers[f"name {number}"])
        known = [part for part in _OF_THING if f"{part} {number}" in answers]
        for part in known:
            why = self._measure(f"{part} {number}", part, answers)
            if why:
                return part, f"{name} {why}"
        found = self._nearest([f"{part} {number}" for part in known], answers)
        if found is None:
            return "name", f"{name} has no room beside the others: leave it out, or carry it by itself"
        sizes = " x ".join(figure(each.mm, answers["unit"]) for each in found)
        return "width", f"{name} can't be carried in that shape: {sizes} can"

    def _measure(self, key: str, part: str, answers: Answers) -> str:
        """Why one measure is in the way, and which figure is not; "" where that alone changes nothing."""
        found = self._nearest([key], answers)
        if found is None:
            return ""
        large = answers[key].mm > found[0].mm
        what = _TOO[_usual_of(part, key)][not large]
        told = figure(found[0].mm, answers["unit"])
        return f"is too {what} here: {told} at {'most' if large else 'least'}"

    def _nearest(self, keys: list[str], answers: Answers) -> list[Typed] | None:
        """Figures between what was said and the usual that do; None where not even those do."""
        said = [answers[key] for key in keys]
        usual = [_USUAL[_usual_of(_part_of(key), key)] for key in keys]

        def at(share: float) -> list[Typed]:
            pairs = zip(said, usual, strict=True)
            return [between(one, mm, share, answers["unit"]) for one, mm in pairs]

        def does(share: float) -> bool:
            return self._do({**answers, **dict(zip(keys, at(share), strict=True))})

        refused, works = 0.0, 1.0
        if not does(works):
            return None
        for _ in range(_HALVINGS):
            middle = (refused + works) / 2
            refused, works = (refused, middle) if does(middle) else (middle, works)
        return at(works)


_FREE = ("title", "unit", "name", "hand")
_BEFORE_A_LENGTH = ("width", "thickness", "edge")


def _part_of(key: str) -> str:
    """Of a thing's question what it asks for; else the key."""
    part, _, number = key.rpartition(" ")
    return part if number.isdigit() else key


def _usual_of(part: str, key: str) -> str:
    return "of leather" if key == "thickness" else part


def _alone(number: int, answers: Answers) -> Answers:
    """The answers as if this thing were the only one."""
    rest = {key: value for key, value in answers.items() if not key[-1].isdigit()}
    own = {key: value for key, value in answers.items() if key.endswith(f" {number}")}
    return {**{f"{_part_of(key)} 1": value for key, value in own.items()}, **rest}


def _names(answers: Answers) -> list[str]:
    told = [answers[key] for key in answers if _part_of(key) == "name" and answers[key]]
    return [thing.name for thing in answers[TRACED]] if TRACED in answers else told


def _sheathless(given: Mapping[str, str]) -> CarriedAs | None:
    """How an option has all carried, where that has no sheath for a bare edge."""
    said = " ".join(given.get("carried", "").lower().split())
    ways = [way for way in CarriedAs if said and way.startswith(said)]
    return ways[0] if len(ways) == 1 and not ways[0].has_sheaths else None


def _chosen(part: str, text: str) -> Any:
    return CarriedAs(text) if part == "carried" else text


def _completed(answers: Answers, given: Mapping[str, str]) -> Answers | None:
    """The answers, with options or the usual ones in place of those to come; None where one has no usual
    answer."""
    found = {"title": "Kit", **answers}
    while question := next_question(found):
        for text in (given.get(question.key, ""), ""):
            try:
                found[question.key] = question.value_of(text)
            except WrongAnswerError:
                continue
            break
        else:
            return None
    return found
