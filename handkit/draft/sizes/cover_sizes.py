"""Cover sizes: two leaves and a spine that fold round a thing, with turn-ins or without.

In: the clear lengths inside, the leather, the radius inside the bends. Out: where the folds' lines are on the
cover as it lies open, across its spine; all mm, from its first edge.

    shut:   ═══════════════╗         each leaf is `leaf` clear, from the spine's inside to the row or fold
            ▒▒▒▒ thing ▒▒▒▒║ spine   at its fore-edge; between the leaves are `between`
            ═══════════════╝

    open:   turn-in │ leaf │ spine │ leaf │ turn-in

The spine is bent twice by 90°: each bend takes the bend allowance, π/2 · (r + s/2) on the middle of leather s
thick at an inside radius r (Machinery's Handbook, with K = 1/2), and r of the straight lengths at either end.
So from line to line the spine takes between − 2 r + π/2 · (r + s/2). Where the things are thinner than
2 r the spine is half a circle about them. A turn-in is bent by 180° round a board: π · (b/2 + s/2).
"""

from __future__ import annotations

import msgspec

from handkit.draft.sizes.fold_length import fold_allowance


class CoverSizes(msgspec.Struct, frozen=True):
    """A cover of leather `thickness` thick, `high` along its spine over its edges.

    `leaf` and `other` are the leaves' clear lengths, the first and the second; `edge` is what the cover
    reaches past them where nothing is turned in; `turn_in` is how far a turn-in goes over a `board`, 0 for
    none.
    """

    thickness: float
    between: float
    leaf: float
    other: float
    high: float
    edge: float = 0.0
    turn_in: float = 0.0
    board: float = 0.0

    @property
    def radius(self) -> float:
        """Inside the spine's bends: as the leather is thick, or half of what they go round."""
        return min(self.thickness, self.between / 2)

    @property
    def half(self) -> float:
        """Half of the allowance of one of the spine's bends."""
        return fold_allowance(90, self.radius, self.thickness) / 2

    @property
    def turn_half(self) -> float:
        """Half of the allowance of a turn-in's bend."""
        return fold_allowance(180, self.board / 2, self.thickness) / 2

    @property
    def turns(self) -> tuple[float, ...]:
        """The lines of both turn-ins."""
        if not self.turn_in:
            return ()
        first = self.turn_in - self.board / 2 + self.turn_half
        second = self.spine[1] + self.half + self.other - self.radius - self.board / 2 + self.turn_half
        return first, second

    @property
    def turn_ends(self) -> tuple[float, float]:
        """Where the leather of the leaves is straight beside the turn-ins' bends; both edges without any."""
        if not self.turn_in:
            return 0.0, self.across
        return self.turns[0] + self.turn_half, self.turns[1] - self.turn_half

    @property
    def start(self) -> float:
        """Where the first leaf's clear length begins: at its row, or inside its turn-in's bend."""
        return self.turn_in - self.board + 2 * self.turn_half if self.turn_in else self.edge

    @property
    def spine(self) -> tuple[float, float]:
        """The lines of both bends of the spine.

        >>> cover = CoverSizes(1.2, 10, 150, 150, 210, edge=4)  # 4 + 148.8 + 0.45 π; 7.6 + 0.9 π more
        >>> [round(at, 3) for at in cover.spine], round(cover.across, 3)
        ([154.214, 164.641], 318.855)
        >>> cover = CoverSizes(1.2, 10, 150, 150, 210, turn_in=90, board=2)  # 2 × 1.6 π and 2 × 0.9 π in all
        >>> round(cover.across, 3)  # 2 × (89 + 150 − 1.2 − 1) + 7.6 + 15.708
        496.908
        """
        first = self.start + self.leaf - self.radius + self.half
        return first, first + self.between - 2 * self.radius + 2 * self.half

    @property
    def across(self) -> float:
        """From edge to edge as it lies open."""
        if self.turn_in:
            return self.turns[1] + self.turn_half + self.turn_in - self.board / 2
        return self.spine[1] + self.half + self.other - self.radius + self.edge
