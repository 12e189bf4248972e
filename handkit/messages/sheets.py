"""Messages of step 5, sheets: one row a code, in the order of the alphabet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.messages.message import Message, error, note, warning

_WIDER = "a piece {wide:mm 3} wider than the page allows, its line's width included"
_HIGHER = "a piece {high:mm 3} higher than the page allows, its line's width included"
_BOTH = "a piece {wide:mm 3} wider and {high:mm 3} higher than the page allows, its line's width included"
_BY_MARGIN = "a margin of {margin:mm 3} would save {saved:counted sheet}"
_BY_PIECE = "a piece {smaller:mm 3} smaller would save {saved:counted sheet}"

_MEASURED = ": measured = true, or --measured, for those who mark out with rule, square and dividers"
_PLAIN_PIECE = "straight edges and round corners, with holes in straight rows"
_PLAIN = ", straight edges and round corners alone"
_LONE = ", and up to {most} beside them"
_ONE_PAGE = " on a page to be marked out by"
_TILED = "leave `measured` out: at full scale it needs no measuring"

SHEETS: Mapping[str, Message] = MappingProxyType(
    {
        "could-be-measured": note(
            "plain pieces {pieces:quoted and} on many sheets",
            remedy="drawn by their measures, a page each, they would save {saved:counted sheet}" + _MEASURED,
        ),
        "could-be-measured/one": note(
            "a plain piece {pieces:quoted and} on many sheets",
            remedy="drawn by its measures, on one page, it would save {saved:counted sheet}" + _MEASURED,
        ),
        "edge-negative": error(
            "an edge of {edge:mm 3}",
            "{0:mm} or more",
            "give what your printer leaves white",
        ),
        "edge-too-wide": error(
            "an edge of {edge:mm 3} on {paper}",
            "at most {most:mm 3} on this paper",
            "make the edge narrower or the paper larger",
        ),
        "many-windows": warning(
            "a piece in {windows} portions and {joins} joins",
            "up to {most} without a word",
            "check its unit, take larger paper, or have it drawn by its measures: measured = true",
        ),
        "margin-below-edge": error(
            "a margin of {margin:mm 3} with an edge of {edge:mm 3}",
            "a margin from {least:mm 3} to {most:mm 3}",
            "make the margin wider than the edge",
        ),
        "margin-too-narrow": error(
            "a margin of {margin:mm 3} with an edge of {edge:mm 3}",
            "a margin of at least {least:mm 3}",
            "leave {strip:mm 3} between the two for scale bars and sheet numbers",
        ),
        "margin-too-wide": error(
            "a margin of {margin:mm 3} on {paper}, which leaves {wide:bare 3} × {high:mm 3} to draw on",
            "a margin of at most {most:mm 3} on this paper",
            "make the margin narrower or the paper larger",
        ),
        "near-miss/both-margin": note(_BOTH, remedy=_BY_MARGIN),
        "near-miss/both-piece": note(_BOTH, remedy=_BY_PIECE),
        "near-miss/higher-margin": note(_HIGHER, remedy=_BY_MARGIN),
        "near-miss/higher-piece": note(_HIGHER, remedy=_BY_PIECE),
        "near-miss/wider-margin": note(_WIDER, remedy=_BY_MARGIN),
        "near-miss/wider-piece": note(_WIDER, remedy=_BY_PIECE),
        "not-plain/corners": error("an edge of {corners} corners", "up to {most}" + _PLAIN, _TILED),
        "not-plain/curve": error(
            "a curve that rounds no corner, in its {line} at {at:point}", _PLAIN_PIECE, _TILED
        ),
        "not-plain/holes": error(
            "holes along a curve, {holes} of {seams:quoted and} in no row", _PLAIN_PIECE + _LONE, _TILED
        ),
        "not-plain/much": error("{told} rows, holes and lines", "up to {most}" + _ONE_PAGE, _TILED),
        "overlap-too-big": error(
            "an overlap of {overlap:mm 3} where {wide:bare 3} × {high:mm 3} are drawn on",
            "at most {most:mm 3}, half of what is drawn on",
            "make the overlap smaller",
        ),
        "overlap-too-small": error(
            "an overlap of {overlap:mm 3}",
            "at least {least:mm 3}, what a registration mark measures across",
            "make the overlap wider",
        ),
        "piece-too-big": error(
            "a piece that takes up to {windows} portions on this paper",
            "at most {most}",
            "check its unit, or take larger paper",
        ),
        "printer-edge": note(
            "an edge of {edge:mm 3} and a margin of {margin:mm 3}, where the printer {printer}, corrected, "
            "would lose what is nearer to the paper's edge than {least:mm 3}: drawn with {least:mm 3} and "
            "{wider:mm 3} instead",
        ),
        "too-many-sheets": error(
            "templates of at least {sheets} sheets",
            "at most {most}",
            "check the pieces' unit, take larger paper, or split the project",
        ),
        "too-many-sheets/each": error(
            "templates of at least {sheets} sheets, each copy drawn",
            "at most {most}",
            'draw alike pieces once (draw = "once"), or split the project',
        ),
    }
)
