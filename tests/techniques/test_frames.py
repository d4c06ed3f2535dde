"""Cubes and open strips, against graphs of networkx, published counts, and naive places.

A base of four and walls of 3, 2, 2 and 1 beads (ellikki.fi/korut/?p=1879): twelve beads in the first cube, eight in
each further one, the sequence A017113. The strip: common practice, no source.
"""

from __future__ import annotations

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.course.course import Course
from stitchalong.errors import PlanError
from tests.techniques.common import beads_by_row, calm, leaps, stitches, thread_of, walked
from tests.writing import course_of


def beam(base: int, storeys: int, *more: str) -> Course:
    return course_of(
        f'start = "cube base" ;; beads = "{base}A"',
        f'stitch = "cubic right-angle weave" ;; rounds = "A" ;; height = {storeys}',
        *more,
    )


def prism(base: int, storeys: int) -> tuple[nx.Graph, dict[int, frozenset[tuple[int, int]]]]:
    """Corners of a prism by (around, level) and the beads between them, numbered wall by wall from the rule's words:
    each wall lacks the far upright, the ceiling and the near upright, in this order."""
    graph = nx.cartesian_product(nx.cycle_graph(base), nx.path_graph(storeys + 1))
    number = {at + 1: frozenset(((at, 0), ((at + 1) % base, 0))) for at in range(base)}
    known = set(number.values())
    for level in range(storeys):
        for near in range(base):
            far = (near + 1) % base
            for side in (
                frozenset(((far, level), (far, level + 1))),
                frozenset(((far, level + 1), (near, level + 1))),
                frozenset(((near, level), (near, level + 1))),
            ):
                if side not in known:
                    known.add(side)
                    number[len(number) + 1] = side
    return graph, number


def test_cubes_are_twelve_and_eight() -> None:
    """A017113: 4, 12, 20, 28, 36."""
    assert [beam(4, count).beads for count in (1, 2, 3, 4)] == [12, 20, 28, 36]
    assert beads_by_row(beam(4, 3)) == [4, 8, 8, 8]


def test_walls_are_of_three_two_two_and_one() -> None:
    walls = [len(one["ids"]) for one in stitches(beam(4, 2)) if one["kind"] == "unit"]
    assert walls == [3, 2, 2, 1, 3, 2, 2, 1]


@calm
@given(st.integers(3, 8), st.integers(1, 6))
def test_a_beam_has_a_bead_for_every_edge_of_a_prism(base: int, storeys: int) -> None:
    """b + 2bk; the thread turns only at corners that two beads share."""
    course = beam(base, storeys)
    graph, number = prism(base, storeys)
    assert course.beads == graph.number_of_edges() == base + 2 * base * storeys
    assert {frozenset(edge) for edge in graph.edges} == set(number.values())
    assert not leaps(course, lambda one, other: bool(number[one] & number[other]))


@calm
@given(st.integers(3, 8), st.integers(1, 5))
def test_the_thread_goes_on_from_corner_to_corner(base: int, storeys: int) -> None:
    """Stricter: a bead is left at the end that it was not entered by, so the thread never cuts a corner."""
    _, number = prism(base, storeys)
    thread = thread_of(beam(base, storeys))
    at = (0, 0)
    for bead in thread:
        assert at in number[bead]
        (at,) = number[bead] - {at}


@calm
@given(st.integers(3, 8), st.integers(1, 5))
def test_every_ceiling_is_passed_round(base: int, storeys: int) -> None:
    course = beam(base, storeys)
    _, number = prism(base, storeys)
    rounds = [one["through"] for one in stitches(course) if one["kind"] == "reinforce"]
    assert len(rounds) == storeys
    for level, way in enumerate(rounds, start=1):
        ceiling = {bead for bead, side in number.items() if {corner[1] for corner in side} == {level}}
        assert set(way[1 : base + 1]) == ceiling
        assert way[base + 1 :] == ([] if level == storeys else way[1:2])


@pytest.mark.parametrize(
    ("base", "rounds", "words"),
    [
        ("2A", '"A"', "a base of 2 beads has no room within (4 beads for cubes, 3 at least)"),
        ("4A", '"5A"', "1 stitch too many"),
        ("4A", '["AAA together, AA x 3"]', "wall 4 takes 1 bead"),
        ("4A", '"A (9 beads)"', "the storey has 8 beads, not 9"),
    ],
)
def test_a_storey_that_does_not_fit_is_refused(base: str, rounds: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of(
            f'start = "cube base" ;; beads = "{base}"', f'stitch = "cubic right-angle weave" ;; rounds = {rounds}'
        )
    assert words in str(caught.value)


def test_words_lead_to_the_last_bead() -> None:
    laid, said = walked(beam(4, 3))
    assert laid == 28
    assert any("round the whole ceiling, adding nothing" in one for one in said)


# ---- the strip ----------------------------------------------------------------------------------


def strap(units: int, rows: int, turn: str = "figure eight") -> Course:
    work = [f'stitch = "flat peyote" ;; rows = "B" ;; height = {rows} ;; turn = "{turn}"'] if rows else []
    return course_of(f'start = "MRAW strip" ;; frame = "C" ;; spacers = "{units - 1}S"', *work)


def strap_places(units: int, rows: int) -> dict[int, tuple[int, int]]:
    """Naive: (column, height) of each bead above the sides; tops in even columns, spacers in odd ones."""
    place: dict[int, tuple[int, int]] = {}

    def put(column: int, height: int) -> None:
        place[len(place) + 1] = (column, height)

    for unit in range(units):
        at = 2 * unit
        if unit:
            put(at - 1, 1)
            put(at, 0)
            put(at + 1, -2)
            put(at, -4)
        else:
            for column, height in ((0, 0), (1, -2), (0, -4), (-1, -2)):
                put(column, height)
    for row in range(rows):
        columns = list(range(row % 2, 2 * units - 1, 2))
        if row % 2 == 0:
            columns.reverse()
        for column in columns:
            put(column, 2 + row)
    return place


def near(one: tuple[int, int], other: tuple[int, int]) -> bool:
    """A step aside and up or down by one or two, or straight up or down by two."""
    across, up = abs(one[0] - other[0]), abs(one[1] - other[1])
    return (across, up) in ((1, 1), (1, 2), (0, 2))


@calm
@given(st.integers(3, 10), st.integers(0, 8), st.sampled_from(["figure eight", "through the edge", "under thread"]))
def test_a_strip_has_four_beads_a_unit_and_carries_odd_rows(units: int, rows: int, turn: str) -> None:
    """4n; then n and n - 1 beads by turns."""
    course = strap(units, rows, turn)
    assert beads_by_row(course) == [4 * units, *(units - row % 2 for row in range(rows))]
    place = strap_places(units, rows)
    assert len(place) == course.beads
    assert not leaps(course, lambda one, other: near(place[one], place[other]))


def test_a_strip_passes_up_the_shared_side_and_through_its_own_top() -> None:
    assert [(one["ids"], one["through"]) for one in stitches(strap(3, 0))] == [
        ([1, 2, 3, 4], [1]),
        ([5, 6, 7, 8], [2, 6]),
        ([9, 10, 11, 12], [7, 10]),
    ]


def test_the_first_row_goes_back_through_the_spacers() -> None:
    row = [one["through"] for one in stitches(strap(4, 1, "under thread"))][4:]
    assert row[:3] == [[13], [9], [5]]


@pytest.mark.parametrize(
    ("start", "words"),
    [
        ('frame = "C" ;; spacers = "1S"', "a strip with 1 spacer is too short (2 spacers or more"),
        ('frame = "Z" ;; spacers = "4S"', "Z"),
        ('spacers = "4S"', "`frame` is missing"),
        ('frame = "C" ;; spacers = "4S" ;; units = 5', "`units` belongs to"),
    ],
)
def test_a_strip_that_cannot_be_worked_is_refused(start: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of(f'start = "MRAW strip" ;; {start}', 'stitch = "flat peyote" ;; rows = "B"')
    assert words in str(caught.value)


def test_a_strip_is_open() -> None:
    with pytest.raises(PlanError, match="is open"):
        course_of('start = "MRAW strip" ;; frame = "C" ;; spacers = "5S"', 'stitch = "peyote" ;; rounds = "A"')


def test_words_lead_along_the_strip() -> None:
    laid, said = walked(strap(4, 3))
    assert laid == 16 + 4 + 3 + 4
    assert not any("strand" in one for one in said)
