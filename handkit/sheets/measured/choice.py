"""Choice: which pieces are given by their measures, and what that would save.

In: the punched pattern, the page, the maker's words. Out: `MeasuredPiece`s, and findings.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence

from handkit.errors import refuse_errors
from handkit.findings import Finding, finding
from handkit.punch.punched import Punched
from handkit.sheets.laid import MeasuredPiece
from handkit.sheets.measured.measure import measure

# So many sheets less are worth a word.
WORTH_TELLING = 4


def measured_of(punched: Punched, others: Collection[str]) -> tuple[MeasuredPiece, ...]:
    """The pieces that the file asks for by name, and those of the `others` that it says nothing of and that
    are plain.

    Raises ProjectError where one that is asked for by name is not plain.
    """
    found: list[MeasuredPiece] = []
    refused: list[Finding] = []
    words = {piece.name: piece.measured for piece in punched.project.pieces}
    for piece in punched.pattern.pieces:
        word = words.get(piece.name)
        if word is False or (word is None and piece.name not in others):
            continue
        made = measure(punched, piece)
        if isinstance(made, MeasuredPiece):
            found.append(made)
        elif word:
            refused.append(made)
    refuse_errors(refused)
    return tuple(found)


def saving_notes(
    punched: Punched, windows: Mapping[str, int], sheets: int, saved_without: Callable[[Collection[str]], int]
) -> tuple[Finding, ...]:
    """A note where plain pieces of several `windows` would save some of all `sheets` as drawings of a page
    each.

    `saved_without` says how many sheets the others take less; it is asked, as pieces are measured, only where
    that can come to enough.
    """
    if sum(windows.values()) - len(windows) < WORTH_TELLING:
        return ()
    words = {piece.name: piece.measured for piece in punched.project.pieces}
    split = [
        piece for piece in punched.pattern.pieces if piece.name in windows and words.get(piece.name) is None
    ]
    if min(sheets, sum(windows[piece.name] for piece in split)) - 1 < WORTH_TELLING:
        return ()
    plain = [piece.name for piece in split if isinstance(measure(punched, piece), MeasuredPiece)]
    if min(sheets, sum(windows[name] for name in plain)) - len(plain) < WORTH_TELLING:
        return ()
    saved = saved_without(plain) - len(plain)
    return (_note(punched, plain, saved),) if saved >= WORTH_TELLING else ()


def _note(punched: Punched, plain: Sequence[str], saved: int) -> Finding:
    where = punched.project.page.source.at("measured")
    key = "could-be-measured" if len(plain) > 1 else "could-be-measured/one"
    return finding(key, where, pieces=plain, saved=saved)
