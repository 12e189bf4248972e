"""The thread table as CSV, for a spreadsheet.

In: the plan. Out: text: a line of heads, then a line for every thread that is cut, in working order.
Fields are parted by commas and quoted where they must be (RFC 4180); lines end with a line feed;
lengths are mm with a decimal point.
"""

from __future__ import annotations

import csv
from io import StringIO

from handkit.draw.export.json_fields import fields, mm
from handkit.draw.words.threads import CutThread, cut_threads
from handkit.punch.punched import Punched
from handkit.stitch.plan import StitchPlan

ROW = fields(
    CutThread,
    "order=seam.order seam=seam.name stitch=seam.stitch thread=place of=count diameter_mm "
    "fibre=seam.stitching.fibre needles=seam.needles from_hole=walk to_hole=walk "
    "tails_mm=sewn.tails wraps_mm=sewn.wraps cut_mm",
    from_hole=lambda walk: walk[0],
    to_hole=lambda walk: walk[-1],
)


def plan_csv(plan: StitchPlan, punched: Punched) -> str:
    """The table: which thread sews what, how long it is cut, and that for all copies."""
    copies = punched.project.copies
    text = StringIO()
    table = csv.writer(text, lineterminator="\n")
    table.writerow((*ROW.names, "copies", "all_copies_mm"))
    for thread in cut_threads(plan):
        table.writerow((*ROW.one(thread).values(), copies, mm(thread.cut * copies)))
    return text.getvalue()
