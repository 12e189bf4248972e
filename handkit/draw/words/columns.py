"""Columns: those of each list's table, with the unit that their figures are in.

In: how lengths are written. Out: columns.
"""

from __future__ import annotations

from collections.abc import Callable
from operator import attrgetter, itemgetter
from typing import Any

from handkit.draw.words.listing import Column, figures
from handkit.draw.words.needle_words import walk_words
from handkit.stitch.plan import MaterialRow
from handkit.wording.figures import Measure, Units


def piece_columns(units: Units) -> tuple[Column, ...]:
    """Of pieces to cut."""
    return (
        Column("piece", 5, attrgetter("piece")),
        figures("cut", 1.4, lambda row: str(row.quantity)),
        figures(f"size, {units.unit}", 3.4, lambda row: units.rough.across(row.width, row.height)),
        figures(*_thick(units)),
        figures(f"area, {units.area.unit}", 2.4, lambda row: units.area.number(row.area_mm2)),
        Column("note", 9, attrgetter("note")),
    )


def _thick(units: Units) -> tuple[str, float, Callable[[Any], str]]:
    """Thicknesses: as they are written where that is in inches or ounces, which stand behind each then."""
    if units.unit == "mm":
        return "thick, mm", 2.4, lambda row: units.number(row.thickness)
    return "thick", 2.4, lambda row: units.thickness(row.thickness)


def material_columns(units: Units) -> tuple[Column, ...]:
    """Of what to buy, net and with waste, in each unit it is sold by."""
    return (
        Column("material", 4, lambda row: _name(row, units)),
        *(column for measure in units.material for column in _areas(measure)),
    )


def _areas(measure: Measure) -> tuple[Column, Column]:
    return (
        figures(f"net, {measure.unit}", 2, lambda row: measure.number(row.net_mm2)),
        figures(f"with waste, {measure.unit}", 2.7, lambda row: measure.number(row.gross_mm2)),
    )


def _name(row: MaterialRow, units: Units) -> str:
    return f"{row.material} {units.thickness(row.thickness)}" if row.thickness else row.material


def fit_columns(units: Units) -> tuple[Column, ...]:
    """Of the room that items have."""
    number, bound = units.sizes.number, units.rough.number
    return (
        Column("item", 4, attrgetter("item")),
        Column("in", 5, lambda fit: f"{fit.part}, {fit.measure}"),
        figures("needs", 1.6, lambda fit: number(fit.needed)),
        figures("has", 1.6, lambda fit: number(fit.given)),
        figures("ease", 1.6, lambda fit: number(fit.ease)),
        Column("allowed", 3.0, lambda fit: f"{bound(fit.least)} to {bound(fit.most)}"),
        Column("fit", 2.4, attrgetter("told")),
    )


def hardware_columns(units: Units) -> tuple[Column, ...]:
    """Of what is bought ready-made, with the posts that fit."""
    posts, in_mm = units.rough.number, units.unit == "mm"
    bought: Callable[[float], str] = posts if in_mm else units.tool  # which tells both units
    buy = "buy, mm" if in_mm else "buy"

    def told(length: float | None, measured: Callable[[float], str]) -> str:
        return "-" if length is None else measured(length)

    return (
        Column("what", 2, attrgetter("what")),
        figures("pieces", 1.5, lambda row: str(row.count)),
        figures(f"post, {units.unit}", 1.8, lambda row: told(row.post, posts)),
        figures(buy, 1.8, lambda row: told(row.at_hand or row.common, bought)),
        Column("sizes", 14, attrgetter("sizes")),
    )


def seam_columns(units: Units) -> tuple[Column, ...]:
    """Of seams in a line each."""
    return (
        Column("seam", 5, lambda pair: pair[0].seam_title(pair[1])),
        figures("holes", 1.4, lambda pair: str(pair[1].punched.count)),
        figures(f"length, {units.unit}", 2, lambda pair: units.sizes.number(pair[1].length)),
        figures(f"pitch, {units.unit}", 2, lambda pair: units.pitch.number(pair[1].pitch)),
        figures(f"stack, {units.unit}", 2, lambda pair: units.number(pair[1].stack)),
        figures(f"thread, {units.unit}", 2, lambda pair: units.cut_thread.number(pair[1].thread)),
        Column("way", 4, lambda pair: walk_words(pair[1].walk)),
    )


def glue_columns(units: Units) -> tuple[Column, ...]:
    """Of what is glued on what."""
    return (
        Column("piece", 4, itemgetter(0)),
        Column("on", 7, itemgetter(1)),
        figures(f"of each face, {units.area.unit}", 2.6, lambda row: units.area.number(row[2])),
    )


HOLES = (
    Column("hole", 6.5, itemgetter(0)),
    figures("holes", 1.5, itemgetter(1)),
    Column("for, with the stack", 11, itemgetter(2)),
)
TOOLS = (
    Column("tool", 1.6, itemgetter(0)),
    Column("size", 5.4, itemgetter(1)),
    Column("for", 7, itemgetter(2)),
)
