"""Messages of step 6, draw: one row a code, in the order of the alphabet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.messages.message import Message, error, note

DRAWING: Mapping[str, Message] = MappingProxyType(
    {
        "font-lacks-characters": error(
            "{characters} in {text!r}",
            "characters of the shipped DejaVu Sans, or of the font that [page] names",
            'name a TrueType font that has them: [page] font = "some.ttf"',
        ),
        "font-unusable": error(
            "a font file that can't be used, {file}{why}",
            "a TrueType font (.ttf with TrueType outlines) that may be embedded",
            "name another, or leave the key out",
        ),
        "trial-unfit": error(
            "a trial in stock {stock:mm} thick, for which what is told above is wrong",
            "stock as thick as the pieces, or near it",
            "try it in another",
        ),
        "written-left-to-right": note(
            "text that runs from right to left, {text!r}",
            "text that runs from left to right",
            "its letters stand unjoined and in the order they were typed",
        ),
    }
)
