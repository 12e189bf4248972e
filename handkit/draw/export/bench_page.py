"""The plan's document as one page for a browser at the bench.

In: the plan and what it was made from. Out: HTML in one file that asks nothing of any other. Without a script
it is the whole plan to read; with `bench.js` one step at a time, boxes that stay ticked, and a counter along
each seam.
"""

from __future__ import annotations

from importlib import resources
from xml.etree import ElementTree as ET

from handkit.draw.export.bench_parts import PARTS, BenchSource
from handkit.draw.export.html_writing import html_file, told, under
from handkit.draw.model.fonts import load_fonts
from handkit.draw.words.document import Chapter, Heading, Ticked
from handkit.draw.words.names import kit_plan
from handkit.draw.words.plan_document import plan_document
from handkit.punch.punched import Punched
from handkit.stitch.plan import StitchPlan

NOT_KEPT = "This browser keeps nothing for a file: what you tick is lost when the page is closed."
NO_SCRIPT = "Without scripts boxes are not kept and holes are not counted; all else is here."


def bench_page(plan: StitchPlan, punched: Punched) -> str:
    """The page. Raises ProjectError where the project's font can't be used: pictures measure its letters."""
    kit = kit_plan(punched, plan)
    document = plan_document(kit)
    source = BenchSource(kit, load_fonts(punched.project))
    body = ET.Element("body")
    head = under(body, "header")
    told(head, "h1", document.title)
    told(under(head, "noscript"), "p", NO_SCRIPT)
    told(head, "p", NOT_KEPT, {"id": "kept", "class": "caution", "hidden": ""})
    links = under(under(head, "nav", {"aria-label": "Parts of the plan"}), "ul")
    main = under(body, "main")
    for chapter in document.chapters:
        _chapter(source, chapter, main, links)
    style, script = (
        resources.files(__package__).joinpath(f"bench.{end}").read_text("utf-8") for end in ("css", "js")
    )
    return html_file(f"{document.title}: at the bench", body, style=style, script=script)


def _chapter(source: BenchSource, chapter: Chapter, main: ET.Element, links: ET.Element) -> None:
    """Its parts, those under a heading in a section of their own, which a link leads to; the steps of the
    work in one that is turned over step by step."""
    section = under(main, "section")
    told(section, "h2", chapter.title)
    home = section
    for part in chapter.parts:
        if isinstance(part, Heading):
            name = f"part-{len(links) + 1}"
            home = under(section, "section", {"id": name})
            told(under(links, "li"), "a", part.text, {"href": f"#{name}"})
        home.extend(PARTS[type(part)](source, part))
    if any(isinstance(part, Ticked) and part.brief for part in chapter.parts):
        home.set("class", "steps")
        home.append(_turning())


def _turning() -> ET.Element:
    """What turns from step to step; without a script all are there."""
    bar = ET.Element("div", {"id": "turn", "class": "row", "hidden": ""})
    told(bar, "button", "Step back", {"type": "button"})
    told(bar, "button", "Next step", {"type": "button", "class": "next"})
    told(bar, "button", "All steps", {"type": "button"})
    under(bar, "span", {"id": "place", "class": "strong"})
    return bar
