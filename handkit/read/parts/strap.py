"""Strap: what a strap with a buckle promises.

In: a part. Out: its pieces, rows, openings and fittings by name. Of a strap called P:

    P            the strap: folded on "buckle", rows "lower 1", "upper 1" … on both leaves of the fold
    P lining     behind it, from the end that is turned back to the point
    P padding    between both
    P keeper 1 … rings, the fixed ones at the fold
    P slot, P holes; P buckle, P keeper 1 …
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import isfinite
from string import ascii_uppercase

from handkit.kinds.fittings import FittingKind
from handkit.kinds.materials import Material
from handkit.kinds.openings import OpeningKind
from handkit.read.parts.promises import PartEntries, Placeholder, Table, promised_seam, written
from handkit.read.project import Item, Part

_FOLD = "buckle"
_SIDES = ("lower", "upper")
_TIPPED = ("English", "pointed")  # points that have a corner of their own
_UNTOLD = 10.0
_WIDENED = 8  # corners of a lining over a padding
_NEAR, _FAR = "near", "far"


def strap_entries(part: Part, items: Sequence[Item] = ()) -> PartEntries:
    """All that a strap stands for."""
    name = part.name
    rows = [row for side in _SIDES for row in _rows(part, side)]
    lines = tuple(line for row in rows for line in (row, _turned(row)))
    keepers, letters = _keepers(part), _letters(part, taper=part.length("tip") is not None)
    lined = part.flag("lined")
    slot = {"name": f"{name} slot", "kind": OpeningKind.SLOT.value, "through": [name], "at": [[0, 0]]}
    holes = {
        "name": f"{name} holes",
        "kind": OpeningKind.TONGUE.value,
        "hole": _told(part.length("tongue") or part.length("bar")),  # common practice, no source
        "through": [name, _lining_name(part)] if lined else [name],
        "at": [[0, 0]],
    }
    return PartEntries(
        pieces=(
            Placeholder(name, letters=len(letters), lines=lines, folds=(_FOLD,)),
            *([_lining(part)] if lined else []),
            *([_padding(part)] if _padded(part) else []),
            *(Placeholder(keeper, lines=(_NEAR, _FAR)) for keeper in keepers),
        ),
        seams=(
            *(promised_seam(keeper, f"{keeper}: {_NEAR}", f"{keeper}: {_FAR}") for keeper in keepers),
            *(promised_seam(f"{name}, {row}", f"{name}: {_turned(row)}", f"{name}: {row}") for row in rows),
            *([_lining_seam(part)] if lined else []),
        ),
        openings=(slot, holes),
        fittings=tuple(_fittings(part)),
    )


def _letters(part: Part, *, taper: bool) -> str:
    """The corner letters: both ends of the butt, the taper's start, the point's start and its tip."""
    return ascii_uppercase[: 4 + 2 * taper + (part.word("point") in _TIPPED)]


def _rows(part: Part, side: str) -> tuple[str, ...]:
    """The rows of one side that close the fold: one before each fixed keeper, and one behind the last."""
    return _numbered(side, part.count("keepers") + 1)


def _turned(row: str) -> str:
    """The line of a row on the leaf that is turned back."""
    return f"{row} turned"


def _keepers(part: Part) -> tuple[str, ...]:
    """The keepers, the fixed ones first."""
    return _numbered(f"{part.name} keeper", part.count("keepers") + part.count("loose"))


def _numbered(name: str, count: int) -> tuple[str, ...]:
    """Names of several; of one the name alone."""
    return (name,) if count == 1 else tuple(f"{name} {k}" for k in range(1, count + 1))


def _lining_name(part: Part) -> str:
    """The lining's name; of its seam, too."""
    return f"{part.name} lining"


def _told(length: float | None) -> str:
    """A length as the file would have it; any sound one for what is lacking or faulty, which is told."""
    return written(length if length is not None and isfinite(length) else _UNTOLD)


def _padded(part: Part) -> bool:
    """Whether there is a padding; one without a lining is told."""
    return part.length("padding") is not None and part.flag("lined")


def _padding(part: Part) -> Placeholder:
    """Felt, glued between strap and lining."""
    states = {"kind": Material.FELT.value, "thickness": _told(part.length("padding")), "glued": True}
    return Placeholder(f"{part.name} padding", on=part.name, behind=True, states=states)


def _lining_letters(part: Part) -> str:
    """Its corners; over a padding its edges leave their line and come back to it."""
    return ascii_uppercase[: len(_letters(part, taper=False)) + (_WIDENED if _padded(part) else 0)]


def _lining(part: Part) -> Placeholder:
    flat, letters = not _padded(part), len(_lining_letters(part))
    return Placeholder(_lining_name(part), letters=letters, on=part.name, flat=flat, behind=True)


def _lining_seam(part: Part) -> Table:
    """Along the lining's edges and round the point; the strap takes its holes, or over a padding, where the
    lining is wider, has a row of its own."""
    own = f"{_lining_name(part)}: {'-'.join(_lining_letters(part))}"
    letters = "-".join(_letters(part, taper=part.length("tip") is not None))
    return promised_seam(_lining_name(part), own, f"{part.name}: {letters}" if _padded(part) else part.name)


def _fittings(part: Part) -> Iterator[Table]:
    name, girth = part.name, part.range("girth")
    yield {
        "name": f"{name} buckle",
        "kind": FittingKind.BUCKLE.value,
        "on": name,
        "fold": _FOLD,
        "inside": _told(part.length("inside") or part.length("width")),
        "bar": _told(part.length("bar")),
        "holes": f"{name} holes",
        **({"girth": [_told(each) for each in sorted(girth)]} if girth is not None else {}),
    }
    for k, keeper in enumerate(_keepers(part)):
        at_fold = {"fold": _FOLD} if k < part.count("keepers") else {}
        yield {"name": keeper, "kind": FittingKind.KEEPER.value, "on": name, "piece": keeper, **at_fold}
