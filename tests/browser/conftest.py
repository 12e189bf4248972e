"""A browser for all tests of this folder. Where there is none they are skipped, and say so."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest
from browsing import PHONE, Bench, written


@pytest.fixture(scope="session")
def bench_of(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """The page of a project's text."""

    @cache
    def page(text: str) -> Path:
        project = tmp_path_factory.mktemp("bench") / "project.toml"
        project.write_text(text, "utf-8")
        return written(project, "html")

    return page


@pytest.fixture(scope="session")
def new_bench() -> Callable[[Path], Bench]:
    """Starts a browser with a profile of its own."""
    if missing := [name for name in ("chromium", "chromedriver") if shutil.which(name) is None]:
        pytest.skip(f"no browser to open the page in: {' and '.join(missing)} not found")
    return Bench


@pytest.fixture(scope="session")
def browser(new_bench: Callable[[Path], Bench], tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    bench = new_bench(tmp_path_factory.mktemp("profile"))
    yield bench
    bench.driver.quit()


@pytest.fixture
def bench(browser: Bench) -> Bench:
    """The browser on a phone's screen, with nothing kept and no word left of tests before."""
    browser.screen(PHONE)
    browser.driver.get("about:blank")
    browser.complaints()
    browser.asked_for()
    return browser
