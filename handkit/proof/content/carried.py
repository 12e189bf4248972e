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

from handkit.errors import ProofError
from handkit.proof.content.objects import Allowance, direct

# Bookmarks, and entries of a tree of names: far above any kit.
MOST_NODES = 20_000
MOST_DEEP = 30

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

# Of the tree of pages: what a node hands down, and what it holds (ISO 32000-1, Tables 29 and 30).
_OF_A_NODE = frozenset(
    ["/Type", "/Parent", "/Kids", "/Count", "/Resources", "/MediaBox", "/CropBox", "/Rotate"]
)

# Colour spaces of a page's group that leave black as it is.
_PLAIN_SPACES = ("/DeviceGray", "/DeviceRGB", "/DeviceCMYK")


class PageLabels(msgspec.Struct, frozen=True):
    """How pages are labelled from a place on, until the next one: a text, and numbers from `first` where it
    is `numbered`, whatever their style."""

    place: int
    prefix: str
    numbered: bool
    first: int


class Carried(msgspec.Struct, frozen=True):
    """Of a file: its viewer preferences as texts, the entries that a kit has no use for, what it does by
    itself or at a bookmark, the names of attached files, its page labels in order, the titles of bookmarks
    with the number of the object that each leads to, 0 where it leads to none."""

    preferences: tuple[tuple[str, str], ...]
    entries: tuple[str, ...]
    actions: tuple[str, ...]
    attached: tuple[str, ...]
    labels: tuple[PageLabels, ...] = ()
    bookmarks: tuple[tuple[str, int], ...] = ()

    def page_labels(self, count: int) -> list[str]:
        """What a viewer calls each of so many pages, "" where nothing says so."""
        found = [""] * count
        ends = [*(labels.place for labels in self.labels[1:]), count]
        for labels, end in zip(self.labels, ends, strict=False):
            for place in range(max(labels.place, 0), min(end, count)):
                number = str(labels.first + place - labels.place) if labels.numbered else ""
                found[place] = labels.prefix + number
        return found


def carried_by_file(catalog: Mapping[str, Any]) -> Carried:
    """What the file carries. Raises ProofError."""
    preferences = direct(catalog.get("/ViewerPreferences")) or {}
    names = direct(catalog.get("/Names")) or {}
    entries = [key for key in catalog if key not in _OF_A_CATALOG]
    entries += [f"/Names {key}" for key in names if key not in _NAMES]
    entries += _of_tree(direct(catalog.get("/Pages")))
    opening = direct(catalog.get("/OpenAction"))
    nodes = list(_bookmarks(direct(catalog.get("/Outlines"))))
    actions = [*_actions(opening), *(each for node in nodes for each in _actions(direct(node.get("/A"))))]
    return Carried(
        tuple(sorted((str(key)[1:], _plain(direct(value))) for key, value in preferences.items())),
        tuple(sorted(entries)),
        tuple(actions),
        tuple(str(direct(name)) for name, _ in _pairs(direct(names.get("/EmbeddedFiles")), "/Names")),
        tuple(sorted(_labels(direct(catalog.get("/PageLabels"))), key=lambda labels: labels.place)),
        tuple((str(direct(node["/Title"])), _led_to(node)) for node in nodes if "/Title" in node),
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


def _bookmarks(outlines: Any) -> Iterator[Mapping[str, Any]]:
    """All nodes of the tree of bookmarks, in reading order."""
    nodes = Allowance(MOST_NODES, f"found more than {MOST_NODES} bookmarks")
    waiting, seen = [outlines], set()
    while waiting:
        node = waiting.pop()
        if not isinstance(node, Mapping) or id(node) in seen:
            continue
        seen.add(id(node))
        nodes.spend()
        yield node
        waiting += [direct(node.get(key)) for key in ("/Next", "/First")]


def _led_to(node: Mapping[str, Any]) -> int:
    """The number of the object that a bookmark shows, by itself or by its action."""
    place = direct(node.get("/Dest")) or direct((direct(node.get("/A")) or {}).get("/D"))
    return getattr(place[0], "idnum", 0) if isinstance(place, list) and place else 0


def _labels(tree: Any) -> Iterator[PageLabels]:
    for place, said in _pairs(tree, "/Nums"):
        labels, number = direct(said), direct(place)
        first = direct(labels.get("/St", 1)) if isinstance(labels, Mapping) else None
        if isinstance(number, int) and isinstance(first, int):
            yield PageLabels(number, str(direct(labels.get("/P", ""))), "/S" in labels, first)


def _pairs(tree: Any, leaves: str) -> Iterator[tuple[Any, Any]]:
    """The entries of a tree of names or numbers, in order."""
    waiting = [tree]
    entries = Allowance(MOST_NODES, f"found more than {MOST_NODES} names of attached files or pages")
    while waiting:
        node = waiting.pop()
        if not isinstance(node, Mapping):
            continue
        row = direct(node.get(leaves)) or ()
        kids = direct(node.get("/Kids")) or ()
        entries.spend(1 + len(row) + len(kids))
        yield from zip(row[::2], row[1::2], strict=False)
        waiting += [direct(kid) for kid in reversed(kids)]


def _of_tree(tree: Any, depth: int = 0) -> list[str]:
    """Entries of the nodes of the tree of pages that a kit has no use for, and a count of pages that is
    wrong: which of both a viewer goes by is not said."""
    if depth > MOST_DEEP:
        raise ProofError(f"found pages nested deeper than {MOST_DEEP}")
    found: list[str] = []
    kids = [direct(kid) for kid in direct(tree.get("/Kids")) or ()]
    counts = [direct(kid.get("/Count", 0)) if "/Kids" in kid else 1 for kid in kids]
    if direct(tree.get("/Count")) != sum(counts):
        found.append("/Pages /Count")
    found += [f"/Pages {key}" for key in tree if key not in _OF_A_NODE]
    for kid in kids:
        if "/Kids" in kid:
            found += _of_tree(kid, depth + 1)
    return found
