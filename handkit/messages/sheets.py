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

SHEETS: Mapping[str, Message] = MappingProxyType(
    {
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
            "check its unit, or take larger paper",
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
    }
)
