"""Cut list: what to cut, what to buy, which punches lie ready, as pages.

In: the plan, the typesetter. Out: blocks. Thread has a page of its own.
"""

from __future__ import annotations

from handkit.draw.layout.flow import Block, gap
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.words.listing import Listing
from handkit.draw.words.lists import cut_list
from handkit.draw.words.names import KitPlan


def cut_list_blocks(kit: KitPlan, setter: Typesetter) -> tuple[Block, ...]:
    """All sections that have something in them."""
    return tuple(block for section in cut_list(kit) for block in listing_blocks(section, setter))


def listing_blocks(section: Listing, setter: Typesetter) -> tuple[Block, ...]:
    """A section's heading, table, texts and caution; nothing where it is empty."""
    caution = f"Caution: {section.caution}" if section.caution else ""
    body = (
        *setter.table(section.columns, section.rows),
        *setter.texts(section.texts, space=0.0),
        *setter.text(caution, bold=True),
    )
    return (*setter.heading(section.title, space=0.8), *body, gap(5)) if body else ()
