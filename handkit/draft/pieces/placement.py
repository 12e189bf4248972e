"""Placement: where each piece lies, in whose frame, and which of two is nearer the eye.

In: pieces as read (`on`, `at`, `turn`, `turned_over`, `behind`, `flat`), their outlines, and how those that
are folded with an angle are folded. Out: a `Placement` for each.

Layers of all that stand on one another are counted in one row, pieces that do not lie flat
included: those behind below, the others above, in the order of the file outwards, a bag's front outside
what other parts lay inside it. What stands on a piece that is turned over follows it to the other side:

    eye                                  level
     |    pocket    on front               2
     v    front     on back                1
          back                             0
          flap      on back, behind,      -1
                    turned over
          tab       on flap               -2

That is how flat pieces lie, as they are worked on. Once they are folded, what stands on a leaf has gone with
it, and a piece has a level for each of its leaves:

    label     on the leaf, behind      3     the leaf is folded over to the side that shows
    sheath    the leaf                 2
    welt      on the leaf              1     or on the one that stays: between both
    sheath    what keeps its place     0

A leaf that is folded round an edge of what its piece lies on lies on the other side of that, over all that
is there:

    flap      the leaf                 2     sewn on behind, folded over the back's upper edge
    front     on the back              1
    back                               0
    flap      what keeps its place    -1
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from handkit.draft.pattern import Folded
from handkit.geometry.affine import Affine
from handkit.geometry.path import Path
from handkit.geometry.region import region_of
from handkit.geometry.space import FoldedSheet, Motion, Panel
from handkit.grouping import grouped
from handkit.read.project import Piece
from handkit.tolerances import SAGITTA

# A piece's name, and one of its panels.
_Leaf = tuple[str, int]


class Placement(msgspec.Struct, frozen=True):
    """Where a piece lies. `base` is the lowest of the pieces it stands on, one on the other."""

    base: str
    root: str
    in_root: Affine  # own frame to the root's; a root's own is the root's, lies it flat or not
    in_base: Affine  # own frame to the base's, where what does not lie flat has its place in plan
    level: int
    depth: int
    turned: bool  # whether the base's eye sees its other side
    panel: int  # which of the panels of the piece it is on it lies on
    folded: Folded


class _Stand(msgspec.Struct, frozen=True):
    """A piece, the panel it lies on, and that panel itself, None where all of what it is on stays."""

    piece: Piece
    panel: int = 0
    leaf: Panel | None = None

    @property
    def motion(self) -> Motion:
        """From its frame to that of the piece it lies on, once that is folded."""
        own = Motion.of_plane(_on_next(self.piece))
        return self.leaf.motion @ own if self.leaf is not None else own


def placements_of(
    pieces: Sequence[Piece], outlines: Mapping[str, Path], folded: Mapping[str, FoldedSheet]
) -> dict[str, Placement]:
    """Where every piece lies, by name. Reading has seen to it that none stands on itself.

    `folded` has the pieces that are folded with an angle; what has no outline lies on what stays.
    """
    stands = {piece.name: _stand(piece, outlines.get(piece.name), folded) for piece in pieces}
    flat = _levels({piece.name: _Stand(piece) for piece in pieces}, {}, {})
    levels = _levels(stands, outlines, folded) if folded else flat
    found: dict[str, Placement] = {}
    for piece in pieces:
        own = tuple(levels[piece.name, k] for k in range(_panels_of(piece.name, folded)))
        found[piece.name] = _placement(_chain(piece, stands), flat[piece.name, 0], own)
    return found


def _stand(piece: Piece, outline: Path | None, folded: Mapping[str, FoldedSheet]) -> _Stand:
    sheet = folded.get(piece.on) if piece.on is not None else None
    if sheet is None or outline is None:
        return _Stand(piece)
    panel = sheet.panel_of(outline.moved(_on_next(piece)).flattened(sagitta=SAGITTA))
    return _Stand(piece, panel, sheet.panels[panel])


def _panels_of(name: str, folded: Mapping[str, FoldedSheet]) -> int:
    """How many panels a piece has; 1 where nothing bends."""
    return len(folded[name].panels) if name in folded else 1


def _chain(piece: Piece, stands: Mapping[str, _Stand]) -> tuple[_Stand, ...]:
    """The piece, what it stands on, and so on down to one that stands on nothing."""
    chain = [stands[piece.name]]
    while (on := chain[-1].piece.on) is not None:
        chain.append(stands[on])
    return tuple(chain)


def _placement(chain: tuple[_Stand, ...], level: int, levels: tuple[int, ...]) -> Placement:
    in_root, root = Affine(), chain[0].piece
    for stand in chain:
        root = stand.piece
        if root.on is None or not root.flat:
            break
        in_root = _on_next(root) @ in_root
    in_base, motion = Affine(), Motion()
    for stand in chain[:-1]:
        in_base, motion = _on_next(stand.piece) @ in_base, stand.motion @ motion
    turned = sum(stand.piece.turned_over for stand in chain) % 2 == 1
    folds = sum(stand.leaf is not None and stand.leaf.turned for stand in chain) % 2 == 1
    base, depth = chain[-1].piece.name, len(chain) - 1
    folded = Folded(motion, levels, turned ^ folds)
    return Placement(base, root.name, in_root, in_base, level, depth, turned, chain[0].panel, folded)


def _on_next(piece: Piece) -> Affine:
    """From a piece's frame into that of the piece it lies on: turned over first, then turned."""
    over = Affine.mirror() if piece.turned_over else Affine()
    return Affine.shift(*piece.at) @ Affine.turn(piece.turn_degrees) @ over


class _Rows(msgspec.Struct, frozen=True):
    """What the rows of layers are made from."""

    resting: Mapping[_Leaf | None, list[_Stand]]
    drafters: Mapping[str, str | None]
    outlines: Mapping[str, Path]
    folded: Mapping[str, FoldedSheet]

    def of(self, name: str) -> list[_Leaf]:
        """Its leaves and all that stand on it, from the back to the face as its own frame sees it."""
        return [leaf for row in self.by_panel(name).values() for leaf in row]

    def by_panel(self, name: str) -> dict[int, list[_Leaf]]:
        """The same, panel by panel."""
        if name not in self.folded:
            return {0: self._of_leaf((name, 0))}
        panels = self.folded[name].panels
        leaves = [k for k, panel in enumerate(panels) if panel.plan is not None]
        found: dict[int, list[_Leaf]] = {}
        for k in sorted(leaves, key=lambda k: panels[k].height):
            row = self._of_leaf((name, k))
            found[k] = row[::-1] if panels[k].turned else row
        return found

    def _of_leaf(self, leaf: _Leaf) -> list[_Leaf]:
        above: list[_Leaf] = []
        below: list[_Leaf] = []
        drafter = self.drafters[leaf[0]]
        own_last = sorted(self.resting.get(leaf, ()), key=lambda other: _walls_in(other.piece, drafter))
        resting = [(other, self.by_panel(other.piece.name)) for other in own_last]
        for (other, rows), round_ in ((each, round_) for round_ in (False, True) for each in resting):
            found = ((k, own) for k, own in rows.items() if self._goes_round(other.piece, k) is round_)
            row = [each for _, own in found for each in own]
            if other.piece.turned_over:
                row.reverse()
            if other.piece.behind is round_:
                above.extend(row)
            else:
                below = [*row, *below]
        return [*below, leaf, *above]

    def _goes_round(self, piece: Piece, panel: int) -> bool:
        """Whether a panel is folded round an edge of what its piece lies on, and so lies on the other side
        of that: it is folded towards it, on a line that lies on it by no more than half of the bend."""
        under = self.outlines.get(piece.on or "")
        if panel == 0 or under is None:
            return False
        sheet, lie = self.folded[piece.name], _on_next(piece)
        own, motion = self.outlines[piece.name].moved(lie), Motion.of_plane(lie) @ sheet.panels[panel].motion
        if (motion.by[2] > 0) is not piece.behind:
            return False
        left, low, right, top = own.bounds()
        for bend in (sheet.bends[k] for k in sheet.panels[panel].beyond):
            (x, y), (u, v), reach = bend.at, bend.way, right - left + top - low
            line = lie.apply_all(((x - u * reach, y - v * reach), (x + u * reach, y + v * reach)))
            if not region_of(own).common(region_of(under).grown(-bend.half)).along(*line):
                return True
        return False


def _walls_in(piece: Piece, drafter: str | None) -> bool:
    """Whether a piece stands over what it is on by the part that drafts both, as a bag's front: what others
    lay there lies inside."""
    return drafter is not None and piece.drafted_by == drafter and not piece.flat and not piece.behind


def _levels(
    stands: Mapping[str, _Stand], outlines: Mapping[str, Path], folded: Mapping[str, FoldedSheet]
) -> dict[_Leaf, int]:
    """Each leaf's place in the row of its base's layers, that of what keeps its place of the base being 0.

    What stands at an angle has no level of its own: it goes with what keeps its place.
    """
    drafters = {name: stand.piece.drafted_by for name, stand in stands.items()}
    rows = _Rows(grouped(stands.values(), by=_rests_on), drafters, outlines, folded)
    levels: dict[_Leaf, int] = {}
    for name, stand in stands.items():
        if stand.piece.on is None:
            row = rows.of(name)
            zero = row.index((name, 0))
            levels.update((leaf, k - zero) for k, leaf in enumerate(row))
    for name in stands:
        for k in range(1, _panels_of(name, folded)):
            levels.setdefault((name, k), levels[name, 0])
    return levels


def _rests_on(stand: _Stand) -> _Leaf | None:
    """The leaf that a piece lies on; what stands at an angle counts as what keeps its place."""
    if stand.piece.on is None:
        return None
    upright = stand.leaf is not None and stand.leaf.plan is None
    return (stand.piece.on, 0 if upright else stand.panel)
