"""Choices: one way to cut for each piece, and which of them are worth trying together.

In: for each piece the ways it may be cut. Out: choices, by their joins, those first that should take fewest
sheets.
"""

from __future__ import annotations

from collections.abc import Sequence
from operator import add
from typing import Any

from handkit.sheets.cut.candidates import Candidate

# Choices that are tried with so many joins.
OF_EACH = 8

Choice = tuple[Candidate, ...]


def cost_of(choice: Choice) -> tuple[float, ...]:
    """Joins, joins through holes, through letters, line across joins: all pieces' together."""
    return tuple(sum(costs) for costs in zip(*(one.cost for one in choice), strict=True))


def choices_by_joins(pieces: Sequence[Sequence[Candidate]]) -> dict[int, list[Choice]]:
    """For each number of joins the choices that should take fewest sheets, best first."""
    found: dict[int, list[_Chosen]] = {0: [(0.0, (0.0,) * 4, ())]}
    for ways in pieces:
        priced = [(len(way.cut.joins), way.pages, way.cost, way) for way in ways]
        longer: dict[int, list[_Chosen]] = {}
        for before, choices in found.items():
            for joins, pages, cost, way in priced:
                longer.setdefault(before + joins, []).extend(
                    (before_pages + pages, tuple(map(add, costs, cost)), (chosen, way))
                    for before_pages, costs, chosen in choices
                )
        found = {joins: sorted(some, key=_promise_of)[:OF_EACH] for joins, some in longer.items()}
    return {joins: [_flat(chosen) for *_, chosen in some] for joins, some in found.items()}


# Pages and costs of the first pieces' cuts together, and these cuts: those before, the last one.
_Chosen = tuple[float, tuple[float, ...], tuple[Any, ...]]


def _promise_of(chosen: _Chosen) -> tuple[float, ...]:
    return (round(chosen[0], 3), *chosen[1])


def _flat(chosen: tuple[Any, ...]) -> Choice:
    """The cuts in the pieces' order."""
    found: list[Candidate] = []
    while chosen:
        chosen, way = chosen
        found.append(way)
    return tuple(reversed(found))


def promise(choice: Choice) -> tuple[float, ...]:
    """Less should take fewer sheets."""
    return (round(sum(one.pages for one in choice), 3), *cost_of(choice))
