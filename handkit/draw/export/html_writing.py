"""HTML writing: elements with texts of any language, and the whole of a file that asks for no other.

In: names, texts. Out: elements; text of a file.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Mapping
from hashlib import sha256
from xml.etree import ElementTree as ET

from handkit.draw.export.svg_writing import xml_text

NOTHING: Mapping[str, str] = {}
# Of a text that is the maker's alone, which may be written from right to left.
THEIRS: Mapping[str, str] = {"dir": "auto"}


def under(parent: ET.Element, tag: str, given: Mapping[str, str] = NOTHING) -> ET.Element:
    """A new element, last in another."""
    return ET.SubElement(parent, tag, dict(given))


def told(parent: ET.Element, tag: str, text: str, given: Mapping[str, str] = NOTHING) -> ET.Element:
    """A new element with a text of ours, which may hold names of any language."""
    element = under(parent, tag, given)
    element.text = xml_text(text)
    return element


def html_file(title: str, body: ET.Element, *, style: str, script: str) -> str:
    """The file's text. Its policy lets in this style and this script and nothing else; what a browser keeps
    for it is kept under a name that is made of all it tells."""
    key = sha256(ET.tostring(body)).hexdigest()[:16]
    html = ET.Element("html", {"lang": "en", "data-key": f"handkit-{key}"})
    head = under(html, "head")
    under(head, "meta", {"charset": "utf-8"})
    allowed = (f"style-src {_hashed(style)}", f"script-src {_hashed(script)}")
    policy = "; ".join(("default-src 'none'", *allowed, "base-uri 'none'", "form-action 'none'"))
    under(head, "meta", {"http-equiv": "Content-Security-Policy", "content": policy})
    under(head, "meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"})
    under(head, "title").text = xml_text(title)
    under(head, "style").text = style
    html.append(body)
    under(body, "script").text = script
    return "<!doctype html>\n" + ET.tostring(html, encoding="unicode", method="html") + "\n"


def _hashed(text: str) -> str:
    """As a policy names what may stand in a page (Content Security Policy, level 2)."""
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"
