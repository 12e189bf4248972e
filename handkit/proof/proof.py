"""The product of step 7: what a reading of a kit's file measured.

Knows no other step: reads what is on paper, whoever wrote it. All mm; texts are told in any units.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import msgspec

from handkit.messages.placeholders import Phrase
from handkit.messages.proving import Wording
from handkit.wording.figures import METRIC, Units


class Check(msgspec.Struct, frozen=True):
    """One thing looked at: its code, whether it is as it must be, its wording with the values that it names,
    the page it is about, 0 where it is about more."""

    code: str
    passed: bool
    wording: Wording
    values: Mapping[str, object] = MappingProxyType({})
    page: int = 0  # from 1

    def told(self, text: str, units: Units = METRIC) -> str:
        """One of its wording's texts, filled in."""
        return Phrase(text, self.values).told(units)

    @property
    def what(self) -> str:
        """What it is, in mm as the next ones."""
        return self.told(self.wording.what)

    @property
    def found(self) -> str:
        """What was measured."""
        return self.told(self.wording.found)

    @property
    def wanted(self) -> str:
        """What would be right."""
        return self.told(self.wording.wanted)

    @property
    def do(self) -> str:
        """What to do where it fails, "" where it passes."""
        return "" if self.passed else self.told(self.wording.do)


class Proof(msgspec.Struct, frozen=True):
    """All checks of one file, in reading order."""

    file: str
    checks: tuple[Check, ...]
    project: str = ""  # whose kit, drafted anew, the file was held to
    printer: str = ""  # that the file says it is corrected for
    unit: str = "mm"  # of the kit, by its own list

    @property
    def passed(self) -> bool:
        """Whether every check agrees."""
        return all(check.passed for check in self.checks)
