"""Steps: the whole order of work, from the first cut to the last wipe of oil, with reasons.

In: everything punched, the seams and openings in order, what closes what. Out: steps.

The frame is the trade's: cut, mark and punch, skive, fold, dye and let dry; then glue, set and
stitch in order, burnishing in time what will be closed in; then trim, burnish the outer edges,
oil and finish last. Glue holds neither on oil nor on finish.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from handkit.draft.pattern import PatternPiece
from handkit.punch.punched import Punched, PunchedSeam
from handkit.read.project import Material, Punching
from handkit.stitch.lists.saying import listed, set_sentence, sew_sentence
from handkit.stitch.order.closing import Closing
from handkit.stitch.order.edges import ClosedIn, closed_in, edges_along, edges_of, named
from handkit.stitch.order.order import Ordered
from handkit.stitch.order.precedence import Must
from handkit.stitch.order.works import LEATHER, Work, WorkKind, is_plain_hole
from handkit.stitch.plan import OpeningPlan, SeamPlan, Step, StepKind
from handkit.stitch.sewing.stack import to_path

_KINDS = {
    WorkKind.GLUE: StepKind.GLUE,
    WorkKind.SEAM: StepKind.SEAM,
    WorkKind.OPENING: StepKind.OPENING,
}


class Bench(msgspec.Struct, frozen=True):
    """All that the steps are told from."""

    punched: Punched
    ordered: Ordered
    closings: tuple[Closing, ...]
    seams: dict[str, SeamPlan]
    openings: dict[str, OpeningPlan]


def steps(bench: Bench) -> tuple[Step, ...]:
    """All steps in order."""
    hidden = closed_in(bench.punched.pattern, bench.closings, bench.ordered.works)
    folds, trims = _late_folds(bench), _trims(bench)
    middle: list[Step] = []
    down = False
    for work in bench.ordered.works:
        if not is_plain_hole(work):
            if work.behind != down:
                down = work.behind
                middle.append(_turned(work))
            middle.extend(_burnished_early(closed) for closed in hidden if closed.before is work)
            middle.extend(_fold(piece) for piece, holder in folds if holder is work)
            middle.append(_worked(bench, work))
            middle.extend(_trim(piece) for piece, last in trims if last is work)
    middle.extend(_trim(piece) for piece, last in trims if last is None)
    return (*_prepared(bench, folds), *middle, *_finished(bench, hidden))


def _prepared(bench: Bench, late: Sequence[tuple[PatternPiece, Work]]) -> Iterable[Step]:
    """What is done to single pieces."""
    pieces = bench.punched.pattern.pieces
    names = ", ".join(piece.name for piece in pieces)
    leather = any(piece.material in LEATHER for piece in pieces)
    yield Step(
        StepKind.CUT,
        names,
        f"Cut {listed(_counted(piece) for piece in pieces)}.",
        "templates are laid on the whole hide; best leather for the largest pieces"
        if leather
        else "templates are laid on the whole cloth before the first cut, largest pieces first",
    )
    yield Step(
        StepKind.MARK,
        names,
        "Mark the pieces and punch the holes." + _punched_later(bench.punched.seams),
        "leather is marked and punched before dye and glue, while each piece lies flat"
        if leather
        else "pieces are marked while each lies flat",
    )
    yield from (_worked(bench, work) for work in bench.ordered.works if is_plain_hole(work))
    for piece in pieces:
        for skive in piece.skives:
            edges = named(edges_along(piece, [skive.path]))
            yield Step(
                StepKind.SKIVE,
                piece.name,
                f"Skive {piece.name} along {edges}, {skive.width:g} mm wide, down to {skive.to:g} mm.",
                "thinned edges fold and glue flat",
            )
    for piece in pieces:
        if piece.folds and all(piece is not folded for folded, _ in late):
            yield _fold(piece)
    yield from _dyed(pieces)


def _dyed(pieces: Sequence[PatternPiece]) -> Iterable[Step]:
    leather = [piece.name for piece in pieces if piece.material in LEATHER]
    if leather:
        yield Step(
            StepKind.DYE,
            ", ".join(leather),
            "Dye what is to be dyed, and let it dry. Keep areas to be glued bare of oil and finish.",
            "after it is put together dye no longer reaches everywhere, and it goes under oil and finish",
        )


def _worked(bench: Bench, work: Work) -> Step:
    """The step for one work of the order."""
    if work.kind is WorkKind.SEAM:
        what = sew_sentence(bench.seams[work.name])
    elif work.kind is WorkKind.OPENING:
        what = set_sentence(bench.openings[work.name])
    else:
        what = f"Glue {work.name} down on {work.layers[1].piece}, and let it set."
    return Step(_KINDS[work.kind], work.name, what + _noted(work.note), _why(bench.ordered.reasons, work))


def _noted(note: str) -> str:
    """The maker's own note as a sentence."""
    return f" Note: {note.rstrip('.')}." if note else ""


def _turned(work: Work) -> Step:
    down, side = ("down", "from behind") if work.behind else ("up", "from the front")
    return Step(StepKind.TURN, work.name, f"Turn the work over, face {down}.", f"{work} goes on {side}")


def _why(reasons: Sequence[Must], work: Work) -> str:
    """Why a work stands where it does."""
    if is_plain_hole(work):
        return "it is cut while the piece lies flat"
    parts = [
        *_because("before", ((must.then, must.why) for must in reasons if must.first is work)),
        *_because("after", ((must.first, must.why) for must in reasons if must.then is work)),
    ]
    return "; ".join(parts) if parts else "inner pieces first, else as the file lists them"


def _because(word: str, musts: Iterable[tuple[Work, str]]) -> Iterable[str]:
    """One phrase for each reason, with all works it holds for."""
    by_reason: dict[str, list[str]] = {}
    for work, why in musts:
        by_reason.setdefault(why, []).append(str(work))
    return (f"{word} {listed(_few(works))}: {why}" for why, works in by_reason.items())


def _few(names: Sequence[str]) -> Sequence[str]:
    """At most three names; the seam's own list has them all."""
    return names if len(names) <= 3 else [*names[:2], f"{len(names) - 2} more"]


def _burnished_early(closed: ClosedIn) -> Step:
    return Step(
        StepKind.EDGES,
        closed.piece,
        f"Bevel and burnish {closed.piece} along {named(closed.edges)}.",
        f"after {closed.before} these edges lie close and can't be reached all round",
    )


def _late_folds(bench: Bench) -> list[tuple[PatternPiece, Work]]:
    """Pieces that are folded and sewn to themselves, each with the first work that holds it.

    They are folded just before, for what lies inside is sewn while they are flat.
    """
    round_it: dict[str, set[Work]] = {}
    for closing in bench.closings:
        if len(closing.pieces) == 2 and len(set(closing.pieces)) == 1:
            round_it.setdefault(closing.pieces[0], set()).update(closing.holders)
    return [
        (piece, next(work for work in bench.ordered.works if work in round_it[piece.name]))
        for piece in bench.punched.pattern.pieces
        if piece.folds and piece.name in round_it
    ]


def _fold(piece: PatternPiece) -> Step:
    lines = listed(f'"{fold.name}"' for fold in piece.folds)
    firm = "; damp it first and let it dry in shape" if piece.material is Material.FIRM_LEATHER else ""
    return Step(
        StepKind.FOLD,
        piece.name,
        f"Fold {piece.name} on {lines}{firm}.",
        "a fold is formed before it is glued or stitched",
    )


def _trims(bench: Bench) -> list[tuple[PatternPiece, Work | None]]:
    """Pieces to trim, each with the last seam along its trimmed edges, None where none is."""
    return [
        (piece, next((work for work in reversed(bench.ordered.works) if _runs_along_trim(work, piece)), None))
        for piece in bench.punched.pattern.pieces
        if piece.trims
    ]


def _runs_along_trim(work: Work, piece: PatternPiece) -> bool:
    near = 1.5 * work.reach  # three insets
    return work.kind is WorkKind.SEAM and any(
        to_path(hole, path) <= near for path in piece.trims for run in work.on(piece.name) for hole in run
    )


def _trim(piece: PatternPiece) -> Step:
    edges = named(edges_along(piece, piece.trims))
    return Step(
        StepKind.TRIM,
        piece.name,
        f"Trim {piece.name} along {edges} to the line.",
        "cut wide and trimmed after stitching, all layers end flush",
    )


def _finished(bench: Bench, hidden: Sequence[ClosedIn]) -> Iterable[Step]:
    """What is left when all is put together."""
    pieces = bench.punched.pattern.pieces
    done = {closed.piece: len(closed.edges) for closed in hidden}
    leather = [piece for piece in pieces if piece.material in LEATHER]
    outer = [piece.name for piece in leather if done.get(piece.name, 0) < len(edges_of(piece))]
    if outer:
        yield Step(
            StepKind.BURNISH,
            ", ".join(outer),
            f"Sand, bevel and burnish the outer edges of {listed(outer)}.",
            "edges of several layers are made one after stitching and trimming",
        )
    if leather:
        names = ", ".join(piece.name for piece in leather)
        oil = "Oil sparingly, let it sink in, then finish; let it dry."
        yield Step(StepKind.FINISH, names, oil, "oil and finish come last: glue holds on neither")
    else:
        names = ", ".join(piece.name for piece in pieces)
        yield Step(StepKind.FINISH, names, "Clip thread ends, brush and press.", "it is looked over last")


def _counted(piece: PatternPiece) -> str:
    return piece.name if piece.quantity == 1 else f"{piece.quantity} x {piece.name}"


def _punched_later(seams: Sequence[PunchedSeam]) -> str:
    later = [f'"{s.name}"' for s in seams if s.stitching.punch is Punching.THROUGH]
    if not later:
        return ""
    return f" Of {listed(later)} only the face layer now: the others are punched through it when stitched."
