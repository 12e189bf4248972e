"""Cuts: sections of rooms and folds as scenes.

In: the article. Out: scenes, each a cut true to measure: plates grey, a heavy line on the side that shows as
a rule (the grain side of leather, the face of cloth), items outlined.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handkit.assemble.article import Article, ArticleSection, Plate
from handkit.draw.article.scene import ArticleScene, Canvas, area
from handkit.draw.model.marks import Ink, Mark
from handkit.draw.model.path_ops import PathOps, box_ops, path_ops, polyline_ops
from handkit.geometry.box import Box, around
from handkit.geometry.path import Path
from handkit.ink import Stroke, Tag
from handkit.read.project import Side
from handkit.tolerances import SAGITTA
from handkit.wording.quoting import words as listed

PLATE = 0.82
FRONT_SIDE = Stroke(0.6)

# Of a folded piece so many times as long as it is high, what is shown beside what is folded; mm.
LONG, ROUND = 12.0, 40.0


def section_scenes(
    article: Article, sections: Sequence[ArticleSection]
) -> tuple[tuple[ArticleScene, ...], ...]:
    """All sections; those of one room or piece together."""
    found: dict[str, list[ArticleScene]] = {}
    for section in sections:
        found.setdefault(section.of, []).append(_scene(article, section))
    return tuple(map(tuple, found.values()))


def _scene(article: Article, section: ArticleSection) -> ArticleScene:
    canvas, words, shown = Canvas(), list[str](), _shown(section)
    clips = (box_ops(shown.left, shown.bottom, shown.right, shown.top),) if shown else ()
    for plate in section.plates:
        known = (("Piece", plate.piece),)
        canvas.draw(area(Tag.BODY, known, path_ops(plate.outline), PLATE), clips=clips)
        canvas.name(plate.piece, thin=True)
        heavy = _front_side(plate)
        if heavy is not None:
            piece = article.punched.pattern.piece(plate.piece)
            words.append(piece.side_words(Side.GRAIN))
            canvas.draw(Mark(Tag.INNER, known, (Ink(heavy, FRONT_SIDE),)), clips=clips)
    for thing in section.things:
        canvas.draw(area(Tag.THING, (("Item", thing.item),), path_ops(thing.outline)))
        canvas.name(thing.item)
    way = "along" if section.along else "across"
    notes = [f"heavy line: {listed(dict.fromkeys(words))}"] if words else []
    if shown:
        notes.append("it goes straight on where it is cut off")
    return canvas.scene(f"Section {way} {section.of}", None, ["; ".join(notes)], shown)


def _shown(section: ArticleSection) -> Box | None:
    """Of a long folded piece the part round its folds; None where all is shown."""
    (plate, *others), box = section.plates, around(Box(*each.outline.bounds()) for each in section.plates)
    if others or section.things or box.width < LONG * box.height:
        return None
    points = plate.outline.flattened(sagitta=SAGITTA)
    straight = max(abs(x) for x, _ in points)  # at the end that keeps its place
    flat = [z for x, z in points if abs(x) > straight - SAGITTA]
    bent = [x for x, z in points if not min(flat) - SAGITTA <= z <= max(flat) + SAGITTA]
    if not bent:
        return None
    left, right = max(box.left, min(bent) - ROUND), min(box.right, max(bent) + ROUND)
    return Box(left, box.bottom - 1, right, box.top + 1)


def _front_side(plate: Plate) -> PathOps | None:
    """The line of a plate on its grain side or face; None where the cut goes round a strip."""
    upper = plate.upper
    if upper.closed:
        return None
    if plate.up is Side.GRAIN:
        return path_ops(upper)
    known = set(_corners(upper))
    return polyline_ops([at for at in _corners(plate.outline) if at not in known])


def _corners(path: Path) -> Iterator[tuple[float, float]]:
    for segment in path.segments:
        yield segment.start
    if not path.closed:
        yield path.end
