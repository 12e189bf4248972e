"""Messages of step 4, stitch: one row a code, in the order of the alphabet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.messages.message import Message, error

STITCHING: Mapping[str, Message] = MappingProxyType(
    {
        "longest-thread-too-short": error(
            "a longest thread of {longest:g} mm a side",
            "at least {least} mm here, {tail:g} mm of it tail",
            "allow a longer thread or shorter tails",
        ),
    }
)
