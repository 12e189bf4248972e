"""The page: how much of the paper is drawn on, and what is refused about it.

In: paper, edge, margin, overlap in mm, the printer. Out: the size of the printable area, or findings.

Words: nothing is printed nearer to the sheet's edge than `edge`; drawing begins at `margin`;
between the two stand scale bars, the sheet's number and the neighbours' names.
"""

from __future__ import annotations

from collections.abc import Iterator

from handkit.errors import refuse_errors
from handkit.findings import Finding, Source, finding
from handkit.ink import LEAST_OVERLAP
from handkit.paper import Paper
from handkit.printers.correction import Printer
from handkit.sheets.nest.packing import Size

# A scale bar's ticks with 2.5 mm figures need this between edge and margin.
STRIP = 4.0

# A window smaller than this is not worth a sheet, and the test square must fit one.
LEAST_DRAWN = 60.0


def drawn_size(paper: Paper, *, margin: float) -> Size:
    """Width and height of what is drawn on: the paper less the margin all round."""
    return Size(paper.width - 2 * margin, paper.height - 2 * margin)


def settled_page(  # noqa: PLR0913 - the page's figures
    source: Source, paper: Paper, *, edge: float, margin: float, overlap: float, printer: Printer | None
) -> tuple[float, float, tuple[Finding, ...]]:
    """The edge and the margin that all is laid out by, and what is told of them: those asked for, or wider
    ones, clear of what this printer would lose. Raises ProjectError where they leave no room."""
    refuse_errors(page_findings(source, paper, edge=edge, margin=margin, overlap=overlap))
    least = printer.least_edge(paper.width, paper.height, edge) if printer else edge
    if printer is None or least <= edge:
        return edge, margin, ()
    wider, name = max(margin, least + STRIP), printer.correction.name
    told = finding(
        "printer-edge", source.at("edge"), edge=edge, margin=margin, printer=name, least=least, wider=wider
    )
    refuse_errors([told, *page_findings(source, paper, edge=least, margin=wider, overlap=overlap)])
    return least, wider, (told,)


def page_findings(
    source: Source, paper: Paper, *, edge: float, margin: float, overlap: float
) -> tuple[Finding, ...]:
    """What is wrong with these figures together; only errors."""
    return tuple(_margin_findings(source, paper, edge, margin)) + tuple(
        _overlap_findings(source, paper, margin, overlap)
    )


def _margin_findings(source: Source, paper: Paper, edge: float, margin: float) -> Iterator[Finding]:
    widest = (min(paper.width, paper.height) - LEAST_DRAWN) / 2
    if edge < 0:
        yield finding("edge-negative", source.at("edge"), edge=edge)
    elif edge > widest - STRIP:
        yield finding("edge-too-wide", source.at("edge"), edge=edge, paper=paper.name, most=widest - STRIP)
    elif margin < edge:
        yield finding(
            "margin-below-edge",
            source.at("margin"),
            margin=margin,
            edge=edge,
            least=edge + STRIP,
            most=widest,
        )
    elif margin < edge + STRIP:
        yield finding(
            "margin-too-narrow",
            source.at("margin"),
            margin=margin,
            edge=edge,
            least=edge + STRIP,
            strip=STRIP,
        )
    elif margin > widest:
        drawn = _told(drawn_size(paper, margin=margin))
        yield finding(
            "margin-too-wide",
            source.at("margin"),
            margin=margin,
            paper=paper.name,
            **drawn,
            most=widest,
        )


def _overlap_findings(source: Source, paper: Paper, margin: float, overlap: float) -> Iterator[Finding]:
    size = drawn_size(paper, margin=margin)
    most = min(size.width, size.height) / 2
    if overlap < LEAST_OVERLAP:
        yield finding("overlap-too-small", source.at("overlap"), overlap=overlap, least=LEAST_OVERLAP)
    elif most >= LEAST_OVERLAP and overlap > most:
        yield finding("overlap-too-big", source.at("overlap"), overlap=overlap, **_told(size), most=most)


def _told(size: Size) -> dict[str, float]:
    """Width and height, none below zero."""
    return {"wide": max(size.width, 0.0), "high": max(size.height, 0.0)}
