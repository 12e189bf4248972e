"""The thread table as CSV, for a spreadsheet.

In: the plan. Out: text: a line of heads, then a line for every thread that is cut, in working order.
Fields are parted by commas and quoted where they must be (RFC 4180); lines end with a line feed;
lengths are mm with a decimal point.
"""

from __future__ import annotations

import csv
from io import StringIO

from handkit.draw.export.json_values import mm
from handkit.punch.punched import Punched
from handkit.stitch.plan import SeamPlan, StitchPlan, Thread

HEADS = (
    "order",
    "seam",
    "stitch",
    "thread",
    "of",
    "diameter_mm",
    "fibre",
    "needles",
    "from_hole",
    "to_hole",
    "tails_mm",
    "wraps_mm",
    "cut_mm",
    "copies",
    "all_copies_mm",
)


def plan_csv(plan: StitchPlan, punched: Punched) -> str:
    """The table: which thread sews what, how long it is cut, and that for all copies."""
    copies = punched.pattern.project.copies
    text = StringIO()
    table = csv.writer(text, lineterminator="\n")
    table.writerow(HEADS)
    for seam in plan.seams:
        for number, thread in enumerate(seam.threads, start=1):
            table.writerow(_row(seam, number, thread, copies))
    return text.getvalue()


def _row(seam: SeamPlan, number: int, thread: Thread, copies: int) -> tuple[object, ...]:
    settings = seam.punched.stitching
    return (
        seam.order,
        seam.name,
        seam.stitch.value,
        number,
        len(seam.threads),
        mm(settings.thread),
        settings.fibre.value,
        seam.needles,
        seam.walk[thread.start],
        seam.walk[thread.end],
        mm(thread.tails),
        mm(thread.wraps),
        mm(thread.cut),
        copies,
        mm(thread.cut * copies),
    )
