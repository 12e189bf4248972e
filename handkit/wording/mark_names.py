"""Mark names: what a reader calls what stands on a template sheet.

In: nothing. Out: a table, by the tag of the mark.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.ink import Tag

MARK_NAMES: Mapping[Tag, str] = MappingProxyType(
    {
        Tag.SQUARE: "test square",
        Tag.BAR: "scale bar",
        Tag.BAR_TICK: "ticks of a scale bar",
        Tag.OUTLINE: "outline",
        Tag.TRIM: "trim line",
        Tag.FINISHED: "finished edge",
        Tag.HEM: "hem fold",
        Tag.STITCH: "stitch line",
        Tag.FOLD: "fold line",
        Tag.CENTRE: "centre cross",
        Tag.SKIVE: "skive line",
        Tag.ONTOP: "outline of what lies on top",
        Tag.ITEM: "outline of an item",
        Tag.MEET: "meeting mark",
        Tag.NOTCH: "notch",
        Tag.TAPE: "tape mark",
        Tag.HOLE: "hole",
        Tag.OPENING: "opening",
        Tag.MARK: "registration mark",
        Tag.RULE: "rule line",
        Tag.CUT: "trim line of a join",
        Tag.BREAK: "break line",
        Tag.GRAIN: "grain arrow",
    }
)
