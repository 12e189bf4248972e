"""Files of the article's pictures.

In: the article. Out: the bytes of a PDF file or the text of an SVG one, the same on every run. Both raise
ProjectError for a font that can't be used.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.assemble.article import Article, ArticleSection
from handkit.draw.article.pages import article_pages, picture_paper
from handkit.draw.export.pages_svg import pages_svg
from handkit.draw.model.fonts import load_fonts
from handkit.draw.pdf.pdf_file import pdf_bytes
from handkit.findings import Finding


def article_pdf(article: Article, sections: Sequence[ArticleSection], findings: Sequence[Finding]) -> bytes:
    """All pictures as a PDF file."""
    project = article.punched.project
    pages, fonts = article_pages(article, sections, findings), load_fonts(project)
    return pdf_bytes(pages, paper=picture_paper(article), title=project.title, fonts=fonts)


def article_svg(article: Article, sections: Sequence[ArticleSection], findings: Sequence[Finding]) -> str:
    """All pictures as one SVG drawing."""
    project = article.punched.project
    return pages_svg(
        article_pages(article, sections, findings), paper=picture_paper(article), title=project.title
    )
