"""Tables of a project as a maker writes them, for the assemblies of this step's tests.

In: names, sizes, runs. Out: text of a project file; `more` are lines as they are to stand there.
"""

from __future__ import annotations


def piece(name: str, width: float, height: float, *more: str) -> str:
    return f'[[piece]]\nname = "{name}"\nrectangle = [{width}, {height}]\n' + "".join(f"{m}\n" for m in more)


def placed(name: str, width: float, height: float, at: str = "", *more: str, on: str = "back") -> str:
    """A piece on another; without a place it is a root."""
    return piece(name, width, height, *((f'on = "{on}"', f"at = {at}") if at else ()), *more)


def seam(name: str, *runs: str, more: str = "") -> str:
    told = ", ".join(run if run.startswith("{") else f'"{run}"' for run in runs)
    return f'[[seam]]\nname = "{name}"\nruns = [{told}]\n{more}'


def rivet(name: str, at: str, *through: str, more: str = "") -> str:
    pieces = ", ".join(f'"{name}"' for name in through)
    hole = f'[[opening]]\nname = "{name}"\nkind = "rivet"\nhole = 3\ncap = 9\n'
    return f"{hole}through = [{pieces}]\nat = {at}\n{more}"
