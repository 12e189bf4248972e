"""Damage to the manifest of a kit.

In: a copy of a kit. Out: where the damage is. What the attached file looks like is written down here a second
time: JSON with pages, their windows and the pieces' shapes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from damage_edits import Edit, NotHereError, Where
from damage_makes import KITS, kit_of
from damaging import KitCopy

Manifest = dict[str, Any]


def said(change: Callable[[Manifest], Where | None]) -> Edit:
    """The manifest says something else; what is drawn stays."""

    def edit(kit: KitCopy) -> Where:
        manifest = kit.manifest
        where = change(manifest) or Where()
        kit.put_manifest(manifest)
        return where

    return edit


def attached(data: bytes) -> Edit:
    """Other bytes in the manifest's place."""

    def edit(kit: KitCopy) -> Where:
        kit.put_manifest(data)
        return Where()

    return edit


def no_manifest(kit: KitCopy) -> Where:
    """The attached file is gone, as programs lose it that write a file anew."""
    del kit.catalog["/Names"]["/EmbeddedFiles"]
    return Where()


def two_manifests(kit: KitCopy) -> Where:
    """It is attached twice, under one name."""
    kit.attached.extend(list(kit.attached))
    return Where()


def of_another_kit(kit: KitCopy) -> Where:
    """The manifest of another kit."""
    title = kit.manifest["title"]
    others = (KitCopy(kit_of(name)).manifest for name in KITS)
    kit.put_manifest(next(other for other in others if other["title"] != title))
    return Where()


def bare(edit: Edit) -> Edit:
    """The same damage to a kit whose list is gone: what is left to find it by is the drawing alone."""

    def both(kit: KitCopy) -> Where:
        words = edit(kit).words
        no_manifest(kit)
        return Where(None, words[:1])

    return both


def hole_less(manifest: Manifest) -> Where:
    """A hole is taken out of the list."""
    page, piece, shape = _hole(manifest)
    shape["lines"], shape["fills"] = [], []
    return Where(page, _names(piece, shape))


def hole_moved(manifest: Manifest) -> Where:
    """A hole stands 0.1 mm further in the list."""
    page, piece, shape = _hole(manifest)
    for line in (*shape["lines"], *shape["fills"]):
        line[0] = [value + 0.1 * (k % 2 == 0) for k, value in enumerate(line[0])]
    return Where(page, _names(piece, shape))


def window_moved(manifest: Manifest) -> Where:
    """A window lies 1 mm further in the list, with all it shows."""
    page, window = _last_window(manifest)
    window["placed"][4] += 1
    return Where(page)


def page_less(manifest: Manifest) -> Where:
    """The list lacks its last page."""
    del manifest["pages"][-1]
    return Where(len(manifest["pages"]) + 1)


def digest_other(manifest: Manifest) -> Where:
    """Another digest of the last page."""
    manifest["pages"][-1]["digest"] = "0" * 64
    return Where(len(manifest["pages"]))


def font_other(manifest: Manifest) -> Where:
    """Another digest of a font."""
    name = sorted(manifest["fonts"])[0]
    manifest["fonts"][name] = "0" * 64
    return Where(None, (name,))


def loose_end(manifest: Manifest) -> None:
    """A window of a piece that isn't listed."""
    _, window = _last_window(manifest)
    window["piece"] = "nobody's"


def _hole(manifest: Manifest) -> tuple[int, str, dict[str, Any]]:
    """The middle one of the holes of the last window that shows any: its page, piece and shape."""
    pieces = {piece["name"]: piece["shapes"] for piece in manifest["pieces"]}
    for number, window in reversed(list(_windows(manifest))):
        shown = [k for first, last in window["shows"] for k in range(first, last + 1)]
        holes = [shape for k in shown if (shape := pieces[window["piece"]][k])["tag"] == "hkHole"]
        if holes:
            return number, window["piece"], holes[len(holes) // 2]
    raise NotHereError


def _names(piece: str, shape: dict[str, Any]) -> tuple[str, ...]:
    said = shape["says"]
    return (f'"{piece}"', f'"{said["Seam"]}"', f"{said['Number']:g}")


def _windows(manifest: Manifest) -> Iterator[tuple[int, dict[str, Any]]]:
    """All windows with the number of their page, from 1."""
    for number, page in enumerate(manifest["pages"], start=1):
        for window in page.get("windows", ()):
            yield number, window


def _last_window(manifest: Manifest) -> tuple[int, dict[str, Any]]:
    return list(_windows(manifest))[-1]
