"""Edge works: hems, turned edges, bindings and seam allowances of a piece.

In: a piece's entry, its corner letters, its trims. Out: `WorkedEdge`s, in the order of the kinds; an edge
may have one of them, or a trim.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial

from handkit.findings import finding
from handkit.kinds.edge_works import EdgeWork
from handkit.kinds.materials import MATERIALS, Material
from handkit.kinds.rows import table
from handkit.read.entries.edges import LetterPair, by_edges, single_edges
from handkit.read.entries.entry import Entry, entry_of
from handkit.read.project import Edges, Trim, WorkedEdge
from handkit.read.schema.keys import TAPE, TURN_IN
from handkit.read.schema.rules import Kind
from handkit.read.values.field import Field
from handkit.read.values.plain import read_length

# A tape catches at least this much of either face (common practice, no source).
LEAST_CATCH = 3.0

TakenEdges = Mapping[LetterPair, str]

_Numbers = tuple[float, int, float, float]  # of a `WorkedEdge`: width, turns, turn-in, tape


def read_works(
    entry: Entry, letters: Sequence[str], taken: TakenEdges, *, thickness: float, material: Material
) -> tuple[WorkedEdge, ...]:
    """Those that the entry states; an edge that has two, or is `taken` otherwise, is reported."""
    taken = dict(taken)
    found: list[WorkedEdge] = []
    taking = Material.CANVAS if _promised(entry) else material
    for work, reader in _READERS.items():
        read = partial(reader, thickness=thickness, material=taking)
        for edges, numbers in by_edges(entry.get(work.value), letters, read):
            _check_taken(entry, work, edges, taken)
            found.append(WorkedEdge(work, edges, *numbers))
        taken.update(taken_by((), found))
    return tuple(found)


def _promised(entry: Entry) -> bool:
    """Whether its hems are those that its part promises, which tells whether its material takes them."""
    placeholder = entry.drafted.placeholder if entry.drafted is not None else None
    return placeholder is not None and placeholder.states.get("hem") == entry.table.get("hem")


def taken_by(trims: Iterable[Trim], works: Iterable[WorkedEdge]) -> dict[LetterPair, str]:
    """The edges that have a trim or a work, each with its key."""
    keys = (*((each.edges, "trim") for each in trims), *((each.edges, each.work.value) for each in works))
    return {pair: key for edges, key in keys for pair in single_edges(edges)}


def _check_taken(entry: Entry, work: EdgeWork, edges: Edges, taken: Mapping[LetterPair, str]) -> None:
    for pair in (pair for pair in single_edges(edges) if pair in taken):
        entry.at(work.value).report("edge-worked-twice", edge="-".join(pair), first=taken[pair], second=work)


def _hem(field: Field, *, thickness: float, material: Material) -> _Numbers | None:
    """Width, turns and turn-in, from a number or a table."""
    if not isinstance(field.value, dict):
        return read_length(field.of_kind(Kind.LENGTH)), 1, 0.0, 0.0
    hem = entry_of("hem", field)
    if hem is None:
        return None
    width, turns = hem.get("width"), hem.get("turns")
    if turns < 2:
        if hem.has("turn_in"):
            hem.at("turn_in").report("turn-in-once")
        return width, turns, 0.0, 0.0
    most = MATERIALS[material].turns
    if turns > most:
        told = finding("too-many-turns", hem.at("turns").where(), material=material, turns=turns, most=most)
        hem.at("turns").report(told.once(f"turns in line {told.where.line}"))  # a part's hems are in one
    turn_in = hem.get("turn_in") if hem.has("turn_in") else min(TURN_IN, width)
    if turn_in > width:
        hem.at("turn_in").report("turn-in-too-wide", turn_in=turn_in, width=width)
    return width, turns, turn_in, 0.0


def _turned(field: Field, *, thickness: float, material: Material) -> _Numbers:
    return read_length(field.of_kind(Kind.LENGTH)), 1, 0.0, 0.0


def _allowance(field: Field, *, thickness: float, material: Material) -> _Numbers:
    return read_length(field.of_kind(Kind.LENGTH)), 0, 0.0, 0.0


def _binding(field: Field, *, thickness: float, material: Material) -> _Numbers | None:
    """Width and thickness of the tape, from a number or a table."""
    if isinstance(field.value, dict):
        binding = entry_of("binding", field)
        if binding is None:
            return None
        width, tape = binding.get("width"), binding.get("thickness")
    else:
        width, tape = read_length(field.of_kind(Kind.LENGTH)), TAPE
    least = 2 * LEAST_CATCH + thickness
    if width < least:
        field.location.report(
            "binding-too-narrow", width=width, thickness=thickness, least=least, catch=LEAST_CATCH
        )
    return width, 0, 0.0, tape


_READERS: Mapping[EdgeWork, Callable[..., _Numbers | None]] = table(
    EdgeWork,
    {
        EdgeWork.HEM: _hem,
        EdgeWork.TURNED: _turned,
        EdgeWork.BINDING: _binding,
        EdgeWork.ALLOWANCE: _allowance,
    },
)
