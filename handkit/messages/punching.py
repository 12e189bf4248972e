"""Messages of step 3, punch: one row a code, in the order of the alphabet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.messages.message import Message, error, note, warning

# Of a row's several ways, what all of them have.
_FIGURES = (
    "{long:mm 3} along {long_run} (pitch {long_pitch:mm 3}) on "
    "{short:mm 3} along {short_run} (pitch {short_pitch:mm 3})"
)
_EASE = (
    f"{_FIGURES}, {{over:mm}} or {{ease:percent}} of ease, from hole {{first}} to {{last}}{{count:more}}",
    "up to {silent:percent} ({silent_mm:mm}), with care up to {warned:percent} ({warned_mm:mm})",
)
_IRON_ALLOWED = "{shortest:mm 3} to {longest:mm 3} at a pitch of {pitch:mm 3}"
_IRON_REMEDY = 'make the lines more alike, or say spacing = "even"'
_MISSED = (
    "hole {number} of {run} {apart:mm 3} from hole {number} of {other} once laid in place",
    "at most {most:mm 3} where pieces lie flat",
)
_LEAVES = (
    'hole {number} of {run} {apart:mm 3} from hole {number} of {other} once "{piece}" is folded',
    "at most {most:mm 3} where leaves lie on each other",
)
_NEAR_EDGE = '{hole} {apart:mm 3} from the edge of "{piece}"{count:more}'
_AT_MOUTH = ('{apart:mm 3} {side} the edge of "{piece}"{count:more}', "at least {least:mm 3} {side} it")
_PIERCED = (
    '{hole} through "{piece}", which lies between its layers{count:more}',
    "only pieces that are named",
)
_THREAD = 'thread of {thread:mm 3} in seam "{seam}"{count:more}'
_TOO_CLOSE = (
    '{first} and {second} {apart:mm 3} apart on "{piece}"{count:more}',
    "centres at least {least:mm 3} apart and {leather:mm 3} of leather between",
)

_PITCH = "at least {least:mm}: two holes wide, with {1:mm} of leather between"

# Of openings: how near they are, and to what.
_FROM = '{opening} {apart:mm 3} from {other} on "{piece}"{count:more}'
_SAME_PLACE = '{opening} at the same place as {other} on "{piece}"{count:more}'
_LEAST = "at least {least:mm 3}"
_CENTRES = "at least {least:mm 3}, centre to centre"

PUNCHING: Mapping[str, Message] = MappingProxyType(
    {
        "closed-seam-too-short": error(
            "{steps:counted step} round at a pitch of {pitch:mm 3}",
            "at least {least}",
            "make the pitch smaller or the seam longer",
        ),
        "corners-cross": error(
            "corners of {run} that lie in another order than those they would meet",
            "corners in the same order on all runs",
            'say which places meet: match = [["B", [30, 20]], …]',
        ),
        "ease-large": warning(*_EASE, "make the lines more alike, or try it on scrap first"),
        "ease-meant": note(f"{{ease:percent}} of ease, meant: {_FIGURES}"),
        "ease-noted": note(*_EASE),
        "ease-too-large/lies-on": error(
            *_EASE,
            'write {carried:quoted} without letters: it takes the holes of "{piece}", which lies on it; '
            "or make the lines more alike",
        ),
        "ease-too-large": error(*_EASE, "make the lines more alike, or say bowed = true where it is meant"),
        "edge-work-not-sewn": warning(
            "a {noun} on {edges} that no seam holds",
            "a seam along it, {least:mm} to {most:mm} inside the finished edge",
            'add a [[seam]] with runs = [{{ run = "{piece}: {edges}", inset = {inset:plain} }}]',
        ),
        "grain-across-strap": warning(
            '"{piece}" cut with its grain across its length',
            "a strap along the grain, where it stretches least",
            "say grain = {degrees:g}",
        ),
        "grain-across-strap/cloth": warning(
            '"{piece}" cut with its warp across its length',
            "a strap along the warp, where it stretches least",
            "say grain = {degrees:g}",
        ),
        "fold-round-bar": warning(
            'fold "{fold}" with an inside radius of {radius:mm} round a bar of {bar:mm}',
            "at least {least:mm}, half the bar",
            "write radius = {least:plain} in the fold",
        ),
        "hole-at-edge": error(
            _NEAR_EDGE,
            "at least {least:mm 3}, two hole widths",
            "make the inset larger, shorten the run, or make the holes smaller",
        ),
        "hole-at-mouth": warning(
            f"{{hole}} {_AT_MOUTH[0]}", _AT_MOUTH[1], "move the piece by {by:mm}, or choose another pitch"
        ),
        "hole-at-mouth/fixed": warning(
            f"{{hole}}, which a corner, an end or a match point fixes, {_AT_MOUTH[0]}",
            _AT_MOUTH[1],
            "move the piece by {by:mm}, so that its edge lies off that hole",
        ),
        "hole-at-mouth/iron": warning(
            f"{{hole}}, which an iron spaces, {_AT_MOUTH[0]}",
            _AT_MOUTH[1],
            'say spacing = "even", or move the piece by {by:mm}',
        ),
        "hole-in-bend": warning(
            '{hole} {off:mm} from fold "{fold}" of "{piece}", inside its bend{count:more}',
            "at least {half:mm} from the line, where the leather lies flat again",
            "move the run's end, or the fold",
        ),
        "hole-loose": note(
            f"holes of {{hole:mm 3}} for {_THREAD}",
            "better {better:mm 3}, at most {most:mm 3}",
            "a punched hole does not close: use thicker thread or smaller holes",
        ),
        "hole-near-edge": note(
            _NEAR_EDGE, "better {least:mm 3}, the larger of {weak:mm 3} and half the stack"
        ),
        "hole-outside": error(
            '{hole} outside the outline of "{piece}"{count:more}',
            "holes inside the piece",
            "shorten the run with from_start and from_end, or move its line",
        ),
        "hole-too-small": error(
            f"holes of {{hole:mm 3}} for {_THREAD}",
            "at least {least:mm 3}",
            "use thinner thread or larger holes",
        ),
        "holes-too-close/corners": error(
            *_TOO_CLOSE, "move the corners or match points apart, or make the holes smaller"
        ),
        "holes-too-close/layers": error(*_TOO_CLOSE, "move the two lines apart"),
        "holes-too-close/line": error(
            *_TOO_CLOSE, "move the parts of the line apart where it comes back to itself"
        ),
        "holes-too-close/part": error(
            'stitches of part "{part}" and of seam "{seam}" {apart:mm 3} apart on "{piece}"{count:more}',
            _TOO_CLOSE[1],
            "let them meet in one hole, or move the part or the seam by at least {by:mm}",
        ),
        "holes-too-close/parts": error(
            'stitches of part "{part}" and of part "{other}" {apart:mm 3} apart on "{piece}"{count:more}',
            _TOO_CLOSE[1],
            "move one of them by at least {by:mm}",
        ),
        "holes-too-close/pitch": error(*_TOO_CLOSE, "make the pitch larger or the holes smaller"),
        "holes-too-close/same-place": error(
            *_TOO_CLOSE, "name the piece once, or give its second layer a line of its own"
        ),
        "holes-too-close/seams": error(*_TOO_CLOSE, "let them share one hole, or move one of the lines"),
        "inset-too-small": error(
            'an inset of {inset:mm} for holes of {hole:mm}, on "{piece}"',
            "at least {least:mm}, two hole widths",
            "make the inset larger, or the holes smaller",
        ),
        "in-turn": warning(
            '{hole} {apart:mm} from fold "{fold}", where the strap goes round the {kind}{count:more}',
            "at least {least:mm} to either side",
            "end the rows farther from the fold",
        ),
        "iron-remainder": error(
            "last five steps of {step:mm 3} towards {end:point 3} of {run}", _IRON_ALLOWED, _IRON_REMEDY
        ),
        "iron-remainder/none": error(
            "no room for five equal last steps towards {end:point 3} of {run}", _IRON_ALLOWED, _IRON_REMEDY
        ),
        "keeper-fit/loose": note(
            'a keeper {closed:mm} round, of "{piece}"',
            "{need:mm} to {most:mm} round a strap of {width:mm} and a stack of {stack:mm}",
            "shorten it, or it holds nothing down",
        ),
        "keeper-fit/tight": warning(
            'a keeper {closed:mm} round, of "{piece}"',
            "at least {need:mm} round a strap of {width:mm} and a stack of {stack:mm}",
            'make "{piece}" {by:mm} longer between its rows, or say with leaves what passes it',
        ),
        "keeper-narrow/clear": warning(
            "a keeper {clear:mm} clear over a stack of {stack:mm}",
            "at least {stack:mm}",
            "take a higher one, or say with leaves what passes it",
        ),
        "keeper-narrow/inside": error(
            "a keeper {inside:mm} wide inside on a strap of {width:mm}",
            "at least {width:mm}",
            "take a wider one, or make the strap narrower",
        ),
        "keeper-open": warning(
            'a keeper of "{piece}", which no seam closes to a ring',
            "a seam with two runs of it",
            "add the seam: a row at each end",
        ),
        "keeper-place/bar": warning(
            'a keeper from {start:bare} to {end:mm} from fold "{fold}", on its bar',
            "at least {least:mm} from the fold",
            "put it further from the fold",
        ),
        "keeper-place/stitches": note(
            'a keeper from {start:bare} to {end:mm} from fold "{fold}", over {hole}{count:more}',
            "a place clear of stitches",
            "move it, or part the row there",
        ),
        "layers-do-not-meet": error(
            *_MISSED, 'name only the piece, "{piece}", and it takes the holes; or move it'
        ),
        "layers-do-not-meet/backwards-line": error(
            *_MISSED, "list the points of that line the other way round"
        ),
        "layers-do-not-meet/backwards": error(*_MISSED, "write {meant:quoted}, the other way round"),
        "layer-missed": error(
            'no hole of seam "{seam}" on "{piece}"',
            "a layer that the run passes through",
            "move the piece, or take it out of the seam",
        ),
        "leaves-do-not-meet": error(
            *_LEAVES, 'name only the piece, "{piece}", and it takes the holes; or move its line'
        ),
        "leaves-do-not-meet/backwards": error(*_LEAVES, "write the run's letters the other way round"),
        "magnet-place/edge": error(
            'a magnet at {at:point}, which is not whole on "{piece}"',
            "its middle at least {least:mm} from the edge",
            "move it inwards",
        ),
        "magnet-place/stitches": warning(
            "{hole} {apart:mm} from the middle of a magnet",
            "at least {least:mm}",
            "move it, or the stitches",
        ),
        "match-points-cross": error(
            "match point {number} lies between other fixed holes on one run than on another",
            "match points in the same order along every run",
            "move the point, begin a closed run at another letter, or write a run's letters the other way",
        ),
        "needle-wide": note(
            'needle of {needle:mm 3} for holes that open to {width:mm 3} in seam "{seam}"{count:more}',
            "a needle no wider than the hole",
            "use a finer needle, or have pliers ready",
        ),
        "no-equal-steps": error(
            "a bend too tight for {count:counted equal step} between {start:point 3} and "
            "{end:point 3} of {run}, {length:mm 3} long",
            "steps that all measure the same straight across",
            "put a match point in the bend, or choose another pitch than {pitch:mm 3}",
        ),
        "opening-at-edge": warning(_FROM, _LEAST, "move it"),
        "opening-at-edge/leather": error(_FROM, _LEAST, "move it"),
        "opening-at-edge/same-place": error(_SAME_PLACE, _LEAST, "move it"),
        "opening-at-mouth": warning(
            '{opening} {apart:mm 3} outside the edge of "{piece}"{count:more}',
            "at least {least:mm 3} outside it, or on it",
            "move it, or the piece",
        ),
        "opening-near-stitches": warning(_FROM, _CENTRES, "move it"),
        "opening-near-stitches/leather": error(_FROM, _CENTRES, "move it"),
        "opening-near-stitches/same-place": error(_SAME_PLACE, _CENTRES, "move it"),
        "opening-outside": error(
            '{opening} outside the outline of "{piece}"{count:more}',
            "openings inside the piece",
            "move it, or leave the piece out of through",
        ),
        "openings-too-close": warning(_FROM, _CENTRES, "move it"),
        "openings-too-close/leather": error(_FROM, _CENTRES, "move it"),
        "openings-too-close/same-place": error(_SAME_PLACE, _CENTRES, "move it"),
        "piece-pierced/opening": error(*_PIERCED, 'name "{piece}" in through, or move it out of the way'),
        "piece-pierced/parts": error(
            'part "{part}" over part "{other}", whose leather its stitches would go through{count:more}',
            "parts that lie beside one another, or one on the other",
            'move one of them, or say on = "{other}" in "{part}"',
        ),
        "piece-pierced/part-on": error(
            'part "{part}" over part "{other}", whose leather its stitches would go through{count:more}',
            "parts, one on the other, whose stitches go through what they sew alone",
            "move one of them, or sew it to another piece",
        ),
        "piece-pierced/seam": error(*_PIERCED, 'name "{piece}" as a layer, or move it out of the way'),
        "pitch-too-small": error(
            "a pitch of {pitch:mm} for holes of {hole:mm}",
            _PITCH,
            "make the pitch larger, or the holes smaller",
        ),
        "pitch-too-small/slit": error(
            "a pitch of {pitch:mm} for slits of {hole:mm}",
            _PITCH,
            "make the pitch larger, or the slits shorter",
        ),
        "pitch-too-small/thread": error(
            "a pitch of {pitch:mm} for thread of {thread:mm}, which takes holes of {hole:mm}",
            _PITCH,
            "make the pitch larger, or the thread thinner",
        ),
        "raw-edge/alike": warning(
            "{edges} of {material} that frays, with nothing but a cut, and the same of {others:quoted}",
            "an edge that is hemmed, turned or bound, or closed within a seam beside its allowance",
            "give each a hem, turned, binding or allowance",
        ),
        "raw-edge/bag": warning(
            "edges of {material} that fray, with nothing but a cut, on {pieces:quoted}",
            "a hem at the mouth, and an allowance elsewhere, of a bag that is then sewn inside out",
            "add {keys} to the part",
        ),
        "raw-edge": warning(
            "{edges} of {material} that frays, with nothing but a cut",
            "an edge that is hemmed, turned or bound, or closed within a seam beside its allowance",
            "give it a hem, turned, binding or allowance",
        ),
        "raw-opening": note(
            'a {noun} cut in "{piece}", {material} that frays',
            "",
            "whip its rim with close stitches, or lay a patch of leather under it",
        ),
        "seam-across-strap": warning(
            'seam "{seam}" straight across the width of "{piece}"{count:more}',
            "seams that run along a strap, or stop well short of its sides",
            "under pull it tears there: sew a U or a box with its point to the pull, or use a rivet",
        ),
        "slit-near-edge": warning(
            _NEAR_EDGE,
            "at least {least:mm 3}, two hole widths",
            "leave more of the run's end, make the inset larger, or turn the slant",
        ),
        "slit-too-short": error(
            f"slits of {{slit:mm 3}} for {_THREAD}",
            "at least {least:mm 3}",
            "use thinner thread or a wider blade",
        ),
        "strap-and-bar/askew": warning(
            'a strap {width:mm} wide at fold "{fold}" in a {kind} {inside:mm} inside, which slides and is '
            "pulled askew",
            "{least:mm} to {inside:mm}",
            "make the strap {least:mm} wide at least, or take a {kind} up to {most:mm} inside",
        ),
        "strap-and-bar/loose": note(
            'a strap {width:mm} wide at fold "{fold}" in a {kind} {inside:mm} inside',
            "{least:mm} to {inside:mm}",
            "take a narrower {kind}, or make the strap wider",
        ),
        "strap-and-bar/wide": error(
            'a strap {width:mm} wide at fold "{fold}" in a {kind} {inside:mm} inside',
            "up to {inside:mm}",
            "take a wider {kind}, or make the strap narrower there",
        ),
        "strap-does-not-reach/few": warning(
            'a strap that closes round {closes_least:mm} to {closes_most:mm} in "{holes}"',
            "{least:mm} to {most:mm}",
            "make {count} holes of them, over {short:mm} more towards the end and {long:mm} more towards the "
            "buckle",
        ),
        "strap-does-not-reach/long": warning(
            'a strap that closes round {closes_least:mm} to {closes_most:mm} in "{holes}"',
            "{least:mm} to {most:mm}",
            "move the holes {by:mm} towards the buckle, or shorten the strap before them",
        ),
        "strap-does-not-reach/short": warning(
            'a strap that closes round {closes_least:mm} to {closes_most:mm} in "{holes}"',
            "{least:mm} to {most:mm}",
            "move the holes {by:mm} away from the buckle, and lengthen the strap by as much",
        ),
        "through-unlike": warning(
            'layers of seam "{seam}" to be punched through with {ease:percent} of ease',
            "up to {silent:percent}: layers punched through lie flat on one another",
            'say punch = "apart"',
        ),
        "tongue-holes-even": note(
            '{count} tongue holes of opening "{opening}"',
            "better an odd number: the middle one fits, and leaves as many to either side",
            "add one, or leave one out",
        ),
        "tongue-slot/none": warning(
            'no slot for the tongue at fold "{fold}"',
            "a slot astride the fold, at least {least:mm} long",
            "add one at {at:point}",
        ),
        "tongue-slot/off": warning(
            'a slot for the tongue, "{opening}", {off:mm} off fold "{fold}"',
            "its middle on the fold, to {most:mm}",
            "move it to {at:point}",
        ),
        "tongue-slot/short": warning(
            'a slot for the tongue, "{opening}", that goes over {reach:mm} at fold "{fold}"',
            "at least {least:mm}, the strap's turn round the bar",
            "make it longer, across the fold",
        ),
        "too-many-holes/project": error(
            "{marks} holes on all layers up to here",
            "at most {most} in one project",
            "make the pitch larger, or split the project",
        ),
        "too-many-holes/run": error(
            "{steps} steps at a pitch of {pitch:mm 3}",
            "at most {most} on one run",
            "make the pitch larger",
        ),
        "zip-and-seam/inset": warning(
            'stitches {inset:mm} in from the edge, seam "{seam}", on a tape {tape:mm} wide',
            "up to {most:mm}, where the teeth stay {3:mm} free of the edge",
            "stitch nearer to the edge, or take a tape of {wanted:mm}",
        ),
        "zip-and-seam/long": warning(
            'a zip of {length:mm} in seam "{seam}"',
            "up to {most:mm}, the seam's length",
            "take a shorter one, or lengthen the seam",
        ),
    }
)
