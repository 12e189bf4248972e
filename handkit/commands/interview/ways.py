"""Ways to carry what is wanted: some projects, each with a word of how it differs.

In: the answers of an interview. Out: `Proposal`s, the text of a project file each; nothing is drafted here,
and one that can't be made is found out by making it. A way whose file is that of another is left out.

Words: what is *flat* lies in a flat pocket; a *rod* is about as thick as wide, and stands under a holder's
strap; all else is *deep*.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from math import ceil
from types import MappingProxyType

import msgspec

from handkit.commands.interview.project_file import FileTable, project_text
from handkit.commands.interview.tables import base, head, in_mm, item, loop
from handkit.commands.interview.wanted import Answered, CarriedAs, ToldThing, left_raw
from handkit.draft.pockets.flat_pocket import THICKEST
from handkit.draft.sizes.box_sizes import BoxSizes
from handkit.draft.worn.back_leaf import LEAST_STITCHES
from handkit.grouping import grouped
from handkit.read.schema.keys import TABLES
from handkit.read.written.toml_text import string

# A holder takes what is as thick as wide to so much, and no thicker than that: common practice, no source.
ROD_SHARE, ROD = 0.6, 40.0
# How far things show, and how wide a strap is, where the file does not say: too much for what is short.
SHOWN, STRAP = (float(TABLES["part"].keys[key].default or 0.0) for key in ("shows", "strap"))
# What takes `shows` as the length by which the longest stands out of a mouth.
SHOWING = ("flat pocket", "bowed pocket", "roll")
# Where the file does not say, stitches stand so far from an edge, and a box's corners are so round; mm.
INSET = float(TABLES["stitching"].keys["inset"].default or 0.0)
ROUND = BoxSizes(0.0, 0.0, 0.0, INSET, 0.0, 0.0).least_radius
# So much of the shortest tool is left to draw it by, where the longest may show as much as that needs, mm.
GRIPPED = 10.0
# What is so much wider than long may be stood on its end.
WIDE = 2.0
# A sheath's leaf is wider than its blade by this beside a welt as wide as usual, at the least (the welt, less
# the bend and what goes on keeps clear of), mm.
BESIDE = 5.0
# A front stands off its base for what is no thicker than so much of its width and length, or it is too steep
# to be sewn; a box is for the rest.
BOW_SHARE, BOW_STEEP = 0.5, 0.7


class Proposal(msgspec.Struct, frozen=True):
    """One way: how it differs from the others, in words, and the project's text."""

    told: str
    text: str


class _Place(msgspec.Struct, frozen=True):
    """A part to be, with what it holds."""

    name: str
    kind: str
    things: tuple[ToldThing, ...]
    more: Mapping[str, str] = MappingProxyType({})


def ways(wanted: Answered) -> tuple[Proposal, ...]:
    """Ways, the first the one to begin with, the last those that only stand in where no other can be made."""
    found: dict[str, Proposal] = {}
    laid = tuple(_laid(thing) for thing in wanted.things)
    wanted = msgspec.structs.replace(wanted, things=laid)
    for told, places in _PLACES[wanted.carried](wanted):
        text = _text(wanted, places)
        found.setdefault(text, Proposal(told, text))
    return tuple(found.values())


def _laid(thing: ToldThing) -> ToldThing:
    """A disc lies flat: what is round and thinner than that is carried with its face to the back."""
    if thing.traced or thing.thickness is not None or thing.length.mm >= thing.width.mm:
        return thing
    return msgspec.structs.replace(thing, thickness=thing.length, length=thing.width)


_Told = Iterable[tuple[str, Sequence[_Place]]]


def _pouch(wanted: Answered) -> _Told:
    """What cuts and is not covered has a sheath of its own."""
    blades = [thing for thing in wanted.things if wanted.carried.sheathes(thing)]
    sheaths = [
        _Place(f"{thing.name} sheath", "sheath", (thing,), _welt(thing, wanted.pitch.mm)) for thing in blades
    ]
    others = tuple(thing for thing in wanted.things if thing not in blades)
    for told, places in _on_back(others):
        yield told, (*places, *sheaths)


def _on_back(things: Sequence[ToldThing]) -> _Told:
    alike = grouped(things, by=_lying)
    flats, rods, deep = (alike.get(kind, []) for kind in ("flat pocket", "holder row", ""))
    holder = [_Place("holder", "holder row", tuple(rods))] if rods else []
    single = [_own_place(thing) for thing in deep]
    side_by_side = {"dividers": "true"} if len(flats) > 1 else {}
    pocket = [_Place("flat pocket", "flat pocket", tuple(flats), side_by_side)] if flats else []
    yield "like with like: flat things side by side, round ones under a strap", (*pocket, *holder, *single)
    yield "each thing in a place of its own", tuple(_own_place(thing) for thing in things)
    undivided = [_Place("flat pocket", "flat pocket", tuple(flats))] if flats else []
    rest = [*rods, *deep]
    front = [_Place("front", _standing_kind(rest), tuple(rest))] if rest else []
    yield "as few parts as can be", (*undivided, *front)
    yield "each thing in a box of its own", tuple(_boxed(thing) for thing in things)
    yield "what is wide stood on its end", tuple(_own_place(_on_end(thing)) for thing in things)


def _roll(wanted: Answered) -> _Told:
    """Of cloth that frays it is hemmed."""
    longest_first = _longest_first(wanted.things)
    hem = {"hem": in_mm(12)} if left_raw(wanted.material) else {}
    strapped = {"holds": string("holders")} | hem
    if any(thing.deep > THICKEST for thing in longest_first):
        yield "under one strap, for thick things", (_Place("roll", "roll", longest_first, strapped),)
    yield "in the order you told them", (_Place("roll", "roll", wanted.things, hem),)
    yield "the longest first", (_Place("roll", "roll", longest_first, hem),)
    on_end = _longest_first([_on_end(thing) for thing in wanted.things])
    yield "what is wide stood on its end", (_Place("roll", "roll", on_end, hem),)
    yield "what is wide stood on its end, under one strap", (_Place("roll", "roll", on_end, strapped),)


def _longest_first(things: Sequence[ToldThing]) -> tuple[ToldThing, ...]:
    return tuple(sorted(things, key=lambda thing: -thing.length.mm))


def _bag(wanted: Answered) -> _Told:
    """Of cloth that frays it is hemmed at its mouth, and sewn inside out."""
    inside_out = {"hem": in_mm(12), "allowance": in_mm(10)} if left_raw(wanted.material) else {}
    for closing, told in (("zip", "closed by a zip"), ("flap", "under a flap"), ("none", "open")):
        yield told, (_Place("bag", "bag", wanted.things, {"closed_by": string(closing)} | inside_out),)


def _sheath(wanted: Answered) -> _Told:
    belt = {"belt": wanted.belt.toml} if wanted.belt else {}
    belt |= _welt(wanted.things[0], wanted.pitch.mm)
    strapped = {**belt, "handle_strap": string("18 mm")}
    yield "with a strap round the handle", (_Place("sheath", "sheath", wanted.things, strapped),)
    yield "plain: the leather alone holds it", (_Place("sheath", "sheath", wanted.things, belt),)
    yield "with a hole to drain", (_Place("sheath", "sheath", wanted.things, {**belt, "drain": "6"}),)


def _cover(wanted: Answered) -> _Told:
    for ends, told in (
        ("sleeves", "its boards in sleeves"),
        ("turn-ins", "its own ends turned in"),
        ("open", "open"),
    ):
        yield told, (_Place("cover", "fold cover", wanted.things, {"ends": string(ends)}),)
    on_end = tuple(_on_end(thing) for thing in wanted.things)
    yield "open, turned by a quarter", (_Place("cover", "fold cover", on_end, {"ends": string("open")}),)


_PLACES: Mapping[CarriedAs, Callable[[Answered], _Told]] = MappingProxyType(
    {
        CarriedAs.POUCH: _pouch,
        CarriedAs.ROLL: _roll,
        CarriedAs.BAG: _bag,
        CarriedAs.SHEATH: _sheath,
        CarriedAs.COVER: _cover,
    }
)


def _lying(thing: ToldThing) -> str:
    """The kind of part for what is flat, or a rod; "" for what is deep."""
    is_as_thick = thing.deep >= ROD_SHARE * thing.width.mm
    if thing.deep <= THICKEST and thing.thickness is not None and not is_as_thick:
        return "flat pocket"
    return "holder row" if is_as_thick and thing.width.mm <= ROD else ""


def _own_place(thing: ToldThing) -> _Place:
    """A part for one thing, called after it."""
    kind = _lying(thing) or _standing_kind([thing])
    return _Place(f"{thing.name} {kind.split()[-1] if kind != 'holder row' else 'holder'}", kind, (thing,))


def _boxed(thing: ToldThing) -> _Place:
    place = _own_place(thing)
    if place.kind != "bowed pocket":
        return place
    return msgspec.structs.replace(place, kind="boxed pocket")


def _on_end(thing: ToldThing) -> ToldThing:
    """What is much wider than long, with the longer side upright."""
    if thing.traced or thing.thickness is None or thing.width.mm < WIDE * thing.length.mm:
        return thing
    return msgspec.structs.replace(thing, width=thing.length, length=thing.width)


def _welt(thing: ToldThing, pitch: float) -> dict[str, str]:
    """Beside a narrow blade the welt is wider, so that the leaf that hangs has room for a row."""
    wider = 2 * INSET + LEAST_STITCHES * pitch - BESIDE - thing.width.mm
    thick = 2.5 * INSET + thing.deep / 4  # as the thread needs that goes through so much
    return {"welt": in_mm(ceil(thick + wider))} if wider > 0 else {}


def _standing_kind(things: Sequence[ToldThing]) -> str:
    bows = all(thing.deep <= min(BOW_SHARE * thing.width.mm, BOW_STEEP * thing.length.mm) for thing in things)
    return "bowed pocket" if bows else "boxed pocket"


def _text(wanted: Answered, places: Sequence[_Place]) -> str:
    lead = [
        f"{wanted.title}. What it carries is measured with a ruler; pieces, holes, thread and sheets follow",
        "from that: change a number, save, and run handkit again. handkit keys tells what else can be said.",
    ]
    on_base = wanted.carried is CarriedAs.POUCH
    tables = [*head(wanted), *([base()] if on_base else [])]
    if on_base and wanted.belt:
        tables.append(loop(wanted.belt.toml))
    for place in places:
        tables.append(_part(place, wanted.pitch.mm, on_base=on_base))
        tables += [item(thing, place.name, sheathed=place.kind == "sheath") for thing in place.things]
    return project_text(lead, tables)


def _part(place: _Place, pitch: float, *, on_base: bool) -> FileTable:
    values = {"name": string(place.name), "kind": string(place.kind)}
    values |= {"on": '"back"'} if on_base else {}
    values |= _for_short(place, pitch)
    comments = {"name": "its pieces and seams are called after it", "kind": "what it is", "on": "its base"}
    return FileTable("[[part]]", "part", values | dict(place.more), "", comments)


def _for_short(place: _Place, pitch: float) -> dict[str, str]:
    """Sizes of a part whose things are too short or too narrow for those that it has when they are left
    out."""
    lengths = [thing.length.mm for thing in place.things]
    short, long = min(lengths), max(lengths)
    if place.kind == "holder row" or "holds" in place.more:
        strap = max(short / 2, 2 * INSET + pitch)
        return {} if short >= SHOWN + STRAP else {"strap": in_mm(strap), "shows": in_mm(short / 4)}
    if place.kind == "boxed pocket":
        if long >= SHOWN + STRAP:
            return {}
        least = ROUND + INSET + pitch
        wide = (
            {} if sum(thing.width.mm for thing in place.things) >= 2 * ROUND else {"width": in_mm(2 * ROUND)}
        )
        return wide | {"height": in_mm(max(least, long * 2 / 3))}
    show = long / (4 if place.kind == "roll" else 3)
    inside = place.kind in ("roll", "flat pocket") and long - show < INSET + pitch  # nothing of it shows then
    if place.kind not in SHOWING or inside:
        return {}
    reaching = long - short + GRIPPED
    if SHOWN < reaching <= long / 2 and place.kind != "bowed pocket":
        return {"shows": in_mm(reaching)}
    return {} if long >= 3 * SHOWN else {"shows": in_mm(show)}
