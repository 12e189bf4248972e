"""Messages of step 4, assemble: one row a code, in the order of the alphabet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.messages.message import Message, warning

_REACH = (
    '{found:mm 1} of "{piece}" from its fold to {cap}',
    "{least:mm 1} to {most:mm 1}: the way to {stud} over what is inside",
)

ASSEMBLING: Mapping[str, Message] = MappingProxyType(
    {
        "closes-beside": warning(
            '{cap} {apart:mm 1} beside {stud} when "{piece}" is folded over',
            "at most {most:mm 1}",
            "move one of them along the fold by {apart:mm 1}",
        ),
        "closes-short": warning(
            *_REACH,
            'put the cap {by:mm 1} further from the fold, on a longer "{piece}", or the stud nearer to it',
        ),
        "closes-slack": warning(
            *_REACH, "put the cap {by:mm 1} nearer to the fold, or the stud further from it"
        ),
    }
)
