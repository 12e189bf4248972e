"""Fittings: every [[fitting]] of the project file: what is put on and is no hole.

In: the entries, and the pieces, seams and openings they name. Out: `Fitting`s in the file's order.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from handkit.kinds.fittings import FITTINGS, FittingKind
from handkit.read.checks.whole_file import check_names
from handkit.read.entries.entry import Entry, check_keys_of_kind
from handkit.read.file.project_file import unknown
from handkit.read.parts.expansion import DraftedTable
from handkit.read.project import Fitting, Opening, Piece, Seam
from handkit.read.values.plain import composed

Openings = Mapping[str, Opening]


def read_fittings(
    entries: Sequence[Entry],
    pieces: Mapping[str, Piece],
    seams: Sequence[Seam],
    openings: Sequence[Opening],
) -> tuple[Fitting, ...]:
    """All fittings."""
    check_names(entries, "name-taken/fitting")
    by_name = {opening.name: opening for opening in openings if opening.name}
    sewn = tuple(seam.name for seam in seams if seam.name)
    fittings = tuple(_fitting(entry, pieces, sewn, by_name) for entry in entries)
    for entry, fitting in zip(entries, fittings, strict=True):
        if fitting.between is not None and fitting.holes in by_name:
            _check_bars(entry, fitting, by_name[fitting.holes], fittings)
    return fittings


def _check_bars(entry: Entry, buckle: Fitting, holes: Opening, fittings: Sequence[Fitting]) -> None:
    """Report a strap in two parts one of which has no bar, and one that is a single piece."""
    if buckle.on in holes.through:
        entry.at("between").report("between-in-one", piece=buckle.on, holes=holes.name)
        return
    barred = {each.on for each in fittings if each.kind is FittingKind.BAR}
    if buckle.on not in barred:
        entry.at("between").report("between-without-bar", pieces=(buckle.on or "",))
    elif barred.isdisjoint(holes.through):
        entry.at("between").report("between-without-bar", pieces=holes.through)


def seams_named(fittings: object, drafted: Iterable[DraftedTable] = ()) -> frozenset[str]:
    """The seams that fittings, those of parts too, say they are sewn in by, before anything is checked.

    >>> sorted(seams_named([{"seams": ["mouth", 3]}, {"seams": "foot"}, "zip"]))
    ['mouth']
    """
    tables = [each for each in fittings if isinstance(each, dict)] if isinstance(fittings, list) else []
    tables += [dict(each.table) for each in drafted]
    lists = [table["seams"] for table in tables if isinstance(table.get("seams"), list)]
    return frozenset(composed(name) for names in lists for name in names if isinstance(name, str))


def _fitting(entry: Entry, pieces: Mapping[str, Piece], seams: Sequence[str], openings: Openings) -> Fitting:
    kind: FittingKind = entry.get("kind")
    if entry.table.get("kind") == kind:  # an unknown kind is reported elsewhere, and read as the first
        check_keys_of_kind(entry, kind, FITTINGS)
        if one_of := FITTINGS[kind].one_of:
            entry.only(one_of, missing="fitting-without", several="fitting-with-both")
    fitting = entry.record(
        Fitting, source=entry.source(), name=entry.name() or "", kind=kind, at=entry.get("at") or ()
    )
    _check_names_in(entry, fitting, pieces, seams)
    if fitting.through:
        _check_through(entry, fitting, openings)
    if "girth" in FITTINGS[kind].keys:
        _check_girth(entry, fitting, openings)
    return fitting


def _check_names_in(
    entry: Entry, fitting: Fitting, pieces: Mapping[str, Piece], seams: Sequence[str]
) -> None:
    """Report pieces, folds and seams that the file does not have."""
    for key, name in (("on", fitting.on), ("piece", fitting.piece)):
        if name and name not in pieces and pieces:
            entry.at(key).report(unknown("unknown-piece", name, tuple(pieces)).following(entry.lacking(key)))
    if fitting.piece and fitting.piece == fitting.on and not entry.has("inside"):
        entry.at("piece").report("keeper-on-itself", piece=fitting.piece)
    for field in entry.texts("seams"):
        if field.value not in seams:
            field.location.report(unknown("unknown-seam", str(field.value), seams))
    on = pieces.get(fitting.on or "")
    folds = tuple(fold.name for fold in on.folds) if on else ()
    if on is not None and fitting.fold and fitting.fold not in folds:
        entry.at("fold").report(unknown("unknown-fold", fitting.fold, folds).following(entry.lacking("fold")))
    if any(len(fold.points) > 2 for fold in (on.folds if on else ()) if fold.name == fitting.fold):
        entry.at("fold").report("fold-not-straight", fold=fitting.fold)


def _check_through(entry: Entry, fitting: Fitting, openings: Openings) -> None:
    """Report an opening that isn't there, or that nothing passes."""
    found = openings.get(fitting.through)
    if found is None:
        told = unknown("unknown-opening", fitting.through, tuple(openings))
        entry.at("through").report(told.following(entry.lacking("through")))
    elif found.traits.takes_post:
        entry.at("through").report("fitting-through-post", opening=found.name, kind=found.kind)
    elif (thick := fitting.diameter or fitting.width or 0.0) > found.length:
        entry.at("through").report(
            "fitting-too-thick", thick=thick, kind=fitting.kind, opening=found.name, most=found.length
        )


def _check_girth(entry: Entry, fitting: Fitting, openings: Openings) -> None:
    """Report what is wrong between a buckle's girth and its holes; a part's own may follow in drafting."""
    if entry.has("girth") != entry.has("holes") and entry.drafted is None:
        key, other = ("girth", "holes") if entry.has("girth") else ("holes", "girth")
        entry.at(key).report("girth-alone", key=key, other=other)
    if fitting.girth and fitting.girth[0] > fitting.girth[1]:
        entry.at("girth").report("girth-turned", least=fitting.girth[0], most=fitting.girth[1])
    if not fitting.holes:
        return
    found = openings.get(fitting.holes)
    if found is None:
        told = unknown("unknown-opening", fitting.holes, tuple(openings))
        entry.at("holes").report(told.following(entry.lacking("holes")))
    elif not found.traits.buckled:
        entry.at("holes").report("holes-no-tongue", opening=found.name, kind=found.kind)
    elif fitting.on and fitting.on not in found.through and not entry.has("between"):
        entry.at("holes").report("holes-elsewhere", opening=found.name, piece=fitting.on)
