"""How a command ends. Exit codes live here.

0: fine, notes and warnings shown. 1: the project has errors, a printer can't be corrected, or the proof
failed. 2: wrong use. 3: a file can't be read or written, or is no kit. (130, interrupted: `__main__.py`.)
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, NoReturn

from handkit.commands.common.output import write_beside, write_error, write_files, write_findings

if TYPE_CHECKING:
    from pathlib import Path

    from handkit.errors import HandkitError
    from handkit.findings import Finding

FAULTY = 1
NO_FILE = 3


@contextmanager
def reporting_errors(report: Path | None = None) -> Iterator[None]:
    """Turn handkit's errors into their lines and exit code 1; write the report if one was asked for."""
    from handkit import kit
    from handkit.errors import FileError, HandkitError, PhotoError, PrinterError, ProjectError, ProofError

    try:
        yield
    except (ProjectError, PhotoError, PrinterError) as refused:
        tell = write_refusal if isinstance(refused, ProjectError) else write_findings
        tell(refused.findings)
        if report:
            with reporting_errors():
                write_files({report: kit.refusal_report(refused.findings).encode()})
        sys.exit(FAULTY)
    except (FileError, ProofError) as reason:
        fail(reason, NO_FILE)
    except HandkitError as reason:
        fail(reason)


def write_refusal(findings: Sequence[Finding]) -> None:
    """The findings of what can't be made, how many errors they are, and where to read more of one."""
    from handkit.draw.export.finding_text import told_counts

    write_findings(findings)
    if findings:
        write_beside(f"{told_counts(findings)}; more of one: handkit explain {findings[0].code}")


def fail(reason: HandkitError | str, code: int = FAULTY) -> NoReturn:
    """Say why, and exit."""
    write_error(str(reason))
    sys.exit(code)
