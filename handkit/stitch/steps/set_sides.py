"""Set sides: on which side of which piece hardware shows, in words for the bench.

In: the pattern, an opening. Out: words, "" where the file does not tell. What stands out most is on the
side away from the piece that all stands on, as the model of the article has it; a snap's half meets the other
once what is between them is folded on folds with an angle.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.draft.pattern import Pattern, PatternOpening, PatternPiece
from handkit.read.project import Side


def cap_side(pattern: Pattern, opening: PatternOpening) -> str:
    """Where a rivet's cap or an eyelet's rim goes: a sentence."""
    traits = opening.opening.traits
    if not traits.hardware or opening.opening.mate is not None or len(opening.by_pieces) != 1:
        return ""
    (names,) = opening.by_pieces
    pieces = [pattern.piece(name) for name in names]
    if len(set(names)) != len(names) or len({piece.base for piece in pieces}) != 1:
        return ""
    if any(piece.bends for piece in pieces):
        lying = [*_shut(pattern, opening)]
    else:
        lying = [_Shut(piece, piece.level, piece.up) for piece in pieces]
    behind = all(each.level < 0 for each in lying)
    outer = max(lying, key=lambda each: -each.level if behind else each.level)
    return f"{traits.cap_word.capitalize()} on {_of(outer.piece, outer.up.other if behind else outer.up)}."


def _of(piece: PatternPiece, side: Side) -> str:
    return f"the {piece.side_words(side)} of {piece.name}"


class _Shut(msgspec.Struct, frozen=True):
    """A piece where a half goes through it, once all is folded: its level and the side that is up."""

    piece: PatternPiece
    level: int
    up: Side


def side_met(pattern: Pattern, opening: PatternOpening) -> str:
    """Which side of what a snap's half is on meets the other: of that nearer the eye the under side."""
    if opening.opening.mate is None:
        return ""
    mate = next(each for each in pattern.openings if each.name == opening.opening.mate)
    own, other = ([*_shut(pattern, each)] for each in (opening, mate))
    if len({one.piece.base for one in (*own, *other)}) != 1 or not any(
        one.piece.bends for one in (*own, *other)
    ):
        return ""
    lowest, highest = (pick(own, key=lambda one: one.level) for pick in (min, max))
    if lowest.level > max(one.level for one in other):
        met, side = lowest.piece, lowest.up.other
    elif highest.level < min(one.level for one in other):
        met, side = highest.piece, highest.up
    else:
        return ""
    return _of(met, side)


def _shut(pattern: Pattern, opening: PatternOpening) -> Iterator[_Shut]:
    for place in opening.places:
        piece = pattern.piece(place.piece)
        panel = piece.sheet.panel_of([place.at]) if piece.bends else 0
        turned = piece.folded.turned is not (piece.bends != () and piece.panels[panel].turned)
        yield _Shut(piece, piece.folded.levels[panel], piece.shows.other if turned else piece.shows)
