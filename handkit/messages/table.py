"""The one table of messages: what every finding of every step says, by its key.

A translation is another table of the same keys and placeholders.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.messages.assembling import ASSEMBLING
from handkit.messages.drafting import DRAFTING
from handkit.messages.drawing import DRAWING
from handkit.messages.message import Message
from handkit.messages.photo import PHOTO
from handkit.messages.printing import PRINTING
from handkit.messages.punching import PUNCHING
from handkit.messages.reading import READING
from handkit.messages.sheets import SHEETS
from handkit.messages.stitching import STITCHING

# The tables, by what is done when their rows are told.
BY_WORK: Mapping[str, Mapping[str, Message]] = MappingProxyType(
    {
        "reading the file": READING,
        "drafting": DRAFTING,
        "placing holes": PUNCHING,
        "putting the article together": ASSEMBLING,
        "planning the work": STITCHING,
        "laying out sheets": SHEETS,
        "drawing": DRAWING,
        "measuring a printer": PRINTING,
        "tracing a photo": PHOTO,
    }
)

MESSAGES: Mapping[str, Message] = MappingProxyType(
    {key: message for rows in BY_WORK.values() for key, message in rows.items()}
)
