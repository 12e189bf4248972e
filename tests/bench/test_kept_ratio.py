"""What is kept of a watched project saves the work of what did not change: held as a ratio in one run."""

from __future__ import annotations

import time
from pathlib import Path

from handkit import ProjectText
from handkit.kept.kept import Kept
from handkit.kit import make

SAMPLE = Path(__file__).parents[2] / "samples" / "strap"

# A title's kit takes no more than this share of the kit made anew; of the pouch an eighth was measured.
SHARE = 0.5


def seconds(title: str, kept: Kept | None) -> float:
    """What a kit of this title takes of the processor."""
    text = next(SAMPLE.glob("*.toml")).read_text().replace('title = "', f'title = "{title}')
    begun = time.process_time()
    make(ProjectText(text, parent=SAMPLE), kept=kept)
    return time.process_time() - begun


def test_a_title_takes_less_than_half_of_a_kit_made_anew() -> None:
    kept = Kept()
    seconds("", kept)
    again = min(seconds(title, kept) for title in ("A ", "My ", "Our "))
    assert again < SHARE * seconds("A ", None)
