"""The thread table as CSV, for a spreadsheet, with what is put on after it.

In: the plan. Out: text: a line of heads, then a line for every thread that is cut, in working order, those of
edges that are overcast last, with piece and edge as `name`; then one for every fitting and one for each row
of other hardware. Fields are parted by commas and quoted where they must be (RFC 4180); lines end with a line
feed; lengths are mm with a decimal point.

`row` says what a line is about: thread, fitting or hardware. A thread has nothing in the columns of what
is put on, and what is no thread has nothing in those of a thread, so that each column can be summed or
drawn alone. A thread that goes through several seams has one line, for the seam that it is begun in:
`from_hole` is there, `to_hole` in `to_seam`.

Text that a spreadsheet would take for a formula gets an apostrophe before it, which shows the rest as text.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from io import StringIO

import msgspec

from handkit.draw.export.json_fields import fields, mm
from handkit.kinds.fittings import FittingKind
from handkit.punch.punched import Punched
from handkit.stitch.plan import CutThread, Overcast, StitchPlan, cut_threads

ROW = fields(
    CutThread,
    "order=seam.order seam=seam.name stitch=seam.stitch thread=number of=count diameter_mm=stitching.thread "
    "fibre=stitching.fibre needles=seam.needles from_hole=first_hole to_hole=last_hole "
    "tails_mm=tails wraps_mm=wraps cut_mm=cut",
)
OVERCAST = fields(
    Overcast, "of=count diameter_mm=stitching.thread fibre=stitching.fibre tails_mm=tails cut_mm=cut"
)
# Where it ends, when that is in another seam, and by way of which.
ON = fields(
    CutThread,
    "goes_on_in=more to_seam=more",
    goes_on_in=lambda more: "; ".join(seam.name for seam in more),
    to_seam=lambda more: more[-1].name if more else "",
)


# How text begins that is taken for a formula (OWASP, "CSV Injection"), in full-width letters too.
FORMULA = tuple("=+-@\t\r\n＝＋－＠")


class PutOn(msgspec.Struct, frozen=True):
    """A line for what is no thread: a fitting with the piece a keeper is made of, or a row of hardware."""

    row: str
    what: str
    name: str
    made_of: str
    sizes: str
    count: int  # for one article


def plan_csv(plan: StitchPlan, punched: Punched) -> str:
    """The table: which thread sews what, how long it is cut, what is put on, and all that for all copies."""
    copies = punched.project.copies
    text = StringIO()
    writer = csv.writer(text, lineterminator="\n")
    lines: list[tuple[object, ...]] = []
    own = (*PutOn.__struct_fields__, "all_copies")
    lines.append((*ROW.names, "copies", "all_copies_mm", *own, *ON.names))
    for thread in cut_threads(plan.seams):
        row = (*ROW.one(thread).values(), copies, mm(thread.cut * copies))
        lines.append((*row, "thread", *[""] * (len(own) - 1), *ON.one(thread).values()))
    for each in plan.overcast:
        told = {"stitch": "overcast", **OVERCAST.one(each), "needles": 1, "wraps_mm": 0.0}
        for number in range(1, each.count + 1):
            line = [({"thread": number} | told).get(name, "") for name in ROW.names]
            line += [copies, mm(each.cut * copies), "thread", "overcasting", f"{each.piece}: {each.edge}"]
            lines.append((*line, *[""] * (len(own) - 3 + len(ON.names))))
    for one in _put_on(plan):
        blank = [""] * len(ROW.names)
        put_on = (*msgspec.structs.astuple(one), one.count * copies)
        lines.append((*blank, copies, "", *put_on, *[""] * len(ON.names)))
    writer.writerows(map(_cell, line) for line in lines)
    return text.getvalue()


def _cell(value: object) -> object:
    """A cell as it is written: numbers as they are, text without a beginning that makes a formula of it.

    >>> [_cell(value) for value in ("=1+1", "@flap", "-2 mm", "rim", -2.5, "")]
    ["'=1+1", "'@flap", "'-2 mm", 'rim', -2.5, '']
    """
    return f"'{value}" if isinstance(value, str) and value.startswith(FORMULA) else value


def _put_on(plan: StitchPlan) -> Iterator[PutOn]:
    """The fittings one by one, then the rows of the hardware list that are none."""
    for each in plan.fittings:
        kind, count = each.kind.value, max(len(each.at), 1)
        yield PutOn("fitting", kind, each.name, each.piece or "", each.size_words, count)
    kinds = {kind.value for kind in FittingKind}
    for row in plan.hardware:
        if row.what not in kinds:
            yield PutOn("hardware", row.what, "", "", row.sizes, row.count)
