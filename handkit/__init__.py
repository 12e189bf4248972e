"""handkit: from measured things to full-scale templates and a plan, for work by hand.

Here stand the names for programs of your own: the road from a project file to a kit, the layout
engine for outlines of any origin, papers, and what is raised. A name is loaded when it is first
asked for (PEP 562), so that a bare import, and `handkit --help`, cost next to nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from handkit.errors import FileError, HandkitError, PaperError, ProjectError, ProofError
    from handkit.findings import Finding
    from handkit.kinds.pages import Drawn, Straights, Windows
    from handkit.kit import Kit, Made, made_of, make, plan_of, proof_of, punched_of
    from handkit.messages.message import Severity
    from handkit.overrides import PageOverrides
    from handkit.paper import PAPERS, Paper, paper_named
    from handkit.read.file.load import ProjectText
    from handkit.sheets.engine import Capsule, Placed, Shape, place

__version__ = "0.1.0"

__all__ = [
    "PAPERS",
    "Capsule",
    "Drawn",
    "FileError",
    "Finding",
    "HandkitError",
    "Kit",
    "Made",
    "PageOverrides",
    "Paper",
    "PaperError",
    "Placed",
    "ProjectError",
    "ProjectText",
    "ProofError",
    "Severity",
    "Shape",
    "Straights",
    "Windows",
    "__version__",
    "made_of",
    "make",
    "paper_named",
    "place",
    "plan_of",
    "proof_of",
    "punched_of",
]

# Where the names are found, the quickest to load first; only the engine loads the geometry's library.
_HOMES = ("errors", "findings", "kinds.pages", "paper", "kit", "read.file.load", "sheets.engine")

if not TYPE_CHECKING:  # so that a type checker knows these names and no others

    def __getattr__(name: str) -> object:
        """A public name, from the first module that has it."""
        if name in __all__:
            for home in _HOMES:
                module = import_module(f"handkit.{home}")
                if name in vars(module):
                    return vars(module)[name]
        raise AttributeError(f"module 'handkit' has no attribute {name!r}")
