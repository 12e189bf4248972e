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

MESSAGES: Mapping[str, Message] = MappingProxyType(
    {
        **READING,
        **DRAFTING,
        **PUNCHING,
        **ASSEMBLING,
        **STITCHING,
        **SHEETS,
        **DRAWING,
        **PRINTING,
        **PHOTO,
    }
)
