"""Works as values: seams with how they are sewn, openings, fittings, the page.

In: records as read or drafted. Out: values by key. What most seams have stands in [stitching], and a seam
says what it has otherwise.
"""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Sequence
from typing import Any

import msgspec

from handkit.paper import Layout
from handkit.read.entries.seams import HOLE_PER_THREAD
from handkit.read.project import (
    Edges,
    Fitting,
    Layer,
    Opening,
    PageOptions,
    RoundHole,
    Seam,
    SlitHole,
    StitchHole,
    Stitching,
)
from handkit.read.schema.keys import BACK, BACK_FINE, FINE_PITCH, STITCHING_KEYS, TABLES
from handkit.read.values.lengths import CLEAN
from handkit.read.written.values import NOTHING, Values, alike

_FIELDS = {"longest": "longest_side", "hand": "left_handed"}
# What hangs on a seam's own thread and pitch where neither it nor [stitching] says it.
_BY_SEAM = ("hole", "back")


def stitching_values(stitching: Stitching) -> Values:
    """All that is said of how a seam is sewn."""
    values = {key: getattr(stitching, _FIELDS.get(key, key)) for key in STITCHING_KEYS}
    return values | {
        "hand": "left" if stitching.left_handed else "right",
        "hole": _hole(stitching.hole),
        "iron": msgspec.structs.asdict(stitching.iron) if stitching.iron is not None else None,
    }


def _hole(hole: StitchHole) -> Values:
    if isinstance(hole, SlitHole):
        return {"slit": hole.width, "slant": hole.slant}
    return {"round": hole.diameter}


def _defaults() -> Values:
    keys = TABLES["stitching"].keys.items()
    return {"start_back": 0} | {name: key.default for name, key in keys if key.default is not None}


def _left_out(values: Values) -> Values:
    """What a seam with these values has where nothing is said, and what hangs on them."""
    back = BACK_FINE if values["pitch"] <= FINE_PITCH else BACK
    hole = _hole(RoundHole(HOLE_PER_THREAD * values["thread"]))
    return {**_defaults(), "hole": hole, "back": back}


def common_stitching(seams: Sequence[Seam]) -> Values:
    """What [stitching] says: of each key what most seams have, but for what one of them can't unsay."""
    listed = [stitching_values(seam.stitching) for seam in seams]
    common: dict[str, Any] = {}
    plain = _defaults()
    for key in STITCHING_KEYS:
        found = [values[key] for values in listed]
        by_seam = key in _BY_SEAM and all(alike(values[key], _left_out(values)[key]) for values in listed)
        if not found or None in found or by_seam:
            continue
        counted = Counter(map(repr, found))
        most = max(found, key=lambda value: counted[repr(value)] - (not alike(value, plain.get(key))) / 2)
        if not alike(most, plain.get(key)):
            common[key] = most
    return common


def seam_values(seam: Seam) -> Values:
    """The values of a seam, with all that is said of how it is sewn."""
    return {
        "name": seam.name,
        "runs": [_run(layer, seam.stitching.inset) for layer in seam.layers],
        "bowed": seam.bowed,
        "match": [match.places for match in seam.matches],
        "after": seam.after,
        "note": seam.note,
        **stitching_values(seam.stitching),
    }


def usual_stitching(seam: Seam, common: Values = NOTHING) -> Values:
    """What a seam has where it says nothing; `common` are the values of [stitching]."""
    own = stitching_values(seam.stitching)
    return {**_left_out(own), **common}


def _run(layer: Layer, inset: float) -> str | Values:
    """A layer as a run: its text alone, where it has no settings of its own."""
    text = layer.piece if layer.run is None else f"{layer.piece}: {layer.run}"
    settings = {
        "from_start": layer.from_start,
        "from_end": layer.from_end,
        "inset": layer.inset if isinstance(layer.run, Edges) and not alike(layer.inset, inset) else None,
        "side": layer.side,
    }
    return {"run": text, **settings} if any(settings.values()) or settings["inset"] == 0 else text


def opening_values(opening: Opening) -> Values:
    """The values of an opening."""
    traits = opening.traits
    is_slot = traits.long
    row = _row_of(opening.at)
    return {
        "name": opening.name,
        "kind": opening.kind,
        "hole": None if is_slot else opening.diameter,
        "slot": (opening.length, opening.diameter) if is_slot else None,
        "turn": opening.turn_degrees if "turn" in traits.keys else None,
        "cap": opening.cap or None,
        "through": opening.through,
        "at": opening.at[:1] if row else opening.at,
        "row": row,
        "places": dict(opening.places),
        "mate": opening.mate,
        "note": opening.note,
        "post": opening.post,
    }


def _row_of(places: Sequence[tuple[float, float]]) -> tuple[int, float, float] | None:
    """The row that three or more places make, in even steps; None where they make none."""
    if len(places) < 3:
        return None
    (x, y), (x1, y1) = places[:2]
    dx, dy = round(x1 - x, CLEAN), round(y1 - y, CLEAN)
    stepped = [(x + k * dx, y + k * dy) for k in range(len(places))]
    return (len(places), dx, dy) if alike(tuple(places), tuple(stepped)) else None


def fitting_values(fitting: Fitting) -> Values:
    """The values of a fitting: its fields are called like the keys."""
    return {key: getattr(fitting, key) for key in TABLES["fitting"].keys}


def page_values(page: PageOptions, folder: str) -> Values:
    """The values of the page; a font's path from `folder` on."""
    layout = {key: getattr(page.layout, key) for key in Layout.__struct_fields__}
    return layout | {
        "paper": page.paper.name,
        "edge": page.edge,
        "margin": page.margin,
        "overlap": page.overlap,
        "font": page.font and os.path.relpath(page.font, folder).replace(os.sep, "/"),
    }
