"""Pages of marks as one SVG 1.1 drawing at true size, one page under the other.

In: pages, the paper; or a block's groups. Out: text; an element. Each mark is a group with its kind as the
class and what its tag says as the title, which viewers tell where one points at it. SVG's y goes down, so
every y is turned.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from xml.etree import ElementTree as ET

import msgspec

from handkit.draw.export.svg_writing import drawing, set_title, svg_file, svg_number, xml_text
from handkit.draw.model.marks import Group, Ink, Mark, Page, Words, settled
from handkit.draw.model.path_ops import PathOps
from handkit.paper import Paper

_LETTERS: Mapping[str, str] = {"m": "M", "l": "L", "c": "C", "h": "Z"}
_FONT = "DejaVu Sans, sans-serif"


def pages_svg(pages: Sequence[Page], *, paper: Paper, title: str) -> str:
    """The drawing: as wide as the paper, as high as all pages together."""
    root = drawing(paper.width, paper.height * len(pages))
    set_title(root, title)
    writer = _Writer(root)
    for number, page in enumerate(pages, start=1):
        sheet = ET.SubElement(root, "g", {"id": f"page-{number}"})
        for group in page.groups:
            writer.group(sheet, settled(group), number * paper.height)
    return svg_file(root)


def block_svg(groups: Sequence[Group], width: float, height: float, *, name: str, title: str) -> ET.Element:
    """Groups of a block's frame, y up from its upper edge, as a drawing within another file, where `name` is
    its own; a viewer may take it to any size."""
    root = drawing(width, height)
    for size in ("width", "height"):
        del root.attrib[size]
    root.set("role", "img")
    root.set("aria-labelledby", name)
    set_title(root, title)
    root[0].set("id", name)
    writer = _Writer(root, prefix=f"{name}-")
    for group in groups:
        writer.group(root, settled(group), 0.0)
    return root


class _Writer(msgspec.Struct):
    """Writes groups; clips are numbered through the drawing. `base` is where y is 0."""

    root: ET.Element
    clips: int = 0
    prefix: str = ""

    def group(self, parent: ET.Element, group: Group, base: float) -> None:
        """Each clip is a group round what it cuts."""
        for clip in group.clips:
            self.clips += 1
            name = f"{self.prefix}clip-{self.clips}"
            outline = ET.SubElement(ET.SubElement(self.root, "clipPath", {"id": name}), "path")
            outline.set("d", _steps(clip, base))
            parent = ET.SubElement(parent, "g", {"clip-path": f"url(#{name})"})
        for mark in group.marks:
            _mark(parent, mark, base)


def _mark(parent: ET.Element, mark: Mark, base: float) -> None:
    element = ET.SubElement(parent, "g", {"class": mark.tag.name.lower()})
    if mark.properties:
        set_title(element, " ".join(str(value) for _, value in mark.properties))
    for part in mark.parts:
        if isinstance(part, Words):
            _words(element, part, base)
        else:
            _ink(element, part, base)


def _ink(parent: ET.Element, ink: Ink, base: float) -> None:
    path = ET.SubElement(parent, "path", {"d": _steps(ink.path, base)})
    if ink.fill is not None or ink.stroke is None:
        path.set("fill", _grey(ink.fill or 0.0))
    if ink.stroke is None:
        path.set("stroke", "none")
        return
    path.set("stroke-width", svg_number(ink.stroke.width))
    path.set("stroke-linejoin", "round")
    if ink.stroke.grey:
        path.set("stroke", _grey(ink.stroke.grey))
    if ink.stroke.dash:
        path.set("stroke-dasharray", " ".join(svg_number(length) for length in ink.stroke.dash))


def _words(parent: ET.Element, words: Words, base: float) -> None:
    x, y = svg_number(words.at[0]), svg_number(base - words.at[1])
    look = {"x": x, "y": y, "font-family": _FONT, "font-size": svg_number(words.size)}
    element = ET.SubElement(parent, "text", {**look, "fill": "black", "stroke": "none"})
    if words.bold:
        element.set("font-weight", "bold")
    if words.degrees:
        element.set("transform", f"rotate({svg_number(-words.degrees)} {x} {y})")
    element.text = xml_text(words.text)


def _steps(path: PathOps, base: float) -> str:
    steps = []
    for operator, numbers in path.each():
        turned = [n if k % 2 == 0 else base - n for k, n in enumerate(numbers)]
        steps.append(" ".join([_LETTERS[operator], *map(svg_number, turned)]))
    return " ".join(steps)


def _grey(share: float) -> str:
    """A grey, 0 black to 1 white.

    >>> _grey(1.0), _grey(0.0)
    ('#ffffff', '#000000')
    """
    return f"#{round(share * 255):02x}" + f"{round(share * 255):02x}" * 2
