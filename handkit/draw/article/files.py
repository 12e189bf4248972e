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
from handkit.kept.kept import NOTHING, KeptOf


def article_pdf(
    article: Article,
    sections: Sequence[ArticleSection],
    findings: Sequence[Finding],
    *,
    kept: KeptOf = NOTHING,
) -> bytes:
    """All pictures as a PDF file; `kept` are those of the same article with another title."""
    project = article.punched.project
    pages, fonts = article_pages(article, sections, findings, kept=kept), load_fonts(project)
    return pdf_bytes(pages, paper=picture_paper(article), title=project.title, fonts=fonts)


def article_svg(
    article: Article,
    sections: Sequence[ArticleSection],
    findings: Sequence[Finding],
    *,
    kept: KeptOf = NOTHING,
) -> str:
    """All pictures as one SVG drawing; `kept` as above."""
    pages = article_pages(article, sections, findings, kept=kept)
    return pages_svg(pages, paper=picture_paper(article), title=article.punched.project.title)
