"""By hand: the outlines of traced things over their pictures, as SVG 1.1 at true size, to be mended in any
drawing program.

In: the things with their pictures. Out: text: one drawing, 1 unit is 1 mm, the things one under another, each
in its own frame: its picture, its outline as one path with an id that a project may name
(`outline = "things.svg#thing-2"`), its number and name. SVG's y goes down, so every y is turned.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Sequence
from xml.etree import ElementTree as ET

from handkit.draw.export.svg_writing import drawing, set_title, svg_file, svg_number, xml_text
from handkit.photo.traced import NamedThing

LINK = "http://www.w3.org/1999/xlink"

GAP, SIZE = 8.0, 4.0
OUTLINE = {"fill": "none", "stroke": "#d00000", "stroke-width": "0.25", "stroke-linejoin": "round"}
LETTERS = {"font-family": "sans-serif", "font-size": svg_number(SIZE), "fill": "black", "stroke": "none"}


def by_hand_svg(things: Sequence[NamedThing], title: str) -> str:
    """The drawing."""
    boxes = [each.cut_out.box for each in things]
    width = max(box.width for box in boxes) + 2 * GAP
    root = drawing(width, sum(box.height + SIZE + 2 * GAP for box in boxes))
    root.set("xmlns:xlink", LINK)
    set_title(root, title)
    top = 0.0
    for each, box in zip(things, boxes, strict=True):
        top += GAP + SIZE
        group = ET.SubElement(root, "g")
        place = {"x": svg_number(GAP), "y": svg_number(top)}
        size = {"width": svg_number(box.width), "height": svg_number(box.height)}
        data = f"data:image/jpeg;base64,{b64encode(each.cut_out.jpeg).decode()}"
        ET.SubElement(group, "image", {**place, **size, "preserveAspectRatio": "none", "xlink:href": data})
        words = {"x": svg_number(GAP), "y": svg_number(top - 1.5)}
        ET.SubElement(group, "text", {**LETTERS, **words}).text = xml_text(each.told)
        points = [
            f"{svg_number(GAP + x - box.left)} {svg_number(top + box.top - y)}" for x, y in each.thing.outline
        ]
        ET.SubElement(group, "path", {"id": each.id, **OUTLINE, "d": f"M {' L '.join(points)} Z"})
        top += box.height + GAP
    return svg_file(root)
