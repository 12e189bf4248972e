"""Findings: what a step has to say about the maker's file, and how it is said, in one place.

In: what was found, where, what is allowed, what to do. Out: one line for a terminal, or JSON.

Words: a *finding* is an error (no kit is made), a warning (the kit is made, look at this) or a
note (good to know). A *source* is an entry of the project file that remembers its lines.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

import msgspec

from handkit.messages.message import Severity
from handkit.messages.placeholders import filled
from handkit.messages.table import MESSAGES
from handkit.wording.edits import edits
from handkit.wording.figures import UNITS, Units
from handkit.wording.quoting import escaped, in_lines


class TextPlace(msgspec.Struct, frozen=True, repr_omit_defaults=True):
    """Where in a file something is written: its line and first column, from 1, and how many characters of
    that line it takes; 0 where that is not known."""

    line: int = 0
    column: int = 0
    width: int = 0


class Where(msgspec.Struct, frozen=True, repr_omit_defaults=True):
    """A place in the project file. `line` counts from 1; 0 is the file as a whole. `unit` is the file's:
    what is told of the place is in it. `column` and `width` are those of the value, as in `TextPlace`."""

    file: str = ""
    line: int = 0
    key: str = ""
    unit: str = "mm"
    column: int = 0
    width: int = 0


class Source(msgspec.Struct, frozen=True):
    """An entry of the project file, such as `piece "front"`, with the places of its keys and the file's
    unit. It has those of its keys that are `shared` from its `common` one, as seams from [stitching]."""

    file: str = ""
    path: str = ""
    line: int = 0
    keys: tuple[tuple[str, TextPlace], ...] = ()
    unit: str = "mm"
    common: str = ""
    shared: tuple[str, ...] = ()
    column: int = 0
    width: int = 0

    @property
    def units(self) -> Units:
        """How lengths are written for whoever reads of this entry."""
        return UNITS[self.unit]

    def says(self, key: str) -> bool:
        """Whether the file says it, and no default does."""
        return any(name == key for name, _ in self.keys)

    def at(self, key: str = "") -> Where:
        """The place of a key of this entry, or of the entry where the key isn't written.

        >>> front = Source("pouch.toml", 'piece "front"', 7, (("round", TextPlace(9, 9, 2)),))
        >>> front.at("round")
        Where(file='pouch.toml', line=9, key='piece "front": round', column=9, width=2)
        >>> front.at("on").line
        7
        """
        own = TextPlace(self.line, self.column, self.width)
        place = next((place for name, place in self.keys if name == key), own)
        path = self.common if key in self.shared else self.path
        words = f"{path}: {key}" if key and path else key or path
        return Where(self.file, place.line, words, self.unit, place.column, place.width)


class NamedHoles(msgspec.Struct, frozen=True):
    """Holes of a seam or places of an opening, its `work`, by their numbers, all where there are none: on a
    piece, or on all that they go through."""

    work: str
    numbers: tuple[int, ...] = ()
    piece: str = ""


# What a warning spoils that makes all of a file doubtful: an error there comes of it.
EVERYTHING = "everything"


class Finding(msgspec.Struct, frozen=True):
    """One thing to tell. Texts are phrases without a full stop; `code` is a fixed word. `holes` are those
    that it is about, for pictures; `also` are the other lines in which the same was found.

    `follows` and `spoils` name things by their sources' paths: where an error spoils one, what follows
    from it is not told (`first_causes`). A warning that spoils `EVERYTHING` is told as the one error where
    there is any.
    """

    code: str
    severity: Severity
    where: Where
    found: str
    allowed: str
    remedy: str
    follows: tuple[str, ...] = ()
    spoils: tuple[str, ...] = ()
    holes: tuple[NamedHoles, ...] = ()
    also: tuple[int, ...] = ()

    def __str__(self) -> str:
        """The one line a terminal shows.

        >>> print(Finding("radius-too-big", Severity.ERROR, Where("p.toml", 9, "round"), found="80 mm",
        ...     allowed="at most 74 mm", remedy="make the radius smaller"))
        p.toml:9: error: round: found 80 mm; allowed: at most 74 mm; make the radius smaller [radius-too-big]
        """
        return self.told()

    def told(self, *, column: bool = False) -> str:
        """The same line, with the column of what it is about where that is asked for and known."""
        at = self.where
        numbers = (at.line, at.column if column else 0)
        place = ":".join([at.file, *(str(number) for number in numbers if number)])
        head = f"{place}: {self.severity.value}" if place else self.severity.value
        return escaped(f"{head}: {self.words} [{self.code}]")

    @property
    def words(self) -> str:
        """What it is about and what there is to say, for one who has paper and not the file before him."""
        key = f"{self.where.key}: " if self.where.key else ""
        allowed = f"; allowed: {self.allowed}" if self.allowed else ""
        remedy = f"; {self.remedy}" if self.remedy else ""
        return f"{key}found {self.found_there}{allowed}{remedy}"

    @property
    def found_there(self) -> str:
        """What was found, with the other lines that say the same."""
        return f"{self.found}, also in {in_lines(self.also)}" if self.also else self.found

    def placed(self, where: Where) -> Finding:
        """The same finding at another place."""
        return msgspec.structs.replace(self, where=where)

    def at_holes(self, work: str, numbers: Iterable[int] = (), piece: str = "") -> Finding:
        """The same finding, about these holes too; about all of a seam or an opening without numbers."""
        return msgspec.structs.replace(self, holes=(*self.holes, NamedHoles(work, tuple(numbers), piece)))

    def following(self, *names: str) -> Finding:
        """The same finding, left out where one of these is told as wrong already."""
        return msgspec.structs.replace(self, follows=(*self.follows, *names))

    def once(self, *names: str) -> Finding:
        """The same finding, told once for all that tell of one of these, with the lines of the others."""
        return self.following(*names).spoiling(*names)

    def spoiling(self, *names: str) -> Finding:
        """The same finding, after which nothing need be told that follows from one of these."""
        return msgspec.structs.replace(self, spoils=(*self.spoils, *names))

    def to_json(self) -> dict[str, Any]:
        """The finding for other programs; all values are text but `line`."""
        return {
            "code": self.code,
            "severity": self.severity.value,
            "file": self.where.file,
            "line": self.where.line,
            "key": self.where.key,
            "found": self.found_there,
            "allowed": self.allowed,
            "remedy": self.remedy,
        }


NOWHERE = Where()  # of a finding whose place is not known yet; see `Finding.placed`


def finding(key: str, where: Where = NOWHERE, /, **values: object) -> Finding:
    """A finding in the words of its row in the table of messages, with these values filled in: lengths, which
    come in mm, in the unit of the file it is about.

    `key` is the finding's code, or `code/variant` where a code is told in several ways.

    >>> where = Where("p.toml", 9, 'seam "side": longest')
    >>> print(finding("longest-thread-too-short", where, longest=200.0, least=310, tail=150.0))
    p.toml:9: error: seam "side": longest: found a longest thread of 200 mm a side; allowed: at least 310 mm \
here, 150 mm of it tail; allow a longer thread or shorter tails [longest-thread-too-short]
    """
    row, units = MESSAGES[key], UNITS[where.unit]
    found, allowed, remedy = (filled(text, values, units) for text in (row.found, row.allowed, row.remedy))
    return Finding(key.partition("/")[0], row.severity, where, found, allowed, remedy)


def has_errors(findings: Iterable[Finding]) -> bool:
    """Whether any of the findings stops the work."""
    return any(finding.severity is Severity.ERROR for finding in findings)


def first_causes(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings without those that follow from an error among them: one cause gives one message, and what
    was found in another file one there.

    Of two that follow from one another the first by its line stays.

    >>> off = Finding("off", Severity.ERROR, NOWHERE, "a", "", "").spoiling("part")
    >>> edge = Finding("edge", Severity.ERROR, NOWHERE, "b", "", "").following("part").spoiling("seam")
    >>> near = Finding("near", Severity.ERROR, NOWHERE, "c", "", "").following("seam")
    >>> [each.code for each in first_causes([near, edge, off])]
    ['near', 'off']
    >>> [each.code for each in first_causes([near, edge])]
    ['edge']
    >>> twice = [Finding("off", Severity.ERROR, Where("p.toml", k), "a", "", "").once("a") for k in (3, 7)]
    >>> [str(each) for each in first_causes(twice)]
    ['p.toml:3: error: found a, also in line 7 [off]']
    >>> beside = Finding("off", Severity.ERROR, Where("q.toml", 5), "a", "", "").once("a")
    >>> [str(each) for each in first_causes([*twice, beside])][1:]
    ['q.toml:5: error: found a [off]']
    """
    listed = list(findings)
    doubts = [each for each in listed if EVERYTHING in each.spoils]
    if doubts and has_errors(listed):
        return (msgspec.structs.replace(doubts[0], severity=Severity.ERROR),)
    spoilt: dict[str, list[int]] = {}
    left_out: set[int] = set()
    also: dict[int, set[int]] = {}
    for index in _causes_first(listed):
        each = listed[index]
        causes = [cause for name in each.follows for cause in spoilt.get(name, ())]
        same = [
            cause for cause in causes if set(each.spoils) & set(each.follows) & set(listed[cause].follows)
        ]
        here = [cause for cause in same if listed[cause].where.file == each.where.file]
        if here or len(same) < len(causes):
            left_out.add(index)
            for cause in here[:1]:
                also.setdefault(cause, set()).add(each.where.line)
        elif each.severity is Severity.ERROR:
            for name in each.spoils:
                spoilt.setdefault(name, []).append(index)
    told = ((index, each) for index, each in enumerate(listed) if index not in left_out)
    return tuple(_also_in(each, also.get(index, set())) for index, each in told)


def _also_in(told: Finding, lines: set[int]) -> Finding:
    """A finding with the other lines in which the same was found."""
    others = sorted(lines.union(told.also) - {told.where.line, 0})
    return msgspec.structs.replace(told, also=tuple(others)) if others else told


def _causes_first(findings: Sequence[Finding]) -> list[int]:
    """The findings' places, those first that follow from the fewest of the others; then by line."""
    causes = [
        sum(
            other is not each
            and other.severity is Severity.ERROR
            and bool(set(other.spoils) & set(each.follows))
            for other in findings
        )
        if each.follows
        else 0
        for each in findings
    ]
    weighs = [each.severity is not Severity.ERROR for each in findings]
    lines = [each.where.line for each in findings]
    return sorted(range(len(findings)), key=lambda index: (causes[index], weighs[index], lines[index]))


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Errors first, then warnings, then notes; in each by line of the file. Doubles go once."""
    weights = list(Severity)
    unique = dict.fromkeys(findings)
    return tuple(sorted(unique, key=lambda f: (weights.index(f.severity), f.where.file, f.where.line)))


def nearest(word: str, known: Sequence[str]) -> str:
    """The known word nearest to a misspelt one, or "" where none is near.

    Counted is the least number of letters to add, drop, change or swap with a neighbour; near is
    up to a third of the word, at least 1 and at most 4. Ties go to the first in `known`.

    >>> nearest("ruond", ["round", "rectangle"]), nearest("colour", ["round"])
    ('round', '')
    """
    best, least = "", min(max(1, len(word) // 3), 4) + 1
    for candidate in known:
        steps = edits(word.lower(), candidate.lower(), least)
        if steps < least:
            best, least = candidate, steps
    return best
