"""A newcomer at a terminal: answers what is asked, at times with nonsense first, and finds the way.

In: a number, from which all follows. Out: what the terminal showed, and how the command ended. The terminal
is a pseudo-terminal, so that the command takes it for a real one.
"""

from __future__ import annotations

import os
import pty
import select
import subprocess
import sys
import time
from pathlib import Path
from random import Random
from typing import NamedTuple

PATIENCE = 60.0  # seconds, on a busy machine

# What nobody can use: foolish, mistyped, hostile.
NOISE = [
    "", "-5", "0", "ten", "1e999", "99999999", "3,,5", "2 1/0 in", "5 furlongs", "[60, 40]", "\x1b[2J",
    "\x07", "$(touch bad)", "'; drop", "x" * 500, "?", "皮革", "=1+1", "--help",
]  # fmt: skip
# What is no name either: any other word may be one.
NO_NAMES = ["a:b", "?", "\x1b[2J", "x" * 500, "c#"]

# Things of our own scenarios, as one measures them: (name, width, thickness or None of a round one, length).
SETS = [
    [("bone folder", "22", "4", "150"), ("scriber", "d 8", None, "160")],
    [
        ("budding knife", "d 18", None, "120"),
        ("labels", "66", "3", "90"),
        ("hank of raffia", "76", "24", "120"),
    ],
    [("sketch book", "148", "15", "210")],
    [("grafting knife", "30", "4", "110")],
    [("pencil", "d 8", None, "175"), ("pen", "d 11,5", None, "140"), ("rule", "30", "1.5", "155")],
    [("water brush", "d 1.2 cm", None, "15 cm"), ("pan of colours", "60", "12", "105")],
    [("card", "85.6", "0.8", "54")],
    [("chisel", "24", "6", "120"), ("marking knife", "18", "3", "90"), ("rule", "30", "1.5", "155")],
]
# A blade by itself, where its edge is bare: width, thickness, length; and its handle, a hand's.
BLADE, HANDLE = ("22", "3", "90"), ("16", "10,5 cm")
INCHES = [[("awl", 'd 1/2"', None, "5 1/2"), ("slick", "1 1/4", "1/4", "6-1/2"), ("block", '2¼"', "1", "3")]]


class Ended(NamedTuple):
    """What came of a dialogue."""

    shown: str
    code: int
    written: Path | None


def answers_of(number: int) -> dict[str, str]:
    """What one newcomer wants, by the beginning of each question."""
    random = Random(number)
    inches = number % 5 == 4
    things = random.choice(INCHES if inches else SETS)
    ways = ["pouch", "roll", "bag"] + (["sheath", "cover"] if len(things) == 1 else [])
    canvas = random.random() < 0.3  # of cloth that frays there are rolls and bags
    found = {
        "What will it be called?": f"Kit {number}",
        "Plain numbers are": "in" if inches else random.choice(["", "mm"]),
        "How are they carried?": random.choice(ways),
        "How wide is the belt": random.choice(["", "1 1/2 in", "40 mm"]),
        "Of what?": "canvas" if canvas else random.choice(["", "firm", "soft leather"]),
        "How thick is it?": "" if canvas or inches else random.choice(["", "2,5 mm", "6oz", "2.4 mm"]),
        "From hole to hole?": random.choice(["", "4 mm", "5 mm", "3/16 in"]),
        "Which paper": random.choice(["", "A4", "letter"]),
        "Which hand": random.choice(["", "left", "right"]),
        "Which one": random.choice(["", "1"]),
    }
    carried = found["How are they carried?"]
    whole = carried in ("roll", "bag", "cover")
    if canvas and carried not in ("roll", "bag"):
        found |= {"Of what?": "soft leather", "How thick is it?": "2.4 mm"}
    for k, (name, width, thickness, length) in enumerate(things):
        # What is carried in a sheath is not covered; where there is none, all is.
        edges = ["", "no", "n"] if carried == "sheath" else ["yes", "y"] if whole else ["", "no", "yes", "y"]
        found[f'Is the edge of "{name}"'] = random.choice(edges)
        for asked, blade in zip(("wide", "thick", "long"), BLADE, strict=True):
            found[f'How {asked} is the blade of "{name}"'] = blade
        for asked, handle in zip(("thick", "long"), HANDLE, strict=True):
            found[f'How {asked} is the handle of "{name}"'] = handle if whole else random.choice(["", handle])
        found["What do you carry?" if k == 0 else f"What else? {k}"] = name
        found[f'How wide is "{name}"'] = width
        found[f'How long is "{name}"'] = length
        if thickness is not None:
            found[f'How thick is "{name}"'] = thickness
    return found


class Newcomer:
    """One at the terminal. `noise` is how often something else is tried first."""

    def __init__(self, number: int, folder: Path, *, noise: float) -> None:
        self.random, self.answers, self.noise = Random(number), answers_of(number), noise
        self.others = [text for key, text in self.answers.items() if key.startswith("What else? ")]
        self.folder, self.tried, self.shown = folder, dict[str, int](), ""
        self.named = 0

    def run(self) -> Ended:
        """The whole dialogue. Raises AssertionError where it comes to a dead end."""
        master, slave = pty.openpty()
        line = [sys.executable, "-m", "handkit", "new"]
        process = subprocess.Popen(line, stdin=slave, stdout=slave, stderr=slave, cwd=self.folder, text=False)
        os.close(slave)
        try:
            while (asked := self._until_asked(master)) is not None:
                os.write(master, f"{self._answer(asked)}\n".encode())
            process.wait(PATIENCE)
        finally:
            process.kill()
            process.wait()
            os.close(master)
        written = sorted(self.folder.glob("*.toml"))
        return Ended(self.shown, process.returncode, written[0] if written else None)

    def _until_asked(self, master: int) -> str | None:
        """The question that stands at the end of the screen, None where the command has ended."""
        end, fresh = time.monotonic() + PATIENCE, ""
        while not fresh.endswith(": "):
            assert time.monotonic() < end, f"a dead end: {self.shown[-500:]}"
            if not select.select([master], [], [], 0.2)[0]:
                continue
            try:
                data = os.read(master, 65536)
            except OSError:  # the other end is closed
                return None
            if not data:
                return None
            fresh += data.decode("utf-8", "replace")
            self.shown += data.decode("utf-8", "replace")
        return fresh.splitlines()[-1]

    def _answer(self, asked: str) -> str:
        """Noise for a while, one step back at times, then what is wanted."""
        tried = self.tried.get(asked, 0)
        self.tried[asked] = tried + 1
        assert tried < 12, f"asked again and again: {self.shown[-500:]}"
        if tried < 2 and self.random.random() < self.noise:
            names = asked.startswith(("What else?", "What do you carry?", "What will"))
            return self.random.choice([*(NO_NAMES if names else NOISE), "back"])
        if asked.startswith("What else?"):
            return self._other()
        return next((text for key, text in self.answers.items() if asked.startswith(key)), "")

    def _other(self) -> str:
        """The next thing that is not named yet, as the screen has it; an empty line after the last."""
        done = [name for name in self.others if f'"{name}"' in self.shown]
        left = [name for name in self.others if name not in done]
        return left[0] if left else ""
