"""The walls: which module may see which, read from the sources and from what Python loads.

errors units tolerances findings messages wording paper ink kept …   under all
geometry/ kinds/ printers/ manifest/           under the steps; region.py alone calls shapely
read → draft → punch → stitch, sheets → draw   each sees its own folder and the products before
proof                                          sees no step
photo                                          sees no step; an extra, which no step loads but its products
files interrupts progress kit cli __main__ …   the front door; nobody imports from it
"""

from __future__ import annotations

import ast
import importlib
import inspect
import subprocess
import sys
from collections.abc import Callable, Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest
from parsed import MODULES as FILES
from parsed import SOURCE, nodes_of, tree_of

BASE = frozenset(
    [
        "counting",
        "errors",
        "findings",
        "grouping",
        "ink",
        "kept",
        "messages",
        "paper",
        "tolerances",
        "units",
        "wording",
    ]
)
DOOR = frozenset(
    {
        "files",
        "interrupts",
        "progress",
        "kit",
        "cli",
        "overrides",
        "commands",
        "__main__",
    }
)

# A step's product, and the steps whose products it takes.
PRODUCTS = {
    "read": ("read.project",),
    "draft": ("draft.pattern",),
    "punch": ("punch.punched",),
    "assemble": ("assemble.article",),
    "stitch": ("stitch.plan",),
    "sheets": ("sheets.laid",),
    "printers": ("printers.correction", "printers.fits", "printers.page"),
    "manifest": ("manifest.listed", "manifest.attached", "manifest.sound"),
    "photo": ("photo.mat", "photo.traced"),
}
TAKES: dict[str, tuple[str, ...]] = {
    "geometry": (),
    "kinds": (),
    "printers": (),
    "photo": ("printers",),
    "manifest": ("printers",),
    "read": (),
    "draft": ("read",),
    "punch": ("read", "draft"),
    "assemble": ("read", "draft", "punch"),
    "stitch": ("read", "draft", "punch", "assemble"),
    "sheets": ("read", "draft", "punch", "printers"),
    "draw": ("read", "draft", "punch", "assemble", "stitch", "sheets", "printers", "manifest", "photo"),
    "proof": ("printers", "manifest"),
}

# The wordings of a step that makes no findings.
OWN_WORDS = {
    "read": ("messages.allowed", "messages.placeholders"),
    "proof": ("messages.proving", "messages.unseen", "messages.placeholders"),
}

# Who may call a library; everything else comes with Python.
LIBRARIES: dict[str, str | tuple[str, ...]] = {
    "shapely": "geometry.region",
    "reportlab": "draw.",
    "pypdfium2": "draw.export.pages_png",
    "pypdf": "proof.",
    "click": ("cli", "commands."),
    "msgspec": "",
    "numpy": ("sheets.nest.guided_search", "photo."),
    "cv2": "photo.",
}

# Only the front door pays when called.
IMPORTS_WHEN_CALLED = ("kit", "__main__", "commands.")


def name_of(path: Path) -> str:
    """handkit/draw/model/tags.py is "draw.model.tags", handkit/draw/__init__.py "draw", handkit's own ""."""
    parts = path.relative_to(SOURCE).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


PATHS = {name_of(path): path for path in FILES}
PACKAGES = {name_of(path) for path in FILES if path.name == "__init__.py"}


def imported(module: str) -> Iterator[tuple[str, str]]:
    """Every (module, name) that is imported anywhere: at the top, in functions, under TYPE_CHECKING."""
    for node in nodes_of(PATHS[module], ast.Import):
        yield from ((alias.name, "") for alias in node.names)
    for node in nodes_of(PATHS[module], ast.ImportFrom):
        assert node.level == 0, "imports are written out in full"
        yield from ((node.module or "", alias.name) for alias in node.names)


def ours(module: str) -> Iterator[str]:
    """The modules of handkit that are imported, as `name_of` has them."""
    for seen, name in imported(module):
        if seen == "handkit" or seen.startswith("handkit."):
            inside = seen.removeprefix("handkit").removeprefix(".")
            deeper = f"{inside}.{name}".removeprefix(".")
            yield deeper if name and deeper in PATHS else inside


def may_see(importer: str, seen: str) -> bool:
    """The walls, in four lines."""
    folder, other = (name.partition(".")[0] for name in (importer, seen))
    if folder in DOOR:
        return True
    if folder in BASE:
        return other in BASE or other == "kinds"
    if seen in BASE or seen in ("messages.message", *OWN_WORDS.get(folder, ())):
        return seen not in PACKAGES
    if other in ("geometry", "kept", "kinds", "wording", folder) or (
        seen == "manifest" and folder in ("draw", "proof")
    ):
        return seen not in PACKAGES
    return seen in {product for step in TAKES[folder] for product in PRODUCTS[step]}


MODULES = sorted(name for name in PATHS if name)


def test_every_folder_and_module_has_its_place() -> None:
    tops = {name.split(".")[0] for name in MODULES}
    assert tops == BASE | DOOR | set(TAKES)


def broken(faults: Callable[[str], object]) -> dict[str, object]:
    """Module by module, what a rule finds wrong there."""
    return {module: found for module in MODULES if (found := faults(module))}


def test_a_module_sees_only_what_stands_under_it() -> None:
    assert broken(lambda module: [s for s in ours(module) if not may_see(module, s)]) == {}


def strangers(module: str) -> list[str]:
    seen = {name.split(".")[0] for name, _ in imported(module)}
    seen -= {"handkit", "__future__", *sys.stdlib_module_names}
    return sorted(name for name in seen if not f"{module}.".startswith(LIBRARIES.get(name, "none")))


def test_each_library_is_called_from_its_own_place() -> None:
    assert broken(strangers) == {}


def late_imports(module: str) -> list[str]:
    """Neither at the module's top nor there under TYPE_CHECKING."""
    body = tree_of(PATHS[module]).body
    tops = set(body)
    for node in body:
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
            tops.update(node.body)
    imports = nodes_of(PATHS[module], ast.Import, ast.ImportFrom)
    return [ast.unparse(node) for node in imports if node not in tops]


def test_imports_stand_at_module_tops() -> None:
    """The front door alone imports when called, so that a command pays for its own road only."""
    assert [name for name in broken(late_imports) if not name.startswith(IMPORTS_WHEN_CALLED)] == []


def hidden_imports(module: str) -> list[str]:
    names = [n.id for n in nodes_of(PATHS[module], ast.Name)]
    ways = {"importlib.import_module", "importlib", "importlib.util", "runpy", "pkgutil"}
    found = [name for name in names if name in ("__import__", "exec", "eval")]
    return found + [m for m, name in imported(module) if m in ways and name != "resources"]


def test_no_import_is_hidden_from_these_tests() -> None:
    assert broken(hidden_imports) == {}


def private_names(module: str) -> list[str]:
    """`x._y` of anything but oneself: a library's insides, or another module's."""
    return [
        ast.unparse(node)
        for node in nodes_of(PATHS[module], ast.Attribute)
        if node.attr.startswith("_")
        and not node.attr.startswith("__")
        and not (isinstance(node.value, ast.Name) and node.value.id in ("self", "cls"))
        and ast.unparse(node) != "os._exit"  # documented: private in its name alone
    ]


def test_no_private_name_is_touched() -> None:
    assert broken(private_names) == {}


def switches(module: str) -> list[str]:
    """Attributes that are set on what was imported: settings of a library that all its users share."""
    names = {(name or path.split(".")[0]) for path, name in imported(module)}
    targets = [t for n in nodes_of(PATHS[module], ast.Assign, ast.AugAssign) for t in _targets(n)]
    attributes = [node for target in targets for node in ast.walk(target) if isinstance(node, ast.Attribute)]
    return [text for node in attributes if (text := ast.unparse(node)).split(".")[0] in names]


def _targets(node: ast.Assign | ast.AugAssign) -> list[ast.expr]:
    return node.targets if isinstance(node, ast.Assign) else [node.target]


def test_no_switch_of_a_library_is_set() -> None:
    assert broken(switches) == {}


def test_there_are_no_circles() -> None:
    graph = {module: {seen for seen in ours(module) if seen} for module in MODULES}
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as circle:
        pytest.fail(f"imports go in a circle: {circle.args[1]}")


def test_a_package_holds_a_docstring_only() -> None:
    """handkit's own has the version beside it, and the public names (test_package.py)."""
    for package in sorted(PACKAGES - {""}):
        tree = tree_of(PATHS[package])
        assert ast.get_docstring(tree), package
        assert len(tree.body) == 1, package


def defined(tree: ast.Module) -> set[str]:
    """Names a module makes itself, at its top."""
    names: set[str] = set()
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            names.add(node.name)
        elif isinstance(node, ast.Assign):
            names.update(t.id for target in node.targets for t in ast.walk(target) if isinstance(t, ast.Name))
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            names.add(node.target.id)
    return names


def handed_on(module: str) -> list[str]:
    """Names that are imported from a module which itself has them from another."""
    wrong = []
    for seen, name in imported(module):
        inside = seen.removeprefix("handkit").removeprefix(".")
        if not f"{seen}.".startswith("handkit.") or f"{inside}.{name}".removeprefix(".") in PATHS:
            continue
        made = getattr(importlib.import_module(seen), name, None)
        elsewhere = (inspect.isclass(made) or inspect.isfunction(made)) and made.__module__ != seen
        if name not in defined(tree_of(PATHS[inside])) or elsewhere:
            wrong.append(f"{name} from {seen}")
    return wrong


def test_a_name_is_imported_from_where_it_is_made() -> None:
    """What a product module imports is not handed on: no step is seen through another."""
    assert broken(handed_on) == {}


def private(module: str) -> list[str]:
    names = [name for seen, name in imported(module) if f"{seen}.".startswith("handkit.")]
    return [name for name in names if name.startswith("_") and not name.startswith("__")]


def test_no_name_with_an_underscore_leaves_its_module() -> None:
    assert broken(private) == {}


def loaded_by(modules: list[str]) -> set[str]:
    """What a new Python has loaded once these modules are imported."""
    lines = "; ".join(f"import handkit.{module}" for module in modules)
    code = f"import sys; {lines}; print(*sys.modules)"
    run = subprocess.run(
        [sys.executable, "-c", code], cwd=SOURCE.parent, capture_output=True, text=True, check=True
    )
    return set(run.stdout.split())


@pytest.mark.parametrize("folder", sorted(TAKES))
def test_a_step_loads_no_more_than_it_may_see(folder: str) -> None:
    """The sources are believed only as far as Python agrees."""
    loaded = loaded_by([module for module in MODULES if module.startswith(f"{folder}.")])
    inside = {name.removeprefix("handkit.") for name in loaded if name.startswith("handkit.")}
    products = {product for step in TAKES[folder] for product in PRODUCTS[step]}
    others = {name for name in inside if name.split(".")[0] not in (folder, "geometry", "kinds", *BASE)}
    assert others - PACKAGES - products == set()
    if folder != "draw":
        assert "reportlab" not in loaded
    if folder != "proof":
        assert "pypdf" not in loaded
    if folder in ("read", "proof"):
        assert "shapely" not in loaded
    if folder != "photo":
        assert "cv2" not in loaded
