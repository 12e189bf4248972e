"""The plan as one document: what pages, a terminal and a browser tell, as data.

In: nothing. Out: the records of a document: chapters of headings, paragraphs, tables (`listing.py`), lines
by key, steps to tick, illustrations. Nothing here says how it looks: each of the writers (`draw/pages/`,
`draw/export/`) has one way for each part.

Words: a *part* is what stands alone under or over others; a *step to tick* is one box for each of the works,
or threads to cut, that it is about, and all that is read while they are done; what is told *brief* is a step
of the work in a sentence, where its own lines are left out; threads have none.
"""

from __future__ import annotations

import msgspec

from handkit.draw.words.listing import Listing
from handkit.kinds.stitches import StitchKind, Text
from handkit.stitch.plan import SeamPlan


class Heading(msgspec.Struct, frozen=True):
    """What stands over some parts of a chapter."""

    text: str


class Paragraph(msgspec.Struct, frozen=True):
    """A text; `at_hand` is read at arm's length."""

    text: str
    at_hand: bool = False


class Numbered(msgspec.Struct, frozen=True):
    """Texts that are numbered from 1."""

    texts: tuple[str, ...]


class Keyed(msgspec.Struct, frozen=True):
    """Texts, each with its key, that are read once, before the work."""

    lines: tuple[Text, ...]


class Illustration(msgspec.Struct, frozen=True):
    """A picture: seams on their face piece, or how a stitch is made; each writer draws it in its room."""

    of: tuple[SeamPlan, ...] | StitchKind
    told: str  # what it shows, for one who can't see it
    caption: str = ""  # where a step has several


class WalkPlace(msgspec.Struct, frozen=True):
    """A hole of a walk, and what happens there; "" for an ordinary stitch."""

    hole: int
    says: str


class Walk(msgspec.Struct, frozen=True):
    """The holes that both needles visit in order, for one who counts them."""

    code: str
    places: tuple[WalkPlace, ...]


class Line(msgspec.Struct, frozen=True):
    """A text with its key; `at_hand` is read with thread in both hands."""

    key: str
    text: str
    at_hand: bool = False


class Ticked(msgspec.Struct, frozen=True):
    """A step to tick, or several alike: a box for each mark."""

    marks: tuple[str, ...]  # the steps' numbers, or the numbers of threads
    title: str = ""
    aside: str = ""  # what is laid ready for it: thread
    said: tuple[str, ...] = ()
    lines: tuple[Line, ...] = ()
    notes: tuple[str, ...] = ()  # why it comes here, and what else is read before it
    caution: str = ""
    figures: tuple[Illustration, ...] = ()
    walks: tuple[Walk, ...] = ()
    brief: str = ""
    seams: tuple[str, ...] = ()  # the seams it is about, by name

    @property
    def is_work(self) -> bool:
        """Whether it is a step of the work, which can be told in brief; a thread to cut can't."""
        return bool(self.brief)


Part = Heading | Paragraph | Numbered | Keyed | Listing | Illustration | Ticked


class Chapter(msgspec.Struct, frozen=True):
    """Parts under one title, which the first sheet names; paper and terminal go on from one to the next."""

    title: str
    parts: tuple[Part, ...]


class PlanDocument(msgspec.Struct, frozen=True):
    """The whole plan."""

    title: str
    chapters: tuple[Chapter, ...]
