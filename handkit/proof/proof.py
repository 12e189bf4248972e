"""The product of step 7: what a reading of a kit's file measured.

Knows no other step: reads what is on paper, whoever wrote it. All mm.
"""

from __future__ import annotations

import msgspec


class Check(msgspec.Struct, frozen=True):
    """One thing looked at: what it is, what was measured, what is wanted, whether they agree, and what to
    do where they don't ("" where nothing is known); the page it is about, 0 where it is about more."""

    code: str
    what: str
    found: str
    wanted: str
    passed: bool
    do: str = ""
    page: int = 0  # from 1


class Proof(msgspec.Struct, frozen=True):
    """All checks of one file, in reading order."""

    file: str
    checks: tuple[Check, ...]
    project: str = ""  # whose kit, drafted anew, the file was held to
    printer: str = ""  # that the file says it is corrected for

    @property
    def passed(self) -> bool:
        """Whether every check agrees."""
        return all(check.passed for check in self.checks)
