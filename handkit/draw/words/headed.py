"""Headed: what stands before the title on every page of a kit that is drafted otherwise than its file has it.

In: the project. Out: its title, with that; nobody may take such a page for one of the other kit.
"""

from __future__ import annotations

from handkit.read.project import Project

MIRRORED = "mirrored: for the left hand"


def headed_title(project: Project) -> str:
    """The title as pages have it at their head."""
    return " · ".join((*otherwise_words(project), project.title))


def otherwise_words(project: Project) -> tuple[str, ...]:
    """What a project is drafted for, in a word each; none where it is as the file has it."""
    tried = () if project.trial is None else (trial_words(project),)
    return (*tried, *((MIRRORED,) if project.mirrored else ()))


def trial_words(project: Project) -> str:
    """What a trial is made in."""
    return f"paper trial, stock {project.units.text(project.trial or 0.0)} thick"
