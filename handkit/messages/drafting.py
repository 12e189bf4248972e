"""Messages of step 2, draft: one row a code, in the order of the alphabet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.messages.message import Message, error, note, warning

# Of an item that sits too tight or too loose: what is told, and the remedies that follow.
_FIT = ('{ease:mm} of ease in its {measure} in part "{part}"', "{least:mm} to {most:mm}")
_FIT_TOGETHER = ('{ease:mm} of ease beside {items:quoted} in part "{part}"', "{least:mm} to {most:mm}")
_FIT_WIDTH = "make the part's width {wanted:mm}, or leave it out"
_FIT_MOUTH = 'change the part\'s "mouth", or leave it out'
_FIT_KEY = "change the {key}"

_INSIDE = "a line inside the outline, its edge included"
_MOVE_LINE = "move the line, or the outline"
_MOVE_PART = "move the part, or make its base larger"

# Of a part that its base has no room for.
_PAST = '{wide:bare} × {high:mm}{items:held}, {past:and} of "{base}"'
_WITHIN = '{base_wide:bare} × {base_high:mm}, all of "{base}"'
_LARGER_BASE = 'make "{base}" at least {least_wide:bare} × {least_high:mm}{at:there}'

# Of items that reach past the edge of what their part lies on.
_ITEM_PAST = ('{items:quoted and} {past:and} of "{base}"', "items that lie on their base all over")

# Of a bowed pocket whose sides rise too steeply.
_STEEP = (
    "a pocket {height:mm} high, whose front bows out so steeply that its sides are {ease:percent} longer "
    'than their rows on "{base}", where stitches stand {apart:mm} apart',
    "stitches at least {least:mm} apart",
)

# Of a row's several ways, what all of them have.
_INSET = 'inset {inset:mm} on "{run}", where the stitch line would cross itself or leave the piece'
_LETTER = 'match point {letter}, which the stitch line of "{run}" does not reach'
_CORNER = "radius {radius:mm} at corner {corner}, more than its edges have room for"
_CORNERS = "radii of {radii:and} at corners {corners:and}, more than their edges have room for"
_EDGE = (
    "radii {radius:mm} at {corner} and {last_radius:mm} at {last}, "
    "more than the {length:mm} of edge {corner}-{last} have room for"
)
_TRIM = "a trim of {width:mm}, whose cut would cross itself"

DRAFTING: Mapping[str, Message] = MappingProxyType(
    {
        "arranged": note(
            "no places for {parts:quoted and}; they are laid on {wide:bare} × {high:mm}",
            "",
            "handkit arrange draws other ways to lay them, and writes the places of one into a file",
        ),
        "arranged/leaves": note(
            'no places for {parts:quoted and}; they are laid on "{base}", which keeps its size',
            "",
            "handkit arrange --take 1 writes their places into a file",
        ),
        "arranged-edge/seams": error(
            'a part sewn in with {seams:quoted and} along the edge of "{base}", which is arranged',
            "parts with rows of their own, where a base is arranged",
            'write the rectangle of "{base}" as [width, height], or leave out seams',
        ),
        "arranged-edge/slung": error(
            'a strip over the edge of "{base}", which is arranged',
            "parts that lie within their base, where that is arranged",
            'write the rectangle of "{base}" as [width, height]',
        ),
        "arranged-empty": error(
            "arranged, where no part lies on it",
            "[width, height], or parts on it",
            'write its rectangle as [width, height], or on = "{base}" in a part',
        ),
        "arranged-empty/drafted": error(
            "arranged, where no part lies on it",
            "parts on it, or no rectangle: its own part says how large it is",
            'take out rectangle, or write on = "{base}" in a part',
        ),
        "arranged-without-room": error(
            '{wide:bare} × {high:mm} with its margins, for which "{base}" has no room beside what lies there',
            "{leaves:or}, within its seams and bends",
            'in part "{cover}" make {measures:and}; or write at in this part',
        ),
        "arranged-without-room/none": error(
            '{wide:bare} × {high:mm} with its margins, for which "{base}" has no room beside what lies there',
            "{leaves:or}, within its seams and bends",
            'make part "{cover}" larger, lay this part on another piece, or write at in it',
        ),
        "arranged-inside": error(
            'a part on "{base}" inside, where what goes in the sleeves lies against its thread',
            'parts on {others:quoted or}, and on "{cover}" with behind = true, outside',
            'write on = "{others[0]}", or on = "{cover}" and behind = true',
        ),
        "arranged-inside/bag": error(
            'a part on "{base}" inside, over which what it carries is put in',
            'parts on it outside, and inside on "{others[0]}"',
            'leave out behind, or write on = "{others[0]}" without it',
        ),
        "arranged-inside/turn-ins": error(
            'a part on "{base}" inside, where what goes in the turn-ins lies against its thread',
            "parts with behind = true, outside",
            'write behind = true; or in part "{cover}" ends = "open"',
        ),
        "beside-without-seams": error(
            "a row of its own at the {side}",
            "a row of its own beside the seams that it is sewn in with",
            "name these in seams, or leave it out: both sides have their row",
        ),
        "bag-turned-through": warning(
            "an allowance of {allowance:mm} on {material} {thickness:mm} thick, turned through a mouth "
            "{mouth:mm} round",
            "a mouth at least {least:mm} round",
            "make the allowance smaller, the bag larger, or leave the allowance out",
        ),
        "bend-not-straight": error(
            'fold "{fold}", with an angle, along a line that bends',
            "a straight line from edge to edge",
            "straighten it, or write the line alone, without an angle",
        ),
        "boards-too-thick": error(
            "boards of {board:mm}", "at most {most:mm}, half of what they cover", "make board smaller"
        ),
        "box-rounded-apart": error(
            "corners of the front with a radius of their own",
            "{radius:mm}, which gusset and base follow",
            'write "round" in the part',
        ),
        "bag-flap-fastening": error(
            "a flap that comes {down:mm} down",
            "{least:up} to {most:down}: the {what} clear of the flap's bend and of all edges",
            "change the flap",
        ),
        "bag-strap-alone": error(
            "a strap of a bag that has neither handles nor a flap with a strap",
            'strap beside drop, or beside closed_by = "strap"',
            "add drop = …, or leave strap out",
        ),
        "box-too-small": error(
            "a {measure} of {found:mm}",
            "at least {least:mm}",
            "make the {measure} larger",
        ),
        "box-too-small/round": error(
            "corners of {radius:mm} on a front {width:mm} wide",
            "at most {most:mm} here, or a width of at least {least:mm}",
            "make round smaller, or the width larger",
        ),
        "box-too-small/shows": error(
            "a {measure} of {found:mm}",
            "at least {least:mm}",
            "let less of the item show",
        ),
        "closed-and-open-runs": error(
            "{ring} going all round and {row} with two ends",
            "runs that all go round, or none, or an edge whose two ends another seam sews to each other",
            "repeat the first letter or point on each, or on none; or sew the strip's ends to a tube",
        ),
        "closed-and-open-runs/ends": error(
            '{key} of {row}, a row that goes on across the joint of seam "{joint}"',
            "no {key}: the joint says where its first and last hole stand",
            "take {key} out",
        ),
        "closed-and-open-runs/joints": error(
            "{butted} with butted ends and {lapped} with lapped ones",
            "rows that are all butted (box or cross stitch), or all lapped",
            "sew both joints in one way, or the rows in two seams",
        ),
        "closed-and-open-runs/twisted": error(
            'seam "{joint}", which begins at {row} on one end of the strip and ends there on the other',
            "a joint with both of its runs in the same sense, or the tube is twisted",
            "name the letters of one of its runs the other way round",
        ),
        "cover-too-round": error("a radius of {radius:mm}", "at most {most:mm}", "make the radius smaller"),
        "cover-too-small": error(
            "a {measure} of {found:mm}",
            "at least {least:mm}, for the stitches and what is held",
            "make it larger",
        ),
        "cover-without-size": error(
            "no item in it, and no {keys:and}",
            "an item, or width, height and depth",
            'add an [[item]] with in = "{part}", or write {keys:and}',
        ),
        "drafted-otherwise/arc": warning(
            'arc of a piece that part "{part}" drafts, which it does not heed',
            "straight edges, as the part has them",
            "take it out, or draw the piece yourself",
        ),
        "cut-crosses-itself": error(
            "a {noun} of {width:mm} on {edges}, cut {beyond:mm} outside, where the cut would cross itself",
            "cut at most {most:mm} outside",
            "make it narrower",
        ),
        "cut-crosses-itself/none": error(
            "a {noun} of {width:mm} on {edges}, cut {beyond:mm} outside, where the cut would cross itself",
            "no {noun} here",
            "take it out, or give the edge a binding",
        ),
        "edge-work-on-curve": error(
            "a {noun} of {width:mm} on {edges}, which bends with a radius of {radius:mm}",
            "a radius of at least {least:mm} for that width",
            "give the edge a binding, which goes round",
        ),
        "edge-work-on-curve/narrower": error(
            "a {noun} of {width:mm} on {edges}, which bends with a radius of {radius:mm}",
            "a radius of at least {least:mm} for that width",
            "make it narrower, or the radius larger",
        ),
        "edge-work-too-wide": error(
            "a {noun} of {width:mm} on {edges}, more than the back has room for",
            "at most {most:mm}",
            "make it narrower",
        ),
        "edge-work-too-wide/none": error(
            "a {noun} of {width:mm} on {edges}, more than the back has room for", "none here", "take it out"
        ),
        "edge-without-length": error(
            "corners {first} and {second} at the same point",
            "corners that lie apart",
            "move or leave out one of them",
        ),
        "flange-too-narrow": error(
            "flanges stitched {inset:mm} inside the fold",
            "at least {least:mm}, the gusset's thickness",
            "make the inset larger, or the gusset thinner or plain",
        ),
        "flap-beside": error(
            '"{piece}" {off:mm} too far to the {side} of the middle of "{base}" for the {what}',
            "a piece under the flap's middle, where the {what} stands clear of edges and rows",
            "move it as far to the {way}, or name another piece",
        ),
        "flap-closes-on-nothing": error(
            '"{piece}", which does not lie on the front of "{base}"',
            "what the flap folds over",
            "name another piece",
        ),
        "flap-closes-under": error(
            '"{piece}", over which "{over}" lies where the {what} would stand',
            "what lies uppermost there",
            'write to = "{over}"',
        ),
        "flap-continues/rivets": error(
            "rivets of a flap that continues its base", "rivets of one that is sewn on", "leave them out"
        ),
        "flap-continues/sides": error(
            'a flap that continues "{base}", whose sides do not go straight up to one upper edge',
            "two upright sides and an edge between their ends",
            "let it be sewn on: leave continues out",
        ),
        "flap-continues/width": error(
            "a width of {width:mm} of a flap that continues its base", "that of the base", "leave it out"
        ),
        "flap-lap-too-small": error("{lap:mm}", "at least {least:mm}, twice the inset", "make it larger"),
        "flap-lap-too-large": error(
            'a lap of {lap:mm}, whose row runs into other rows of "{base}" or past its edge',
            "at most {most:mm}",
            "make it smaller",
        ),
        "flap-lap-too-large/none": error(
            'a lap of {lap:mm}, whose row runs into other rows of "{base}" or past its edge',
            "a lap clear of them, of which there is none",
            'make "{base}" higher',
        ),
        "flap-no-room": error(
            '"{piece}", which has no place for the {what} clear of its edges and rows',
            "a piece with such a place",
            "make it larger, or the {what} smaller; or name another piece",
        ),
        "flap-on-part": error(
            'the base "{base}", which lies on another piece or is drafted by a part',
            "a piece of the file that lies on none",
            "hang the flap on that",
        ),
        "flap-stud-off": error(
            'a reach of {reach:mm} below the mouth of "{piece}"',
            "{least:up} to {most:down}: the {what} clear of its edges and rows, and of the flap's bend",
            "change reach",
        ),
        "flap-strap-wide": error(
            'a strap of {strap:mm}, which the flap\'s end, or its loop on "{piece}", has no room for',
            "at most {most:mm}",
            "make it narrower",
        ),
        "flap-too-long": error(
            "a flap that comes {flap:mm} down",
            "{least:bare} to {most:mm}, the front's height",
            "change the flap",
        ),
        "flap-too-narrow": error(
            "a flap {width:mm} wide", "at least {least:mm}: one stitch and its insets", "make it wider"
        ),
        "flap-too-narrow/closing": error(
            "a flap {width:mm} wide", "at least {least:mm}, as wide as what closes it", "make it wider"
        ),
        "flap-too-near": error(
            '"{piece}", whose {what} would stand in the flap\'s bend at the edge of "{base}"',
            "a {what} clear of the bend",
            'make "{base}" {by:mm} higher, or set "{piece}" as much lower',
        ),
        "flap-too-round": error("{radius:mm}", "at most {most:mm}, half of its width", "make it smaller"),
        "flap-too-round/short": error(
            "{radius:mm}", "at most {most:mm}, as far as the flap goes on beyond its bend", "make it smaller"
        ),
        "flap-too-round/strap": error(
            "{radius:mm}", "at most {most:mm}, the row of its strap inside it", "make it smaller"
        ),
        "flap-too-wide": error(
            "a flap {width:mm} wide",
            'at most {most:mm}, as far as the upper edge of "{base}" is straight',
            "make it narrower, or leave width out",
        ),
        "fold-not-across": error(
            'fold "{fold}", with an angle, whose end at {at:point} is {off:mm} inside the edge',
            "a line from edge to edge, that divides the piece in two",
            "move the end to the edge, or write the line alone, without an angle",
        ),
        "fold-not-across/twice": error(
            'fold "{fold}", with an angle, whose line prolonged crosses the piece again',
            "a line that divides the piece in two, prolonged as it is",
            "write the line alone, without an angle",
        ),
        "fold-stays-on-line": error(
            'the letter {letter} for what keeps its place at fold "{fold}", which lies on the fold',
            "a corner on one side of it",
            "name another corner in stays",
        ),
        "fold-without-room": error(
            'fold "{fold}", whose bend takes {half:mm} on either side of its line',
            "at most {room:mm}, as far as the piece goes on there",
            "make the radius or the angle smaller, or move the line",
        ),
        "folds-cross": error(
            'fold "{fold}" across fold "{other}"',
            "folds with an angle that do not cross: leather bends one way at a place",
            "move one of the lines, or write it alone, without an angle",
        ),
        "folds-stay-apart": error(
            "that {letters} keep their places, with a fold between them",
            "one part of the piece that keeps its place at every fold",
            "name a corner of one part in every stays",
        ),
        "gap-too-small": error(
            "a gap of {gap:mm} beside {items:quoted and}",
            "at least {least:mm}, its ease and the strap's thickness",
            "make the gap larger",
        ),
        "grip-too-long": error("{grip:mm}", "at most {most:mm}, all of the handle", "make it shorter"),
        "handles-with-flap": error(
            "handles at a mouth that a flap closes over", "handles, or a flap", "leave drop out, or the flap"
        ),
        "handles-without-room": error(
            "a front of {wide:bare} × {high:mm} for handles {strap:mm} wide",
            "at least {least_wide:bare} × {least_high:mm}: their ends clear of the seams",
            "make the front larger, or strap narrower",
        ),
        "heads-apart": note(
            "a place {more:mm} wider than it needs, so that heads stand clear of one another",
            remedy="where that is too loose, put a thing with a lower or narrower head between",
        ),
        "hem-without-room": error(
            "a mouth {mouth:mm} long",
            "more than {taken:mm}, what seams and rivets take of it",
            "make the pocket wider, or leave out the hem or the rivets",
        ),
        "idle-key": error(
            "{keys:and} where it means nothing",
            "{keys:and} beside {other} = {words:quoted or}",
            "leave {keys:and} out, or change {other}",
        ),
        "idle-key/several": error(
            "{keys:and} where they mean nothing",
            "these beside {other} = {words:quoted or}",
            "leave them out, or change {other}",
        ),
        "inset-too-big": error(
            _INSET,
            "at most {most:mm}",
            "make the inset smaller or the piece wider",
        ),
        "inset-too-big/none": error(
            _INSET,
            "no inset of {0.1:mm} or more",
            "make the inset smaller or the piece wider",
        ),
        "insets-apart": error(
            "an inset of {inset:mm}",
            '{other:mm}, that of "{seam}", which meets it',
            "give both the same",
        ),
        "item-past-base/at": warning(*_ITEM_PAST, "write at = {at:point}"),
        "item-past-base/circle": warning(*_ITEM_PAST, 'make "{base}" at least {circle:mm} across{at:there}'),
        "item-past-base/shape": warning(*_ITEM_PAST, 'make "{base}" larger there, or move the part'),
        "item-past-base/size": warning(*_ITEM_PAST, _LARGER_BASE),
        "item-sinks": note(
            'its end {below:mm} below the mouth of "{part}"',
            remedy="give it a lower pocket of its own, or a ribbon to pull it by",
        ),
        "item-sinks/shows": note(
            'its end {below:mm} below the mouth of "{part}"',
            remedy="give it a lower pocket of its own or a ribbon to pull it by, or make `shows` larger",
        ),
        "item-stands-out/pocket": warning(
            '{shows:mm} of {length:mm} above the mouth of "{part}"',
            "at most {most:mm}",
            "let it show less, or make the pocket higher",
        ),
        "item-stands-out/strap": warning(
            '{shows:mm} of {length:mm} above the strap of "{part}"',
            "at most {most:mm}",
            "let it show less, or give it a narrower strap",
        ),
        "item-stands-out/short": warning(
            '{length:mm} long, under the strap of "{part}", which is wider than that',
            "at least {least:mm}",
            "give it a pocket of its own, or a narrower strap",
        ),
        "item-too-loose": warning(*_FIT, "make the part's ease smaller"),
        "item-too-loose/key": warning(*_FIT, _FIT_KEY),
        "item-too-loose/mouth": warning(*_FIT, _FIT_MOUTH),
        "item-too-loose/together": warning(*_FIT_TOGETHER, "make the part's ease smaller"),
        "item-too-loose/together-width": warning(*_FIT_TOGETHER, _FIT_WIDTH),
        "item-too-loose/width": warning(*_FIT, _FIT_WIDTH),
        "item-too-short": error(
            "{length:mm} long", "at least {least:mm} in stepped pockets", "hold it in another kind of part"
        ),
        "item-too-thick": warning(
            '{thickness:mm} thick, in the flat pocket "{part}"',
            "at most {most:mm} in a flat pocket",
            'make the part a "bowed pocket" or a "boxed pocket"',
        ),
        "item-too-thick/roll": warning(
            '{thickness:mm} thick, in a slot of the roll "{part}"',
            "at most {most:mm} in a slot",
            'write holds = "holders", or carry it elsewhere',
        ),
        "item-too-thick/steps": warning(
            '{thickness:mm} thick, in the stepped pockets "{part}"',
            "at most {most:mm} in stepped pockets",
            'make the part a "flat pocket" or a "bowed pocket"',
        ),
        "item-too-tight": warning(*_FIT, "make the part's ease larger"),
        "item-too-tight/key": warning(*_FIT, _FIT_KEY),
        "item-too-tight/mouth": warning(*_FIT, _FIT_MOUTH),
        "item-too-tight/together": warning(*_FIT_TOGETHER, "make the part's ease larger"),
        "item-too-tight/together-width": warning(*_FIT_TOGETHER, _FIT_WIDTH),
        "item-too-tight/width": warning(*_FIT, _FIT_WIDTH),
        "line-crosses-itself": error(
            '{word} "{line}" meeting itself at {at:point}',
            "a line that neither touches nor crosses itself",
            "list its points in their order, or make two lines of it",
        ),
        "line-outside-piece/between": error(
            '{word} "{line}" leaving the piece between its points', _INSIDE, _MOVE_LINE
        ),
        "line-outside-piece/lining": error(
            '{word} "{line}" with {at:point} outside',
            _INSIDE,
            'give its points in the frame of "{lined}", as they lie on it',
        ),
        "line-outside-piece/part-between": error(
            '{word} "{line}" leaving the piece between its points', _INSIDE, _MOVE_PART
        ),
        "line-outside-piece/part-point": error(
            '{word} "{line}" with {at:point} outside', _INSIDE, _MOVE_PART
        ),
        "line-outside-piece/point": error('{word} "{line}" with {at:point} outside', _INSIDE, _MOVE_LINE),
        "keeper-too-narrow": error(
            "a keeper of {band:mm}", "at least {least:mm}: one stitch across it", "make the band wider"
        ),
        "lap-over-holes": warning(
            'ends of seam "{joint}" lapped by {inset:mm} beyond its holes, over the holes of {row} beside '
            "them that go through one end only",
            'at most {most:mm} where seam "{seam}" is',
            "make that inset smaller, or pierce these holes through the other end too as you sew",
        ),
        "lining-without-room": error(
            '{by:mm}, at which an edge of "{piece}" is lost',
            "less than leaves each edge some length",
            "make it smaller, or draw the lining as a piece",
        ),
        "match-off-run/letter": error(
            _LETTER,
            "a letter it passes ({passed}) or a point [x, y]",
            "name another letter, or leave more of the run's end",
        ),
        "match-off-run/no-letter": error(
            _LETTER,
            "a point [x, y]",
            "name another letter, or leave more of the run's end",
        ),
        "match-off-run/point": error(
            'match point {at:point}, {off:mm} from the stitch line of "{run}"',
            "at most {most:mm} from it",
            "give the point in the frame of this layer's piece, on its stitch line or edge",
        ),
        "match-order": error(
            "match points that follow one another on {run} in another order than on {first}",
            "the same order on every layer, each point apart from the others",
            "swap the points, or name the run's letters the other way round",
        ),
        "nothing-left-of-run": error(
            '{taken:mm} taken off the stitch line of "{run}", which is {length:mm} long',
            "less than {length:mm} in all",
            "make from_start or from_end smaller",
        ),
        "nothing-to-carry": error(
            '"{run}" without a run of its own, and no run before it on a piece it lies flat with',
            "a layer that takes the holes of the nearest run before it that it lies flat on or under",
            'name its edges or line, or say with "on" and "at" where it lies',
        ),
        "nothing-to-carry/again": error(
            '"{run}" once more without a run of its own, and no run before it that a fold brings over it',
            "a piece folded over by 180° between the two, so that the run before lies on its other leaf",
            "name the run on its other leaf by its letters, or give the fold angle = 180",
        ),
        "opening-count": error(
            '{count} places on piece "{piece}"',
            '{wanted}, as many as on "{first}"',
            "give each opening its place on each piece",
        ),
        "opening-misses-piece": error(
            'no place of opening "{opening}" on "{piece}"',
            "a piece that at least one place lies on",
            "take it out of through, or move it",
        ),
        "opening-not-placed": error(
            'piece "{piece}", which does not lie flat with "{first}" and has no places',
            'pieces that lie flat with the first, or have their own points in "places"',
            'add places = {{ "{piece}" = [[x, y], …] }}',
        ),
        "opening-part-way": note(
            'number {numbers} of opening "{opening}" beside "{piece}"', "", "that is well where it is meant"
        ),
        "opening-placed-twice": error(
            'places on piece "{piece}", which lies flat with "{first}"',
            'places only for pieces that do not lie flat with the first in "through"',
            "leave them out: they are carried over",
        ),
        "outline-crosses-itself": error(
            "edges {first} and {second} meeting at {at:point}",
            "an outline that neither touches nor crosses itself",
            "list the corners in their order round the piece, or flatten the arc",
        ),
        "outline-without-area": error(
            "corners that all lie on one line",
            "corners that go round the piece",
            "move a corner off the line",
        ),
        "padding-alone/lined": error(
            "{key} of a strap without a lining",
            "{key} beside lined = true",
            "add lined = true, or leave it out",
        ),
        "padding-alone/padding": error(
            "{key} without a padding", "{key} beside padding", "add padding = …, or leave it out"
        ),
        "padding-short": error(
            "a first hole at {hole:mm}, which leaves no length for a padding",
            "at least {least:mm} for the smallest girth",
            "make girth larger, or leave the padding out",
        ),
        "padding-thick": error(
            "{thick:mm} of padding in a strap with {room:mm} between its rows",
            "so much room that it is {least:mm} wide, with its own thickness on either side",
            "make it thinner, or the strap wider",
        ),
        "padding-wide": error(
            "{wide:mm}", "{least:up} to {most:down}: between the rows, clear of them", "change padding_width"
        ),
        "part-too-low/height": error(
            "a pocket {height:mm} high", "at least {least:mm}: one stitch at its sides", "make it higher"
        ),
        "part-too-low/shows": error(
            "a pocket {height:mm} high",
            "at least {least:mm}: one stitch at its sides",
            "let the items show less, at most {most:mm}",
        ),
        "part-too-low/short": error(
            "a pocket {height:mm} high",
            "at least {least:mm}: one stitch at its sides",
            "leave shows out: things so short lie inside it",
        ),
        "part-too-low/reveal": error(
            "a reveal of {reveal:mm}",
            "at most {most:mm}: one stitch at the sides of each pocket",
            "make the reveal smaller",
        ),
        "part-too-low/bow": error(*_STEEP, "make the pocket wider and higher"),
        "part-too-low/bow-height": error(*_STEEP, "make the height at least {size:mm}"),
        "part-too-low/bow-mouth": error(*_STEEP, "make the mouth at most {size:mm}, or leave it out"),
        "part-too-low/bow-shows": error(*_STEEP, "let the items show at most {size:mm}"),
        "part-too-low/bow-width": error(*_STEEP, "make the width at least {size:mm}"),
        "part-too-low/bowed": error(
            "a pocket {height:mm} high",
            "at least {least:mm}, for the stitches at its sides",
            "make the height larger, or let less of the item show",
        ),
        "part-too-narrow": error(
            "a pocket {width:mm} wide",
            "at least {least:mm}: one stitch for each item",
            "make the width larger, or leave it out",
        ),
        "part-too-narrow/items": error(
            "a pocket {width:mm} wide",
            "at least {least:mm}: its items side by side and the insets",
            "make the width {wanted:mm}, which gives them their ease, or leave it out",
        ),
        "part-too-narrow/steps": error(
            "pockets {width:mm} wide",
            "at least {least:mm}: the widest item and the insets, and a stitch along each foot",
            "make the width {wanted:mm}, which gives it its ease, or leave it out",
        ),
        "part-too-narrow/bowed": error(
            "a pocket {width:mm} wide",
            "at least {least:mm}: its items and their ease, the front, the seams and rivets",
            "make the width larger",
        ),
        "part-too-round": error(
            "radii of {radii} at the foot",
            "at most {most:mm}, the same at both corners",
            "make the radius smaller",
        ),
        "part-too-round/unlike": error(
            "radii of {radii} at the foot",
            "at most {most:mm}, the same at both corners",
            "give both corners one radius",
        ),
        "part-too-round/strap": error(
            "a radius of {radius:mm}", "at most {most:mm}, half the strap's width", "make the radius smaller"
        ),
        "part-past-base/at": error(_PAST, _WITHIN, "write at = {at:point}"),
        "part-past-base/circle": error(_PAST, _WITHIN, 'make "{base}" at least {circle:mm} across{at:there}'),
        "part-past-base/shape": error(_PAST, _WITHIN, 'make "{base}" larger there, or the part smaller'),
        "part-past-base/size": error(_PAST, _WITHIN, _LARGER_BASE),
        "part-past-base/size-or-fewer": error(
            _PAST, _WITHIN, _LARGER_BASE + "; or hold only {held:quoted and} in it{other:there}"
        ),
        "part-past-base/size-or-shows": error(
            _PAST, _WITHIN, _LARGER_BASE + "; or let {shows:mm} of its items show{other:there}"
        ),
        "part-past-base/slip": error(
            _PAST,
            _WITHIN,
            'see whether "{item}" is {long:mm} long; if it is, hold it in something larger than "{base}"',
        ),
        "part-past-base/stated": error(
            _PAST, _WITHIN, "leave {keys:and} out, which gives {own_wide:bare} × {own_high:mm}{at:there}"
        ),
        "piece-beside-base": error(
            '{apart:mm} off "{base}", on which it is to lie',
            "a piece that lies on its base, in whole or in part",
            "move it by more than {ways:and}, or leave out on and at",
        ),
        "radius-too-big/corner": error(
            _CORNER,
            "at most {most:mm}",
            "make the radius smaller",
        ),
        "radius-too-big/corners": error(_CORNERS, "at most {most:and}", "make the radii smaller"),
        "radius-too-big/sharp-corners": error(_CORNERS, "sharp corners", "make the radii smaller"),
        "radius-too-big/sharp-corner": error(
            _CORNER,
            "a sharp corner",
            "make the radius smaller",
        ),
        "radius-too-big/edge": error(_EDGE, "at most {most:mm} each", "make the radii smaller"),
        "radius-too-big/sharp-edge": error(_EDGE, "sharp corners", "make the radii smaller"),
        "radius-too-big/unlike": error(
            _EDGE, "at most {most:mm} and {last_most:mm}", "make the radii smaller"
        ),
        "roll-flap": error(
            "a flap of {flap:mm}",
            "{least:up} to {most:down}: over each tool's end, and no farther than the foot",
            "make it longer or shorter, or leave it out",
        ),
        "roll-girth": error(
            "a girth from {girth:mm} on",
            "at least {least:mm}, for the first hole lies beyond the row that holds the strap",
            "make it larger, or leave it out",
        ),
        "roll-hem": error(
            "a hem of {hem:mm}",
            "at most {most:mm}: both hems of the pocket lie beside each other",
            "make it narrower, or the pocket higher",
        ),
        "roll-hem/leather": error(
            "hems of {material}, where rows of stitches would cross theirs",
            "hems of cloth: leather doesn't fray",
            "leave the hem out",
        ),
        "roll-margin": error(
            "a margin of {margin:mm}",
            "at least {least:mm}: the eyelet clear of what is turned in and of stitches",
            'make it larger, or say closed_by = "none"',
        ),
        "roll-margin/strap": error(
            "a margin of {margin:mm}",
            "at least {least:mm}: the strap's row clear of what is turned in and of stitches",
            "make it larger, or take a narrower buckle: inside",
        ),
        "run-crosses-itself": error(
            '"{run}" prolonged over itself',
            "a stitch line that neither touches nor crosses itself",
            "prolong it by less",
        ),
        "run-outside-piece": error(
            '"{run}" prolonged beyond the edge of the piece',
            "a stitch line inside the piece",
            "prolong it by less",
        ),
        "sagitta-too-tall": error(
            "an arc {sagitta:mm} tall over edge {edge}, which is {chord:mm} long",
            "at most {most:mm}",
            "give the arc's height over its chord, or move the corners apart",
        ),
        "sheath-held-twice": error(
            'a belt\'s loop on a sheath that is sewn to "{base}"', "one of both", "take out belt, or on"
        ),
        "sheath-too-narrow": error(
            "{found:mm} beside the fold for what its back leaf goes on to above the mouth",
            "at least {least:mm}: a row of stitches and its insets",
            "make the welt {welt:mm} wide, or the pitch or the inset smaller",
        ),
        "sheath-without-handle": error(
            'no handle of "{item}"',
            "the handle that it goes round",
            "write handle = [width, thickness, length] in the item",
        ),
        "sleeve-without-room": error(
            "{sleeve:mm}",
            "{least:bare} to {most:mm}: a few stitches, and clear of the spine",
            "change the sleeve",
        ),
        "steps-too-few": error(
            "{steps:counted pocket} for {count:counted item}",
            "at least one for each item",
            "make steps {count}, or leave it out",
        ),
        "steps-too-near": error(
            "a reveal of {reveal:mm}",
            "at least {least:mm}: the row at each foot lies clear of the pocket behind it",
            "make the reveal larger",
        ),
        "strap-too-narrow/snap": error(
            "a strap of {strap:mm}",
            "at least {least:mm}, the snap's distance to both edges",
            "make the strap wider, or the snap's cap smaller",
        ),
        "strap-too-narrow/rivets": error(
            "a strap of {strap:mm}",
            "at least {least:mm}, the rivets' distance to both edges",
            "make the strap wider, or the rivets smaller",
        ),
        "strap-too-narrow/band": error(
            "a band of {band:mm}",
            "at least {least:mm}, the rivets' distance to both edges",
            "make it wider, or the rivets smaller",
        ),
        "strap-girth": error(
            "a girth of {hole:mm}, where its first hole would lie on the end that is turned back",
            "at least {least:mm}",
            "make the least girth larger, or say keepers = 0",
        ),
        "strap-girth/bare": error(
            "a girth of {hole:mm}, where its first hole would lie on the end that is turned back",
            "at least {least:mm}",
            "make the least girth larger",
        ),
        "strap-girth-turned": error(
            "a girth of {least:mm} to {most:mm}", "the least first", "turn the two round"
        ),
        "strap-holes-near": error(
            "girths {span:mm} apart, with holes {apart:mm} from one another",
            "one girth twice, or at least {least:mm} from the least to the most",
            "put the girths further apart, or take a thinner tongue",
        ),
        "strap-point-near": error(
            "{beyond:mm} from the last hole to the point",
            "at least {least:mm}: the point, and all that the fixed keepers hold",
            "make it longer, or leave it out",
        ),
        "strap-tip": error(
            "{tip:mm} at the point",
            "{least:up} to {most:down}: tongue holes clear of the edge, and no wider than the strap",
            "make the tip wider or narrower, or leave it out",
        ),
        "strap-usual/near": error(
            "a usual girth of {usual:mm}, with as many holes to either side, where the first would lie on "
            "the end that is turned back",
            "at least {least:mm}",
            "make it larger, or leave it out",
        ),
        "strap-usual": error(
            "a usual girth of {usual:mm}",
            "{least:up} to {most:down}, the girths it is to close round",
            "change the usual girth, or leave it out",
        ),
        "strap-too-narrow/buckled": error(
            "a strap of {strap:mm}",
            "at least {least:mm}: its rows, and the tongue's slot and holes clear of its edges",
            "make the strap wider",
        ),
        "strap-too-narrow": error(
            "a strap of {strap:mm}",
            "at least {least:mm}: one stitch across it",
            "make the strap wider, or the pitch or the inset smaller",
        ),
        "stud-head-small": error(
            "a head {head:mm} across on a neck of {neck:mm}", "a head wider than its neck", "measure the stud"
        ),
        "tees-too-low": error(
            "tees with a reveal of {reveal:mm}",
            "at most {most:mm}: a tee shows it, has as much again behind the next pocket, and a stem below",
            "make the reveal smaller, or leave tees out",
        ),
        "tees-too-low/none": error(
            "tees with a reveal of {reveal:mm}",
            "pockets three times as deep as the reveal, and a stitch",
            "leave tees out",
        ),
        "turned-at-round-corner": error(
            "a {noun} on {edges}, which goes into the rounded corner {corner}",
            "sharp corners where what is turned ends, or is turned twice",
            "leave {corner} out of round, or give the edges a binding",
        ),
        "trim-too-wide": error(_TRIM, "at most {most:mm}", "make the trim narrower"),
        "trim-too-wide/none": error(_TRIM, "no trim here", "make the trim narrower"),
        "welt-too-narrow": error(
            "a welt of {welt:mm}",
            "at least {least:mm}: the inset, and the leather that a hole needs to its inner edge",
            "make the welt wider, or the inset smaller",
        ),
        "welt-too-thin": error(
            '{thickness:mm} of "{piece}"',
            'at least {least:mm}, the thickness of "{item}": or its edge meets the leaves, and the thread',
            "make it thicker, or leave it out",
        ),
    }
)
