"""Posts: how long the post of a rivet or a snap has to be for the stack it goes through.

In: an opening's stack, the post at hand where the file states it. Out: lengths in mm, and findings where
a post can't be set.

Words: a *post* is what is left standing above the stack and is clenched under the cap; the post *at
hand* is the one the maker has, as the file says.

A cap rivet's post stands 1/16 to 1/8 in above its stack (two makers' pages). A snap's is taken to need
the same: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from handkit.findings import Finding, finding
from handkit.read.project import Opening
from handkit.stitch.plan import OpeningPlan
from handkit.units import MM_PER_INCH

POST_LEAST = MM_PER_INCH / 16
POST_MOST = MM_PER_INCH / 8

# Lengths of posts that are commonly sold, mm (common practice, no source: measure what you have).
COMMON_POSTS = (6.0, 7.0, 8.0, 9.0, 10.0, 12.0, 14.0, 16.0)

# The longest post of common snaps, mm (common practice, no source: measure what you have).
SNAP_POST = 6.0


def post_length(opening: Opening, stack: float) -> float | None:
    """The shortest post of a rivet: its stack and 1/16 in. None for all else.

    A snap's post has no such rule: too short does not hold, too long crushes the socket, so it is
    tried on a scrap of the stack.
    """
    return round(stack + POST_LEAST, 3) if opening.traits.post else None


def common_post(post: float | None) -> float | None:
    """The length that is commonly sold and nearest to the middle of what fits, so that there is some to
    clench and none too much; of two the shorter. None where none fits.

    >>> common_post(6.0), common_post(6.4), common_post(8.0), common_post(12.2), common_post(None)
    (7.0, 7.0, 9.0, None, None)
    """
    if post is None:
        return None
    most, middle = post + POST_MOST - POST_LEAST, post + (POST_MOST - POST_LEAST) / 2
    fitting = [length for length in COMMON_POSTS if post <= length <= most]
    return min(fitting, key=lambda length: abs(length - middle), default=None)


def post_findings(openings: Iterable[OpeningPlan]) -> tuple[Finding, ...]:
    """Posts at hand that are too short or too long for their stack, and stacks that no common snap takes."""
    return tuple(told for plan in openings if plan.pattern.opening.traits.takes_post for told in _told(plan))


def _told(plan: OpeningPlan) -> Iterator[Finding]:
    """What is wrong with the post of one opening; where its places have unlike stacks, at the worst."""
    facts = plan.pattern.opening
    thick, thin = plan.stack, min(one.stack for one in plan.posts)
    fits = {"least": thick + POST_LEAST, "most": thin + POST_MOST}
    where = facts.source.at("post")
    if facts.post is None:
        if not facts.traits.post and thick + POST_LEAST > SNAP_POST:
            told = {"post": SNAP_POST, "most": SNAP_POST - POST_LEAST, "longer": _wanted(thick)}
            yield finding("snap-post", facts.source.at("through"), stack=thick, opening=facts.name, **told)
    elif fits["least"] > fits["most"]:
        yield finding("post-fits-not/uneven", where, post=facts.post, thin=thin, thick=thick)
    elif facts.post < fits["least"]:
        most = facts.post - POST_LEAST
        yield finding("post-fits-not/short", where, post=facts.post, stack=thick, thin=most, **fits)
    elif facts.post > fits["most"]:
        washer = facts.post - fits["most"]
        yield finding("post-fits-not/long", where, post=facts.post, stack=thin, washer=washer, **fits)


def _wanted(stack: float) -> float:
    """A post that suits a stack: one that is commonly sold, else the middle of what fits."""
    return common_post(stack + POST_LEAST) or round(stack + (POST_LEAST + POST_MOST) / 2, 1)
