"""Part keys: the keys of [[item]] and [[part]], the second leaf of the table in `keys.py`.

In [[part]] all kinds have their keys together; which kind has which stands in `part_kinds.py`.
"""

from __future__ import annotations

from handkit.read.parts import PartKind
from handkit.read.rules import (
    MOST_LENGTH,
    Key,
    Kind,
    angle_key,
    choice_key,
    flag_key,
    length_key,
    name_key,
    point_key,
    points_key,
    required,
    section,
    text_key,
    unless,
)

# The thinnest and longest thing that is carried: a sheet of card, a folding rule opened out.
LEAST_SIZE, MOST_SIZE = 0.2, 3000.0

ITEM = section(
    "item",
    "[[item]]",
    "A thing to be carried. Exactly one of size, diameter and section.",
    name_key("of the item, its own"),
    required(Key("in", Kind.PART, "what holds it")),
    Key("size", Kind.BOX, "of the item as it is carried", least=LEAST_SIZE, most=MOST_SIZE),
    length_key("diameter", LEAST_SIZE, MOST_SIZE, "of a round item; its length beside it"),
    points_key(
        "section", Kind.POINTS, "what a cut across it shows, in order; its length beside it", few=3, many=500
    ),
    length_key("length", LEAST_SIZE, MOST_SIZE, "of an item with a diameter or a section"),
    text_key("note", "for the maker's own use"),
)

PART = section(
    "part",
    "[[part]]",
    "What holds items, stated by what it is for; its pieces, lines, seams and openings are drafted.",
    name_key("of the part, its own; what it drafts is named after it"),
    required(choice_key("kind", PartKind, "what it is")),
    unless(Key("on", Kind.PIECE, "its base: the piece it is sewn to"), "required but of linings"),
    unless(point_key("at", "where its lower left corner lies on the base"), "[0, 0]"),
    angle_key("turn", "how far it is turned there, counter-clockwise", 0.0),
    flag_key("behind", "it lies on the base's far side, turned over; `at` is then its lower right corner"),
    unless(Key("ease", Kind.EASE, "room beyond what an item needs", least=0, most=200), "by the material"),
    length_key(
        "shows",
        0,
        MOST_SIZE,
        "how far the longest item stands out of the mouth, or each above its strap",
        25.0,
    ),
    unless(
        length_key("width", 5, MOST_LENGTH, "of the pocket's front, instead of what the items need"),
        "as needed",
    ),
    unless(
        length_key("height", 5, MOST_LENGTH, "from foot to mouth, instead of what the items need"),
        "as needed",
    ),
    unless(length_key("round", 0.1, 500, "radius of the foot's corners"), "sharp"),
    flag_key("dividers", "each item has its place, with a row of stitches between", default=True),
    unless(length_key("mouth", 1, 500, "how far the mouth stands off the base"), "as needed"),
    unless(length_key("hem", 3, 100, "what is folded over at the mouth"), "none"),
    flag_key("rivets", "one at each end of the mouth"),
    length_key("rivet_hole", 0.5, 20, "of those rivets", 3.0),
    length_key("rivet_cap", 1, 40, "of those rivets", 9.0),
    unless(length_key("depth", 1, 500, "of the gusset between base and front"), "as needed"),
    choice_key("gusset", ("plain", "turned"), "its edges butt, or are turned over as flanges", "plain"),
    length_key("strap", 10, 300, "the strap's width", 32.0),
    length_key("gap", 1, 300, "between one item and the next under a strap, and beside the outer ones", 12.0),
    unless(Key("of", Kind.PIECE, "the piece it lies behind"), "required of linings"),
    length_key("inset_by", 0, 200, "how far its edge lies inside the other's", 0.0),
    unless(
        Key("seams", Kind.NAMES, "seams of that piece it is sewn in with", few=1, many=50),
        "one of its own, all round",
    ),
)
