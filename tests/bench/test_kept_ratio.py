"""What is kept of a watched project saves the work of what did not change: held as a ratio in one run."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from handkit import ProjectText
from handkit.draw.kit_pdf import kit_pdf
from handkit.kept.kept import NOTHING, Kept, KeptOf
from handkit.kit import Made, made_of, make

SAMPLES = Path(__file__).parents[2] / "samples"
SAMPLE, POUCH = SAMPLES / "strap", SAMPLES / "orchard_pouch"

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


# Of another geometry what is drawn takes no more than this share; 0.55 was measured.
DRAWN_SHARE = 0.8


def drawing_seconds(made: Made, kept: KeptOf) -> float:
    """What drawing a kit takes of the processor."""
    begun = time.process_time()
    kit_pdf(made.punched, made.plan, made.sheets, made.article, made.findings, kept=kept)
    return time.process_time() - begun


@pytest.mark.long
def test_of_another_pitch_of_one_seam_the_drawing_takes_less_than_anew() -> None:
    kept, text = Kept(), next(POUCH.glob("*.toml")).read_text()
    make(ProjectText(text, parent=POUCH), kept=kept)
    again, anew = [], []
    for pitch in (3.9, 3.8, 3.7):
        kept.next_run()
        seam = f'[[seam]]\nname = "label pocket"\npitch = {pitch}\n'
        made = made_of(ProjectText(f"{text}{seam}", parent=POUCH), kept=kept)
        again.append(drawing_seconds(made, made.kept))
        anew.append(drawing_seconds(made, NOTHING))
    assert min(again) < DRAWN_SHARE * min(anew), (again, anew)
