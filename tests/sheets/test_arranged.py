"""A long picture cut into pieces for a sheet, and short rounds set side by side."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from stitchalong.chart import arranged, chart_of
from stitchalong.course.compile import compile_plan
from stitchalong.design.wanted import Colour, Kind, Wanted, plan_text
from stitchalong.plan.read import read_text
from stitchalong.sheets.blocks import Document, Steps, code_words
from stitchalong.sheets.html import as_html
from stitchalong.sheets.make import Wishes, sheet
from stitchalong.sheets.paper import PAPERS, PICTURE, READABLE
from stitchalong.sheets.text import as_markdown, as_text
from tests.sheets.made import SHIPPED, by_class, parsed, plan_and_course, sheet_of


def made(kind: Kind, count: int, rounds: int, *, left_handed: bool = False) -> Document:
    colours = (Colour("ash", "#888888"), Colour("coal", "#222222"), Colour("gold", "#c9a227"))
    plan = read_text(plan_text(Wanted(kind, "Heron", "11/0", "cylinder", colours, ("A", "B"), count, 4, rounds))).plan
    return sheet(compile_plan(plan), plan, Wishes(left_handed=left_handed))


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_the_same_beads_are_drawn_no_smaller_and_none_over_another(path: Path) -> None:
    _, course = plan_and_course(path)
    chart = chart_of(course)
    cut = arranged(chart, *PICTURE, READABLE).chart
    assert [(bead.number, bead.code) for bead in cut.beads] == [(bead.number, bead.code) for bead in chart.beads]
    scales = [min(PICTURE[0] / one.width, PICTURE[1] / one.height, READABLE) for one in (chart, cut)]
    assert scales[1] >= scales[0]
    for one in cut.beads:
        assert one.x - one.width / 2 >= 0
        assert one.x + one.width / 2 <= cut.width
        assert one.y - one.height / 2 >= 0
        assert one.y + one.height / 2 <= cut.height
    before, after = (Counter((round(bead.x, 3), round(bead.y, 3)) for bead in some.beads) for some in (chart, cut))
    assert max(after.values()) <= max(before.values())


def test_the_sides_of_a_ring_stand_two_and_two_and_stay_whole() -> None:
    _, course = plan_and_course(next(path for path in SHIPPED if path.stem == "gorse-ring"))
    chart = chart_of(course)
    cut = arranged(chart, *PICTURE, READABLE)
    assert not cut.told
    tops = [label.y for label in sorted(cut.chart.labels, key=lambda label: label.text)]
    assert tops[0] == tops[1] < tops[2] == tops[3]
    for one, other in zip(chart.beads, chart.beads[1:], strict=False):
        if abs(one.x - other.x) <= 2 and one.y == other.y:
            near, far = cut.chart.beads[one.number - 1], cut.chart.beads[other.number - 1]
            assert (far.x - near.x, far.y - near.y) == pytest.approx((other.x - one.x, 0), abs=1e-6)


@pytest.mark.parametrize(("kind", "count", "rounds"), [(Kind.STRIP, 10, 200), (Kind.TUBE, 200, 8)])
def test_a_long_strip_and_a_wide_tube_are_cut_and_that_is_said(kind: Kind, count: int, rounds: int) -> None:
    document = made(kind, count, rounds)
    assert "The picture is in pieces" in as_text(document)
    assert made(kind, 10, 12) != document
    assert "The picture is in pieces" not in as_text(made(kind, 10, 12))


def test_the_pieces_of_a_mirrored_picture_begin_at_its_other_end() -> None:
    """The mirrored chart is one piece beside the next, from right to left."""
    for left_handed, words in ((False, "the lower end of the left one"), (True, "the lower end of the right one")):
        assert words in " ".join(as_text(made(Kind.STRIP, 10, 200, left_handed=left_handed)).split())
    wide = (as_text(made(Kind.TUBE, 200, 8, left_handed=hand)) for hand in (False, True))
    assert all("each goes on where the one above ends" in " ".join(text.split()) for text in wide)


def test_short_rows_stand_side_by_side_and_every_one_has_its_box() -> None:
    """200 rows, the first two strung at once: 199 boxes to tick."""
    document = made(Kind.STRIP, 10, 200)
    (steps,) = (block for block in document.blocks if isinstance(block, Steps))
    assert len(steps.steps) == 199
    assert [step for _, group in steps.groups() for step in group] == list(steps.steps)
    tree = parsed(as_html(document, PAPERS["a4"]))
    assert len(list(by_class(tree, "step"))) == len(list(by_class(tree, "box"))) == 199
    assert sum(len(list(by_class(some, "step"))) for some in by_class(tree, "short")) > 190


def test_beads_of_each_letter_stand_at_a_round_that_has_several() -> None:
    """Round 2 over four markers of 28 units: a pair of M over each, S in the other 24 spaces."""
    document = sheet_of(next(path for path in SHIPPED if path.stem == "gorse-ring"))
    (steps,) = (block for block in document.blocks if isinstance(block, Steps))
    assert code_words(steps.steps[2]) == "8 M, 24 S"
    assert code_words(steps.steps[1]) == ""
    for step in steps.steps:
        assert not step.codes or sum(count for _, count in step.codes) == step.beads
    assert "172 so far): 8 M, 24 S" in as_text(document)
    assert "172 so far): 8 M, 24 S" in as_markdown(document)
