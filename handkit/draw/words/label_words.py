"""Label words: what a template says of itself: in full, short, and in single words.

Every form says what a piece can't be cut rightly without: its name, which portion it is, how often it is
cut, how thick, on which side it is marked, and whether it is drawn mirrored. Work that the plan tells as
well (skives, folds, holes that come through another piece, the maker's note) goes first where room is short.

In: a view, the products. Out: `LabelWords`, lines with the most needed first.
"""

from __future__ import annotations

import msgspec

from handkit.draft.pattern import PatternPiece
from handkit.draw.model.fonts import LEAST_SIZE
from handkit.draw.model.lettering import TextLine
from handkit.draw.model.view import View
from handkit.draw.words.names import Codes, layer_code, punched_through
from handkit.punch.punched import Punched
from handkit.read.project import Side
from handkit.wording.quoting import words

NAME_SIZE = 5.0

# What a paper trial is cut from, whatever the piece itself is of.
TRIAL_STOCK = "card or felt, a trial"


class LabelWords(msgspec.Struct, frozen=True):
    """The lines of a label: all, of which the first `needed` are left out last; then shorter ones.
    `bare` is the name alone, with its portion first where it has several; `note` tells elsewhere on the
    sheet what a bare name leaves out."""

    lines: tuple[TextLine, ...]
    needed: int
    short: tuple[TextLine, ...]
    shortest: tuple[TextLine, ...]
    bare: tuple[TextLine, ...]
    note: TextLine


def label_words(view: View, punched: Punched, codes: Codes, *, taped: bool = True) -> LabelWords:
    """All that a label may say. A portion is `taped` that has a join; another ends at a break line."""
    piece, window = view.piece, view.window
    side, short_side, side_word = side_words(piece)
    parted = window.count > 1
    number = str(piece.quantity * punched.pattern.project.copies) if window.copies == 1 else "1"
    many = number if window.copies == 1 else f"1 ({window.copy} of {window.copies})"
    few = f"{number}×" if window.copies == 1 else f"{window.copy} of {window.copies}"
    units = punched.project.units
    cut = f"cut {many} · {units.thickness(piece.thickness)}"
    portion = f"portion {window.number} of {window.count}"
    name = piece.name
    lines = (
        TextLine(name, NAME_SIZE, bold=True),
        TextLine(f"{cut} {piece.material.value if punched.project.trial is None else TRIAL_STOCK}"),
        TextLine(side),
        *(TextLine(portion + (": tape, then cut" if taped else ""), bold=True),) * parted,
        *map(TextLine, _work(view, punched, codes)),
    )
    portion_line = (TextLine(portion, bold=True),) * parted
    bare = (f"{name}, {portion}", name) if parted else (name,)
    told = [cut, short_side, *(portion,) * parted]
    return LabelWords(
        lines,
        needed=3 + parted,
        short=(TextLine(name, LEAST_SIZE, bold=True), TextLine(cut), TextLine(short_side), *portion_line),
        shortest=(
            TextLine(name + f" {window.number}/{window.count}" * parted, bold=True),
            TextLine(f"{few} · {units.thickness(piece.thickness)}"),
            TextLine(side_word),
        ),
        bare=tuple(TextLine(text, bold=True) for text in bare),
        note=TextLine(f"{name}: {', '.join(told)}"),
    )


def side_words(piece: PatternPiece) -> tuple[str, str, str]:
    """How a template is laid on its material: in full, short, in a word or two; another side is loud."""
    side, shown = piece.side_words(piece.mark), piece.side_words(piece.shows)
    if piece.mark is Side.FLESH:
        word = side.removesuffix(" side")
        side = side.replace(word, word.upper())
    if not piece.template_mirrored:
        shows = f" (the {shown} shows)" if piece.shows is Side.FLESH else ""
        return f"lay on the {side}, print up{shows}", f"on {side}", side
    shows = f"; the {shown} shows" if piece.shows is Side.FLESH else ""
    mirrored = "(drawn mirrored)"
    return (
        f"lay on the {side}, print up (drawn mirrored{shows})",
        f"on {side} {mirrored}",
        f"{side} {mirrored}",
    )


def _work(view: View, punched: Punched, codes: Codes) -> list[str]:
    """What is done to the piece: skives, trims, holes that come through another piece; the maker's note."""
    piece, traits, units = view.piece, view.piece.traits, punched.project.units
    pierce = "punch" if traits.words.punched else "pierce"
    through: dict[str, list[str]] = {}
    for seam in punched.seams:
        for layer in seam.layers:
            if layer.piece == piece.name:
                for top in punched_through(seam, layer):
                    through.setdefault(top.piece, []).append(layer_code(codes, seam, layer))
    return [
        *(
            f"skive {units.text(skive.width)} wide, to {units.thickness(skive.to)} at the edge"
            for skive in piece.skives
            if view.shown(skive.path).operators
        ),
        *(
            f"fold {fold.name}: {how}"
            for fold in piece.folds
            if (how := piece.fold_words(fold)) and view.shown(fold.path).operators
        ),
        *("cut the wide line; trim to the dashed line when sewn",) * bool(piece.trims),
        *(f"arrow along the {traits.words.arrow}",) * (traits.grained and not traits.is_leather),
        *(each.told(piece.hem_side, units) for each in piece.works),
        *(f"mitre {words(piece.mitres, last='and')}",) * bool(piece.mitres),
        *(
            f"{words(corners, last='and')}: turn {over} over {first}"
            for (first, over), corners in piece.lapped_corners.items()
        ),
        *(f"{', '.join(names)}: {pierce} through the {face}" for face, names in through.items()),
        *(piece.note,) * bool(piece.note and view.window.number == 1),
    ]
