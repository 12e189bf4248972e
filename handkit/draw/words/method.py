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
    "Cut it to the length in the list of threads; wax it if it is not waxed. Needle on: pull the end "
    "through the eye for twice the needle's length, prick the needle through the thread near its tip, and "
    "draw the loop down over the eye.",
)
BACK: Text = (
    "Go back",
    "Back stitches: the last stitches once more, the other way, by the same moves. The holes are full: "
    "open them with the awl, turned in beside the threads.",
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
        ("Hold", _hold(left_handed=left)),
        *(
            (key, text.format(stuff=stuff))
            for kind, traits in STITCHES.items()
            if kind in kinds
            for key, text in traits.method
        ),
        *CLOTH * (Family.CLOTH in families),
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
