"""Damage to the manifest of a kit.

In: a copy of a kit. Out: where the damage is. What the attached file looks like is written down here a second
time: JSON with pages, their windows and the pieces' shapes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from hashlib import sha256
from typing import Any

from damage_edits import Edit, NotHereError, Where, body, gone, names_of, one, shift
from damage_makes import KITS, kit_of
from damaging import KitCopy, Mark, Page

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
    """Another digest of a font, which the list knows by what contents call it."""
    name = sorted(manifest["fonts"])[0]
    manifest["fonts"][name] = "0" * 64
    return Where()


def correction_claimed(manifest: Manifest) -> Where:
    """The list says that all was drawn 1 % larger for a printer."""
    manifest["correction"] = {"name": "office", "across": 0.99, "down": 0.99}
    return Where()


def made_by_another(manifest: Manifest) -> None:
    """The list says that an older handkit made it."""
    manifest["origin"]["made_by"] = "0.0.1"


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


# One lie in both


def hole_lied(kit: KitCopy) -> Where:
    """A hole stands 0.5 mm further on paper and in the list, and all digests agree."""
    mark, page = _middle_hole(kit)
    body(shift(0.5))(page, mark)
    manifest = kit.manifest
    window, shape = _listed_hole(manifest, mark)
    a, b, c, d, *_ = window["placed"]
    off = (0.5 * d / (a * d - b * c), -0.5 * b / (a * d - b * c))
    for line in (*shape["lines"], *shape["fills"]):
        line[0] = [value + off[k % 2] for k, value in enumerate(line[0])]
    kit.put_manifest(manifest)
    return agreed(kit, Where(mark.page, names_of(mark)))


def hole_left_out(kit: KitCopy) -> Where:
    """A hole is neither on paper nor in the list, and all digests agree."""
    mark, page = _middle_hole(kit)
    gone(page, mark)
    manifest = kit.manifest
    _, shape = _listed_hole(manifest, mark)
    shape["lines"], shape["fills"] = [], []
    kit.put_manifest(manifest)
    return agreed(kit, Where(mark.page, names_of(mark)))


def lied(edit: Edit) -> Edit:
    """What the list has as part of a page's content alone is changed, and all digests agree."""
    return lambda kit: agreed(kit, edit(kit))


def agreed(kit: KitCopy, where: Where) -> Where:
    """The list's digests made those of what is drawn now."""
    manifest = kit.manifest
    for page in kit.pages:
        if page.changed:
            data = page.content.encode("latin-1")
            manifest["pages"][page.number - 1]["digest"] = sha256(b" ".join(data.split())).hexdigest()
    kit.put_manifest(manifest)
    return where


def _middle_hole(kit: KitCopy) -> tuple[Mark, Page]:
    mark = one("hkHole")(kit)[0]
    return mark, kit.page(mark.page)


def _listed_hole(manifest: Manifest, mark: Mark) -> tuple[dict[str, Any], dict[str, Any]]:
    """The window that shows a hole, and the shape that stands for it in the list."""
    window = next(
        window
        for number, window in _windows(manifest)
        if (number, window["piece"], f"{window['number']}") == (mark.page, *mark.window[:2])
    )
    shapes = next(piece["shapes"] for piece in manifest["pieces"] if piece["name"] == window["piece"])
    wanted = mark.says("Seam"), float(mark.says("Run")), float(mark.says("Number"))
    return window, next(
        shape
        for shape in shapes
        if shape["tag"] == "hkHole"
        and tuple(shape["says"][key] for key in ("Seam", "Run", "Number")) == wanted
    )
