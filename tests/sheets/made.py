"""Sheets to test, and readers of what was made."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import html5lib

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.plan.library import shipped
from stitchalong.plan.model import Plan
from stitchalong.plan.read import read_plan, read_text
from stitchalong.sheets.blocks import Document
from stitchalong.sheets.make import Wishes, sheet

SHIPPED = shipped()
WHEN = datetime(2026, 3, 1, tzinfo=UTC)
HTML = "{http://www.w3.org/1999/xhtml}"
SVG = "{http://www.w3.org/2000/svg}"
NASTY = "<script>alert(1)</script> | *x* [y](z) & “q”"


def plan_and_course(path: Path) -> tuple[Plan, Course]:
    plan = read_plan(path).plan
    return plan, compile_plan(plan)


def sheet_of(path: Path, wishes: Wishes | None = None) -> Document:
    plan, course = plan_and_course(path)
    return sheet(course, plan, wishes or Wishes())


def nasty_plan() -> Plan:
    """A plan whose every free text tries to be markup."""
    words = NASTY.replace('"', '\\"')
    return read_text(
        f'title = "{words}"\nabout = "{words}"\n[thread]\nname = "{words}"\n'
        f'[beads.A]\nname = "{words}"\nnote = "{words}"\ncolour = "#123456"\nsize = "{words}"\nshape = "{words}"\n'
        '[[work]]\nstart = "tube"\nbeads = "12A"\n[[work]]\nstitch = "peyote"\nrounds = ["A", "A"]\n'
        f'[[remarks]]\nround = 3\nsay = "{words}"\n'
    ).plan


def parsed(html: str) -> ElementTree.Element:
    """The document as a browser reads it. Raises html5lib's ParseError for what the standard calls an error."""
    tree: Any = html5lib.HTMLParser(strict=True).parse(html)
    return tree  # type: ignore[no-any-return]


def words_of(element: ElementTree.Element) -> str:
    return " ".join("".join(element.itertext()).split())


def by_class(tree: ElementTree.Element, name: str) -> Iterator[ElementTree.Element]:
    return (one for one in tree.iter() if name in one.get("class", "").split())


def beads_in(text: str) -> tuple[int, int]:
    """(beads, beads so far) of `36 stitches, 40 beads; 300 so far`."""
    found = re.search(r"([\d,]+) beads?; ([\d,]+) so far", text)
    assert found, text
    return int(found[1].replace(",", "")), int(found[2].replace(",", ""))
