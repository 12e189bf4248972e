"""Otherwise: what the first sheet tells of a kit that is drafted otherwise than its file has it.

In: what was punched. Out: blocks under the sheet's title; none where the kit is as its file has it.
"""

from __future__ import annotations

from handkit.draw.layout.flow import Block, gap
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.words.headed import MIRRORED
from handkit.punch.punched import Punched

# What a maker has to know before he lays a mirrored template on leather.
_MIRRORED = (
    "All of this kit is the mirror image of what its file draws: pieces, holes, slits, openings, pictures. "
    "Words are not: corner letters, numbers and names are the file's; what it calls left lies on the right.",
    "The sewing is mirrored, too: the {leads} hand leads, and slits lean the other way. If your {other} "
    "hand leads all the same, begin each seam at its last hole. What was found is told of the file as drawn.",
)


def otherwise_blocks(punched: Punched, setter: Typesetter) -> tuple[Block, ...]:
    """All that is to be told."""
    return _mirrored(punched, setter) if punched.project.mirrored else ()


def _mirrored(punched: Punched, setter: Typesetter) -> tuple[Block, ...]:
    seams = punched.seams
    left = not seams or seams[0].pattern.stitching.left_handed
    leads, other = ("left", "right") if left else ("right", "left")
    texts = [text.format(leads=leads, other=other) for text in _MIRRORED]
    head = MIRRORED[0].upper() + MIRRORED[1:]
    return (*setter.heading(head), *setter.texts(texts, space=0.4), gap(1.5))
