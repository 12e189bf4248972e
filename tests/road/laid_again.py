"""The layout once for all that asks for the very same: it takes longest of what a kit takes.

In: nothing. Out: a stand-in for `kit.sheets_of`, which lays out again where its pattern or its options are
not equal to the last ones. That the same comes out twice is for others to show.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from unittest.mock import patch

from handkit import kit
from handkit.commands.common import shown
from handkit.counting import OnProgress, no_progress
from handkit.kept.kept import Kept
from handkit.overrides import AS_WRITTEN, PageOverrides
from handkit.punch.punched import Punched
from handkit.sheets.laid import Sheets


@contextmanager
def layout_remembered() -> Iterator[None]:
    """While it holds, `make`, `show` and `proof_of` share layouts."""
    lay_out = kit.sheets_of
    last: list[tuple[Punched, PageOverrides, Sheets]] = []

    def sheets_of(
        punched: Punched,
        overrides: PageOverrides = AS_WRITTEN,
        *,
        on_progress: OnProgress = no_progress,
        kept: Kept | None = None,
    ) -> Sheets:
        if not last or last[0][:2] != (punched, overrides):
            last[:] = [(punched, overrides, lay_out(punched, overrides, on_progress=on_progress, kept=kept))]
        return last[0][2]

    with patch.object(kit, "sheets_of", sheets_of), patch.object(shown, "sheets_of", sheets_of):
        yield
