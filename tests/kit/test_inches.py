"""A file in inches: all that people read of it is in inches, and mm stand in brackets alone.

Each project is made twice: as it is, and as if its file were in inches; the sizes stay, so that the same
project serves for both. Read are the words of every page, of the terminal, of the pictures and of findings.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import msgspec
import pytest
from written_places import with_its_places

from handkit import kit as road
from handkit.assemble.section import sections_of
from handkit.draft.drafter import draft
from handkit.draw.article.files import article_svg
from handkit.draw.article.pages import article_pages
from handkit.draw.export.check_text import check_text
from handkit.draw.export.pieces_svg import pieces_svg
from handkit.draw.export.plan_text import plan_text
from handkit.draw.kit_pdf import kit_pages
from handkit.draw.model.fonts import load_fonts
from handkit.draw.model.marks import Page, Words
from handkit.findings import Source
from handkit.proof.report import proof_text
from handkit.punch.puncher import punch
from handkit.read.project import Project
from handkit.read.reader import read_project, read_project_text
from handkit.sheets.layout import lay_out

ROOT = Path(__file__).parents[2]
FILES = sorted(
    path
    for path in (*ROOT.glob("samples/*/*.toml"), *ROOT.glob("tests/projects/*/*.toml"))
    if path.name != "expected.toml"
)
IN_INCHES = ROOT / "tests/projects/bone_folder_case/case.toml"
QUICK = (IN_INCHES.parent.name, "card_wallet", "strap")  # the first is in inches by itself


def with_unit(value: Any, unit: str) -> Any:
    """A record and all in it, of a file in this unit."""
    if isinstance(value, Source):
        return msgspec.structs.replace(value, unit=unit)
    if isinstance(value, msgspec.Struct):
        fields = {name: getattr(value, name) for name in value.__struct_fields__}
        changed = {name: with_unit(each, unit) for name, each in fields.items()}
        return msgspec.structs.replace(value, **changed)
    return tuple(with_unit(each, unit) for each in value) if type(value) is tuple else value


def naked(text: str) -> list[str]:
    """Lengths in mm, cm or m outside brackets, and squares of them; with what stands before them."""
    while re.search(r"\([^()]*\)", text):
        text = re.sub(r"\([^()]*\)", "", text)
    return re.findall(r".{0,40}(?<![A-Za-z])(?:mm|cm|dm²)(?![A-Za-z])|[^.]{0,40}\d m\b", text)


def words_of(pages: tuple[Page, ...]) -> Iterator[str]:
    """The words of each page, in the order in which they are drawn."""
    for page in pages:
        parts = (part for group in page.groups for mark in group.marks for part in mark.parts)
        yield " ".join(part.text for part in parts if isinstance(part, Words))


def told_of(project: Project) -> dict[str, str]:
    """All that is told of a project, by where."""
    article = road.article_of(punch(draft(project)))
    punched = article.punched
    plan, page = road.plan_of(punched), project.page
    sheets = lay_out(
        punched,
        paper=page.paper,
        edge=page.edge,
        margin=page.margin,
        overlap=page.overlap,
        layout=page.layout,
    )
    products = (punched.pattern, punched, article, plan, sheets)
    findings = tuple(finding for product in products for finding in product.findings)
    sections = sections_of(article)
    kit = kit_pages(punched, plan, sheets, load_fonts(project), article=article)
    return {
        "check": check_text(findings, punched.pattern.item_fits, 1, units=project.units),
        "plan": plan_text(plan, punched),
        "all of the plan": plan_text(plan, punched, whole=True),
        "pieces": re.sub(r"<[^>]*>", " ", pieces_svg(punched)),
        "article": re.sub(r"<[^>]*>", " ", article_svg(article, sections, findings)),
        "article's pages": " ".join(words_of(article_pages(article, sections, findings))),
        **{f"page {number}": words for number, words in enumerate(words_of(kit), start=1)},
    }


@pytest.mark.parametrize(
    "path",
    [
        pytest.param(path, id=path.parent.name, marks=[pytest.mark.long] * (path.parent.name not in QUICK))
        for path in FILES
    ],
)
def test_mm_stand_in_brackets_alone(path: Path) -> None:
    """Places that are left open are written down in mm first: sixteenths would make another base of them."""
    project = read_project_text(with_its_places(path), file=path.name, folder=path.parent)
    told = told_of(with_unit(project, "in"))
    assert {where: found for where, text in told.items() if (found := naked(text))} == {}
    assert any(re.search(r"\d in\b", text) for text in told.values())


def test_the_same_file_in_mm_has_no_inches() -> None:
    told = told_of(read_project(ROOT / "samples/strap/strap.toml"))
    assert all(naked(told[where]) for where in ("plan", "page 1", "article's pages"))  # mm are seen
    print_check = told.pop("page 1")
    assert "2 in square" in print_check
    assert [where for where, text in told.items() if re.search(r"\d in\b(?! (?:all|each))", text)] == []


@pytest.mark.long
def test_a_proof_is_told_in_the_unit_of_its_kits_file(tmp_path: Path) -> None:
    for path, unit in ((IN_INCHES, "in"), (ROOT / "samples/strap/strap.toml", "mm")):
        file = tmp_path / f"{unit}.pdf"
        file.write_bytes(road.make(path).pdf)
        told = proof_text(road.proof_of(file))
        assert re.search(rf"wanted 50\.000|wanted 1\.9685 ± 0\.0004 {unit}\b", told)
        assert bool(naked(told)) == (unit == "mm")
