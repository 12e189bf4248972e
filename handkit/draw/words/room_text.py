"""ItemFit text: how each item sits in its place, and all that a check tells.

In: rooms, findings. Out: rows for a table, text for a terminal, JSON for other programs.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from handkit.draft.pattern import ItemFit
from handkit.draw.export.json_values import FORMAT, mm
from handkit.draw.words.names import figure
from handkit.draw.words.text_lines import headed, text_table
from handkit.findings import Finding

HEADS = ("item", "in", "needs", "has", "ease", "allowed", "fit")


def room_rows(rooms: Sequence[ItemFit]) -> tuple[tuple[str, ...], ...]:
    """A row for each room, as HEADS has it: what was measured stands beside the part. Mm."""
    return tuple(
        (
            room.item,
            f"{room.part}, {room.measure}",
            f"{room.needed:.1f}",
            f"{room.given:.1f}",
            f"{room.ease:.1f}",
            f"{figure(room.least, 1)} to {figure(room.most, 1)}",
            room.fit.value,
        )
        for room in rooms
    )


def room_lines(rooms: Sequence[ItemFit]) -> list[str]:
    """A headed table; nothing where nothing is carried."""
    return [*headed("Room for the items"), *text_table(HEADS, room_rows(rooms), names=2)] if rooms else []


def check_text(findings: Sequence[Finding], rooms: Sequence[ItemFit]) -> str:
    """Findings, a line each, or that there are none; then the room that each item has."""
    told = "".join(f"{finding}\n" for finding in findings) or "nothing to tell: the project is fine\n"
    return told + "".join(f"{line.rstrip()}\n" for line in room_lines(rooms))


def check_json(findings: Sequence[Finding], rooms: Sequence[ItemFit]) -> str:
    """The same for other programs; `rooms` only where items are carried."""
    content: dict[str, Any] = {"format": FORMAT, "findings": [each.to_json() for each in findings]}
    if rooms:
        content["rooms"] = [_room(room) for room in rooms]
    return json.dumps(content, indent=1) + "\n"


def _room(room: ItemFit) -> dict[str, Any]:
    return {
        "item": room.item,
        "part": room.part,
        "measure": room.measure,
        "needed_mm": mm(room.needed),
        "given_mm": mm(room.given),
        "ease_mm": mm(room.ease),
        "least_mm": mm(room.least),
        "most_mm": mm(room.most),
        "fit": room.fit.value,
    }
