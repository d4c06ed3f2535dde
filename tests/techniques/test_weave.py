"""Right-angle weave, against the grid graphs of networkx, published counts, and naive rooms.

Row by row: 4, then 3 for each unit; upstairs 3, then 2 (interweave.com, whos-afraid-of-the-big-bad-raw). The totals of
square patches are the sequence A046092 of the On-Line Encyclopedia of Integer Sequences.
"""

from __future__ import annotations

from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.course.course import Course
from stitchalong.errors import PlanError
from tests.techniques.common import beads_by_row, calm, leaps, stitches, thread_of, walked
from tests.techniques.rooms import Rooms, grid
from tests.writing import course_of


def weave(units: int, rows: int, *, closed: bool = False) -> Course:
    if closed:
        start = f'start = "right-angle weave ring" ;; beads = "{3 * units}A"'
        more = f'stitch = "tubular right-angle weave" ;; rounds = "A" ;; height = {rows - 1}'
    else:
        start = f'start = "right-angle weave row" ;; beads = "{3 * units + 1}A"'
        more = f'stitch = "right-angle weave" ;; rows = "A" ;; height = {rows - 1}'
    return course_of(start, *([more] if rows > 1 else []))


def units_of(course: Course) -> list[list[str]]:
    return [one["beads"] for one in stitches(course) if one["kind"] == "unit"]


@calm
@given(st.integers(1, 12), st.integers(1, 8))
def test_a_patch_has_a_bead_for_every_edge_of_a_grid(units: int, rows: int) -> None:
    assert weave(units, rows).beads == grid(units, rows, closed=False).number_of_edges()


@calm
@given(st.integers(3, 12), st.integers(1, 8))
def test_a_tube_has_a_bead_for_every_edge_of_a_closed_grid(units: int, rows: int) -> None:
    assert weave(units, rows, closed=True).beads == grid(units, rows, closed=True).number_of_edges()


def test_square_patches_are_the_known_sequence() -> None:
    """A046092: 4, 12, 24, 40, 60."""
    assert [weave(size, size).beads for size in range(1, 6)] == [4, 12, 24, 40, 60]


def test_units_take_four_three_and_two() -> None:
    sizes = [len(beads) for beads in units_of(weave(4, 3))]
    assert sizes == [4, 3, 3, 3, 3, 2, 2, 2, 3, 2, 2, 2]


def test_the_closing_unit_takes_two_beads_one_by_one_and_then_one() -> None:
    """Common practice, no source: a ceiling, the first wall, a floor; upstairs a ceiling alone."""
    course = weave(6, 3, closed=True)
    assert beads_by_row(course) == [18, 12, 12]
    join = next(one for one in stitches(course) if one["kind"] == "join")
    assert len(join["ids"]) == 1
    assert join["through"] == [1], "the first bead of all is the first unit's wall"
    assert [len(beads) for beads in units_of(course)] == [4, 3, 3, 3, 3, 1, 3, 2, 2, 2, 2, 1, 3, 2, 2, 2, 2, 1]


@pytest.mark.parametrize("closed", [False, True])
@calm
@given(st.integers(3, 9), st.integers(1, 7))
def test_the_thread_never_crosses_a_unit(closed: bool, units: int, rows: int) -> None:
    course = weave(units, rows, closed=closed)
    piece = Rooms(units, rows, closed=closed)
    assert course.beads == piece.laid
    assert not leaps(course, piece.touch)


@pytest.mark.parametrize("closed", [False, True])
@calm
@given(st.integers(3, 9), st.integers(1, 7))
def test_the_thread_goes_on_from_corner_to_corner(closed: bool, units: int, rows: int) -> None:
    """Stricter: a bead is left at the end that it was not entered by."""
    sides = {bead: side for side, bead in Rooms(units, rows, closed=closed).number.items()}
    at = (0, 0)
    for bead in thread_of(weave(units, rows, closed=closed)):
        assert at in sides[bead]
        (at,) = sides[bead] - {at}


@pytest.mark.parametrize("closed", [False, True])
def test_the_units_share_their_sides_as_the_squares_of_a_grid_do(closed: bool) -> None:
    """The thread meets all four beads of each unit on its way round it; and the units lie as networkx lays squares."""
    units, rows = 5, 4
    course = weave(units, rows, closed=closed)
    naive = Rooms(units, rows, closed=closed)
    met: set[int] = set()
    rooms = iter(naive.rooms)
    for one in stitches(course):
        met |= {*one["ids"], *one["through"]}
        if one["kind"] == "unit":
            assert met >= set(next(rooms))
            met = set(one["through"])
    walls = nx.Graph()
    walls.add_nodes_from(range(units * rows))
    owner: dict[int, int] = {}
    for nth, room in enumerate(naive.rooms):
        for bead in room:
            if bead in owner:
                walls.add_edge(owner[bead], nth)
            owner[bead] = nth
    plan = nx.cartesian_product(nx.cycle_graph(units), nx.path_graph(rows)) if closed else nx.grid_2d_graph(units, rows)
    assert nx.is_isomorphic(walls, plan)


def test_every_second_unit_turns_the_other_way() -> None:
    """Out of the shared side by one end, then by the other: clockwise and anticlockwise by turns."""
    through = [one["through"] for one in stitches(weave(4, 1))]
    assert through == [[1, 2, 3], [3, 5, 6], [6, 8, 9], [9]]


@pytest.mark.parametrize(
    ("kind", "beads", "words"),
    [
        ("row", 12, "12 beads are no row of units (4 beads, then 3 each); 10 and 13 do"),
        ("row", 2, "2 beads are no row of units (4 beads, then 3 each); 4 does"),
        ("ring", 34, "34 beads are no ring of units (3 beads each); 33 and 36 do"),
        ("ring", 6, "6 beads are no ring of units (3 beads each); 9 does"),
    ],
)
def test_a_count_that_makes_no_units_is_refused(kind: str, beads: int, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of(f'start = "right-angle weave {kind}" ;; beads = "{beads}A"')
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ('"2A"', "the last space of the row has no bead"),
        ('"ABA together, AB, AA x 1, A"', "1 stitch too many"),
        ('"AB, 2A"', "unit 1 takes 3 beads (`A` for all of them, or told one by one: `AAA together`)"),
        ('"A, AB, no bead"', "unit 3 takes 2 beads"),
        ('"A (8 beads)"', "the row has 7 beads, not 8"),
    ],
)
def test_a_row_that_does_not_fit_is_refused(row: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of('start = "right-angle weave row" ;; beads = "10A"', f'stitch = "right-angle weave" ;; rows = [{row}]')
    assert words in str(caught.value)


def test_rows_on_a_ring_are_refused_and_rings_on_a_row() -> None:
    with pytest.raises(PlanError, match="right-angle weave hangs from a right-angle weave row"):
        course_of('start = "right-angle weave ring" ;; beads = "9A"', 'stitch = "right-angle weave" ;; rows = "A"')
    with pytest.raises(PlanError, match="hangs from a right-angle weave ring"):
        course_of(
            'start = "right-angle weave row" ;; beads = "10A"', 'stitch = "tubular right-angle weave" ;; rounds = "A"'
        )


def test_a_row_is_written_unit_by_unit() -> None:
    course = course_of(
        'start = "right-angle weave row" ;; beads = "10A"',
        'stitch = "right-angle weave" ;; rows = ["ABC together, B, AC (7 beads)"]',
    )
    assert units_of(course)[3:] == [["A", "B", "C"], ["B", "B"], ["A", "C"]]


@pytest.mark.parametrize("units", [5, 6])
@pytest.mark.parametrize("rounds", [1, 2])
def test_peyote_hangs_between_the_ceilings(units: int, rounds: int) -> None:
    more = ['stitch = "tubular right-angle weave" ;; rounds = "A"'] if rounds == 2 else []
    course = course_of(
        f'start = "right-angle weave ring" ;; beads = "{3 * units}A"', *more, 'stitch = "peyote" ;; rounds = ["B", "B"]'
    )
    piece = Rooms(units, rounds, closed=True)
    ceilings = {bead for side, bead in piece.number.items() if {row for _, row in side} == {rounds}}
    laid = [one for one in stitches(course) if one["beads"] == ["B"]]
    assert {bead for one in laid[:units] for bead in one["through"]} == ceilings
    assert all(piece.touch(one["through"][-1], other["through"][-1]) for one, other in pairwise(laid[:units]))


@pytest.mark.parametrize("closed", [False, True])
def test_words_lead_to_the_last_bead(closed: bool) -> None:
    laid, said = walked(weave(5, 3, closed=closed))
    assert laid == weave(5, 3, closed=closed).beads
    assert any("the floor of the next unit" in one for one in said)
    assert any("out of its ceiling" in one for one in said)
