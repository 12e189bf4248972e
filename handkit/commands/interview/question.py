"""Question: what is asked, and the values that a line may stand for.

In: a line that was typed. Out: its value, checked by the rules of the project file's own keys; or why it
can't be taken, in a line.

Words: an *answer* has the key of its question, such as `width 2` of the second thing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import msgspec

from handkit.commands.interview.typed import Typed, typed_length
from handkit.findings import nearest
from handkit.read.schema.keys import TABLES
from handkit.read.schema.rules import Key
from handkit.wording.quoting import is_unprintable, quoted, words

_ITEM = TABLES["item"].keys
_LONGEST = _ITEM["name"].many  # letters of a name
# From a needle's thickness to what is as long as an arm: more is not carried by hand (our own), mm.
_CARRIED = msgspec.structs.replace(_ITEM["length"], least=0.5, most=1000.0)

Answers = Mapping[str, Any]


class WrongAnswerError(Exception):
    """An answer that can't be taken; says why in a line."""


class Question(msgspec.Struct, frozen=True):
    """What is asked: its words, what makes a value of what is typed, and what an empty line means ("" for
    nothing, None where an answer is needed). `unless` is what is taken where nothing is said."""

    key: str
    words: str
    taken: Callable[[str], Any]
    empty: str | None = None
    unless: str = ""

    def value_of(self, text: str) -> Any:
        """The value of a line. Raises WrongAnswerError."""
        if text:
            return self.taken(text)
        if self.empty is None:
            raise WrongAnswerError("an answer is needed here")
        return self.taken(self.empty) if self.empty else None


def name_in(text: str) -> str:
    """A name as a project file may have it. Raises WrongAnswerError."""
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
    lacking = () if name.isascii() else _undrawn(name)
    if lacking:
        raise WrongAnswerError(
            f"leave {words([quoted(letter) for letter in lacking], last='and')} out of the name: the letters "
            "that come with handkit can't write it; a font of yours can, which the file may name later"
        )
    return name


def _undrawn(text: str) -> tuple[str, ...]:
    """What no page of a kit could show of a text."""
    from handkit.draw.model.fonts import shipped_fonts

    return shipped_fonts().lacking(text)


def size_in(text: str, unit: str) -> Typed:
    """A length of a thing. Raises WrongAnswerError."""
    return typed_in(text, unit, _CARRIED)


def typed_in(text: str, unit: str, rule: Key) -> Typed:
    """A length that a key's rule allows. Raises WrongAnswerError."""
    found = typed_length(text, unit, rule)
    if isinstance(found, str):
        raise WrongAnswerError(found)
    return found


def choice_in(text: str, choices: tuple[str, ...]) -> str:
    """One of a few words, or the beginning of one that no other begins with. Raises WrongAnswerError."""
    word = " ".join(text.lower().split())
    begun = [choice for choice in choices if choice.startswith(word)]
    if word in choices or len(begun) == 1:
        return word if word in choices else begun[0]
    near = nearest(word, choices)
    meant = f"; did you mean {near}?" if near else ""
    raise WrongAnswerError(f"found {quoted(text)}; allowed: {words(choices)}{meant}")
