"""Colours from letters in a grid: every bead stands where the grid shows it, in plain columns of beads."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.errors import PlanError
from stitchalong.plan.charts import fault_of
from stitchalong.plan.read import read_text
from tests.techniques.columns import Columns, even_tube, flat, odd_tube
from tests.techniques.common import calm, stitches, walked
from tests.writing import plan_text

CORNERS = ["bottom left", "bottom right", "top left", "top right"]
STITCH = {
    "strung row": "flat peyote",
    "tube": "peyote",
    "drop tube": "drop peyote",
    "odd tube": "spiral peyote",
}


def charted(start: str, lines: list[str], begins: str = "bottom left", *more: str) -> Course:
    drop = f" ;; drop = {more[0]}" if more else ""
    text = plan_text(
        f'start = "{start}" ;; chart = "one"{drop}', f'stitch = "{STITCH[start]}" ;; chart = "one"', markers=""
    )
    text += f'[charts.one]\nbegins = "{begins}"\nlines = [{", ".join(chr(34) + line + chr(34) for line in lines)}]\n'
    return compile_plan(read_text(text).plan)


def laid(course: Course) -> list[str]:
    return [code for one in stitches(course) for code in one["beads"]]


def seen(piece: Columns, lines: list[str], begins: str, *, first_on_the_right: bool) -> list[str]:
    """What the grid shows at the place of each bead, in the order laid.

    The naive piece counts its columns from the end of the strand or from its beginning.
    """
    low, side = begins.split()
    width = len(lines[0])
    out = {}
    for column, stack in enumerate(piece.stacks):
        from_first = width - 1 - column if first_on_the_right else column
        across = from_first if side == "left" else width - 1 - from_first
        for level, bead in enumerate(stack):
            out[bead] = lines[level if low == "top" else len(lines) - 1 - level][across]
    return [out[bead] for bead in sorted(out)]


@st.composite
def grids(draw: st.DrawFn, width: st.SearchStrategy[int]) -> list[str]:
    across, high = draw(width), draw(st.integers(2, 7))
    line = st.text("ABCD", min_size=across, max_size=across)
    return draw(st.lists(line, min_size=high, max_size=high))


@calm
@given(grids(st.integers(2, 11)), st.sampled_from(CORNERS))
def test_a_flat_piece_shows_its_grid(lines: list[str], begins: str) -> None:
    across, rows = len(lines[0]), 2 * len(lines)
    piece = flat(across, rows)
    assert laid(charted("strung row", lines, begins)) == seen(piece, lines, begins, first_on_the_right=True)


@calm
@given(grids(st.integers(1, 4).map(lambda half: 4 * half)), st.sampled_from(CORNERS))
def test_a_flat_piece_with_a_drop_shows_its_grid(lines: list[str], begins: str) -> None:
    piece = flat(len(lines[0]) // 2, 2 * len(lines), 2)
    assert laid(charted("strung row", lines, begins, "2")) == seen(piece, lines, begins, first_on_the_right=True)


@calm
@given(grids(st.integers(1, 3).map(lambda half: 6 * half)), st.sampled_from(CORNERS))
def test_odd_rows_of_groups_show_their_grid_although_the_last_is_picked_up_outside(
    lines: list[str], begins: str
) -> None:
    groups = len(lines[0]) // 2
    piece = flat(groups, 2 * len(lines), 2, lambda row: bool(groups % 2))
    assert laid(charted("strung row", lines, begins, "2")) == seen(piece, lines, begins, first_on_the_right=True)


@calm
@given(grids(st.integers(3, 7).map(lambda half: 2 * half)), st.sampled_from(CORNERS))
def test_a_tube_shows_its_grid_although_its_rounds_travel(lines: list[str], begins: str) -> None:
    piece = even_tube(len(lines[0]), 2 * len(lines))
    assert laid(charted("tube", lines, begins)) == seen(piece, lines, begins, first_on_the_right=False)


@calm
@given(grids(st.integers(3, 5).map(lambda half: 4 * half)), st.sampled_from(CORNERS))
def test_a_drop_tube_shows_its_grid(lines: list[str], begins: str) -> None:
    piece = even_tube(len(lines[0]) // 2, 2 * len(lines), 2)
    assert laid(charted("drop tube", lines, begins, "2")) == seen(piece, lines, begins, first_on_the_right=False)


@calm
@given(grids(st.integers(3, 6).map(lambda half: 2 * half + 1)), st.sampled_from(CORNERS))
def test_a_spiral_shows_its_grid(lines: list[str], begins: str) -> None:
    width = len(lines[0])
    piece = odd_tube(width, width * (len(lines) - 1))
    assert laid(charted("odd tube", lines, begins)) == seen(piece, lines, begins, first_on_the_right=False)


def test_a_word_chart_gives_the_same_work() -> None:
    """Bracketed numbers are how many, letters which bead: the usual form (common practice, no source)."""
    by_words = plan_text(
        'start = "strung row" ;; beads = "(1)A, (2)B, (1)A"',
        'stitch = "flat peyote" ;; rows = ["(1)C, (1)B", "(2)A", "(1)B, (1)C", "(1)A, (1)C"]',
    )
    lines = ["ACCB", "ABAC", "ABBA"]
    assert laid(compile_plan(read_text(by_words).plan)) == laid(charted("strung row", lines))


def test_the_height_may_be_less_than_the_chart() -> None:
    text = plan_text('start = "strung row" ;; chart = "one"', 'stitch = "flat peyote" ;; chart = "one" ;; height = 3')
    text += '[charts.one]\nlines = ["AABB", "ABAB", "B A B A"]\n'
    course = compile_plan(read_text(text).plan)
    assert course.beads == 4 + 3 * 2
    assert walked(course)[0] == 10


@pytest.mark.parametrize(
    ("work", "chart", "words"),
    [
        (
            'start = "strung row" ;; chart = "two"',
            'lines = ["AB", "AB"]',
            "no chart called two (define it: [charts.two])",
        ),
        ('start = "strung row" ;; chart = "one"', 'lines = ["AB", "ABA"]', "line 2 of the chart has 3 letters"),
        ('start = "strung row" ;; chart = "one"', 'lines = ["AB"]', "two lines or more"),
        ('start = "strung row" ;; chart = "one"', 'lines = ["A.", "AB"]', "`.` is no bead code"),
        ('start = "strung row" ;; chart = "one"', 'lines = ["AZ", "AB"]', "bead `Z` is not in the palette"),
        ('start = "strung row" ;; chart = "one"', 'begins = "top left"', "either `lines` or a `picture`"),
        ('start = "strung row" ;; chart = "one" ;; beads = "2A"', 'lines = ["AB", "AB"]', "its beads in two ways"),
        ('start = "tube" ;; chart = "one"', 'lines = ["ABABABA", "ABABABA"]', "7 letters wide"),
        ('start = "odd tube" ;; chart = "one"', 'lines = ["ABABABAB", "ABABABAB"]', "(7 or 9 would do)"),
        ('start = "drop tube" ;; chart = "one"', f'lines = ["{"AB" * 17}", "{"AB" * 17}"]', "(32 or 36 would do)"),
        ('start = "strung row" ;; chart = "one" ;; drop = 2', 'lines = ["ABA", "ABA"]', "(4 would do)"),
        ('start = "strung row" ;; beads = "2A"', 'lines = ["AB", "AB"]', "says the colours from the start on"),
    ],
)
def test_a_chart_that_cannot_be_used_is_refused(work: str, chart: str, words: str) -> None:
    stitch = STITCH[work.split('"')[1]]
    text = plan_text(work, f'stitch = "{stitch}" ;; chart = "one"', markers="")
    with pytest.raises(PlanError) as caught:
        read_text(text + f"[charts.one]\n{chart}\n")
    assert words in str(caught.value)


def test_a_chart_is_worked_once() -> None:
    stitch = 'stitch = "flat peyote" ;; chart = "one"'
    text = plan_text('start = "strung row" ;; chart = "one"', stitch, stitch, markers="")
    with pytest.raises(PlanError, match="is worked already"):
        read_text(text + '[charts.one]\nlines = ["AB", "AB"]\n')
    both = plan_text('start = "strung row" ;; chart = "one"', stitch + ' ;; rows = "A"', markers="")
    with pytest.raises(PlanError, match="by a chart and by `rows`"):
        read_text(both + '[charts.one]\nlines = ["AB", "AB"]\n')


@pytest.mark.parametrize(("begins", "side"), [("bottom left", "left"), ("top right", "right")])
def test_the_tail_lies_where_the_chart_begins(begins: str, side: str) -> None:
    course = charted("strung row", ["ABAB", "BABA"], begins)
    assert any(f"With the tail at the {side}, this row goes" in remark.text for remark in course.remarks)


def test_a_letter_that_steers_a_terminal_is_told_by_its_number() -> None:
    """A checked plan can come from a stranger too, in a file that a piece was written into."""
    assert fault_of(["AA", "A\u202e"]) == "U+202E is no bead code"
    assert fault_of(["AA", "Aé"]) == "`é` is no bead code"
