"""Messages of step 4, assemble: one row a code, in the order of the alphabet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.messages.message import Message, warning

_REACH = (
    '{found:mm 1} of "{piece}" from its fold to {cap}',
    "{least:mm 1} to {most:mm 1}: the way to {stud} over what is inside",
)

_WHERE = ', at {at:point 1} of "{base}"'
_AT = _WHERE + "{more}"

# What mends a clash: a move that was tried, one more, a base that makes room for one, or what is left where
# none helps. Only their last text is told, in the place of `mend`.
_MEND = "{what}"

# What a blade's edge cuts as it is drawn.
_COVERED = "no thread and no metal within {clear:mm} of a blade's way, or leather over them"
_COVER = "glue a piece over it, on the side of the blade: one with on and glued = true; or move it off"

_FOLDED = '{other} on one another when "{of}" is folded, {together:mm 1} high' + _WHERE
_ROOM = "at most {room:mm 1}, as its folds have it"
_APART = "put its folds {high:mm 1} further apart"
_DEEPER = 'make the depth of "{of}" {high:mm 1} more'
_BESIDE = ", or let them come down beside one another"

ASSEMBLING: Mapping[str, Message] = MappingProxyType(
    {
        "blade-passes": warning(
            '{other} bare on the way of "{of}" out of its sheath' + _WHERE,
            _COVERED,
            _COVER,
        ),
        "blade-passes/beside": warning(
            '{other} bare {near:mm 1} beside the way of "{of}" out of its sheath' + _WHERE,
            _COVERED,
            _COVER,
        ),
        "blade-passes/beyond": warning(
            '{other} bare {near:mm 1} beside the way of "{of}" out of its sheath' + _WHERE,
            "no thread and no metal within {clear:mm 1} of a blade's way {beyond:mm} beyond its mouth, where "
            "it leans by its ease, or leather over them",
            _COVER,
        ),
        "blade-passes/unwelted": warning(
            'no welt between {other} and "{of}", {near:mm 1} beside it' + _WHERE,
            "a welt between a blade and each row that holds both leaves round it",
            "sew one in, in the file before the blade's cover: without it the blade shifts against the row",
        ),
        "clash/beyond": warning(
            "{of} drawn out {deep:mm 1} over {other}, which stands {high:mm 1} high beyond the mouth" + _AT,
            "a way that is clear until the thing is out, {free:mm 1} from where it lies",
            "{mend}",
        ),
        "clash/cap": warning(
            "{of} {deep:mm 1} over {other}, which stands {high:mm 1} into it" + _AT,
            "a thing that lies clear of all hardware",
            "{mend}",
        ),
        "clash/caps": warning(
            "a cap of {of} {deep:mm 1} over {other}, with no leather between them" + _AT,
            "caps that lie beside one another",
            "{mend}",
        ),
        "clash/fitting": warning(
            "{of} {deep:mm 1} over {other}, with no leather between them" + _AT,
            "hardware that lies beside thread and other hardware",
            "{mend}",
        ),
        "clash/fold": warning(
            "{of} across {other}, {deep:mm 1} of it beyond" + _AT,
            "a thing that lies on one side of a fold",
            "{mend}",
        ),
        "clash/leaf": warning(
            '{other} {together:mm 1} high with what lies over it, where "{of}" folds over it' + _WHERE,
            _ROOM,
            _APART + ", or move what is too high",
        ),
        "clash/leaf-depth": warning(
            '{other} {together:mm 1} high with what lies over it, where "{of}" folds over it' + _WHERE,
            _ROOM,
            _DEEPER + ", or move what is too high",
        ),
        "clash/leaves-depth": warning(_FOLDED, _ROOM, _DEEPER + _BESIDE),
        "clash/leaves": warning(_FOLDED, _ROOM, _APART + _BESIDE),
        "clash/mend": warning(_MEND, "", "move {what} {by:mm 1} {way}"),
        "clash/mend-flap": warning(
            _MEND, "", "no {key} of {what} is clear of all else as it is: leave one of them out"
        ),
        "clash/mend-lap": warning(_MEND, "", "write lap = {lap:plain} for {what}, or leave one of them out"),
        "clash/mend-loop": warning(
            _MEND,
            "",
            'write closed_by = "snap" or "stud" for {what}: its loop\'s rivets stand out inside at any reach',
        ),
        "clash/mend-fold": warning(_MEND, "", "move {what} off the fold, or the fold off it"),
        "clash/mend-handle": warning(
            _MEND,
            "",
            "; {handle} is taken as {sizes}: state it as handle = [width, thickness, length]",
        ),
        "clash/mend-larger": warning(
            _MEND,
            "",
            'make "{base}" larger, and move {what} {by:mm 1} {way}: as it is, no move is clear of all else',
        ),
        "clash/mend-more": warning(_MEND, "", "{first}, or {what} {by:mm 1} {way}"),
        "clash/mend-none": warning(
            _MEND,
            "",
            "no move that was tried is clear of all else: leave one of them out, or put it on another base",
        ),
        "clash/leaves-bend": warning(
            _FOLDED,
            _ROOM,
            "make the inside radius of its fold {half:mm 1} more, or make two folds of 90° of it" + _BESIDE,
        ),
        "clash/over": warning(
            "{of} {deep:mm 1} over {other}, which stands {high:mm 1} into it" + _AT,
            "a thing that lies clear of all that stands beside its room",
            "{mend}",
        ),
        "clash/piece": warning(
            "{of} {deep:mm 1} over the edge of {other}, which is {high:mm 1} thick" + _AT,
            "a thing that lies flat on its base",
            "{mend}",
        ),
        "clash/row": warning(
            "{of} {deep:mm 1} over {other}, which stands {high:mm 1} into it" + _AT,
            "a thing that lies clear of all thread",
            "{mend}",
        ),
        "clash/thing": warning(
            "{of} and {other} in one place: {deep:mm 1} deep, {high:mm 1} in height" + _AT,
            "things that lie clear of one another",
            "{mend}",
        ),
        "clash/through": warning(
            "{of} {deep:mm 1} over {other}, which goes right through its room" + _AT,
            "a room that is open all over the thing's place",
            "{mend}",
        ),
        "clash/under": warning(
            "{of} {deep:mm 1} under {other}, where it is held down: {high:mm 1} too high" + _AT,
            "a thing under its own cover alone",
            "{mend}",
        ),
        "clash/way": warning(
            "{of} on its way out {deep:mm 1} over {other}, which stands {high:mm 1} into it" + _AT,
            "a way to the mouth that is clear of all hardware",
            "{mend}",
        ),
        "clash/way-through": warning(
            "{of} on its way out {deep:mm 1} over {other}, which goes right through its room" + _AT,
            "a room that is open as far as its mouth",
            "{mend}",
        ),
        "clash/way-thing": warning(
            "{of} and {other} in each other's way out: {deep:mm 1} deep, {high:mm 1} in height" + _AT,
            "things that are drawn out clear of one another",
            "{mend}",
        ),
        "clash/welt": warning(
            '{other} in one place when "{of}" is folded, {deep:mm 1} deep' + _WHERE,
            "a welt that lies clear of what it keeps from the thread",
            "cut the welt {deep:mm 1} narrower there, or lay what is between the leaves so much further off",
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
        "closes-short/strap": warning(
            '{found:mm 1} of "{piece}" from where it is held to {cap}',
            "at least {least:mm 1}: the way to {stud} over what it closes",
            'put the cap {by:mm 1} further on, on a longer "{piece}", or the stud nearer to where it is held',
        ),
        "closes-slack": warning(
            *_REACH, "put the cap {by:mm 1} nearer to the fold, or the stud further from it"
        ),
        "strap-crossed": warning(
            '"{of}" over {other}, which stands out {high:mm 1}',
            "a strap or tie that lies on flat leather where it goes round",
            "put one of them {deep:mm 1} further off",
        ),
    }
)
