"""Wordings of step 7, proof: one row for each thing that is looked at, and each way it can be wrong.

The key of a row is a check's code, or `code/variant`. `{slack}` is how far a length may be off, in
mm. A count is told with what it counts: `{holes:counted hole}` is "1 hole" or "3 holes".
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import msgspec


class Wording(msgspec.Struct, frozen=True):
    """How a check is told: what was looked at, what was found, what is wanted, and what to do where it
    fails; with placeholders."""

    what: str
    found: str
    wanted: str
    do: str = ""


# Of failures alike that are not told one by one.
MORE = "{count} more that fail"

# What stands between figures and is the same in several rows.
_OFF = "{off:z.3f} mm"
_SLACK = "{slack:.3f} mm"
_LENGTH = "{length:z.3f} mm"
_WITHIN = "{wanted:.3f} ± {slack:.3f} mm"
_BREAK = 'break {number} of "{piece}"'
_JOIN = 'join {first}-{second} of "{piece}"{drawing}'
_HOLE = 'page {page}: hole {number} of "{seam}", run {run}, on "{piece}"'
_SQUARE = "page {page}: test square"
_BAR = "page {page}: scale bar"
_MARK = "page {page}: registration mark"

# What to do about a file that is no longer what handkit wrote.
_AGAIN = "a program has written this file again; print the kit handkit wrote"

# The same where it is held to its project, drafted anew.
ANEW = "the project has changed since, or the file has: make the kit anew"

# A mark of a page, and where on it.
_DRAWN = "page {page} ({label}): {mark}"
_THERE = "{x:.1f} mm across, {y:.1f} mm up"
_LISTED = "as the kit's list has it, ± {within:.2f} mm"

PROVING: Mapping[str, Wording] = MappingProxyType(
    {
        "boxes": Wording("boxes of {pages:counted page}", "all of the whole page", "all of the whole page"),
        "boxes/page": Wording(
            "page {page}: boxes", "one that is not the whole page: {boxes}", "all of the whole page", _AGAIN
        ),
        "breaks": Wording(
            "break lines",
            "{breaks:counted straight part} left out",
            f"one length at both ends, lines alike ± {_SLACK}",
        ),
        "breaks/alike": Wording(_BREAK, f"lines that differ by {_OFF}", f"at most {_SLACK}"),
        "breaks/lengths": Wording(_BREAK, "ends that say unlike lengths", "one length"),
        "breaks/nameless": Wording(
            "page {page}: break line", "one that names no break", "piece, portion, break and length"
        ),
        "breaks/one-end": Wording(_BREAK, "a line at one end only", "one at each end"),
        "breaks/zigzag": Wording(_BREAK, "no line with a zigzag", "one at each end"),
        "extras": Wording("what the file carries and does", "nothing else", "a kit's pages and bookmarks"),
        "extras/action": Wording(
            "what the file does by itself", "an action: {action}", "nothing, or a page that is shown", _AGAIN
        ),
        "extras/attached": Wording("attached files", '"{name}"', "the kit's manifest alone", _AGAIN),
        "extras/file": Wording(
            "what the file carries", "{entry}", "pages, bookmarks and the kit's manifest", _AGAIN
        ),
        "extras/page": Wording("page {page}: what it carries", "{entry}", "its drawing alone", _AGAIN),
        "content": Wording(
            "contents of {pages:counted page}",
            "as handkit wrote them",
            "as handkit wrote them",
        ),
        "content/page": Wording(
            "page {page} ({label}): its content",
            "other than handkit wrote it",
            "as handkit wrote it",
            _AGAIN,
        ),
        "drawing": Wording(
            "what template sheets show",
            "{pieces:counted piece}, {holes:counted stitch hole}, {openings:counted opening}",
            "all that the kit's list has and nothing else, ± {within:.2f} mm",
        ),
        "drawing/added": Wording(
            _DRAWN,
            f"drawn at {_THERE}, {{size:.2f}} mm beside what is listed",
            "nothing but what the kit's list has",
            _AGAIN,
        ),
        "drawing/missing": Wording(
            _DRAWN,
            f"not drawn at {_THERE}",
            _LISTED,
            _AGAIN,
        ),
        "drawing/moved": Wording(
            _DRAWN,
            f"{{size:.2f}} mm off at {_THERE}",
            _LISTED,
            _AGAIN,
        ),
        "drawing/part": Wording(
            _DRAWN,
            f"{{size:.1f}} mm of it not drawn, from {_THERE}",
            _LISTED,
            _AGAIN,
        ),
        "drawing/shifted": Wording(
            _DRAWN,
            "up to {size:.2f} mm off, {across:.3f} times as large across, {down:.3f} down",
            _LISTED,
            _AGAIN,
        ),
        "drawing/twice": Wording(
            _DRAWN,
            f"drawn twice at {_THERE}",
            "once",
            _AGAIN,
        ),
        "fonts": Wording(
            "embedded fonts",
            "{fonts:counted font}",
            "as handkit embedded them",
        ),
        "fonts/missing": Wording(
            'font "{font}"',
            "not in the file",
            "as handkit embedded it",
            _AGAIN,
        ),
        "fonts/other": Wording(
            'page {page}: font "{font}"',
            "another than handkit embedded",
            "as handkit embedded it",
            _AGAIN,
        ),
        "holes": Wording(
            "stitch holes",
            "{holes:counted hole} on {pieces:counted piece}",
            f"each tick about its point ± {_SLACK}",
        ),
        "holes/apart": Wording(_HOLE, f"marks {_OFF} apart", f"at most {_SLACK}"),
        "holes/marks": Wording(
            _HOLE,
            "{ticks:counted tick}, {points:counted point}",
            "a tick, and one point of at most {most:g} mm",
        ),
        "holes/nameless": Wording(
            "page {page}: hole", "one that is not named", "piece, portion, seam, run and number"
        ),
        "kit": Wording("this is none of handkit's kits", "not one mark of a kit", "a kit's marks"),
        "list": Wording(
            "the kit's list of what it shows",
            "a list by handkit {made_by}",
            "a list",
        ),
        "list/broken": Wording(
            "the kit's list of what it shows",
            "{reason}",
            "the list that handkit attaches to a kit",
            _AGAIN,
        ),
        "list/other": Wording(
            "the kit's list of what it shows",
            "the list of another kit",
            "the list that handkit attached to this one",
            _AGAIN,
        ),
        "list/none": Wording(
            "the kit's list of what it shows",
            "none",
            "the list that handkit attaches to a kit",
            "print the kit handkit wrote; of this file can't be told what is missing",
        ),
        "paper": Wording("paper of {pages:counted page}", "{size}", "{known}"),
        "paper/page": Wording("page {page}: paper", "{size}", "{known}", _AGAIN),
        "loose": Wording(
            "ink of {pages:counted page}", "nothing that is no mark of a kit", "marks of a kit alone"
        ),
        "loose/ink": Wording(
            "page {page}: ink", "{what} at {x:.1f}, {y:.1f} mm", "marks of a kit alone", _AGAIN
        ),
        "loose/picture": Wording("page {page}: ink", "{what}", "marks of a kit alone", _AGAIN),
        "print-scaling": Wording("print scaling asked for", "{scaling}", "None", _AGAIN),
        "print-scaling/not-said": Wording("print scaling asked for", "not said", "None", _AGAIN),
        "registration": Wording(
            "registration marks",
            "{joins:counted join}, {marks:counted mark}",
            f"alike in both portions of a join ± {_SLACK}",
        ),
        "registration/alike": Wording(_JOIN, f"distances that differ by {_OFF}", f"at most {_SLACK}"),
        "registration/cross": Wording(
            f"{_MARK} {{number}}", "no cross in a circle", "both, about one centre"
        ),
        "registration/few": Wording(_JOIN, "{marks:counted mark}", "at least 2"),
        "registration/nameless-line": Wording(
            "page {page}: line of a join", "one that names no join", "piece, portion and join"
        ),
        "registration/nameless-mark": Wording(_MARK, "one that names no join", "piece, portion and join"),
        "registration/no-number": Wording(_MARK, "one without a number", "a number from 1"),
        "registration/one-window": Wording(_JOIN, "marks that are in one portion only", "each in both"),
        "registration/twice": Wording(f"{_MARK} {{number}}", "drawn twice in portion {window}", "once"),
        "registration/windows": Wording(_JOIN, "marks in {windows}", "in portions {first} and {second}"),
        "rotate": Wording("rotation of {pages:counted page}", "0 degrees", "0 degrees"),
        "rotate/page": Wording("page {page}: rotation", "{degrees:g} degrees", "0 degrees", _AGAIN),
        "same-paper": Wording("one size for {pages:counted page}", "{first}", "{first}"),
        "same-paper/all": Wording("paper of {pages:counted page}", "{size}", "{first}, as made", _AGAIN),
        "same-paper/page": Wording("page {page}: same as all pages", "{size}", "{first}", _AGAIN),
        "scale-bar": Wording(
            "scale bars",
            "{bars:counted scale bar}, all as claimed",
            f"each as long as it claims ± {_SLACK}",
        ),
        "scale-bar/length": Wording(f"{_BAR} {{way}}", _LENGTH, _WITHIN),
        "scale-bar/line": Wording(_BAR, "{lines:counted line}", "one straight line"),
        "scale-bar/no-claim": Wording(_BAR, "a bar that claims no length", "a length"),
        "scale-bar/none": Wording("scale bar {way}", "none", "at least one"),
        "sheets": Wording(
            "pages of the kit",
            "{pages:counted page}, {sheets} of them templates",
            "all of the kit's list, in its order",
        ),
        "sheets/added": Wording(
            "page {page}",
            "a page that the kit's list has not",
            "no page more",
            _AGAIN,
        ),
        "sheets/missing": Wording(
            "page {page} ({label})",
            "not in the file",
            "every page of the kit's list",
            _AGAIN,
        ),
        "sheets/order": Wording(
            "page {page} ({label})",
            "page {place} of the kit's list",
            "pages in the list's order",
            _AGAIN,
        ),
        "seen": Wording("what is seen on paper", "{marks:counted mark}", "every mark whole and black"),
        "seen/mark": Wording(
            "page {page}: {mark}{where}", "{reason}", "black, of its own pen, and open to sight", _AGAIN
        ),
        "test-square": Wording(f"{_SQUARE}, {{way}}", _LENGTH, _WITHIN),
        "test-square/no-claim": Wording(_SQUARE, "a square that claims no side", "a side"),
        "test-square/none": Wording("test square", "none", "a square of {side:.3f} mm"),
        "test-square/shape": Wording(_SQUARE, "no upright closed square", "one, drawn as a line"),
        "viewer": Wording("what is asked of a viewer", "{found}", "{wanted}", _AGAIN),
        "user-unit": Wording("user unit of {pages:counted page}", "1", "1"),
        "user-unit/page": Wording("page {page}: user unit", "{unit:g}", "1", _AGAIN),
        "project": Wording("the kit's list of what it shows", "the project's", "the project's", ANEW),
        "project/version": Wording(
            "what made the kit",
            "handkit {made_by}",
            "handkit {this}, which drafts alike",
            "make the kit anew",
        ),
        "words": Wording("words on template sheets", "{texts:counted text}", "all that the kit's list has"),
        "words/added": Wording(
            "page {page} ({label}): words", '"{text}"{more}', "nothing but what the kit's list has", _AGAIN
        ),
        "words/missing": Wording(
            "page {page} ({label}): words", 'no "{text}"{more}', "all that the kit's list has", _AGAIN
        ),
    }
)
