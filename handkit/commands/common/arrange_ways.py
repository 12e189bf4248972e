"""Arrange, the work behind it: ways to lay a project's parts, put together; one of them written into a file.

In: the path of a project file. Out: ways that the model of the article finds no fault with, pictures of them,
the text of a file. Part of the front door: each step is imported when it is called.

They are ranked by the leather they take, by all that drafting ranks them by beside it, and by sheets.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from handkit.counting import OnProgress, no_progress
from handkit.errors import FileError, ProjectError
from handkit.kinds.pages import Pictured
from handkit.kit import article_of, punched_from, sheets_of

if TYPE_CHECKING:
    from handkit.assemble.article import Article
    from handkit.draft.arrange.steps import Arrangement
    from handkit.read.file.load import Given
    from handkit.read.project import Project


# A sheet of paper more counts as so much more leather.
SHEET = 0.01


class MadeWay(msgspec.Struct, frozen=True):
    """One way: how each base is arranged, the article put together, what is told of it in a line; the leather
    it takes, in mm², and the sheets."""

    laid: tuple[Arrangement, ...]
    article: Article
    told: str
    leather: float
    sheets: int

    @property
    def cost(self) -> float:
        """What it is ranked by, in mm² of leather."""
        area = sum(way.area for way in self.laid)
        beside = sum(way.area * way.beside for way in self.laid) / area
        return self.leather * (1 + beside + SHEET * self.sheets)


def ways_of(project_file: Given, *, on_progress: OnProgress = no_progress) -> tuple[MadeWay, ...]:
    """All ways that can be made, the best first. Raises ProjectError with what is wrong with the first where
    none can, FileError where nothing in the file is to be arranged."""
    from handkit.draft.arrange.arranging import arrangements
    from handkit.read.reader import read_project

    on_progress("reading")
    project = read_project(project_file)
    bases = [piece for piece in project.pieces if piece.arranged]
    if not bases:
        raise FileError(
            f"{project_file} has nothing to arrange; "
            'write rectangle = "arranged" in a base that no part drafts, in a cover, or in the front or the '
            "back of a bag, and leave out at in parts on it"
        )
    on_progress("arranging")
    lists = [arrangements(project, base) for base in bases]
    made: list[MadeWay] = []
    refused: list[ProjectError] = []
    for number in range(max(map(len, lists))):
        laid = tuple(each[min(number, len(each) - 1)] for each in lists)
        try:
            made.append(_made(project, laid, told="" if number else "made so where none is taken"))
        except ProjectError as why:
            refused.append(why)
    if not made:
        raise refused[0]
    return tuple(sorted(made, key=lambda way: way.cost))


def _made(project: Project, ways: tuple[Arrangement, ...], *, told: str) -> MadeWay:
    """One way put together and laid out on sheets; what is `told` of it beside its measures. Raises
    ProjectError where it can't be."""
    from handkit.draft.arrange.arranging import arranged, laid
    from handkit.errors import refuse_errors
    from handkit.stitch.lists.lists import materials

    refuse_errors(arranged(project).findings)  # what can't be arranged at all
    article = article_of(punched_from(laid(project, ways)))
    sheets, units = len(sheets_of(article.punched).sheets), project.units
    leather = sum(row.gross_mm2 for row in materials(article.punched))
    parts = [
        f'"{way.base}" {units.rough.number(way.size[0])} × {units.rough.text(way.size[1])}' for way in ways
    ]
    words = [*parts, f"{sheets} sheet{'s' * (sheets != 1)}", f"{units.area.text(leather)} with waste"]
    over = sum(way.over for way in ways)
    words += [f"things drawn out over {over} part{'s' * (over != 1)}"] if over else []
    words += [told] if told else []
    return MadeWay(ways, article, ", ".join(words), leather, sheets)


def pictures_of(ways: tuple[MadeWay, ...], form: Pictured) -> bytes:
    """Pictures of all ways. Raises FileError where PNG can't be made here."""
    from handkit.commands.common.shown import png_of
    from handkit.draw.article.ways import ways_pdf, ways_svg

    told = [(way.article, way.told) for way in ways]
    if form is Pictured.SVG:
        return ways_svg(told).encode()
    return png_of(ways_pdf(told)) if form is Pictured.PNG else ways_pdf(told)


def written_way(project_file: Given, way: MadeWay) -> str:
    """The project's text with the places of one way. Raises FileError where they can't be written into it."""
    from handkit.read.file.load import file_text
    from handkit.read.reader import read_project
    from handkit.read.written.places import with_places

    sizes = {each.base: each.size for each in way.laid if not each.within}
    places = {name: at for each in way.laid for name, at in each.places}
    text = file_text(project_file, file=str(project_file))
    written = with_places(text, read_project(project_file), sizes, places)
    if written is None:
        raise FileError(
            f"can't write places into {project_file}: its arranged bases and parts are not written a key a "
            "line; write each as [[piece]] or [[part]]"
        )
    return written
