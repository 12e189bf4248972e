"""Messages of step 1, read: one row a code, in the order of the alphabet.

`value` is what stands in the file and `allowed` what its key allows, wherever a row has them.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.messages.message import Message, error, note, warning

_A_LENGTH = 'a number, or text with its unit such as "3.5 mm" or "2 1/4 in"'
_OTHER_UNIT = '; plain numbers are {unit} here, write "{value:shown} mm" where mm are meant'
_A_PAPER = 'a size such as "210x297mm"'
_EDGES = 'corner letters with - between, such as "A-B"'

READING: Mapping[str, Message] = MappingProxyType(
    {
        "after-circle": error("{names:cycle}", "an order without a circle", "take one of them out"),
        "arc-of-run": error("the run {run}", 'one edge, such as "A-B"', "give each edge its own sagitta"),
        "binding-too-narrow": error(
            "a tape of {width:mm} over an edge {thickness:mm} thick",
            "at least {least:mm}: {catch:mm} on either face",
            "take a wider tape",
        ),
        "between-in-one": error(
            'between, and opening "{holes}" in "{piece}", which the buckle is on as well',
            "between of a strap in two parts: the buckle on one, its holes in the other",
            "take between out",
        ),
        "between-without-bar": error(
            "no bar on {pieces:quoted}",
            "a strap in two parts, either held by a fitting of kind bar",
            "add the bar that it is folded round, with its piece and fold",
        ),
        "cap-and-line": error("cap and line", "one of them", "take one of them out"),
        "cap-missing": note("no cap", "{allowed}", "add cap = …, so that room is kept for it"),
        "cap-under-hole": error(
            "cap {cap:mm 3}, hole {hole:mm 3}",
            "a cap larger than its hole",
            "make the cap larger, or the hole smaller",
        ),
        "carried-first/turned": error(
            "{run:quoted}",
            "a first run with letters or a line's name",
            "write the one with letters first: runs = [{turned:quoted}]",
        ),
        "carried-first": error(
            "{run:quoted}",
            "a first run with letters or a line's name",
            "put a run with letters first, or give it one, such as {example:quoted}",
        ),
        "copy-circle/itself": error(
            "{name:quoted}, which is this piece itself",
            "the name of another piece",
            "name the piece that it is a copy of, or write an outline in place of copy",
        ),
        "copy-circle": error(
            "{names:cycle}",
            "copies that end at a piece with an outline",
            "give one of them an outline of its own",
        ),
        "decimal-comma": error("{text:quoted}", "a decimal point", "write {meant:quoted} with a point"),
        "double-brackets": error("[[{name}]]", "[{name}]", "write [{name}] once, in single brackets"),
        "edge-bare": warning(
            'a bare edge, of "{item}", in a {kind}',
            "a bare edge in a sheath alone: elsewhere it cuts thread, leather and hands",
            'give it a sheath or a cap, measure it with that on and say cutting = "covered"; or carry it in '
            'a part of kind "sheath"',
        ),
        "edge-bare/named": note(
            '"{item}" in a {kind}, with no word of its cutting edge',
            remedy='say cutting = "covered" where it has a sheath or a cap of its own; where it has none, '
            'give it one, or carry it in a part of kind "sheath"',
        ),
        "edge-worked-twice": error(
            "{edge} with {first} and {second}",
            "one of trim, hem, turned, binding and allowance on an edge",
            "take one of them out",
        ),
        "edge-twice": error("the edge {edge} again", "each edge once", "take one of them out"),
        "edges-unreadable": error("{text:quoted}", _EDGES, "write the letters of neighbouring corners"),
        "edges-unreadable/meant": error("{text:quoted}", _EDGES, "write {meant:quoted}"),
        "empty-file": error(
            "nothing in it, remarks apart",
            "a project",
            'begin with format = 1 and a [[piece]], or let "handkit new" write it',
        ),
        "ends-of-closed": error("{key} of a closed run", "{key} of a run that ends", "take it out"),
        "file-too-big": error(
            "more than {most} bytes", "at most {most} bytes", "check that this is the project file"
        ),
        "fitting-through-post": error(
            'opening "{opening}" of kind {kind:quoted}',
            "an opening that stays free: an eyelet, a slot or a round hole",
            "name another opening",
        ),
        "fitting-too-thick": error(
            'a {kind} of {thick:mm} through opening "{opening}"',
            "up to {most:mm} there",
            "take a thinner one, or make the opening larger",
        ),
        "fitting-with-both": error("{keys:and} together", "one of them", "take one of them out"),
        "fitting-without": error("nothing of its size", "{allowed:or}", "write one of them"),
        "font-kind": error("{value:quoted}", "{allowed}", "take a TrueType font, whose name ends in .ttf"),
        "font-missing": error("{value:quoted}", "{allowed}", "put the font there, or mend the name"),
        "font-outside": error("{value:quoted}", "{allowed}", "put the font beside the project"),
        "fold-not-straight": error(
            'fold "{fold}", which turns',
            "a straight fold, of two points: a bar is straight",
            "give it two points, or name another",
        ),
        "format-missing": error("nothing", "{allowed}", "write {key} = {allowed} at the top of the file"),
        "format-unknown": error(
            "{value:shown}",
            "{allowed}",
            "write format = {allowed}, or take the handkit that the file was written for",
        ),
        "girth-alone": error(
            "{key} without {other}",
            "girth and holes together, or neither",
            "add {other}, or take {key} out",
        ),
        "girth-turned": error("a girth of {least:mm} to {most:mm}", "the least first", "turn the two round"),
        "glued-not-flat": warning(
            "glued, and not flat", "glued where it lies flat", "leave out flat = false, or glued"
        ),
        "hole-round-or-slit": error("round and slit", "{allowed}", "take one of them out"),
        "hole-round-or-slit/neither": error("neither round nor slit", "{allowed}", "add one of them"),
        "holes-elsewhere": error(
            'opening "{opening}", which does not go through "{piece}"',
            "tongue holes of the strap that the buckle is on",
            "name others, or write between as well where the strap is in two parts",
        ),
        "holes-no-tongue": error(
            'opening "{opening}" of kind {kind:quoted}', "tongue holes", "name another opening"
        ),
        "inset-at-edge": error(
            "an inset of {inset:mm} along {edge}, where the piece ends",
            "at least {least:mm}, or 0 along edges with a seam allowance",
            "make it larger, or give {edge} an allowance",
        ),
        "inset-of-line": error(
            "inset of a line, whose holes stand on it",
            "inset of a run with letters",
            "take it out, or move the line",
        ),
        "cover-apart": error(
            '"{cover}", which does not lie over "{base}"',
            'a piece that lies with "{base}" on one piece, or "{base}" itself where it is folded over',
            "name that piece, or give it an on",
        ),
        "item-handle": error(
            'a handle of what lies in part "{part}"', "the handle of a blade in a sheath", "take it out"
        ),
        "item-key-of-other-shape": error(
            "{key} of an item without {shapes:or}", "{key} beside {shapes:or} alone", "take it out"
        ),
        "item-sizes": error("{keys:and}", "exactly one of {allowed:and}", "take the others out"),
        "item-without-size": error(
            "no size", "exactly one of {allowed:and}", "add one, such as size = [22, 4, 150]"
        ),
        "item-without-size/thing": error(
            "no size, and no thing of that name in {file}",
            "exactly one of {allowed:and}, here or there",
            "add one, or name {near:suggested}: {known:quoted}",
        ),
        "item-without-size/no-thing": error(
            "no size, and no thing in {file}", "exactly one of {allowed:and}, here or there", "add one"
        ),
        "keeper-on-itself": error(
            '"{piece}" as keeper and as its strap',
            "a piece that goes round another",
            "name the strap in on, and in piece what the keeper is made of",
        ),
        "key-of-corners": error("{key} of a circle", "{key} of outlines with corners", "take it out"),
        "key-of-other-kind": error(
            "{key} of kind {kind:quoted}", "{key} for kind {kinds:quoted or}", "take it out"
        ),
        "key-of-other-kind/several": error(
            "{keys:and} of kind {kind:quoted}",
            "for that kind {own:listed}",
            "take out {keys:and}, or name another kind",
        ),
        "key-too-long": error(
            "more than {most} parts of a key with dots between",
            "at most {most}",
            "write only what the format has",
        ),
        "layer-twice": error("{run:quoted} again", "each run once", "take one of them out"),
        "length-of-size": error("length beside size", "length of a diameter or a section", "take it out"),
        "length-of-size/outline": error(
            "length beside outline", "length of a diameter or a section", "take it out"
        ),
        "length-unreadable": error("{text:quoted}", _A_LENGTH, "write the length in one of these ways"),
        "length-unreadable/fraction": error(
            "{text:quoted}",
            _A_LENGTH,
            "write one number, such as 2.5, or a whole number and a fraction less than 1, such as 2 1/4",
        ),
        "length-unreadable/meant": error("{text:quoted}", _A_LENGTH, "write {meant:quoted}"),
        "length-unreadable/nothing": error(
            "{text:quoted} for a length",
            _A_LENGTH,
            "take this key out where it isn't wanted, or write its length",
        ),
        "length-unreadable/range": error("{text:quoted}", _A_LENGTH, "write one length, not a range"),
        "length-unreadable/thickness": error(
            "{text:quoted}", _A_LENGTH + ' or "6 oz"', "write the length in one of these ways"
        ),
        "letters-apart": error(
            "{first} and {second}, which are no neighbours",
            "letters of neighbouring corners",
            "write {ways:or}",
        ),
        "letters-apart/far": error(
            "{first} and {second}, which are no neighbours",
            "letters of neighbouring corners",
            "name every corner on the way",
        ),
        "letters-apart/twice": error(
            "{letter} twice in a row", "letters of neighbouring corners", "write {letter} once"
        ),
        "line-unused": note("{line:quoted} in no seam", remedy="name it in a seam's runs, or take it out"),
        "match-count": error(
            "{count:counted place} for {runs} runs",
            "{runs} places",
            'write one for each run in order, "" for none',
        ),
        "match-empty": error("a point without a place", "a place on at least one run", "take it out"),
        "match-letter": error(
            "{value:quoted}", "{letters:or}, or a point [x, y]", "write a letter of this run"
        ),
        "match-letter/line": error(
            "{value:quoted}", "a point [x, y]; the run is a line without letters", "write a point"
        ),
        "match-of-carried": error(
            "a place on {run:quoted}, which takes the holes of another run", '""', 'write ""'
        ),
        "match-place": error("{value:shown}", 'a letter, a point [x, y] or ""', "write one of these"),
        "mate-count": error(
            "{here} here and {there} of {mate:quoted}",
            "as many of both halves",
            "add the missing, or take some out",
        ),
        "mate-is-itself": error("{mate:quoted}", "another opening", "name the other half"),
        "mate-no-snap": error("{mate:quoted}, of kind {kind:quoted}", "a {wanted}", "name the other half"),
        "mate-not-mutual": error(
            "{mate:quoted}, whose mate is {other:quoted}",
            "two halves that name each other",
            "write mate = {name:quoted} there",
        ),
        "mirrored-without-copy": error(
            "mirrored, but no copy", "mirrored of a copy", 'add copy = "…", or take it out'
        ),
        "misplaced-key/beside-key": error(
            "the key {key:quoted} beside {meant}", "{meant} alone", "take {key} out, for {meant} says it"
        ),
        "misplaced-key/beside-table": error(
            "the key {key:quoted} beside {meant}",
            "{meant} alone",
            "take {key} out, and put what it says under {meant}",
        ),
        "misplaced-key/unasked": error(
            "the key {key:quoted}", "of a thing its name, its size and what holds it", "take it out; {why}"
        ),
        "misplaced-key/meant": error("the key {key:quoted}", "{meant}", "write {write}"),
        "misplaced-key": error(
            "the key {key:quoted}",
            "{words} has its place elsewhere: {tables:or}",
            "move it there, or take it out",
        ),
        "missing-key": error("nothing", "{allowed}", "add {key}, such as {example}"),
        "missing-key/drafted": error(
            "no {needed:or}",
            "{needed:and}, or the name of what a part drafts",
            'write "{near}", which part "{part}" drafts, or add {needed:and}',
        ),
        "missing-key/part": error(
            "nothing", "{allowed}: {known:quoted or}", "say which holds it, such as in = {first:quoted}"
        ),
        "missing-key/tables": error("nothing", "{allowed}", "add a {header}"),
        "name-blanks": error("{value:quoted}", "{allowed}", "write {meant:quoted}"),
        "name-empty": error("{value:quoted}", "{allowed}", "give it a name"),
        "name-mark": error("{value:quoted}", "{allowed}", "leave the {mark} out; it has a meaning in runs"),
        "name-of-letters": error("{name:quoted}", "a name that is no corner letters", "write {meant:quoted}"),
        "name-promised": error(
            "{name:quoted}, which part {part:quoted} drafts",
            "a name of its own",
            "give the part another name",
        ),
        "name-promised/arranged": error(
            "arranged, of what part {part:quoted} drafts, which is as large as that states",
            "arranged bases that no part drafts, covers and their sleeves, the front and the back of a bag",
            "take out rectangle, state the sizes of part {part:quoted}, and write at in the parts on it",
        ),
        "name-promised/arranged-roll": error(
            "arranged, of the roll {part:quoted}, which is rolled up: its own things take all its inside",
            "arranged bases that no part drafts, covers and their sleeves, the front and the back of a bag",
            "take out rectangle; carry one more thing in part {part:quoted}, or write at in the parts on it",
        ),
        "name-promised/key": error(
            "{keys:and} of what part {part:quoted} drafts",
            "keys that add to it",
            "take out {keys:and}, or give this another name",
        ),
        "name-promised/line": error(
            "the line {name:quoted}, which part {part:quoted} drafts",
            "a name of its own",
            "give the line another name",
        ),
        "name-taken/fitting": error(
            "{name:quoted} again, first in line {line}",
            "a name that no other fitting has",
            "give it another name",
        ),
        "name-taken/item": error(
            "{name:quoted} again, first in line {line}",
            "a name that no other item has",
            "give it another name",
        ),
        "name-taken/part": error(
            "{name:quoted} again, first in line {line}",
            "a name that no other part has",
            "give it another name",
        ),
        "name-taken/piece": error(
            "{name:quoted} again, first in line {line}", "a name of its own", "give it another name"
        ),
        "name-taken/work": error(
            "{name:quoted} again, first in line {line}",
            "a name that no other seam or opening has",
            "give it another name",
        ),
        "negative": error("{found}", "{allowed}", "leave the minus sign out"),
        "negative/unit": error("{found}", "{allowed}", "leave the minus sign out" + _OTHER_UNIT),
        "nested-too-deep": error(
            "more than {most} lists or tables in one another",
            "at most {most}",
            "write only what the format has",
        ),
        "not-a-flag": error("{value:shown}", "{allowed}", "write true or false, without quotes"),
        "not-a-length/list": error(
            "{value:shown}", "{allowed}", "write one length, without square brackets{such}"
        ),
        "not-a-length": error("{value:shown}", "{allowed}", "write " + _A_LENGTH),
        "not-a-list": error("{value:shown}", "{allowed}", "put square brackets round it{such}"),
        "not-a-list-of-points": error(
            "a list of numbers", "{allowed}", "put each point in brackets of its own, [[x, y], [x, y]]"
        ),
        "not-a-list-of-tables": error("{value:shown}", "{allowed}", "write {header}"),
        "not-a-project": error("{what}", "a project, which is a text file such as pouch.toml", "{remedy}"),
        "not-a-list/match": error(
            "{value:shown}",
            'a list with a letter, a point [x, y] or "" for every run',
            "put brackets round it",
        ),
        "not-a-number": error("{value:shown}", "{allowed}", "write a plain number without quotes or unit"),
        "not-a-pair": error(
            "{value:shown}",
            "{allowed}",
            "write two lengths in square brackets, their decimals with a point",
        ),
        "not-a-pair/meant": error("{value:shown}", "{allowed}", "write {key} = [{first}, {second}]"),
        "not-a-pair/comma": error(
            "{value:shown}",
            "{allowed}",
            "write two lengths; where {first},{second} is one of them, with a point: {meant}",
        ),
        "not-a-pair/word": error(
            "{value:shown}",
            "{allowed}",
            "write how far to the right and how far up, in square brackets: {key} = [20, 30]",
        ),
        "not-a-pair/one": error(
            "one length, {first}",
            "{allowed}",
            "write both, the {second} behind it: {key} = [{first}, …]",
        ),
        "not-a-percentage": error("{value:quoted}", "{allowed}", 'write it like "5 %"'),
        "not-a-row": error("{value:shown}", "{allowed}", "write the count and the step along x and y"),
        "not-a-run/piece": error(
            'the key "piece"',
            'piece and edges in one text, "piece: A-B"',
            "write {meant:quoted} in place of all that stands in the braces, and the braces",
        ),
        "not-a-run": error("{value:shown}", "{allowed}", "write the run as text in quotes"),
        "not-a-size/meant": error("{value:shown}", "{allowed}", "write {key} = [{listed}]"),
        "not-a-size/two": error(
            "two lengths, {first} and {second}",
            "{allowed}",
            "write all three; where the thickness is missing, [{first}, thickness, {second}]",
        ),
        "not-a-size": error("{value:shown}", "{allowed}", "write three lengths in square brackets"),
        "not-a-table/quoted": error(
            "{value:shown}", "{allowed}", "write it in braces and without quotes: {meant}"
        ),
        "not-a-table": error("{value:shown}", "{allowed}", "put braces round it, {{ … }}"),
        "not-a-table/key": error(
            "{value:shown}, as a key",
            "a header, {header}, with its keys under it",
            "write {header}, and under it {example}",
        ),
        "not-a-table/header": error("{value:shown}", "{allowed}", "write {header}"),
        "not-a-text": error("{value:shown}", "{allowed}", "put the text in quotes"),
        "not-a-text/list": error(
            "{value:shown}", "{allowed}", "write one text, without square brackets{such}"
        ),
        "not-a-text/listed": error("{value:shown}", "text in quotes", "put it in quotes"),
        "not-a-whole-number": error(
            "{value:shown}", "{allowed}", "write a whole number, without quotes or a point"
        ),
        "not-finite": error("{found}", "{allowed}", "write a number"),
        "not-metres": error("{value:quoted}", "{allowed}", "write it in metres"),
        "not-utf8": error(
            "byte 0x{byte:02x} at offset {offset}", "UTF-8 text", "save the file as UTF-8 in the editor"
        ),
        "not-utf8/half": error(
            "half a character, U+{character:04X}", "UTF-8 text", "save the file as UTF-8 in the editor"
        ),
        "not-utf8/utf16": error(
            "text saved as UTF-16",
            "text saved as UTF-8",
            'save it anew, with the encoding "UTF-8" in the editor',
        ),
        "number-too-long": error(
            "more than {most} digits in a number", "at most {most}", "write only what the format has"
        ),
        "on-circle/itself": error(
            "{name:quoted}, which is this piece itself",
            "the name of another piece",
            "name the piece that it lies on, or take on out",
        ),
        "on-circle": error(
            "{names:cycle}", "pieces that lie on others without a circle", "let one of them lie on nothing"
        ),
        "ounces-of-length": error(
            "{text:quoted}",
            "{units:listed}; ounces are for thickness only",
            'write how long it is, such as "20 mm" or "3/4 in"',
        ),
        "outline-missing": error(
            "no outline", "exactly one of {allowed:and}", "add one, such as rectangle = [60, 40]"
        ),
        "outline-missing/near": error(
            "no outline",
            "exactly one of {allowed:and}",
            'write "{near}", which part "{part}" drafts, or add one',
        ),
        "outline-of-copy": error(
            "{keys:and} of a copy",
            "{keys:and} of outlines that are no copy",
            "take out {keys:and}, or write the outline instead of copy",
        ),
        "outline-several": error("{keys:and}", "exactly one of {allowed:and}", "take the others out"),
        "part-circle": error("{names:cycle}", "parts that end at a piece of the file", "take another base"),
        "part-with-items": error("{count:counted item} in it", "at most {most}", "make two parts of it"),
        "part-with-items/none": error(
            "{count:counted item} in it", "none", "put it into a pocket or a holder row"
        ),
        "part-without-items": error(
            "no item in it", "at least {least}", "add an [[item]] with in = {part:quoted}"
        ),
        "glue-not-held": error(
            'a strip of glue with hold = "{hold}"',
            'glue with hold = "cement" or "tape"',
            'write hold = "cement", or leave glue out',
        ),
        "glue-over-holes": error(
            "{width:mm} wide, over the holes",
            "up to {most:mm}: from the edge to {1:mm} short of the holes",
            "write glue = {most:plain}",
        ),
        "glue-over-holes/none": error(
            "{width:mm} wide, over the holes",
            "a strip that ends {1:mm} short of the holes",
            "write inset = {inset:plain}, or leave glue out",
        ),
        "past-without-turns": error(
            "a hole past the mouth, and no turn", "{key} with {turns}", "write {turns} = 2"
        ),
        "place-not-through": error(
            "{name:quoted}", "{known:quoted}", "write {near:suggested}, or add the piece to through"
        ),
        "place-not-through/none": error(
            "{name:quoted}", "no piece to through is in the file", "add the piece to through"
        ),
        "place-of-first": error(
            "{name:quoted}", "pieces behind the first in through", "take it out; at says where they are"
        ),
        "place-without-on": error(
            "{keys:and}, but no on", "a place on another piece", 'add on = "…", or take out {keys:and}'
        ),
        "places-count": error(
            "{count:counted place}",
            "{wanted}, as many as at",
            "write a point for each of at, in the same order",
        ),
        "places-count/row": error(
            "{count:counted place}",
            "{wanted}, as many as at",
            "write a point for each opening of the row, in the same order",
        ),
        "point-repeated": error(
            "points {first} and {second} at one place", "points apart", "leave one of them out"
        ),
        "point-repeated/closing": error(
            "corners {first} and {second} at one point",
            "corners apart",
            "an outline closes itself: leave the last point out",
        ),
        "point-repeated/corners": error(
            "corners {first} and {second} at one point", "corners apart", "leave one of them out"
        ),
        "quantity-with-others": error(
            "{quantity} of {piece:quoted}, which is in {entry} with others",
            "1 for a piece in a seam or opening with others",
            "add a piece with copy = {piece:quoted} for each further one, or raise [make] copies",
        ),
        "row-without-step": error("a step of 0", "dx or dy other than 0", "write how far they stand apart"),
        "run-on-fold": error(
            "{fold:quoted}, a fold",
            "corner letters or a line's name",
            "to stitch along it, name the same points under lines",
        ),
        "run-one-letter": error(
            "{letter:quoted}", 'at least two letters, such as "A-B"', "write the letter where it ends as well"
        ),
        "run-too-long": error(
            "{text:quoted}", "at most once round", "write {whole}, or begin at another letter"
        ),
        "run-too-long/many": error("{text:quoted}", "at most once round", "leave the rest out"),
        "run-turns-back": error(
            "{run:quoted}, back again at {letter}", "one way round", "make two runs of it"
        ),
        "run-unreadable/comma": error(
            "{value:quoted}",
            "each run in quotes of its own",
            "write {meant:quoted and}, a comma between them",
        ),
        "run-unreadable": error("{value:quoted}", "{allowed}", "write it in one of these ways"),
        "seam-elsewhere": error(
            "{seam:quoted}, which does not go through {piece:quoted}",
            "seams of the piece it lies behind",
            "take it out",
        ),
        "seam-of-one-layer/on": warning(
            "one layer, {run:quoted}, and not {on:quoted}, on which it lies",
            "every layer that is sewn",
            "write runs = [{run:quoted}, {on:quoted}], unless it is a row of stitches on one",
        ),
        "seam-of-one-layer": note(
            "one layer", remedy="name the other layers, unless it is a row of stitches on one"
        ),
        "section-crosses": error(
            "a section that crosses itself",
            "points round it in order",
            "list its points in their order round it",
        ),
        "section-crosses/outline": error(
            "an outline that crosses itself",
            "points round it in order",
            "list its points in their order round it",
        ),
        "setting-of-carried": error(
            "{key} of a run without letters",
            "{key} of a run with letters or a line",
            "take it out, or give the run letters",
        ),
        "sides-of-two": error(
            "a side for {count:counted run}",
            "a side for two runs, or for none",
            "say it of both pieces that meet",
        ),
        "single-brackets": error("[{name}]", "{header}", "write {header}, in double brackets"),
        "single-brackets/named": error(
            "{written}, a header with a name in it",
            "{header}, with its name in a line of its own",
            'write {header}, and under it name = "{name}"',
        ),
        "single-brackets/several": error("{found}", "{header}", "write {header}, in double brackets"),
        "skive-not-thinner": error(
            "skived to {to:mm 3}",
            "less than the piece's thickness, {thickness:mm 3}",
            "make it smaller",
        ),
        "skive-of-cloth": warning(
            "{material} thinned with a knife",
            "leather or felt, which have no yarns to cut",
            "take it out, or cut away a layer of the hem",
        ),
        "slant-of-round": error("slant of a round hole", "slant of a slit", "take it out"),
        "slot-wider-than-long": error(
            "{length:mm 3} long, {width:mm 3} wide", "[length, width]", "put the length first"
        ),
        "svg-apart": error(
            "{count} areas apart from one another in {shape:quoted}",
            "one outline, with holes in it or none",
            "name one of them by an id of its own, or make them one",
        ),
        "svg-attributes": error(
            "{element} {shape:quoted} with measures or path data that can't be read",
            "what SVG 1.1 says of it, numbers up to a million, 20,000 segments",
            "draw or save it anew",
        ),
        "svg-declares": error("a document type or an entity", "an SVG without one", "save it as plain SVG"),
        "svg-id-twice": error(
            "{shape:quoted} twice in {file}", "an id of its own", "give one of them another id"
        ),
        "svg-id-unknown": error(
            "no shape with the id {shape:quoted} in {file}",
            "one of {known:quoted}",
            "name {near:suggested}, or give the shape that id in the drawing program",
        ),
        "svg-id-unknown/none": error(
            "no shape with the id {shape:quoted} in {file}",
            "the id of a shape there",
            "give the shape that id in the drawing program",
        ),
        "svg-kind": error(
            "{element} as {shape:quoted}, or in it",
            "{shapes:or}, or a group of them",
            "draw it as one of these: in a drawing program, make it a path",
        ),
        "svg-kind/none": error(
            "nothing drawn in {shape:quoted}", "{shapes:or}, or a group of them", "name the shape itself"
        ),
        "svg-missing": error("{value:quoted}", "{allowed}", "put the file there, or mend the name"),
        "svg-no-area": error("no area in {shape:quoted}", "a closed outline", "draw it round the thing"),
        "svg-open": error(
            "{shape:quoted}, whose ends are {gap:mm} apart",
            "a closed outline, ends 0.1 mm apart at the most",
            "close the path in the drawing program",
        ),
        "svg-outside": error("{value:quoted}", "{allowed}", "put the file beside the project"),
        "svg-reference": error("{value:quoted}", "{allowed}", "write the file's name, # and the id"),
        "svg-size": error(
            "{key} = {value:quoted} of the drawing in {file}",
            "width and height in mm, cm, in, pt, pc or px, a viewBox of four numbers",
            "set the page's size in the drawing program, in mm",
        ),
        "svg-too-fine": error(
            "{shape:quoted} of more than {count} points",
            "at most {most}",
            "simplify the path in the drawing program",
        ),
        "svg-too-large": error(
            "more than {most} bytes in {file}", "at most {most}", "link the photo instead of embedding it"
        ),
        "svg-too-large/elements": error(
            "more than {most} elements in {file}", "at most {most}", "save the outlines alone"
        ),
        "svg-too-large/nested": error(
            "more than {most} elements in one another in {file}", "at most {most}", "ungroup what is drawn"
        ),
        "svg-too-wide": error(
            "{shape:quoted} farther than {most:mm} from the page's corner",
            "an outline on the page",
            "look at the page's size and its viewBox",
        ),
        "svg-transform": error(
            "the transform {transform:quoted} in {file}",
            "matrix, translate, scale, rotate, skewX and skewY, in an attribute",
            "apply it in the drawing program",
        ),
        "svg-undrawn": error(
            "{shape:quoted} among definitions, or in a drawing inside the drawing",
            "a shape that is drawn",
            "name one that is",
        ),
        "svg-unreadable": error(
            "no XML in {file}, line {line} ({reason})", "an SVG file", "save it anew as plain SVG"
        ),
        "svg-unreadable/closed": error(
            "{file}, which can't be read: {reason}", "a file that can be read", "look at its permissions"
        ),
        "svg-unreadable/other": error(
            "{element} as the root of {file}", "an SVG file", "save it as plain SVG"
        ),
        "text-too-long": error("{count} characters", "{allowed}", "make the text shorter"),
        "thickness-missing": error(
            "no thickness", "{allowed}", "add thickness under [material], or to each piece"
        ),
        "thickness-missing/many": error(
            "no thickness for {pieces:and} and others",
            "{allowed}",
            "add thickness under [material], or to each piece",
        ),
        "thickness-missing/several": error(
            "no thickness for {pieces:and}", "{allowed}", "add thickness under [material], or to each piece"
        ),
        "through-twice": error(
            "{name:quoted} again",
            "each piece once, one with a fold twice: it is folded over on itself there",
            "name it once",
        ),
        "thing-twice": error(
            "{keys:and} beside the thing {name:quoted} in {file}:{line}",
            "a thing's shape in one place",
            "take it out here, or give one of the two another name",
        ),
        "things-kind": error("{value:quoted}", "{allowed}", "name a file that ends in .toml"),
        "things-missing": error("{value:quoted}", "{allowed}", "put the file there, or mend the name"),
        "things-outside": error("{value:quoted}", "{allowed}", "put the file beside the project"),
        "things-unheld": note(
            "{names:quoted} in nothing",
            remedy="to carry one, write an [[item]] with name = {example:quoted} and what holds it",
        ),
        "tip-too-long": error("{tip:mm}", "at most {length:mm}, all of its length", "make it shorter"),
        "toml-syntax": error(
            "what can't be read here ({reason})",
            "a key, = and its value: text in quotes, a list in [ ]",
            "mend this line; nothing else was read",
        ),
        "toml-syntax/backslash": error("\\ in a text", "/ between a folder and a file", "write {meant}"),
        "toml-syntax/blank-in-key": error("{text}", "keys with _ between their words", "write {meant}"),
        "toml-syntax/bullet": error("{text} before the line", "lines without bullets", "write {meant}"),
        "toml-syntax/command": error(
            "{text}, a command",
            "what the kit is made of; commands are typed in the terminal",
            "take this line out, and type it in the terminal",
        ),
        "toml-syntax/dots": error(
            "{text} in a list", "all values of the list", "write those that are left out, or {meant}"
        ),
        "toml-syntax/bracket": error("{bracket} without {other}", "both of a pair", "write {meant}"),
        "toml-syntax/bracket-over-lines": error(
            "{bracket} without {other}", "both of a pair", "write {other} behind the last of its values"
        ),
        "toml-syntax/colon": error(
            "{text} before the value", "= between a key and its value", "write {meant}"
        ),
        "toml-syntax/comma": error("{text}", "a decimal point, no comma", "write {meant}"),
        "toml-syntax/doubled-quotes": error(
            "{text}, in quotes of two", 'one straight quote before and behind a text: "', "write {meant}"
        ),
        "toml-syntax/equals": error("no = behind {text}", "a key, = and its value", "write {meant}"),
        "toml-syntax/flag": error("{text}", "true or false, in small letters", "write {meant}"),
        "toml-syntax/header": error("{text}", "a header in its brackets", "write {meant}"),
        "toml-syntax/header-end": error(
            "{text}", "headers that begin a table, which ends where the next begins", "take this line out"
        ),
        "toml-syntax/inline-table": error(
            "{{ … }} over several lines", "{{ … }} in one line", "write all of it in one line"
        ),
        "toml-syntax/inner-quotes": error(
            "quotes inside a text", "' inside a text in quotes", "write {meant}"
        ),
        "toml-syntax/names": error("{text} in a list", "values alone, in their order", "write {meant}"),
        "toml-syntax/include": error(
            "{text} before a file",
            "items = and a file of things, from which those that are named are taken",
            "write {meant}, or copy what is in that file into this one",
        ),
        "toml-syntax/json": error(
            "JSON, the whole file in brackets",
            "TOML: key = value in a line of its own, under headers such as [[piece]]",
            'write each entry so: [[piece]], and under it name = "…"; handkit new begins such a file',
        ),
        "toml-syntax/length": error(
            "{text} without quotes", "a plain number, or a length with its unit in quotes", "write {meant}"
        ),
        "toml-syntax/look-alike": error(
            "{text}", 'plain signs, as the keyboard has them: ", - and digits', "write {meant}"
        ),
        "toml-syntax/line-number": error(
            "{text} before the line", "lines without numbers", "take out the numbers: write {meant}"
        ),
        "toml-syntax/line-end": error("{text} too many", "nothing behind the value", "write {meant}"),
        "toml-syntax/list": error("several values without brackets", "a list in [ ]", "write {meant}"),
        "toml-syntax/no-comma": error("no comma", "a comma between two values", "write {meant}"),
        "toml-syntax/no-comma-above": error(
            "no comma", "a comma between two values", "write a comma at the end of this line"
        ),
        "toml-syntax/no-value": error(
            "nothing behind =", "a value", "write the value of {key} there, or take the line out"
        ),
        "toml-syntax/nothing-listed": error(
            "{text} in a list",
            "a value in each place of a list",
            "write the value there, or take the whole line out where it isn't wanted",
        ),
        "toml-syntax/nothing": error(
            "{text} for a value", "a value; a key that isn't wanted is left out", "take this line out"
        ),
        "toml-syntax/paren": error("{text} round a list", "a list in square brackets", "write {meant}"),
        "toml-syntax/point": error("{text}", "a digit before and behind the decimal point", "write {meant}"),
        "toml-syntax/quotes": error("{text}, a curly quote", 'straight quotes, "', "write {meant}"),
        "toml-syntax/range": error(
            "{text}, a range or a sign too many", "one number", "write the one that is meant, such as {meant}"
        ),
        "toml-syntax/remark-round": error(
            "{text}, a remark as other files have it", "# before a remark", "write {meant}"
        ),
        "toml-syntax/stray-line": error(
            "{text}", "headers, keys with their values, and remarks after #", "take this line out"
        ),
        "toml-syntax/words": error(
            "words without =, {text}",
            "a header such as [[piece]], a key, = and its value, or a remark after #",
            "where it is a remark, write {meant}",
        ),
        "toml-syntax/remark": error("{text} before a remark", "# before it", "write {meant}"),
        "toml-syntax/rows": error(
            "a row of a table, {text}",
            "one key, = and its value in a line",
            'write a [[item]] for each row, under it name = "…" and size = [width, thickness, length]',
        ),
        "toml-syntax/semicolon": error("a semicolon", "a comma between two values", "write {meant}"),
        "toml-syntax/sign": error("{text} before a number", "the number alone", "write {meant}"),
        "toml-syntax/sum": error(
            "a sum, {text}", "one number: nothing is reckoned here", "where that is meant, write {meant}"
        ),
        "toml-syntax/text": error("{text} without quotes", "text in quotes", "write {meant}"),
        "toml-syntax/twice": error(
            "{key} again, first in line {line}", "each key once", "take one of the two out"
        ),
        "toml-syntax/twice-name": error(
            "name again, first in line {line}, and no header between",
            "one name under each header",
            "write the header of what begins here above it, such as [[piece]], or take one of the two out",
        ),
        "toml-syntax/twice-here": error(
            "what is written above already", "each key once", "take one of the two out"
        ),
        "toml-syntax/twice-table": error(
            "[{name}] again, first in line {line}",
            "[{name}] once",
            "put all its keys under the first, and take this header out",
        ),
        "toml-syntax/two-keys": error(
            "{text} between two keys", "a line for each key", "put what stands behind it on the next line"
        ),
        "toml-syntax/unclosed-long": error(
            'a text that begins with """ and does not end', "the same three quotes at its end", "close it"
        ),
        "toml-syntax/unclosed-text": error(
            "{text} and no quote at its end", "quotes at both ends of a text", "write {meant}"
        ),
        "toml-syntax/unlike-quotes": error(
            "{text} at one end of a text", "the same quotes at both ends", "write {meant}"
        ),
        "toml-syntax/unopened-text": error(
            "{text} and no quote at its beginning", "quotes at both ends of a text", "write {meant}"
        ),
        "toml-syntax/wide-blank": error(
            "a blank that no keyboard types, as word processors and web pages have it",
            "plain blanks",
            "take it out and type a blank where there is to be one: {meant}",
        ),
        "toml-syntax/zero-letter": error("{text}, with letters in it", "digits", "write {meant}"),
        "toml-syntax/zeros": error(
            "{text}, a number that begins with 0", "a number without it", "write {meant}"
        ),
        "too-big": error("{found}", "{allowed}", "make it smaller"),
        "too-big/ounces": error(
            "{found}",
            "{allowed}",
            'plain numbers are {unit} here: write "{value:shown} oz" where ounces are meant, '
            '"{value:shown} mm" where mm are',
        ),
        "too-big/unit": error("{found}", "{allowed}", "make it smaller" + _OTHER_UNIT),
        "too-few": error("{value:shown}", "{allowed}", "add what is missing{such}"),
        "too-many": error("{value:shown}", "{allowed}", "leave some out"),
        "too-many-faults": error(
            "more than {most} faults", remedy="mend these first; the rest of the file was not read"
        ),
        "too-many/corners": error(
            "{count} corners up to here, of all outlines",
            "at most {most}",
            "take corners out that lie on a straight or an arc, or split the project",
        ),
        "too-many/keys": error("a table of {count}", "at most {most}", "leave some out"),
        "too-many/layers": error(
            "{count} pieces on one another", "at most {most}", "split the project, or leave some out"
        ),
        "too-many/marks": error(
            "{count} openings up to here, on all pieces they go through",
            "at most {most}",
            "split the project",
        ),
        "too-many/places": error("{count} places", "at most {most}", "make the row shorter"),
        "too-many/tables": error("{count} of {header}", "at most {most}", "split the project"),
        "too-many/things": error(
            "{count} of {header}, those of the file of things too", "at most {most}", "split the project"
        ),
        "too-many-turns": error(
            "a hem of {material} turned {turns} times",
            "at most {most} time",
            "write turns = {most}, or give the edge a binding",
        ),
        "too-small": error("{found}", "{allowed}", "make it larger"),
        "too-small/unit": error("{found}", "{allowed}", "make it larger" + _OTHER_UNIT),
        "turn-in-once": error(
            "turn_in of a hem turned once",
            "turn_in of a hem turned twice",
            "write turns = 2, or take it out",
        ),
        "turn-in-too-wide": error(
            "{turn_in:mm} turned in under a hem of {width:mm}",
            "at most {width:mm}, the hem's width",
            "make turn_in smaller, or the hem wider",
        ),
        "unit-forgotten": warning(
            "no unit, and {facts:and} with nothing larger than {largest:g}, which would be mm",
            "{units:quoted or}; mm where none is written",
            'write unit = "in" at the top of the file where inches are meant, unit = "cm" where cm are, '
            'or unit = "mm"',
        ),
        "unit-missing": error(
            "{text:quoted}, a fraction without a unit, in a file in {unit}",
            _A_LENGTH,
            "write {inches:quoted} where inches are meant, or {other:quoted}; where the whole file is in "
            'inches, write unit = "in" at its top',
        ),
        "unit-unknown": error("the unit {unit:quoted}", "{units:listed}", "write {near:quoted}"),
        "unit-unknown/far": error("the unit {unit:quoted}", "{units:listed}", "write one of these units"),
        "unknown-choice": error("{value:shown}", "{allowed}", "write {near:quoted}"),
        "unknown-choice/many": error("{value:shown}", "{known:quoted or}{more:keys}", "write {near:quoted}"),
        "unknown-choice/list": error(
            "{value:shown}", "{allowed}", "write one of these, without square brackets{such}"
        ),
        "unknown-choice/far": error("{value:shown}", "{allowed}", "write one of these, in quotes"),
        "unknown-key": error("the key {key:quoted}", "{known:listed}{more:keys}", "take it out"),
        "unknown-key/near": error("the key {key:quoted}", "{known:listed}{more:keys}", "write {near}"),
        "unknown-key/table": error("{written}", "{known:listed}", "write {header}"),
        "unknown-letter": error(
            "the letter {letter}", "{letters}", "write letters of this outline's corners"
        ),
        "unknown-letter/round": error(
            "the letter {letter:quoted}", "{letters}", "write a letter of this outline"
        ),
        "unknown-letter/of-fold": error(
            "the letter {letter:quoted}", "{letters}", "write a letter of this outline's corners"
        ),
        "unknown-letter/small": error("the letter {letter:quoted}", "{letters}", "write {meant}"),
        "unknown-line": error("{name:quoted}", "{runs:or}", "write {near:suggested}, or add the line"),
        "unknown-line/side": error(
            "{name:quoted}",
            "{runs:or}, or a line of the piece",
            "write {meant:quoted}: a rectangle has A at the lower left, then B, C and D counter-clockwise",
        ),
        "unknown-line/none": error(
            "{name:quoted}",
            '{runs:or}, such as "A-B", or a line of the piece',
            "write the letters of its corners, or add that line to the piece's lines",
        ),
        "unknown-fold": error("{name:quoted}", "{known:quoted}", "write {near:suggested}, or add the fold"),
        "unknown-fold/none": error("{name:quoted}", "the piece has no fold", "add the fold to its folds"),
        "unknown-mate": error("{name:quoted}", "{known:quoted}", "write {near:suggested}, or add it"),
        "unknown-mate/none": error("{name:quoted}", "nothing that it could be is in the file", "add it"),
        "unknown-opening": error(
            "{name:quoted}", "{known:quoted}", "write {near:suggested}, or add the opening"
        ),
        "unknown-opening/none": error("{name:quoted}", "no opening is in the file", "add the opening"),
        "unknown-paper": error("{value:quoted}", "{papers}", "write {near:quoted}, or " + _A_PAPER),
        "unknown-paper/size": error("{value:quoted}", "{papers}", "write {near:quoted}"),
        "unknown-paper/far": error("{value:quoted}", "{papers}", "write the name of a paper, or " + _A_PAPER),
        "unknown-part": error("{name:quoted}", "{known:quoted}", "write {near:suggested}, or add the part"),
        "unknown-part/none": error("{name:quoted}", "no part is in the file", "add the part"),
        "unknown-piece": error("{name:quoted}", "{known:quoted}", "write {near:suggested}, or add the piece"),
        "unknown-piece/colon": error("{name:quoted}", "{known:quoted}", "write {meant:quoted}, with a colon"),
        "unknown-piece/turned": error(
            "{name:quoted}", "{known:quoted}", "write {meant:quoted}, the piece before the colon"
        ),
        "unknown-piece/nothing": error(
            "{name:quoted}", "{known:quoted}", "take it out where no piece is meant, or write one of these"
        ),
        "unknown-piece/none": error("{name:quoted}", "no piece is in the file", "add the piece"),
        "unknown-seam": error("{name:quoted}", "{known:quoted}", "write {near:suggested}, or add the seam"),
        "unknown-seam/none": error("{name:quoted}", "no seam is in the file", "add the seam"),
        "unknown-work": error(
            "{name:quoted}", "{known:quoted}", "write {near:suggested}, or add the seam or opening"
        ),
        "unknown-work/none": error(
            "{name:quoted}", "no seam or opening is in the file", "add the seam or opening"
        ),
        "unprintable-character": error(
            "the character U+{character:04X} in {value:quoted}", "{allowed}", "take it out; write one line"
        ),
        "zero": error("{found}", "{allowed}", "make it larger"),
        "zero/unit": error("{found}", "{allowed}", "make it larger" + _OTHER_UNIT),
    }
)
