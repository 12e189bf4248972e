"""What stands out of faces: caps, thread, magnets.

In: a figure, and on which side of its base one looks. Out: each as it is seen from there.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.assemble.article import Figure, Owner
from handkit.assemble.closing import BESIDE
from handkit.draft.pattern import Pattern, PatternOpening
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.straight import distance
from handkit.kinds.fittings import FittingKind
from handkit.kinds.openings import OPENINGS


class StandingOut(msgspec.Struct, frozen=True, kw_only=True):
    """What stands out of one face of pieces, by `stands` mm from the height `face`, which counts away from
    the base; `outwards` whether it does so, too. Of a snap that is `shut`, what its halves are named by."""

    key: str
    kind: str  # "cap", "row", "magnet", or "snap" of one that is shut
    name: str  # of its opening, seam or fitting
    other: str
    through: tuple[str, ...]
    points: tuple[Point, ...]
    radius: float
    outwards: bool
    stands: float
    face: float
    whole: str = ""  # what of it goes through all of them, as findings name it
    halves: tuple[str, ...] = ()
    first: int = 0  # of a row, the number of the hole at its first point

    @property
    def owner(self) -> Owner:
        """Whose it is, as a clash has it."""
        return ({"row": "seam", "magnet": "fitting"}.get(self.kind, "opening"), self.name)

    @property
    def shut(self) -> bool:
        """Whether it is so only while the article is shut: a snap on its way through a room."""
        return bool(self.halves)

    @property
    def pieces(self) -> tuple[str, ...]:
        """What it goes through, as findings name it."""
        return tuple(f'"{piece}"' for piece in self.through)


def standing_out(pattern: Pattern, figure: Figure, out: int) -> Iterator[StandingOut]:
    """All of a figure; `out` is 1 for who looks at its face, -1 from behind."""
    yield from _snaps(pattern, figure)
    nouns = {each.name: each.opening.traits.noun for each in pattern.openings}
    for cap in figure.caps:
        yield StandingOut(
            key="clash/cap",
            kind="cap",
            name=cap.opening,
            other=cap_words(cap.opening),
            through=cap.pieces,
            points=(cap.at,),
            radius=cap.radius,
            outwards=cap.to_eye == (out > 0),
            stands=cap.high - cap.low,
            face=(cap.low if cap.to_eye else cap.high) * out,
            whole=f'the {nouns[cap.opening]} of "{cap.opening}"',
        )
    for row in figure.rows:
        for places, to_eye in ((row.front, True), (row.back, False)):
            yield StandingOut(
                key="clash/row",
                kind="row",
                name=row.seam,
                other=f'the thread of "{row.seam}"',
                through=row.pieces,
                points=tuple((x, y) for x, y, _ in places),
                radius=row.thread / 2,
                outwards=to_eye == (out > 0),
                stands=row.thread,
                face=sum(z for _, _, z in places) / len(places) * out,
                whole=f'the thread of "{row.seam}"',
                first=row.first,
            )
    yield from _magnets(figure, out)


def cap_words(opening: str) -> str:
    """As findings name one of an opening's caps."""
    return f'a cap of "{opening}"'


def _snaps(pattern: Pattern, figure: Figure) -> Iterator[StandingOut]:
    """Snaps whose halves lie on one another: shut, they hold together all that they go through."""
    mates = [each for each in pattern.openings if each.opening.mate is not None]
    for index, one in enumerate(mates):
        halves = [{cap.number: cap for cap in figure.caps if cap.opening == name} for name in _names(one)]
        if any(other.name == one.opening.mate for other in mates[:index]):
            continue
        for number in halves[0].keys() & halves[1].keys():
            first, second = (half[number] for half in halves)
            if distance(first.at, second.at) <= BESIDE:
                yield StandingOut(
                    key="clash/cap",
                    kind="snap",
                    name=first.opening,
                    other="",
                    through=(*first.pieces, *second.pieces),
                    points=(first.at,),
                    radius=max(first.radius, second.radius),
                    outwards=True,
                    stands=0.0,
                    face=0.0,
                    whole=f'the {_noun(one)} of "{first.opening}" and "{second.opening}"',
                    halves=tuple(cap_words(each) for each in _names(one)),
                )


def _noun(opening: PatternOpening) -> str:
    """What both halves are together."""
    kinds = (opening.opening.kind, opening.opening.traits.mates or opening.opening.kind)
    return next((OPENINGS[kind].noun for kind in kinds if OPENINGS[kind].hardware), "snap")


def _names(opening: PatternOpening) -> tuple[str, str]:
    """Of a snap's half: itself and its mate."""
    return opening.name, opening.opening.mate or ""


def _magnets(figure: Figure, out: int) -> Iterator[StandingOut]:
    """What is cemented on the side of a piece that shows."""
    for each in figure.fittings:
        if each.fitting.kind is FittingKind.MAGNET:
            box = Box(*each.outline.bounds())
            yield StandingOut(
                key="clash/cap",
                kind="magnet",
                name=each.fitting.name,
                other=each.words,
                through=(each.on,),
                points=(box.middle,),
                radius=box.width / 2,
                outwards=each.to_eye == (out > 0),
                stands=each.high - each.low,
                face=(each.low if each.to_eye else each.high) * out,
            )
