"""Cautions: short reminders for the bench. Words only.

Worded after public guidance on hand tools (OSHA 3080), solvents (NIOSH pages on toluene and
n-hexane), leather dust (IARC Monograph 100C) and revolving machines (HSE HSG129); none is quoted.
"""

from __future__ import annotations

from handkit.draw.flow import Block, beside, paragraph, stacked
from handkit.draw.fonts import Fonts
from handkit.draw.lettering import HEAD

CAUTIONS: tuple[str, ...] = (
    "Knife: sharp, away from all hands, in light passes; covered when idle.",
    "Punch: eye protection, a wood or rawhide mallet; mind your ears.",
    "Awl: square into a backing, no hand behind it; never in a pocket.",
    "Solvent glue: its vapour burns and harms. Air, no flame or spark.",
    "Dye, finish: gloves, air. Oily rags can catch fire: dry them flat.",
    "Sanding dust of leather can cause cancer: mask and extraction.",
    "Melted thread drips and burns: off skin, away from glue.",
    "Turning burnishers: no gloves, loose sleeves, hair or string.",
)
CLOSING = "Reminders only: follow local rules and take trained advice."


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
