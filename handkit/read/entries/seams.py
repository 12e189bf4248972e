"""Seams: every [[seam]] of the project file, its layers and the points that must meet.

In: the entries, the [stitching] entry, the pieces. Out: `Seam`s in the file's order. Whether the
lines can be drawn and matched is the business of later steps.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handkit.findings import Source
from handkit.read.checks.rings import ring_words, rings
from handkit.read.entries.entry import Entry
from handkit.read.entries.layers import read_layers, tell_layers
from handkit.read.entries.matches import read_matches
from handkit.read.entries.stitching import read_stitching
from handkit.read.project import Piece, Seam
from handkit.read.schema.keys import STITCHING_KEYS
from handkit.read.values.spot import Fault, unknown


def read_seams(entries: Sequence[Entry], common: Entry, pieces: Mapping[str, Piece]) -> tuple[Seam, ...]:
    """All seams. `common` is the [stitching] entry."""
    return tuple(_seam(entry, common, pieces) for entry in entries)


def _seam(entry: Entry, common: Entry, pieces: Mapping[str, Piece]) -> Seam:
    stitching = read_stitching(entry, common)
    layers = read_layers(entry, pieces, inset=stitching.inset)
    tell_layers(entry, layers, pieces)
    return Seam(
        source=_source(entry, common),
        name=entry.name() or "",
        layers=tuple(layer for layer in layers if layer is not None),
        stitching=stitching,
        bowed=entry.flag("bowed"),
        matches=read_matches(entry, layers, pieces),
        after=tuple(text for text, _ in entry.texts("after")),
        note=entry.text("note"),
    )


def _source(entry: Entry, common: Entry) -> Source:
    """The seam's source; what it takes from [stitching] has the lines there."""
    source = entry.source()
    taken = tuple(
        (key, common.at(key).where().line) for key in STITCHING_KEYS if common.has(key) and not entry.has(key)
    )
    return Source(source.file, source.path, source.line, source.keys + taken)


def tell_order(entries: Sequence[Entry], works: Sequence[str]) -> None:
    """Tell what is in no order of work: after nothing known, after itself, or in a circle.

    `works` are the names of all seams and openings.
    """
    links: dict[str, list[str]] = {}
    by_name: dict[str, Entry] = {}
    for entry in entries:
        name = entry.name() or ""
        listed = [text for text, _ in entry.texts("after")]
        for text, spot in entry.texts("after"):
            if text not in works:
                others = [work for work in works if work != name]
                spot.refuse(unknown("unknown-work", text, others, what="seam or opening"))
        if name and name not in by_name:
            by_name[name] = entry
            links[name] = listed
    for ring in rings(links):
        fault = Fault("after-circle", ring_words(ring), "an order without a circle", "take one of them out")
        by_name[ring[0]].at("after").refuse(fault)
