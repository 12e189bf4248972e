"""Messages of step 4, stitch: one row a code, in the order of the alphabet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.messages.message import Message, error, note, warning

_CYCLE = ("a circle in the order of work: {cycle}", "an order that can be worked")

STITCHING: Mapping[str, Message] = MappingProxyType(
    {
        "back-stitches-end": note(
            "{wanted} back stitches in a seam of {holes} holes",
            "at most {most}",
            "the plan has {most}; say so in the file if that is meant",
        ),
        "fold-open": warning(
            'fold "{fold}" of "{piece}", which nothing closes round the {kind}',
            "a seam through both leaves, or rivets or snaps on both sides of the fold",
            "add the seam: a run on each side of the fold",
        ),
        "longest-thread-too-short": error(
            "a longest thread of {longest:mm} a side",
            "at least {least:mm} here, {tail:mm} of it tail",
            "allow a longer thread or shorter tails",
        ),
        "opening-covered": warning(
            '{opening} covered by "{piece}", which it does not go through{count:more}',
            "openings that stay free",
            'name "{piece}" in through, or move it',
        ),
        "order-circle/after": error(
            *_CYCLE,
            'take {first} out of the "after" of {then}',
        ),
        "order-circle/fitting": error(
            *_CYCLE,
            "sew what has to be done first as a seam of its own, or put {fitting:quoted} elsewhere",
        ),
        "order-circle/glued": error(
            *_CYCLE,
            'leave "{piece}" unglued, or let the seams pass through it',
        ),
        "order-circle/rows": error(
            *_CYCLE,
            "sew one of them as several seams, so that its first row may come early",
        ),
        "past-without-base": error(
            "a hole {past:mm} past the mouth, and no layer that goes on so far",
            "a layer that goes on past the mouth",
            "take {key} out, or make it smaller",
        ),
        "piece-loose": warning(
            'nothing that fastens "{piece}"',
            "a seam, a rivet or glue",
            'sew it down, or take "on" out if it lies apart',
        ),
        "post-fits-not/long": warning(
            "a post of {post:mm} through a stack of {stack:mm}",
            "{least:mm} to {most:mm}, {1.6:bare} to {3.2:mm} beyond the stack",
            "take a shorter one, or pack {washer:mm} of leather under the cap",
        ),
        "post-fits-not/short": warning(
            "a post of {post:mm} through a stack of {stack:mm}",
            "{least:mm} to {most:mm}, {1.6:bare} to {3.2:mm} beyond the stack",
            "take a longer one, or skive the layers there to {thin:mm} together",
        ),
        "post-fits-not/uneven": warning(
            "a post of {post:mm} through stacks of {thin:mm} and {thick:mm}",
            "stacks that one post fits",
            "make two openings of it, each with its post",
        ),
        "snap-post": warning(
            "a stack of {stack:mm} under a half of a snap, opening {opening:quoted}",
            "up to {most:mm}, what a common snap's post of {post:mm} takes (common practice, no source)",
            "skive the layers there to {most:mm} together, or state the longer post at hand: "
            "post = {longer:plain}",
        ),
        "stitch-of-two": error(
            "{stitch} stitch through {layers:counted layer}",
            "two layers that meet edge to edge",
            "use the saddle stitch, or name two runs",
        ),
        "stitch-off-edge": error(
            "{stitch} stitch with holes {far:mm .1} from the edge",
            "at most {most:mm}, two insets, on the front and the back",
            "use the saddle stitch, or stitch along edges",
        ),
        "threads-over-bound": note(
            "{threads} threads where seams are sewn with shared ones ({seams})",
            "{bound}, the fewest there can be without a longest thread",
            "allow a longer thread, or leave it: a join more does no harm",
        ),
        "way-not-free/aside": note(
            "{covered} when worked: {way}",
            "",
            "bend {pieces} aside meanwhile",
        ),
        "way-not-free/fold": note(
            "{covered} when worked: {way}",
            "",
            "lay {pieces} back meanwhile",
        ),
        "way-not-free/stands": note(
            "{pieces} standing up when worked: {way}",
            "",
            "hold the work over a block inside meanwhile",
        ),
        "way-not-free/held": warning(
            "{covered} when worked: {way}",
            "holes whose way is free on both faces of what is joined already",
            "work it before what holds {pieces} down, or move {pieces} off its holes",
        ),
    }
)
