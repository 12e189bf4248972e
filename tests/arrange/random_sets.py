"""Random sets of things in parts without a place, on a base that is arranged.

In: a number, from which all follows. Out: the text of a project file. Tools of hand size in flat, bowed and
boxed pockets, holder rows and stepped pockets.
"""

from __future__ import annotations

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
