"""SVG writing: what all SVG files of handkit share.

In: sizes, texts, numbers in mm. Out: elements of SVG 1.1, where 1 unit is 1 mm.
"""

from __future__ import annotations

from xml.etree import ElementTree as ET

NAMESPACE = "http://www.w3.org/2000/svg"

# Characters that XML 1.0 has no place for, not even escaped.
_NOT_XML = dict.fromkeys((*range(0x09), 0x0B, 0x0C, *range(0x0E, 0x20), 0xFFFE, 0xFFFF), "\ufffd")


def drawing(width: float, height: float) -> ET.Element:
    """The root of a drawing of a size: nothing filled, black lines."""
    wide, high = svg_number(width), svg_number(height)
    size = {"width": f"{wide}mm", "height": f"{high}mm", "viewBox": f"0 0 {wide} {high}"}
    return ET.Element(
        "svg", {"xmlns": NAMESPACE, "version": "1.1", **size, "fill": "none", "stroke": "black"}
    )


def set_title(element: ET.Element, text: str) -> None:
    """What a viewer tells of an element."""
    ET.SubElement(element, "title").text = xml_text(text)


def xml_text(text: str) -> str:
    """A text as XML can hold it."""
    return text.translate(_NOT_XML)


def svg_file(root: ET.Element) -> str:
    """The file's text."""
    ET.indent(root)
    head = '<?xml version="1.0" encoding="UTF-8"?>\n'
    return head + "<!-- handkit -->\n" + ET.tostring(root, encoding="unicode") + "\n"


def svg_number(value: float) -> str:
    """Four decimals at most, no -0.

    >>> svg_number(1 / 3), svg_number(-0.00001), svg_number(2)
    ('0.3333', '0', '2')
    """
    return f"{round(value, 4) + 0.0:.4f}".rstrip("0").rstrip(".")
