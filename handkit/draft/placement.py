"""Placement: where each piece lies, in whose frame, and which of two is nearer the eye.

In: pieces as read (`on`, `at`, `turn`, `turned_over`, `behind`, `flat`). Out: a `Stand` for each.

Layers of all that stand on one another are counted in one row, pieces that do not lie flat
included: those behind below, the others above, in the order of the file outwards.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from handkit.findings import Finding, error, nearest
from handkit.geometry.affine import Affine
from handkit.read.project import Piece


@dataclass(frozen=True, slots=True)
class Stand:
    """Where a piece stands. `base` is the lowest of the pieces it stands on, one on the other."""

    base: str
    root: str
    placed: Affine | None  # into the root's frame; None where it does not lie flat
    level: int
    depth: int

    @property
    def in_root(self) -> Affine:
        """Own frame to the root's. A root's own frame is the root's, lies it flat or not."""
        return self.placed if self.placed is not None else Affine()


def stands_of(pieces: Sequence[Piece]) -> tuple[dict[str, Stand], tuple[Finding, ...]]:
    """The stand of every piece that stands on something that exists; and the findings."""
    by_name = {piece.name: piece for piece in pieces}
    findings = [finding for piece in pieces for finding in _piece_findings(piece, by_name)]
    chains = {piece.name: chain for piece in pieces if (chain := _chain(piece, by_name))}
    levels = _levels(pieces, chains)
    stands = {name: _stand(chain, levels[name]) for name, chain in chains.items()}
    return stands, tuple(findings)


def _chain(piece: Piece, by_name: Mapping[str, Piece]) -> tuple[Piece, ...]:
    """The piece, what it stands on, and so on down; empty where that leads nowhere or round."""
    chain = [piece]
    while (on := chain[-1].on) is not None:
        if on not in by_name or any(on == lower.name for lower in chain):
            return ()
        chain.append(by_name[on])
    return tuple(chain)


def _stand(chain: tuple[Piece, ...], level: int) -> Stand:
    placed, root = Affine(), chain[0]
    for piece in chain:
        root = piece
        if piece.on is None or not piece.flat:
            break
        placed = _on_next(piece) @ placed
    own = placed if chain[0].flat else None
    return Stand(chain[-1].name, root.name, own, level, len(chain) - 1)


def _on_next(piece: Piece) -> Affine:
    """From a piece's frame into that of the piece it lies on: turned over first, then turned."""
    over = Affine.mirror() if piece.turned_over else Affine()
    return Affine.shift(*piece.at) @ Affine.turn(piece.turn_degrees) @ over


def _levels(pieces: Sequence[Piece], chains: Mapping[str, tuple[Piece, ...]]) -> dict[str, int]:
    """Each piece's place in the row of its base's layers, the base's own being 0."""
    resting: dict[str, list[Piece]] = {}
    for piece in pieces:
        if piece.name in chains and piece.on is not None:
            resting.setdefault(piece.on, []).append(piece)
    levels: dict[str, int] = {}
    for piece in pieces:
        if piece.on is None:
            row = _row(piece, resting)
            zero = row.index(piece.name)
            levels.update((name, k - zero) for k, name in enumerate(row))
    return levels


def _row(piece: Piece, resting: Mapping[str, list[Piece]]) -> list[str]:
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


def _piece_findings(piece: Piece, by_name: Mapping[str, Piece]) -> list[Finding]:
    """What a piece stands on is missing, or is in the end the piece itself."""
    if piece.on is None:
        return []
    if piece.on not in by_name:
        near = nearest(piece.on, tuple(by_name))
        return [
            error(
                "unknown-piece",
                piece.source.at("on"),
                found=f'piece "{piece.on}"',
                allowed="the name of another piece",
                remedy=f'did you mean "{near}"?' if near else "name a piece of this file",
            )
        ]
    names = [piece.name]
    while (on := by_name[names[-1]].on) in by_name and on is not None:
        if on == piece.name:
            return [_stands_on_itself(piece, [*names, on])]
        if on in names:
            return []
        names.append(on)
    return []


def _stands_on_itself(piece: Piece, names: list[str]) -> Finding:
    return error(
        "stands-on-itself",
        piece.source.at("on"),
        found=" on ".join(f'"{name}"' for name in names),
        allowed="pieces that stand on one another and at last on one that lies on nothing",
        remedy='leave out one "on"',
    )
