"""Whatever must come before whatever: the order keeps it all, or names a circle."""

from __future__ import annotations

from graphlib import CycleError, TopologicalSorter
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.errors import ProjectError
from handkit.findings import Source
from handkit.stitch.order.order import in_working_order
from handkit.stitch.order.precedence import Precedence, PrecedenceGraph, cycle_findings
from handkit.stitch.order.tasks import Task, TaskKind

COUNT = 9
PAIRS = st.lists(st.tuples(st.integers(0, COUNT - 1), st.integers(0, COUNT - 1)), max_size=16)


def works_after(pairs: list[tuple[int, int]], depths: list[int]) -> list[Task]:
    """Seams that each name what the file wants before them."""
    return [
        Task(
            TaskKind.SEAM,
            f"s{k}",
            Source("p.toml", f'seam "s{k}"', k + 1),
            layers=(),
            pitch=4,
            reach=8,
            joins=True,
            hardware=False,
            depth=depths[k],
            after=tuple(f"s{first}" for first, then in pairs if then == k),
        )
        for k in range(COUNT)
    ]


def can_be_sorted(pairs: list[tuple[int, int]]) -> bool:
    """By the standard library's sorter."""
    sorter: TopologicalSorter[int] = TopologicalSorter()
    for first, then in pairs:
        sorter.add(then, first)
    try:
        sorter.prepare()
    except CycleError:
        return False
    return True


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=300)
@given(PAIRS, st.lists(st.integers(0, 3), min_size=COUNT, max_size=COUNT))
def test_the_order_keeps_all_or_names_a_circle(pairs: list[tuple[int, int]], depths: list[int]) -> None:
    tasks = works_after(pairs, depths)
    try:
        order = [work.name for work in in_working_order(tasks, ()).tasks]
    except ProjectError as refused:
        assert not can_be_sorted(pairs)
        assert {finding.code for finding in refused.findings} == {"order-circle"}
        return
    assert can_be_sorted(pairs)
    assert sorted(order) == [work.name for work in tasks]
    assert all(order.index(f"s{first}") < order.index(f"s{then}") for first, then in pairs)


@settings(derandomize=True, deadline=None, max_examples=200)
@given(PAIRS)
def test_of_what_is_free_the_inner_comes_first(pairs: list[tuple[int, int]]) -> None:
    """With depths by number, at each place stands the deepest that waits for nothing."""
    tasks = works_after([(a, b) for a, b in pairs if a < b], list(range(COUNT)))
    order = [int(work.name[1:]) for work in in_working_order(tasks, ()).tasks]
    for place, work in enumerate(order):
        free = {b for b in order[place:] if not any(a in order[place:] for a, c in pairs if c == b and a < b)}
        assert work == max(free)


@settings(derandomize=True, deadline=None, max_examples=200)
@given(PAIRS)
def test_a_circle_runs_round_along_musts(pairs: list[tuple[int, int]]) -> None:
    tasks = works_after([], [0] * COUNT)
    graph = PrecedenceGraph(tasks)
    for first, then in pairs:
        graph.add(Precedence(tasks[first], tasks[then], "so it is"))
    for work in tasks:
        row = graph.way(work, work)
        if row:
            assert row[0].first is row[-1].then is work
            assert all(a.then is b.first for a, b in pairwise(row))
            assert len({must.first for must in row}) == len(row)  # the shortest: nothing twice
    assert bool(cycle_findings(tasks, graph)) is not can_be_sorted(pairs)
