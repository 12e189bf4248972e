"""Pages of the article: all its pictures, and the one page of them that goes into the kit.

In: the article, a typesetter, the paper. Out: blocks and pages.
"""

from __future__ import annotations

from handkit.assemble.article import Article
from handkit.draw.article.scene import ArticleScene
from handkit.draw.article.setting import arranged
from handkit.draw.article.views import back_view, front_view
from handkit.draw.layout.flow import Block, on_fresh_page
from handkit.draw.layout.page_frame import Frame, head_line
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.fonts import load_fonts
from handkit.draw.model.marks import Group, Page
from handkit.kinds.pages import DEFAULT_PAPER
from handkit.paper import Paper, paper_named

# Pictures are not cut by: their pages have margins of their own, and no less room across than this; mm.
EDGE, MARGIN, LEAST_ACROSS = 5.0, 11.0, 140.0


def views(article: Article) -> tuple[ArticleScene, ...]:
    """Front and back of each figure; what stands on several bases is several figures."""
    several = len(article.figures) > 1
    found: list[ArticleScene] = []
    for figure in article.figures:
        for scene in (front_view(article, figure), back_view(article, figure)):
            title = f"{scene.title}: {figure.base}" if several else scene.title
            found.append(ArticleScene(title, scene.groups, scene.names, scene.measured, scene.notes))
    return tuple(found)


def article_blocks(article: Article, setter: Typesetter) -> tuple[Block, ...]:
    """All pictures."""
    return on_fresh_page(arranged(views(article), setter))


def picture_paper(article: Article) -> Paper:
    """The project's paper where it has room for pictures; else the usual one."""
    paper = article.punched.project.page.paper
    usual = paper_named(DEFAULT_PAPER)
    return paper if min(paper.width, paper.height) >= LEAST_ACROSS else usual


def article_pages(article: Article) -> tuple[Page, ...]:
    """All pictures on pages of the project's paper. Raises ProjectError for a font that can't be used."""
    project = article.punched.project
    frame, fonts = Frame(picture_paper(article), EDGE, MARGIN), load_fonts(project)
    setter = Typesetter(fonts, frame.width, frame.height)
    bodies = frame.poured(article_blocks(article, setter))
    pages = []
    for number, body in enumerate(bodies, start=1):
        place = f"The article · page {number} of {len(bodies)}"
        head = head_line(frame, fonts, title=project.title, place=place)
        pages.append(Page(f"The article {number}", ((0, f"The article {number}"),), (Group((head,)), *body)))
    return tuple(pages)
