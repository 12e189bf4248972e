"""Errors: what handkit raises, all of it.

    HandkitError
    ├── ProjectError    the project has errors: carries every finding
    ├── FileError       a file can't be read or written
    ├── PaperError      no such paper, or no room on it
    ├── PhotoError      a photo that can't be traced: carries every finding
    ├── ShapeError      a shape of a drawing that can't be taken; reading tells it as a finding
    ├── PrinterError    a printer that can't be corrected: carries every finding
    └── ProofError      a file that should be proved is no readable PDF

Exit codes live in `commands/common/ending.py` alone. Any other exception that leaves handkit is a bug.
"""

from __future__ import annotations

from collections.abc import Iterable

from handkit.findings import Finding, first_causes, has_errors, in_order


class HandkitError(Exception):
    """The root: catch this to catch all that handkit means to tell."""


class ProjectError(HandkitError):
    """The project can't be made as it stands; `findings` says why, errors first. `reached` is what the step
    that stopped could make all the same, None where that is nothing: good to look at, and no more."""

    def __init__(self, findings: Iterable[Finding], reached: object = None) -> None:
        self.findings: tuple[Finding, ...] = in_order(findings)
        self.reached = reached
        super().__init__("\n".join(str(finding) for finding in self.findings))


class FileError(HandkitError):
    """A file can't be read or written; the message names it and the reason."""


class PaperError(HandkitError):
    """A paper size that isn't known or leaves no room to draw."""


class PhotoError(HandkitError):
    """A photo can't be traced; `findings` says why, `reached` is what was found on it all the same."""

    def __init__(self, findings: Iterable[Finding], reached: object = None) -> None:
        self.findings: tuple[Finding, ...] = in_order(findings)
        self.reached = reached
        super().__init__("\n".join(str(finding) for finding in self.findings))


class ShapeError(HandkitError):
    """A shape of a drawing can't be taken: the key of the message that says why, and its values."""

    def __init__(self, key: str, /, **values: object) -> None:
        self.key, self.values = key, values
        super().__init__(key)


class PrinterError(HandkitError):
    """A printer can't be corrected, or those that are known can't be read; `findings` says why."""

    def __init__(self, findings: Iterable[Finding]) -> None:
        self.findings: tuple[Finding, ...] = in_order(findings)
        super().__init__("\n".join(str(finding) for finding in self.findings))


class ProofError(HandkitError):
    """A file that is no PDF, or none that can be read."""


def refuse_errors(findings: Iterable[Finding], reached: object = None) -> tuple[Finding, ...]:
    """Raise ProjectError, with what was reached, where any finding is an error; else hand the findings back
    in order; without what follows from an error."""
    listed = in_order(first_causes(findings))
    if has_errors(listed):
        raise ProjectError(listed, reached)
    return listed
