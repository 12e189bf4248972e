"""Options of the command line that stand in for the file's [page], and what they take.

In: words of the command line. Out: papers, lengths in mm, members of enumerations; or wrong use.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from enum import StrEnum
from typing import Any, TypeVar

import click

from handkit.errors import PaperError
from handkit.paper import ALLOWED, Drawn, Paper, Straights, Windows, paper_named

Command = TypeVar("Command", bound=Callable[..., Any])

MOST_PAGE_LENGTH = 100


class PaperType(click.ParamType[Paper]):
    """A paper by name or size."""

    name = "paper"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Paper:
        """The paper, or wrong use."""
        try:
            return paper_named(str(value))
        except PaperError as reason:
            self.fail(str(reason), param, ctx)


class LengthType(click.ParamType[float]):
    """A length of the page in mm. (click's own range of numbers has room for nan.)"""

    name = "length"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """The length, or wrong use."""
        try:
            length = float(value)
        except ValueError:
            length = math.nan
        if not 0 <= length <= MOST_PAGE_LENGTH:
            self.fail(f"found {value!r}; allowed: mm from 0 to {MOST_PAGE_LENGTH}", param, ctx)
        return length


class ChoiceType(click.Choice[str]):
    """One of an enumeration's words; its member comes out."""

    def __init__(self, words: type[StrEnum]) -> None:
        super().__init__([word.value for word in words])
        self.words = words

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The member, or wrong use."""
        return self.words(super().convert(value, param, ctx))


def page_options(command: Command) -> Command:
    """The options that stand in for the file's [page]."""
    length = LengthType()
    for option in (
        click.option(
            "--straights", type=ChoiceType(Straights), help="Long straight pieces whole, or shortened."
        ),
        click.option("--draw", type=ChoiceType(Drawn), help="A piece cut several times: once, or each."),
        click.option(
            "--windows", type=ChoiceType(Windows), help="Parts of pieces share sheets, or lie one a sheet."
        ),
        click.option("--overlap", type=length, metavar="MM", help="How far the parts of a piece overlap."),
        click.option("--margin", type=length, metavar="MM", help="Where drawing begins."),
        click.option("--edge", type=length, metavar="MM", help="Nothing is printed nearer to the edge."),
        click.option("--paper", type=PaperType(), help=f"{ALLOWED}."),
    ):
        command = option(command)
    return command
