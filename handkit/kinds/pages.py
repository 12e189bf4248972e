"""Papers by name, and the ways of laying out: what [page] and the command line's options take.

Sizes in mm as a sheet lies in the printer, width across, height along the feed. Sources: ISO 216
(A series); ASME Y14.1 (letter is size A, tabloid is size B); legal is customary, 8.5 x 14 in, and
not in Y14.1.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import NamedTuple

from handkit.units import MM_PER_INCH


class PaperSize(NamedTuple):
    """Width and height in mm; the name of the paper it is most likely to be printed on by mistake."""

    width: float
    height: float
    mistaken: str


# The first is taken where the file names none.
PAPER_SIZES: Mapping[str, PaperSize] = MappingProxyType(
    {
        "A4": PaperSize(210, 297, "letter"),
        "A3": PaperSize(297, 420, "tabloid"),
        "letter": PaperSize(8.5 * MM_PER_INCH, 11 * MM_PER_INCH, "A4"),
        "legal": PaperSize(8.5 * MM_PER_INCH, 14 * MM_PER_INCH, "A4"),
        "tabloid": PaperSize(11 * MM_PER_INCH, 17 * MM_PER_INCH, "A3"),
    }
)
DEFAULT_PAPER = next(iter(PAPER_SIZES))
PAPERS_ALLOWED = ", ".join(PAPER_SIZES) + " or a size such as 210x297mm"


# So often may a window be laid anew in the longer search for fewer sheets.
MOST_TRIES = 100_000


class Windows(StrEnum):
    """What the maker does first, and so what may share a sheet."""

    SHARED = "shared"  # windows are cut out roughly, then taped: any may share a sheet
    ONE_A_SHEET = "one a sheet"  # whole sheets are taped, then cut: no two windows share a sheet


class Drawn(StrEnum):
    """How often a piece is drawn that is cut several times."""

    ONCE = "once"
    EACH = "each"


class Straights(StrEnum):
    """How long straight pieces are drawn that fit no sheet."""

    WHOLE = "whole"
    SHORTENED = "shortened"  # without the part on which nothing happens


class Pictured(StrEnum):
    """How pictures of the article are written; each is its files' ending."""

    PDF = "pdf"
    SVG = "svg"
    PNG = "png"
