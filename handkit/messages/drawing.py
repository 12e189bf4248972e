"""Messages of step 6, draw: one row a code, in the order of the alphabet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.messages.message import Message

DRAWING: Mapping[str, Message] = MappingProxyType({})
