"""Hemming: edges that are turned to the back or bound, before pieces are joined; allowances after.

In: pieces, the sources. Out: steps. What of it frays for all to see, or inside for good, is overcast.

Cloth is pressed and held with clips; leather is glued down and hammered flat. Where what is turned meets at a
corner, a mitre takes out what would lie there four times over.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handkit.draft.pattern import FinishedEdge, PatternPiece
from handkit.grouping import grouped
from handkit.kinds.edge_works import EdgeWork
from handkit.stitch.edges.overcasting import APART
from handkit.stitch.edges.raw_edges import is_allowance, raw_edges_in_sight
from handkit.stitch.lists.hardware import tape_length
from handkit.stitch.order.edges import named
from handkit.stitch.order.tasks import Task, TaskKind
from handkit.stitch.plan import Step, StepKind
from handkit.stitch.steps.sources import StepSources
from handkit.wording.edge_names import edge_words
from handkit.wording.quoting import words


def sealed(pieces: Iterable[PatternPiece]) -> Iterable[Step]:
    """The cut ends of webbing."""
    for piece in pieces:
        if piece.traits.sealed and piece.raw:
            ends = edge_words(each.ends for each in piece.raw)
            yield Step(
                StepKind.SEAL,
                piece.name,
                f"Seal the cut ends {ends} of {piece.name} over a small flame or with a hot knife, where it "
                "melts; else turn or whip them.",
                "webbing comes apart from its cut ends",
            )


def hemmed(sources: StepSources) -> Iterable[Step]:
    """A step for each piece that has edges turned or bound; first what of them frays for all to see."""
    for piece in sources.pieces:
        works = [each for each in piece.works if not is_allowance(each)]
        alike = grouped(works, by=lambda each: (each.work.unlettered, _bends(each)))
        told = [_sentence(piece, some) for some in alike.values()]
        if told:
            yield Step(
                StepKind.HEM,
                piece.name,
                " ".join((*_overcast(sources, piece, works), *told, *_at_corners(piece))),
                "edges are turned and bound while the piece is single and lies flat",
            )


def allowances(sources: StepSources) -> list[tuple[PatternPiece, FinishedEdge, Task]]:
    """Seam allowances, each with the last seam along it."""
    return [
        (piece, each, last)
        for piece in sources.pieces
        for each in piece.works
        if is_allowance(each)
        for last in [task for task in sources.ordered.tasks if _runs_along(task, piece, each)][-1:]
    ]


def opened(sources: StepSources, piece: PatternPiece, each: FinishedEdge) -> Step:
    """What is done with an allowance once it is sewn; notches fray, too, so it is overcast after them."""
    bent = ", notched round the bends" if _bends(each) else ""
    flat = (
        f"{piece.traits.words.opened} the allowance along {each.work.edges} of {piece.name} flat to one side "
        f"or open{bent}."
    )
    return Step(
        StepKind.HEM,
        piece.name,
        " ".join((flat, *_overcast(sources, piece, [each]))),
        "what lies beyond a seam is laid flat before another seam crosses it",
    )


def _runs_along(task: Task, piece: PatternPiece, each: FinishedEdge) -> bool:
    reach = each.work.width
    return task.kind is TaskKind.SEAM and any(
        each.path.comes_within(reach, hole) for run in task.on(piece.name) for hole in run
    )


def _sentence(piece: PatternPiece, alike: Sequence[FinishedEdge]) -> str:
    """What is done along edges that get the same."""
    work, back, units = alike[0].work, piece.hem_side, piece.source.units
    edges = f"{words((str(each.work.edges) for each in alike), last='and')} of {piece.name}"
    if work.work is EdgeWork.BINDING:
        lengths = words((tape_length(each, units) for each in alike), last="and")
        return (
            f"Fold {lengths} of tape {units.text(work.width)} wide over {edges}, as deep on the front as on "
            "the back; hold it with clips."
        )
    how = f"Turn {units.text(work.width)} of {edges} to the {back} on the fold line"
    if work.turns > 1:
        how = (
            f"Turn {units.text(work.turn_in)} of {edges} to the {back} on the outer fold line, then "
            f"{units.text(work.width)} on the inner one"
        )
    notched = "; notch or pleat it round the bend" if any(map(_bends, alike)) else ""
    return f"{how}{notched}; {piece.traits.words.turned}."


def _overcast(sources: StepSources, piece: PatternPiece, works: Sequence[FinishedEdge]) -> Iterable[str]:
    """Cut ends that nothing will lie over, and the thread for each."""
    raw, units = raw_edges_in_sight(sources.punched.pattern, piece, works), piece.source.units
    if raw and is_allowance(works[0]):
        yield "Overcast its cut edge: it frays, and stays raw inside."
    elif raw:
        yield (
            f"Overcast the cut edge of {piece.name} along {named(raw)}: turned once it stays raw, and "
            "nothing lies over all of it."
        )
    own = {f"{edge.start}-{edge.end}" for edge in raw}
    told = [
        f"{each.edge} {f'{each.count} of ' if each.count > 1 else ''}{units.cut_thread.text(each.cut)}"
        for each in sources.overcast
        if each.piece == piece.name and each.edge in own
    ]
    if told:
        yield (
            f"One needle, stitches about {units.text(APART)} apart and as deep; threads: "
            f"{words(told, last='and')}."
        )


def _bends(each: FinishedEdge) -> bool:
    return any(segment.bulge for segment in each.path.segments)


def _at_corners(piece: PatternPiece) -> Iterable[str]:
    """How turned edges meet at corners: alike ones in a mitre, of unlike ones the deeper over the other."""
    if piece.mitres:
        yield (
            f"At {words(piece.mitres, last='and')} fold the point of the corner in first, cut off what is "
            "double, then turn both edges, so that their folds meet in a mitre."
        )
    for (first, over), corners in piece.lapped_corners.items():
        yield (
            f"At {words(corners, last='and')}, where the hems are not alike, turn {first} first and {over} "
            "over its end; cut away inside what would lie too thick, and fold the raw end in."
        )
