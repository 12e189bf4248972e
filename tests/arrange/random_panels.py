"""Random parts without a place on what another part drafts: panels of bags, covers with sleeves or turn-ins.

In: a number, from which all follows; what they are laid on. Out: the text of a project file. One of the parts
is stated in some sets.
"""

from __future__ import annotations

from collections.abc import Mapping
from random import Random
from types import MappingProxyType

_HEAD = "format = 1\n[material]\nthickness = {thick}\n[stitching]\npitch = {pitch}\ninset = {inset}\n"

# What they are laid on: the piece, whether behind, the part that drafts it.
PLACES: Mapping[str, tuple[str, bool]] = MappingProxyType(
    {
        "front": ("bag front", False),
        "back": ("bag back", True),
        "inside": ("bag back", False),
        "sleeve": ("cover right", False),
        "sleeves": ("cover", True),
        "turn-ins": ("cover", True),
    }
)


def panel_set(seed: int, place: str) -> str:
    """One to three pockets on a panel of something random, large enough for them as often as not."""
    random, (piece, behind) = Random(f"{place} {seed}"), PLACES[place]
    thick, inset = random.choice((1.2, 1.6, 2.0)), random.choice((4, 5))
    text = _HEAD.format(thick=thick, pitch=random.choice((4, 5)), inset=inset)
    text += _bag(random) if piece.startswith("bag") else _cover(random, place)
    for index in range(random.randint(1, 3)):
        text += _pocket(random, index, piece, behind=behind)
    return f'{text}[[piece]]\nname = "{piece}"\nrectangle = "arranged"\n'


def stated_on(text: str, name: str, at: tuple[float, float]) -> str:
    """The same with one part stated where it lies."""
    return text.replace(f'name = "{name}"\nkind', f'name = "{name}"\nat = [{at[0]}, {at[1]}]\nkind')


def _bag(random: Random) -> str:
    closing = random.choice(("zip", "none", "flap", "snaps", "stud"))
    text = f'[[part]]\nname = "bag"\nkind = "bag"\nclosed_by = "{closing}"\n'
    text += f"depth = {random.randint(40, 80)}\n" if random.random() < 0.6 else ""
    text += (
        f"drop = {random.randint(80, 140)}\n" if closing in ("zip", "none") and random.random() < 0.6 else ""
    )
    text += 'strips = "three"\n' if random.random() < 0.3 else f"round = {random.randint(25, 40)}\n"
    for index in range(random.randint(1, 2)):
        size = [random.randint(100, 260), random.randint(8, 30), random.randint(90, 240)]
        text += f'[[item]]\nname = "book {index}"\nin = "bag"\nsize = {size}\n'
    return text


def _cover(random: Random, place: str) -> str:
    ends = "turn-ins" if place == "turn-ins" else "sleeves"
    level = 'spine = "level"\n' if random.random() < 0.3 else ""
    if level and place == "sleeve":
        level = ""
    size = [random.randint(90, 200), random.randint(8, 25), random.randint(120, 260)]
    text = f'[[part]]\nname = "cover"\nkind = "fold cover"\nends = "{ends}"\ndepth = 60\n{level}'
    return f'{text}[[item]]\nname = "book"\nin = "cover"\nsize = {size}\n'


def _pocket(random: Random, index: int, piece: str, *, behind: bool) -> str:
    kinds = ("flat pocket", "flat pocket", "stepped pockets", "holder row")
    kind = random.choice(kinds if piece.startswith("bag") else kinds[:3])  # a row's strap is longer than it
    text = f'[[part]]\nname = "{kind} {index}"\nkind = "{kind}"\non = "{piece}"\n'
    text += "behind = true\n" if behind else ""
    for number in range(1 if kind == "stepped pockets" else random.randint(1, 2)):
        text += f'[[item]]\nname = "thing {index}.{number}"\nin = "{kind} {index}"\n'
        if kind == "holder row":
            text += f"diameter = {random.randint(6, 10)}\nlength = {random.randint(70, 120)}\n"
        elif kind == "stepped pockets":
            text += f"size = [{random.randint(60, 90)}, 0.8, {random.randint(40, 60)}]\n"
        else:
            text += f"size = [{random.randint(20, 60)}, {random.randint(1, 3)}, {random.randint(40, 110)}]\n"
    return text
