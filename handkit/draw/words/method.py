"""Method: how each kind of stitch is made, for a first-time maker with thread in both hands.

In: the plan. Out: keys and texts. Worded for a right-handed maker, or a left-handed one where the
project says so.
The words of each kind of stitch are in its row (`kinds/stitches.py`).
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.kinds.materials import Family
from handkit.kinds.stitches import STITCHES, Text
from handkit.stitch.plan import StitchPlan

THREAD: Text = (
    "Thread",
    "Cut it as listed; wax it if it is not waxed. Needle on: pull the end through the eye for twice the "
    "needle's length, prick the needle through the thread near its tip, and draw the loop down over the eye.",
)
BACK: Text = (
    "Go back",
    "Back stitches: the last stitches once more, the other way, by the same moves. The holes are full: "
    "open them with the awl, turned in beside the threads.",
)


BACK_FIRST: tuple[Text, ...] = (
    ("Begin back", "A way such as 3 → 1, on to 30 begins in hole 3: sew back to 1, then on over that."),
)
LINE_UP: tuple[Text, ...] = (
    (
        "Glue",
        "Before you press: needles through the first, a middle and the last hole of all layers, for cement "
        "holds at once. Roughen a strip that lies on grain.",
    ),
)


CLOTH: tuple[Text, ...] = (
    (
        "In cloth",
        "No hole is there but a mark: part the yarns with a round awl, turned in square to the cloth, or "
        "with a sharp needle, just before the thread. A punch would cut them.",
    ),
)


def method(plan: StitchPlan, families: Sequence[Family]) -> tuple[Text, ...]:
    """What all seams of a plan ask for: only the stitches, hands and threads that it has."""
    settings = [seam.stitching for seam in plan.seams]
    kinds = {setting.stitch for setting in settings}
    lock = " ".join(dict.fromkeys(seam.lock for seam in plan.seams))
    stuff = families[0].value if len(families) == 1 else "work"
    left = bool(settings) and all(setting.left_handed for setting in settings)
    return (
        THREAD,
        *LINE_UP * any(seam.strips for seam in plan.seams),
        ("Hold", _hold(left_handed=left)),
        *(
            (key, text.format(stuff=stuff))
            for kind, traits in STITCHES.items()
            if kind in kinds
            for key, text in traits.method
        ),
        *CLOTH * (Family.CLOTH in families),
        *BACK_FIRST * any(seam.start_back for seam in plan.seams),
        BACK,
        ("Lock", lock),
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
