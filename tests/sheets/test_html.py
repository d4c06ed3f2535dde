"""The HTML sheet as a browser reads it (html5lib, strict by the WHATWG's rules), and what is counted in it."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from xml.etree import ElementTree

import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.sheets.html import as_html
from stitchalong.sheets.make import Wishes, sheet
from stitchalong.sheets.paper import PAPERS
from tests.sheets.made import (
    HTML,
    NASTY,
    SHIPPED,
    SVG,
    beads_in,
    by_class,
    nasty_plan,
    parsed,
    plan_and_course,
    sheet_of,
    words_of,
)

A4 = PAPERS["a4"]


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_rounds_add_up_to_the_table_of_materials_and_to_the_picture(path: Path) -> None:
    tree = parsed(as_html(sheet_of(path), A4))
    steps = list(by_class(tree, "step"))
    rounds = [beads_in(words_of(next(by_class(step, "count")))) for step in steps]
    materials = next(table for table in tree.iter(f"{HTML}table") if "letter" in words_of(table))
    counts = {}
    for row in materials.find(f"{HTML}tbody"):  # type: ignore[union-attr]
        letter = next(by_class(row, "letter"))
        colour = letter.get("style", "").removeprefix("background:")[:7]
        counts[colour] = counts.get(colour, 0) + int(words_of(row[3]).replace(",", ""))
    whole = sum(counts.values())
    assert sum(beads for beads, _ in rounds) == whole
    assert rounds[-1][1] == whole
    foot = [words_of(cell) for cell in next(materials.iter(f"{HTML}tfoot"))[0]]
    assert foot[1:4] == ["in all", "", f"{whole:,}"]
    drawn = Counter(rect.get("fill") for rect in tree.iter(f"{SVG}rect"))
    assert drawn == counts


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_every_round_has_a_box_and_every_side_one(path: Path) -> None:
    _, course = plan_and_course(path)
    tree = parsed(as_html(sheet_of(path), A4))
    steps = list(by_class(tree, "step"))
    assert len(steps) == len(course.rounds)
    for step in steps:
        sides = [one for part in by_class(step, "sides") for one in part.findall(f"{HTML}span")]
        assert len(list(by_class(step, "box"))) == 1 + len(sides)


def test_sides_of_a_ring_with_four_fins_are_told_in_the_order_worked() -> None:
    """28 spaces, 4 pairs over the markers: 24 singles; the start lies within a side (design's own example:
    5 | 6 6 6 | 1, then 5 | 7 7 7 | 2)."""
    tree = parsed(as_html(sheet_of(next(path for path in SHIPPED if path.stem == "gorse-ring")), A4))
    told = {words_of(step).split(",")[0]: [words_of(part) for part in by_class(step, "sides")]
            for step in by_class(tree, "step") if "top edge" in words_of(step)}  # fmt: skip
    assert told["Round 2"] == ["sides: 5 6 6 6 1"]
    assert told["Round 3"] == ["sides: 5 7 7 7 2"]


def test_no_text_of_a_plan_is_markup() -> None:
    plan = nasty_plan()
    for large in (False, True):
        tree = parsed(as_html(sheet(compile_plan(plan), plan, Wishes()), A4, large=large))
        assert not list(tree.iter(f"{HTML}script"))
        assert words_of(next(tree.iter(f"{HTML}h1"))) == NASTY
        assert f"mind: {NASTY}" in [words_of(one) for one in by_class(tree, "mind")]


def test_the_file_stands_alone() -> None:
    text = as_html(sheet_of(SHIPPED[0]), A4)
    tree = parsed(text)
    outside = [one for one in tree.iter() for key in ("src", "href") if one.get(key)]
    assert not outside
    assert "url(" not in text
    assert "@import" not in text


def test_paper_and_print_size_are_in_the_style() -> None:
    """ISO 216: A4 is 210 by 297 mm; Letter is 8.5 by 11 in (ANSI A)."""
    document = sheet_of(SHIPPED[0])
    assert "size: 210mm 297mm" in as_html(document, A4)
    assert f"size: {8.5 * 25.4:g}mm {11 * 25.4:g}mm" in as_html(document, PAPERS["letter"])
    assert as_html(document, A4, large=True) != as_html(document, A4)


def test_the_left_handed_picture_is_the_mirror_image() -> None:
    path = next(path for path in SHIPPED if path.stem == "gorse-ring")
    right, left = (parsed(as_html(sheet_of(path, Wishes(left_handed=hand)), A4)) for hand in (False, True))
    places = []
    for tree in (right, left):
        places.append({rect.get("id"): middle(rect) for rect in tree.iter(f"{SVG}rect")})
    one, other = places
    (whole,) = {round(one[bead] + other[bead], 2) for bead in one}
    assert one.keys() == other.keys()
    assert whole == pytest.approx(float(next(right.iter(f"{SVG}svg")).get("viewBox", "").split()[2]), abs=0.02)


def middle(rect: ElementTree.Element) -> float:
    return float(rect.get("x", "")) + float(rect.get("width", "")) / 2
