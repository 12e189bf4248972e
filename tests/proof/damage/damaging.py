"""Damaging: the finished bytes of a kit, taken apart, changed and written again as a sound PDF file.

In: bytes of a kit. Out: bytes of another file that a strict reader opens. pypdf takes objects apart and
writes them; streams of content are cut into operators here. Nothing of handkit is imported: tags are the
plain names in the file, and a kit's pages are written in mm of the paper, so that a mark's operands are mm.

Words: an *operator* has its operands as they stand in the file, a text each; a *mark* is what stands between
a tag's BDC and its EMC; a *group* is what stands between q and Q at a page's first level, its clip included.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

from pypdf import PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    DecodedStreamObject,
    DictionaryObject,
    FloatObject,
    NameObject,
    StreamObject,
)

# a, b, c, d, e, f of ISO 32000-1, 8.3.3: x' = ax + cy + e, y' = bx + dy + f.
Matrix = tuple[float, float, float, float, float, float]

# A string, a hexadecimal one, a bracket, or whatever else stands between blanks.
_TOKEN = re.compile(
    r"\((?:\\.|[^\\()])*\)|<<|>>|<[0-9A-Fa-f]*>|[\[\]]|/[^\s/<>\[\]()]*|[^\s/<>\[\]()]+", re.DOTALL
)
_OPERATOR = re.compile(r"[A-Za-z'\"][A-Za-z0-9*]*\Z")
_PAIRS = {"m": 1, "l": 1, "c": 3, "v": 2, "y": 2}
PAINTING = frozenset("SsfFBb") | {"f*", "B*", "b*"}
PEN = frozenset("wdGRKJj")


@dataclass(frozen=True)
class Operator:
    """An operator after its operands, each as it stands in the file."""

    operands: tuple[str, ...]
    name: str

    def __str__(self) -> str:
        return " ".join((*self.operands, self.name))

    @property
    def numbers(self) -> tuple[float, ...]:
        return tuple(map(float, self.operands))

    def moved(self, matrix: Matrix) -> tuple[Operator, ...]:
        """Its points led through a matrix; a rectangle becomes the four lines it stands for."""
        if self.name in _PAIRS:
            flat = self.numbers
            points = (applied(matrix, point) for point in zip(flat[::2], flat[1::2], strict=True))
            return (op(self.name, *(value for point in points for value in point)),)
        if self.name == "Tm":
            return (op("Tm", *times(matrix, self.numbers)),)  # type: ignore[arg-type]
        if self.name == "re":
            x, y, wide, high = self.numbers
            corners = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
            first, *others = (applied(matrix, corner) for corner in corners)
            return (op("m", *first), *(op("l", *corner) for corner in others), op("h"))
        return (self,)


def op(name: str, *operands: float | str) -> Operator:
    """An operator; numbers get four decimals.

    >>> str(op("l", 1, 2.5)), str(op("gs", "/Faint"))
    ('1.0000 2.5000 l', '/Faint gs')
    """
    return Operator(tuple(o if isinstance(o, str) else f"{o:.4f}" for o in operands), name)


def operators(text: str) -> list[Operator]:
    """All operators of a text.

    >>> [str(each) for each in operators("/hkHole <</Piece (a \\\\(b)/Join [1 2]>> BDC 1 2 m EMC")]
    ['/hkHole << /Piece (a \\\\(b) /Join [ 1 2 ] >> BDC', '1 2 m', 'EMC']
    """
    found: list[Operator] = []
    operands: list[str] = []
    for token in _TOKEN.findall(text):
        if _OPERATOR.match(token):
            found.append(Operator(tuple(operands), token))
            operands = []
        else:
            operands.append(token)
    assert not operands, operands
    return found


@dataclass(frozen=True)
class Mark:
    """A mark of a page: its place among the page's operators, first and last, and what its tag says."""

    page: int  # from 1
    first: int
    last: int
    tag: str
    properties: tuple[tuple[str, str], ...]

    def says(self, name: str) -> str:
        """A property as a reader knows it: a text without its brackets; "" where there is none."""
        return _plain(dict(self.properties).get(name, ""))

    @property
    def window(self) -> tuple[str, str, str]:
        """Piece, window, and which drawing of the piece."""
        return self.says("Piece"), self.says("Window"), self.says("Copy") or "1"


class Page:
    """One page: its operators, and what of it a row of the table changes."""

    def __init__(self, number: int, page: Any) -> None:
        self.number, self.page = number, page
        self.operators = operators(page.get_contents().get_data().decode("latin-1"))
        self.was = list(self.operators)

    @property
    def marks(self) -> list[Mark]:
        """All marks in order; none stands in another."""
        found: list[Mark] = []
        begun: int | None = None
        for place, each in enumerate(self.operators):
            if each.name == "BDC":
                begun = place
            elif each.name == "EMC" and begun is not None:
                tag, *properties = self.operators[begun].operands
                found.append(Mark(self.number, begun, place, tag[1:], _properties(properties)))
                begun = None
        return found

    def body(self, mark: Mark) -> list[Operator]:
        """What stands in a mark."""
        return self.operators[mark.first + 1 : mark.last]

    def group(self, mark: Mark) -> tuple[int, int]:
        """The places of the q and the Q round a mark."""
        depth, first = 0, 0
        for place, each in enumerate(self.operators):
            if each.name == "q":
                depth += 1
                first = place if depth == 2 else first
            elif each.name == "Q":
                depth -= 1
                if depth == 1 and place > mark.first:
                    return first, place
        raise AssertionError("a mark outside all groups")

    def put(self, mark: Mark, body: Sequence[Operator], *, tag: Operator | None = None) -> None:
        """Other operators in a mark's place; places of later marks are no longer true."""
        head = tag or self.operators[mark.first]
        self.operators[mark.first : mark.last + 1] = [head, *body, op("EMC")]

    def end(self, *added: Operator) -> None:
        """Operators painted last, in mm of the paper."""
        self.operators[-1:-1] = added

    def begin(self, *added: Operator) -> None:
        """Operators painted first, in mm of the paper."""
        at = next(place for place, each in enumerate(self.operators) if each.name == "cm") + 1
        self.operators[at:at] = added

    @property
    def changed(self) -> bool:
        return self.operators != self.was

    @property
    def content(self) -> str:
        """As it will stand in the file."""
        return "\n".join(map(str, self.operators))

    @property
    def resources(self) -> Any:
        return self.page["/Resources"].get_object()

    def resource(self, kind: str, name: str, value: Any) -> None:
        """A resource of this page alone."""
        own = DictionaryObject(self.resources)
        own[NameObject(kind)] = DictionaryObject(own.get(kind, DictionaryObject()).get_object())
        own[NameObject(kind)][NameObject(name)] = value
        self.page[NameObject("/Resources")] = own

    @property
    def size(self) -> tuple[float, float]:
        """Across and down, in mm."""
        return tuple(float(side) * 25.4 / 72 for side in self.page.mediabox[2:])  # type: ignore[return-value]


class KitCopy:
    """A copy of a kit's file, to be changed."""

    def __init__(self, data: bytes) -> None:
        self.writer = PdfWriter(clone_from=PdfReader(BytesIO(data)))
        self._pages: dict[int, Page] = {}
        self.after: list[Callable[[bytes], bytes]] = []  # what is done to the finished file

    @property
    def catalog(self) -> Any:
        return self.writer.root_object

    @property
    def page_count(self) -> int:
        return len(self.writer.pages)

    def page(self, number: int) -> Page:
        """A page by its number, from 1."""
        if number not in self._pages:
            self._pages[number] = Page(number, self.writer.pages[number - 1])
        return self._pages[number]

    @property
    def pages(self) -> list[Page]:
        return [self.page(number) for number in range(1, self.page_count + 1)]

    def marks(self, *tags: str) -> list[Mark]:
        """All marks with one of these tags, page by page."""
        return [mark for page in self.pages for mark in page.marks if mark.tag in tags]

    @property
    def sheets(self) -> list[Page]:
        """The template sheets: the pages with outlines."""
        return [page for page in self.pages if any(mark.tag == "hkOutline" for mark in page.marks)]

    def add(self, value: Any) -> Any:
        """A new object, as a reference."""
        return self.writer._add_object(value)  # pypdf has no public name for it

    @property
    def attached(self) -> ArrayObject:
        """The row of attached files: names and specifications by turns."""
        files = self.catalog["/Names"].get_object()["/EmbeddedFiles"].get_object()
        return files["/Names"].get_object()

    @property
    def manifest(self) -> dict[str, Any]:
        """What the kit says that it shows, as it is attached."""
        return json.loads(self._manifest_file["/EF"]["/F"].get_object().get_data())

    def put_manifest(self, said: dict[str, Any] | bytes) -> None:
        """Another one in its place; bytes as they are."""
        data = said if isinstance(said, bytes) else json.dumps(said, ensure_ascii=False).encode()
        made = stream(data, Type=NameObject("/EmbeddedFile"))
        self._manifest_file["/EF"].get_object()[NameObject("/F")] = self.add(made)

    @property
    def _manifest_file(self) -> Any:
        return self.attached[1].get_object()

    def written(self) -> bytes:
        """The file."""
        for page in self._pages.values():
            if page.changed:
                page.page[NameObject("/Contents")] = self.add(stream(page.content))
        out = BytesIO()
        self.writer.write(out)
        data = out.getvalue()
        for change in self.after:
            data = change(data)
        return data


def stream(content: str | bytes, **entries: Any) -> StreamObject:
    """A deflated stream with these entries."""
    made = DecodedStreamObject()
    made.set_data(content.encode("latin-1") if isinstance(content, str) else content)
    packed = made.flate_encode()
    packed.update({NameObject(f"/{name}"): value for name, value in entries.items()})
    return packed


def rectangle(*sides: float) -> ArrayObject:
    """Numbers as an array."""
    return ArrayObject(map(FloatObject, sides))


def applied(matrix: Matrix, point: tuple[float, float]) -> tuple[float, float]:
    a, b, c, d, e, f = matrix
    x, y = point
    return (a * x + c * y + e, b * x + d * y + f)


def times(outer: Matrix, inner: Matrix) -> Matrix:
    """First the inner, then the outer."""
    a, b, c, d, e, f = inner
    (aa, bb), (cc, dd) = applied((*outer[:4], 0, 0), (a, b)), applied((*outer[:4], 0, 0), (c, d))
    return (aa, bb, cc, dd, *applied(outer, (e, f)))


def about(point: tuple[float, float], a: float, b: float, c: float, d: float) -> Matrix:
    """The matrix that leaves a point where it is."""
    x, y = point
    return (a, b, c, d, x - a * x - c * y, y - b * x - d * y)


def points(body: Iterable[Operator]) -> list[tuple[float, float]]:
    """All points that the operators of paths name, handles too."""
    found: list[tuple[float, float]] = []
    for each in body:
        if each.name == "re":
            x, y, wide, high = each.numbers
            found += [(x, y), (x + wide, y + high)]
        elif each.name in _PAIRS:
            found += zip(each.numbers[::2], each.numbers[1::2], strict=True)
        elif each.name == "Tm":
            found.append((each.numbers[4], each.numbers[5]))
    return found


def middle(body: Iterable[Operator]) -> tuple[float, float]:
    """The middle of the bounds of a path's points."""
    xs, ys = zip(*points(body), strict=True)
    return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)


def paths(body: Sequence[Operator]) -> list[list[Operator]]:
    """The body cut after each operator that paints."""
    cut: list[list[Operator]] = [[]]
    for each in body:
        cut[-1].append(each)
        if each.name in PAINTING or each.name == "ET":
            cut.append([])
    return [part for part in cut if part]


def _properties(tokens: Sequence[str]) -> tuple[tuple[str, str], ...]:
    inner = tokens[1:-1]
    found: list[tuple[str, str]] = []
    k = 0
    while k < len(inner):
        name, end = inner[k][1:], k + 2
        if inner[k + 1] == "[":
            end = inner.index("]", k) + 1
        found.append((name, " ".join(inner[k + 1 : end])))
        k = end
    return tuple(found)


def _plain(text: str) -> str:
    if text.startswith("("):
        return re.sub(r"\\(.)", r"\1", text[1:-1])
    if text.startswith("<FEFF"):
        return bytes.fromhex(text[5:-1]).decode("utf-16-be")
    return text
