"""The page: how much of the paper is drawn on, and what is refused about it.

In: paper, edge, margin, overlap in mm. Out: the size of the printable area, or findings.

Words: nothing is printed nearer to the sheet's edge than `edge`; drawing begins at `margin`;
between the two stand scale bars, the sheet's number and the neighbours' names.
"""

from __future__ import annotations

from collections.abc import Iterator

from handkit.findings import Finding, Source, error
from handkit.ink import LEAST_OVERLAP
from handkit.paper import Paper
from handkit.sheets.nest.packing import Size

# A scale bar's ticks with 2.5 mm figures need this between edge and margin.
STRIP = 4.0

# A window smaller than this is not worth a sheet, and the test square must fit one.
LEAST_DRAWN = 60.0


def drawn_size(paper: Paper, *, margin: float) -> Size:
    """Width and height of what is drawn on: the paper less the margin all round."""
    return Size(paper.width - 2 * margin, paper.height - 2 * margin)


def page_findings(
    source: Source, paper: Paper, *, edge: float, margin: float, overlap: float
) -> tuple[Finding, ...]:
    """What is wrong with these figures together; only errors."""
    return tuple(_margin_findings(source, paper, edge, margin)) + tuple(
        _overlap_findings(source, paper, margin, overlap)
    )


def mm(value: float) -> str:
    """A length for a message: at most three decimals.

    >>> mm(10.0), mm(9.70001)
    ('10 mm', '9.7 mm')
    """
    return f"{round(value, 3) + 0.0:.10g} mm"


def _margin_findings(source: Source, paper: Paper, edge: float, margin: float) -> Iterator[Finding]:
    widest = (min(paper.width, paper.height) - LEAST_DRAWN) / 2
    if edge < 0:
        yield error(
            "edge-negative",
            source.at("edge"),
            found=f"an edge of {mm(edge)}",
            allowed="0 mm or more",
            remedy="give what your printer leaves white",
        )
    elif edge > widest - STRIP:
        yield error(
            "edge-too-wide",
            source.at("edge"),
            found=f"an edge of {mm(edge)} on {paper.name}",
            allowed=f"at most {mm(widest - STRIP)} on this paper",
            remedy="make the edge narrower or the paper larger",
        )
    elif margin < edge:
        yield error(
            "margin-below-edge",
            source.at("margin"),
            found=f"a margin of {mm(margin)} with an edge of {mm(edge)}",
            allowed=f"a margin from {mm(edge + STRIP)} to {mm(widest)}",
            remedy="make the margin wider than the edge",
        )
    elif margin < edge + STRIP:
        yield error(
            "margin-too-narrow",
            source.at("margin"),
            found=f"a margin of {mm(margin)} with an edge of {mm(edge)}",
            allowed=f"a margin of at least {mm(edge + STRIP)}",
            remedy=f"leave {mm(STRIP)} between the two for scale bars and sheet numbers",
        )
    elif margin > widest:
        size = drawn_size(paper, margin=margin)
        yield error(
            "margin-too-wide",
            source.at("margin"),
            found=f"a margin of {mm(margin)} on {paper.name}, which leaves {_size(size)} to draw on",
            allowed=f"a margin of at most {mm(widest)} on this paper",
            remedy="make the margin narrower or the paper larger",
        )


def _overlap_findings(source: Source, paper: Paper, margin: float, overlap: float) -> Iterator[Finding]:
    size = drawn_size(paper, margin=margin)
    most = min(size.width, size.height) / 2
    if overlap < LEAST_OVERLAP:
        yield error(
            "overlap-too-small",
            source.at("overlap"),
            found=f"an overlap of {mm(overlap)}",
            allowed=f"at least {mm(LEAST_OVERLAP)}, what a registration mark measures across",
            remedy="make the overlap wider",
        )
    elif most >= LEAST_OVERLAP and overlap > most:
        yield error(
            "overlap-too-big",
            source.at("overlap"),
            found=f"an overlap of {mm(overlap)} where {_size(size)} are drawn on",
            allowed=f"at most {mm(most)}, half of what is drawn on",
            remedy="make the overlap smaller",
        )


def _size(size: Size) -> str:
    """Width × height, none below zero."""
    return f"{mm(max(size.width, 0.0)).removesuffix(' mm')} × {mm(max(size.height, 0.0))}"
