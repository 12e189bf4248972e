"""Faults: what is told of a project, numbered as in the pictures (see `marking.py`).

In: the article, findings. Out: the errors and warnings with what of the pictures each is about, and the list
of them as blocks. What can't be drawn is listed too.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from handkit.assemble.article import Article
from handkit.draw.layout.flow import Block
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.lettering import BODY
from handkit.draw.model.marks import TagValue
from handkit.findings import Finding, NamedHoles
from handkit.messages.message import Severity
from handkit.punch.punched import PunchedSeam
from handkit.wording.quoting import few, words

# What a mark of a picture is about, as its tag tells it.
About = tuple[str, TagValue]

NUMBER_ROOM = 9.0


class Fault(msgspec.Struct, frozen=True):
    """A finding with its number in the pictures, the holes it is about, and what else, the nearest first."""

    number: int
    finding: Finding
    holes: tuple[NamedHoles, ...]
    about: tuple[About, ...]


def faults_of(article: Article, findings: Sequence[Finding]) -> tuple[Fault, ...]:
    """Errors and warnings, numbered in their order."""
    known = _entries(article)
    told = [finding for finding in findings if finding.severity is not Severity.NOTE]
    seams = {seam.name: seam for seam in article.punched.seams}
    found = []
    for number, finding in enumerate(told, start=1):
        about = _about(finding, known)
        own = [NamedHoles(str(name)) for kind, name in about[:1] if kind == "Seam"]
        holes = tuple(_numbered(each, seams) for each in finding.holes or own)
        found.append(Fault(number, finding, holes, about))
    return tuple(found)


def _numbered(named: NamedHoles, seams: Mapping[str, PunchedSeam]) -> NamedHoles:
    """With all numbers of a seam that is named as a whole; of one that goes all round the first again."""
    seam = seams.get(named.work)
    if named.numbers or seam is None:
        return named
    numbers = (*range(1, seam.count + 1), *([1] if seam.closed else []))
    return NamedHoles(named.work, numbers, named.piece)


def fault_blocks(article: Article, faults: Sequence[Fault], setter: Typesetter) -> tuple[Block, ...]:
    """All faults by number, then what is not drawn; nothing where there is neither."""
    missing = tuple(_missing(article))
    if not faults and not missing:
        return ()
    listed = [
        block
        for fault in faults
        for block in setter.keyed(str(fault.number), str(fault.finding), size=BODY, indent=NUMBER_ROOM)
    ]
    return (*setter.heading("What is told"), *listed, *setter.texts(missing))


def _missing(article: Article) -> Iterator[str]:
    """What the project has and the pictures lack."""
    pattern = article.punched.pattern
    if pattern.project.left_out:
        yield f"Left out: {words(few(pattern.project.left_out), last='and')}."
    lacking = (
        ("Not drawn", pattern.project.pieces, {piece.name for piece in pattern.pieces}),
        ("Without stitches", pattern.project.seams, {seam.name for seam in article.punched.seams}),
        ("Without openings", pattern.project.openings, {opening.name for opening in pattern.openings}),
    )
    for head, wanted, found in lacking:
        names = [one.name for one in wanted if one.name not in found]
        if names:
            yield f"{head}: {words(few(names), last='and')}."


def _entries(article: Article) -> dict[str, list[About]]:
    """What is drawn of each entry of the file, by its path."""
    project = article.punched.project
    found: dict[str, list[About]] = {}

    def add(path: str, *about: About) -> None:
        found.setdefault(path, []).extend(about)

    for seam in project.seams:
        add(seam.source.path, ("Seam", seam.name), *(("Piece", layer.piece) for layer in seam.layers))
    for opening in project.openings:
        add(opening.source.path, ("Opening", opening.name), *(("Piece", name) for name in opening.through))
    for fitting in project.fittings:
        add(fitting.source.path, ("Fitting", fitting.name), ("Piece", fitting.on or ""))
    for piece in project.pieces:
        add(piece.source.path, ("Piece", piece.name))
    for part in project.parts:
        add(part.source.path, ("Piece", part.on or ""))
    held = {part.name: part.source.path for part in project.parts}
    for item in project.items:
        add(item.source.path, ("Item", item.name), *found.get(held.get(item.held_by, ""), ()))
    return found


def _about(finding: Finding, known: dict[str, list[About]]) -> tuple[About, ...]:
    """By the longest path that the finding's place begins with."""
    key = finding.where.key
    paths = [path for path in known if path and (key == path or key.startswith(f"{path}: "))]
    return tuple(known[max(paths, key=len)]) if paths else ()
