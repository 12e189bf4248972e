"""Ways: pictures of several arrangements of one project, beside one another.

In: an article for each, and what is told of it. Out: the bytes of a PDF file or the text of an SVG one. Both
raise ProjectError for a font that can't be used.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.assemble.article import Article
from handkit.draw.article.look import back_of, front_of
from handkit.draw.article.pages import picture_pages, picture_paper
from handkit.draw.article.scene import ArticleScene
from handkit.draw.article.setting import arranged
from handkit.draw.article.views import view
from handkit.draw.export.pages_svg import pages_svg
from handkit.draw.layout.flow import Block
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.fonts import load_fonts
from handkit.draw.model.marks import Page
from handkit.draw.pdf.pdf_file import pdf_bytes

Ways = Sequence[tuple[Article, str]]


def ways_pdf(ways: Ways) -> bytes:
    """All ways as a PDF file."""
    article = ways[0][0]
    project = article.punched.project
    return pdf_bytes(
        _pages(ways), paper=picture_paper(article), title=project.title, fonts=load_fonts(project)
    )


def ways_svg(ways: Ways) -> str:
    """All ways as one SVG drawing."""
    article = ways[0][0]
    return pages_svg(_pages(ways), paper=picture_paper(article), title=article.punched.project.title)


def _pages(ways: Ways) -> tuple[Page, ...]:
    article = ways[0][0]
    scenes = [
        scene for number, (each, told) in enumerate(ways, start=1) for scene in _scenes(each, number, told)
    ]

    def blocks(setter: Typesetter) -> Sequence[Block]:
        return arranged(scenes, article.punched.project.units, setter)

    return picture_pages(article, blocks, called="Ways to arrange it")


def _scenes(article: Article, number: int, told: str) -> list[ArticleScene]:
    """One way from the front, and from behind where anything lies there; the first with what is told. What
    carries no part is the same in all ways, and left out."""
    carry = {part.on for part in article.punched.project.parts}
    figures = [each for each in article.figures if carry & {body.name for body in each.bodies}]
    looks = [front_of(article, figure) for figure in figures]
    behind = (figure for figure in figures if any(body.level < 0 for body in figure.bodies))
    looks += [back_of(article, figure) for figure in behind]
    return [
        msgspec.structs.replace(
            view(look),
            title=f"Way {number}" if look.from_face else f"Way {number}, back",
            notes=() if index else (told,),
        )
        for index, look in enumerate(looks)
    ]
