"""Random valid projects go all the way: made, proved, told in every form, and made again to the same bytes.

At length by a command: `python tests/road/fuzz.py --count 2000 --seed 1`.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from fuzz import faults
from valid_projects import project


@pytest.mark.long
@pytest.mark.parametrize("number", [1, 2, 3, 8, 28, 29, 32, 56, 62])
def test_a_valid_project_goes_all_the_way(number: int, tmp_path: Path) -> None:
    assert list(faults(project(number), tmp_path)) == []
