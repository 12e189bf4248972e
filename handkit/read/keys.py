"""Keys: every key of the project file in one table.

The same table checks the file, says in an error what is allowed, and writes the reference (see
`reference.py`). A new key is added here first.

Words: a *section* is a kind of table in the file, such as [[piece]]; a *kind* says what a key's
value looks like, with its range where RANGE stands; `least` and `most` are mm for lengths,
degrees for angles. `few` and `many` count the entries of a list.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType

from handkit.paper import ALLOWED as PAPERS_ALLOWED
from handkit.read.project import Material, OpeningKind, Punching, Side, Spacing
from handkit.read.shown import quoted, words
from handkit.units import LENGTH_UNITS

FORMAT = 1
MOST_LENGTH = 10_000.0  # 10 m: longer than any hide, strap or sheet of paper
LEAST_PITCH = 1.0


class Kind(Enum):
    """What a value looks like; the text is what an error allows."""

    FORMAT = "1"
    TEXT = "a line of text, at most MANY characters"
    NAME = "a name, at most MANY characters, without : or #"
    CHOICE = "CHOICES"
    FLAG = "true or false"
    COUNT = "a whole number RANGE"
    PERCENT = "a number RANGE"
    ANGLE = "degrees, a number RANGE"
    LENGTH = "a length RANGE"
    THICKNESS = "a thickness RANGE"
    SIZE = "[width, height], each a length RANGE"
    SLOT = "[length, width], each a length RANGE"
    POINT = "a point [x, y], each a length RANGE"
    POINTS = "a list of FEW to MANY points [x, y]"
    CORNERS = "a list of FEW to MANY points [x, y], one for each corner in order"
    ROUND = "a length RANGE, or a table by letter, { A = 12, B = 12 }"
    ARC = 'a table by edge, { "B-C" = 12 }, each a length RANGE'
    LINES = "a table by name, { divider = [[x, y], [x, y]] }"
    TRIM = 'a table by edges, { "A-B-C" = 2 }, each a length RANGE'
    SKIVE = 'a table by edges, { "A-B" = { width = 12, to = 1 } }'
    HOLE = "{ round = 1.6 } or { slit = 2.5, slant = 45 }"
    RUN = '"piece: A-B-C", "piece: line" or "piece"'
    RUNS = 'a list of FEW to MANY runs, each "piece: A-B-C", "piece: line", "piece" or { run = "…" }'
    MATCH = 'a list of points, each a list with a letter, a point [x, y] or "" for every run'
    NAMES = "a list of FEW to MANY names"
    PIECE = "the name of a piece"
    MATE = "the name of a snap"
    ROW = "[count, dx, dy], a whole number RANGE and two lengths"
    PLACES = "a table by piece, { front = [[x, y], [x, y]] }"
    PAPER = PAPERS_ALLOWED
    FONT = "a .ttf file in the project's folder"
    TABLE = "a table, HEADER"
    TABLES = "tables, HEADER, at most MANY"


@dataclass(frozen=True, slots=True)
class Key:
    """One key: how its value looks, what it is when left out, and what it is for.

    `default` None: it may be left out and then means nothing (`unless` says what then), unless it
    is `required`. Default lengths are mm whatever the file's unit.
    """

    name: str
    kind: Kind
    why: str
    default: str | float | bool | None = None
    unless: str = ""
    required: bool = False
    least: float = 0.0
    most: float = 0.0
    few: int = 0
    many: int = 200
    choices: tuple[str, ...] = ()
    header: str = ""

    @property
    def allowed(self) -> str:
        """What an error says is allowed.

        >>> SECTIONS["stitching"].keys["pitch"].allowed
        'a length from 1 to 50 mm'
        >>> SECTIONS["piece"].keys["mark"].allowed
        '"grain" or "flesh"'
        """
        unit = " mm" if _holds_lengths(self.kind) else ""
        return (
            self.kind.value.replace("RANGE", f"from {self.least:g} to {self.most:g}{unit}")
            .replace("FEW", str(self.few))
            .replace("MANY", str(self.many))
            .replace("CHOICES", words(quoted(choice) for choice in self.choices))
            .replace("HEADER", self.header)
        )

    def of_one(self, kind: Kind) -> Key:
        """The rule of one value of several that this key holds.

        >>> SECTIONS["piece"].keys["round"].of_one(Kind.LENGTH).allowed
        'a length from 0.1 to 10000 mm'
        """
        return dataclasses.replace(self, kind=kind)


@dataclass(frozen=True, slots=True)
class Section:
    """A kind of table: its header in the file, and its keys by name."""

    name: str
    header: str
    why: str
    keys: MappingProxyType[str, Key]


def _holds_lengths(kind: Kind) -> bool:
    return kind not in (Kind.COUNT, Kind.PERCENT, Kind.ANGLE, Kind.ROW)


def _section(name: str, header: str, why: str, *keys: Key) -> Section:
    return Section(name, header, why, MappingProxyType({key.name: key for key in keys}))


def _length(name: str, least: float, most: float, why: str, default: float | None = None) -> Key:
    return Key(name, Kind.LENGTH, why, default, least=least, most=most)


def _count(name: str, least: int, most: int, why: str, default: int | None = None) -> Key:
    return Key(name, Kind.COUNT, why, default, least=least, most=most)


def _text(name: str, why: str, default: str | None = "", *, unless: str = "") -> Key:
    return Key(name, Kind.TEXT, why, default, unless=unless)


def _name(why: str) -> Key:
    return Key("name", Kind.NAME, why, required=True, many=60)


def _flag(name: str, why: str) -> Key:
    return Key(name, Kind.FLAG, why, default=False)


def _choice(name: str, choices: type[Enum], why: str, default: str | None, *, unless: str = "") -> Key:
    listed = tuple(str(choice.value) for choice in choices)
    return Key(name, Kind.CHOICE, why, default, unless=unless, choices=listed)


def _angle(name: str, why: str, default: float) -> Key:
    return Key(name, Kind.ANGLE, why, default, least=-360, most=360)


def _point(name: str, why: str) -> Key:
    return Key(name, Kind.POINT, why, least=-MOST_LENGTH, most=MOST_LENGTH)


def _points(name: str, kind: Kind, why: str, *, few: int, many: int) -> Key:
    return Key(name, kind, why, required=few == 1, least=-MOST_LENGTH, most=MOST_LENGTH, few=few, many=many)


def _table(name: str, header: str, why: str) -> Key:
    return Key(name, Kind.TABLE, why, header=header)


def _tables(name: str, many: int, why: str, *, required: bool = False) -> Key:
    return Key(name, Kind.TABLES, why, header=f"[[{name}]]", many=many, required=required)


_TOP = _section(
    "project",
    "at the top",
    "What holds for the whole file.",
    Key("format", Kind.FORMAT, "which keys the file uses", required=True),
    _text("title", "stands on every sheet", None, unless="the file's name"),
    Key("unit", Kind.CHOICE, "of plain numbers that are lengths", "mm", choices=tuple(LENGTH_UNITS)),
    _table("material", "[material]", "of every piece that says nothing else"),
    _table("stitching", "[stitching]", "of every seam that says nothing else"),
    _table("page", "[page]", "the paper"),
    _table("make", "[make]", "how many to make"),
    _tables("piece", 200, "one part to cut", required=True),
    _tables("seam", 300, "layers stitched together"),
    _tables("opening", 300, "holes that are not stitch holes"),
)

_THICKNESS = Key(
    "thickness", Kind.THICKNESS, "of the leather, felt or canvas; text may be in ounces", least=0.1, most=30
)
_KIND = "decides how much ease a seam takes up"

_MATERIAL = _section(
    "material",
    "[material]",
    "Of every piece that says nothing else.",
    _THICKNESS,
    _choice("kind", Material, _KIND, Material.FIRM_LEATHER.value),
    Key("waste", Kind.PERCENT, "percent of the hide that ends up as scraps", 25.0, least=0, most=90),
)

_STITCHING_KEYS = (
    _length("pitch", LEAST_PITCH, 50, "from hole to hole, straight across", 4.0),
    _length("inset", 0.5, 100, "the stitch line's distance in from the edge", 4.0),
    _length("thread", 0.1, 5, "the thread's diameter", 0.8),
    _choice("spacing", Spacing, "all steps alike, or exact pitch as an iron makes it", Spacing.EVEN.value),
    _choice(
        "punch", Punching, "each layer by its own ticks, or all through the face layer", Punching.APART.value
    ),
    Key("hole", Kind.HOLE, "how the awl, punch or iron makes it", unless="round, 2 × thread"),
    dataclasses.replace(_length("needle", 0.2, 5, "the needle's diameter"), unless="not checked"),
    _length("tail", 0, 2000, "thread left over at each end, for each needle", 180.0),
    dataclasses.replace(
        _count("back", 0, 20, "back stitches at the end"), unless="2; 3 at a pitch of 3 mm and finer"
    ),
    _count("start_back", 0, 20, "back stitches at the start", 0),
    _count("wrap_start", 0, 20, "turns of a strand round the edge at the start", 0),
    _count("wrap_end", 0, 20, "turns of a strand round the edge at the end", 0),
    _length("longest", 200, MOST_LENGTH, "longest thread a side that is sewn in one", 1500.0),
)

_STITCHING = _section(
    "stitching",
    "[stitching]",
    "Of every seam that says nothing else; each key may stand in a [[seam]] as well.",
    *_STITCHING_KEYS,
)

_PAGE = _section(
    "page",
    "[page]",
    "The paper the kit is printed on.",
    Key("paper", Kind.PAPER, "a sheet as it lies in the printer", "A4"),
    _length("edge", 0, 50, "nothing is printed nearer to the sheet's edge", 5.0),
    _length("margin", 0, 100, "where drawing begins", 10.0),
    _length("overlap", 4, 100, "of two sheets at a join", 10.0),
    Key("font", Kind.FONT, "for scripts that the shipped font lacks", unless="the shipped font"),
)

_MAKE = _section(
    "make", "[make]", "How many to make.", _count("copies", 1, 100, "multiplies the whole project", 1)
)

_PIECE = _section(
    "piece",
    "[[piece]]",
    "One part to cut. Exactly one of rectangle, points, circle and copy.",
    _name("of the piece, its own"),
    Key(
        "rectangle",
        Kind.SIZE,
        "A is the origin, B along x, then counter-clockwise",
        least=1,
        most=MOST_LENGTH,
    ),
    _points("points", Kind.CORNERS, "the corners A, B, C … in order, either way round", few=3, many=2000),
    _length("circle", 1, MOST_LENGTH, "its diameter; the centre is the origin, A at three o'clock"),
    Key("copy", Kind.PIECE, "takes the other's shape and all but its place"),
    _flag("mirrored", "of a copy: x to −x in its own frame; letters keep their corners"),
    Key("round", Kind.ROUND, "radius of rounded corners", unless="sharp", least=0.1, most=MOST_LENGTH),
    Key(
        "arc",
        Kind.ARC,
        "edges that are arcs: their sagitta, positive outward",
        unless="straight",
        least=-MOST_LENGTH,
        most=MOST_LENGTH,
    ),
    Key("lines", Kind.LINES, "named lines inside the piece, for seams", many=100),
    Key("folds", Kind.LINES, "named lines the piece is folded on", many=100),
    Key("trim", Kind.TRIM, "cut this much outside, stitch, then trim to the line", least=0.1, most=50),
    Key("skive", Kind.SKIVE, "edges thinned from `width` in, evenly, down to `to`"),
    Key(
        "thickness",
        Kind.THICKNESS,
        "of this piece",
        unless="as [material]",
        least=_THICKNESS.least,
        most=_THICKNESS.most,
    ),
    _choice("kind", Material, _KIND, None, unless="as [material]"),
    _count("quantity", 1, 500, "how many to cut, for pieces in no seam or opening with others", 1),
    _choice("mark", Side, "the side the template is laid on", Side.GRAIN.value),
    _angle("grain", "direction of the arrow along which the hide stretches least", 90.0),
    _text("note", "stands on the template"),
    Key("on", Kind.PIECE, "the piece it lies on", unless="none"),
    _point("at", "where its origin lies on that piece; default [0, 0]"),
    _angle("turn", "how far it is turned there, counter-clockwise", 0.0),
    _flag("turned_over", "x is mirrored before it is turned"),
    _flag("behind", "it lies under that piece"),
    Key("flat", Kind.FLAG, "whether it lies flat there", default=True),
    _flag("glued", "glued down all over before it is stitched"),
)

_SEAM = _section(
    "seam",
    "[[seam]]",
    "Layers stitched together, hole for hole, and any key of [stitching].",
    _name("of the seam, its own"),
    Key(
        "runs",
        Kind.RUNS,
        "the layers; one without letters takes the holes of a run before it",
        required=True,
        few=1,
        many=20,
    ),
    _flag("bowed", "the ease is meant"),
    Key("match", Kind.MATCH, "places that must meet, one for each run", many=100),
    Key("after", Kind.NAMES, "seams and openings to be done before", few=0, many=100),
    *_STITCHING_KEYS,
)

_OPENING = _section(
    "opening",
    "[[opening]]",
    "Holes that are not stitch holes, all of one kind and size.",
    _name("of the opening, its own"),
    Key(
        "kind",
        Kind.CHOICE,
        "what it is for",
        required=True,
        choices=tuple(kind.value for kind in OpeningKind),
    ),
    _length("hole", 0.5, 100, "its diameter; required of all but slots"),
    Key("slot", Kind.SLOT, "a slot's length and width; required of slots", least=0.5, most=500),
    _angle("turn", "direction of a slot's length", 0.0),
    dataclasses.replace(_length("cap", 1, 100, "diameter of what covers the hole"), unless="none"),
    Key("line", Kind.COUNT, "a snap's size in 1/40 inch, instead of cap", least=8, most=80),
    Key("through", Kind.NAMES, "the pieces it goes through", required=True, few=1, many=20),
    _points("at", Kind.POINTS, "places in the frame of the first piece", few=1, many=500),
    Key("row", Kind.ROW, "repeats every place of `at`", least=1, most=200),
    Key("places", Kind.PLACES, "the same places on pieces that do not lie flat on the first", many=500),
    Key("mate", Kind.MATE, "a snap's other half, which names this one; required of snaps"),
    _text("note", "stands in the plan"),
)

_HOLE = _section(
    "hole",
    "hole = { … }",
    "How a stitch hole is made: round, or a slit.",
    _length("round", 0.2, 10, "diameter of a punched hole"),
    _length("slit", 0.2, 10, "length of a slit"),
    Key("slant", Kind.ANGLE, "of the slit against the seam's line", 45.0, least=0, most=90),
)

_SKIVE = _section(
    "skived edge",
    'skive = { "A-B" = { … } }',
    "A thinned edge.",
    Key("width", Kind.LENGTH, "where thinning begins", required=True, least=0.5, most=200),
    Key("to", Kind.THICKNESS, "what is left at the edge", required=True, least=0, most=30),
)

_RUN = _section(
    "run",
    "runs = [{ … }]",
    "A run with settings of its own.",
    Key("run", Kind.RUN, "the run, as it would stand alone", required=True),
    _length("from_start", -1000, MOST_LENGTH, "shortens the run's start; negative prolongs it", 0.0),
    _length("from_end", -1000, MOST_LENGTH, "shortens the run's end; negative prolongs it", 0.0),
    dataclasses.replace(_length("inset", 0.5, 100, "of this run alone"), unless="as the seam"),
)

SECTIONS: MappingProxyType[str, Section] = MappingProxyType(
    {
        section.name: section
        for section in (
            _TOP,
            _MATERIAL,
            _STITCHING,
            _PAGE,
            _MAKE,
            _PIECE,
            _SEAM,
            _OPENING,
            _HOLE,
            _SKIVE,
            _RUN,
        )
    }
)
STITCHING_KEYS: tuple[str, ...] = tuple(key.name for key in _STITCHING_KEYS)


def sections_with(key: str) -> tuple[Section, ...]:
    """The sections that know a key, in the order of the reference.

    >>> [section.header for section in sections_with("overlap")]
    ['[page]']
    """
    return tuple(section for section in SECTIONS.values() if key in section.keys)
