"""Stitch diagram: one stitch in a few pictures, seen from the top edge of the work.

In: a kind of stitch, the typesetter. Out: its block, or nothing where its words are enough.

        back, left hand            ╭─ back needle's strand, dashed
    ═══╪═══════╪═══════╪═══        the layers, cut along the row of holes
        front, right hand          ╰─ front needle's strand, continuous
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draw.layout.flow import Block, gap, picture, side_by_side, stacked
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.lettering import centred
from handkit.draw.model.marks import Ink, Words
from handkit.draw.model.path_ops import box_ops, joined, line_ops, polyline_ops
from handkit.geometry.affine import Point
from handkit.ink import HAIR, Stroke
from handkit.kinds.rows import table
from handkit.kinds.stitches import StitchKind

WIDTH = 46.0
HEIGHT = 27.0

# A picture is drawn this much larger, as far as the column allows.
MOST_SCALE = 1.0

# The layers' upper face, lower face, and the holes sewn through: hole 1, 2 and 3 across.
TOP, BOTTOM = -10.0, -14.0
HOLES = (10.0, 21.0, 32.0)

FRONT = Stroke(0.6)
BACK = Stroke(0.6, (1.6, 0.8))
NEEDLE = Stroke(1.1)
LAYER = Stroke(0.25)

Strand = Sequence[Point]

# Its words, the front needle's thread and the back needle's.
Picture = tuple[str, Strand, Strand]


def stitch_diagram(kind: StitchKind, setter: Typesetter) -> tuple[Block, ...]:
    """The pictures of a stitch, side by side where there is room; nothing where it has none."""
    if not PICTURES[kind]:
        return ()
    across = next(count for count in (4, 2, 1) if setter.width >= count * WIDTH or count == 1)
    apart = setter.width / across
    panels = [_panel(*panel, min(MOST_SCALE, apart / WIDTH), setter) for panel in PICTURES[kind]]
    rows = [side_by_side(panels[k : k + across], apart=apart) for k in range(0, len(panels), across)]
    return (gap(2), stacked(rows))


def _panel(text: str, front: Strand, back: Strand, scale: float, setter: Typesetter) -> Block:
    """Its words, the layers with their holes, both strands with their needles."""
    left, right = 2.0, WIDTH - 4.0
    faces = joined((line_ops((left, TOP), (right, TOP)), line_ops((left, BOTTOM), (right, BOTTOM))))
    between = line_ops((left, (TOP + BOTTOM) / 2), (right, (TOP + BOTTOM) / 2))
    walls = joined(line_ops((x + side, TOP), (x + side, BOTTOM)) for x in HOLES for side in (-0.9, 0.9))
    inks = (
        Ink(faces, LAYER),
        Ink(between, Stroke(0.13, (1, 1))),
        Ink(walls, HAIR),
        *_strand(front, FRONT),
        *_strand(back, BACK),
    )
    parts: tuple[Ink | Words, ...] = (
        *(Ink(ink.path.scaled(scale), ink.stroke) for ink in inks),
        centred("back", ((right - 4) * scale, (TOP + 2) * scale), setter.fonts),
        centred("front", ((right - 4) * scale, (BOTTOM - 2) * scale), setter.fonts),
    )
    words = setter.narrowed(WIDTH * scale - 2).text(text, bold=True)
    return stacked([*words, picture(HEIGHT * scale, *parts)])


def _strand(line: Strand, stroke: Stroke) -> tuple[Ink, ...]:
    """The thread, its last bit the needle; a small ring is the needle's eye."""
    if len(line) < 2:
        return ()
    (x, y) = line[-2]
    eye = box_ops(x - 0.5, y - 0.5, x + 0.5, y + 0.5)
    return (Ink(polyline_ops(line[:-1]), stroke), Ink(polyline_ops(line[-2:]), NEEDLE), Ink(eye, HAIR))


_A, _B, _C = HOLES
_MIDDLE = (TOP + BOTTOM) / 2
_NEAR = 1.0

_SADDLE: tuple[Picture, ...] = (
    (
        "Start: halves alike",
        ((_A, _MIDDLE), (_A, BOTTOM - _NEAR), (_A + 2, BOTTOM - 7), (_A + 9, BOTTOM - 10)),
        ((_A, _MIDDLE), (_A, TOP + _NEAR), (_A + 2, TOP + 5), (_A + 9, TOP + 7)),
    ),
    (
        "1: front needle first",
        (
            (_A, _MIDDLE),
            (_A, BOTTOM - _NEAR),
            (_B, BOTTOM - _NEAR),
            (_B, TOP + 3),
            (_B + 3, TOP + 8),
        ),
        ((_A, _MIDDLE), (_A, TOP + _NEAR), (_A - 3, TOP + 4), (_A - 1, TOP + 8)),
    ),
    (
        "2, 3: hold its thread back; back needle",
        (
            (_A, _MIDDLE),
            (_A, BOTTOM - _NEAR),
            (_B - 0.45, BOTTOM - _NEAR),
            (_B - 0.45, TOP + _NEAR),
            (_A, TOP + 6),
            (_A - 6, TOP + 8),
        ),
        (
            (_A, _MIDDLE),
            (_A, TOP + _NEAR),
            (_B + 0.45, TOP + _NEAR),
            (_B + 0.45, BOTTOM - 5),
            (_B - 3, BOTTOM - 10),
        ),
    ),
    (
        "4: pull both; the sides have changed",
        (
            (_A, _MIDDLE),
            (_A, BOTTOM - 0.5),
            (_B - 0.45, BOTTOM - 0.5),
            (_B - 0.45, TOP + 0.5),
            (_B + 3, TOP + 5),
            (_B + 10, TOP + 7),
        ),
        (
            (_A, _MIDDLE),
            (_A, TOP + 0.5),
            (_B + 0.45, TOP + 0.5),
            (_B + 0.45, BOTTOM - 0.5),
            (_B + 3, BOTTOM - 6),
            (_B + 9, BOTTOM - 9),
        ),
    ),
)

PICTURES = table(
    StitchKind,
    {
        StitchKind.SADDLE: _SADDLE,
        StitchKind.RUNNING: (),
        StitchKind.BOX: (),
        StitchKind.CROSS: (),
        StitchKind.WHIP: (),
    },
)
