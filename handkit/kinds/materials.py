"""Materials: what makes leather, felt, canvas and webbing unlike one another.

One row a material: whether it is leather or cloth, whether a cut edge frays, how often it can be turned,
the ease it takes up and leaves; what all leather has, and all cloth, is its family's row: words of the
sides, how stitch holes are made. A new material is a member of `Material` and a row.

Words: *ease* of a seam is how much longer one line is than its mate, long ÷ short − 1; ease of an item is
the room it has beyond what it needs, mm. Both by material are *common practice, no source*: makers give
a finger's play, less where leather stretches to the thing and holds it by its grip, more where cloth has
no give and frays if it is forced. A punch cuts the yarns of cloth that an awl or a needle parts (trade).

| material | seam's ease: silent, noted, warned | item's ease: wanted, least, most |
| --- | --- | --- |
| firm leather | 1, 3, 5 % | 2, 1, 6: gives a little with use |
| soft leather | 2, 5, 8 % | 2, 0, 8: stretches to the thing |
| felt | 2, 5, 8 % | 3, 0, 10: gives, and rubs |
| canvas | 2, 5, 8 % | 4, 2, 12: gives nothing |
| webbing | 1, 3, 5 % | 4, 2, 12: gives nothing, lengthwise least |
"""

from __future__ import annotations

from enum import StrEnum

import msgspec

from handkit.kinds.rows import table


class Material(StrEnum):
    """What a piece is cut from."""

    FIRM_LEATHER = "firm leather"
    SOFT_LEATHER = "soft leather"
    FELT = "felt"
    CANVAS = "canvas"
    WEBBING = "webbing"


class Family(StrEnum):
    """What is worked alike."""

    LEATHER = "leather"
    CLOTH = "cloth"


class FamilyTraits(msgspec.Struct, frozen=True):
    """What leather and cloth are called by and how they are worked. Stitch holes are punched, or marked only
    and opened by awl or needle, which part the yarns that a punch would cut."""

    front: str  # the side that shows as a rule
    back: str
    arrow: str  # what goes along the arrow
    punched: bool
    laid: str  # how templates are laid before the first cut
    marked: str  # why it is marked as it is
    turned: str  # what holds an edge that is turned
    opened: str  # how an allowance is laid flat
    finish: str  # the last step, and why it is the last
    finish_why: str


FAMILIES = table(
    Family,
    {
        Family.LEATHER: FamilyTraits(
            front="grain side",
            back="flesh side",
            arrow="grain",
            punched=True,
            laid="templates are laid on the whole hide; best leather for the largest pieces",
            marked="leather is marked and punched before dye and glue, while each piece lies flat",
            turned="glue it down and hammer it flat",
            opened="Glue and hammer",
            finish="Oil sparingly, let it sink in, then finish; let it dry.",
            finish_why="oil and finish come last: glue holds on neither",
        ),
        Family.CLOTH: FamilyTraits(
            front="face",
            back="back",
            arrow="warp",
            punched=False,
            laid="templates are laid on the whole cloth before the first cut, largest pieces first",
            marked="cloth is marked while it lies flat; a punch would cut the yarns that awl and needle part",
            turned="press it, and hold it with clips",
            opened="Press",
            finish="Clip thread ends, brush and press.",
            finish_why="it is looked over last",
        ),
    },
)


class EaseLimits(msgspec.Struct, frozen=True):
    """Of a seam, as shares: silent up to the first, then a note, then a warning, above the third an error."""

    silent: float
    noted: float
    warned: float


class EaseRange(msgspec.Struct, frozen=True):
    """The ease an item is given where none is stated, and what is allowed, all mm."""

    wanted: float
    least: float
    most: float

    def roomier(self, more: float) -> EaseRange:
        """The same where a place must be so much wider for what is not its thing's width."""
        return EaseRange(self.wanted, self.least, self.most + more)


class MaterialTraits(msgspec.Struct, frozen=True):
    """One material."""

    family: Family
    frays: bool  # yarns come out of a cut edge that is left raw
    sealed: bool  # only its cut ends fray, and these are sealed where it melts
    grained: bool  # it stretches least along one way, which the arrow shows
    turns: int  # how often an edge can be turned to the back, one turn on the other
    damped: bool  # firm enough that it is damped to be folded
    seam_ease: EaseLimits
    item_ease: EaseRange

    @property
    def words(self) -> FamilyTraits:
        """What its sides are called, and how it is pierced."""
        return FAMILIES[self.family]

    @property
    def is_leather(self) -> bool:
        """Whether it is dyed, bevelled, burnished and oiled; all else is cloth."""
        return self.family is Family.LEATHER


_FIRM, _YIELDING = EaseLimits(0.01, 0.03, 0.05), EaseLimits(0.02, 0.05, 0.08)

MATERIALS = table(
    Material,
    {
        Material.FIRM_LEATHER: MaterialTraits(
            Family.LEATHER,
            frays=False,
            sealed=False,
            grained=True,
            turns=1,
            damped=True,
            seam_ease=_FIRM,
            item_ease=EaseRange(2.0, 1.0, 6.0),
        ),
        Material.SOFT_LEATHER: MaterialTraits(
            Family.LEATHER,
            frays=False,
            sealed=False,
            grained=True,
            turns=2,
            damped=False,
            seam_ease=_YIELDING,
            item_ease=EaseRange(2.0, 0.0, 8.0),
        ),
        Material.FELT: MaterialTraits(
            Family.CLOTH,
            frays=False,
            sealed=False,
            grained=False,
            turns=1,
            damped=False,
            seam_ease=_YIELDING,
            item_ease=EaseRange(3.0, 0.0, 10.0),
        ),
        Material.CANVAS: MaterialTraits(
            Family.CLOTH,
            frays=True,
            sealed=False,
            grained=True,
            turns=2,
            damped=False,
            seam_ease=_YIELDING,
            item_ease=EaseRange(4.0, 2.0, 12.0),
        ),
        Material.WEBBING: MaterialTraits(
            Family.CLOTH,
            frays=True,
            sealed=True,
            grained=True,
            turns=2,
            damped=False,
            seam_ease=_FIRM,
            item_ease=EaseRange(4.0, 2.0, 12.0),
        ),
    },
)
