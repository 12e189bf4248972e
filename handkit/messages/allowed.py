"""What may be written in the project file: the phrase that an error and the reference give for each kind.

Placeholders are the fields of a key: its range, the number of entries or characters, its choices,
the header of its table.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.kinds.pages import PAPERS_ALLOWED

_LENGTH = "a length from {least:up} to {most:down}"

ALLOWED: Mapping[str, str] = MappingProxyType(
    {
        "format": "1",
        "text": "a line of text, at most {many} characters",
        "name": "a name, at most {many} characters, without : or #",
        "choice": "{choices:quoted or}",
        "flag": "true or false",
        "count": "a whole number from {least:g} to {most:g}",
        "percent": "a number from {least:g} to {most:g}",
        "angle": "degrees, a number from {least:g} to {most:g}",
        "length": _LENGTH,
        "thickness": "a thickness from {least:up} to {most:down}",
        "size": "[width, height], each " + _LENGTH + ', or "arranged"',
        "slot": "[length, width], each " + _LENGTH,
        "point": "a point [x, y], each " + _LENGTH,
        "points": "a list of {few} to {many} points [x, y]",
        "corners": "a list of {few} to {many} points [x, y], one for each corner in order",
        "round": _LENGTH + ", or a table by letter, {{ A = 12, B = 12 }}",
        "arc": 'a table by edge, {{ "B-C" = 12 }}, each ' + _LENGTH,
        "lines": "a table by name, {{ divider = [[x, y], [x, y]] }}",
        "marks": "a table by kind, {choices:quoted or}, each a list of lines, "
        "{{ meet = [[[x, y], [x, y]]] }}",
        "outlines": "a table by name, {{ awl = [[x, y], [x, y], [x, y], [x, y]] }}",
        "widths": 'a table by edges, {{ "A-B-C" = 2 }}, each ' + _LENGTH,
        "skive": 'a table by edges, {{ "A-B" = {{ width = 12, to = 1 }} }}',
        "hem": 'a table by edges, {{ "C-D" = 15 }}, each '
        + _LENGTH
        + ", or {{ width = 15, turns = 2, turn_in = 8 }}",
        "binding": 'a table by edges, {{ "A-B-C" = 20 }}, each '
        + _LENGTH
        + ", or {{ width = 20, thickness = 0.5 }}",
        "hole": "{{ round = 1.6 }} or {{ slit = 2.5, slant = 45 }}",
        "iron": "{{ teeth = 6, pitch = 4 }}",
        "spool": 'a number of metres from {least:g} to {most:g}, or text with its unit such as "25 m"',
        "run": '"piece: A-B-C", "piece: line" or "piece"',
        "runs": 'a list of {few} to {many} runs, each "piece: A-B-C", "piece: line", "piece" '
        'or {{ run = "…" }}',
        "match": 'a list of points, each a list with a letter, a point [x, y] or "" for every run',
        "names": "a list of {few} to {many} names",
        "piece": "the name of a piece",
        "mate": "the name of its other half",
        "part": "the name of a part",
        "box": "[width, thickness, length], each " + _LENGTH,
        "range": "[least, most], each " + _LENGTH,
        "ease": _LENGTH + ', or a percentage such as "5 %"',
        "row": "[count, dx, dy], a whole number from {least:g} to {most:g} and two lengths",
        "places": "a table by piece, {{ front = [[x, y], [x, y]] }}",
        "paper": PAPERS_ALLOWED,
        "shape": "a list of {few} to {many} points [x, y], or a shape's id in an .svg file in the project's "
        'folder, "things.svg#knife"',
        "things": "a .toml file in the project's folder",
        "font": "a .ttf file in the project's folder",
        "table": "a table, {header}",
        "tables": "tables, {header}, at most {many}",
    }
)
