"""Kits of random valid projects pass, as they are and for a printer; `good_kits.py` tries any number."""

from __future__ import annotations

from pathlib import Path

import pytest
from good_kits import complaint, printer_of


@pytest.mark.long
@pytest.mark.parametrize("seed", range(1, 5))
def test_a_good_kit_passes(seed: int, tmp_path: Path) -> None:
    assert complaint(seed, tmp_path) == ""


def test_half_of_them_are_for_a_printer() -> None:
    assert [printer_of(seed) is None for seed in range(1, 9)] == [True, False] * 4
