"""What all tests share: how much of a law is tried, and when Python looks for garbage.

A law (a hypothesis property) is two tests: a share of its examples, and, marked `long`, all of them. One that
is marked `long` itself, or has few, is one test as it stands. With `TIMES=4` in the environment what is tried
at length is tried with four times as many.

Collecting reads and rewrites every test and keeps all that it makes; rules of the house keep every source
parsed. To look through all of it time and again takes seconds, and finds nothing.
"""

from __future__ import annotations

import gc
import os
from collections.abc import Generator
from typing import Any

import pytest
from hypothesis import settings

SHARE = 4
FEW = 12  # of which no share is taken, and no share is smaller
TIMES = int(os.environ.get("TIMES", "1"))

gc.disable()


def pytest_collection_finish() -> None:
    """From here on it looks now and then, at what is made from here on."""
    gc.freeze()
    gc.set_threshold(50_000, 20, 20)
    gc.enable()


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    if not getattr(metafunc.function, "is_hypothesis_test", False):
        return
    count = metafunc.function._hypothesis_internal_use_settings.max_examples
    marked = metafunc.definition.get_closest_marker("long") is not None
    counts = [pytest.param(count * TIMES, id="at length", marks=pytest.mark.long)]
    if not marked and count > FEW:
        counts.insert(0, pytest.param(max(count // SHARE, FEW), id="a share"))
    elif not marked or TIMES == 1:
        return
    metafunc.fixturenames.append("as_many")
    metafunc.parametrize("as_many", counts, indirect=True)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call(item: Any) -> Generator[None, Any, Any]:
    """A law tries as many examples as its test is for."""
    count = item.callspec.params.get("as_many") if hasattr(item, "callspec") else None
    if count is None:
        return (yield)
    law = item.function
    whole = law._hypothesis_internal_use_settings
    law._hypothesis_internal_use_settings = settings(whole, max_examples=count)
    try:
        return (yield)
    finally:
        law._hypothesis_internal_use_settings = whole
