"""The tests of one command on two cores.

In: the tests that were collected. Out: the report of each, told by the one process that was started.

Once all is collected, the process forks: it takes files from the front, its copy from the back, until they
meet. So nothing is collected twice, neither waits long for the other, and what the tests of a folder share is
made twice in the one folder in which they meet. A pipe holds a byte for each file; who begins one takes one
out. The copy writes its reports to a file, which is read after each test.

One process runs all where there is one core, of the tests of one folder, where a debugger is asked for, on
systems other than Linux, and with `AT_ONCE=1` in the environment, as where other commands run beside it.
"""

from __future__ import annotations

import os
import pickle
import signal
import sys
import time
import traceback
from collections.abc import Iterable, Iterator
from itertools import chain, groupby
from typing import IO, Any, NoReturn

import pytest

DONE = 83  # how the copy ends where it has run its half; a test that ends its process does not know it


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(config: Any, items: list[Any]) -> None:
    if _on_two_cores(config, items):
        config.pluginmanager.register(_Halves(items))


def _on_two_cores(config: Any, tests: list[Any]) -> bool:
    if sys.platform != "linux" or len(os.sched_getaffinity(0)) < 2 or os.environ.get("AT_ONCE") == "1":
        return False
    asked = config.option
    folders = {test.path.parent for test in tests}
    return len(folders) > 1 and not (asked.collectonly or asked.usepdb or asked.trace)


class _Halves:
    """Stands for the one loop over all tests."""

    def __init__(self, tests: list[Any]) -> None:
        self.tests = tests

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self) -> bool | None:
        run = self.tests[0].listchain()[0]  # which all tests belong to
        if run.testsfailed:  # a file could not be collected
            return None
        files = [list(tests) for _, tests in groupby(self.tests, key=lambda test: test.path)]
        told = run.config._tmp_path_factory.getbasetemp() / "told"  # made before there are two who make it
        told.touch()
        turns = _turns(len(files))
        copy = os.fork()
        if copy == 0:
            _run_copy(run, _taken(reversed(files), turns), told.open("wb", buffering=0))
        with told.open("rb") as copied:
            _run_first(run, _taken(files, turns), copy, copied)
        os.close(turns)
        return True


def _turns(count: int) -> int:
    """A pipe from which as many bytes can be read."""
    turns, given = os.pipe()
    os.write(given, bytes(count))
    os.close(given)
    return turns


def _taken(files: Iterable[list[Any]], turns: int) -> Iterator[Any]:
    """The tests of one file after another, as long as there are turns."""
    return chain.from_iterable(tests for tests in files if os.read(turns, 1))


def _ran(run: Any, tests: Iterator[Any]) -> Iterator[Any]:
    """Each test once it has run; what it shares with the next stays."""
    test = next(tests, None)
    while test is not None:
        following = next(tests, None)
        test.config.hook.pytest_runtest_protocol(item=test, nextitem=following)
        yield test
        _stop(run)
        test = following


def _stop(run: Any) -> None:
    if run.shouldfail:
        raise run.Failed(run.shouldfail)
    if run.shouldstop:
        raise run.Interrupted(run.shouldstop)


def _run_first(run: Any, tests: Iterator[Any], copy: int, copied: IO[bytes]) -> None:
    """Runs one half and tells both."""
    ended = 0
    try:
        for _ in _ran(run, tests):
            _tell(run.config, copied)
        while not ended:
            time.sleep(0.02)
            ended, status = os.waitpid(copy, os.WNOHANG)
            _tell(run.config, copied)
            _stop(run)
    finally:
        if not ended:
            os.kill(copy, signal.SIGINT)
            os.waitpid(copy, 0)
    if os.waitstatus_to_exitcode(status) != DONE:
        run.shouldfail = "the process that ran the other half broke off"
        _stop(run)


def _tell(config: Any, copied: IO[bytes]) -> None:
    """Tells what the copy has written since."""
    while True:
        begin = copied.tell()
        try:
            plain = pickle.load(copied)
        except (EOFError, pickle.UnpicklingError):  # no more yet, or a part of one
            copied.seek(begin)
            return
        report = config.hook.pytest_report_from_serializable(config=config, data=plain)
        config.hook.pytest_runtest_logreport(report=report)


class _Telling:
    """Writes what the copy would tell."""

    def __init__(self, config: Any, file: IO[bytes]) -> None:
        self.config, self.file = config, file

    def pytest_runtest_logreport(self, report: Any) -> None:
        plain = self.config.hook.pytest_report_to_serializable(config=self.config, report=report)
        self.file.write(pickle.dumps(plain))


def _run_copy(run: Any, tests: Iterator[Any], file: IO[bytes]) -> NoReturn:
    """Runs the other half and ends: what is done at the end of all is done by the first process."""
    status = 1
    try:
        plugins = run.config.pluginmanager
        plugins.unregister(name="terminalreporter")
        plugins.register(_Telling(run.config, file))
        capture = plugins.getplugin("capturemanager")
        capture.stop_global_capturing()  # its files are the first process's, as far as they are written
        capture.start_global_capturing()
        capture.suspend_global_capture()
        first = os.getppid()
        ran = _ran(run, tests)
        while os.getppid() == first and next(ran, None):
            pass
        status = DONE
    except (run.Failed, run.Interrupted, KeyboardInterrupt):
        pass  # the first process knows
    except BaseException:
        traceback.print_exc()
    finally:
        os._exit(status)
