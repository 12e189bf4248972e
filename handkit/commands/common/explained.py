"""Explained: what a code stands for, at length, with an example that is worked out anew.

In: a code, as it stands in brackets at the end of what is told. Out: lines of text: when it is told and how
much it weighs, in which ways, and a small project of which it is told. The examples stand in
`messages/examples.txt`; what stands behind a line `=== NAME` is a file of that name beside the project.
"""

from __future__ import annotations

import re
from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory

import msgspec

from handkit.draw.export.finding_text import finding_lines
from handkit.draw.export.text_lines import WIDTH, filled
from handkit.errors import ProjectError
from handkit.findings import Finding
from handkit.kit import made_of
from handkit.messages.message import Message
from handkit.messages.table import BY_WORK
from handkit.read.file.load import ProjectText

_HEAD = re.compile(r"^## ([a-z0-9-]+): (.*)$", re.MULTILINE)
_BESIDE = re.compile(r"^=== (\S+)\n", re.MULTILINE)
_PLACEHOLDER = re.compile(r"\{\{|\}\}|\{([^{}:]*)[^{}]*\}")


class Example(msgspec.Struct, frozen=True):
    """A small project of which something is told, and the files that it names: of each its name and text."""

    text: str
    title: str = ""
    beside: tuple[tuple[str, str], ...] = ()


def codes() -> dict[str, list[str]]:
    """All codes, by what is done when they are told."""
    return {work: sorted({_code(key) for key in rows}) for work, rows in BY_WORK.items()}


def examples() -> dict[str, Example]:
    """The example of each code that has one."""
    text = files("handkit.messages").joinpath("examples.txt").read_text("utf-8")
    _, *parts = _HEAD.split(text)
    triples = zip(parts[::3], parts[1::3], parts[2::3], strict=True)
    return {code: example_of(body.strip() + "\n", title) for code, title, body in triples}


def example_of(text: str, title: str = "") -> Example:
    """An example as it is written, with the files beside it."""
    project, *parts = _BESIDE.split(text)
    return Example(project, title, tuple(zip(parts[::2], parts[1::2], strict=True)))


def told_of(example: Example) -> tuple[Finding, ...]:
    """What is told of an example; what stands beside it is put into a folder for as long."""
    if not example.beside:
        return _told_of(example, Path())
    with TemporaryDirectory() as folder:
        for name, text in example.beside:
            Path(folder, name).write_text(text, "utf-8")
        return _told_of(example, Path(folder))


def _told_of(example: Example, folder: Path) -> tuple[Finding, ...]:
    try:
        return made_of(ProjectText(example.text, "example.toml", folder)).findings
    except ProjectError as refused:
        return refused.findings


def explained(code: str, width: int = WIDTH) -> list[str]:
    """The lines; none of a code that is not known."""
    found = [
        (work, message)
        for work, rows in BY_WORK.items()
        for key, message in rows.items()
        if _code(key) == code
    ]
    if not found:
        return []
    example = examples().get(code)
    return [
        *filled(f"{code}: {_weight(found[0][1])}, told when {found[0][0]}.", width),
        "",
        *(line for _, message in found for line in _ways(message, width)),
        *(_shown(example, width) if example else []),
    ]


def _shown(example: Example, width: int) -> list[str]:
    texts = {"example.toml": example.text, **dict(example.beside)}
    told = finding_lines(told_of(example), lambda file: texts[file].splitlines(), width=width)
    shown = _indented(example.text)
    for name, text in example.beside:
        shown += ["", f"with {name} beside it:", "", *_indented(text)]
    return ["", f"For example ({example.title}):", "", *shown, "", *told]


def _indented(text: str) -> list[str]:
    return [f"    {line}" for line in text.splitlines()]


def _ways(message: Message, width: int) -> list[str]:
    """One way in which it is told, values by their names."""
    allowed = f"; allowed: {_plain(message.allowed)}" if message.allowed else ""
    remedy = f"; {_plain(message.remedy)}" if message.remedy else ""
    return filled(f"found {_plain(message.found)}{allowed}{remedy}", width, "  - ", "    ")


def _plain(text: str) -> str:
    return _PLACEHOLDER.sub(
        lambda found: found.group()[0] if found[1] is None else f"<{found[1].replace('_', ' ')}>", text
    )


def _weight(message: Message) -> str:
    return {
        "error": "an error, which stops the work until it is mended",
        "warning": "a warning: look at it before you cut",
        "note": "a note, good to know",
    }[message.severity]


def _code(key: str) -> str:
    return key.partition("/")[0]
