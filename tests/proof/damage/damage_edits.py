"""Damage edits: what a row of the table does to a kit, put together from a choice of marks and a change.

In: a copy of a kit. Out: where the damage is, as the line that fails must name it. An edit that a kit gives
no occasion for raises NotHereError.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import cos, radians, sin

from damaging import PEN, KitCopy, Mark, Matrix, Operator, Page, about, middle, op, operators, paths, points


class NotHereError(Exception):
    """The kit has nothing that could be damaged in this way."""


@dataclass(frozen=True)
class Where:
    """What the failing line names: the page or, as it is a template sheet, its number; and these words."""

    page: int | None = None
    words: tuple[str, ...] = ()
    sheet: int | None = None


# What is told of as part of its page alone.
UNNAMED = ("hkLabel", "hkMap", "hkTestSquare", "hkScaleBar", "hkScaleBarTick")

Edit = Callable[[KitCopy], Where]
Chosen = Callable[[KitCopy], list[Mark]]
Change = Callable[[Page, Mark], None]
BodyChange = Callable[[list[Operator]], list[Operator]]


# Which marks


def one(*tags: str, holding: str = "") -> Chosen:
    """The middle one of all marks with these tags, on template sheets where any stand there; one with an
    operator of this name in it."""

    def chosen(kit: KitCopy) -> list[Mark]:
        found = [
            mark
            for mark in kit.marks(*tags)
            if not holding or any(each.name == holding for each in kit.page(mark.page).body(mark))
        ]
        sheets = {page.number for page in kit.sheets}
        found = [mark for mark in found if mark.page in sheets] or found
        return found[len(found) // 2 :][:1]

    return chosen


def every(*tags: str) -> Chosen:
    """All marks with these tags; of any tag where none is named."""

    def chosen(kit: KitCopy) -> list[Mark]:
        return [mark for page in kit.pages for mark in page.marks if not tags or mark.tag in tags]

    return chosen


def on_last_sheet(*tags: str) -> Chosen:
    """The middle one of all marks with these tags on the last sheet."""

    def chosen(kit: KitCopy) -> list[Mark]:
        found = [mark for mark in kit.sheets[-1].marks if mark.tag in tags]
        return found[len(found) // 2 :][:1]

    return chosen


def on_sheet(chosen: Chosen) -> Chosen:
    """Of these, those of the last sheet that has any."""

    def of_one(kit: KitCopy) -> list[Mark]:
        found = chosen(kit)
        sheets = [page.number for page in kit.sheets if any(mark.page == page.number for mark in found)]
        return [mark for mark in found if sheets and mark.page == sheets[-1]]

    return of_one


def of_window(kit: KitCopy, place: int = -1) -> list[Mark]:
    """All marks of one window of a sheet."""
    outlines = kit.marks("hkOutline")
    shown = list(dict.fromkeys((mark.page, mark.window) for mark in outlines))
    page, window = shown[place]
    return [mark for mark in kit.page(page).marks if mark.window == window]


# What becomes of them


def changed(chosen: Chosen, *changes: Change, names: tuple[str, ...] | None = None) -> Edit:
    """Each of the chosen marks changed in each way; `names` is what is told in place of the mark's own."""

    def edit(kit: KitCopy) -> Where:
        marks = chosen(kit)
        if not marks:
            raise NotHereError
        for mark in sorted(marks, key=lambda mark: (mark.page, mark.first), reverse=True):
            page = kit.page(mark.page)
            for change in changes:
                begun = next(each for each in page.marks if each.first == mark.first)
                change(page, begun)
        if names is not None:
            return Where(marks[0].page, names)
        if len(marks) == 1 and marks[0].tag not in UNNAMED:
            return Where(marks[0].page, names_of(marks[0]))
        return Where(marks[0].page)

    return edit


def both(first: Edit, *others: Edit) -> Edit:
    """One kind of damage, which is to be told, and others besides."""

    def edit(kit: KitCopy) -> Where:
        where = first(kit)
        for other in others:
            other(kit)
        return where

    return edit


def names_of(mark: Mark) -> tuple[str, ...]:
    """What a line that is about this mark must name."""
    said = [mark.says(name) for name in ("Piece", "Seam", "Opening")]
    return tuple(f'"{text}"' for text in said if text) + tuple(
        mark.says(name) for name in ("Number", "Mark") if mark.says(name)
    )


def pen_of(body: Iterable[Operator]) -> list[Operator]:
    """What of a mark sets the pen, which later marks go on with."""
    return [each for each in body if each.name in PEN]


def gone(page: Page, mark: Mark) -> None:
    """The mark left out."""
    page.operators[mark.first : mark.last + 1] = pen_of(page.body(mark))


def untagged(page: Page, mark: Mark) -> None:
    """Its ink without its tag."""
    page.operators[mark.first : mark.last + 1] = page.body(mark)


def only_first_marks(page: Page, mark: Mark) -> None:
    """Of the registration marks of a join the first alone is left."""
    if mark.says("Mark") != "1":
        gone(page, mark)


def renamed(tag: str) -> Change:
    """The same ink under another tag."""

    def change(page: Page, mark: Mark) -> None:
        head = page.operators[mark.first]
        page.put(mark, page.body(mark), tag=Operator((f"/{tag}", *head.operands[1:]), "BDC"))

    return change


def saying(name: str, value: str) -> Change:
    """Another property; `value` as it stands in a file, "+1" and the like added to the number there."""

    def change(page: Page, mark: Mark) -> None:
        said = dict(mark.properties)
        if name not in said:
            raise NotHereError
        said[name] = f"{float(said[name]) + float(value):g}" if value[0] in "+-" else value
        page.put(mark, page.body(mark), tag=_head(mark.tag, said))

    return change


def _head(tag: str, said: dict[str, str]) -> Operator:
    (head,) = operators(f"/{tag} <<{' '.join(f'/{name} {value}' for name, value in said.items())}>> BDC")
    return head


def again(matrix: Matrix = (1, 0, 0, 1, 0, 0), *, tagged: bool = True, **said: str) -> Change:
    """The mark once more after itself, led through a matrix."""

    def change(page: Page, mark: Mark) -> None:
        body = [one for each in page.body(mark) for one in each.moved(matrix)]
        head = _head(mark.tag, dict(mark.properties) | said)
        page.operators[mark.last + 1 : mark.last + 1] = [head, *body, op("EMC")] if tagged else body

    return change


def body(*changes: BodyChange) -> Change:
    """Its tag as it is, what stands in it changed."""

    def change(page: Page, mark: Mark) -> None:
        found = page.body(mark)
        for each in changes:
            found = each(found)
        page.put(mark, found)

    return change


# What becomes of what stands in a mark


def led(matrix: Callable[[tuple[float, float]], Matrix]) -> BodyChange:
    """Every point through a matrix, which is made about their middle."""

    def change(found: list[Operator]) -> list[Operator]:
        through = matrix(middle(found))
        return [one for each in found for one in each.moved(through)]

    return change


def shift(dx: float, dy: float = 0.0) -> BodyChange:
    """Moved, in mm."""
    return led(lambda _: (1, 0, 0, 1, dx, dy))


def scale(across: float, down: float | None = None) -> BodyChange:
    """Scaled about its middle."""
    return led(lambda at: about(at, across, 0, 0, across if down is None else down))


def turn(degrees: float) -> BodyChange:
    """Turned about its middle."""
    c, s = cos(radians(degrees)), sin(radians(degrees))
    return led(lambda at: about(at, c, s, -s, c))


def mirror(found: list[Operator]) -> list[Operator]:
    """Left and right exchanged."""
    return led(lambda at: about(at, -1, 0, 0, 1))(found)


def lopsided(kit: KitCopy) -> list[Mark]:
    """The last outline that isn't alike on both sides."""
    found = []
    for mark in kit.marks("hkOutline"):
        drawn = kit.page(mark.page).body(mark)
        here, there = (
            {(round(x, 1), round(y, 1)) for x, y in points(each)} for each in (drawn, mirror(drawn))
        )
        found += [mark] * (here != there)
    return found[-1:]


def nothing(found: list[Operator]) -> list[Operator]:
    """No ink."""
    return pen_of(found)


def only(part: BodyChange, chosen: Callable[[list[Operator]], bool], place: int = 0) -> BodyChange:
    """A change of one of the painted paths and texts alone: of those chosen, the one at this place."""

    def change(found: list[Operator]) -> list[Operator]:
        cut = paths(found)
        places = [k for k, path in enumerate(cut) if chosen(path)]
        if place >= len(places):
            raise NotHereError
        cut[places[place]] = part(cut[places[place]])
        return [each for path in cut for each in path]

    return change


def is_stroke(path: list[Operator]) -> bool:
    return path[-1].name == "S"


def is_dot(path: list[Operator]) -> bool:
    return path[-1].name == "f"


def is_text(path: list[Operator]) -> bool:
    return path[-1].name == "ET"


def without_segment(found: list[Operator]) -> list[Operator]:
    """One straight segment or curve, the middle one, becomes a gap: the path goes on behind it."""
    drawn = [k for k, each in enumerate(found) if each.name in ("l", "c")]
    if len(drawn) < 2:
        raise NotHereError
    k = drawn[len(drawn) // 2]
    return [*found[:k], op("m", *found[k].numbers[-2:]), *found[k + 1 :]]


def straight(found: list[Operator]) -> list[Operator]:
    """A path's first point and its last, and nothing between them."""
    drawn = [each for each in found if each.name in ("m", "l", "c")]
    first, last = drawn[0].numbers, drawn[-1].numbers[-2:]
    return [*pen_of(found), op("m", *first), op("l", *last), op("S")]


def corner_moved(by: float) -> BodyChange:
    """The end of one straight segment elsewhere."""

    def change(found: list[Operator]) -> list[Operator]:
        drawn = [k for k, each in enumerate(found) if each.name == "l"]
        if not drawn:
            raise NotHereError
        k = drawn[len(drawn) // 2]
        x, y = found[k].numbers
        return [*found[:k], op("l", x + by, y + by), *found[k + 1 :]]

    return change


def in_pen(*pen: Operator) -> BodyChange:
    """Drawn with another pen, and the pen that was set there left lying as it would have been."""
    names = {name for each in pen for name in _INSTEAD.get(each.name, {each.name})}

    def change(found: list[Operator]) -> list[Operator]:
        return [op("q"), *pen, *(each for each in found if each.name not in names), op("Q"), *pen_of(found)]

    return change


_STROKES, _FILLS = {"G", "RG", "K", "CS", "SCN"}, {"g", "rg", "k", "cs", "scn"}
_INSTEAD = {name: group for group in (_STROKES, _FILLS) for name in group}


def within(*before: Operator) -> BodyChange:
    """Drawn under these operators, which hold for this mark alone."""
    return lambda found: [op("q"), *before, *found, op("Q"), *pen_of(found)]


WHITE = in_pen(op("G", 1.0), op("g", 1.0))


def bounds(page: Page, marks: Sequence[Mark]) -> tuple[float, float, float, float]:
    """Left, bottom, right, top of what marks name."""
    xs, ys = zip(*(point for mark in marks for point in points(page.body(mark))), strict=True)
    return min(xs), min(ys), max(xs), max(ys)
