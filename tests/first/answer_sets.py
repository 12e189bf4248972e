"""Random answers to an interview: any that a question allows, from what lies on a bench to the extremes.

In: a number, from which all follows. Out: a text for each question that is asked.
"""

from __future__ import annotations

from math import exp, log
from random import Random

from handkit.commands.interview.question import Question
from handkit.kinds.materials import Material
from handkit.units import LENGTH_UNITS

NAMES = ("rule", "awl", "bone folder", "pencil", "tin", "lens", "book", "twine", "needle case", "sharpener")
EDGED = ("knife", "chisel", "saw", "shears", "scalpel")
CARRIED = ("pouch", "roll", "bag", "sheath", "cover")
PAPERS = ("A4", "letter", "A3", "legal", "tabloid", "148x210mm", "100x100mm")

# What lies on a bench, mm; and all that the questions take.
USUAL = {"width": (4, 250), "thickness": (0.8, 60), "length": (30, 330)}
WHOLE = (0.5, 1000)


class Answerer:
    """One who answers. `wild` is how often a size is one of the whole range."""

    def __init__(self, number: int) -> None:
        self.random = Random(number)
        self.wild = self.random.choice((0.0, 0.0, 0.1, 0.5, 1.0))
        self.count = self.random.choice((1, 1, 1, 1, 1, 2, 2, 3, 5, 8))
        self.unit = self.random.choice(("mm", "mm", "cm", "in"))
        self.carried = self.random.choice(CARRIED)

    def answer(self, question: Question) -> str:
        """What is typed."""
        part, _, number = question.key.rpartition(" ")
        random = self.random
        if part == "name":
            return self._name(int(number))
        if part in ("width", "thickness", "length"):
            is_round = "Of a round one" in question.words and random.random() < 0.3
            return f"d {self.length(4, 40)}" if is_round else self._size(part)
        return {
            "title": lambda: "Kit",
            "unit": lambda: self.unit,
            "edge": lambda: random.choice(("yes", "no", "")),
            "handle": lambda: random.choice(("", self._size("thickness"))),
            "handle length": lambda: random.choice(("", self._size("length"))),
            "blade": lambda: random.choice(("", self._size("length"))),
            "carried": lambda: random.choice((self.carried, self.carried, *CARRIED, "")),
            "belt": lambda: random.choice(("", self.length(20, 60), self.length(5, 300))),
            "material": lambda: random.choice(("", *Material)),
            "thickness": lambda: random.choice(("", self.length(0.8, 5), self.length(0.1, 30))),
            "pitch": lambda: random.choice(("", self.length(2.5, 6), self.length(1.8, 20))),
            "paper": lambda: random.choice(("", *PAPERS)),
            "hand": lambda: random.choice(("", "left")),
        }[part or question.key]()

    def length(self, least: float, most: float) -> str:
        """A length of so many mm, log-uniform, in the unit; an end of the range at times."""
        random = self.random
        mm = exp(random.uniform(log(least), log(most)))
        if random.random() < 0.1:
            mm = random.choice((least, most))
        if mm > 10 and random.random() < 0.5:
            mm = round(mm)
        return f"{mm / LENGTH_UNITS[self.unit]:.4g}"

    def _size(self, part: str) -> str:
        wild = self.random.random() < self.wild
        return self.length(*(WHOLE if wild else USUAL[part]))

    def _name(self, number: int) -> str:
        if number > self.count:
            return ""
        names = EDGED if self.random.random() < 0.25 else NAMES
        return (
            f"{self.random.choice(names)} {number}"
            if self.random.random() < 0.5
            else f"{number} {self.random.choice(names)}"
        )
