"""Carried: what a file and its pages carry beside their drawing: preferences, actions, attached files.

In: the catalog and the pages as pypdf gives them. Out: `Carried` of the file, and the entries of a page that
a kit has no use for (ISO 32000-1, Tables 28, 30, 31, 150 and 193), each by its key.

What draws nothing and does nothing (metadata, structure, thumbnails, a program's own notes) is passed over.
A hostile file meets a limit: bookmarks and names are counted.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import msgspec

from handkit.proof.content.objects import Allowance, direct

# Bookmarks, and entries of a tree of names: far above any kit.
MOST_NODES = 20_000

_OF_A_CATALOG = frozenset(
    [
        "/Type",
        "/Pages",
        "/Version",
        "/Extensions",
        "/Outlines",
        "/PageLabels",
        "/PageMode",
        "/PageLayout",
        "/ViewerPreferences",
        "/Names",
        "/Dests",
        "/OpenAction",
        "/Metadata",
        "/Lang",
        "/MarkInfo",
        "/StructTreeRoot",
        "/PieceInfo",
    ]
)
_OF_A_PAGE = frozenset(
    [
        "/Type",
        "/Parent",
        "/Resources",
        "/MediaBox",
        "/CropBox",
        "/BleedBox",
        "/TrimBox",
        "/ArtBox",
        "/Contents",
        "/Rotate",
        "/UserUnit",
        "/Annots",
        "/Trans",
        "/Group",
        "/Metadata",
        "/LastModified",
        "/PieceInfo",
        "/StructParents",
        "/Tabs",
        "/ID",
        "/Thumb",
    ]
)
_NAMES = ("/Dests", "/EmbeddedFiles")

# Colour spaces of a page's group that leave black as it is.
_PLAIN_SPACES = ("/DeviceGray", "/DeviceRGB", "/DeviceCMYK")


class Carried(msgspec.Struct, frozen=True):
    """Of a file: its viewer preferences as texts, the entries that a kit has no use for, what it does by
    itself or at a bookmark, the names of attached files."""

    preferences: tuple[tuple[str, str], ...]
    entries: tuple[str, ...]
    actions: tuple[str, ...]
    attached: tuple[str, ...]


def carried_by_file(catalog: Mapping[str, Any]) -> Carried:
    """What the file carries. Raises ProofError."""
    preferences = direct(catalog.get("/ViewerPreferences")) or {}
    names = direct(catalog.get("/Names")) or {}
    entries = [key for key in catalog if key not in _OF_A_CATALOG]
    entries += [f"/Names {key}" for key in names if key not in _NAMES]
    opening = direct(catalog.get("/OpenAction"))
    actions = [*_actions(opening), *_of_bookmarks(direct(catalog.get("/Outlines")))]
    return Carried(
        tuple(sorted((str(key)[1:], _plain(direct(value))) for key, value in preferences.items())),
        tuple(sorted(entries)),
        tuple(actions),
        tuple(_names(direct(names.get("/EmbeddedFiles")))),
    )


def carried_by_page(page: Mapping[str, Any]) -> tuple[str, ...]:
    """The entries of a page that a kit has no use for."""
    found = [key for key in page if key not in _OF_A_PAGE]
    found += [key for key in ("/Annots", "/Trans") if direct(page.get(key))]
    group = direct(page.get("/Group")) or {}
    if direct(group.get("/CS", _PLAIN_SPACES[0])) not in _PLAIN_SPACES:
        found.append("/Group")
    return tuple(sorted(found))


def _plain(value: Any) -> str:
    """A preference as a text: what a name or a truth value says, or that it is neither."""
    if isinstance(value, str):
        return str(value).removeprefix("/")
    truth = getattr(value, "value", value)
    return str(truth).lower() if isinstance(truth, bool | int | float) else "a list"


def _actions(action: Any) -> Iterator[str]:
    """What an action does, if it is more than to show a place of this file; a place is no action."""
    if not isinstance(action, Mapping):
        return
    kind = str(direct(action.get("/S")) or "").removeprefix("/")
    if kind != "GoTo":
        yield kind or "unnamed"
    if "/Next" in action:
        yield "Next"


def _of_bookmarks(outlines: Any) -> Iterator[str]:
    """What bookmarks do beside showing a place."""
    nodes, waiting, seen = Allowance(MOST_NODES, f"found more than {MOST_NODES} bookmarks"), [outlines], set()
    while waiting:
        node = waiting.pop()
        if not isinstance(node, Mapping) or id(node) in seen:
            continue
        seen.add(id(node))
        nodes.spend()
        yield from _actions(direct(node.get("/A")))
        waiting += [direct(node.get(key)) for key in ("/First", "/Next")]


def _names(tree: Any) -> Iterator[str]:
    """The names of a tree of names, in order."""
    waiting = [tree]
    entries = Allowance(MOST_NODES, f"found more than {MOST_NODES} names of attached files")
    while waiting:
        node = waiting.pop()
        if not isinstance(node, Mapping):
            continue
        names = direct(node.get("/Names")) or ()
        kids = direct(node.get("/Kids")) or ()
        entries.spend(1 + len(names) + len(kids))
        yield from (str(direct(name)) for name in names[::2])
        waiting += [direct(kid) for kid in reversed(kids)]
