"""Square stitch, against the published stitch and networkx's grids.

Pick up one, pass through the bead directly below in the opposite direction, pass through the new bead again
(beadwork.about.com, Square-Stitch-Beading-Diagram-Tutorial); rows read to and fro
(kimberlychapman.com/crafts/beadsquareleft.html).
"""

from __future__ import annotations

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.course.course import Course
from stitchalong.errors import PlanError
from tests.techniques.common import beads_by_row, calm, leaps, stitches, walked
from tests.writing import course_of


def piece(across: int, rows: int, straighten: str = "false") -> Course:
    return course_of(
        f'start = "strand" ;; beads = "{across}A"',
        f'stitch = "square stitch" ;; rows = "A" ;; height = {rows - 1} ;; straighten = {straighten}',
    )


def test_each_bead_goes_through_the_one_below_and_through_itself() -> None:
    assert [one["through"] for one in stitches(piece(3, 3))][3:] == [[3, 4], [2, 5], [1, 6], [6, 7], [5, 8], [4, 9]]


@calm
@given(st.integers(2, 12), st.integers(2, 10), st.booleans())
def test_the_thread_stays_on_a_grid(across: int, rows: int, straighten: bool) -> None:
    """n * R beads at the knots of a grid; the thread goes along its lines."""
    course = piece(across, rows, str(straighten).lower())
    assert course.beads == across * rows
    assert beads_by_row(course) == [across] * rows
    grid = nx.grid_2d_graph(rows, across)
    place = {}
    for row in range(rows):
        for nth in range(across):
            place[row * across + nth + 1] = (row, across - 1 - nth if row % 2 else nth)
    assert not leaps(course, lambda one, other: grid.has_edge(place[one], place[other]))


def test_a_pass_to_straighten_goes_through_both_rows_and_adds_nothing() -> None:
    passes = [one for one in stitches(piece(4, 3, "true")) if one["kind"] == "reinforce"]
    assert [one["through"] for one in passes] == [[1, 2, 3, 4, 5, 6, 7, 8], [5, 6, 7, 8, 9, 10, 11, 12]]
    assert not any(one["ids"] for one in passes)


@pytest.mark.parametrize(
    ("start", "rows", "words"),
    [
        ('"strand" ;; beads = "1A"', '"A"', "a row of 1 bead cannot be worked (2 beads or more)"),
        ('"strand" ;; beads = "4A"', '"5A"', "1 stitch too many: the row has 4 spaces"),
        ('"strand" ;; beads = "4A"', '"3A"', "the last space of the row has no bead"),
        ('"ladder" ;; beads = "4A"', '"A"', "square stitch hangs from a strand"),
    ],
)
def test_what_cannot_be_worked_is_refused(start: str, rows: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of(f"start = {start}", f'stitch = "square stitch" ;; rows = {rows}')
    assert words in str(caught.value)


def test_words_lead_to_the_last_bead() -> None:
    laid, said = walked(piece(4, 4, "true"))
    assert laid == 16
    assert any("through the bead right below" in one for one in said)
    assert any("8 beads in all" in one for one in said)
