"""The product of step 1, second half: the things to be carried, and the parts that hold them.

All mm, angles degrees counter-clockwise. A part's pieces, lines, seams and openings stand in the
project as *placeholders* (see `Piece.drafted_by`): named and lettered, and without a shape until
the drafting gives them one from the items' sizes.

Words: an *item* is a thing to be carried; its *section* is what a knife through it would show,
standing on the base; a *part* is what holds items, stated by what it is for; *ease* is the room
an item has beyond what it needs.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import cos, pi, sin

from handkit.findings import Source
from handkit.geometry.affine import Point

Setting = float | bool | str | tuple[str, ...]


class PartKind(StrEnum):
    """What a part is."""

    FLAT_POCKET = "flat pocket"
    BOWED_POCKET = "bowed pocket"
    BOXED_POCKET = "boxed pocket"
    HOLDER_ROW = "holder row"
    LINING = "lining"


@dataclass(frozen=True, slots=True)
class Ease:
    """Room beyond what is needed: mm, and a share of the size it is added to."""

    mm: float = 0.0
    share: float = 0.0

    def of(self, size: float) -> float:
        """The ease of a size, in mm.

        >>> Ease(mm=2).of(80), Ease(share=0.05).of(80)
        (2.0, 4.0)
        """
        return self.mm + self.share * size


@dataclass(frozen=True, slots=True)
class Item:
    """A thing to be carried: a box, a round (`diameter`) or a section by points, and a length.

    `width` and `thickness` are those of the box around its section; `section` is empty unless it
    was given by points, which are moved so that it stands on y = 0 with its middle at x = 0.
    """

    source: Source
    name: str
    width: float
    thickness: float
    length: float
    diameter: float | None
    section: tuple[Point, ...]
    held_by: str  # the part that holds it
    note: str = ""

    def outline(self, *, steps: int = 72) -> tuple[Point, ...]:
        """Its section as points, counter-clockwise, standing on y = 0 about x = 0.

        A round one is told by a regular polygon *around* it of `steps` corners, flat below.

        >>> Item(Source(), "rule", 30, 2, 150, None, (), "pocket").outline()[:2]
        ((-15.0, 0.0), (15.0, 0.0))
        """
        if self.section:
            return self.section
        if self.diameter is None:
            half = self.width / 2
            return ((-half, 0.0), (half, 0.0), (half, self.thickness), (-half, self.thickness))
        radius, turn = self.diameter / 2, pi / steps
        corner = radius / cos(turn)
        return tuple(
            (corner * sin((2 * k + 1) * turn), radius - corner * cos((2 * k + 1) * turn))
            for k in range(-1, steps - 1)
        )


@dataclass(frozen=True, slots=True)
class Part:
    """What holds items. Its frame has the origin at `at` on the base, turned by `turn_degrees`;
    it is mirrored where the part lies `behind`.

    `settings` are the kind's own keys with their defaults; `ease` None is the material's.
    """

    source: Source
    name: str
    kind: PartKind
    on: str | None  # its base; of a lining the piece that it lines
    at: Point
    turn_degrees: float
    ease: Ease | None
    settings: tuple[tuple[str, Setting], ...] = ()

    def _setting(self, key: str) -> Setting | None:
        return dict(self.settings).get(key)

    def length(self, key: str) -> float | None:
        """A length in mm, or a number; None where it is left out and has no default."""
        value = self._setting(key)
        return value if isinstance(value, float) else None

    def flag(self, key: str) -> bool:
        """True or false."""
        return self._setting(key) is True

    def word(self, key: str) -> str:
        """One of the key's words, "" where it is left out and has no default."""
        value = self._setting(key)
        return value if isinstance(value, str) else ""

    def names(self, key: str) -> tuple[str, ...]:
        """A list of names; none where it is left out."""
        value = self._setting(key)
        return value if isinstance(value, tuple) else ()
