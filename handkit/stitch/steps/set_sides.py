"""Set sides: on which side of which piece hardware shows, in words for the bench.

In: the pattern, an opening. Out: a sentence, "" where the file does not tell. What stands out most is on the
side away from the piece that all stands on, as the model of the article has it; a snap's half meets the other
once what is between them is folded on folds with an angle.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.draft.pattern import Pattern, PatternOpening, PatternPiece
from handkit.read.project import Side
from handkit.wording.quoting import quoted


def set_side(pattern: Pattern, opening: PatternOpening) -> str:
    """Where cap, rim or post go, or which side of a half meets the other."""
    traits = opening.opening.traits
    if not traits.hardware or len(opening.by_pieces) != 1:
        return ""
    (names,) = opening.by_pieces
    pieces = [pattern.piece(name) for name in names]
    if len(set(names)) != len(names) or len({piece.base for piece in pieces}) != 1:
        return ""
    if opening.opening.mate is not None:
        return _meeting(pattern, opening)
    outwards = sorted(pieces, key=lambda piece: piece.level)
    behind = all(piece.level < 0 for piece in pieces)
    inner, outer = (outwards[-1], outwards[0]) if behind else (outwards[0], outwards[-1])
    cap = f"{traits.cap_word} on {_of(outer, outer.up.other if behind else outer.up)}"
    if traits.post:
        return f"Post in from {_of(inner, inner.up if behind else inner.up.other)}, {cap}."
    return f"{cap[0].upper()}{cap[1:]}."


def _of(piece: PatternPiece, side: Side) -> str:
    return f"the {piece.side_words(side)} of {piece.name}"


class _Shut(msgspec.Struct, frozen=True):
    """A piece where a half goes through it, once all is folded: its level and the side that is up."""

    piece: PatternPiece
    level: int
    up: Side


def _meeting(pattern: Pattern, opening: PatternOpening) -> str:
    """Of a snap's half: the one that lies nearer the eye meets the other with its under side."""
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
    return f"What meets {quoted(mate.name)} goes on {_of(met, side)}."


def _shut(pattern: Pattern, opening: PatternOpening) -> Iterator[_Shut]:
    for place in opening.places:
        piece = pattern.piece(place.piece)
        panel = piece.sheet.panel_of([place.at]) if piece.bends else 0
        turned = piece.folded.turned is not (piece.bends != () and piece.panels[panel].turned)
        yield _Shut(piece, piece.folded.levels[panel], piece.shows.other if turned else piece.shows)
