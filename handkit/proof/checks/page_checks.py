"""Page checks: that the file asks for no scaling, and that its pages are true sheets of paper.

In: the document; the paper that the kit was made for, where its list says so. Out: checks `print-scaling`,
`paper`, `same-paper`, `boxes`, `user-unit`, `rotate`.

Sources: print scaling: ISO 32000-1, Table 150, viewer preference PrintScaling, whose default leaves
the choice to the viewer. User unit: Table 30; other values than 1 are ignored by some readers.
Paper: `paper.py`.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.messages.placeholders import Phrase
from handkit.messages.proving import ANY_PAPER, PAPER, PAPER_SIZE
from handkit.paper import LEAST_SIDE, MOST_SIDE, PAPERS, paper_of_size
from handkit.proof.checks.checking import WITHIN, check, together
from handkit.proof.content.document import Document, PdfPage
from handkit.proof.content.paths import Bounds
from handkit.proof.proof import Check
from handkit.units import MM_PER_INCH, PT_PER_INCH, PT_PER_MM

# A page this near to a known paper is meant to be it where its side is a whole number of units:
# 595 x 842 units is A4 rounded, 0.1 mm short.
NEARLY = 0.5
WHOLE = 1e-6


def page_checks(document: Document, listed: tuple[float, float] | None = None) -> tuple[Check, ...]:
    """All of them, the file's first; `listed` is the size of the kit's paper by its own list, mm."""
    pages = document.pages
    count = len(pages)
    first = _size(pages[0])
    papers = [_paper(page) for page in pages]
    paper = check("paper", True, **{**papers[0].values, "pages": count})
    return (
        _print_scaling(document),
        *together(paper, papers),
        *_same_paper(pages, listed if listed and all(one.passed for one in papers) else first),
        *_all_alike("boxes", [_boxes(page) for page in pages]),
        *_all_alike("user-unit", [_user_unit(page) for page in pages]),
        *_all_alike("rotate", [_rotate(page) for page in pages]),
    )


# By code the row of all pages that fail alike.
_ALL = {"boxes": "boxes/all", "user-unit": "user-unit/all", "rotate": "rotate/all"}


def _all_alike(code: str, each: Sequence[Check]) -> tuple[Check, ...]:
    """One check for all pages, where they pass, and where all fail alike."""
    told = [{key: value for key, value in one.values.items() if key != "page"} for one in each]
    if len(each) > 1 and not any(one.passed for one in each) and all(values == told[0] for values in told):
        return (check(_ALL[code], count=len(each), **told[0]),)
    return together(check(code, True, pages=len(each)), each)


def _print_scaling(document: Document) -> Check:
    found = document.print_scaling
    if not found:
        return check("print-scaling/not-said")
    return check("print-scaling", True) if found == "None" else check("print-scaling/other", scaling=found)


def _paper(page: PdfPage) -> Check:
    size = _size(page)
    name = paper_of_size(*size, within=WITHIN)
    rounded = "" if name else _rounded_from(page)
    text = Phrase(PAPER, {"name": name, "size": size}) if name else _size_text(size)
    if name or rounded:
        known = next(paper for paper in PAPERS if paper.name == (name or rounded))
        wanted = Phrase(PAPER, {"name": known.name, "size": (known.width, known.height)})
    else:
        wanted = Phrase(ANY_PAPER, {"least": LEAST_SIDE, "most": MOST_SIDE})
    fits = min(size) >= LEAST_SIDE - WITHIN and max(size) <= MOST_SIDE + WITHIN
    return check("paper/page", fits and not rounded, page=page.number, size=text, known=wanted)


def _rounded_from(page: PdfPage) -> str:
    """The known paper whose size was rounded to whole units to give this page's; "" where none was."""
    size = _size(page)
    name = paper_of_size(*size, within=NEARLY)
    if not name:
        return ""
    known = next(paper for paper in PAPERS if paper.name == name)
    left, bottom, right, top = page.box
    sides = zip(size, (known.width, known.height), (right - left, top - bottom), strict=True)
    off = (units for side, true, units in sides if abs(side - true) > WITHIN)
    return name if any(abs(units - round(units)) <= WHOLE for units in off) else ""


def _same_paper(pages: Sequence[PdfPage], wanted: tuple[float, float]) -> tuple[Check, ...]:
    """Whether all pages are of one size; where all are of another than that, it is told once."""
    sizes, first = [_size(page) for page in pages], _size_text(wanted)
    if not _as_large(sizes[0], wanted) and all(_as_large(size, sizes[0]) for size in sizes):
        return (check("same-paper/all", pages=len(pages), size=_size_text(sizes[0]), first=first),)
    each = [
        check("same-paper/page", _as_large(size, wanted), page=page, size=_size_text(size), first=first)
        for page, size in enumerate(sizes, start=1)
    ]
    return together(check("same-paper", True, pages=len(pages), first=first), each)


def _as_large(size: tuple[float, float], other: tuple[float, float]) -> bool:
    return all(abs(a - b) <= WITHIN for a, b in zip(size, other, strict=True))


def _boxes(page: PdfPage) -> Check:
    """Whether all boxes are the whole page: a program may print, or cut away, what any of them says."""
    boxes = dict(page.boxes)
    whole, seen = boxes["MediaBox"], boxes["CropBox"]
    off = [name for name, box in page.boxes if not _alike(box, whole)]
    named = [
        name for name in off if name == "CropBox" or not _alike(boxes[name], seen)
    ]  # it stands for others
    return check("boxes/page", not off, page=page.number, boxes=" and ".join(named))


def _alike(box: Bounds, other: Bounds) -> bool:
    within = WITHIN * PT_PER_MM
    return all(abs(a - b) <= within for a, b in zip(box, other, strict=True))


def _user_unit(page: PdfPage) -> Check:
    return check("user-unit/page", page.user_unit == 1, page=page.number, unit=page.user_unit)


def _rotate(page: PdfPage) -> Check:
    return check("rotate/page", page.rotate == 0, page=page.number, degrees=page.rotate)


def _size(page: PdfPage) -> tuple[float, float]:
    """Width and height as printed, in mm; unturned."""
    left, bottom, right, top = page.box
    unit = page.user_unit * MM_PER_INCH / PT_PER_INCH
    return (right - left) * unit, (top - bottom) * unit


def _size_text(size: tuple[float, float]) -> Phrase:
    return Phrase(PAPER_SIZE, {"size": size})
