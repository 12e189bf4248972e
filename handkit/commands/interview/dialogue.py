"""The dialogue: questions on a terminal, answers a line each, one back and leaving included.

In: what was given as options; lines of the standard input. Out: all answers. Where an option's value can't be
taken it is wrong use; where a line can't, its reason is told and the question is asked again.
"""

from __future__ import annotations

import re
import shlex
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any, NoReturn

import click
import msgspec

from handkit.commands.common.asking import typed_line
from handkit.commands.common.ending import FAULTY
from handkit.commands.common.output import write_beside
from handkit.commands.common.telling import progress
from handkit.commands.interview.edges import OF_EDGES, as_option, given_edges
from handkit.commands.interview.question import Question, WrongAnswerError
from handkit.commands.interview.questions import ROUND, TRACED, next_question
from handkit.commands.interview.trial import OnTrial
from handkit.commands.interview.wanted import CarriedAs

BACK, LEAVE, HELP = ("back", "b"), ("quit", "q"), ("?", "help")
LEAD = (
    "An empty line takes what stands in [brackets]; back goes one question back, quit leaves.",
    "Lengths as you read them: 58, 2 1/4 in, 3/16\", 2,5; of leather 6 oz, too.",
)  # fmt: skip

# After so many seconds one who waits for the next question is told what it waits for.
SOON = 0.5

# How answers are given as options: of the first, second … thing all are one.
_OF_THINGS = ("name", "width", "thickness", "length")


class Dialogue:
    """What is answered so far: as a value, and as it was typed. `given` are options, and are not asked;
    `settled` are values that stay, `kept` the other words of the command."""

    def __init__(
        self,
        given: Mapping[str, str],
        settled: Mapping[str, Any] = MappingProxyType({}),
        kept: Sequence[str] = (),
        trial: OnTrial | None = None,
    ) -> None:
        self.kept, self.trial = kept, trial
        self.given = dict(given)
        self.values: dict[str, Any] = dict(settled)
        self.typed: dict[str, str] = {}
        self.asked: list[str] = []
        self.greeted = False

    def answers(self) -> Mapping[str, Any]:
        """The answer to every question. Raises click.BadParameter for an option; ends where it is left."""
        while question := next_question(self.values):
            if question.key in self.given:
                self._take_option(question)
            else:
                self._ask(question)
            if question.key in self.values:
                self._try(question.key)
        return self.values

    def _try(self, key: str) -> None:
        """Put what was taken last on trial; where that leads nowhere, it is asked anew."""
        if self.trial is None:
            return
        with progress(after=SOON) as on_progress:
            on_progress("looking for a way to carry it")
            refusal = self.trial.refusal(key, self.values, self._to_come())
        if refusal is None:
            return
        if refusal.key in self.given:
            hint = f"--{option_of(refusal.key)}"
            if self.asked:
                write_beside(self.way_on(without=refusal.key))
            raise click.BadParameter(refusal.why, param_hint=hint)
        write_beside(f"  {refusal.why}")
        self.forget(refusal.key)

    def _to_come(self) -> Mapping[str, str]:
        return {key: text for key, text in self.given.items() if key not in self.values}

    def go_back(self) -> None:
        """Forget the last answer that was asked for, and what was taken after it."""
        if not self.asked:
            write_beside("this is the first question")
            return
        self.forget(self.asked[-1])

    def forget(self, first: str) -> None:
        """Forget an answer, and what was taken after it."""
        keys = list(self.values)
        for key in keys[keys.index(first) :]:
            del self.values[key]
            self.typed.pop(key, None)
        self.asked = [key for key in self.asked if key in self.values]

    def _take_option(self, question: Question) -> None:
        text = self.given[question.key]
        try:
            self.values[question.key] = question.value_of(text)
        except WrongAnswerError as why:
            raise click.BadParameter(str(why), param_hint=f"--{option_of(question.key)}") from None
        self.typed[question.key] = text

    def _ask(self, question: Question) -> None:
        if not self.greeted:
            self.greeted = True
            for line in LEAD:
                write_beside(line)
        question = self._with_the_usual(question)
        text = self.line(question.words, question.empty or question.unless)
        if text is None:
            self.go_back()
            return
        try:
            value = question.value_of(text)
        except WrongAnswerError as why:
            write_beside(f"  {why}")
            return
        if question.unless and not text:
            write_beside(f"  taken for now: {question.unless}; measure it, and mend it in the file")
        self.values[question.key] = value
        self.typed[question.key] = text
        self.asked.append(question.key)

    def _with_the_usual(self, question: Question) -> Question:
        """How they are carried is by the first way that there is for them."""
        if question.key != "carried" or self.trial is None:
            return question
        usual = self.trial.carried(self.values, self._to_come())
        return msgspec.structs.replace(question, empty=usual.value) if usual else question

    def line(self, words: str, empty: str | None) -> str | None:
        """One line that is typed; None to go back. Ends the command where it is left."""
        while True:
            text = typed_line(f"{words}{f' [{empty}]' if empty else ''}: ")
            if text is None or text.lower() in LEAVE:
                self.leave()
            if text.lower() in BACK:
                return None
            if text.lower() not in HELP:
                return text
            for each in LEAD:
                write_beside(f"  {each}")

    def leave(self) -> NoReturn:
        """Say how to go on from here, and end; nothing is written."""
        write_beside(self.way_on())
        raise SystemExit(FAULTY)

    def way_on(self, without: str = "") -> str:
        """That nothing is written, and how to go on from here, without an answer that leads nowhere."""
        return "nothing is written" + (f"; go on with: {self.as_command(without)}" if self.typed else "")

    def as_command(self, without: str = "") -> str:
        """The answers so far, and those that are given and were not come to yet, as a command."""
        words, said = ["handkit", "new"], {**self.given, **self.typed}
        said.pop(without, None)
        for key, text in said.items():
            if not key[-1].isdigit() and (text or key == "belt"):
                words += [f"--{key}", text or "none"]
        for number, name in enumerate(self._names(said), start=1):
            if f"name {number}" in said:
                sizes = [said.get(f"{part} {number}") for part in _OF_THINGS[1:]]
                words += ["--item", f"{name}: {' x '.join(size for size in sizes if size)}"]
            words += as_option(number, name, said)
        return shlex.join([*words, *self.kept])

    def _names(self, said: Mapping[str, str]) -> list[str]:
        """What the things that are told of so far are called."""
        traced = [thing.name for thing in self.values.get(TRACED, ())]
        return traced or item_names(said)


def begun(  # noqa: PLR0913, PLR0917 - what a command was given, each by itself
    said: Mapping[str, str],
    items: tuple[str, ...],
    edges: tuple[str, ...],
    settled: Mapping[str, Any],
    kept: Sequence[str],
    trial: OnTrial | None = None,
) -> Dialogue:
    """The dialogue in which what the options say is not asked any more. Raises click.BadParameter."""
    given = {**said, **given_items(items, whole="carried" in said)}
    names = [thing.name for thing in settled.get(TRACED, ())] or item_names(given)
    sheathed = CarriedAs.SHEATH.startswith(said.get("carried") or "-")
    edged, cuts = given_edges(edges, names, sheathed=sheathed)
    return Dialogue(given | edged, {**settled, **cuts}, kept, trial)


def option_of(key: str) -> str:
    """The option that gives an answer."""
    if key.startswith(OF_EDGES):
        return "edge"
    return "item" if key[-1].isdigit() else key


def item_names(said: Mapping[str, str]) -> list[str]:
    """What the things are called, of answers to what they are."""
    numbered = (said.get(f"name {number}") for number in range(1, len(said) + 1))
    return [name for name in numbered if name]


def given_items(items: tuple[str, ...], *, whole: bool) -> dict[str, str]:
    """The answers that `--item "name: 30 x 3 x 150"` gives; `whole` where no other thing is asked for. Raises
    click.BadParameter."""
    found: dict[str, str] = {}
    for number, text in enumerate(items, start=1):
        name, _, sizes = text.rpartition(":")
        parts = [part.strip() for part in re.split("[x×]", sizes.lower())] if sizes.strip() else []
        is_round = bool(parts) and parts[0].startswith(ROUND)
        keys = ("width", "length") if is_round else ("width", "thickness", "length")
        if len(parts) > len(keys) or not name.strip():
            allowed = '"name: width x thickness x length", or "name: d diameter x length"'
            raise click.BadParameter(f"found {text!r}; allowed: {allowed}", param_hint="--item")
        found[f"name {number}"] = name.strip()
        found |= {f"{key} {number}": part for key, part in zip(keys, parts, strict=False)}
    if items and whole:
        found[f"name {len(items) + 1}"] = ""
    return found
