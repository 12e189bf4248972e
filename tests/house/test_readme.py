"""The README's examples: commands that exist, with options they have, on files that are there."""

from __future__ import annotations

import doctest
import re
import shlex
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from handkit.cli import main

TOP = Path(__file__).parents[2]
PAGES = ("README.md", "DEVELOPERS.md")
FENCE = re.compile(r"^```(\w*)[^\n]*\n(.*?)^```", re.MULTILINE | re.DOTALL)


def blocks(page: str, *kinds: str) -> list[str]:
    return [text for kind, text in FENCE.findall((TOP / page).read_text("utf-8")) if kind in kinds]


def commands(page: str) -> list[list[str]]:
    """Every command line in the page's console blocks, in words; `&&` parts each by itself."""
    lines = "\n".join(blocks(page, "console", "sh", "bash")).replace("\\\n", " ").splitlines()
    parts = [part for line in lines for part in line.removeprefix("$ ").split("&&")]
    return [shlex.split(part, comments=True) for part in parts if part.strip()]


def handkit_calls() -> list[list[str]]:
    return [
        words[1:]
        for page in PAGES
        for words in commands(page)
        if words and (words[0] == "handkit" or words[0].endswith("/handkit"))
    ]


def test_the_first_two_commands_are_the_set_up() -> None:
    """One prints the sample's kit, one passes the tests; CI runs these lines as they stand."""
    text = (TOP / "README.md").read_text("utf-8")
    lines = [line.strip().removeprefix("$ ") for line in text.splitlines()]
    runs = [line for line in lines if ".venv/bin/" in line]
    assert runs[:2] == [
        "python3 -m venv .venv && .venv/bin/pip install . && "
        ".venv/bin/handkit make samples/orchard_pouch/pouch.toml",
        ".venv/bin/pip install '.[test]' && .venv/bin/python -m pytest -n auto --dist loadfile",
    ]


def test_there_are_examples() -> None:
    assert {words[0] for words in handkit_calls()} >= {"make", "check", "plan", "pieces", "proof"}


@pytest.mark.parametrize("words", handkit_calls(), ids=" ".join)
def test_each_call_is_one_that_handkit_knows(words: list[str]) -> None:
    if words[0].startswith("-"):
        assert words[0] in ("--help", "-h", "--version")
        return
    command = main.commands[words[0]]
    while isinstance(command, click.Group) and words[1:] and words[1] in command.commands:
        command, words = command.commands[words[1]], words[1:]
    context = click.Context(command, info_name=words[0])
    known = {text for option in command.get_params(context) for text in option.opts}
    options = {word.split("=")[0] for word in words[1:] if word.startswith("-")}
    assert options <= known | {"--help"}
    for word in words[1:]:
        if word.startswith("samples/") and word.endswith(".toml"):
            assert (TOP / word).is_file()


@pytest.mark.parametrize("page", PAGES)
def test_python_examples_run(page: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With `>>>` as a doctest; else as a script, in a folder that has the samples."""
    (tmp_path / "samples").symlink_to(TOP / "samples", target_is_directory=True)
    monkeypatch.chdir(tmp_path)
    for number, text in enumerate(blocks(page, "python", "pycon")):
        if ">>>" in text:
            example = doctest.DocTestParser().get_doctest(text, {}, f"{page} {number}", page, 0)
            assert doctest.DocTestRunner().run(example).failed == 0
        else:
            exec(compile(text, page, "exec"), {})


def test_project_files_in_the_readme_are_sound(tmp_path: Path) -> None:
    whole = [text for text in blocks("README.md", "toml") if text.startswith("format")]
    assert whole
    for text in whole:
        (tmp_path / "project.toml").write_text(text, "utf-8")
        run = CliRunner().invoke(main, ["check", str(tmp_path / "project.toml")])
        assert run.exit_code == 0, run.output


@pytest.mark.parametrize("page", PAGES)
def test_pictures_and_links_are_there(page: str) -> None:
    text = (TOP / page).read_text("utf-8")
    targets = [t for t in re.findall(r"\]\(([^)#\s]+)", text) if "://" not in t]
    assert [target for target in targets if not (TOP / target).exists()] == []


def test_the_readme_knows_every_sample() -> None:
    text = (TOP / "README.md").read_text("utf-8")
    files = sorted((TOP / "samples").glob("*/*.toml"))
    assert [path for path in files if f"({path.relative_to(TOP).as_posix()})" not in text] == []
