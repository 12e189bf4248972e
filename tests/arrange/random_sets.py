"""Random sets of things in parts without a place, on a base that is arranged.

In: a number, from which all follows. Out: the text of a project file. Tools of hand size in flat, bowed and
boxed pockets, holder rows and stepped pockets; of what is worn a sheath and loops for a belt behind, a flap
over all.
"""

from __future__ import annotations

import re
from random import Random

_HEAD = (
    'format = 1\n[material]\nthickness = 1.6\n[[piece]]\nname = "back"\nrectangle = "arranged"\nround = 8\n'
)
_KINDS = ("flat pocket", "bowed pocket", "boxed pocket", "holder row", "stepped pockets")
_SHARES = (5, 3, 2, 3, 1)


def random_set(seed: int, *, parts: int | None = None, single: bool = False) -> str:
    """A project of 3 to 10 parts, or so many; of `single` ones each holds one thing."""
    random = Random(seed)
    count = parts or random.randint(3, 10)
    return _HEAD + "".join(_part(random, index, single=single) for index in range(count))


def worn_set(seed: int) -> str:
    """2 to 4 parts in front, one or two loops and mostly a sheath behind, mostly a flap."""
    random = Random(seed)
    text = _HEAD + "".join(_part(random, index, single=False) for index in range(random.randint(2, 4)))
    for index in range(random.choice((1, 2, 2))):
        text += f'[[part]]\nname = "loop {index}"\nkind = "loop"\non = "back"\nbehind = true\n'
        text += f"belt = {random.randint(30, 60)}\nstrap = {random.randint(22, 40)}\n"
    if random.random() < 0.7:
        text += '[[part]]\nname = "sheath"\nkind = "sheath"\non = "back"\nbehind = true\n'
        blade = [random.randint(14, 40), random.randint(2, 4), random.randint(70, 160)]
        text += f'[[item]]\nname = "knife"\nin = "sheath"\nsize = {blade}\ntip = 20\n'
    return text


def under_flap(seed: int) -> str:
    """A worn set with a flap that closes on the first pocket in front of it."""
    text = worn_set(seed)
    to = re.search(r'name = "((?:flat|bowed) pocket \d)"', text)
    return f'{text}[[part]]\nname = "flap"\nkind = "flap"\non = "back"\nto = "{to[1]}"\n' if to else text


def stated_in_part(text: str, places: dict[str, tuple[float, float]], seed: int) -> str:
    """A set of which some parts are stated where they lie, on a base that may be wider to their left."""
    random = Random(seed)
    stated = random.sample(sorted(places), random.randint(1, max(1, len(places) - 1)))
    off = random.randint(0, 40)
    for name in stated:
        x, y = places[name]
        text = re.sub(
            rf'name = "{name}"\nkind = "(.*)"\n',
            rf'name = "{name}"\nkind = "\1"\nat = [{x + off}, {y}]\n',
            text,
        )
    return text


def _part(random: Random, index: int, *, single: bool) -> str:
    kind = random.choices(_KINDS, _SHARES)[0]
    name, number = f"{kind} {index}", 1 if single else random.randint(1, 3)
    if kind == "boxed pocket":
        number = 1
    things = "".join(_thing(random, kind, name, f"thing {index}.{k}") for k in range(number))
    return f'[[part]]\nname = "{name}"\nkind = "{kind}"\non = "back"\n{things}'


def _thing(random: Random, kind: str, part: str, name: str) -> str:
    head = f'[[item]]\nname = "{name}"\nin = "{part}"\n'
    if kind == "boxed pocket":
        return (
            f"{head}size = [{random.randint(35, 110)}, {random.randint(12, 30)}, {random.randint(40, 140)}]\n"
        )
    if kind == "stepped pockets":
        return f"{head}size = [{random.randint(84, 90)}, 1, {random.randint(54, 60)}]\n"
    if kind == "holder row" or random.random() < 0.4:
        return f"{head}diameter = {random.randint(6, 16)}\nlength = {random.randint(60, 280)}\n"
    return f"{head}size = [{random.randint(14, 60)}, {random.randint(2, 9)}, {random.randint(50, 300)}]\n"
