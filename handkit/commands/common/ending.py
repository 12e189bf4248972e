"""How a command ends. Exit codes live here.

0: fine, notes and warnings shown. 1: the project has errors, a printer can't be corrected, a photo can't
be traced, a file can't be read or written, or the proof failed. 2: wrong use. (130, interrupted:
`__main__.py`.)
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, NoReturn

from handkit.commands.common.output import write_beside, write_files, write_findings

if TYPE_CHECKING:
    from pathlib import Path

    from handkit.errors import HandkitError


@contextmanager
def reporting_errors(report: Path | None = None) -> Iterator[None]:
    """Turn handkit's errors into their lines and exit code 1; write the report if one was asked for."""
    from handkit import kit
    from handkit.errors import HandkitError, PhotoError, PrinterError, ProjectError

    try:
        yield
    except (ProjectError, PhotoError, PrinterError) as refused:
        write_findings(refused.findings)
        if report:
            with reporting_errors():
                write_files({report: kit.refusal_report(refused.findings).encode()})
        sys.exit(1)
    except HandkitError as reason:
        fail(reason)


def fail(reason: HandkitError | str) -> NoReturn:
    """Say why, exit with 1."""
    write_beside(f"error: {reason}")
    sys.exit(1)
