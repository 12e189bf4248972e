"""What a photo gives (the step's product): first what lies there as it is seen, then outlines at true size.

All lengths in mm on the paper as it was printed, origin at the sheet's lower left, y up.

Words: *seen* is the plane of the paper in the photo, straightened: what lies on the paper is seen where it
is, what is higher is seen farther from the *foot*, the point of the paper right under the lens. *Thick* is
what the maker says of a thing: how far it rises, and whether its sides are round.
"""

from __future__ import annotations

import msgspec

from handkit.findings import Finding
from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box


class PhotoView(msgspec.Struct, frozen=True):
    """How the photo was taken: the foot, the lens's height over the paper, how far the photo's axis is from
    upright in degrees, how far the marks are from where they should be (root of the mean square), and how
    many dots of the photo there are to a mm where they are fewest. `height_error` is the share by which the
    height may be off (95 %), `foot_error` how far the foot may be, `plane_error` how far any place may be."""

    foot: Point
    height: float
    tilt: float
    residual: float
    pixels_per_mm: float
    height_error: float
    foot_error: float
    plane_error: float
    scale_error: float  # of lengths, as a share: what the rule leaves of the bars


class Blob(msgspec.Struct, frozen=True):
    """A thing as it is seen: its number, its outline counter-clockwise, and how sure that is (95 %)."""

    number: int
    seen: tuple[Point, ...]
    within: float
    shiny: bool = False  # its edge may mirror the paper

    @property
    def middle(self) -> Point:
        """Of its box: where its number may stand."""
        xs, ys = ([point[axis] for point in self.seen] for axis in (0, 1))
        return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


class Found(msgspec.Struct, frozen=True):
    """What lies on the mat. `straightened` is a PNG of the whole sheet, `mm_per_pixel` a dot both ways, its
    upper left corner the sheet's, at (0, `height`). `advice` are warnings and notes."""

    blobs: tuple[Blob, ...]
    view: PhotoView
    straightened: bytes
    mm_per_pixel: float
    width: float  # of the sheet as it was printed
    height: float
    advice: tuple[Finding, ...]


class Thick(msgspec.Struct, frozen=True):
    """How far a thing rises over the paper, and whether its sides are round (a pen) or square (a rule)."""

    mm: float
    round: bool = False


class TracedThing(msgspec.Struct, frozen=True):
    """A thing at true size. Its outline is in its own frame: counter-clockwise, its long axis along x, the
    lower left of its box at (0, 0), `length` by `width`. `place` brings that onto the mat. No place of the
    outline is off by more than `uncertainty` (95 %)."""

    number: int
    outline: tuple[Point, ...]
    length: float
    width: float
    thick: Thick
    place: Affine
    uncertainty: float


class Traced(msgspec.Struct, frozen=True):
    """All things of a photo, by number; `uncertainty` is the largest of theirs."""

    things: tuple[TracedThing, ...]
    view: PhotoView
    uncertainty: float
    advice: tuple[Finding, ...]


class CutOut(msgspec.Struct, frozen=True):
    """What the straightened sheet shows of a thing, as a JPEG of this box of the thing's own frame."""

    jpeg: bytes
    box: Box


class NamedThing(msgspec.Struct, frozen=True):
    """A thing as makers know it: its number counts on through all photos; `photo` and `residual` are of the
    photo that it was traced from."""

    number: int
    name: str
    photo: str
    residual: float
    thing: TracedThing
    cut_out: CutOut

    @property
    def id(self) -> str:
        """Of its outline in a drawing."""
        return f"thing-{self.number}"

    @property
    def told(self) -> str:
        """Its number and name, where that is not its number already."""
        return self.name if self.name == usual_name(self.number) else f"{self.number} {self.name}"


def usual_name(number: int) -> str:
    """Of a thing that nobody named."""
    return f"thing {number}"
