"""The rule of peyote on a closed edge, against a plain list of beads."""

from __future__ import annotations

from itertools import count

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.fabric.edge import Edge, Mark
from stitchalong.fabric.peyote import lay, step_up, turned
from stitchalong.fabric.stitch import NO_BEAD, Make, Note

A = Make.single("A")
PAIR = Make.together(("A", "A"))
THREE = Make.together(("A", "A", "A"))
PICOT = Make.picot(("A", "B", "A"))
CORNER = Make.corner(("A", "B", "A"))

makes = st.lists(st.sampled_from([A, A, A, PAIR, THREE, PICOT, CORNER, NO_BEAD]), min_size=1, max_size=14)


def _lay(edge: Edge, round_: list[Make], bounds: set[int] | None = None):
    numbers = count(1000)
    return lay(edge, [(make, 1) for make in round_], bounds or set(), lambda: next(numbers))


@given(makes)
def test_the_next_edge_is_what_was_laid_in_order(round_: list[Make]) -> None:
    laid = _lay(Edge(len(round_)), round_)
    spaces = [space for space, make in enumerate(round_) for _ in make.ups]
    assert laid.edge.size == len(spaces)
    assert [laid.space_of(up) for up in range(len(spaces))] == spaces
    for space in range(len(round_)):
        assert laid.up_before(space) == sum(len(make.ups) for make in round_[:space])


@given(makes)
def test_flanks_are_beside_increases_and_nowhere_else(round_: list[Make]) -> None:
    laid = _lay(Edge(len(round_)), round_)
    notes = [Note(flag) for _, number, flag in laid.runs for _ in range(number)]
    size = len(round_)
    for space in range(size):
        assert (Note.BEFORE in notes[space]) == round_[(space + 1) % size].increases
        assert (Note.AFTER in notes[space]) == round_[space - 1].increases
        assert (Note.INCREASE in notes[space]) == round_[space].increases
        assert (Note.DECREASE in notes[space]) == (round_[space] == NO_BEAD)


def test_a_column_has_a_space_in_every_other_round_until_a_pair_stands_in_it() -> None:
    edge = Edge(6, (Mark(4, 7),))
    seen = []
    for _ in range(4):
        seen.append(edge.spaces_over({7}))
        edge = _lay(edge, [A] * edge.size).edge
    assert [bool(spaces) for spaces in seen] == [False, True, False, True]
    edge = Edge(6, (Mark(5, 7),))
    for _ in range(4):
        (space,) = edge.spaces_over({7})
        edge = _lay(edge, [PAIR if at == space else A for at in range(edge.size)]).edge
    assert edge.spaces_over({7})
    assert edge.size == 10


def test_beside_an_empty_space_the_neighbours_share_a_space_in_its_column() -> None:
    laid = _lay(Edge(6, (Mark(5, 7),)), [A, A, NO_BEAD, A, A, A])
    assert laid.edge.size == 5
    assert laid.edge.spaces_over({7}) == [1]


@pytest.mark.parametrize(
    ("round_", "passes"),
    [
        ([A, A, A], 2),  # the up bead where the round began and the first bead: common practice, no source
        ([NO_BEAD, A, A], 3),
        ([NO_BEAD, NO_BEAD, A], 4),
        ([PICOT, A, A], 3),
        ([PAIR, A, A], 2),
        ([CORNER, A, A], 2),  # through only the first of three: beads-making.com/beaded-square-box
    ],
)
def test_a_step_up_passes_as_many_beads_as_the_first_stitch_asks_for(round_: list[Make], passes: int) -> None:
    assert step_up(_lay(Edge(3), round_).runs).passes == passes


@given(makes, st.integers(0, 20))
def test_a_round_turned_is_the_same_round_begun_elsewhere(round_: list[Make], spaces: int) -> None:
    laid = _lay(Edge(len(round_)), round_)
    spaces %= len(round_)
    flat = [(make, flag) for make, number, flag in laid.runs for _ in range(number)]
    again = [(make, flag) for make, number, flag in turned(laid.runs, spaces) for _ in range(number)]
    assert again == flat[spaces:] + flat[:spaces]


def test_runs_that_do_not_fill_the_edge_are_refused() -> None:
    with pytest.raises(ValueError, match="2 stitches for 3 spaces"):
        _lay(Edge(3), [A, A])


@given(makes, st.sets(st.integers(0, 27), max_size=6))
def test_a_column_is_carried_up_alone_as_with_the_whole_round(round_: list[Make], places: set[int]) -> None:
    size = len(round_)
    marks = tuple(Mark(at, 5000 + at) for at in sorted(places) if at < 2 * size)
    laid = _lay(Edge(size, marks), round_)
    if not laid.edge.size:
        return
    stand = {mark.column: mark.at for mark in laid.edge.marks if mark.column >= 5000}
    for mark in marks:
        assert stand.get(mark.column) == laid.carried(size, mark.at)
