"""A file as it is once its maker has taken the places that handkit proposes: they stay, whatever changes."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from handkit.commands.common.arrange_ways import ways_of, written_way
from handkit.read.project import ARRANGED


@cache
def with_its_places(file: Path) -> str:
    """The text of a file, with all places that are left to handkit written into it."""
    text = file.read_text("utf-8")
    return written_way(file, ways_of(file)[0]) if f'"{ARRANGED}"' in text else text
