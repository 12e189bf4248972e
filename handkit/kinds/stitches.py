"""Stitch kinds: what makes a saddle, running, box, cross or whip stitch unlike the others.

One row a kind: its needles, where it can be sewn, and its words. How it lays its thread is a row of
`stitch/sewing/kinds.py`, its pictures are one of `draw/pages/stitch_diagram.py`. A new kind is a
member of `StitchKind` and a row in each of the three.

The saddle stitch is one thread with a needle at either end, both through every hole, so that one
strand lies on either face (ISO 4915 type 201, strands parallel). The other stitches: common
practice, no source.
"""

from __future__ import annotations

from enum import StrEnum

import msgspec

from handkit.kinds.rows import table

# A key and what it tells, as the pages of the plan list them.
Text = tuple[str, str]


class StitchKind(StrEnum):
    """How a hand seam is sewn."""

    SADDLE = "saddle"  # one thread, two needles, both through every hole
    RUNNING = "running"  # one needle, there and back through the same holes
    BOX = "box"  # two needles, round a mitred corner of two pieces
    CROSS = "cross"  # two needles, crossing over two edges that lie side by side
    WHIP = "whip"  # one needle, over the edge from hole to hole


class StitchTraits(msgspec.Struct, frozen=True):
    """One kind. `way` goes on into the holes, such as "1 → 9, back to 7"; `method` is for beginners
    ({stuff}: what is sewn)."""

    needles: int
    way: str
    method: tuple[Text, ...]
    heading: str = "How to stitch"  # over the method, where all seams are sewn so
    rounds: int = 1  # how often the needles go along the seam, back stitches left out
    round_the_edge: bool = False  # its holes lie beside an edge on the front and the back
    edge_to_edge: bool = False  # two layers meet in it
    runs_on: bool = False  # its thread may go on into the next seam


_SADDLE: tuple[Text, ...] = (
    ("Start", "Front needle through the start hole. Pull until both halves are alike: needle on needle."),
    ("Each hole  1", "Front needle through the next hole; pull a hand's length after it."),
    ("2", "Pull that thread back, towards the holes already sewn, and hold it there."),
    (
        "3",
        "Back needle through the same hole, beside the thread, on the side of the next hole, never through "
        "it. Slide the thread to feel that it is free.",
    ),
    (
        "4",
        "Pull both ends even: firm, but not so that the {stuff} puckers. The needles have changed sides: "
        "again the one that is now in front goes first. Never change this order within a seam.",
    ),
)
_RUNNING: Text = (
    "Running",
    "One needle: in at one hole, out at the next, to the end of the seam; turn, and come back through "
    "the same holes, so that each gap is filled. Beside the first strand, never through it.",
)
_BOX: Text = (
    "Box",
    "For two pieces at a mitred corner: pierce each hole slanting, from the face out into the mitre, "
    "before you sew. Then as the saddle stitch, each needle in at one face and out at the other.",
)
_CROSS: Text = (
    "Cross",
    "For two edges side by side: both needles come up, cross over the join and go down in the next "
    "holes on the other side. Always the same needle on top; pull until the edges just touch.",
)
_WHIP: Text = (
    "Whip",
    "One needle: through the layers, over the edge, through the next hole from the same side. Pull "
    "each turn snug before the next.",
)

STITCHES = table(
    StitchKind,
    {
        StitchKind.SADDLE: StitchTraits(
            needles=2,
            way="both needles, front one first in each hole",
            method=_SADDLE,
            heading="The saddle stitch, for every seam",
            runs_on=True,
        ),
        StitchKind.RUNNING: StitchTraits(
            needles=1,
            way="running stitch, one needle, in and out by turns, and back through the same holes",
            method=(_RUNNING,),
            rounds=2,
        ),
        StitchKind.BOX: StitchTraits(
            needles=2,
            way="box stitch, both needles, front one first, each time out through the mitre",
            method=(_BOX,),
            round_the_edge=True,
            edge_to_edge=True,
        ),
        StitchKind.CROSS: StitchTraits(
            needles=2,
            way="cross stitch, both needles, crossing over the two edges, always the same one on top",
            method=(_CROSS,),
            round_the_edge=True,
            edge_to_edge=True,
        ),
        StitchKind.WHIP: StitchTraits(
            needles=1,
            way="whip stitch, one needle, over the edge, through every hole from the same side",
            method=(_WHIP,),
            round_the_edge=True,
        ),
    },
)
