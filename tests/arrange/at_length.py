"""`python tests/arrange/at_length.py [COUNT] [FIRST] [worn|flap|stated]`: so many random sets of things,
arranged; of what is worn, with loops and sheaths, under a flap; or with some of their parts stated.

Each is put together by the model of the article, and held to it: nothing clashes, all is drawn out, nothing
reaches past its base. Told at the end: the base's area beside that of one plain row of the same parts with
the same margins, and how long the arranging took.
"""

from __future__ import annotations

import sys
from statistics import median

from arranged_sets import Outcome, outcome_of, places_of
from random_sets import random_set, stated_in_part, under_flap, worn_set


def main(count: int = 200, first: int = 1, kind: str = "") -> int:
    """Print what comes out; 1 where any set is at fault."""
    texts = {seed: _text(seed, kind) for seed in range(first, first + count)}
    outcomes = [outcome_of(text, f"set {seed}") for seed, text in texts.items()]
    for outcome in outcomes:
        for fault in outcome.faults:
            print(f"{outcome.name}: {fault}")
    shares = [outcome.share for outcome in outcomes if outcome.share is not None] or [0.0]
    print(f"{count} sets, {sum(bool(one.faults) for one in outcomes)} at fault")
    print(f"area beside one row: mean {sum(shares) / len(shares):.3f}, median {median(shares):.3f}", end="; ")
    print(f"least {min(shares):.3f}, most {max(shares):.3f}")
    print(f"arranging: at most {max(one.seconds for one in outcomes):.2f} s, ways {_ways(outcomes)}")
    print(f"heavy behind: {sum(one.behind for one in outcomes) / count:.3f}")
    if kind:
        return int(any(outcome.faults for outcome in outcomes))
    ten = [outcome_of(random_set(seed, parts=10, single=True), f"ten {seed}") for seed in range(1, 21)]
    print(f"ten things in ten parts: at most {max(one.seconds for one in ten):.2f} s of processor")
    return int(any(outcome.faults for outcome in (*outcomes, *ten)))


def _text(seed: int, kind: str) -> str:
    if kind in ("worn", "flap"):
        return worn_set(seed) if kind == "worn" else under_flap(seed)
    text = random_set(seed)
    return stated_in_part(text, places_of(text), seed) if kind else text


def _ways(outcomes: list[Outcome]) -> str:
    counts = [outcome.ways for outcome in outcomes]
    return f"{min(counts)} to {max(counts)}"


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:3]), *sys.argv[3:]))
