"""Step of its own: a photo of things on the mat to their outlines at true size, in two calls.

In: the photo's bytes, the mat, the lengths of its bars as a rule has them, how many things lie there. Out of
`find`: `Found`, the things as they are seen, numbered; of `outline`, with how thick each is: `Traced`.
"""

from __future__ import annotations

from collections.abc import Mapping

from handkit.photo.mat import Mat
from handkit.photo.traced import Found, Thick, Traced


def find(picture: bytes, mat: Mat, *, bars: tuple[float, float], count: int, name: str = "") -> Found:
    """What lies on the mat. `bars` are the lengths of `mat.across` and `mat.up` in mm as measured; `name` is
    what findings call the photo.

    Raises PhotoError where the photo does not do, or where it shows another number of things.
    """
    raise NotImplementedError


def outline(found: Found, thick: Mapping[int, Thick]) -> Traced:
    """The things at true size; `thick` has one for each number.

    Raises PhotoError where a thing is thicker than the photo allows.
    """
    raise NotImplementedError
