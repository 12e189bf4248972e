"""Seams: every [[seam]] of the project file, how it is sewn, its layers, the points that must meet.

In: the entries, whose common one is [stitching], and the pieces. Out: `Seam`s in the file's order.
What a hole and the back stitches are by default hangs on the seam's own thread and pitch; a drafted
pocket's have them at the start too, where that is pulled: at its mouth. Whether
the lines can be drawn and matched is the business of later steps.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from handkit.findings import Source
from handkit.read.checks.cycles import cycles
from handkit.read.entries.entry import Entry
from handkit.read.entries.layers import check_layers, read_layers
from handkit.read.entries.matches import read_matches
from handkit.read.file.project_file import unknown
from handkit.read.project import GLUE_CLEAR, Edges, Hold, Layer, Piece, RoundHole, Seam, Stitching
from handkit.read.schema.keys import BACK, BACK_FINE, FINE_PITCH, LEAST_STRIP

# Two strands side by side are two threads wide (common practice: the default for a round hole).
HOLE_PER_THREAD = 2.0


def read_stitching(entry: Entry) -> Stitching:
    """How a seam is sewn; of [stitching] itself, for its faults, how one that says nothing is sewn."""
    back, start_back = entry.get("back"), entry.get("start_back")
    usual = BACK_FINE if entry.get("pitch") <= FINE_PITCH else BACK
    if start_back is None:
        start_back = usual if entry.drafted is not None and entry.drafted.pulled else 0
    held = entry.has("hold") or (entry.common is not None and entry.common.has("hold"))
    return entry.record(
        Stitching,
        hold=entry.get("hold") if held else None,
        hole=entry.get("hole") or RoundHole(HOLE_PER_THREAD * entry.get("thread")),
        back=usual if back is None else back,
        start_back=start_back,
        longest_side=entry.get("longest"),
        left_handed=entry.get("hand") == "left",
    )


def read_seams(
    entries: Sequence[Entry], pieces: Mapping[str, Piece], taped: frozenset[str] = frozenset()
) -> tuple[Seam, ...]:
    """All seams; `taped` are the names of those that a zip says it is sewn in by."""
    return tuple(_seam(entry, pieces, taped) for entry in entries)


def _seam(entry: Entry, pieces: Mapping[str, Piece], taped: frozenset[str]) -> Seam:
    stitching = read_stitching(entry)
    for past, turns in (("past_start", "wrap_start"), ("past_end", "wrap_end")):
        if entry.has(past) and entry.get(past) > 0 and not entry.get(turns):  # no turn would use the hole
            entry.at(past).report("past-without-turns", key=past, turns=turns)
    layers = read_layers(entry, pieces, inset=stitching.inset)
    check_layers(entry, layers, pieces, taped)
    if stitching.glue is not None:
        _check_glue(entry, stitching, layers)
    return entry.record(
        Seam,
        source=_source(entry),
        name=entry.name() or "",
        layers=tuple(layer for layer in layers if layer is not None),
        stitching=stitching,
        matches=read_matches(entry, layers),
        part=_drafting(entry),
    )


def _drafting(entry: Entry) -> str | None:
    """The part that drafts a seam; None where the file itself says how its ends are locked."""
    stated = any(key in entry.table for key in ("back", "start_back"))
    return None if entry.drafted is None or stated else entry.drafted.part.name


def _check_glue(entry: Entry, stitching: Stitching, layers: Sequence[Layer | None]) -> None:
    """A strip without glue is of no use, and along an edge it ends short of the holes."""
    width, where = stitching.glue or 0.0, entry.at("glue")
    if stitching.hold in (Hold.CLIPS, Hold.NONE):
        where.report("glue-not-held", hold=stitching.hold.value)
    insets = [layer.inset for layer in layers if layer is not None and isinstance(layer.run, Edges)]
    rim = stitching.hole.width / 2 + GLUE_CLEAR
    if insets and round(width + rim - min(insets), 6) > 0:
        most = min(insets) - rim
        inset = width + rim
        if most >= LEAST_STRIP:
            where.report("glue-over-holes", width=width, most=most)
        else:
            where.report("glue-over-holes/none", width=width, inset=inset)


def _source(entry: Entry) -> Source:
    """The seam's source; what it takes from [stitching] has the lines there."""
    source, common = entry.source(), entry.common
    if common is None:
        return source
    taken = tuple(each for each in common.source().keys if not entry.has(each[0]))
    shared = tuple(key for key, _ in taken)
    path = common.location.words
    return msgspec.structs.replace(source, keys=(*source.keys, *taken), common=path, shared=shared)


def check_order(entries: Sequence[Entry], works: Sequence[str]) -> None:
    """Report what is in no order of work: after nothing known, after itself, or in a circle.

    `works` are the names of all seams and openings.
    """
    links: dict[str, tuple[str, ...]] = {}
    by_name: dict[str, Entry] = {}
    for entry in entries:
        name, after = entry.name() or "", entry.texts("after")
        for field in after:
            if field.value not in works:
                others = [work for work in works if work != name]
                field.location.report(unknown("unknown-work", str(field.value), others))
        if name and name not in by_name:
            by_name[name] = entry
            links[name] = tuple(str(field.value) for field in after)
    for cycle in cycles(links):
        by_name[cycle[0]].at("after").report("after-circle", names=cycle)
