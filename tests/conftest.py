"""What all tests share: when Python looks for garbage.

Collecting reads and rewrites every test and keeps all that it makes; rules of the house keep every source
parsed. To look through all of it time and again takes a tenth of the whole suite, and finds nothing.
"""

from __future__ import annotations

import gc

gc.disable()


def pytest_collection_finish() -> None:
    """From here on what was collected is no longer looked through; what tests leave is, now and then."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 20)
    gc.enable()
