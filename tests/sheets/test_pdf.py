"""The PDF read back by a library of others (pypdf)."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from stitchalong.course.compile import compile_plan
from stitchalong.errors import UsageError
from stitchalong.sheets.blocks import Steps
from stitchalong.sheets.make import Wishes, kit_list, sheet
from stitchalong.sheets.paper import PAPERS
from stitchalong.sheets.pdf import Made, as_pdf
from tests.sheets.made import NASTY, SHIPPED, WHEN, beads_in, nasty_plan, plan_and_course, sheet_of


def read(made: Made) -> tuple[PdfReader, str]:
    reader = PdfReader(io.BytesIO(made.content), strict=True)
    return reader, " ".join(" ".join(page.extract_text().split()) for page in reader.pages)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_every_round_is_there_with_its_count(path: Path) -> None:
    document = sheet_of(path)
    made = as_pdf(document, PAPERS["a4"], WHEN)
    reader, text = read(made)
    assert not made.lost
    (steps,) = (block.steps for block in document.blocks if isinstance(block, Steps))
    told = [beads_in(found) for found in re.findall(r"[\d,]+ beads?; [\d,]+ so far", text)]
    assert told == [(step.beads, step.so_far) for step in steps]
    for number in range(1, len(reader.pages) + 1):
        assert f"page {number} of {len(reader.pages)}" in text
    assert reader.metadata is not None
    assert reader.metadata.title == document.title


@pytest.mark.parametrize(("name", "size"), [("a4", (210.0, 297.0)), ("letter", (8.5 * 25.4, 11 * 25.4))])
@pytest.mark.parametrize("large", [False, True])
def test_pages_are_of_the_paper_asked_for(name: str, size: tuple[float, float], large: bool) -> None:
    """ISO 216 and ANSI A; a point is 1/72 in (ISO 32000)."""
    path = next(path for path in SHIPPED if path.stem == "slate-tile")
    reader, _ = read(as_pdf(sheet_of(path), PAPERS[name], WHEN, large=large))
    for page in reader.pages:
        found = (float(page.mediabox.width) * 25.4 / 72, float(page.mediabox.height) * 25.4 / 72)
        assert found == pytest.approx(size, abs=0.1)


def test_large_print_takes_more_pages() -> None:
    document = sheet_of(SHIPPED[0])
    pages = [len(read(as_pdf(document, PAPERS["a4"], WHEN, large=large))[0].pages) for large in (False, True)]
    assert pages[0] < pages[1]


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_the_kit_list_of_a_class_is_one_page(path: Path) -> None:
    plan, course = plan_and_course(path)
    reader, text = read(as_pdf(kit_list(course, plan, 8, Wishes()), PAPERS["letter"], WHEN))
    assert len(reader.pages) == 1
    assert f"in all {course.beads:,} {8 * course.beads:,}" in text


def test_words_that_the_font_does_not_have_are_told() -> None:
    plan = nasty_plan()
    made = as_pdf(sheet(compile_plan(plan), plan, Wishes()), PAPERS["a4"], WHEN)
    assert NASTY.replace("“", '"').replace("”", '"') in read(made)[1]
    document = sheet_of(SHIPPED[0])
    odd = type(document)("Жemchug 珠", document.blocks)
    assert as_pdf(odd, PAPERS["a4"], WHEN).lost == {"Ж", "珠"}


def test_a_font_that_is_none_is_refused_in_one_line(tmp_path: Path) -> None:
    font = tmp_path / "font.ttf"
    font.write_text("no font")
    with pytest.raises(UsageError, match="cannot be used"):
        as_pdf(sheet_of(SHIPPED[0]), PAPERS["a4"], WHEN, font=font)
