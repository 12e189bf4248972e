"""House rules: how long, how told, what may lie at the top, and what a plain question may cost."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from collections import Counter
from pathlib import Path

from parsed import MODULES, TOP, nodes_of, text_of, tree_of

TESTS = sorted((TOP / "tests").rglob("*.py"))
ALL_PYTHON = MODULES + TESTS

MOST_MODULE_LINES = 300
# Tables and products: one fact after another, to be looked up in one place.
LONGER = {
    "handkit/messages/drafting.py",
    "handkit/messages/proving.py",
    "handkit/messages/punching.py",
    "handkit/messages/reading.py",
    "handkit/read/project.py",
    "handkit/read/schema/keys.py",
    "handkit/assemble/article.py",
    "handkit/draft/pattern.py",
    "handkit/stitch/plan.py",
}
MOST_FUNCTION_LINES = 45
MOST_IGNORES = 3

# What lies at the top, beside what tools leave there.
AT_THE_TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "handkit", "tests", "samples"}
LEFT_BY_TOOLS = {"build", "dist", "handkit.egg-info"}


def short(path: Path) -> str:
    return path.relative_to(TOP).as_posix()


def test_every_module_opens_with_a_docstring() -> None:
    bare = [short(p) for p in ALL_PYTHON if not ast.get_docstring(tree_of(p))]
    assert bare == []


def test_modules_fit_on_a_few_screens() -> None:
    lengths = {short(path): len(path.read_text("utf-8").splitlines()) for path in MODULES}
    assert {name for name, lines in lengths.items() if lines > MOST_MODULE_LINES} == LONGER


def test_functions_fit_on_a_screen() -> None:
    lengths = {
        f"{short(path)}: {function.name}": (function.end_lineno or 0) - function.lineno + 1
        for path in MODULES
        for function in nodes_of(path, ast.FunctionDef)
    }
    assert {name: lines for name, lines in lengths.items() if lines > MOST_FUNCTION_LINES} == {}


def test_ignores_are_counted_and_few() -> None:
    ignored = [
        f"{short(path)}:{number}"
        for path in MODULES
        for number, line in enumerate(path.read_text("utf-8").splitlines(), start=1)
        if re.search(r"type:\s*ignore", line)
    ]
    assert len(ignored) <= MOST_IGNORES, ignored


# What has no place in the project's texts; written so that it doesn't find itself.
WORDS = re.compile(
    r"(?<!scope=[\"'])\b[s]essions?\b|\b[a]gents?\b|\b[a]ssistants?\b|\b[i]ssues? #?\d|[w]orkplace",
    re.IGNORECASE,
)
MACHINE = re.compile(r"(?<![\w.:#!])/(?:home|root|work|farm|tmp|opt|mnt|Users)/")


def texts() -> list[Path]:
    """Every text that is kept: sources, tests, samples, pages, the build's files."""
    kept = [path for name in AT_THE_TOP for path in [TOP / name, *(TOP / name).rglob("*")]]
    kept += (TOP / ".ci").rglob("*")
    endings = {".py", ".md", ".toml", ".txt", ".json", ".svg", ""}
    return sorted(p for p in kept if p.is_file() and p.suffix in endings and "__pycache__" not in p.parts)


def test_texts_speak_of_the_trade_and_of_no_machine() -> None:
    told = {short(path): path.read_text("utf-8") for path in texts()}
    found = {name: WORDS.findall(text) + MACHINE.findall(text) for name, text in told.items()}
    assert {name: words for name, words in found.items() if words} == {}


def test_only_what_belongs_lies_at_the_top() -> None:
    found = {path.name for path in TOP.iterdir() if not path.name.startswith(".")}
    found -= {name for name in found if name.endswith("-kit.pdf")} | LEFT_BY_TOOLS
    assert found == AT_THE_TOP


def test_help_costs_no_library() -> None:
    """`handkit --help` loads click, and neither geometry's nor drawing's nor reading's libraries."""
    run = subprocess.run(
        [sys.executable, "-X", "importtime", "-c", "from handkit.cli import main; main(['--help'])"],
        cwd=TOP,
        capture_output=True,
        text=True,
        check=True,
    )
    assert "Usage" in run.stdout
    loaded = {line.rsplit("|", 1)[1].strip() for line in run.stderr.splitlines() if "|" in line}
    assert "click" in loaded
    heavy = {"cv2", "shapely", "numpy", "reportlab", "pypdf", "PIL", "msgspec"}
    assert {name for name in loaded if name.split(".")[0] in heavy} == set()
    assert "handkit.kit" not in loaded


def test_no_test_is_passed_over() -> None:
    """Tools that are not there may be missed in two places; CI has them all and counts."""
    passed_over = re.compile(r"\b(skip|skipif|xfail|importorskip)\b\s*\(")
    found = {short(path) for path in TESTS if passed_over.search(text_of(path))}
    assert found <= {"tests/kit/conftest.py", "tests/browser/conftest.py"}


def test_what_one_test_imports_of_another_has_one_file() -> None:
    """By its bare name, from the folders of `pythonpath`: of two files the first would be taken by all."""
    build = tomllib.loads(text_of(TOP / "pyproject.toml"))
    folders = [TOP / each for each in build["tool"]["pytest"]["ini_options"]["pythonpath"]]
    files = Counter(path.stem for path in TESTS if path.parent in folders)
    imported = {node.module for path in TESTS for node in nodes_of(path, ast.ImportFrom)}
    assert len(imported & set(files)) > 20
    assert {name for name in imported if files[name] > 1} == set()


JUDGES = re.compile(r"\bassert|\braises\(|\bfail\(")


def idle_tests(path: Path) -> list[str]:
    """Tests that assert nothing, by themselves or through a function of their module."""
    lines = [line.partition("# ")[0] for line in text_of(path).splitlines()]
    functions = nodes_of(path, ast.FunctionDef)
    judges = {f.name for f in functions if JUDGES.search("\n".join(lines[f.lineno - 1 : f.end_lineno]))}
    return [
        f.name
        for f in functions
        if f.name.startswith("test_")
        and not judges & {f.name, *(n.id for n in ast.walk(f) if isinstance(n, ast.Name))}
    ]


def test_every_test_can_fail() -> None:
    assert {short(path): idle for path in TESTS if (idle := idle_tests(path))} == {}
