"""Drafted records built by hand, so that a step is tested without those before it.

In: what a test cares for. Out: a record with all else as it is for plain pieces of leather.
"""

from __future__ import annotations

from msgspec.structs import replace

from handkit.draft.pattern import PatternPiece
from handkit.findings import Source
from handkit.geometry.affine import Affine
from handkit.geometry.path import Path
from handkit.kinds.materials import Material
from handkit.read.project import Punching, RoundHole, Side, Spacing, Stitching

STITCHING = Stitching(
    pitch=4.0,
    inset=4.0,
    thread=0.8,
    spacing=Spacing.EVEN,
    punch=Punching.APART,
    hole=RoundHole(1.6),
    needle=None,
    tail=180.0,
    back=2,
    start_back=0,
    wrap_start=0,
    wrap_end=0,
    longest_side=1500.0,
)


def plain_piece(source: Source, name: str, outline: Path, **changes: object) -> PatternPiece:
    """A root of firm leather, 2.4 thick."""
    piece = PatternPiece(
        source=source,
        name=name,
        outline=outline,
        cut_outline=outline,
        letters=(),
        lines=(),
        folds=(),
        trims=(),
        skives=(),
        thickness=2.4,
        material=Material.FIRM_LEATHER,
        quantity=1,
        mark=Side.GRAIN,
        grain_degrees=90.0,
        note="",
        on=None,
        behind=False,
        flat=True,
        glued=False,
        root=name,
        placed=Affine(),
        level=0,
        depth=0,
    )
    return replace(piece, **changes)  # type: ignore[arg-type]
