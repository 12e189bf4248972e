"""What the punching refuses or remarks, each with its exact text."""

from __future__ import annotations

from collections.abc import Callable
from math import pi
from typing import Any

import pytest

from handkit.draft.pattern import Pattern
from handkit.errors import ProjectError
from handkit.findings import Finding
from handkit.geometry.affine import Affine
from handkit.geometry.path import Path, polyline
from handkit.geometry.segment import Segment
from handkit.kinds.materials import Material
from handkit.kinds.openings import OpeningKind
from handkit.punch.checks.threading import slit_least
from handkit.punch.puncher import punch
from handkit.read.project import Punching, RoundHole, SlitHole, Spacing

Make = Callable[[Any], Pattern]


def told(pattern: Pattern) -> tuple[Finding, ...]:
    """The findings of a punching, whether it went through or not."""
    try:
        return punch(pattern).findings
    except ProjectError as error:
        return error.findings


def row(y: float, *, start: float = 10.0, end: float = 50.0) -> Path:
    return polyline([(start, y), (end, y)])


def one(bench: Any, *ways: Path, **settings: Any) -> Pattern:
    """A piece of 90 × 60 with a seam for each way."""
    seams = [
        bench.seam(f"s{k}", bench.run("p", way, text=f"line {k}"), **settings)
        for k, way in enumerate(ways, start=1)
    ]
    return bench.pattern([bench.piece("p", bench.rectangle(90, 60))], seams)


def stacked(bench: Any, *, shift: float = 0.0, backwards: bool = False, **settings: Any) -> Pattern:
    """A pocket lying flat on a back, both with a run of their own."""
    pieces = [
        bench.piece("back", bench.rectangle(200, 200)),
        bench.piece(
            "pocket", bench.rectangle(90, 60), on="back", root="back", placed=Affine.shift(20, 30), level=1
        ),
    ]
    way = row(34, start=30 + shift, end=70 + shift)
    seam = bench.seam(
        "foot",
        bench.run("pocket", row(4)),
        bench.run("back", way.reversed() if backwards else way, text="foot"),
        **settings,
    )
    return bench.pattern(pieces, [seam])


def between(bench: Any) -> Pattern:
    """A welt between a pocket and its back that the seam does not name."""
    pattern = stacked(bench)
    pieces = [
        pattern.pieces[0],
        bench.piece(
            "welt", bench.rectangle(12, 60), on="back", root="back", placed=Affine.shift(20, 30), level=1
        ),
        bench.piece(
            "pocket", bench.rectangle(90, 60), on="back", root="back", placed=Affine.shift(20, 30), level=2
        ),
    ]
    return bench.pattern(pieces, pattern.seams)


def carried_off(bench: Any) -> Pattern:
    """A base too small for what is carried onto it."""
    pieces = [
        bench.piece("base", bench.rectangle(8, 60)),
        bench.piece("top", bench.rectangle(90, 60), on="base", root="base", level=1),
    ]
    seam = bench.seam("s", bench.run("top", row(10)), bench.run("base", None, carried_from=0))
    return bench.pattern(pieces, [seam])


def hairpin(bench: Any) -> Pattern:
    """Two legs half a millimetre from the line's own turn; an odd number of steps."""
    way = Path((Segment((10, 30), (59, 30)), Segment((59, 30), (59, 31), 1.0), Segment((59, 31), (10, 31))))
    return one(bench, way, pitch=4.0)


def riveted(bench: Any, welt: tuple[float, float], through: tuple[str, ...]) -> Pattern:
    """A rivet through a pocket and its back at [30, 40] of it, with a welt of 12 mm laid between them."""
    pieces = [
        bench.piece("back", bench.rectangle(200, 200)),
        bench.piece(
            "welt", bench.rectangle(12, 60), on="back", root="back", placed=Affine.shift(*welt), level=1
        ),
        bench.piece("pocket", bench.rectangle(90, 60), on="back", root="back", level=2),
    ]
    rivet = bench.opening("rivet", [(name, (30, 40)) for name in through], through=through)
    return bench.pattern(pieces, [], [rivet])


def rivets(bench: Any, *at: tuple[float, float], **changes: Any) -> Pattern:
    piece = bench.piece("p", bench.rectangle(90, 60))
    return bench.pattern(
        [piece],
        [bench.seam("s", bench.run("p", row(30)))],
        [bench.opening("rivets", [("p", a) for a in at], **changes)],
    )


def strap(bench: Any, *ways: Path, length: float = 950, tongue: bool = False) -> Pattern:
    piece = bench.piece("strap", bench.rectangle(length, 38), grain_degrees=0.0)
    seams = [bench.seam(f"keeper {k}", bench.run("strap", way)) for k, way in enumerate(ways, start=1)]
    kind = OpeningKind.TONGUE if tongue else OpeningKind.RIVET
    return bench.pattern([piece], seams, [bench.opening("holes", [("strap", (150, 19))], kind=kind)])


def tongues(bench: Any, count: int) -> Pattern:
    places = [("strap", (300 + 25 * k, 19)) for k in range(count)]
    opening = bench.opening("holes", places, kind=OpeningKind.TONGUE, cap=0.0)
    piece = bench.piece("strap", bench.rectangle(950, 38), grain_degrees=0.0)
    return bench.pattern([piece], [], [opening])


def plain_strap(bench: Any, *, length: float = 950, turn: float = 0, **changes: Any) -> Pattern:
    """A strap of 38 mm along x, or turned, without a hole."""
    outline = bench.rectangle(length, 38).moved(Affine.turn(turn))
    return bench.pattern([bench.piece("strap", outline, **changes)], [], [])


def twice(bench: Any) -> Pattern:
    piece = bench.piece("p", bench.rectangle(90, 60))
    seam = bench.seam("s", bench.run("p", row(30)), bench.run("p", row(30), text="C-D"))
    return bench.pattern([piece], [seam])


def bowed(bench: Any, *, base: float, **settings: Any) -> Pattern:
    """A front of 124 mm on a shorter line."""
    pieces = [bench.piece(name, bench.rectangle(200, 60)) for name in ("front", "back")]
    seam = bench.seam(
        "foot",
        bench.run("front", row(30, start=30, end=154)),
        bench.run("back", row(34, start=30, end=30 + base), text="foot"),
        bowed=True,
        **settings,
    )
    return bench.pattern(pieces, [seam])


def bowed_iron(bench: Any) -> Pattern:
    """124 mm on 112 mm: 31 steps, of which 26 of 4 leave 8 mm for five."""
    return bowed(bench, base=112.0, spacing=Spacing.IRON)


def bowed_through(bench: Any) -> Pattern:
    """124 mm on 120 mm, to be punched through both."""
    return bowed(bench, base=120.0, punch=Punching.THROUGH)


def under_bowed(bench: Any) -> Pattern:
    """A welt lying flat on the back, under the seam of a front that does not lie flat."""
    pieces = [
        bench.piece("back", bench.rectangle(200, 200)),
        bench.piece(
            "welt", bench.rectangle(90, 12), on="back", root="back", placed=Affine.shift(6, 28), level=1
        ),
        bench.piece("front", bench.rectangle(90, 60), on="back", flat=False, placed=None, level=2),
    ]
    runs = (bench.run("front", row(10)), bench.run("back", row(34), text="foot"))
    return bench.pattern(pieces, [bench.seam("foot", *runs, bowed=True)])


def thick(bench: Any) -> Pattern:
    """Two layers of 5 mm: half the stack is 5."""
    pieces = [
        bench.piece("base", bench.rectangle(90, 60), thickness=5.0),
        bench.piece("top", bench.rectangle(90, 60), thickness=5.0, on="base", root="base", level=1),
    ]
    seam = bench.seam("s", bench.run("top", row(4)), bench.run("base", None, carried_from=0))
    return bench.pattern(pieces, [seam])


CASES: dict[str, tuple[Make, list[str]]] = {
    "nothing to tell": (lambda b: one(b, row(30)), []),
    "hairpin": (
        hairpin,
        [
            'bag.toml:20: error: run "p: line 1": found a bend too tight for 25 equal steps between '
            '[10, 30] and [10, 31] of "p: line 1", 99.571 mm long; allowed: steps that all measure the '
            "same straight across; put a match point in the bend, or choose another pitch than 4 mm "
            "[no-equal-steps]"
        ],
    ),
    "iron too far off": (
        bowed_iron,
        [
            'bag.toml:20: error: run "back: foot": found last five steps of 1.6 mm towards [142, 34] of '
            '"back: foot"; allowed: 2 mm to 6 mm at a pitch of 4 mm; make the lines more alike, or say '
            'spacing = "even" [iron-remainder]',
            'bag.toml:30: note: seam "foot": bowed: found 10.7 % of ease, meant: 124 mm along '
            '"front: A-B" (pitch 4 mm) on 112 mm along "back: foot" (pitch 3.613 mm) [ease-meant]',
        ],
    ),
    "carried beside": (
        carried_off,
        [
            'bag.toml:20: error: run "base": found no hole of seam "s" on "base"; allowed: a layer that the '
            "run passes through; move the piece, or take it out of the seam [layer-missed]",
        ],
    ),
    "stated outside": (
        lambda b: one(b, row(30, start=86, end=94)),
        [
            'bag.toml:20: error: run "p: line 1": found hole 3 of seam "s1" outside the outline of "p"; '
            "allowed: holes inside the piece; shorten the run with from_start and from_end, or move its "
            "line [hole-outside]",
            'bag.toml:20: error: run "p: line 1": found hole 2 of seam "s1" 0 mm from the edge of "p"; '
            "allowed: at least 3.2 mm, two hole widths; make the inset larger, shorten the run, or make "
            "the holes smaller [hole-at-edge]",
        ],
    ),
    "hole to edge, weak": (
        lambda b: one(b, row(2.9), hole=RoundHole(1.2), thread=0.6),
        [
            'bag.toml:20: note: run "p: line 1": found hole 1 of seam "s1" 2.9 mm from the edge of "p"; '
            "and 10 more; allowed: better 3 mm, the larger of 3 mm and half the stack [hole-near-edge]"
        ],
    ),
    "hole to edge, a thick stack": (
        thick,
        [
            f'bag.toml:20: note: run "{name}": found hole 1 of seam "s" 4 mm from the edge of '
            f'"{name.split(":", maxsplit=1)[0]}"; and 10 more; allowed: better 5 mm, the larger of 3 mm and '
            "half the stack [hole-near-edge]"
            for name in ("base", "top: A-B")
        ],
    ),
    "holes too close in a row": (
        lambda b: one(b, row(30), pitch=3.0),
        [
            'bag.toml:30: error: seam "s1": found a pitch of 3 mm for holes of 1.6 mm; '
            "allowed: at least 3.2 mm: two holes wide, with 1 mm of leather between; "
            "make the pitch larger, or the holes smaller [pitch-too-small]"
        ],
    ),
    "corners too close": (
        lambda b: one(b, polyline([(10, 30), (40, 30), (40, 32), (80, 32)])),
        [
            'bag.toml:20: error: run "p: line 1": found hole 9 of seam "s1" and hole 10 of seam "s1" 2 mm '
            'apart on "p"; allowed: centres at least 3.2 mm apart and 1 mm of leather between; move the '
            "corners or match points apart, or make the holes smaller [holes-too-close]"
        ],
    ),
    "a line that comes back to itself": (
        lambda b: one(b, polyline([(10, 30), (50, 30), (50, 40), (10, 33)])),
        [
            'bag.toml:20: error: run "p: line 1": found hole 1 of seam "s1" and hole 24 of seam "s1" 3 mm '
            'apart on "p"; allowed: centres at least 3.2 mm apart and 1 mm of leather between; move the '
            "parts of the line apart where it comes back to itself [holes-too-close]"
        ],
    ),
    "two rows too close": (
        lambda b: one(b, row(30), row(32)),
        [
            'bag.toml:20: error: run "p: line 2": found hole 1 of seam "s1" and hole 1 of seam "s2" 2 mm '
            'apart on "p"; and 10 more; allowed: centres at least 3.2 mm apart and 1 mm of leather '
            "between; let them share one hole, or move one of the lines [holes-too-close]"
        ],
    ),
    "a piece listed twice on one line": (
        twice,
        [
            'bag.toml:20: error: run "p: C-D": found hole 1 of seam "s" and hole 1 of seam "s" 0 mm apart '
            'on "p"; and 10 more; allowed: centres at least 3.2 mm apart and 1 mm of leather between; '
            "name the piece once, or give its second layer a line of its own [holes-too-close]"
        ],
    ),
    "slits in line tear": (
        # Slits of 2.5 along the line at a pitch of 4: 1.5 mm left between, but 5 wanted (by hand).
        lambda b: one(b, row(30), hole=SlitHole(2.5, 0.0)),
        [
            'bag.toml:30: error: seam "s1": found a pitch of 4 mm for slits of 2.5 mm; '
            "allowed: at least 5 mm: two holes wide, with 1 mm of leather between; "
            "make the pitch larger, or the slits shorter [pitch-too-small]"
        ],
    ),
    "slits across the line do not": (lambda b: one(b, row(30), hole=SlitHole(2.5, 90.0)), []),
    "slits at 45 degrees do not": (lambda b: one(b, row(30), hole=SlitHole(2.5, 45.0)), []),
    "thread too thick": (
        lambda b: one(b, row(30), hole=RoundHole(1.0)),
        [
            'bag.toml:30: error: seam "s1": hole: found holes of 1 mm for thread of 0.8 mm in seam "s1"; '
            "allowed: at least 1.128 mm; use thinner thread or larger holes [hole-too-small]"
        ],
    ),
    "seams sewn alike are told once": (
        lambda b: one(b, row(20), row(40), hole=RoundHole(1.0)),
        [
            'bag.toml:30: error: seam "s1": hole: found holes of 1 mm for thread of 0.8 mm in seam "s1"; '
            "and 1 more; allowed: at least 1.128 mm; use thinner thread or larger holes [hole-too-small]"
        ],
    ),
    "hole loose": (
        lambda b: one(b, row(30), hole=RoundHole(1.6), thread=0.6),
        [
            'bag.toml:30: note: seam "s1": hole: found holes of 1.6 mm for thread of 0.6 mm in seam "s1"; '
            "allowed: better 1.2 mm, at most 1.5 mm; a punched hole does not close: use thicker thread or "
            "smaller holes [hole-loose]"
        ],
    ),
    "slit too short": (
        lambda b: one(b, row(30), hole=SlitHole(2.0, 45.0)),
        [
            'bag.toml:30: error: seam "s1": hole: found slits of 2 mm for thread of 0.8 mm in seam "s1"; '
            "allowed: at least 2.057 mm; use thinner thread or a wider blade [slit-too-short]"
        ],
    ),
    "needle wide": (
        lambda b: one(b, row(30), needle=1.8),
        [
            'bag.toml:30: note: seam "s1": needle: found needle of 1.8 mm for holes that open to 1.6 mm in '
            'seam "s1"; allowed: a needle no wider than the hole; use a finer needle, or have pliers ready '
            "[needle-wide]"
        ],
    ),
    "flat layers that miss": (
        lambda b: stacked(b, shift=0.25),
        [
            'bag.toml:20: error: run "back: foot": found hole 1 of "back: foot" 0.25 mm from hole 1 of '
            '"pocket: A-B" once laid in place; allowed: at most 0.01 mm where pieces lie flat; name only '
            'the piece, "back", and it takes the holes; or move it [layers-do-not-meet]'
        ],
    ),
    "flat layers the other way round": (
        lambda b: stacked(b, backwards=True),
        [
            'bag.toml:20: error: run "back: foot": found hole 1 of "back: foot" 40 mm from hole 1 of '
            '"pocket: A-B" once laid in place; allowed: at most 0.01 mm where pieces lie flat; list the '
            "points of that line the other way round [layers-do-not-meet]"
        ],
    ),
    "flat layers that meet": (lambda b: stacked(b, shift=0.005), []),
    "a piece between": (
        between,
        [
            'bag.toml:30: error: seam "foot": runs: found hole 1 of seam "foot" through "welt", which lies '
            'between its layers; allowed: only pieces that are named; name "welt" as a '
            "layer, or move it out of the way [piece-pierced]"
        ],
    ),
    "a piece between that lies flat under a bowed front": (
        under_bowed,
        [
            'bag.toml:30: error: seam "foot": runs: found hole 1 of seam "foot" through "welt", which lies '
            'between its layers; and 10 more; allowed: only pieces that are named; name "welt" '
            "as a layer, or move it out of the way [piece-pierced]",
            'bag.toml:30: note: seam "foot": bowed: found 0.0 % of ease, meant: 40 mm along "front: A-B" '
            '(pitch 4 mm) on 40 mm along "back: foot" (pitch 4 mm) [ease-meant]',
        ],
    ),
    "bowed layers punched through": (
        bowed_through,
        [
            'bag.toml:30: warning: seam "foot": punch: found layers of seam "foot" to be punched through '
            "with 3.3 % of ease; allowed: up to 1.0 %: layers punched through lie flat on one another; say "
            'punch = "apart" [through-unlike]',
            'bag.toml:30: note: seam "foot": bowed: found 3.3 % of ease, meant: 124 mm along "front: A-B" '
            '(pitch 4 mm) on 120 mm along "back: foot" (pitch 3.871 mm) [ease-meant]',
        ],
    ),
    "straight across a strap": (
        lambda b: strap(b, polyline([(40, 4), (40, 34)])),
        [
            'bag.toml:20: warning: run "strap: A-B": found seam "keeper 1" straight across the width of '
            '"strap"; allowed: seams that run along a strap, or stop well short of its sides; under pull it '
            "tears there: sew a U or a box with its point to the pull, or use a rivet [seam-across-strap]"
        ],
    ),
    "twice across a strap": (
        lambda b: strap(b, polyline([(40, 4), (40, 34)]), polyline([(60, 34), (60, 4)])),
        [
            'bag.toml:20: warning: run "strap: A-B": found seam "keeper 1" straight across the width of '
            '"strap"; and 1 more; allowed: seams that run along a strap, or stop well short of its sides; '
            "under pull it tears there: sew a U or a box with its point to the pull, or use a rivet "
            "[seam-across-strap]"
        ],
    ),
    "across a shorter piece": (lambda b: strap(b, polyline([(40, 4), (40, 34)]), length=370), []),
    "across a shorter strap with tongue holes": (
        lambda b: strap(b, polyline([(40, 4), (40, 34)]), length=370, tongue=True),
        [
            'bag.toml:20: warning: run "strap: A-B": found seam "keeper 1" straight across the width of '
            '"strap"; allowed: seams that run along a strap, or stop well short of its sides; under pull it '
            "tears there: sew a U or a box with its point to the pull, or use a rivet [seam-across-strap]"
        ],
    ),
    "an even number of tongue holes": (
        lambda b: tongues(b, 6),
        [
            'bag.toml:40: note: opening "holes": at: found 6 tongue holes of opening "holes"; allowed: '
            "better an odd number: the middle one fits, and leaves as many to either side; add one, or "
            "leave one out [tongue-holes-even]"
        ],
    ),
    "an odd number of tongue holes": (lambda b: tongues(b, 7), []),
    # Its length against its grain, 90 degrees unless told; ten times as long as wide is a strap (38 and
    # 380), with tongue holes three times (common practice).
    "a strap cut across the grain": (
        plain_strap,
        [
            'bag.toml:10: warning: piece "strap": grain: found "strap" cut with its grain across its '
            "length; allowed: a strap along the grain, where it stretches least; say grain = 0 "
            "[grain-across-strap]"
        ],
    ),
    "a leaning strap cut across the grain": (
        lambda b: plain_strap(b, turn=30),
        [
            'bag.toml:10: warning: piece "strap": grain: found "strap" cut with its grain across its '
            "length; allowed: a strap along the grain, where it stretches least; say grain = 30 "
            "[grain-across-strap]"
        ],
    ),
    "a strap half along the grain": (lambda b: plain_strap(b, grain_degrees=45.0), []),
    "a strap against the grain's arrow": (lambda b: plain_strap(b, grain_degrees=180.0), []),
    "a strip shorter than a strap": (lambda b: plain_strap(b, length=379), []),
    "a strap of felt": (lambda b: plain_strap(b, material=Material.FELT), []),
    "along a strap": (lambda b: strap(b, polyline([(40, 19), (90, 19)])), []),
    "a U on a strap": (lambda b: strap(b, polyline([(40, 4), (90, 4), (90, 34), (40, 34)])), []),
    "a leaning seam on a strap": (lambda b: strap(b, polyline([(40, 4), (60, 34)])), []),
    # Rivet of 3 under a cap of 9: to the edge max(2·3, 9/2 + 2) = 6.5 (d: metal-work manuals; c:
    # common practice), apart max(3·3, 9 + 2) = 11, from a stitch hole 9/2 + 2 = 6.5.
    # A slit of 2.5 at 45° is 1.77 wide towards either edge, twice that is 3.54 (by hand); at a corner
    # it stands as the leg that arrives there has it, so that the inset of 4 is enough.
    "slits round a corner at the usual inset": (
        lambda b: one(b, polyline([(4, 56), (4, 4), (86, 4), (86, 56)]), hole=SlitHole(2.5, 45.0)),
        [],
    ),
    # As wide as it is long times cos 45°: 1.768; at least that from the edge it is a warning (by hand).
    "the last slit a little near an edge": (
        lambda b: one(b, row(30, end=88), hole=SlitHole(2.5, 45.0)),
        [
            'bag.toml:20: warning: run "p: line 1": found hole 21 of seam "s1" 2 mm from the edge of "p"; '
            "allowed: at least 3.536 mm, two hole widths; leave more of the run's end, make the inset "
            "larger, or turn the slant [slit-near-edge]"
        ],
    ),
    "the first slit a little near an edge": (
        lambda b: one(b, row(30, start=1.8), hole=SlitHole(2.5, 45.0)),
        [
            'bag.toml:20: warning: run "p: line 1": found hole 1 of seam "s1" 1.8 mm from the edge of "p"; '
            "allowed: at least 3.536 mm, two hole widths; leave more of the run's end, make the inset "
            "larger, or turn the slant [slit-near-edge]"
        ],
    ),
    "the last slit at the edge": (
        lambda b: one(b, row(30, end=88.3), hole=SlitHole(2.5, 45.0)),
        [
            'bag.toml:20: error: run "p: line 1": found hole 21 of seam "s1" 1.7 mm from the edge of "p"; '
            "allowed: at least 3.536 mm, two hole widths; make the inset larger, shorten the run, or make "
            "the holes smaller [hole-at-edge]"
        ],
    ),
    "slits within a row near an edge": (
        lambda b: one(
            b, polyline([(10, 30), (30, 30), (30, 58), (50, 58), (50, 38)]), hole=SlitHole(2.5, 45.0)
        ),
        [
            'bag.toml:20: error: run "p: line 1": found hole 13 of seam "s1" 2 mm from the edge of "p"; '
            "and 5 more; allowed: at least 3.536 mm, two hole widths; make the inset larger, shorten the "
            "run, or make the holes smaller [hole-at-edge]"
        ],
    ),
    "rivet with just enough room": (lambda b: rivets(b, (6.5, 6.5), (17.5, 6.5), (30, 23.5)), []),
    "rivet at the edge": (
        lambda b: rivets(b, (6.4, 10), (20, 5)),
        [
            'bag.toml:40: warning: opening "rivets": at: found number 2 of opening "rivets" 5 mm from the '
            'edge on "p"; and 1 more; allowed: at least 6.5 mm; move it [opening-at-edge]'
        ],
    ),
    "rivet through the edge": (
        lambda b: rivets(b, (2, 10)),
        [
            'bag.toml:40: error: opening "rivets": at: found opening "rivets" 2 mm from the edge on "p"; '
            "allowed: at least 6.5 mm; move it [opening-at-edge]"
        ],
    ),
    "rivet outside": (
        lambda b: rivets(b, (95, 10)),
        [
            'bag.toml:40: error: opening "rivets": at: found opening "rivets" outside the outline of "p"; '
            "allowed: openings inside the piece; move it, or leave the piece out of through "
            "[opening-outside]"
        ],
    ),
    "slot over a notch": (
        lambda b: b.pattern(
            [
                b.piece(
                    "p",
                    polyline([(0, 0), (90, 0), (90, 60), (60, 60), (50, 10), (40, 60), (0, 60)], closed=True),
                )
            ],
            [],
            [b.opening("slot", [("p", (35, 30))], kind=OpeningKind.SLOT, diameter=3, length=66, cap=0)],
        ),
        [
            'bag.toml:40: error: opening "slot": at: found opening "slot" outside the outline of "p"; '
            "allowed: openings inside the piece; move it, or leave the piece out of through "
            "[opening-outside]"
        ],
    ),
    # Its rim reaches 1.5 mm from its middle: a welt that begins at 31.4 is touched, one at 31.6 is not.
    "rivet through what lies between": (
        lambda b: riveted(b, (31.4, 0), ("pocket", "back")),
        [
            'bag.toml:40: error: opening "rivet": through: found opening "rivet" through "welt", which lies '
            'between its layers; allowed: only pieces that are named; name "welt" in through, or move it '
            "out of the way [piece-pierced]"
        ],
    ),
    "rivet beside what lies between": (lambda b: riveted(b, (31.6, 0), ("pocket", "back")), []),
    "rivet through one layer": (lambda b: riveted(b, (31.4, 0), ("pocket",)), []),
    "rivets too close": (
        lambda b: rivets(b, (20, 10), (30, 10)),
        [
            'bag.toml:40: warning: opening "rivets": at: found number 2 of opening "rivets" 10 mm from '
            'number 1 of opening "rivets" on "p"; allowed: at least 11 mm, centre to centre; move it '
            "[openings-too-close]"
        ],
    ),
    "rivets in one place": (
        lambda b: rivets(b, (20, 10), (20, 10)),
        [
            'bag.toml:40: error: opening "rivets": at: found number 2 of opening "rivets" at the same place '
            'as number 1 of opening "rivets" on "p"; allowed: at least 11 mm, centre to centre; move it '
            "[openings-too-close]"
        ],
    ),
    "rivet beside stitches": (
        lambda b: rivets(b, (30, 24)),
        [
            'bag.toml:40: warning: opening "rivets": at: found opening "rivets" 6 mm from hole 6 of seam "s" '
            'on "p"; allowed: at least 6.5 mm, centre to centre; move it [opening-near-stitches]'
        ],
    ),
    "rivet in the stitches": (
        lambda b: rivets(b, (30, 27)),
        [
            'bag.toml:40: error: opening "rivets": at: found opening "rivets" 3 mm from hole 6 of seam "s" '
            'on "p"; allowed: at least 6.5 mm, centre to centre; move it [opening-near-stitches]',
        ],
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_what_is_said(bench: Any, case: str) -> None:
    make, texts = CASES[case]
    assert [str(finding) for finding in told(make(bench))] == texts


def test_all_faults_are_told_in_one_go(bench: Any) -> None:
    pattern = one(bench, row(2), row(30), row(31), hole=RoundHole(1.0))
    with pytest.raises(ProjectError) as caught:
        punch(pattern)
    assert {finding.code for finding in caught.value.findings} == {
        "hole-too-small",
        "hole-near-edge",
        "holes-too-close",
    }


@pytest.mark.parametrize(("thread", "least"), [(0.8, 2.06), (0.6, 1.54), (1.0, 2.57)])
def test_least_slit(thread: float, least: float) -> None:
    # (π + 2)·d/2, worked out by hand: 2.06 at 0.8.
    assert round(slit_least(thread), 2) == least
    assert slit_least(thread) == (pi + 2) * thread / 2


# Room by kind: to the edge, to its like, to a stitch hole: just kept, and 0.1 mm less.
ROOMS = [
    (OpeningKind.RIVET, 4.0, 0.0, (8, 12, 4)),  # 2 d and 3 d, metal-work manuals: d = 4: 8 and 12
    (OpeningKind.RIVET, 3.0, 9.0, (6.5, 11, 6.5)),  # c/2 + 2, c + 2: common practice
    (OpeningKind.SNAP, 4.0, 12.7, (8.35, 14.7, 8.35)),  # line 20 is 12.7 mm
    (OpeningKind.EYELET, 5.0, 9.0, (6.5, 11, 6.5)),
    (OpeningKind.TONGUE, 5.0, 0.0, (7.5, 15, 4.5)),
    (OpeningKind.SLOT, 4.0, 0.0, (5, 7, 4)),
]


@pytest.mark.parametrize("case", ROOMS)
@pytest.mark.parametrize("less", [0.0, 0.1])
def test_room_by_kind(
    bench: Any, case: tuple[OpeningKind, float, float, tuple[float, float, float]], less: float
) -> None:
    kind, d, c, room = case
    edge, apart, stitch = (value - less for value in room)
    size = {"kind": kind, "diameter": d, "length": d, "cap": c}
    piece = bench.piece("p", bench.rectangle(90, 90))
    seams = [bench.seam("s", bench.run("p", row(60)))]
    openings = [
        bench.opening("edge", [("p", (edge, 20.0))], **size),
        bench.opening("pair", [("p", (30.0, 20.0)), ("p", (30.0 + apart, 20.0))], **size),
        bench.opening("stitch", [("p", (30.0, 60.0 - stitch))], **size),
    ]
    findings = told(bench.pattern([piece], seams, openings))
    codes = [finding.code for finding in findings if finding.code != "tongue-holes-even"]
    wanted = ["opening-at-edge", "openings-too-close", "opening-near-stitches"] if less else []
    assert codes == wanted


def test_a_slot_is_measured_from_its_sides(bench: Any) -> None:
    # 40 × 4 upright, 20 from the left edge: its upper end is 2 mm under the top of the piece.
    piece = bench.piece("p", bench.rectangle(90, 60))
    size = {"kind": OpeningKind.SLOT, "diameter": 4.0, "length": 40.0, "cap": 0.0, "turn_degrees": 90.0}
    slot = bench.opening("slot", [("p", (20.0, 38.0))], **size)
    assert [str(finding) for finding in told(bench.pattern([piece], [], [slot]))] == [
        'bag.toml:40: warning: opening "slot": at: found opening "slot" 4 mm from the edge on "p"; '
        "allowed: at least 5 mm; move it [opening-at-edge]"
    ]


def test_a_slot_beside_a_notch_is_measured_along_its_whole_length(bench: Any) -> None:
    # A notch comes down to 3 mm over the middle of a slot that lies flat.
    notched = polyline([(0, 0), (90, 0), (90, 60), (48, 60), (45, 33), (42, 60), (0, 60)], closed=True)
    size = {"kind": OpeningKind.SLOT, "diameter": 4.0, "length": 40.0, "cap": 0.0}
    slot = bench.opening("slot", [("p", (45.0, 30.0))], **size)
    found = told(bench.pattern([bench.piece("p", notched)], [], [slot]))
    assert ['opening "slot" 3 mm from the edge' in str(finding) for finding in found] == [True]


def test_more_holes_than_a_project_has_are_refused_before_they_are_placed(bench: Any) -> None:
    """Twelve seams of 10 001 holes: the tenth is one hole too many for 100 000."""
    way = polyline([(10, 30), (40_010, 30)])
    pieces = [bench.piece("p", bench.rectangle(40_020, 60))]
    pattern = bench.pattern(pieces, [bench.seam(f"s{k}", bench.run("p", way)) for k in range(1, 13)])
    assert [str(finding) for finding in told(pattern)] == [
        'bag.toml:30: error: seam "s10": runs: found 100010 holes on all layers up to here; '
        "allowed: at most 100000 in one project; make the pitch larger, or split the project [too-many-holes]"
    ]


def test_a_heap_of_lines_on_one_another_is_told_by_the_first_of_them(bench: Any) -> None:
    pattern = one(bench, *(row(20 + k / 50) for k in range(60)))
    assert [finding.code for finding in told(pattern)] == ["holes-too-close"] * 51
