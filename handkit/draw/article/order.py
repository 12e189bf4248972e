"""Order: bodies and items of one figure as they lie on one another.

In: a figure. Out: both in one row from the back to the face: an item lies between its base and what covers
it there.
"""

from __future__ import annotations

from handkit.assemble.article import Body, BodyKind, Figure, Thing


def back_to_face(figure: Figure) -> tuple[Body | Thing, ...]:
    """All that is drawn in plan. Walls stand on edge between a base and its cover, and are left out."""
    shown = [body for body in figure.bodies if body.kind is not BodyKind.WALL]
    names = {body.name: body for body in shown}
    found: list[Body | Thing] = []
    for body in shown:
        before = [thing for thing in figure.things if _before(thing, body, names)]
        after = [thing for thing in figure.things if _after(thing, body, names)]
        found += [*before, body, *after]
    return tuple(found)


def standing_on_edge(figure: Figure) -> tuple[str, ...]:
    """The pieces that are left out."""
    return tuple(body.name for body in figure.bodies if body.kind is BodyKind.WALL)


def _before(thing: Thing, body: Body, names: dict[str, Body]) -> bool:
    """Whether an item lies right behind a body: its cover, in front of its base; or its base, where it is on
    the far side of that between leaves."""
    room = thing.room
    if room.folded:
        return body.name == room.base and not thing.in_front
    return body.name == room.cover and room.base in names and body.level > names[room.base].level


def _after(thing: Thing, body: Body, names: dict[str, Body]) -> bool:
    """Whether an item lies right before a body: its cover behind its base, or its base without a cover."""
    room = thing.room
    if room.folded:
        return body.name == room.base and thing.in_front
    if room.cover not in names:
        return body.name == room.base
    return body.name == room.cover and room.base in names and body.level < names[room.base].level
