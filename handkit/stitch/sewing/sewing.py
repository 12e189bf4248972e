"""Sewing: one seam on its own, before its place in the order is known.

In: a seam with its holes, the pattern for thicknesses. Out: walk, moves, threads, turns at mouths,
and what there is to say about them.

Words: *front* is the face layer, which is looked at while stitching, *back* the one on the far
side; where a piece is in the seam twice, each of its runs is a layer of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import ceil

import msgspec

from handkit.draft.pattern import Pattern
from handkit.findings import Finding, finding
from handkit.geometry.straight import distance
from handkit.grouping import grouped
from handkit.punch.punched import Hole, PunchedLayer, PunchedSeam
from handkit.stitch.plan import DECIMALS, STUB, HolePartner, SeamPlan, SeamRow, SeamStack, Thread
from handkit.stitch.sewing.kinds import HoleSites, SitePoints, StitchMoves, laid, way_of
from handkit.stitch.sewing.mouths import EndTurns, mouths_of
from handkit.stitch.sewing.stack import seam_stacks
from handkit.stitch.sewing.thread import ThreadPath, least_side, threads
from handkit.stitch.sewing.tooling import toolings
from handkit.stitch.sewing.walk import most_back
from handkit.stitch.sewing.walk_events import LOCKS, way_steps

# How many insets from the edge the holes of a stitch that goes round it may lie.
MOST_INSETS = 2.0


class SewnSeam(msgspec.Struct, frozen=True):
    """How one seam is sewn, and what its thread sees of it."""

    plan: SeamPlan  # but for its place in the order
    path: ThreadPath
    findings: tuple[Finding, ...]


def sew(
    seam: PunchedSeam,
    pattern: Pattern,
    shared_holes: tuple[HolePartner, ...],
    *,
    own_start: bool = True,
    own_end: bool = True,
) -> SewnSeam:
    """The walk, moves and threads of a seam; findings where it can't be sewn as the file has it.

    Where its thread comes from another seam or goes on in one, that end is not its own and has no back
    stitches; what it then takes of that thread is told by `rows.sew_through`.
    """
    settings = seam.stitching
    kind = settings.stitch
    back, start_back = settings.back if own_end else 0, settings.start_back if own_start else 0
    way = way_of(kind, seam.count, closed=seam.closed, back=back, start_back=start_back)
    sites = _sites(seam, pattern)
    mouths = mouths_of(seam, pattern, sites.stacks)
    path = _path(seam, way, laid(kind, way, sites), mouths)
    cut = _own_threads(seam, path)
    marked = _only_marked(seam, pattern)
    length = round(seam.face.length, DECIMALS)
    plan = SeamPlan(
        punched=seam,
        length=length,
        pitch=_mean_step(seam),
        stack=max(sites.stacks),
        stacks=_stacks(seam, sites),
        walk=way,
        moves=path.moves,
        row=SeamRow((seam.name,), round(sum(thread.cut for thread in cut), DECIMALS)),
        threads=cut,
        mouths=mouths.all,
        way=way_steps(seam, way, cut, shared_holes),
        shared_holes=shared_holes,
        lock=LOCKS[settings.fibre].format(stub=seam.source.units.about.text(STUB)),
        tooling=tuple(each for each in toolings(seam) if each.piece not in marked),
        marked=marked,
    )
    return SewnSeam(plan, path, (*_off_the_edge(seam, sites), *mouths.findings, *_too_many_back(seam)))


def _own_threads(seam: PunchedSeam, path: ThreadPath) -> tuple[Thread, ...]:
    """What is cut for the seam alone."""
    cut = threads(path, longest_side=seam.stitching.longest_side)
    return tuple(msgspec.structs.replace(thread, seams=(seam.name,)) for thread in cut)


def _only_marked(seam: PunchedSeam, pattern: Pattern) -> tuple[str, ...]:
    """The pieces whose holes are marked and not punched."""
    pieces = dict.fromkeys(layer.piece for layer in seam.layers)
    return tuple(name for name in pieces if not pattern.piece(name).traits.words.punched)


def _sites(seam: PunchedSeam, pattern: Pattern) -> HoleSites:
    """Places, stacks and edges; edges are looked at only where the stitch goes round them."""
    edges = seam.stitching.traits.round_the_edge

    def to_edge(layers: Sequence[PunchedLayer]) -> tuple[float, ...]:
        if not edges:
            return (0.0,) * seam.count
        at = (_first_at(layers, number) for number in range(1, seam.count + 1))
        return tuple(pattern.piece(layer.piece).outline.distance_to(hole.at) for layer, hole in at)

    front, back = (_down_to_whole(seam, layers) for layers in (seam.from_face, seam.from_face[::-1]))
    return HoleSites(
        tuple(_row(seam, layer) for layer in front),
        tuple(_row(seam, layer) for layer in back),
        seam_stacks(seam, pattern),
        to_edge(front),
        to_edge(back),
        seam.joint_step,
    )


def _stacks(seam: PunchedSeam, sites: HoleSites) -> tuple[SeamStack, ...]:
    """What the holes go through, stretch by stretch, and how thick that is."""
    return tuple(
        SeamStack(
            one.first,
            one.last,
            tuple(layer.piece for layer in one.layers),
            max(sites.stacks[one.first - 1 : one.last]),
        )
        for one in seam.stacks
    )


def _down_to_whole(seam: PunchedSeam, layers: Sequence[PunchedLayer]) -> tuple[PunchedLayer, ...]:
    """Layers from one side as far as the first that has every hole."""
    whole = next(index for index, layer in enumerate(layers) if seam.is_whole(layer))
    return tuple(layers[: whole + 1])


def _row(seam: PunchedSeam, layer: PunchedLayer) -> SitePoints:
    if seam.is_whole(layer):
        return tuple(hole.at for hole in layer.holes)
    holes = (layer.hole(number) for number in range(1, seam.count + 1))
    return tuple(None if hole is None else hole.at for hole in holes)


def _first_at(layers: Sequence[PunchedLayer], number: int) -> tuple[PunchedLayer, Hole]:
    """The first of some layers that has a hole, and the hole."""
    return next((layer, hole) for layer in layers if (hole := layer.hole(number)) is not None)


def _path(seam: PunchedSeam, way: tuple[int, ...], lay: StitchMoves, mouths: EndTurns) -> ThreadPath:
    settings = seam.stitching
    fixed = {hole.number for layer in seam.layers for hole in layer.holes if hole.corner}
    return ThreadPath(
        lay.moves,
        lay.stacks,
        mouths.start.thread if mouths.start else 0.0,
        mouths.end.thread if mouths.end else 0.0,
        settings.tail,
        lay.strands,
        settings.traits.needles,
        tuple(place for place, hole in enumerate(way) if hole in fixed),
    )


def _mean_step(seam: PunchedSeam) -> float:
    """The mean step on the face, straight across, round and back where closed; 0 for one hole."""
    places = [hole.at for hole in seam.face.holes]
    joint = seam.joint_step
    way = [*places, places[0]] if seam.closed and joint is None else places
    steps = [round(distance(a, b), DECIMALS) for a, b in pairwise(way)]
    steps += [] if joint is None else [round(joint, DECIMALS)]
    return sum(steps) / len(steps) if steps else 0.0


def _off_the_edge(seam: PunchedSeam, sites: HoleSites) -> tuple[Finding, ...]:
    """Errors where a stitch that goes round the edge has no edge beside it, or not two pieces."""
    settings = seam.stitching
    traits, stitch = settings.traits, settings.stitch.value
    if not traits.round_the_edge:
        return ()
    where = seam.source.at("stitch")
    if traits.edge_to_edge and len(seam.layers) != 2:
        return (finding("stitch-of-two", where, stitch=stitch, layers=len(seam.layers)),)
    far, most = max((*sites.front_edge, *sites.back_edge)), MOST_INSETS * settings.inset
    return (finding("stitch-off-edge", where, stitch=stitch, far=far, most=most),) if far > most else ()


def _too_many_back(seam: PunchedSeam) -> tuple[Finding, ...]:
    """A note for each end that asks for more back stitches than the seam has; none of a seam that a part
    drafts and locks, a short one as far as it goes: there is nothing in the file to say otherwise of it."""
    settings, most = seam.stitching, most_back(seam.count)
    if seam.pattern.seam.part is not None:
        return ()
    return tuple(
        finding("back-stitches-end", seam.source.at(key), wanted=wanted, holes=seam.count, most=most)
        for key, wanted in (("back", settings.back), ("start_back", settings.start_back))
        if wanted > most
    )


def without_thread(sewn: Iterable[SewnSeam]) -> tuple[Finding, ...]:
    """The error where tails and overlap leave nothing of the longest thread allowed: once for all seams that
    one line of the file is about, at the one that needs most."""
    lacking = (each for each in sewn if not each.plan.threads)
    by_line = grouped(lacking, by=lambda each: each.plan.punched.source.at("longest").line)
    worst = (max(some, key=lambda each: least_side(each.path)) for some in by_line.values())
    return tuple(_no_thread(each.plan.punched, each.path) for each in worst)


def _no_thread(seam: PunchedSeam, path: ThreadPath) -> Finding:
    """The error where tails and overlap leave nothing of the longest thread allowed."""
    settings = seam.stitching
    return finding(
        "longest-thread-too-short",
        seam.source.at("longest"),
        longest=settings.longest_side,
        least=ceil(least_side(path)),
        tail=settings.tail,
    ).at_holes(seam.name)
