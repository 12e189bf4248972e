"""Cautions: short reminders for the bench. Words only.

Worded after public guidance on hand tools (OSHA 3080), solvents (NIOSH pages on toluene and
n-hexane), leather dust (IARC Monograph 100C) and revolving machines (HSE HSG129); none is quoted.
"""

from __future__ import annotations

from handkit.draw.flow import Block, beside, paragraph, stacked
from handkit.draw.fonts import Fonts
from handkit.draw.lettering import HEAD

CAUTIONS: tuple[str, ...] = (
    "Knife: sharp, in light passes, away from hands.",
    "Punch and mallet: eye and ear protection.",
    "Awl: into a backing, with no hand behind it.",
    "Solvent glue: fresh air, no flame, no spark.",
    "Dye and finish: gloves and fresh air.",
    "Oily rags can catch fire: dry them flat, outside.",
    "Leather dust can cause cancer: mask, extraction.",
    "Melted thread burns: off skin, away from glue.",
    "Burnishers: no gloves, sleeves or loose hair.",
)
CLOSING = "Reminders only: local rules and training first."


def cautions(fonts: Fonts, width: float) -> tuple[Block, ...]:
    """Two columns where there is room."""
    head = paragraph("Take care", width, fonts, size=HEAD, bold=True, kept=True, space=0.5)
    texts = (*CAUTIONS, CLOSING)
    if width < 120:
        return (*head, *(block for text in texts for block in _bullet(text, width, fonts)))
    half = (len(texts) + 1) // 2
    column = width / 2 - 3
    left, right = (
        stacked([block for text in some for block in _bullet(text, column, fonts)])
        for some in (texts[:half], texts[half:])
    )
    return (*head, beside(left, right, offset=width / 2 + 1))


def _bullet(text: str, width: float, fonts: Fonts) -> tuple[Block, ...]:
    return paragraph(text, width, fonts, space=0.4)
