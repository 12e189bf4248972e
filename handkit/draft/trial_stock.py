"""Trial stock: a project as it is tried in paper first.

In: a project as read, the thickness of card or felt in mm. Out: the same with every piece as thick as that,
so that all that follows from thickness is drafted for it. Nothing else changes: not the material, whose ease
and holes the trial is to show.
"""

from __future__ import annotations

from msgspec.structs import replace

from handkit.read.project import Piece, Project


def of_stock(project: Project, thickness: float) -> Project:
    """The project for a trial in stock of this thickness; of what is skived, only what is thinner then."""
    return replace(
        project, pieces=tuple(_piece(piece, thickness) for piece in project.pieces), trial=thickness
    )


def _piece(piece: Piece, thickness: float) -> Piece:
    skives = tuple(skive for skive in piece.skives if skive.to < thickness)
    return replace(piece, thickness=thickness, skives=skives)
