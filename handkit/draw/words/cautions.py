"""Cautions: short reminders for the bench: all on the first sheet, each again where it matters.

Worded after public guidance on hand tools (OSHA 3080), solvents (NIOSH pages on toluene and
n-hexane), leather dust (IARC Monograph 100C) and revolving machines (HSE HSG129); none is quoted.
They name the hazard and what keeps clear of it; no limit and no rule of a country is printed.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.kinds.materials import Family
from handkit.stitch.plan import StepKind

# Each with what alone asks for it; None is any work.
CAUTIONS: tuple[tuple[str, Family | None], ...] = (
    ("Knife: sharp, in light passes, away from hands.", None),
    ("Punch and mallet: eye and ear protection.", None),
    ("Awl: into a backing, with no hand behind it.", None),
    ("Solvent glue: fresh air, no flame, spark, heater.", None),
    ("Dye and finish: gloves and fresh air.", Family.LEATHER),
    ("Oily rags can catch fire: dry them flat, outside.", Family.LEATHER),
    ("Leather dust can cause cancer: mask, extraction.", Family.LEATHER),
    ("Melted thread burns: off skin, away from glue.", None),
    ("Burnishers: no gloves, sleeves or loose hair.", Family.LEATHER),
    ("Flat iron: hot; stand it up, switch it off.", Family.CLOTH),
)


def cautions(families: Sequence[Family]) -> tuple[str, ...]:
    """Those of the first sheet that the materials ask for."""
    return tuple(text for text, family in CAUTIONS if family is None or family in families)


CLOSING = "Reminders only: local rules, trained advice first."

# Repeated at every part of the plan that has cautions.
RULES = "Cautions are reminders: local rules, the makers' data sheets and trained advice go before them."

_DUST = (
    "sanding dust of leather can cause cancer: wear a mask, use extraction. A turning burnisher takes "
    "hold of gloves, sleeves, hair and string: none near it, and never hold cloth round it."
)

# Of holes that are only cut: no setter, no mallet on hardware.
AT_HOLE = (
    "the punch upright on a soft backing, eye protection when you strike; the knife from hole to hole in "
    "light passes, the hand that holds behind the blade."
)

# Of cloth alone, which is cut with shears, and marked and not struck.
AT_SHEARS = "shears or a knife cut you as well as cloth: fingers out of their way, closed when laid down."
AT_MARK = "the awl square to the work, on a backing, no hand behind it."

# Of leather alone, which is turned over glue with a hammer, and never ironed.
AT_TURNED_LEATHER = (
    "solvent glue in a turned edge: fresh air, no flame or heater. Hammer with the fingers clear of the face."
)

# What a step asks for; given at the first step of its kind.
AT_STEP: dict[StepKind, str] = {
    StepKind.CUT: (
        "a sharp knife on a mat, several light passes, away from yourself and others, no fingers before "
        "the blade; cover it when you lay it down."
    ),
    StepKind.MARK: (
        "the awl square to the work, on a backing, no hand behind it. When you strike: eye protection, "
        "ear protection for more than a few blows, a plastic or rawhide mallet, a soft backing."
    ),
    StepKind.SEAL: (
        "melting webbing drips, burns and smokes: fresh air, off skin, a dish of water at hand, never near "
        "solvent glue; a hot knife on its stand. Try it on a scrap: what only chars is not sealed so."
    ),
    StepKind.HEM: (
        "a flat iron burns hands and scorches or melts cloth: try it on a scrap, stand it up, switch it off. "
        "Solvent glue in a turned edge: fresh air, no flame or heater."
    ),
    StepKind.SKIVE: "skiving knives slip: a sharp blade, thin shavings, away from the hand that holds.",
    StepKind.DYE: "gloves, a covered bench and fresh air; read the label of the dye first.",
    StepKind.GLUE: (
        "vapour of solvent glue catches fire and creeps along the floor: no flame, heater or spark, much "
        "fresh air; read its data sheet. Water-based glue spares you that."
    ),
    StepKind.OPENING: (
        "eye protection when setting or clipping: pieces fly. Hold the setter with pliers or a holder, "
        "not with fingers under the mallet."
    ),
    StepKind.SEAM: (
        "pull the needles out sideways, never towards a face. Melting thread drips, burns and smokes: off "
        "skin, in fresh air, never near solvent glue or its vapour."
    ),
    StepKind.BEVEL: _DUST,
    StepKind.EDGES: _DUST,
    StepKind.TRIM: "the knife again: light passes, the hand that holds behind the blade.",
    StepKind.BURNISH: _DUST,
    StepKind.FINISH: (
        "gloves and fresh air. Rags with oil or finish can catch fire by themselves: dry them flat, outside."
    ),
}
