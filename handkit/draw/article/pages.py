"""Pages of the article: all its pictures, and the one page of them that goes into the kit.

In: the article, a typesetter, the paper. Out: blocks and pages.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial

import msgspec

from handkit.assemble.article import Article, ArticleSection, Figure
from handkit.draw.article.cuts import section_scenes
from handkit.draw.article.exploded import exploded_view
from handkit.draw.article.faults import fault_blocks, faults_of
from handkit.draw.article.look import Look, back_of, front_of
from handkit.draw.article.marking import marked_views
from handkit.draw.article.scene import ArticleScene
from handkit.draw.article.setting import arranged, arranged_by_kinds
from handkit.draw.article.shut import shut_views
from handkit.draw.article.views import view
from handkit.draw.layout.flow import Block, kept_together, on_fresh_page
from handkit.draw.layout.page_frame import Frame, head_line
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.fonts import load_fonts
from handkit.draw.model.marks import Group, Page
from handkit.draw.words.headed import headed_title
from handkit.findings import Finding, Where
from handkit.kept.kept import NOTHING, KeptOf
from handkit.kinds.pages import DEFAULT_PAPER
from handkit.paper import Paper, paper_named
from handkit.wording.figures import Units

# How much of a page the sections of one room take at most.
CUTS_SHARE = 0.45

# What front and back are called of an article that is shut otherwise.
LAID_OPEN = ("Laid open", "Laid open, from behind")

# Pictures are not cut by: their pages have margins of their own, and no less room across than this; mm.
EDGE, MARGIN, LEAST_ACROSS = 5.0, 11.0, 140.0


def views(article: Article, *, few: bool = False) -> tuple[tuple[Look | None, ArticleScene], ...]:
    """Front and back of each figure, and how each is looked at; what stands on several bases is several
    figures. One that is folded over something is drawn shut, and then laid open; where `few` are wanted not
    from behind."""
    return tuple(each for figure in article.figures for each in _views_of(article, figure, few=few))


def _views_of(article: Article, figure: Figure, *, few: bool) -> Iterator[tuple[Look | None, ArticleScene]]:
    shut = shut_views(article, figure)
    for scene in shut:
        yield None, _titled(article, figure, scene)
    for of, title in list(zip((front_of, back_of), LAID_OPEN, strict=True))[: 1 if shut and few else 2]:
        look = of(article, figure)
        scene = _called(view(look), title) if shut else view(look)
        yield look, _titled(article, figure, scene)


def exploded_views(article: Article) -> tuple[ArticleScene, ...]:
    """Each figure of more than one piece, layer by layer."""
    return tuple(scene for figure in article.figures for scene in _exploded_of(article, figure))


def _exploded_of(article: Article, figure: Figure) -> tuple[ArticleScene, ...]:
    scene = exploded_view(article, figure)
    return () if scene is None else (_titled(article, figure, scene),)


def kit_blocks(article: Article, setter: Typesetter, kept: KeptOf = NOTHING) -> tuple[Block, ...]:
    """The page of the kit: front and back, and layer by layer; none on paper that is too small. `kept` are
    pictures of the same scenes."""
    head = setter.title("The finished article")
    room = setter.lowered(setter.height - sum(block.height for block in head) - 0.1)
    figures = [
        ([scene for _, scene in _views_of(article, figure, few=True)], _exploded_of(article, figure))
        for figure in article.figures
    ]
    blocks = arranged_by_kinds(figures, article.punched.project.units, room, kept)
    return (*head, *blocks) if blocks else ()


def article_blocks(
    article: Article, sections: Sequence[ArticleSection], findings: Sequence[Finding], setter: Typesetter
) -> tuple[Block, ...]:
    """All pictures: the views on one page with the faults under them, then the exploded ones on one, then
    section by section."""
    cuts, faults = section_scenes(article, sections), faults_of(article, findings)
    units = article.punched.project.units
    return (
        *arranged(marked_views(views(article), faults), units, setter),
        *fault_blocks(article, faults, setter),
        *on_fresh_page(arranged(exploded_views(article), units, setter)),
        *on_fresh_page([block for scenes in cuts for block in _cut_blocks(scenes, units, setter)]),
    )


def _titled(article: Article, figure: Figure, scene: ArticleScene) -> ArticleScene:
    """With the base's name where there are several."""
    if len(article.figures) == 1:
        return scene
    return _called(scene, f'{scene.title}: "{figure.base}"')


def _called(scene: ArticleScene, title: str) -> ArticleScene:
    return msgspec.structs.replace(scene, title=title)


def _cut_blocks(cuts: Sequence[ArticleScene], units: Units, setter: Typesetter) -> Sequence[Block]:
    return kept_together(arranged(cuts, units, setter.lowered(setter.height * CUTS_SHARE)))


def picture_paper(article: Article) -> Paper:
    """The project's paper where it has room for pictures; else the usual one."""
    paper = article.punched.project.page.paper
    usual = paper_named(DEFAULT_PAPER)
    return paper if min(paper.width, paper.height) >= LEAST_ACROSS else usual


def article_pages(
    article: Article,
    sections: Sequence[ArticleSection],
    findings: Sequence[Finding],
    *,
    kept: KeptOf = NOTHING,
) -> tuple[Page, ...]:
    """All pictures on pages of the project's paper; `kept` are those of the same article with another title.
    Raises ProjectError for a font that can't be used."""

    def blocks(setter: Typesetter) -> Sequence[Block]:
        told = tuple(each.placed(Where(each.where.file, key=each.where.key)) for each in findings)
        return kept.of("pictures", partial(article_blocks, article, sections, told, setter), told)

    return picture_pages(article, blocks, called="The article")


def picture_pages(
    article: Article, blocks_of: Callable[[Typesetter], Sequence[Block]], *, called: str
) -> tuple[Page, ...]:
    """Blocks on pages of the project's paper, each headed by its title and what it is called. Raises
    ProjectError for a font that can't be used."""
    project = article.punched.project
    frame, fonts = Frame(picture_paper(article), EDGE, MARGIN), load_fonts(project)
    setter = Typesetter(fonts, frame.width, frame.height)
    bodies = frame.poured(blocks_of(setter))
    pages = []
    for number, body in enumerate(bodies, start=1):
        head = head_line(
            frame, fonts, title=headed_title(project), place=f"{called} · page {number} of {len(bodies)}"
        )
        pages.append(Page(f"{called} {number}", ((0, f"{called} {number}"),), (Group((head,)), *body)))
    return tuple(pages)
