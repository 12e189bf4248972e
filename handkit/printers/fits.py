"""Fits: how large a page comes out that a print dialog fits to its paper.

In: the paper it was drawn for, the one it is printed on, what the printer loses at the edges in mm; or shares
that were measured. Out: shares; or the fits that would explain them.

A fitted page keeps its shape and is made as large as what the printer reaches: its share of full size is
min((paper − 2·edge) ÷ page) over both sides (plain arithmetic; a printer manual's table of such shares is
reproduced by it, tests/draw/test_print_check.py). Edges that differ from side to side count by their sum.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.paper import PAPERS, Paper

# What printers lose at an edge, in mm: most inkjets 3, lasers up to 12.7 (common practice, no source).
LEAST_EDGE, MOST_EDGE = 3.0, 12.7

# Up to this share an error may be an honest printer's own, and is corrected (common practice, no source).
HONEST = 0.015

# What sums of floats leave, of shares and of mm.
NOISE = 1e-9


class FitToPaper(msgspec.Struct, frozen=True):
    """The paper a page may have been fitted to, and the edge in mm that make it come out as measured."""

    paper: str
    edge: float


def fit_share(drawn: Paper, paper: Paper, edge: float) -> float:
    """How large a page comes out.

    >>> from handkit.paper import paper_named
    >>> a4, letter = paper_named("A4"), paper_named("letter")
    >>> round(fit_share(a4, a4, 3), 4), round(fit_share(a4, letter, 0), 4)  # by hand: 204/210, 279.4/297
    (0.9714, 0.9407)
    """
    return min((paper.width - 2 * edge) / drawn.width, (paper.height - 2 * edge) / drawn.height)


def fit_edge(drawn: Paper, paper: Paper, share: float) -> float:
    """The edge by which a page comes out so large: `fit_share` the other way round. Below 0 there is none.

    >>> from handkit.paper import paper_named
    >>> a4 = paper_named("A4")
    >>> round(fit_edge(a4, a4, 204 / 210), 6)
    3.0
    """
    return min((paper.width - share * drawn.width) / 2, (paper.height - share * drawn.height) / 2)


def known_fits(drawn: Paper, low: float, high: float) -> tuple[FitToPaper, ...]:
    """Fits to any known paper, with edges that printers have or borderless to another paper, by which a page
    may come out between two shares."""
    return tuple(_fits(drawn, low, high, LEAST_EDGE))


def thinkable_fits(drawn: Paper, low: float, high: float) -> tuple[FitToPaper, ...]:
    """The same with edges down to none at all."""
    return tuple(_fits(drawn, low, high, 0.0))


def _fits(drawn: Paper, low: float, high: float, least: float) -> Iterator[FitToPaper]:
    """The paper of its own first; of edges that would do, the one in the middle."""
    papers = [drawn, *(paper for paper in PAPERS if paper.name != drawn.name)]
    for paper in papers:
        edges = fit_edge(drawn, paper, high), fit_edge(drawn, paper, low)
        ends = max(edges[0], least), min(edges[1], MOST_EDGE)
        if ends[0] <= ends[1] + NOISE:
            yield FitToPaper(paper.name, sum(ends) / 2)
        elif paper is not drawn and edges[0] - NOISE <= 0 <= edges[1] + NOISE:
            yield FitToPaper(paper.name, 0.0)
