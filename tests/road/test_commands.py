"""The command line: exit codes, what is written and what is not, and whatever a terminal can do to it.

0: fine. 1: the project has errors, or a file can't be read or written. 2: wrong use.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from interruptible import COMMAND

from handkit.cli import main
from handkit.commands.common.sample_files import sample_names

GOOD = """format = 1
[material]
thickness = 2
[[piece]]
name = "tab"
rectangle = [80, 60]
[[seam]]
name = "rim"
runs = ["tab: A-B-C"]
"""
# One fault of each step that can find one: read, draft, punch, sheets.
BAD = {
    "read": GOOD.replace("rectangle = [80, 60]", "rectangle = [80, true]"),
    "draft": GOOD.replace("rectangle = [80, 60]", "rectangle = [80, 60]\nround = 31"),
    "punch": GOOD + "pitch = 2\n",
    "sheets": GOOD + "[page]\nmargin = 100\n",
}
CODES = {
    "read": "not-a-length",
    "draft": "radius-too-big",
    "punch": "pitch-too-small",
    "sheets": "margin-too-wide",
}
STEPS = [pytest.param(text, CODES[step], id=step) for step, text in BAD.items()]

Run = Callable[..., Result]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """handkit in a folder with a good project, good.toml."""
    monkeypatch.chdir(tmp_path)
    Path("good.toml").write_text(GOOD)

    def running(*words: str) -> Result:
        result = CliRunner().invoke(main, list(words))
        assert result.exception is None or isinstance(result.exception, SystemExit), result.exc_info
        return result

    return running


def handkit(*words: str, **settings: str) -> subprocess.Popen[str]:
    """handkit as a process of its own."""
    return subprocess.Popen(
        [sys.executable, "-c", COMMAND, *words],
        env={**os.environ, **settings},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        errors="replace",
    )


def files() -> set[str]:
    return {path.name for path in Path().iterdir()}


def test_make_writes_the_kit_beside_the_project_and_exits_with_0(run: Run) -> None:
    result = run("make", "good.toml")
    assert result.exit_code == 0
    assert files() == {"good.toml", "good-kit.pdf"}
    assert Path("good-kit.pdf").read_bytes().startswith(b"%PDF-")
    assert result.stdout.startswith("good-kit.pdf: ")


def test_notes_and_warnings_are_told_and_do_not_stop_the_work(run: Run) -> None:
    result = run("make", "good.toml")
    assert "note: " in result.stderr
    assert "error: " not in result.stderr


@pytest.mark.parametrize(("text", "code"), STEPS)
def test_a_bad_project_exits_with_1_and_writes_a_report_but_no_kit(run: Run, text: str, code: str) -> None:
    Path("bad.toml").write_text(text)
    result = run("make", "bad.toml", "--report", "report.json")
    assert result.exit_code == 1
    assert files() == {"good.toml", "bad.toml", "report.json"}
    assert f"[{code}]" in result.stderr
    report = json.loads(Path("report.json").read_text("utf-8"))
    assert report["format"] == 1
    assert code in {finding["code"] for finding in report["findings"] if finding["severity"] == "error"}
    assert report["sheets"] == report["joins"] == []


@pytest.mark.parametrize(("text", "code"), STEPS)
def test_a_bad_project_leaves_an_older_kit_alone(run: Run, text: str, code: str) -> None:
    Path("bad.toml").write_text(text)
    Path("bad-kit.pdf").write_bytes(b"an older kit")
    assert run("make", "bad.toml").exit_code == 1
    assert Path("bad-kit.pdf").read_bytes() == b"an older kit"


@pytest.mark.parametrize(("text", "code"), STEPS)
def test_check_tells_a_bad_project_as_text_and_as_json(run: Run, text: str, code: str) -> None:
    Path("bad.toml").write_text(text)
    as_text, as_json = run("check", "bad.toml"), run("check", "bad.toml", "--format", "json")
    assert (as_text.exit_code, as_json.exit_code) == (1, 1)
    assert f"[{code}]" in as_text.stdout
    assert code in {finding["code"] for finding in json.loads(as_json.stdout)["findings"]}
    assert files() == {"good.toml", "bad.toml"}


@pytest.mark.parametrize("command", ["plan", "pieces --format svg", "pieces --format json -o out"])
def test_other_commands_refuse_a_bad_project(run: Run, command: str) -> None:
    Path("bad.toml").write_text(BAD["draft"])
    result = run(*command.split(), "bad.toml")
    assert (result.exit_code, result.stdout) == (1, "")
    assert "[radius-too-big]" in result.stderr
    assert files() == {"good.toml", "bad.toml"}


def test_a_seam_is_told_whole_by_its_name_or_its_number(run: Run) -> None:
    name = json.loads(run("plan", "good.toml", "--format", "json").stdout)["seams"][0]["name"]
    told = [run("plan", "good.toml", "--seam", which).stdout for which in (name, "S1")]
    assert told[0] == told[1]
    assert f"S1 {name}" in told[0]
    refused = run("plan", "good.toml", "--seam", "S99")
    assert refused.exit_code == 2
    assert f'found "S99"; allowed: "{name}"' in refused.stderr
    both = run("plan", "good.toml", "--format", "csv", "--all")
    assert (both.exit_code, "are for text" in both.stderr) == (2, True)


def test_a_project_without_a_word_is_said_to_be_fine(run: Run) -> None:
    Path("fine.toml").write_text(GOOD[: GOOD.index("[[seam]]")])
    verdict = "no errors, no warnings: the kit can be made: 1 template sheet"
    assert run("check", "fine.toml").stdout == f"{verdict}\n"
    assert json.loads(run("check", "fine.toml", "--format", "json").stdout) == {"format": 1, "findings": []}


@pytest.mark.parametrize(
    "words",
    [
        "make",
        "make good.toml --paper A9",
        "make good.toml --margin nan",
        "make good.toml --edge -1",
        "make good.toml --overlap inf",
        "make good.toml --overlap wide",
        "check good.toml --format svg",
        "pieces good.toml",
        "cut good.toml",
        "make good.toml other.toml",
    ],
)
def test_wrong_use_exits_with_2_and_writes_nothing(run: Run, words: str) -> None:
    assert run(*words.split()).exit_code == 2
    assert files() == {"good.toml"}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("make none.toml", "none.toml: there is no such file"),
        ("check .", ".: is a folder; name the project file, such as pouch.toml"),
        ("make .", ".: is a folder; name the project file, such as pouch.toml"),
        ("make /", "/: is a folder; name the project file, such as pouch.toml"),
        ("make circle.toml", "circle.toml: can't be read: Too many levels of symbolic links"),
        ("make good.toml -o good.toml", "can't write good.toml: it is the project file; name another file"),
        (
            "make good.toml -o other.toml",
            "can't write other.toml: .toml is a project file's ending; name another file",
        ),
        ("make good.toml -o ./a --report a", "can't write a: it is named twice; name another file"),
        ("make good.toml -o no/kit.pdf", "can't write no/kit.pdf: there is no folder no"),
        ("make good.toml -o folder", "can't write folder: it is a folder"),
        ("make good.toml -o - --report -", "can't write /dev/stdout: it is named twice; name another file"),
        ("make good.toml --report /dev/full", "can't write /dev/full: No space left on device"),
        (f"make good.toml -o {'x' * 300}", f"can't write {'x' * 300}: File name too long"),
        ("sample strap -o good.toml", "can't write good.toml: it is there already; name another with -o"),
        (f"sample strap -o {'x' * 300}", f"can't write {'x' * 300}: File name too long"),
        (
            "sample strop",
            "found sample 'strop'; allowed: bindery_roll, chest_panel, key_fobs, market_bag, orchard_pouch, "
            "pruning_sheath, sketching_case, strap, wallet; did you mean strap?",
        ),
        ("proof good.toml", "good.toml: found no PDF: it doesn't begin with %PDF-"),
    ],
)
def test_files_that_cannot_be_had_are_told_in_a_line(run: Run, words: str, said: str) -> None:
    Path("circle.toml").symlink_to("circle.toml")
    Path("folder").mkdir()
    os.mkfifo("pipe")
    before = files()
    result = run(*words.split())
    assert (result.exit_code, result.stdout) == (3, "")
    assert result.stderr.splitlines()[-1] == f"error: {said}"
    assert files() == before
    assert Path("pipe").is_fifo()


@pytest.mark.parametrize("change", [lambda text: "\ufeff" + text, lambda text: text.replace("\n", "\r\n")])
def test_a_byte_order_mark_or_line_ends_of_another_system_change_nothing(
    run: Run, change: Callable[[str], str]
) -> None:
    run("make", "good.toml", "-o", "one.pdf")
    Path("good.toml").write_bytes(change(GOOD).encode())
    assert run("make", "good.toml", "-o", "two.pdf").exit_code == 0
    assert Path("one.pdf").read_bytes() == Path("two.pdf").read_bytes()


def test_samples_are_listed_and_copied_once(run: Run) -> None:
    listed = run("sample").stdout.splitlines()
    assert [line.split()[0] for line in listed] == [*sample_names()]
    assert listed[-1] == "wallet           8 pages  a wallet for cards: a fold cover with stepped pockets"
    assert run("sample", "strap").stdout == f"{Path('strap/strap.toml')}\n"
    assert run("check", "strap/strap.toml").exit_code == 0
    assert run("sample", "strap").exit_code == 3


def test_a_terminal_that_lacks_letters_still_shows_the_plan(run: Run) -> None:
    process = handkit("plan", "good.toml", PYTHONIOENCODING="latin-1", PYTHONUTF8="0")
    out, err = process.communicate(timeout=60)
    assert process.returncode == 0, err
    assert "\\u2192" in out  # an arrow


def test_a_full_disk_under_the_output_is_told_in_a_line(run: Run) -> None:
    full = Path("/dev/full")
    assert full.is_char_device()
    for words in ("keys", "check good.toml", "plan good.toml", "sample"):
        with full.open("w") as stream:
            line = [sys.executable, "-c", "from handkit.cli import main; main()", *words.split()]
            told = subprocess.run(line, stdout=stream, stderr=subprocess.PIPE, text=True, check=False)
        assert told.returncode == 3
        assert told.stderr.splitlines()[-1] == "error: can't write the output: No space left on device"


@pytest.mark.long
# Seconds after the start: while it loads, reads, drafts, lays out and draws, on whatever machine.
@pytest.mark.parametrize("moment", [0, 0.03, 0.06, 0.1, 0.2, 0.4, 0.8, 1.5])
def test_control_c_at_any_moment_ends_with_one_line_and_nothing_left(run: Run, moment: float) -> None:
    """A project that takes a long time to lay out and draw."""
    many = "".join(f'[[piece]]\nname = "p{k}"\nrectangle = [900, 900]\n' for k in range(20))
    Path("long.toml").write_text("format = 1\n[material]\nthickness = 2\n" + many)
    process = handkit("make", "long.toml")
    assert process.stdout is not None
    assert process.stdout.readline() == "here\n"
    time.sleep(moment)
    assert process.poll() is None, "too quick to be interrupted"
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=60)
    assert (process.returncode, out, err) == (130, "", "interrupted\n")
    assert files() == {"good.toml", "long.toml"}


# A command that is interrupted at one moment of writing its files.
AMID = """
import os, pathlib, signal
def interrupt(*_, **__): os.kill(os.getpid(), signal.SIGINT)
{moment} = interrupt
"""


@pytest.mark.long
@pytest.mark.parametrize("words", ["make good.toml", "sample strap -o new/strap"])
@pytest.mark.parametrize("moment", ["os.lockf", "os.fsync", "pathlib.Path.replace"])
def test_control_c_while_files_are_written_leaves_nothing(run: Run, words: str, moment: str) -> None:
    line = [sys.executable, "-c", AMID.format(moment=moment) + COMMAND, *words.split()]
    told = subprocess.run(line, capture_output=True, text=True, check=False)
    assert (told.returncode, told.stdout, told.stderr) == (130, "here\n", "interrupted\n")
    assert files() == {"good.toml"}


def test_an_interrupt_that_whoever_started_it_ignores_is_ignored(run: Run) -> None:
    line = [sys.executable, "-c", COMMAND.replace("signal.default_int_handler", "signal.SIG_IGN"), "keys"]
    process = subprocess.Popen(line, stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    assert process.stdout.readline() == "here\n"
    process.send_signal(signal.SIGINT)
    assert len(process.communicate(timeout=60)[0]) > 1000
    assert process.returncode == 0


@pytest.mark.parametrize(
    ("words", "begins", "beside"),
    [
        ("make good.toml -o -", "%PDF-", "/dev/stdout: "),
        ("make good.toml -o /dev/stdout", "%PDF-", "/dev/stdout: "),
        ("make good.toml -o kit.pdf --report -", '{"format": 1', "kit.pdf: "),
        ("show good.toml -o -", "%PDF-", "/dev/stdout: the article put together"),
        ("show good.toml -o - --format svg", "<?xml", "/dev/stdout: the article put together"),
        ("plan good.toml -o -", "good: plan", ""),
        ("plan good.toml -o - --format csv", "order,seam", ""),
        ("plan good.toml -o - --format html", "<!doctype html>", ""),
        ("pieces good.toml -o - --format json", '{"format": 1', ""),
    ],
)
def test_a_bar_is_the_standard_output_and_words_go_beside_it(
    run: Run, words: str, begins: str, beside: str
) -> None:
    result = run(*words.split())
    assert result.exit_code == 0
    assert result.stdout_bytes.decode("latin-1").startswith(begins)
    assert (result.stderr.splitlines() or [""])[-1].startswith(beside)
    assert files() - {"kit.pdf"} == {"good.toml"}


@pytest.mark.long
@pytest.mark.parametrize("way", ["| cat > got", "> got"])
@pytest.mark.parametrize("output", ["-", "/dev/stdout", "got"])
def test_what_the_standard_output_gets_is_the_kit_and_nothing_else(run: Run, way: str, output: str) -> None:
    """Through a pipe, and into a file, even into the one that is named."""
    assert run("make", "good.toml", "-o", "kit.pdf").exit_code == 0
    line = f"{sys.executable} -m handkit make good.toml -o {output} {way if output != 'got' else '> got'}"
    told = subprocess.run(["sh", "-c", line], stderr=subprocess.PIPE, text=True, check=True)
    assert Path("got").read_bytes() == Path("kit.pdf").read_bytes()
    assert "pages" in told.stderr
    assert files() == {"good.toml", "kit.pdf", "got"}


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        ("make good.toml -o - >&-", 3, "error: can't write /dev/stdout: Bad file descriptor"),
        ("make good.toml -o - >/dev/full", 3, "error: can't write /dev/stdout: No space left on device"),
        ("show good.toml -o - >&-", 3, "error: can't write /dev/stdout: Bad file descriptor"),
        ("plan good.toml >&-", 0, ""),
    ],
)
def test_a_standard_output_that_takes_nothing_is_told(run: Run, words: str, code: int, said: str) -> None:
    line = f"{sys.executable} -m handkit {words}"
    told = subprocess.run(["sh", "-c", line], stderr=subprocess.PIPE, text=True, check=False)
    assert told.returncode == code, told.stderr
    assert said in ("", (told.stderr.splitlines() or [""])[-1])
    assert "Traceback" not in told.stderr
    assert files() == {"good.toml"}


def test_a_picture_is_not_written_to_a_terminal(run: Run) -> None:
    here, there = os.openpty()
    line = [sys.executable, "-m", "handkit", "show", "good.toml", "-o", "-"]
    told = subprocess.run(line, stdout=there, stderr=subprocess.PIPE, text=True, check=False)
    os.close(there)
    os.close(here)
    assert told.returncode == 3
    assert told.stderr == (
        "error: can't write a picture to a terminal: name a file, or send it on with > or |\n"
    )


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("show good.toml -o a.svg --format pdf", "found pdf and 'a.svg'; name a file that ends so"),
        ("show good.toml -o a", "found 'a'; allowed: a name that ends in .pdf, .svg or .png"),
    ],
)
def test_a_picture_that_is_asked_for_in_no_way_or_two_is_wrong_use(run: Run, words: str, said: str) -> None:
    result = run(*words.split())
    assert (result.exit_code, result.stderr.splitlines()[-1]) == (2, f"Error: Invalid value: {said}")
    assert files() == {"good.toml"}


@pytest.mark.parametrize("command", ["make good.toml -o", "pieces good.toml --format svg -o"])
def test_a_pipe_gets_what_is_written_to_it_and_stays(run: Run, command: str) -> None:
    os.mkfifo("pipe")
    reading = subprocess.Popen(["cp", "pipe", "got"])
    assert run(*command.split(), "pipe").exit_code == 0
    assert reading.wait() == 0
    assert Path("pipe").is_fifo()
    assert Path("got").stat().st_size > 500


@pytest.mark.parametrize("moment", ["os.fsync", "pathlib.Path.replace", "pathlib.Path.mkdir"])
@pytest.mark.parametrize(
    ("reason", "code"), [(OSError(28, "No space left on device"), 3), (KeyboardInterrupt(), 1)]
)
def test_a_sample_that_fails_half_way_leaves_nothing(
    run: Run, moment: str, reason: BaseException, code: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise reason

    Path("there").mkdir()
    monkeypatch.setattr(moment, fail)
    assert run("sample", "strap", "-o", "there/new/strap").exit_code == code
    assert files() == {"good.toml", "there"}
    assert not list(Path("there").iterdir())
