"""Keys: every key of the project file in one table.

The same table checks the file, says in an error what is allowed, and writes the reference (see
`reference.py`). A new key is added here first. The kinds of values stand in `rules.py`. In
[[part]] all kinds have their keys together; which kind has which stands in `part_kinds.py`.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.ink import LEAST_OVERLAP
from handkit.kinds.edged_tools import HANDLE_LONG, HANDLE_THICK
from handkit.kinds.fittings import FittingKind
from handkit.kinds.materials import Material
from handkit.kinds.openings import OpeningKind
from handkit.kinds.pages import DEFAULT_PAPER, MOST_TRIES, Drawn, Straights, Windows
from handkit.kinds.stitches import StitchKind
from handkit.read.project import Fibre, Hold, MarkKind, PartKind, Punching, Side, Spacing
from handkit.read.schema.rules import (
    MOST_LENGTH,
    Key,
    Kind,
    TableSchema,
    angle_key,
    choice_key,
    count_key,
    flag_key,
    length_key,
    name_key,
    point_key,
    points_key,
    schema,
    table_key,
    tables_key,
    text_key,
)
from handkit.read.values.lengths import UNIT_SYNONYMS
from handkit.units import LENGTH_UNITS
from handkit.wording.figures import METRIC
from handkit.wording.quoting import quoted, words

FORMAT = 1

# What a hem turned twice hides, 6 to 10 mm, and how thick a binding's tape is, where the file says nothing
# (common practice, no source).
TURN_IN = 8.0
TAPE = 0.5


def _thickness_key(unless: str) -> Key:
    why = "of the leather or cloth; text may be in ounces"
    return Key("thickness", Kind.THICKNESS, why, unless=unless, least=0.1, most=30)


# What makers call these by other names.
_MATERIALS = {
    **dict.fromkeys(("veg tan", "veg-tan", "vegtan", "vegetable tanned", "bridle leather"), "firm leather"),
    **dict.fromkeys(("chrome tan", "chrome-tan", "suede", "nappa", "nubuck"), "soft leather"),
    **dict.fromkeys(("cloth", "fabric", "cotton", "denim", "linen", "waxed canvas", "textile"), "canvas"),
    **dict.fromkeys(("wool", "wool felt"), "felt"),
    **dict.fromkeys(("web", "nylon", "tape", "belting"), "webbing"),
}
_PARTS = {
    **dict.fromkeys(("pocket", "sleeve", "slip pocket", "patch pocket"), "flat pocket"),
    **dict.fromkeys(("gusset pocket", "gusseted pocket", "box pocket", "bellows pocket"), "boxed pocket"),
    **dict.fromkeys(("card pockets", "card slots", "cards"), "stepped pockets"),
    **dict.fromkeys(("holder", "holders", "loops", "pen loops", "tool loops"), "holder row"),
    **dict.fromkeys(("scabbard", "knife sheath"), "sheath"),
    **dict.fromkeys(("tool roll", "roll-up"), "roll"),
    **dict.fromkeys(("cover", "book cover", "folder"), "fold cover"),
    **dict.fromkeys(("belt loop", "hanger"), "loop"),
    **dict.fromkeys(("belt", "collar"), "strap"),
    **dict.fromkeys(("lid", "closure"), "flap"),
}
_OPENINGS = {
    **dict.fromkeys(("grommet", "eye"), "eyelet"),
    **dict.fromkeys(("press stud", "popper", "snap fastener", "snaps"), "snap"),
    **dict.fromkeys(("stud", "button"), "button stud"),
    **dict.fromkeys(("slit", "strap slot"), "slot"),
    **dict.fromkeys(("round hole", "punch", "punched hole"), "hole"),
    **dict.fromkeys(("buckle hole", "belt hole", "tongue hole"), "tongue"),
}
_FITTINGS = {
    **dict.fromkeys(("zipper", "slide fastener"), "zip"),
    **dict.fromkeys(("d-ring", "d ring", "dee", "o-ring"), "ring"),
    **dict.fromkeys(("lace", "string", "drawstring"), "cord"),
    **dict.fromkeys(("strap loop", "belt keeper"), "keeper"),
}

_KIND = choice_key(
    "kind",
    Material,
    "decides how much ease a seam takes up, how holes are made and edges finished",
    Material.FIRM_LEATHER,
    synonyms=_MATERIALS,
)

_FORMAT = Key("format", Kind.FORMAT, "which keys the file uses", required=True)
_UNIT = choice_key(
    "unit", LENGTH_UNITS, "of lengths that have none of their own", "mm", synonyms=UNIT_SYNONYMS
)
_ITEMS = tables_key("item", "a thing to be carried", many=200)

_TOP = schema(
    "project",
    "at the top",
    "What holds for the whole file.",
    _FORMAT,
    text_key("title", "stands on every sheet", None, unless="the file's name"),
    _UNIT,
    table_key("material", "of every piece that says nothing else"),
    table_key("stitching", "of every seam that says nothing else"),
    table_key("page", "the paper"),
    table_key("make", "how many to make"),
    tables_key("piece", "one part to cut", many=200, unless="required where no part stands by itself"),
    tables_key("seam", "layers stitched together", many=300),
    tables_key("opening", "holes that are not stitch holes", many=300),
    Key(
        "items",
        Kind.THINGS,
        "a file of things, each an [[item]]; tables here say what holds it",
        unless="none",
    ),
    _ITEMS,
    tables_key("fitting", "what is put on and is no hole", many=100),
    tables_key("part", "what holds items; its pieces and seams are drafted", many=50),
)

_THINGS = schema(
    "things",
    "at the top of a file of things",
    "Beside a project whose `items` names it; traced things are written so. What an [[item]] of the project "
    "says goes before what the thing of its name says; its shape stands in one of the two.",
    _FORMAT,
    _UNIT,
    _ITEMS,
)

_MATERIAL = schema(
    "material",
    "[material]",
    "Of every piece that says nothing else.",
    _thickness_key("each piece has its own"),
    _KIND,
    Key("waste", Kind.PERCENT, "percent of the hide that ends up as scraps", 25.0, least=0, most=90),
)

# Back stitches where the file says nothing: at least two, three at this pitch and finer (common
# practice).
BACK, BACK_FINE = 2, 3
FINE_PITCH = 3.0
_BACK = f"{BACK}, or {BACK_FINE} where the pitch is {METRIC.text(FINE_PITCH)} or finer"

# A narrower strip of glue can't be spread (common practice, no source).
LEAST_STRIP = 0.5

_STITCHING_KEYS = (
    length_key("pitch", 1, 20, "from hole to hole, straight across", 4.0),
    length_key("inset", 0, 100, "the stitch line's distance in from the finished edge", 4.0),
    length_key("thread", 0.1, 5, "the thread's diameter", 0.8),
    choice_key("spacing", Spacing, "all steps alike, or the pitch exactly, as an iron has it", Spacing.EVEN),
    choice_key(
        "punch", Punching, "each layer by its own ticks, or all through the face layer", Punching.APART
    ),
    Key("hole", Kind.HOLE, "how the awl, punch or iron makes it", unless="round, 2 × thread"),
    length_key("needle", 0.2, 5, "the needle's diameter", unless="not looked at"),
    length_key("tail", 0, 2000, "thread left over at each end, for each needle", 180.0),
    count_key("back", 0, 20, "back stitches at the end", unless=_BACK),
    count_key(
        "start_back",
        0,
        20,
        "back stitches at the start",
        unless=f"none; at the mouth of drafted pockets {_BACK}",
    ),
    count_key("wrap_start", 0, 20, "turns of a strand round the edge at the start", 0),
    count_key("wrap_end", 0, 20, "turns of a strand round the edge at the end", 0),
    length_key("longest", 200, MOST_LENGTH, "longest thread a side that is sewn in one", 1500.0),
    choice_key("stitch", StitchKind, "how the seam is sewn", StitchKind.SADDLE),
    choice_key("hand", ("right", "left"), "the hand that holds the needle which goes first", "right"),
    choice_key("fibre", Fibre, "of the thread: its ends are melted, or glued", Fibre.SYNTHETIC),
    length_key(
        "past_start", 0, 50, "of the extra hole in the base, past the mouth a start's turns go round", 0.0
    ),
    length_key(
        "past_end", 0, 50, "of the extra hole in the base, past the mouth an end's turns go round", 0.0
    ),
    Key("spool", Kind.SPOOL, "how much thread a spool holds", least=1, most=10_000, unless="not looked at"),
    Key(
        "iron",
        Kind.IRON,
        "the pricking iron at hand; where it drifts, the awl is told",
        unless="not looked at",
    ),
    choice_key(
        "hold",
        Hold,
        "what holds the layers while they are sewn",
        unless="cement, or clips where a layer is cloth",
    ),
    length_key(
        "glue",
        LEAST_STRIP,
        50,
        "the strip's width",
        unless="from the edge to 1 mm short of the holes",
    ),
)

_STITCHING = schema(
    "stitching",
    "[stitching]",
    "Of every seam that says nothing else; each key may stand in a [[seam]] as well.",
    *_STITCHING_KEYS,
)

_PAGE = schema(
    "page",
    "[page]",
    "The paper the kit is printed on.",
    Key("paper", Kind.PAPER, "a sheet as it lies in the printer", unless=DEFAULT_PAPER),
    length_key("edge", 0, 50, "nothing is printed nearer to the sheet's edge", 5.0),
    length_key("margin", 0, 100, "where drawing begins", 10.0),
    length_key("overlap", LEAST_OVERLAP, 100, "of two sheets at a join", 10.0),
    choice_key(
        "windows",
        Windows,
        "parts of pieces share sheets, cut out before they are taped; or one a sheet, taped, then cut",
        Windows.SHARED,
    ),
    choice_key("draw", Drawn, "a piece cut several times: drawn once, or each", Drawn.ONCE),
    choice_key(
        "straights",
        Straights,
        "pieces that fit no sheet whole, or without the straight part on which nothing happens",
        Straights.WHOLE,
    ),
    flag_key(
        "measured",
        "plain pieces that fit no sheet whole are each given on one page, to be marked out by its measures, "
        "in place of tiled sheets",
    ),
    count_key("tries", 0, MOST_TRIES, "of a longer search for fewer sheets, where portions share sheets", 0),
    Key("font", Kind.FONT, "for scripts that the shipped font lacks", unless="the shipped font"),
)

_MAKE = schema(
    "make", "[make]", "How many to make.", count_key("copies", 1, 100, "multiplies the whole project", 1)
)

# The words of cloth for its sides, as good as leather's.
CLOTH_SIDES = MappingProxyType({"face": Side.GRAIN.value, "back": Side.FLESH.value})
_OF_CLOTH = f"; of cloth {words(map(quoted, CLOTH_SIDES))}"

_PIECE = schema(
    "piece",
    "[[piece]]",
    "One part to cut. Exactly one of rectangle, points, circle and copy.",
    name_key("of the piece, its own"),
    Key(
        "rectangle",
        Kind.SIZE,
        "A is the origin, B along x, then counter-clockwise; arranged: parts on it without `at` are laid, "
        "and it is as large as all need; an open fold cover stays as large as its part says",
        least=1,
        most=MOST_LENGTH,
    ),
    points_key("points", Kind.CORNERS, "the corners A, B, C … in order, either way round", few=3, many=2000),
    length_key("circle", 1, MOST_LENGTH, "its diameter; the centre is the origin, A at three o'clock"),
    Key("copy", Kind.PIECE, "takes the other's shape and all but its place and quantity"),
    flag_key(
        "mirrored",
        "of a copy: x to −x in its own frame, its lines too; letters keep their corners; "
        "its points in `places` and `match` are mirrored, too, and `at` is where its origin lies",
    ),
    Key("round", Kind.ROUND, "radius of rounded corners", least=0.1, most=MOST_LENGTH, unless="sharp"),
    Key(
        "arc",
        Kind.ARC,
        "sagitta of edges that are arcs, outward",
        least=-MOST_LENGTH,
        most=MOST_LENGTH,
        unless="straight",
    ),
    Key(
        "lines",
        Kind.LINES,
        "named lines inside the piece, for seams; on a lining as they lie on what it lines",
        many=100,
    ),
    Key(
        "folds",
        Kind.LINES,
        "named lines the piece is folded on, or tables of a line and how; on a lining as on what it lines",
        many=100,
    ),
    Key(
        "marks",
        Kind.MARKS,
        "short lines: where mates meet, across a stitch line; notches to cut out of an edge; "
        "on a lining as on what it lines",
        many=200,
        choices=tuple(MarkKind),
    ),
    Key(
        "items",
        Kind.OUTLINES,
        "outlines of things that lie on it, to lay the thing itself on the paper; a copy has its own",
        many=200,
    ),
    Key("trim", Kind.WIDTHS, "cut this much outside, stitch, then trim to the line", least=0.1, most=50),
    Key("skive", Kind.SKIVE, "edges thinned from `width` in, evenly, down to `to`"),
    _thickness_key("as [material]"),
    choice_key("kind", Material, _KIND.why, unless="as [material]", synonyms=_MATERIALS),
    count_key("quantity", 1, 500, "how many to cut, for pieces in no seam or opening with others", 1),
    choice_key("mark", Side, "the side the template is laid on" + _OF_CLOTH, Side.GRAIN, means=CLOTH_SIDES),
    choice_key(
        "shows",
        Side,
        "the side that will show, from which it is drawn" + _OF_CLOTH,
        Side.GRAIN,
        means=CLOTH_SIDES,
    ),
    angle_key("grain", "direction of the arrow along which it stretches least; of cloth the warp", 90.0),
    text_key("note", "stands on the template"),
    Key(
        "measured",
        Kind.FLAG,
        "given as a drawing to be marked out by its measures, on one page, and not tiled",
        unless="as [page]",
    ),
    Key("on", Kind.PIECE, "the piece it lies on", unless="none"),
    point_key("at", "where its origin lies on that piece", unless="[0, 0]"),
    angle_key("turn", "how far it is turned there, counter-clockwise", 0.0),
    flag_key("turned_over", "other side up: x to −x, then turned; `at` is where its origin lies then"),
    flag_key("behind", "it lies under that piece"),
    flag_key("flat", "it lies flat there", default=True),
    flag_key("glued", "glued down all over before it is stitched"),
    Key("hem", Kind.HEM, "edges turned to the back and sewn there", least=3, most=200),
    Key("turned", Kind.WIDTHS, "edges turned to the back, to be glued or sewn later", least=3, most=100),
    choice_key(
        "turns_to",
        ("back", "front"),
        "where hems and turned edges go: to the side that does not show, or to the one that does",
        "back",
    ),
    Key("binding", Kind.BINDING, "edges with a tape folded over them, as wide before", least=6, most=200),
    Key("allowance", Kind.WIDTHS, "cut this much outside, beyond the seam; it stays", least=0.5, most=100),
)

_SEAM = schema(
    "seam",
    "[[seam]]",
    "Layers stitched together, hole for hole, and any key of [stitching].",
    name_key("of the seam; no other seam or opening has it"),
    Key(
        "runs",
        Kind.RUNS,
        "the layers; one without letters takes the holes of a run before it that lie on it",
        few=1,
        many=20,
        required=True,
    ),
    flag_key("bowed", "the ease is meant"),
    Key("match", Kind.MATCH, "places that must meet, one for each run", many=100),
    Key("after", Kind.NAMES, "seams and openings to be done before", few=0, many=100),
    text_key("note", "stands in the plan, where the seam is sewn"),
    *_STITCHING_KEYS,
)

_OPENING = schema(
    "opening",
    "[[opening]]",
    "Holes that are not stitch holes, all of one kind and size.",
    name_key("of the opening; no other seam or opening has it"),
    choice_key("kind", OpeningKind, "what it is for", required=True, synonyms=_OPENINGS),
    length_key("hole", 0.5, 100, "its diameter; required of all but slots and buttonholes"),
    Key(
        "slot",
        Kind.SLOT,
        "a slot's length and width; of a buttonhole its length with the cut, and its hole; required of both",
        least=0.5,
        most=500,
    ),
    angle_key("turn", "direction of a slot's length, of a buttonhole from its hole along the cut", 0.0),
    length_key("cap", 1, 100, "diameter of what covers the hole; of a button stud its head", unless="none"),
    count_key("line", 8, 80, "a snap's size in 1/40 inch, instead of cap"),
    Key(
        "through",
        Kind.NAMES,
        "the pieces it goes through, where it lies on them",
        few=1,
        many=20,
        required=True,
    ),
    points_key(
        "at",
        Kind.POINTS,
        "places in the frame of the first piece, of a lining's first in that of what it lines",
        few=1,
        many=500,
        required=True,
    ),
    Key("row", Kind.ROW, "repeats every place of `at`", least=1, most=200),
    Key("places", Kind.PLACES, "the same places on pieces that do not lie flat on the first", many=20),
    Key(
        "mate",
        Kind.MATE,
        "the other half of a snap, of a button stud its buttonhole, which names this one; required of them",
    ),
    text_key("note", "stands in the plan"),
    length_key("post", 1, 60, "of a rivet or snap at hand: how long its post is", unless="as the stack asks"),
)

_HOLE = schema(
    "hole",
    "hole = { … }",
    "How a stitch hole is made: round, or a slit.",
    length_key("round", 0.2, 10, "diameter of a punched hole"),
    length_key("slit", 0.2, 10, "length of a slit"),
    Key("slant", Kind.ANGLE, "of the slit against the seam's line", 45.0, least=0, most=90),
)

_IRON = schema(
    "iron",
    "iron = { … }",
    "A pricking iron.",
    count_key("teeth", 2, 40, "how many stand in line", required=True),
    length_key("pitch", 1, 20, "from tooth to tooth", required=True),
)

_SKIVE = schema(
    "skived edge",
    'skive = { "A-B" = { … } }',
    "A thinned edge.",
    length_key("width", 0.5, 200, "where thinning begins", required=True),
    Key("to", Kind.THICKNESS, "what is left at the edge", least=0, most=30, required=True),
)

_FOLD = schema(
    "fold",
    "folds = { buckle = { … } }",
    "A fold that has its place in space: straight, from edge to edge.",
    points_key("line", Kind.POINTS, "where it is folded", few=2, many=2000, required=True),
    choice_key("out", Side, "the side that is outside then", unless="the side that shows", means=CLOTH_SIDES),
    Key("angle", Kind.ANGLE, "how far it is turned", 180.0, least=1, most=180),
    length_key("radius", 0, 500, "inside the bend", 0.0),
    text_key("stays", "a corner letter on the side of the line that keeps its place", "A"),
)

_HEM = schema(
    "hem",
    'hem = { "C-D" = { … } }',
    "A hem with settings of its own.",
    length_key("width", 3, 200, "from the finished edge to where the hem ends", required=True),
    count_key("turns", 1, 2, "once, or twice so that no raw edge is left", 1),
    length_key(
        "turn_in", 3, 100, "what is turned under first, of a hem turned twice", unless=METRIC.text(TURN_IN)
    ),
)

_BINDING = schema(
    "binding",
    'binding = { "A-B" = { … } }',
    "A binding with settings of its own.",
    length_key("width", 6, 200, "of the tape before it is folded", required=True),
    length_key("thickness", 0.1, 5, "of the tape", TAPE),
)

_RUN = schema(
    "run",
    "runs = [{ … }]",
    "A run with settings of its own. Its line begins and ends an inset inside a sharp corner, and opposite "
    "the middle of a rounded one's arc.",
    Key("run", Kind.RUN, "the run, as it would stand alone", many=10_000, required=True),
    length_key(
        "from_start", -1000, MOST_LENGTH, "off the run's start, along its line; negative prolongs it", 0.0
    ),
    length_key(
        "from_end", -1000, MOST_LENGTH, "off the run's end, along its line; negative prolongs it", 0.0
    ),
    length_key("inset", 0, 100, "of this run alone", unless="as the seam"),
    choice_key(
        "side",
        Side,
        "of its piece, that lies on the other run's, where no placement tells; both runs say theirs"
        + _OF_CLOTH,
        unless="as they are placed",
        means=CLOTH_SIDES,
    ),
)

# What of an outline is up, and how x and y are turned for it: (a, b, c, d) of a·x + b·y and c·x + d·y.
TURNS = MappingProxyType(
    {"top": (1, 0, 0, 1), "right": (0, -1, 1, 0), "bottom": (-1, 0, 0, -1), "left": (0, 1, -1, 0)}
)

# The thinnest and longest thing that is carried: a sheet of card, a folding rule opened out.
LEAST_SIZE, MOST_SIZE = 0.2, 3000.0

_ITEM = schema(
    "item",
    "[[item]]",
    "A thing to be carried. Exactly one of size, diameter, section and outline.",
    name_key("of the item, its own"),
    Key("in", Kind.PART, "what holds it", unless="required, but in a file of things"),
    Key("size", Kind.BOX, "of the item as it is carried", least=LEAST_SIZE, most=MOST_SIZE),
    length_key("diameter", LEAST_SIZE, MOST_SIZE, "of a round item; its length beside it"),
    points_key(
        "section", Kind.POINTS, "what a cut across it shows, in order; its length beside it", few=3, many=500
    ),
    length_key("length", LEAST_SIZE, MOST_SIZE, "of an item with a diameter or a section"),
    points_key(
        "outline",
        Kind.SHAPE,
        "what is seen of it lying flat; of a blade, once it stands up, point down and back to the left; "
        "thickness beside it",
        few=3,
        many=500,
    ),
    length_key("thickness", LEAST_SIZE, MOST_SIZE, "of an item with an outline"),
    length_key(
        "uncertainty", 0, 20, "of an outline, how far it may be off; each side has at least so much room", 0.0
    ),
    choice_key(
        "up",
        tuple(TURNS),
        "of an outline as its points have it, the side that is up in its place, and goes in last",
        unless="top; right where it is wider than high",
    ),
    flag_key("turned_over", "of an outline: it lies with its other face up"),
    length_key(
        "blade",
        LEAST_SIZE,
        MOST_SIZE,
        "of an outline that shows a handle too, for a sheath: how far up the blade goes; "
        "its thickness beside it is the blade's",
        unless="all of it",
    ),
    length_key(
        "tip", LEAST_SIZE, MOST_SIZE, "of a blade with a size: how far up its edge runs out to its width"
    ),
    Key(
        "handle",
        Kind.BOX,
        "of a blade, beyond its size or outline: it stands out of the sheath",
        least=LEAST_SIZE,
        most=MOST_SIZE,
        unless=f"as its outline shows it, else as broad as the blade; {HANDLE_THICK:g} mm thick, "
        f"{HANDLE_LONG:g} mm long",
    ),
    choice_key(
        "cutting",
        ("covered", "bare"),
        "of what cuts: carried in a sheath or cap of its own, which its size takes in, or with its edge bare",
        unless="bare of what has a tip or a blade",
    ),
    text_key("note", "for the maker's own use"),
)

_PART = schema(
    "part",
    "[[part]]",
    "What holds items, stated by what it is for; its pieces, lines, seams and openings are drafted.",
    name_key("of the part, its own; what it drafts is named after it"),
    choice_key("kind", PartKind, "what it is", required=True, synonyms=_PARTS),
    Key("on", Kind.PIECE, "its base: the piece it is sewn to", unless="required of what lies on a piece"),
    point_key(
        "at", "where its lower left corner lies on the base", unless="[0, 0], or as a base is arranged"
    ),
    angle_key("turn", "how far it is turned there, counter-clockwise", 0.0),
    flag_key("behind", "it lies on the base's far side, turned over; `at` is then its lower right corner"),
    Key("ease", Kind.EASE, "room beyond what an item needs", least=0, most=200, unless="by the material"),
    length_key(
        "shows",
        0,
        MOST_SIZE,
        "how far the longest item stands out of the mouth, or each above its strap",
        25.0,
    ),
    length_key(
        "width",
        5,
        MOST_LENGTH,
        "of the pocket's front, instead of what the items need; of a strap at its buckle",
        unless="as needed; required of straps",
    ),
    length_key(
        "height", 5, MOST_LENGTH, "from foot to mouth, instead of what the items need", unless="as needed"
    ),
    length_key("round", 0.1, 500, "radius of the foot's corners", unless="sharp"),
    flag_key(
        "dividers",
        "each item has its place, with a row of stitches between; false: all lie in one, side by side",
        default=True,
    ),
    length_key("mouth", 1, 500, "how far the mouth stands off the base", unless="as needed"),
    length_key(
        "hem",
        3,
        100,
        "what is folded over at the mouth; of a roll what is turned at all edges, twice above",
        unless="none",
    ),
    flag_key("rivets", "one at each end of the mouth; of a flap, of what is sewn on behind"),
    length_key("rivet_hole", 0.5, 20, "of those rivets", 3.0),
    length_key("rivet_cap", 1, 40, "of those rivets", 9.0),
    length_key("depth", 1, 500, "of the gusset between base and front", unless="as needed"),
    choice_key("gusset", ("plain", "turned"), "its edges butt, or are turned over as flanges", "plain"),
    length_key("strap", 10, 300, "the strap's width; of a bag's flap as there is room", 32.0),
    length_key("gap", 1, 300, "between one item and the next under a strap, and beside the outer ones", 12.0),
    length_key(
        "belt", 5, 300, "the widest belt that goes through", unless="required of loops; of a sheath none"
    ),
    length_key("belt_thickness", 0.5, 30, "of that belt", 4.0),
    choice_key(
        "hang",
        ("upright", "slung"),
        "sewn down on both sides of the belt, or one strip over its base's edge, both ends sewn through it",
        "upright",
    ),
    choice_key("fixing", ("stitches", "rivets"), "what holds its ends", "stitches"),
    count_key("steps", 1, 20, "how many pockets stand in steps", unless="as many as items"),
    length_key("reveal", 3, 200, "from one mouth to the next, and what shows above the highest", 12.0),
    flag_key(
        "tees",
        "all pockets but the lowest are as wide only where they show, and narrower below: fewer layers in "
        "the seam round them",
    ),
    choice_key(
        "beside",
        ("none", "left", "right"),
        "the side that gets a row of its own, where `seams` reach round the others only",
        "none",
    ),
    choice_key(
        "strips", ("one", "three"), "of a bag's gusset: one round three sides, or two sides and a base", "one"
    ),
    length_key(
        "flap",
        5,
        MOST_LENGTH,
        "how far a bag's flap comes down its front, a roll's from its fold; a cover's second leaf, how wide",
        unless="half of the front; of a roll past the mouth and each tool's end; as wide as the first leaf",
    ),
    length_key(
        "allowance",
        3,
        60,
        "of a bag of cloth that is sewn inside out: what lies inside beyond its seams",
        unless="none; its edges stand outside",
    ),
    length_key("drop", 5, 1000, "how high two handles stand over a bag's mouth", unless="no handles"),
    length_key(
        "welt",
        4,
        60,
        "how wide the welt between blade and edge is",
        unless="2.5 times the inset, or as the thread needs",
    ),
    Key(
        "cover",
        Kind.PIECE,
        "the piece that lies over a thing in its room; its base itself where that is folded over it",
        unless="required of rooms",
    ),
    Key(
        "pieces",
        Kind.NAMES,
        "made for a thing in its room, such as a strap round a handle, and so not in its way",
        few=1,
        many=50,
        unless="its cover; of a base that is folded over it all that lies on that",
    ),
    length_key("grip", 1, 300, "how much of a blade's handle goes in, and is held there", unless="none"),
    length_key("handle_strap", 10, 80, "width of a strap with a snap round the handle", unless="none"),
    length_key("drain", 2, 20, "diameter of a hole below the blade's point", unless="none"),
    Key("to", Kind.PIECE, "the piece that a flap closes on", unless="required of flaps"),
    choice_key(
        "closed_by",
        ("snap", "tab", "stud", "strap", "none", "zip", "flap", "snaps", "tie", "buckle"),
        "of a flap a snap in it, or with a tab riveted on its end, a button stud through a buttonhole, or a "
        "strap sewn on its end, through a loop; of a bag a zip, or a flap, alone, with two snaps, or with "
        "any other of these in its middle; of a roll a tie through an eyelet, a strap with a buckle, sewn on "
        "its back, or none: its note tells the girth for a strap of your own",
        unless="a flap's snap, a roll's tie, of a bag none",
    ),
    flag_key(
        "continues", "a flap is one with its base, whose upper edge it goes on from; else it is sewn on"
    ),
    length_key(
        "reach",
        1,
        MOST_LENGTH,
        "how far below that piece's mouth a flap's stud stands; with a strap, where the flap ends",
        unless="15 mm, or as near to that as there is room",
    ),
    length_key(
        "below",
        1,
        300,
        "how far a flap goes on beyond what closes it, where that lets it; a strap beyond its loop",
        15.0,
    ),
    length_key(
        "lap", 5, 300, "how far a flap lies on its base, behind it", unless="20 mm, or less for other rows"
    ),
    length_key("snap_hole", 1, 15, "of both halves of its snap", 4.0),
    length_key("snap_cap", 3, 40, "of both halves of its snap", 12.7),
    length_key("stud_hole", 0.5, 15, "of a button stud's screw", 4.0),
    length_key("stud_neck", 1, 20, "how thick a button stud's neck is, and its buttonhole's hole", 4.0),
    length_key("stud_head", 3, 40, "across a button stud's head", 8.0),
    choice_key(
        "ends",
        ("sleeves", "turn-ins", "open"),
        "what holds a cover's boards: a piece on either leaf, its own ends turned in, or nothing",
        "sleeves",
    ),
    length_key("sleeve", 5, 1000, "how far a board goes into it, or a turn-in goes", unless="60 % of a leaf"),
    length_key(
        "board", 0.1, 20, "how thick one board of a book is", unless="1 mm, or half of what is thinner"
    ),
    choice_key(
        "spine", ("upright", "level"), "of a cover: beside its leaves, or across between them", "upright"
    ),
    Key("of", Kind.PIECE, "the piece it lies behind", unless="required of linings"),
    length_key("inset_by", 0, 200, "how far its edge lies inside the other's", 0.0),
    Key(
        "seams",
        Kind.NAMES,
        "seams of its base that it is sewn in with",
        few=1,
        many=50,
        unless="one of its own",
    ),
    length_key(
        "bar", 0.5, 30, "how thick the buckle's bar is", unless="required of straps; of a roll's 3 mm"
    ),
    length_key(
        "inside",
        2,
        500,
        "the buckle's width, along its bar; a roll's strap is as wide",
        unless="as wide as the strap; of a roll's 20 mm",
    ),
    length_key(
        "tongue",
        0.5,
        30,
        "how thick the buckle's tongue is; so wide are its holes and its slot",
        unless="as the bar",
    ),
    Key(
        "girth",
        Kind.RANGE,
        "the least and the most it is to close round, measured inside it from bar to hole",
        least=10,
        most=MOST_LENGTH,
        unless="required of straps; of a roll's as it is rolled up",
    ),
    length_key(
        "usual", 10, MOST_LENGTH, "the girth of the middle hole", unless="half-way from least to most"
    ),
    length_key("step", 3, 500, "from one tongue hole to the next, about", 25.0),
    length_key(
        "beyond", 2, MOST_LENGTH, "from the last hole to the point", unless="2.5 times the strap's width"
    ),
    choice_key(
        "point",
        ("English", "pointed", "round", "straight"),
        "the strap's end: an arch of two arcs, a plain point, half a circle, cut square",
        "English",
    ),
    length_key("tip", 5, 300, "the width at the point of a strap that tapers", unless="as wide as the strap"),
    count_key("keepers", 0, 4, "fixed ones, between rows of stitches beside the buckle", 1),
    count_key("loose", 0, 4, "keepers that slide", 0),
    length_key(
        "band", 4, 300, "the keepers' width, or that of a flap's loop", unless="0.4 of the strap's width"
    ),
    choice_key(
        "holds",
        ("slots", "holders"),
        "a roll's tools: in one pocket with a row between each two, or under one strap",
        "slots",
    ),
    length_key("margin", 5, MOST_LENGTH, "beside a roll's last tool, where its eyelet is", 60.0),
    length_key("eye_hole", 2, 40, "of that eyelet", 6.0),
    length_key("eye_cap", 3, 60, "across that eyelet's rim", 11.0),
    flag_key("lined", "a lining behind it, from behind the buckle's end to the point"),
    length_key(
        "padding", 0.5, 20, "how thick a padding between strap and lining is, of felt or foam", unless="none"
    ),
    length_key("padding_width", 2, 300, "how wide that padding is", unless="as the row beside it leaves"),
)

_FITTING = schema(
    "fitting",
    "[[fitting]]",
    "What is put on and is no hole; the order of work and the hardware list have it.",
    name_key("of the fitting, its own"),
    choice_key("kind", FittingKind, "what it is", required=True, synonyms=_FITTINGS),
    Key("on", Kind.PIECE, "the piece it is put on", unless="required but of zips, cords and ties"),
    text_key("fold", "the fold of that piece that goes round its bar, or that a keeper sits at"),
    length_key("inside", 2, 500, "the width it leaves for the strap, along the bar"),
    length_key("bar", 0.5, 30, "how thick the bar is that the strap goes round"),
    length_key("thickness", 0.1, 100, "of a zip's tape or a magnet; a keeper's clear height"),
    length_key("diameter", 0.5, 100, "of a magnet, a cord or a tie"),
    length_key("width", 1, 100, "of a cord or a tie that is flat"),
    length_key("length", 5, MOST_LENGTH, "of a zip's teeth, a cord or a tie"),
    length_key("tape", 3, 100, "width of one of a zip's tapes"),
    points_key("at", Kind.POINTS, "where magnets lie, in the frame of that piece", few=1, many=100),
    text_key("through", "the opening that a cord or a tie passes"),
    text_key("holes", "the tongue holes that a buckle is closed in"),
    Key(
        "girth",
        Kind.RANGE,
        "the least and the most a strap is to close round, from the bar round its inside to the hole",
        least=10,
        most=MOST_LENGTH,
    ),
    length_key(
        "between",
        1,
        500,
        "from bar to bar, where what it closes in lies between a strap's two parts (a watch)",
    ),
    Key("seams", Kind.NAMES, "that sew a zip in", few=1, many=10),
    Key("piece", Kind.PIECE, "that a keeper is made of, instead of inside"),
    count_key(
        "leaves",
        1,
        6,
        "thicknesses of the strap that pass a keeper",
        unless="2, at a fold 3",
    ),
    length_key(
        "from_fold", 0, 500, "where a keeper at a fold begins, measured from it", unless="beside the bar"
    ),
    text_key("note", "stands in the plan"),
)

_SCHEMAS = (
    _TOP, _THINGS, _MATERIAL, _STITCHING, _PAGE, _MAKE, _PIECE, _SEAM, _OPENING, _FITTING, _ITEM, _PART,
    _HOLE, _IRON, _SKIVE, _FOLD, _HEM, _BINDING, _RUN,
)  # fmt: skip
TABLES: MappingProxyType[str, TableSchema] = MappingProxyType({each.name: each for each in _SCHEMAS})
STITCHING_KEYS: tuple[str, ...] = tuple(key.name for key in _STITCHING_KEYS)

MEANT_KIND = "kind = …"  # of the material that the value names
# What is meant by keys that a table does not have, where others have them for the like.
MEANT_KEYS: Mapping[tuple[str, str], str] = MappingProxyType(
    {
        ("piece", "width"): "rectangle = [width, height]",
        ("piece", "height"): "rectangle = [width, height]",
        ("piece", "size"): "rectangle = [width, height]",
        ("piece", "diameter"): "circle = the diameter",
        ("item", "rectangle"): "size = [width, thickness, length]",
        **dict.fromkeys(
            [("item", "width"), ("item", "height"), ("item", "depth"), ("item", "dimensions")],
            "size = [width, thickness, length]",
        ),
        ("project", "include"): 'items = "things.toml", a file of things',
        ("project", "version"): "format = 1",
        **dict.fromkeys(
            [("project", "leather"), ("project", "hide")],
            '[material], and under it kind = "firm leather" or "soft leather"',
        ),
        ("project", "suede"): '[material], and under it kind = "soft leather"',
        **dict.fromkeys(
            [("project", "cloth"), ("project", "fabric")], '[material], and under it kind = "canvas"'
        ),
        **{("project", each): f'[material], and under it kind = "{each}"' for each in Material},
        **dict.fromkeys(
            [("seam", each) for each in ("piece", "pieces", "edge", "edges", "layers", "between")],
            'runs = ["piece: A-B", …]',
        ),
        **{
            (each, key): "pitch = 4, from hole to hole"
            for each in ("seam", "stitching")
            for key in ("stitch_length", "stitch_distance", "distance", "length")
        },
        **{
            (each, key): 'pitch = "1/6 in", for 6 stitches an inch'
            for each in ("seam", "stitching")
            for key in ("spi", "stitches_per_inch", "stitches")
        },
        ("piece", "material"): MEANT_KIND,
        ("piece", "leather"): MEANT_KIND,
        ("project", "pocket"): '[[part]], and under it kind = "flat pocket"',
        **{
            ("project", kind): f'[[{table}]], and under it kind = "{kind}"'
            for table in ("fitting", "part", "opening")
            for kind in TABLES[table].keys["kind"].choices
        },
    }
)


# What is asked of nothing like that, and why it is not.
UNASKED_KEYS: Mapping[tuple[str, str], str] = MappingProxyType(
    {
        ("item", "material"): "what a thing is made of is not asked, its size is",
        ("item", "kind"): "what a thing is, its name tells",
        ("item", "weight"): "how heavy a thing is is not asked, its size is",
    }
)


def schemas_with(key: str) -> tuple[TableSchema, ...]:
    """The tables that know a key, in the order of the reference.

    >>> [schema.header for schema in schemas_with("overlap")]
    ['[page]']
    """
    return tuple(each for each in TABLES.values() if key in each.keys)
