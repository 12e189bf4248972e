"""The plan's document as one page for a browser at the bench.

In: the plan and what it was made from. Out: HTML in one file that asks nothing of any other. Without a script
it is the whole plan to read; with `bench.js` one leaf at a time, boxes that stay ticked, and a counter along
each seam.

Words: a *leaf* is what is looked at by itself: the contents, what stands under one heading, a step.
"""

from __future__ import annotations

from importlib import resources
from xml.etree import ElementTree as ET

from handkit.draw.export.bench_parts import PARTS, BenchSource
from handkit.draw.export.html_writing import THEIRS, html_file, told, under
from handkit.draw.model.fonts import load_fonts
from handkit.draw.words.document import Chapter, Heading, Ticked
from handkit.draw.words.names import kit_plan, span_words
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
    told(head, "h1", document.title, THEIRS)
    told(under(head, "noscript"), "p", NO_SCRIPT)
    told(head, "p", NOT_KEPT, {"id": "kept", "class": "caution", "hidden": ""})
    main = under(body, "main")
    contents = under(main, "nav", {"id": "contents", "class": "leaf", "aria-label": "Contents"})
    told(contents, "h2", "Contents", {"tabindex": "-1"})
    told(contents, "p", "", {"id": "so-far", "class": "soft", "hidden": ""})
    told(contents, "a", "", {"id": "to-do", "class": "button", "href": "#contents", "hidden": ""})
    links = under(contents, "ul")
    for chapter in document.chapters:
        _chapter(source, chapter, main, links)
    body.append(_turning())
    style, script = (
        resources.files(__package__).joinpath(f"bench.{end}").read_text("utf-8") for end in ("css", "js")
    )
    return html_file(f"{document.title}: at the bench", body, style=style, script=script)


def _chapter(source: BenchSource, chapter: Chapter, main: ET.Element, links: ET.Element) -> None:
    """A leaf for what stands under each of its headings, the first under its title where it has none before,
    and one for each step; a link leads to each."""
    home: ET.Element | None = None
    for part in chapter.parts:
        if isinstance(part, Ticked) and part.is_work:
            (step,) = PARTS[Ticked](source, part)
            step.set("class", "leaf step")
            main.append(step)
            _link(links, step, f"{span_words(part.marks)} {part.title or part.brief}")
            continue
        if home is None or isinstance(part, Heading):
            title = part.text if isinstance(part, Heading) else chapter.title
            home = under(main, "section", {"id": f"leaf-{len(links) + 1}", "class": "leaf"})
            told(home, "h2", title, {"tabindex": "-1"})
            _link(links, home, title)
        if not isinstance(part, Heading):
            home.extend(PARTS[type(part)](source, part))


def _link(links: ET.Element, leaf: ET.Element, text: str) -> None:
    told(under(links, "li"), "a", text, {"href": f"#{leaf.get('id')}"})


def _turning() -> ET.Element:
    """What turns from leaf to leaf; without a script all are there."""
    bar = ET.Element("nav", {"id": "turn", "class": "row", "aria-label": "Turn the page", "hidden": ""})
    told(bar, "button", "Back", {"type": "button"})
    told(bar, "a", "Contents", {"href": "#contents", "class": "button"})
    told(bar, "button", "Next", {"type": "button", "class": "next"})
    return bar
