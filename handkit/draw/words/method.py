"""Method: how each kind of stitch is made, for a first-time maker with thread in both hands.

In: the plan. Out: keys and texts. Worded for a right-handed maker, or a left-handed one where the
project says so.

The saddle stitch is one thread with a needle at either end, both through every hole, so that one
strand lies on either face (ISO 4915 type 201, strands parallel). The other stitches: common
practice, no source.
"""

from __future__ import annotations

from handkit.read.project import Fibre, StitchKind
from handkit.stitch.plan import StitchPlan

Text = tuple[str, str]

THREAD: Text = (
    "Thread",
    "Cut it to the length on the page of threads; wax it if it is not waxed. Needle on: pull the end "
    "through the eye for twice the needle's length, prick the needle through the thread near its tip, and "
    "draw the loop down over the eye.",
)
LOCKS: dict[Fibre, str] = {
    Fibre.SYNTHETIC: (
        "Synthetic: cut the ends to 2 mm, melt each to a bead, press it flat with something smooth."
    ),
    Fibre.LINEN: "Linen: cut the ends flush, a drop of glue in the hole.",
}
MELTING = "melting thread drips, burns and smokes: off skin, in fresh air, never near solvent glue. "
NEEDLES = "Needles: pull out sideways, away from faces. Local rules and trained advice go before this."
BACK: Text = (
    "Go back",
    "Back stitches: the last stitches once more, the other way, by the same moves. The holes are full: "
    "open them with the awl, turned in beside the threads.",
)
SADDLE: tuple[Text, ...] = (
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
        "Pull both ends even: firm, but not so that the leather puckers. The needles have changed sides: "
        "again the one that is now in front goes first. Never change this order within a seam.",
    ),
)
OTHERS: dict[StitchKind, Text] = {
    StitchKind.RUNNING: (
        "Running",
        "One needle: in at one hole, out at the next, to the end of the seam; turn, and come back through "
        "the same holes, so that each gap is filled. Beside the first strand, never through it.",
    ),
    StitchKind.BOX: (
        "Box",
        "For two pieces at a mitred corner: pierce each hole slanting, from the face out into the mitre, "
        "before you sew. Then as the saddle stitch, each needle in at one face and out at the other.",
    ),
    StitchKind.CROSS: (
        "Cross",
        "For two edges side by side: both needles come up, cross over the join and go down in the next "
        "holes on the other side. Always the same needle on top; pull until the edges just touch.",
    ),
    StitchKind.WHIP: (
        "Whip",
        "One needle: through the layers, over the edge, through the next hole from the same side. Pull "
        "each turn snug before the next.",
    ),
}


def method(plan: StitchPlan) -> tuple[Text, ...]:
    """What all seams of a plan ask for: only the stitches, hands and threads that it has."""
    settings = [seam.punched.stitching for seam in plan.seams]
    kinds = {setting.stitch for setting in settings}
    fibres = {setting.fibre for setting in settings}
    lock = " ".join(text for fibre, text in LOCKS.items() if fibre in fibres)
    left = bool(settings) and all(setting.left_handed for setting in settings)
    return (
        THREAD,
        ("Hold", _hold(left_handed=left)),
        *(SADDLE if StitchKind.SADDLE in kinds else ()),
        *(text for kind, text in OTHERS.items() if kind in kinds),
        BACK,
        ("Lock", lock),
        ("Caution", (MELTING if Fibre.SYNTHETIC in fibres else "") + NEEDLES),
    )


def _hold(*, left_handed: bool) -> str:
    """The clamp between the knees, the face to the hand that leads."""
    front, back = ("left", "right") if left_handed else ("right", "left")
    other = "" if left_handed else " Left-handed: read left for right."
    return (
        f"Clamp the work, the holes just above the jaws, its face to your {front} hand, the start farthest "
        f"from you; sew towards yourself. The {front} hand has the front needle, the {back} one the "
        f"back needle.{other}"
    )
