"""Messages of step 4, assemble: one row a code, in the order of the alphabet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.messages.message import Message, warning

_REACH = (
    '{found:mm 1} of "{piece}" from its fold to {cap}',
    "{least:mm 1} to {most:mm 1}: the way to {stud} over what is inside",
)

_AT = ', at {at:point 1} of "{base}"'

_FOLDED = '{other} on one another when "{of}" is folded, {together:mm 1} high' + _AT
_ROOM = "at most {room:mm 1}, as its folds have it"
_APART = "put its folds {high:mm 1} further apart"
_BESIDE = ", or let them come down beside one another"

ASSEMBLING: Mapping[str, Message] = MappingProxyType(
    {
        "clash/beyond": warning(
            '"{of}" drawn out {deep:mm 1} over {other}, which stands {high:mm 1} high beyond the mouth' + _AT,
            "a way that is clear until the thing is out, {free:mm 1} from where it lies",
            "move it {deep:mm 1} {way}, or what is in its way the other way",
        ),
        "clash/cap": warning(
            '"{of}" {deep:mm 1} over {other}, which stands {high:mm 1} into it' + _AT,
            "a thing that lies clear of all hardware",
            "move it {deep:mm 1} {way}, or the hardware the other way",
        ),
        "clash/caps": warning(
            'a cap of "{of}" {deep:mm 1} over {other}, with no leather between them' + _AT,
            "caps that lie beside one another",
            "move one of them {deep:mm 1} {way}",
        ),
        "clash/fitting": warning(
            '"{of}" {deep:mm 1} over {other}, with no leather between them' + _AT,
            "hardware that lies beside thread and other hardware",
            "move one of them {deep:mm 1} {way}",
        ),
        "clash/fold": warning(
            '"{of}" across {other}, {deep:mm 1} of it beyond' + _AT,
            "a thing that lies on one side of a fold",
            "move it off the fold, or the fold off it",
        ),
        "clash/leaf": warning(
            '{other} {together:mm 1} high with what lies over it, where "{of}" folds over it' + _AT,
            _ROOM,
            _APART + ", or move what is too high",
        ),
        "clash/leaves": warning(_FOLDED, _ROOM, _APART + _BESIDE),
        "clash/leaves-bend": warning(
            _FOLDED,
            _ROOM,
            "make the inside radius of its fold {half:mm 1} more, or make two folds of 90° of it" + _BESIDE,
        ),
        "clash/piece": warning(
            '"{of}" {deep:mm 1} over the edge of {other}, which is {high:mm 1} thick' + _AT,
            "a thing that lies flat on its base",
            "move it {deep:mm 1} {way}, or {other} the other way",
        ),
        "clash/row": warning(
            '"{of}" {deep:mm 1} over {other}, which stands {high:mm 1} into it' + _AT,
            "a thing that lies clear of all thread",
            "move it {deep:mm 1} {way}, or the seam the other way",
        ),
        "clash/thing": warning(
            '"{of}" and {other} in one place: {deep:mm 1} deep, {high:mm 1} in height' + _AT,
            "things that lie clear of one another",
            "move it {deep:mm 1} {way}, or {other} the other way",
        ),
        "clash/through": warning(
            '"{of}" {deep:mm 1} over {other}, which goes right through its room' + _AT,
            "a room that is open all over the thing's place",
            "move it {deep:mm 1} {way}, or what goes through the other way",
        ),
        "clash/under": warning(
            '"{of}" {deep:mm 1} under {other}, where it is held down: {high:mm 1} too high' + _AT,
            "a thing under its own cover alone",
            "move it {deep:mm 1} {way}, or {other} the other way",
        ),
        "clash/way": warning(
            '"{of}" on its way out {deep:mm 1} over {other}, which stands {high:mm 1} into it' + _AT,
            "a way to the mouth that is clear of all hardware",
            "move it {deep:mm 1} {way}, or the hardware the other way",
        ),
        "clash/way-through": warning(
            '"{of}" on its way out {deep:mm 1} over {other}, which goes right through its room' + _AT,
            "a room that is open as far as its mouth",
            "move it {deep:mm 1} {way}, or what goes through the other way",
        ),
        "clash/way-thing": warning(
            '"{of}" and {other} in each other\'s way out: {deep:mm 1} deep, {high:mm 1} in height' + _AT,
            "things that are drawn out clear of one another",
            "move it {deep:mm 1} {way}, or {other} the other way",
        ),
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
