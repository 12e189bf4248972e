"""A field: one value of the project file as written, the rule of its key, and where it stands.

In: tomllib's value. Out: reports about it, and the fields inside it.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.findings import finding
from handkit.read.file.project_file import Location, names_of
from handkit.read.schema.examples import example
from handkit.read.schema.rules import Key, Kind
from handkit.wording.quoting import quoted, shown


class Field(msgspec.Struct, frozen=True):
    """A value, not checked yet."""

    value: object
    rule: Key
    location: Location

    def reject(self, key: str, /, **values: object) -> None:
        """Report what the message of this key says; `value` and `allowed` are filled in. What follows from
        this value being wrong is not told."""
        allowed = self.rule.allowed_in(self.location.units)
        told = finding(key, self.location.where(), value=self.value, allowed=allowed, **values)
        path = self.location.path
        names = [names_of(str(path[0]))] if path[-1:] == ("name",) else []
        self.location.report(told.spoiling(self.location.words, *names))

    def listed(self) -> str:
        """How the list that is asked for is written: with the one text that stands there, or an example."""
        if isinstance(self.value, str) and self.rule.kind in (Kind.NAMES, Kind.RUNS):
            return f": [{quoted(self.value)}]"
        return f", as in {example(self.rule).partition('= ')[2]}"

    def reject_kind(self, key: str) -> None:
        """Report a value of another kind; of a list that one value is asked for."""
        if isinstance(self.value, list):
            self.reject(f"{key}/list", such=alone(self.value))
        else:
            self.reject(key)

    def inside(self, part: str | int, value: object, words: str = "") -> Field:
        """A value inside this one, such as an entry of its list, under the same rule."""
        return Field(value, self.rule, self.location.down(part, words))

    def with_value(self, value: object) -> Field:
        """The same field with another value, such as text with its accents composed."""
        return Field(value, self.rule, self.location)

    def ruled(self, rule: Key) -> Field:
        """The same value under another rule."""
        return Field(self.value, rule, self.location)

    def of_kind(self, kind: Kind) -> Field:
        """The same value as one of another kind, in the same range."""
        return self.ruled(self.rule.of_one(kind))


def alone(values: Sequence[object]) -> str:
    """How the one value of a list is written by itself; nothing of several.

    >>> alone(["back"]), alone([2, 3])
    (': "back"', '')
    """
    one = values[0] if len(values) == 1 else None
    return f": {shown(one)}" if isinstance(one, str | int | float) else ""
