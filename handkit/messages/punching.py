"""Messages of step 3, punch: one row a code, in the order of the alphabet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.messages.message import Message

PUNCHING: Mapping[str, Message] = MappingProxyType({})
