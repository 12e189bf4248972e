"""One fault gives one message, at the fault; two faults that have nothing to do with each other give two.

In: random sound projects with faults planted in them. The law is told apart from the words: those stand in
tables beside each step. A project is a list of tables, each (heading, keys), put together from blocks: a base
with what is on it, made so that nothing of it is wrong. Every name of a block ends in its number, so that
blocks have nothing to do with one another. A fault changes one thing in one block; `PLANTS` says which blocks
it can be planted in and at which entries it may be told.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.errors import ProjectError
from handkit.findings import Finding
from handkit.kit import punched_from
from handkit.messages.message import Severity
from handkit.messages.reading import READING
from handkit.read.reader import read_project_text

Table = tuple[str, dict[str, Any]]
MATERIAL = ("[material]", "thickness = 2")
Sizes = Callable[[float, float], float]  # a whole number between two


def written(tables: list[Table]) -> str:
    """The project file."""
    out = ["format = 1", *MATERIAL]
    for heading, keys in tables:
        out += [heading, *(f"{key} = {value_text(value)}" for key, value in keys.items())]
    return "\n".join(out) + "\n"


def value_text(value: Any) -> str:
    """As TOML writes it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "{ " + ", ".join(f'"{key}" = {value_text(each)}' for key, each in value.items()) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(value_text, value)) + "]"
    return f'"{value}"' if isinstance(value, str) else f"{value:g}"


def piece(name: str, **keys: Any) -> Table:
    return ("[[piece]]", {"name": name, **keys})


def seam(name: str, *runs: Any, **keys: Any) -> Table:
    return ("[[seam]]", {"name": name, "runs": list(runs), **keys})


def part(name: str, kind: str, **keys: Any) -> Table:
    return ("[[part]]", {"name": name, "kind": kind, **keys})


def item(name: str, held: str, **keys: Any) -> Table:
    return ("[[item]]", {"name": name, "in": held, **keys})


def patch(n: int, size: Sizes) -> list[Table]:
    """A front sewn flat on a back, with a rivet through both and a snap in the back beside it."""
    wide, high = size(60, 140), size(60, 120)
    return [
        piece(f"back{n}", rectangle=[wide + 60, high + 60]),
        piece(f"front{n}", rectangle=[wide, high], round=size(4, 14), on=f"back{n}", at=[15, 20]),
        seam(f"rim{n}", f"front{n}: D-A-B-C", f"back{n}"),
        seam(f"top{n}", f"back{n}: C-D"),
        (
            "[[opening]]",
            {
                "name": f"rivet{n}",
                "kind": "rivet",
                "hole": 3,
                "cap": 9,
                "through": [f"front{n}", f"back{n}"],
                "at": [[wide / 2, high - 12]],
            },
        ),
    ]


def slanted(n: int, size: Sizes) -> list[Table]:
    """A front on lines of its back, whose sides are a little longer than theirs."""
    wide, high, out = size(70, 140), size(70, 120), size(1, 8)
    left, foot, right = (
        [[30, 20 + high], [30, 20]],
        [[30, 20], [30 + wide - 8, 20]],
        [[30 + wide - 8, 20], [30 + wide - 8, 20 + high]],
    )
    return [
        piece(
            f"back{n}", rectangle=[wide + 60, high + 60], lines={f"l{n}": left, f"f{n}": foot, f"r{n}": right}
        ),
        piece(
            f"front{n}",
            points=[[0, 0], [wide, 0], [wide + out, high + 4], [-out, high + 4]],
            on=f"back{n}",
            at=[26, 16],
            flat=False,
        ),
        seam(f"left{n}", f"front{n}: D-A", f"back{n}: l{n}", bowed=True),
        seam(f"foot{n}", f"front{n}: A-B", f"back{n}: f{n}"),
        seam(f"right{n}", f"front{n}: B-C", f"back{n}: r{n}", bowed=True),
    ]


def folded(n: int, size: Sizes) -> list[Table]:
    """A strap folded over and sewn through both leaves, with tongue holes at its end."""
    long, wide = size(200, 400), size(30, 50)
    return [
        piece(
            f"strap{n}",
            rectangle=[wide, long],
            folds={
                f"bend{n}": {"line": [[0, long - 60], [wide, long - 60]], "angle": 180},
            },
        ),
        seam(f"end{n}", f"strap{n}: C-D", f"strap{n}"),
        (
            "[[opening]]",
            {
                "name": f"holes{n}",
                "kind": "tongue",
                "hole": 4,
                "through": [f"strap{n}"],
                "at": [[wide / 2, 20]],
                "row": [3, 0, 25],
            },
        ),
    ]


def flat(n: int, size: Sizes) -> list[Table]:
    """A flat pocket with one to three things in it, lined."""
    things = [
        item(f"thing{n}{k}", f"pocket{n}", size=[size(25, 50), size(1, 3), size(70, 130)])
        for k in range(int(size(1, 3)))
    ]
    return [
        piece(f"back{n}", rectangle=[300, 200]),
        part(f"pocket{n}", "flat pocket", on=f"back{n}", at=[20, 20], shows=size(10, 20)),
        *things,
        piece(f"lid{n}", rectangle=[size(60, 90), size(50, 80)], round=size(4, 12)),
        part(f"lining{n}", "lining", of=f"lid{n}", inset_by=0),
    ]


def bowed(n: int, size: Sizes) -> list[Table]:
    """A bowed pocket round one thing."""
    return [
        piece(f"back{n}", rectangle=[260, 260]),
        part(f"pocket{n}", "bowed pocket", on=f"back{n}", at=[30, 30], rivets=size(0, 1) > 0.5),
        item(f"thing{n}", f"pocket{n}", size=[size(40, 80), size(10, 24), size(110, 150)]),
    ]


def boxed(n: int, size: Sizes) -> list[Table]:
    """A boxed pocket round one thing."""
    return [
        piece(f"back{n}", rectangle=[260, 260]),
        part(f"pocket{n}", "boxed pocket", on=f"back{n}", at=[30, 30]),
        item(f"thing{n}", f"pocket{n}", size=[size(50, 90), size(20, 40), size(90, 140)]),
    ]


def row(n: int, size: Sizes) -> list[Table]:
    """A holder row of two to four tools."""
    tools = [
        item(f"thing{n}{k}", f"holder{n}", diameter=size(8, 16), length=size(60, 90))
        for k in range(int(size(2, 4)))
    ]
    return [
        piece(f"back{n}", rectangle=[320, 180]),
        part(f"holder{n}", "holder row", on=f"back{n}", at=[20, 80]),
        *tools,
    ]


def flapped(n: int, size: Sizes) -> list[Table]:
    """A bowed pocket under a flap."""
    return [
        *bowed(n, size),
        part(f"flap{n}", "flap", on=f"back{n}", to=f"front{n}"),
        piece(f"front{n}", rectangle=[60, 30], on=f"back{n}", at=[100, 200]),
        seam(f"front{n}", f"front{n}: D-A-B-C", f"back{n}"),
    ]


def worn(n: int, size: Sizes) -> list[Table]:
    """A sheath with a strap round the handle, and a loop for a belt."""
    blade = [size(15, 40), size(2, 4), size(90, 150)]
    return [
        piece(f"back{n}", rectangle=[260, 260]),
        part(f"loop{n}", "loop", on=f"back{n}", at=[100, 30], belt=size(20, 60)),
        part(f"sheath{n}", "sheath", handle_strap=size(18, 24), belt=size(20, 60)),
        item(f"thing{n}", f"sheath{n}", size=blade, tip=size(5, 60), handle=[size(18, 30), 18, 90]),
        piece(f"sheath{n} welt"),
    ]


BLOCKS: Mapping[str, Callable[[int, Sizes], list[Table]]] = {
    "patch": patch,
    "slanted": slanted,
    "folded": folded,
    "flat": flat,
    "bowed": bowed,
    "boxed": boxed,
    "row": row,
    "worn": worn,
    "flapped": flapped,
}


def keys_of(block: list[Table], name: str) -> dict[str, Any]:
    """The keys of an entry of a block."""
    return next(keys for _, keys in block if keys["name"] == name)


# What a fault does to a block, and at which entries it may be told.
Plant = Callable[[list[Table], int], tuple[str, ...]]


def _set(entry: str, told: tuple[str, ...] = (), **keys: Any) -> Plant:
    """Other values of an entry's keys; told at that entry, or at others."""

    def plant(block: list[Table], n: int) -> tuple[str, ...]:
        found = keys_of(block, f"{entry}{n}")
        for key, value in keys.items():
            found[key] = value(n, found, block) if callable(value) else value
        heading = next(heading for heading, each in block if each is found).strip("[]")
        return tuple(each.format(n=n) for each in told) or (f'{heading} "{entry}{n}"',)

    return plant


def _without(entry: str, key: str) -> Plant:
    def plant(block: list[Table], n: int) -> tuple[str, ...]:
        found = keys_of(block, f"{entry}{n}")
        del found[key]
        heading = next(heading for heading, each in block if each is found).strip("[]")
        return (f'{heading} "{entry}{n}"',)

    return plant


def _renamed(entry: str, *at: str) -> Plant:
    """An entry under a name that nothing else knows."""

    def plant(block: list[Table], n: int) -> tuple[str, ...]:
        keys_of(block, f"{entry}{n}")["name"] = f"zzz{n}"
        return tuple(each.format(n=n) for each in at)

    return plant


def _thing(**keys: Any) -> Plant:
    """Other values of the first thing's."""

    def plant(block: list[Table], n: int) -> tuple[str, ...]:
        found = next(keys for heading, keys in block if heading == "[[item]]")
        found.update(
            {key: value(n, found, block) if callable(value) else value for key, value in keys.items()}
        )
        return (f'item "{found["name"]}"',)

    return plant


def _item_wider_than(key: str) -> Callable[..., Any]:
    return lambda n, found, block: (
        sum(keys["size"][0] for heading, keys in block if heading == "[[item]]") * 0.8
    )


def _without_size(block: list[Table]) -> tuple[str, ...]:
    found = next(keys for heading, keys in block if heading == "[[item]]")
    del found["size"]
    return (f'item "{found["name"]}"',)


def _outlined(outline: object) -> Plant:
    """The first thing by an outline in place of its size."""

    def plant(block: list[Table], n: int) -> tuple[str, ...]:
        found = next(keys for heading, keys in block if heading == "[[item]]")
        found.pop("size", None)
        found.update(outline=outline, thickness=3)
        return (f'item "{found["name"]}"',)

    return plant


def _first_seam(block: list[Table], runs: Any) -> tuple[str, ...]:
    found = next(keys for heading, keys in block if heading == "[[seam]]")
    del found["runs"]
    return (f'seam "{found["name"]}"',)


def _part_of(block: list[Table]) -> dict[str, Any]:
    return next(keys for heading, keys in block if heading == "[[part]]" and "on" in keys)


def _small_base(block: list[Table], n: int) -> tuple[str, ...]:
    """A base as wide as nothing: its part has no room."""
    keys_of(block, f"back{n}")["rectangle"] = [50, 200]
    return (f'part "{_part_of(block)["name"]}"',)


def _moved_part(block: list[Table], n: int) -> tuple[str, ...]:
    found = _part_of(block)
    found["at"] = [keys_of(block, f"back{n}")["rectangle"][0] - 10, 40]
    return (f'part "{found["name"]}"',)


def _line_off(block: list[Table], n: int) -> tuple[str, ...]:
    lines = keys_of(block, f"back{n}")["lines"]
    lines[f"f{n}"] = [[x, y - 30] for x, y in lines[f"f{n}"]]
    return (f'piece "back{n}"',)


def _unlike(block: list[Table], n: int) -> tuple[str, ...]:
    lines = keys_of(block, f"back{n}")["lines"]
    (x, y), (x2, y2) = lines[f"f{n}"]
    lines[f"f{n}"] = [[x, y], [x2 - 30, y2]]
    return (f'seam "foot{n}"',)


def _on_stitches(block: list[Table], n: int) -> tuple[str, ...]:
    keys_of(block, f"rivet{n}")["at"] = [[4.5, 30]]
    return (f'opening "rivet{n}"', f'seam "rim{n}"')


def _moved(block: list[Table], entry: str, at: Any, *told: str) -> tuple[str, ...]:
    keys_of(block, entry)["at"] = at
    return told


def _room_apart(block: list[Table], n: int) -> tuple[str, ...]:
    """A thing between a piece and one that lies by itself."""
    block += [
        piece(f"loose{n}", rectangle=[60, 90]),
        part(f"room{n}", "room", on=f"front{n}", cover=f"loose{n}", at=[10, 10]),
        item(f"thing{n}", f"room{n}", size=[15, 2, 40]),
    ]
    return (f'part "room{n}"',)


def _hindmost(block: list[Table], n: int) -> tuple[str, ...]:
    """A flap that closes on the hindmost of stepped pockets."""
    pocket = keys_of(block, f"pocket{n}")
    del pocket["rivets"]
    pocket.update(kind="stepped pockets", steps=3)
    keys_of(block, f"thing{n}")["size"] = [80, 0.76, 54]
    keys_of(block, f"flap{n}")["to"] = f"pocket{n} 1"
    return (f'part "flap{n}"',)


def _misspelt(block: list[Table], heading: str, key: str, instead: str, told: str = "") -> tuple[str, ...]:
    """A key of the first entry under a heading, misspelt."""
    keys = next(keys for each, keys in block if each == heading)
    name = keys["name"]
    keys[instead] = keys.pop(key)
    return (told or f'{heading.strip("[]")} "{name}"',)


def _headed(block: list[Table], heading: str, instead: str) -> tuple[str, ...]:
    """The last entry under a heading, under a misspelt one."""
    k = max(k for k, (each, _) in enumerate(block) if each == heading)
    block[k] = (instead, block[k][1])
    return (instead.strip("[]"),)


PARTS = ("flat", "bowed", "boxed")
HOLD = (*PARTS, "row")

# Name of the fault: (the blocks it can be planted in, how).
PLANTS: Mapping[str, tuple[tuple[str, ...], Plant]] = {
    # read
    "letter mistyped": (("patch",), _set("rim", runs=lambda n, *_: [f"front{n}: D-A-B-E", f"back{n}"])),
    "line mistyped": (("slanted",), _set("foot", runs=lambda n, *_: [f"front{n}: A-B", f"back{n}: fot{n}"])),
    "unknown piece in a run": (("patch",), _set("rim", runs=lambda n, *_: [f"frnt{n}: D-A-B-C", f"back{n}"])),
    "unknown piece under a part": ((*PARTS,), _set("pocket", on=lambda n, *_: f"nowhere{n}")),
    "unknown piece under a piece": (("patch", "slanted"), _set("front", on=lambda n, *_: f"nowhere{n}")),
    "unknown piece in an opening": (
        ("patch",),
        _set("rivet", through=lambda n, *_: [f"front{n}", f"bck{n}"]),
    ),
    "unknown part of an item": (HOLD, _thing(**{"in": lambda n, *_: f"nowhere{n}"})),
    "a piece renamed": (
        ("slanted",),
        _renamed("front", 'seam "left{n}"', 'seam "foot{n}"', 'piece "zzz{n}"'),
    ),
    "a base renamed": (HOLD, _renamed("back", 'part "pocket{n}"', 'part "holder{n}"')),
    "a part renamed": (PARTS, _renamed("pocket", 'item "thing{n}"', 'item "thing{n}0"', 'part "zzz{n}"')),
    "no size": (("patch",), _without("back", "rectangle")),
    "no size of an item": (PARTS, lambda b, n: _without_size(b)),
    "a drawing that is not there": (PARTS, _outlined("nowhere.svg#thing")),
    "a thing's outline that crosses itself": (PARTS, _outlined([[0, 0], [20, 90], [20, 0], [0, 60]])),
    "no base": (PARTS, _without("pocket", "on")),
    "no kind of a part": (PARTS, _without("pocket", "kind")),
    "no runs": (("patch", "slanted"), lambda b, n: _first_seam(b, runs=None)),
    "unknown kind of a part": (PARTS, _set("pocket", kind="pouch")),
    "another kind of opening": (("patch",), _set("rivet", kind="slot")),
    "a decimal comma": (("patch",), _set("front", rectangle=["80,5 mm", 60])),
    "an item of no width": (PARTS, _thing(size=[0, 5, 90])),
    "a misspelt runs": (
        ("patch", "slanted", "folded"),
        lambda b, n: _misspelt(b, "[[seam]]", "runs", "rnus"),
    ),
    "a misspelt name of a seam": (
        ("patch", "slanted", "folded"),
        lambda b, n: _misspelt(b, "[[seam]]", "name", "naem", "seam 1"),
    ),
    "a misspelt size": (PARTS, lambda b, n: _misspelt(b, "[[item]]", "size", "sise")),
    "a misspelt in": (HOLD, lambda b, n: _misspelt(b, "[[item]]", "in", "im")),
    "a misspelt on of a part": (HOLD, lambda b, n: _misspelt(b, "[[part]]", "on", "om")),
    "a misspelt kind": (HOLD, lambda b, n: _misspelt(b, "[[part]]", "kind", "kidn")),
    "a misspelt rectangle": (
        ("patch", *HOLD),
        lambda b, n: _misspelt(b, "[[piece]]", "rectangle", "rectangel"),
    ),
    "a misspelt heading of an item": (PARTS, lambda b, n: _headed(b, "[[item]]", "[[itme]]")),
    "a misspelt heading of a part": (HOLD, lambda b, n: _headed(b, "[[part]]", "[[prt]]")),
    "a misspelt heading of a piece": (("patch",), lambda b, n: _headed(b, "[[piece]]", "[[peice]]")),
    "a misspelt key": (("patch", "slanted"), _set("front", trun=5)),
    "a name twice": (("patch",), _set("front", told=('piece "back{n}"',), name=lambda n, *_: f"back{n}")),
    "placed on nothing": (("patch",), _without("front", "on")),
    "a room under a loose piece": (("patch",), _room_apart),
    # draft
    "a part too big": (HOLD, _small_base),
    "a part too far right": (HOLD, _moved_part),
    "an item wider than its part": (("flat", "bowed"), _set("pocket", width=_item_wider_than("width"))),
    "a pocket too low": (PARTS, _set("pocket", height=6.0)),
    "a gap too small": (("row",), _set("holder", gap=0.5)),
    "a flap too wide": (("flapped",), _set("flap", width=300)),
    "a flap too round": (("flapped",), _set("flap", width=60, round=40)),
    "a lap too small": (("flapped",), _set("flap", lap=6)),
    "a stud too near": (("flapped",), _set("flap", reach=4)),
    "a flap on the hindmost step": (("flapped",), _hindmost),
    "a flap on nothing": (("flapped",), _set("flap", to=lambda n, *_: f"zzz{n}")),
    "a loop too narrow": (("worn",), _set("loop", strap=10)),
    "a loop too round": (("worn",), _set("loop", round=18)),
    "a slung loop too high up": (("worn",), _set("loop", hang="slung", at=[100, 250])),
    "a handle's strap too narrow": (("worn",), _set("sheath", handle_strap=12)),
    "a welt too narrow": (("worn",), _set("sheath", welt=5)),
    "a welt too thin": (
        ("worn",),
        lambda b, n: (keys_of(b, f"sheath{n} welt").update(thickness=1.5), (f'piece "sheath{n} welt"',))[1],
    ),
    "a tip too long": (("worn",), _thing(tip=200)),
    "a sheath held twice": (("worn",), _set("sheath", on=lambda n, *_: f"back{n}", at=[10, 10])),
    "a strap too narrow": (("row",), _set("holder", strap=6)),
    "a radius too big": (("patch",), _set("front", round=200)),
    "a radius of a base too big": (HOLD, _set("back", round=400)),
    "a radius of a lined piece too big": (("flat",), _set("lid", round=100)),
    "a lining set in too far": (("flat",), _set("lining", inset_by=80)),
    "a fold off the piece": (
        ("folded",),
        _set(
            "strap",
            folds=lambda n, found, _: {
                f"bend{n}": {"line": [[0, 100], [found["rectangle"][0] + 5, 100]], "angle": 180}
            },
        ),
    ),
    "a fold without room": (
        ("folded",),
        _set(
            "strap",
            folds=lambda n, found, _: {
                f"bend{n}": {"line": [[0, 100], [found["rectangle"][0], 100]], "angle": 180, "radius": 300}
            },
        ),
    ),
    "a line off the piece": (("slanted",), _line_off),
    "an inset too big": (("patch",), _set("rim", told=('seam "rim{n}"',), inset=70)),
    "a run shortened too far": (
        ("patch",),
        _set("rim", runs=lambda n, *_: [{"run": f"front{n}: D-A-B-C", "from_start": 900}, f"back{n}"]),
    ),
    "a trim too wide": (
        ("patch",),
        _set("front", points=[[0, 0], [60, 0], [60, 60], [30, 20], [0, 60]], trim={"C-D": 30}),
    ),
    "an outline that crosses itself": (
        ("slanted",),
        _set("front", points=[[0, 0], [90, 90], [90, 0], [0, 90]]),
    ),
    "an opening beside its pieces": (
        ("patch",),
        lambda b, n: _moved(b, f"rivet{n}", [[400, 400]], f'opening "rivet{n}"'),
    ),
    # punch
    "unlike lengths": (("slanted",), _unlike),
    "a run on a wrong edge": (
        ("slanted",),
        _set("foot", runs=lambda n, *_: [f"front{n}: B-C-D", f"back{n}: f{n}"]),
    ),
    "a piece off its base": (
        ("patch",),
        lambda b, n: _moved(b, f"front{n}", [400, 30], f'piece "front{n}"', f'seam "rim{n}"'),
    ),
    "a pitch too small": (("patch",), _set("rim", pitch=1.5)),
    "an inset too small": (("patch",), _set("top", inset=1.0)),
    "holes too large": (("patch",), _set("rim", hole={"round": 6})),
    "thread too thick": (("patch",), _set("rim", thread=2.5)),
    "an opening past the edge": (
        ("patch",),
        lambda b, n: _moved(b, f"rivet{n}", [[1, 40]], f'opening "rivet{n}"'),
    ),
    "an opening on the stitches": (("patch",), _on_stitches),
}


PLANTED = [(fault, block) for fault, (blocks, _) in PLANTS.items() for block in blocks]


def errors_of(text: str) -> list[Finding]:
    """All errors that reading, drafting and punching tell."""
    try:
        punched_from(read_project_text(text, file="p.toml", folder=Path()))
    except ProjectError as refused:
        return [found for found in refused.findings if found.severity is Severity.ERROR]
    return []


def a_block(data: st.DataObject, kind: str, number: int) -> list[Table]:
    return BLOCKS[kind](number, lambda low, high: float(data.draw(st.integers(int(low), int(high)))))


# Where an entry's name is not known, or several have it, no other name can be told as unknown beside it.
LEAVES_NAMES_OPEN = {"a name twice", *(fault for fault in PLANTS if "heading" in fault or "name of" in fault)}


def is_of_reading(told: Finding) -> bool:
    """Whether the file could not be read for it: nothing is drafted then."""
    return any(key.partition("/")[0] == told.code for key in READING)


def alone(fault: str, block: list[Table], number: int, sound: list[Table]) -> Finding:
    """The one message that a fault gives, at the fault."""
    places = PLANTS[fault][1](block, number)
    told = errors_of(written([*block, *sound]))
    assert len(told) == 1, [str(found) for found in told]
    assert told[0].where.key.startswith(places), str(told[0])
    return told[0]


@pytest.mark.parametrize("kind", BLOCKS)
@settings(derandomize=True, deadline=None, max_examples=25)
@given(data=st.data())
def test_the_projects_are_sound(kind: str, data: st.DataObject) -> None:
    assert [str(found) for found in errors_of(written(a_block(data, kind, 1)))] == []


ONE = given(data=st.data(), beside=st.sampled_from(list(BLOCKS)))


@pytest.mark.long
@pytest.mark.parametrize(("fault", "kind"), PLANTED)
@settings(derandomize=True, deadline=None, max_examples=15)
@ONE
def test_one_fault_gives_one_message_at_the_fault(
    fault: str, kind: str, data: st.DataObject, beside: str
) -> None:
    alone(fault, a_block(data, kind, 1), 1, a_block(data, beside, 2))


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=300)
@given(data=st.data())
def test_two_faults_give_two_messages(data: st.DataObject) -> None:
    """Two faults in two blocks, told together; those of reading alone where there are any."""
    pairs = st.sampled_from([each for each in PLANTED if each[0] not in LEAVES_NAMES_OPEN])
    (fault, kind), (other, beside) = data.draw(pairs), data.draw(pairs)
    blocks = [a_block(data, kind, 1), a_block(data, beside, 2)]
    sound = [deepcopy(block) for block in blocks]
    first = alone(fault, blocks[0], 1, sound[1])
    second = alone(other, blocks[1], 2, sound[0])
    told = sorted((each.code, each.where.key) for each in errors_of(written([*blocks[0], *blocks[1]])))
    read = [is_of_reading(each) for each in (first, second)]
    wanted = [each for each, early in zip((first, second), read, strict=True) if early or not any(read)]
    assert told == sorted((each.code, each.where.key) for each in wanted)
