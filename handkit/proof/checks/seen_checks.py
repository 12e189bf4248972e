"""Seen checks: that all marks of templates are seen, and that nothing is drawn that says not what it is.

In: what the pages draw; the kit's own list, where there is one. Out: checks `seen` and `loose`.

Of what is no template's (plans, pictures) only the look of the words is judged: pictures paint over and
cut off on purpose. A piece of several windows is cut off at each window's rim: with a list a mark must be
seen wherever its window shows it; without one it isn't judged where a clip cuts it off.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

import msgspec

from handkit.counting import OnProgress, counted, no_progress
from handkit.geometry.affine import Affine, Point
from handkit.ink import OF_PAGES, PENS, Tag
from handkit.manifest.listed import ListedPage
from handkit.messages.placeholders import Phrase
from handkit.proof.audit.audit import Audited
from handkit.proof.audit.expected import MarkName, name_of, places
from handkit.proof.checks.checking import check, there, together
from handkit.proof.checks.visible import Visibility, badly_lettered, looks_of, visibility
from handkit.proof.content.marks import ANNOTATION, MeasuredMark, PageDrawing
from handkit.proof.content.paths import PaintedArea, Subpath, middle
from handkit.proof.proof import Check
from handkit.wording.mark_names import MARK_NAMES
from handkit.wording.quoting import quoted

# What is drawn whole, whichever window it belongs to; everything else ends at its rim.
WHOLE = frozenset(
    (*OF_PAGES, Tag.HOLE, Tag.MARK, Tag.BREAK, Tag.LABEL, Tag.GRAIN),
)

# What lies on a piece is drawn inside of it alone, too.
INSIDE_OF_PIECES = frozenset((Tag.ONTOP, Tag.ITEM))

# Piece, window and copy to what of the page the window shows.
Rims = Mapping[tuple[str, int, int], PaintedArea]

NOT_HELD = Audited()


def seen_checks(
    drawings: Sequence[PageDrawing],
    held: Audited = NOT_HELD,
    *,
    size: int = 0,
    on_progress: OnProgress = no_progress,
) -> tuple[Check, ...]:
    """All of them, page by page, of a file that has so many bytes; nothing of what is no kit. Of what a file
    that is `held` to its list has off as a whole nothing more is told, nor, where it lacks fonts, of words
    without one. Raises ProofError."""
    if not any(drawing.marks for drawing in drawings):
        return ()  # no kit, which is told
    looks, count = looks_of(size), 0
    unseen: list[Check] = []
    loose: list[Check] = []
    shown = counted(drawings, on_progress, "measuring: what is seen of page")
    for number, drawing in enumerate(shown):
        seen, rims = visibility(drawing, looks), _rims(held.pages.get(number))
        count += sum(_is_audited(mark) for mark in drawing.marks)
        if (number, MarkName("")) not in held.off:
            marks = [mark for mark in drawing.marks if (number, MarkName("", *_window(mark))) not in held.off]
            unseen.extend(_unseen(map(_lettered, marks) if held.fontless else marks, seen, rims))
        loose.extend(_loose(drawing))
    return (
        *together(check("seen", True, marks=count), unseen),
        *together(check("loose", True, pages=len(drawings)), loose),
    )


def _lettered(mark: MeasuredMark) -> MeasuredMark:
    """A mark without its words that have no font."""
    return msgspec.structs.replace(mark, words=tuple(words for words in mark.words if words.lettered))


def _unseen(marks: Iterable[MeasuredMark], seen: Visibility, rims: Rims) -> Iterator[Check]:
    """One check for all marks of a kind that aren't seen on a page: the first is named, the rest counted."""
    alike: dict[Tag, list[tuple[MeasuredMark, Phrase]]] = {}
    for mark in marks:
        reason = _why_unseen(mark, seen, rims)
        if reason:
            alike.setdefault(mark.tag, []).append((mark, reason))
    for tag, ((first, reason), *others) in alike.items():
        name, more = MARK_NAMES.get(tag, "text"), _more(others).rstrip(",")
        where = Phrase("{of}{said}{more}", {"of": _of(first), "said": _said(first), "more": more})
        yield check("seen/mark", page=first.page, mark=name, where=where, reason=reason)


def _why_unseen(mark: MeasuredMark, seen: Visibility, rims: Rims) -> Phrase | None:
    """Why a mark isn't seen whole; None where it is."""
    if not _is_audited(mark):
        return next((reason for words in mark.words if (reason := badly_lettered(words))), None)
    if mark.tag in WHOLE:
        return seen.unseen_mark(mark)
    rim = None if mark.tag in INSIDE_OF_PIECES else rims.get(_window(mark))
    return seen.unseen_mark(mark, within=rim or PaintedArea(()))


def _of(mark: MeasuredMark) -> str:
    """Whose it is."""
    piece = mark.text("Piece")
    return f" of {quoted(piece)}" if piece else ""


def _said(mark: MeasuredMark) -> Phrase:
    """Which of all its kind it is, as its tag says, behind a comma."""
    said = tuple(places(msgspec.structs.replace(name_of(mark), piece=""))) if mark.tag in MARK_NAMES else ()
    return Phrase(", {said}", {"said": said}) if said else Phrase("")


def _is_audited(mark: MeasuredMark) -> bool:
    """Whether it is a template's: pictures of the article have openings and crosses, too."""
    return mark.tag in PENS and (mark.tag in OF_PAGES or mark.count("Window") is not None)


def _loose(drawing: PageDrawing) -> Iterator[Check]:
    """One check for all paths of a page that are no mark, one for all words; each picture by itself."""
    if drawing.loose:
        first, *others = drawing.loose
        at, what = there(first.subpaths[0].points[0]), f"a line or an area{_more(others)}"
        yield check("loose/ink", page=drawing.number, what=what, at=at)
    if drawing.loose_words:
        words, *rest = drawing.loose_words
        what = f"{quoted(words.text)}{_more(rest)}"
        yield check("loose/ink", page=drawing.number, what=what, at=there(words.at))
    for picture in drawing.pictures:
        if picture.what != ANNOTATION:  # told with what the page carries
            at = there(middle(picture.area.subpaths[0].points)) if picture.area else Phrase("")
            yield check("loose/picture", page=drawing.number, what=picture.what, at=at)


def _more(others: Sequence[object]) -> str:
    return f", and {len(others)} more," if others else ""


def _rims(page: ListedPage | None) -> Rims:
    """What each window of a page shows, on the page."""
    if page is None:
        return {}
    return {
        (window.piece, window.number, window.copy): _area(
            Affine(*window.placed).apply_all(list(zip(window.rim[::2], window.rim[1::2], strict=False)))
        )
        for window in page.windows
    }


def _area(ring: Sequence[Point]) -> PaintedArea:
    sides = tuple(zip(ring, (*ring[1:], ring[0]), strict=True)) if ring else ()
    return PaintedArea((Subpath(sides, closed=True),) if sides else ())


def _window(mark: MeasuredMark) -> tuple[str, int, int]:
    return mark.text("Piece") or "", mark.count("Window") or 0, mark.count("Copy") or 1
