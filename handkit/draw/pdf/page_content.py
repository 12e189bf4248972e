"""Page content: what a page draws as its file has it.

In: a page's groups, the encoder of its file's text, what the printer does. Out: `PageContent`.

What is drawn is `kept` by the groups and by what the pages before have needed of the fonts, of which codes
of characters come: all but the first group, where a page's title and number stand. What is deflated is, too.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from zlib import compress

import msgspec

from handkit.draw.model.marks import Group
from handkit.draw.pdf.operators import group_operators, page_operators
from handkit.draw.pdf.text_encoder import Letters, TextEncoder
from handkit.geometry.affine import Affine
from handkit.kept.kept import KeptOf
from handkit.manifest.attached import digest


class PageContent(msgspec.Struct, frozen=True):
    """The operators deflated, and what tells them from those of another page."""

    deflated: bytes
    digest: str


class _Drawn(msgspec.Struct, frozen=True):
    """Groups as operators, and what the file needs of its fonts once they are drawn."""

    operators: str
    letters: Letters


def page_content(
    groups: Sequence[Group], encoder: TextEncoder, drawn: Affine | None, kept: KeptOf
) -> PageContent:
    """A page's content; the encoder knows its characters then."""
    head, body = groups[:1], groups[1:]
    parts = [group_operators(head, encoder)] if head else []
    if body:
        known = encoder.letters()
        found = kept.of_these("groups", (body, known), partial(_drawn, body, encoder))
        encoder.learn(found.letters)
        parts.append(found.operators)
    operators = page_operators(parts, drawn=drawn)
    return kept.of_these("content", operators, partial(_deflated, operators))


def _drawn(groups: Sequence[Group], encoder: TextEncoder) -> _Drawn:
    return _Drawn(group_operators(groups, encoder), encoder.letters())


def _deflated(operators: str) -> PageContent:
    content = f"\n{operators}\n \n".encode("ascii")
    return PageContent(compress(content), digest(content))
