"""The pen: a path under construction, after ISO 32000-1, 8.5.2, until it is painted.

In: points in mm, already led through the transformation that stood when each was named.
Out: subpaths. A subpath that was only begun (m and no segment) is nothing.
"""

from __future__ import annotations

import msgspec

from handkit.errors import ProofError
from handkit.geometry.affine import Point
from handkit.proof.content.paths import PathSegment, Subpath


class Pen(msgspec.Struct):
    """The subpaths so far, and the one that is being drawn."""

    done: list[Subpath] = msgspec.field(default_factory=list)
    segments: list[PathSegment] = msgspec.field(default_factory=list)
    start: Point | None = None
    at: Point | None = None

    def move(self, point: Point) -> None:
        """Begin a subpath."""
        self._finish(closed=False)
        self.start = self.at = point

    def draw(self, *points: Point) -> None:
        """One more segment, to the last of the points; those before it are a curve's handles."""
        self.segments.append((self.here, *points))
        self.at = points[-1]

    def close(self) -> None:
        """Back to where the subpath began, straight, where it isn't there already."""
        if self.start is None or (self.here == self.start and not self.segments):
            return
        if self.here != self.start:
            self.draw(self.start)
        self._finish(closed=True)
        self.at = self.start

    def taken(self) -> tuple[Subpath, ...]:
        """The whole path; the pen is empty afterwards."""
        self._finish(closed=False)
        path, self.done, self.start, self.at = tuple(self.done), [], None, None
        return path

    @property
    def here(self) -> Point:
        """Where the pen stands. Raises ProofError where nothing was begun."""
        if self.at is None:
            raise ProofError("found a line that begins nowhere")
        return self.at

    def _finish(self, *, closed: bool) -> None:
        if self.segments:
            self.done.append(Subpath(tuple(self.segments), closed))
            self.segments = []
