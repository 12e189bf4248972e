"""Placement: where each piece lies, in whose frame, and which of two is nearer the eye.

In: pieces as read (`on`, `at`, `turn`, `turned_over`, `behind`, `flat`). Out: a `Placement` for each.

Layers of all that stand on one another are counted in one row, pieces that do not lie flat
included: those behind below, the others above, in the order of the file outwards. What stands on
a piece that is turned over follows it to the other side:

    eye                                  level
     |    pocket    on front               2
     v    front     on back                1
          back                             0
          flap      on back, behind,      -1
                    turned over
          tab       on flap               -2
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from handkit.geometry.affine import Affine
from handkit.grouping import grouped
from handkit.read.project import Piece


class Placement(msgspec.Struct, frozen=True):
    """Where a piece lies. `base` is the lowest of the pieces it stands on, one on the other."""

    base: str
    root: str
    in_root: Affine  # own frame to the root's; a root's own is the root's, lies it flat or not
    in_base: Affine  # own frame to the base's, where what does not lie flat has its place in plan
    level: int
    depth: int
    turned: bool  # whether the base's eye sees its other side


def placements_of(pieces: Sequence[Piece]) -> dict[str, Placement]:
    """Where every piece lies, by name. Reading has seen to it that none stands on itself."""
    by_name = {piece.name: piece for piece in pieces}
    levels = _levels(pieces)
    return {piece.name: _placement(_chain(piece, by_name), levels[piece.name]) for piece in pieces}


def _chain(piece: Piece, by_name: Mapping[str, Piece]) -> tuple[Piece, ...]:
    """The piece, what it stands on, and so on down to one that stands on nothing."""
    chain = [piece]
    while (on := chain[-1].on) is not None:
        chain.append(by_name[on])
    return tuple(chain)


def _placement(chain: tuple[Piece, ...], level: int) -> Placement:
    in_root, root = Affine(), chain[0]
    for piece in chain:
        root = piece
        if piece.on is None or not piece.flat:
            break
        in_root = _on_next(piece) @ in_root
    in_base = Affine()
    for piece in chain[:-1]:
        in_base = _on_next(piece) @ in_base
    turned = sum(piece.turned_over for piece in chain) % 2 == 1
    return Placement(chain[-1].name, root.name, in_root, in_base, level, len(chain) - 1, turned)


def _on_next(piece: Piece) -> Affine:
    """From a piece's frame into that of the piece it lies on: turned over first, then turned."""
    over = Affine.mirror() if piece.turned_over else Affine()
    return Affine.shift(*piece.at) @ Affine.turn(piece.turn_degrees) @ over


def _levels(pieces: Sequence[Piece]) -> dict[str, int]:
    """Each piece's place in the row of its base's layers, the base's own being 0."""
    resting = grouped(pieces, by=lambda piece: piece.on)
    levels: dict[str, int] = {}
    for piece in pieces:
        if piece.on is None:
            row = _row(piece, resting)
            zero = row.index(piece.name)
            levels.update((name, k - zero) for k, name in enumerate(row))
    return levels


def _row(piece: Piece, resting: Mapping[str | None, list[Piece]]) -> list[str]:
    """All that stands on a piece and it itself, from the back to the face as its own frame sees it."""
    above: list[str] = []
    below: list[str] = []
    for other in resting.get(piece.name, []):
        row = _row(other, resting)
        if other.turned_over:
            row.reverse()
        if other.behind:
            below = [*row, *below]
        else:
            above.extend(row)
    return [*below, piece.name, *above]
