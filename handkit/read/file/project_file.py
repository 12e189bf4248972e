"""The project file: where each value stands, and what is reported about it.

In: the path of keys to a value, and the words a maker would use for it. Out: findings with file,
line and key, collected so that all errors of a file are reported together.

Words: a value's *location* is its path from the file's top, such as ("piece", 0, "round"), with the
same in words: piece "front": round.
"""

from __future__ import annotations

import pathlib
from collections.abc import Iterable, Mapping, Sequence
from difflib import SequenceMatcher

import msgspec

from handkit.errors import ProjectError
from handkit.findings import Finding, Source, TextPlace, Where, finding, nearest
from handkit.messages.message import Severity
from handkit.read.file.lines import KEY, KeyPath
from handkit.wording.figures import UNITS, Units
from handkit.wording.quoting import quoted

NO_PLACE = TextPlace()

# More errors than this help nobody, and a hostile file could have millions.
MOST_FAULTS = 100


class ProjectFile(msgspec.Struct, frozen=True):
    """One file being read. `findings` grows while it is read; what is reported twice is kept once. So do
    `thicknesses`: how those that are text are written, by mm."""

    name: str
    folder: pathlib.Path
    unit: str  # "" where it isn't known
    places: Mapping[KeyPath, TextPlace]
    findings: dict[Finding, None] = msgspec.field(default_factory=dict)
    thicknesses: dict[float, str] = msgspec.field(default_factory=dict)

    def report(self, found: Finding) -> None:
        """Keep a finding. Raises ProjectError where there are more than MOST_FAULTS errors.

        Notes and warnings are not counted: they stop no work, and an entry has few of them.
        """
        self.findings.setdefault(found)
        if found.severity is Severity.ERROR and self._errors() > MOST_FAULTS:
            more = finding("too-many-faults", Where(self.name), most=MOST_FAULTS)
            raise ProjectError([*self.findings, more])

    def _errors(self) -> int:
        return sum(each.severity is Severity.ERROR for each in self.findings)

    def place(self, path: KeyPath) -> TextPlace:
        """The place of a path, or of the nearest thing around it that is written."""
        while path and path not in self.places:
            path = path[:-1]
        return self.places.get(path, NO_PLACE)


class Location(msgspec.Struct, frozen=True):
    """The place of one value."""

    file: ProjectFile
    path: KeyPath = ()
    words: str = ""

    def down(self, part: str | int, words: str = "") -> Location:
        """The place of a value inside this one, named by its key unless `words` say it better."""
        last = words or key_words(str(part))
        return Location(self.file, (*self.path, part), f"{self.words}: {last}" if self.words else last)

    @property
    def units(self) -> Units:
        """How lengths are written for whoever reads of it."""
        return UNITS[self.file.unit]

    def where(self) -> Where:
        """The place as a finding has it."""
        at = self.file.place(self.path)
        return Where(self.file.name, at.line, self.words, self.file.unit, at.column, at.width)

    def of_key(self) -> Location:
        """Where the key of this value is written: what is wrong is the key."""
        return Location(self.file, (*self.path, KEY), self.words)

    def source(self, keys: Sequence[str]) -> Source:
        """This entry as later steps know it, with the places of its keys."""
        places = tuple((key, self.file.place((*self.path, key))) for key in keys)
        own = self.file.place(self.path)
        return Source(
            self.file.name,
            self.words,
            own.line,
            places,
            self.file.unit,
            column=own.column,
            width=own.width,
        )

    def report(self, what: str | Finding, /, **values: object) -> None:
        """Report at this place: a finding that has no place yet, or the message of a key with its values."""
        where = self.where()
        self.file.report(finding(what, where, **values) if isinstance(what, str) else what.placed(where))


def key_words(key: str) -> str:
    """A key as a message says it: quoted only where it holds what could be mistaken.

    >>> key_words("round"), key_words("A-B"), key_words("left side"), key_words("")
    ('round', 'A-B', 'left side', '""')
    """
    plain = key.isprintable() and key == key.strip() and len(key) <= 60 and ":" not in key
    return key if plain and key else quoted(key)


# Which entries' names are known or not, by the codes of those that are not.
_NAMED = {
    "unknown-piece": ("piece",),
    "unknown-part": ("part",),
    "unknown-seam": ("seam",),
    "unknown-opening": ("opening",),
    "unknown-mate": ("opening",),
    "unknown-work": ("seam", "opening"),
}


# What is in which part, as a finding that leaves it open names it.
HELD = "what is in parts"


def names_of(schema: str) -> str:
    """The names of entries of a schema, as findings that leave one of them open name it."""
    return f"the names of {schema}"


_NOTHING = ("", "none", "nothing", "null", "nil", "-")  # written for what isn't wanted
_MOST_WORDS = 12  # of a name


def kinds_behind(name: str) -> tuple[str, ...]:
    """The kinds that a name hangs on, of parts that may draft it: called as it is, or as its first words are.

    >>> kinds_behind("pen box, left")
    ('part "pen": kind', 'part "pen box": kind', 'part "pen box, left": kind')
    """
    ends = [index for index, letter in enumerate(name) if letter in " ,"][:_MOST_WORDS]
    heads = dict.fromkeys(name[:end].rstrip(",") for end in (*ends, len(name)))
    return tuple(f"part {quoted(head)}: kind" for head in heads)


def unknown(code: str, name: str, known: Sequence[str]) -> Finding:
    """The finding about a name that the file does not have, with the known names and the nearest of them. It
    is told once for each name, and not where an entry's name is told as wrong, which may be the one.

    >>> unknown("unknown-piece", "frnt", ["front", "back"]).remedy
    'write "front", or add the piece'
    """
    if code == "unknown-piece" and name.lower() in _NOTHING:
        told = finding("unknown-piece/nothing", name=name, known=known)
    elif known:
        told = finding(code, name=name, known=known, near=nearest(name, known))
    else:
        told = finding(f"{code}/none", name=name)
    return told.once(f"{code} {name}").following(*map(names_of, _NAMED.get(code, ())), *kinds_behind(name))


# Of a table of more keys than this the nearest alone are listed, so many.
MANY, NEAREST = 8, 5


_LONGEST_LIKE = 60  # characters of a word that are looked at


def likest(word: str, known: Iterable[str]) -> list[str]:
    """Known words, the likest to a word first.

    >>> likest("Rectangle", ["round", "rectangle"])
    ['rectangle', 'round']
    """
    low = word.lower()[:_LONGEST_LIKE]
    return sorted(known, key=lambda each: -SequenceMatcher(None, each.lower(), low).ratio())


def keys_like(key: str, known: Iterable[str]) -> dict[str, object]:
    """The keys of a table as a finding lists them: of many the likest alone, and how many more there are."""
    every = tuple(known)
    if len(every) <= MANY:
        return {"known": every, "more": 0}
    return {"known": likest(key, every)[:NEAREST], "more": len(every) - NEAREST}
