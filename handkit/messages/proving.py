"""Wordings of step 7, proof: one row for each thing that is looked at, and each way it can be wrong.

The key of a row is a check's code, of what passes, or `code/variant`, of a way to fail, with what to do about
it. `{slack}` is how far a length may be off. A count is told with what it counts: `{holes:counted hole}` is
"1 hole" or "3 holes". `{at}` is where on the page, nothing of what has no place.
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

# Where on a page; which pages; a paper.
AT = " at {x:bare place}, {y:mm place}"
PAGES = ("page {pages:and}", "pages {pages:and}")
PAPER = "{name}, {size:size .3}"
PAPER_SIZE = "{size:size .3}"
ANY_PAPER = "a known paper, or sides from {least:bare} to {most:mm}"

# What stands between figures and is the same in several rows.
_OFF = "{off:mm .3}"
_SLACK = "{slack:mm .3}"
_LENGTH = "{length:mm .3}"
_WITHIN = "{wanted:bare .3} ± {slack:mm .3}"
_BREAK = "{pages}: break {number} of {piece:quoted}"
_JOIN = "{pages}: join {first}-{second} of {piece:quoted}{drawing}"
_HOLE = "page {page}: hole {number} of {seam:quoted}, run {run}, on {piece:quoted}"
_SQUARE = "page {page}: test square"
_BAR = "page {page}: scale bar"
_MARK = "page {page}: registration mark"

# What to do about a file that is no longer what handkit wrote.
_AGAIN = "a program has written this file again; print the kit handkit wrote"

# The same where it is held to its project, drafted anew.
ANEW = "the project has changed since, or the file has: make the kit anew"

# What to do where a length is off.
_SCALED = "a program has scaled this file; print the kit handkit wrote"

# A mark of a page, and where on it.
_DRAWN = "page {page} ({label}): {mark}"
_THERE = "{x:mm place} across, {y:mm place} up"
_LISTED = "as the kit's list has it, ± {within:mm .2}"

PROVING: Mapping[str, Wording] = MappingProxyType(
    {
        "bookmarks": Wording("bookmarks", "as handkit wrote them", "as handkit wrote them"),
        "bookmarks/page": Wording(
            "page {page}: bookmarks that lead to it{more}", "{found:quoted}", "{wanted:quoted}", _AGAIN
        ),
        "boxes": Wording("boxes of {pages:counted page}", "all of the whole page", "all of the whole page"),
        "boxes/all": Wording(
            "boxes of all {count} pages",
            "{boxes} that is not the whole page",
            "all of the whole page",
            _AGAIN,
        ),
        "boxes/page": Wording(
            "page {page}: boxes", "one that is not the whole page: {boxes}", "all of the whole page", _AGAIN
        ),
        "breaks": Wording(
            "break lines",
            "{breaks:counted straight part} left out",
            f"one length at both ends, lines alike ± {_SLACK}",
        ),
        "breaks/alike": Wording(_BREAK, f"lines that differ by {_OFF}{{at}}", f"at most {_SLACK}", _SCALED),
        "breaks/lengths": Wording(_BREAK, "ends that say unlike lengths{at}", "one length", _AGAIN),
        "breaks/nameless": Wording(
            "page {page}: break line",
            "one that names no break{at}",
            "piece, portion, break and length",
            _AGAIN,
        ),
        "breaks/one-end": Wording(_BREAK, "a line at one end only{at}", "one at each end", _AGAIN),
        "breaks/zigzag": Wording(_BREAK, "no line with a zigzag{at}", "one at each end", _AGAIN),
        "extras": Wording("what the file carries and does", "nothing else", "a kit's pages and bookmarks"),
        "extras/action": Wording(
            "what the file does by itself",
            "an action: {action:cut}",
            "nothing, or a page that is shown",
            _AGAIN,
        ),
        "extras/attached": Wording("attached files", "{name:quoted}", "the kit's manifest alone", _AGAIN),
        "extras/file": Wording(
            "what the file carries", "{entry:cut}", "pages, bookmarks and the kit's manifest", _AGAIN
        ),
        "extras/page": Wording("page {page}: what it carries", "{entry:cut}", "its drawing alone", _AGAIN),
        "content": Wording(
            "contents of {pages:counted page}",
            "as handkit wrote them",
            "as handkit wrote them",
        ),
        "content/all": Wording(
            "contents of all {count} pages", "other than handkit wrote them", "as handkit wrote them", _AGAIN
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
            "all that the kit's list has and nothing else, ± {within:mm .2}",
        ),
        "drawing/added": Wording(
            _DRAWN,
            f"drawn at {_THERE}, {{size:mm .2}} beside what is listed",
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
            f"{{size:mm .2}} off at {_THERE}",
            _LISTED,
            _AGAIN,
        ),
        "drawing/part": Wording(
            _DRAWN,
            f"{{size:mm place}} of it not drawn, from {_THERE}",
            _LISTED,
            _AGAIN,
        ),
        "drawing/shifted": Wording(
            _DRAWN,
            "up to {size:mm .2} off: {how}",
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
            "font {font:quoted}",
            "not in the file",
            "as handkit embedded it",
            _AGAIN,
        ),
        "fonts/other": Wording(
            "page {page}: font {font:quoted}",
            "another than handkit embedded",
            "as handkit embedded it",
            _AGAIN,
        ),
        "holes": Wording(
            "stitch holes",
            "{holes:counted hole} on {pieces:counted piece}",
            f"each tick about its point ± {_SLACK}",
        ),
        "holes/apart": Wording(_HOLE, f"marks {_OFF} apart{{at}}", f"at most {_SLACK}", _AGAIN),
        "holes/marks": Wording(
            _HOLE,
            "{ticks:counted tick}, {points:counted point}{at}",
            "a tick, and one point of at most {most:mm}",
            _AGAIN,
        ),
        "holes/nameless": Wording(
            "page {page}: hole", "one that is not named{at}", "piece, portion, seam, run and number", _AGAIN
        ),
        "kit/none": Wording(
            "this is none of handkit's kits",
            "not one mark of a kit",
            "a kit's marks",
            "print the kit handkit wrote",
        ),
        "labels": Wording("labels of {pages:counted page}", "as handkit wrote them", "as handkit wrote them"),
        "labels/page": Wording("page {page}: label{more}", "{found:quoted}", "{wanted:quoted}", _AGAIN),
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
        "loose/ink": Wording("page {page}: ink", "{what}{at}", "marks of a kit alone", _AGAIN),
        "loose/picture": Wording("page {page}: ink", "{what}{at}", "marks of a kit alone", _AGAIN),
        "print-scaling": Wording("print scaling asked for", "None", "None"),
        "print-scaling/other": Wording("print scaling asked for", "{scaling:cut}", "None", _AGAIN),
        "print-scaling/not-said": Wording("print scaling asked for", "not said", "None", _AGAIN),
        "registration": Wording(
            "registration marks",
            "{joins:counted join}, {marks:counted mark}",
            f"alike in both portions of a join ± {_SLACK}",
        ),
        "registration/alike": Wording(
            _JOIN,
            f"marks {{one}} and {{other}} that are {_OFF} further apart on one page",
            f"at most {_SLACK}",
            _SCALED,
        ),
        "registration/cross": Wording(
            f"{_MARK} {{number}}", "no cross in a circle{at}", "both, about one centre", _AGAIN
        ),
        "registration/few": Wording(_JOIN, "{marks:counted mark}", "at least 2", _AGAIN),
        "registration/nameless-line": Wording(
            "page {page}: line of a join", "one that names no join{at}", "piece, portion and join", _AGAIN
        ),
        "registration/nameless-mark": Wording(
            _MARK, "one that names no join{at}", "piece, portion and join", _AGAIN
        ),
        "registration/no-number": Wording(_MARK, "one without a number{at}", "a number from 1", _AGAIN),
        "registration/one-window": Wording(_JOIN, "{marks:and} in one portion only", "each in both", _AGAIN),
        "registration/twice": Wording(
            f"{_MARK} {{number}}", "drawn twice in portion {window}{at}", "once", _AGAIN
        ),
        "registration/windows": Wording(
            _JOIN, "marks in {windows}", "in portions {first} and {second}", _AGAIN
        ),
        "rotate": Wording("rotation of {pages:counted page}", "0 degrees", "0 degrees"),
        "rotate/all": Wording("rotation of all {count} pages", "{degrees:g} degrees", "0 degrees", _AGAIN),
        "rotate/page": Wording("page {page}: rotation", "{degrees:g} degrees", "0 degrees", _AGAIN),
        "same-paper": Wording("one size for {pages:counted page}", "{first}", "{first}"),
        "same-paper/all": Wording("paper of {pages:counted page}", "{size}", "{first}, as made", _AGAIN),
        "same-paper/page": Wording("page {page}: same as all pages", "{size}", "{first}", _AGAIN),
        "scale-bar": Wording(
            "scale bars",
            "{bars:counted scale bar}, all as claimed",
            f"each as long as it claims ± {_SLACK}",
        ),
        "scale-bar/length": Wording(f"{_BAR} {{way}}", f"{_LENGTH}{{at}}", _WITHIN, _SCALED),
        "scale-bar/line": Wording(_BAR, "{lines:counted line}{at}", "one straight line", _AGAIN),
        "scale-bar/no-claim": Wording(_BAR, "a bar that claims no length{at}", "a length", _AGAIN),
        "scale-bar/none": Wording("scale bar {way}", "none", "at least one", _AGAIN),
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
        "test-square/length": Wording(f"{_SQUARE}, {{way}}", f"{_LENGTH}{{at}}", _WITHIN, _SCALED),
        "test-square/no-claim": Wording(_SQUARE, "a square that claims no side{at}", "a side", _AGAIN),
        "test-square/none": Wording("test square", "none", "a square of {side:mm .3}", _AGAIN),
        "test-square/shape": Wording(_SQUARE, "no upright closed square{at}", "one, drawn as a line", _AGAIN),
        "viewer": Wording("what is asked of a viewer", "{wanted}", "{wanted}"),
        "viewer/other": Wording("what is asked of a viewer", "{found}", "{wanted}", _AGAIN),
        "user-unit": Wording("user unit of {pages:counted page}", "1", "1"),
        "user-unit/all": Wording("user unit of all {count} pages", "{unit:g}", "1", _AGAIN),
        "user-unit/page": Wording("page {page}: user unit", "{unit:g}", "1", _AGAIN),
        "project": Wording("the kit's list of what it shows", "the project's", "the project's"),
        "project/other": Wording(
            "the kit's list of what it shows", "another than the project's", "the project's", ANEW
        ),
        "project/version": Wording(
            "what made the kit",
            "handkit {made_by}",
            "handkit {this}, which drafts alike",
            "make the kit anew",
        ),
        "words": Wording("words on template sheets", "{texts:counted text}", "all that the kit's list has"),
        "words/added": Wording(
            "page {page} ({label}): words",
            "{text:quoted}{more}",
            "nothing but what the kit's list has",
            _AGAIN,
        ),
        "words/missing": Wording(
            "page {page} ({label}): words", "no {text:quoted}{more}", "all that the kit's list has", _AGAIN
        ),
    }
)
