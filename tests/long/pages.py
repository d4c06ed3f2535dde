"""Sheets in a real browser: Chromium lays each out and prints it on both papers, and a library of others reads it back.

python -m tests.long.pages
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from pypdf import PdfReader

from stitchalong.course.compile import compile_plan
from stitchalong.design.draft import Draft
from stitchalong.design.wanted import Kind, plan_text
from stitchalong.measure.book import Book
from stitchalong.measure.units import Units
from stitchalong.plan.read import read_text
from stitchalong.sheets.blocks import Document, Steps
from stitchalong.sheets.html import as_html
from stitchalong.sheets.make import Wishes, sheet
from stitchalong.sheets.paper import PAPERS
from tests.sheets.made import SHIPPED, sheet_of

BROWSERS = ("chromium", "chromium-browser", "google-chrome")
_OUTSIDE = """<script>
addEventListener("load", () => {
  const width = document.documentElement.clientWidth;
  const out = [...document.querySelectorAll("main *")].filter(one => one.getBoundingClientRect().right > width + 1);
  document.body.dataset.outside = out.length;
});
</script></body>"""
"""counts what sticks out of the page at the right; put into a copy of the sheet alone"""


def documents() -> Iterator[Document]:
    """The sheets of all plans that ship, and of a plan of each kind made by answering questions."""
    yield from (sheet_of(path) for path in SHIPPED)
    for nth, kind in enumerate(Kind, start=1):
        draft = Draft(Book(), Units.METRIC).answered("kind", str(nth)).answered("title", f"Heron, {kind}")
        plan = read_text(plan_text(draft.wanted())).plan
        yield sheet(compile_plan(plan), plan, Wishes())


def main() -> int:
    browser = next((found for name in BROWSERS if (found := shutil.which(name))), None)
    if browser is None:
        print("there is no Chromium here", file=sys.stderr)
        return 1
    pages = sheets = 0
    with tempfile.TemporaryDirectory() as folder:
        for document in documents():
            for paper in PAPERS.values():
                for large in (False, True):
                    path = Path(folder) / "sheet.html"
                    html = as_html(document, paper, large=large)
                    path.write_text(html, encoding="utf-8")
                    pages += printed(browser, path, document, paper.width, paper.height)
                    sheets += 1
                # a page of 96 dots an inch, as wide as the paper
                path.write_text(html.replace("</body>", _OUTSIDE), encoding="utf-8")
                dom = asked(browser, path, f"--window-size={round(paper.width / 25.4 * 96)},1000", "--dump-dom")
                assert 'data-outside="0"' in dom, f"{document.title}: something sticks out of {paper.name}"
    print(f"{sheets} sheets of {sheets // 4} pieces in both papers and both prints, {pages} pages")
    return 0


def printed(browser: str, path: Path, document: Document, width: float, height: float) -> int:
    """Print it; every page is of the paper, and every round is read back. Gives the number of pages. Lengths in mm."""
    pdf = path.with_suffix(".pdf")
    asked(browser, path, "--no-pdf-header-footer", f"--print-to-pdf={pdf}")
    reader = PdfReader(pdf)
    for page in reader.pages:
        found = float(page.mediabox.width) * 25.4 / 72, float(page.mediabox.height) * 25.4 / 72
        assert abs(found[0] - width) < 0.5, found
        assert abs(found[1] - height) < 0.5, found
    text = re.sub(r"\s+", "", "".join(page.extract_text() for page in reader.pages))
    assert re.sub(r"\s+", "", document.title) in text
    for block in document.blocks:
        for step in block.steps if isinstance(block, Steps) else ():
            for words in (step.title, step.notation, f"{step.so_far:,} so far"):
                assert re.sub(r"\s+", "", words) in text, f"{document.title}: {words} is not on the pages"
    return len(reader.pages)


def asked(browser: str, path: Path, *arguments: str) -> str:
    """What the browser writes."""
    usual = ("--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={path.parent / 'profile'}")
    done = subprocess.run(
        [browser, *usual, *arguments, path.as_uri()], capture_output=True, text=True, timeout=120, check=True
    )
    return done.stdout


if __name__ == "__main__":
    sys.exit(main())
