"""Answers on trial: whatever an interview has taken can be made, and nothing is warned of; what can't be made
is refused at its answer, with a figure or a word that does."""

from __future__ import annotations

import os
from pathlib import Path

import msgspec
import pytest
from answer_sets import Answerer
from click.testing import CliRunner

from handkit import ProjectText, kit
from handkit.cli import main
from handkit.commands.interview import made
from handkit.commands.interview.dialogue import Dialogue
from handkit.commands.interview.made import Ways, made_ways
from handkit.commands.interview.question import WrongAnswerError
from handkit.commands.interview.questions import next_question, wanted
from handkit.commands.interview.trial import OnTrial
from handkit.messages.message import Severity

OPTIONS = {
    "--title": "Kit", "--unit": "mm", "--carried": "pouch", "--belt": "none", "--material": "firm",
    "--thickness": "2", "--pitch": "4", "--paper": "A4", "--hand": "right", "--take": "1",
}  # fmt: skip


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


LONG = [pytest.param(each, marks=pytest.mark.long) for each in range(8 * int(os.environ.get("TIMES", "1")))]

# What is typed first, and then; what is told of the first. The second is taken, for it says what to write.
REFUSED = [
    ("", "rule\n30\n3\n150\n\npouch\n\ncanvas\nfelt\n\n\n\n\n\n",
     '"canvas": its cut edges fray, and have to be turned; allowed here: firm leather, soft leather, felt or '
     "webbing"),
]  # fmt: skip


@pytest.mark.parametrize(("options", "typed", "told"), REFUSED)
def test_what_leads_nowhere_is_refused_where_it_is_said(options: str, typed: str, told: str) -> None:
    words = ["new", "--title", "Kit", "--unit", "mm", *options.split()]
    ended = CliRunner().invoke(main, words, input=typed)
    assert ended.exit_code == 0, ended.stderr
    assert f"  {told}\n" in ended.stderr


def answered(number: int, folder: Path, told: list[str]) -> Dialogue:
    """All answers of one who answers at random, with what is told of those that are refused."""
    answerer = Answerer(number)
    trial = OnTrial(Ways(folder).work)
    dialogue = Dialogue({}, trial=trial)
    for _ in range(200):
        question = next_question(dialogue.values)
        if question is None:
            return dialogue
        try:
            value = question.value_of(answerer.answer(question))
        except WrongAnswerError:
            continue
        dialogue.values[question.key] = value
        refusal = trial.refusal(question.key, dialogue.values, {})
        if refusal is not None:
            told.append(refusal.why)
            dialogue.forget(refusal.key)
    raise AssertionError(f"asked again and again: {told[-3:]}")


# Two who are refused an answer and take a second each; of the others some take half a minute.
@pytest.mark.parametrize("number", [2, 5, *LONG])
def test_whatever_was_taken_is_made_and_proved_without_a_warning(number: int) -> None:
    ways = made_ways(wanted(answered(number, Path(), []).values), Path())
    assert ways.ways, ways.refused
    made_kit = kit.make(ProjectText(ways.ways[0].text, "kit.toml", Path()))
    assert not [each for each in made_kit.made.findings if each.severity is not Severity.NOTE]
    assert kit.proof_of(made_kit.pdf).passed


def test_what_was_drafted_is_not_drafted_again(monkeypatch: pytest.MonkeyPatch, folder: Path) -> None:
    """By hand: a round thing has no cover but the third; any of these sheets takes it."""
    drafted: list[str] = []
    real = made._drafted
    monkeypatch.setattr(made, "_drafted", lambda way, at: drafted.append(way.told) or real(way, at))
    answers = wanted(answered(28, folder, []).values)
    ways = Ways(folder)
    drafted.clear()
    for paper in ("A4", "letter", "A3", "A4"):
        assert ways.work(msgspec.structs.replace(answers, paper=paper))
    assert drafted == ["its boards in sleeves", "its own ends turned in", "open"]
    drafted.clear()
    assert ways.work(msgspec.structs.replace(answers, hand="left"))
    assert drafted == ["open"]  # what did last is looked at first


# By hand: the shorter is 25 shorter than the longer one, and 10 of it are left to draw it by.
@pytest.mark.parametrize("carried", ["roll", "pouch"])
def test_the_shortest_tool_of_a_row_can_be_drawn_out(carried: str) -> None:
    given = [word for key, value in (OPTIONS | {"--carried": carried}).items() for word in (key, value)]
    items = ("--item", "rule: 30 x 2 x 175", "--item", "bone folder: 22 x 4 x 150")
    assert CliRunner().invoke(main, ["new", *items, *given]).exit_code == 0
    assert 'shows = "35 mm"' in Path("kit.toml").read_text()
    looked_at = CliRunner().invoke(main, ["check", "kit.toml"])
    assert "below the mouth" not in looked_at.output


# Thin things, and what is too thick for a pocket and lies under a strap.
@pytest.mark.parametrize("item", ["card: 85.6 x 0.8 x 54", "sketch book: 148 x 15 x 210"])
def test_a_roll_of_cloth_is_hemmed(item: str) -> None:
    said = OPTIONS | {"--carried": "roll", "--material": "canvas", "--thickness": "0.8", "--item": item}
    told = CliRunner().invoke(main, ["new", *(word for pair in said.items() for word in pair)])
    assert (told.exit_code, told.stderr) == (0, "")
    assert "hem = " in Path("kit.toml").read_text()
