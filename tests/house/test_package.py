"""The package as a stranger meets it: its names, what an import costs, its packages' versions."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import handkit

TOP = Path(__file__).parents[2]
DOOR = TOP / "handkit" / "__init__.py"


def test_a_type_checker_sees_the_names_that_are_there() -> None:
    """What `__all__` lists, what is imported for type checkers, and what comes when it is asked for."""
    imports = [
        node for node in ast.walk(ast.parse(DOOR.read_text("utf-8"))) if isinstance(node, ast.ImportFrom)
    ]
    homes = {
        alias.name: node.module
        for node in imports
        for alias in node.names
        if node.module and node.module.startswith("handkit.")
    }
    assert {*homes, "__version__"} == set(handkit.__all__)
    assert len(handkit.__all__) == len(set(handkit.__all__))
    for name, home in homes.items():
        assert getattr(handkit, name) is vars(sys.modules[home])[name], name


def python(*words: str) -> str:
    line = [sys.executable, *words]
    return subprocess.run(line, cwd=TOP, capture_output=True, text=True, check=True).stdout


def test_a_bare_import_loads_nothing() -> None:
    told = python("-c", "import handkit, sys; print(*sys.modules)").split()
    loaded = {name for name in told if name.startswith("handkit.")}
    assert (loaded, "msgspec" in told) == (set(), False)


def test_asking_for_a_name_of_the_road_loads_no_heavy_library() -> None:
    told = python("-c", "from handkit import make, ProjectError; import sys; print(*sys.modules)").split()
    assert {"cv2", "shapely", "numpy", "reportlab", "pypdf", "click"} & set(told) == set()


def test_the_module_is_the_command() -> None:
    assert python("-m", "handkit", "--version") == f"handkit, version {handkit.__version__}\n"


def test_types_travel_with_the_package() -> None:
    assert (TOP / "handkit" / "py.typed").read_bytes() == b""


def test_each_package_needed_is_declared_with_its_lowest_version() -> None:
    """`.ci/run` turns each of these into the one version that it installs."""
    project = tomllib.loads((TOP / "pyproject.toml").read_text("utf-8"))["project"]
    declared = project["dependencies"] + project["optional-dependencies"]["test"]
    assert [line for line in declared if not re.fullmatch(r"[a-z0-9-]+>=[\w.]+", line)] == []
