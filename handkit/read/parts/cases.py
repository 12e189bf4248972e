"""Cases: what wallets, covers and bags, and the pockets in them, stand for in a file.

In: a part and its items. Out: its `PartEntries`. A stepped pocket's *foot* is its row of
stitches on the base.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handkit.kinds.fittings import FittingKind
from handkit.kinds.materials import Material
from handkit.read.parts.promises import (
    PartEntries,
    Placeholder,
    Table,
    promised_seam,
    written,
)
from handkit.read.parts.worn import closing_entries
from handkit.read.project import Item, Part, Side

# One of a zip's two tapes, mm (common practice, no source).
TAPE = 14.0

# Of a tab, a strap and its loop on a bag of cloth, mm: of leather, whose edges need no hem, and so thick that
# a common snap's post goes through tab and flap (common practice, no source).
CLOSING_THICK = 1.6

INSIDE_OUT = (
    "Sewn inside out: outsides on one another, the allowances seen. Clip or notch them round corners."
)

FLAP_FOLDS = ("over", "down")

ZIP_ENDS = (
    "The ends of its tapes go on to the panels' edges, where the gusset comes to lie on them: the first "
    "stitches of its seams hold them. Cut off what is beyond the edge, and seal it."
)


def stepped_pockets(part: Part, items: Sequence[Item]) -> PartEntries:
    """Pockets from the highest down, the feet of all but the lowest, and a row round all of them."""
    name, seams, beside = part.name, part.names("seams"), part.word("beside")
    pockets = tuple(f"{name} {k}" for k in range(1, (part.count("steps") or max(len(items), 1)) + 1))
    row = () if beside == "none" else (f"{name}, {beside}",)
    rows = row if seams else (name, *row)
    return PartEntries(
        pieces=tuple(
            Placeholder(pocket, letters=8 if part.flag("tees") and pocket != pockets[-1] else 4)
            for pocket in pockets
        ),
        base_lines=rows,
        seams=(
            *(promised_seam(f"{pocket}, foot", f"{pocket}: A-B", f"{part.on}") for pocket in pockets[:-1]),
            *(promised_seam(line, f"{part.on}: {line}", *pockets) for line in rows),
        ),
        joining=pockets if seams else (),
        joins=seams,
        pulled=rows,
    )


def bag(part: Part, items: Sequence[Item]) -> PartEntries:
    """Front and back with the gusset between them; what closes the mouth; handles."""
    name, closing = part.name, part.word("closed_by")
    handles = () if part.length("drop") is None else ("left handle", "right handle")
    mouths = _mouths(part)
    back, *others = mouths
    flap, fastened = _flap_piece(part), _fastened(part)
    ends = tuple(f"{name} {panel}" for panel in ("front", "back")) if handles else ()
    return PartEntries(
        pieces=(
            Placeholder(
                back,
                lines=handles,
                folds=FLAP_FOLDS if flap == back else (),
                arranges=True,
                states={
                    "shows": Side.FLESH.value,
                    "turns_to": "front",
                    **_hem(part, mouths[back]),
                    **_allowed(part, back),
                },
            ),
            *(_raised(part, each, mouths[each], handles, back) for each in others),
            *(_handle(part, panel, behind=panel == back) for panel in ends),
            *(_flap(part, back) for _ in (flap,) if flap not in ("", back)),
            *fastened.pieces,
        ),
        seams=(
            *fastened.seams,
            *_mouth_seams(part, mouths),
            *_handle_seams(ends),
            *({**seam, **_sewn(part)} for seam in _wall_seams(part)),
        ),
        openings=fastened.openings,
        fittings=(_zip(part),) if closing == "zip" else (),
    )


def _raised(part: Part, name: str, edges: Sequence[str], handles: tuple[str, ...], back: str) -> Placeholder:
    """The front, or a strip of the gusset, which a closed zip draws together."""
    folds = _folded_inwards(part).get(name, ()) if part.word("closed_by") == "zip" else ()
    states = {**_hem(part, edges), **_allowed(part, name)}
    front = name == f"{part.name} front"
    lines = handles if front else ()
    return Placeholder(name, lines=lines, folds=folds, on=back, flat=False, arranges=front, states=states)


def _handle(part: Part, panel: str, *, behind: bool) -> Placeholder:
    """A strip; of a bag of cloth webbing, whose long edges need nothing."""
    states = {} if part.length("allowance") is None else {"kind": Material.WEBBING.value}
    lines = ("left", "right")
    return Placeholder(f"{panel} handle", lines=lines, on=panel, flat=False, behind=behind, states=states)


def _flap_piece(part: Part) -> str:
    """The piece that its flap is of: the back itself, or one of its own where the back has an allowance,
    which would run on along the flap; "" without one."""
    if not part.has_flap:
        return ""
    return f"{part.name} {'back' if part.length('allowance') is None else 'flap'}"


def _flap(part: Part, back: str) -> Placeholder:
    """A flap that is sewn on outside the back, hemmed all round."""
    states = _hem(part, ("A-B-C-D-A",))
    return Placeholder(_flap_piece(part), folds=FLAP_FOLDS, on=back, behind=True, states=states)


def _fastened(part: Part) -> PartEntries:
    """What closes a flap, on it and on the front: nothing of one that lies there by its own weight. The
    outside of a back that goes on as the flap is its far side."""
    flap, back = _flap_piece(part), f"{part.name} back"
    if not flap or part.word("closed_by") == "flap":
        return PartEntries()
    leather = {"kind": Material.FIRM_LEATHER.value, "thickness": written(CLOSING_THICK)}
    states = {} if part.length("allowance") is None else leather
    return closing_entries(part, flap, f"{part.name} front", behind=flap == back, states=states)


def _mouths(part: Part) -> dict[str, tuple[str, ...]]:
    """The pieces of a bag, the back first, each with its edges at the mouth."""
    words: dict[str, tuple[str, ...]] = {
        "back": () if _flap_piece(part) == f"{part.name} back" else ("C-D",),
        "front": ("C-D",),
    }
    if part.word("strips") == "one":
        words["gusset"] = ("B-C", "D-A")
    else:
        words |= {"left": ("C-D",), "right": ("C-D",), "base": ()}
    return {f"{part.name} {word}": edges for word, edges in words.items()}


def _folded_inwards(part: Part) -> dict[str, tuple[str, ...]]:
    """The folds in the gusset's ends, which a closed zip draws together."""
    if part.word("strips") == "one":
        return {f"{part.name} gusset": ("left, inwards", "right, inwards")}
    return {f"{part.name} {side}": ("mouth, inwards",) for side in ("left", "right")}


def _hem(part: Part, edges: Sequence[str]) -> Table:
    """Hems at the mouth, where the part has them; of a bag of cloth turned twice by as much, so that no raw
    edge is left and any row through them holds all."""
    if part.length("hem") is None or not edges:
        return {}
    width = written(part.size("hem"))
    twice = {"width": width, "turns": 2, "turn_in": width}
    return {"hem": dict.fromkeys(edges, width if part.length("allowance") is None else twice)}


def _allowed(part: Part, piece: str) -> Table:
    """Cloth beyond the seams along its gusset, of a bag that is sewn inside out."""
    width = part.length("allowance")
    if width is None:
        return {}
    whole = {f"{part.name} gusset": ("A-B", "C-D"), f"{part.name} base": ("A-B-C-D-A",)}
    return {"allowance": {edges: written(width) for edges in whole.get(piece, ("D-A-B-C",))}}


def _zip(part: Part) -> Table:
    """A zip, whose length hangs on the front; tapes as most are (common practice, no source)."""
    seams = [f"{part.name} zip, {panel}" for panel in ("front", "back")]
    kind = {"kind": FittingKind.ZIP.value, "tape": written(TAPE)}
    return {"name": f"{part.name} zip", **kind, "seams": seams, "note": ZIP_ENDS}


def _mouth_seams(part: Part, mouths: dict[str, tuple[str, ...]]) -> Iterator[Table]:
    """What sews a zip in, and the hems that it does not hold."""
    zipped = part.word("closed_by") == "zip"
    panels = [f"{part.name} {panel}" for panel in ("front", "back")]
    if zipped:
        yield from (
            promised_seam(f"{part.name} zip, {panel}", f"{part.name} {panel}: D-C")
            for panel in ("front", "back")
        )
    back, flap = f"{part.name} back", _flap_piece(part)
    if flap not in ("", back):
        yield promised_seam(flap, f"{flap}: A-B", back)
    if part.length("hem") is None:
        return
    if flap not in ("", back):
        yield promised_seam(f"{flap}, hem", f"{flap}: B-C-D-A")
    for piece, edges in mouths.items():
        for edge in () if zipped and piece in panels else edges:
            side = {"B-C": " right", "D-A": " left"}.get(edge, "")
            yield promised_seam(f"{piece},{side} hem", f"{piece}: {edge}")


def _handle_seams(panels: Sequence[str]) -> Iterator[Table]:
    for panel in panels:
        for end in ("left", "right"):
            yield promised_seam(f"{panel} handle, {end}", f"{panel} handle: {end}", f"{panel}: {end} handle")


def _sewn(part: Part) -> Table:
    """How a wall's seams are sewn: inside out along the finished edges, where the part has an allowance."""
    return {} if part.length("allowance") is None else {"inset": written(0.0), "note": INSIDE_OUT}


def _wall_seams(part: Part) -> Iterator[Table]:
    """The gusset to front and back: round three sides; or each side by itself, once its strips are joined."""
    name = part.name
    front, back = f"{name} front", f"{name} back"
    if part.word("strips") == "one":
        yield promised_seam(f"{name}, front", f"{front}: D-A-B-C", f"{name} gusset: A-B")
        yield promised_seam(f"{name}, back", f"{back}: D-A-B-C", f"{name} gusset: D-C")
        return
    left, right, base = (f"{name} {strip}" for strip in ("left", "right", "base"))
    joints = {"after": [f"{name}, left", f"{name}, right"]}
    yield promised_seam(f"{name}, left", f"{left}: A-B", f"{base}: A-D")
    yield promised_seam(f"{name}, right", f"{right}: A-B", f"{base}: C-B")
    for panel, runs in ((front, ("C-B", "D-C", "A-D")), (back, ("D-A", "A-B", "B-C"))):
        sides = zip(("left", "foot", "right"), ("D-A", "A-B", "B-C"), (left, base, right), runs, strict=True)
        for side, edge, strip, run in sides:
            word = "front" if panel == front else "back"
            seam = promised_seam(f"{name}, {word} {side}", f"{panel}: {edge}", f"{strip}: {run}")
            yield {**seam, **joints}


def fold_cover(part: Part, items: Sequence[Item]) -> PartEntries:
    """Two leaves and a spine; a sleeve on each, or turned-in ends with rows at both ends of each."""
    name, inside, level = part.name, part.word("ends"), part.word("spine") == "level"
    sides, ends = (("low", "high"), ("left", "right")) if level else (("left", "right"), ("foot", "head"))
    folds = tuple(f"spine, {side}" for side in sides)
    shows = {"shows": Side.FLESH.value}
    if inside == "turn-ins":
        rows = [f"{side} {end}" for side in sides for end in ends]
        cover = Placeholder(
            name,
            letters=8,
            lines=tuple(f"{row} {word}" for row in rows for word in ("in", "out")),
            folds=(*folds, *(f"{side} turn-in" for side in sides)),
            arranges=True,
            states=shows,
        )
        seams = (promised_seam(f"{name}, {row}", f"{name}: {row} in", f"{name}: {row} out") for row in rows)
        return PartEntries((cover,), seams=tuple(seams))
    cover = Placeholder(name, folds=folds, arranges=True, states=shows)
    if inside == "open":
        return PartEntries((cover,))
    runs = ("D-A-B-C", "B-C-D-A") if level else ("C-D-A-B", "D-C-B-A")  # all but the mouth
    made = zip(sides, runs, strict=True)
    return PartEntries(
        (cover, *(Placeholder(f"{name} {side}", on=name, arranges=True) for side in sides)),
        seams=tuple(promised_seam(f"{name}, {side}", f"{name} {side}: {run}", name) for side, run in made),
        pulled=tuple(f"{name}, {side}" for side in sides),
    )
