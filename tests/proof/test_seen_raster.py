"""What the proof calls seen leaves dark dots on paper, and what it calls unseen leaves none, by a renderer of
its own."""

from __future__ import annotations

import random
from typing import Any

import pypdfium2
import pytest

from handkit.ink import Tag
from handkit.proof.checks.visible import looks_of, visibility
from handkit.proof.content.document import opened
from handkit.proof.content.walker import budget_of, walked

MM = "2.834645669 0 0 2.834645669 0 0 cm"
BOX = "/MediaBox [0 0 283.4645669 283.4645669]"  # 100 x 100 mm
DOTS = 8  # a mm
DARK = 128
STATES = "/ExtGState <</Thin <</CA 0.2>> /None <</ca 0>>>>"
LINES = [12.0 + 8 * k for k in range(10)]


def sides(chance: random.Random) -> str:
    """A rectangle whose borders keep off the lines and off the places that are looked at."""
    left, low = (4.5 + 8 * chance.randint(0, 8) for _ in range(2))
    return f"{left} {low} {8 * chance.randint(1, 6)} {8 * chance.randint(1, 6)} re"


def content(chance: random.Random) -> str:
    """Ten lines, each in a state of its own, with areas before and after them."""
    parts = []
    for y in LINES:
        two = f"{sides(chance)} {sides(chance)}"
        state = [
            chance.choice(["0 G", "0 G", "0 G", "1 G", "0.7 G", "0 0 0 RG", "0 0 0 0.1 K", "/DeviceRGB CS"]),
            chance.choice(["", "", f"{sides(chance)} W n", f"{two} W* n", "/Thin gs"]),
            chance.choice(["", "q 1 G Q", "q 0 0 1 1 re W n Q"]),
        ]
        parts.append(f"q {' '.join(state)} /hkOutline BMC 0.5 w 5 {y} m 95 {y} l S EMC Q")
        paint = chance.choice(["1 g # f", "0.8 g # f", "q # W n 1 g 0 0 100 100 re f Q", "/None gs 1 g # f"])
        if chance.random() < 0.5:
            parts.append(f"q {paint.replace('#', sides(chance))} Q")
    return " ".join(parts)


def told(hand: Any, seed: int) -> list[int]:
    """How many places of a page are unseen, and how many seen, each as its dot is."""
    path = hand.pdf(f"q {MM} {content(random.Random(seed))} Q", page=BOX, resources=STATES)
    picture = pypdfium2.PdfDocument(path)[0].render(scale=DOTS * 25.4 / 72).to_pil().convert("L")
    drawing = walked(opened(path).pages[0], budget=budget_of(0))
    seen = visibility(drawing, looks_of(0))
    counts = [0, 0]
    for y, mark in zip(LINES, drawing.marks, strict=True):
        for x in (8.5 + 8 * k for k in range(11)):
            unseen = seen.unseen(mark.painted[0], [(x, y)], tag=Tag.OUTLINE)
            dark = picture.getpixel((int(x * DOTS), int((100 - y) * DOTS))) < DARK
            assert dark == (unseen is None), (seed, x, y, unseen)
            counts[dark] += 1
    return counts


@pytest.mark.long
def test_what_is_seen_leaves_dark_dots_and_what_is_not_leaves_none(hand: Any) -> None:
    unseen, seen = map(sum, zip(*(told(hand, seed) for seed in range(40)), strict=True))
    assert unseen > 1000
    assert seen > 500
