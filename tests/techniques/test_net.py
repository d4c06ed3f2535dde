"""Netting, against published counts and naive strings of beads.

Forty beads for ten loops of three; thirty in each round; a step-up of two beads past the anchor
(angelfire.com/co2/beltana/net.html). Peyote as a net of one bead (huanjue893.ivoire-blog.com, 2016-04-05).
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.course.course import Course
from stitchalong.errors import PlanError
from tests.techniques.common import beads_by_row, calm, leaps, stitches, thread_of, walked
from tests.writing import course_of

ODD = st.integers(0, 4).map(lambda half: 2 * half + 1)


def piece(loops: int, size: int, rounds: int, *more: str) -> Course:
    start = f'start = "net ring" ;; beads = "{loops * (size + 1)}A" ;; loop = {size}'
    work = [f'stitch = "netting" ;; rounds = "A" ;; height = {rounds}'] if rounds else []
    return course_of(start, *work, *more)


class Net:
    """Naive: strings of beads from knot to knot; only neighbours on a string, and its ends and their knots, touch."""

    def __init__(self, loops: int, sizes: list[int]) -> None:
        self.laid = 0
        self.pairs: set[frozenset[int]] = set()
        size = sizes[0]
        whole = loops * (size + 1)
        ring = list(range(1, whole + 1))
        self._join([*ring, 1])
        self.laid = whole
        knots = ring[:: size + 1]
        for size in sizes[1:]:
            tips = []
            for nth, knot in enumerate(knots):
                new = list(range(self.laid + 1, self.laid + size + 1))
                self.laid += size
                self._join([knot, *new, knots[(nth + 1) % loops]])
                tips.append(new[(size - 1) // 2])
            knots = tips

    def _join(self, beads: list[int]) -> None:
        for at in range(len(beads) - 1):
            self.pairs.add(frozenset(beads[at : at + 2]))

    def touch(self, one: int, other: int) -> bool:
        return frozenset((one, other)) in self.pairs


def test_ten_loops_of_three_are_the_printed_ones() -> None:
    course = piece(10, 3, 3)
    assert beads_by_row(course) == [40, 30, 30, 30]
    ups = [one for one in stitches(course) if one["kind"] == "step-up"]
    assert [len(one["through"]) for one in ups] == [2, 2]
    assert [one["step_up"] for one in ups] == [3, 3], "the anchor or tip passed last, and half a loop"


@calm
@given(st.integers(3, 10), ODD, st.integers(0, 8))
def test_each_round_adds_its_loops(loops: int, size: int, rounds: int) -> None:
    """s(k + 1) + R * s * k."""
    course = piece(loops, size, rounds)
    assert course.beads == loops * (size + 1) + rounds * loops * size
    assert not leaps(course, Net(loops, [size] * (rounds + 1)).touch)


@calm
@given(st.integers(3, 8), ODD, st.lists(ODD, min_size=1, max_size=5))
def test_loops_may_change_from_round_to_round(loops: int, size: int, sizes: list[int]) -> None:
    work = [f'stitch = "netting" ;; rounds = "A" ;; loop = {one}' for one in sizes]
    course = piece(loops, size, 0, *work)
    assert beads_by_row(course)[1:] == [loops * one for one in sizes]
    assert not leaps(course, Net(loops, [size, *sizes]).touch)


@calm
@given(st.integers(3, 10), st.integers(1, 6))
def test_loops_of_one_are_peyote(loops: int, rounds: int) -> None:
    net = piece(loops, 1, rounds)
    peyote = course_of(
        f'start = "tube" ;; beads = "{2 * loops}A"', f'stitch = "peyote" ;; rounds = "A" ;; height = {rounds}'
    )
    assert thread_of(net) == thread_of(peyote)


@pytest.mark.parametrize("size", [3, 5, 7])
def test_peyote_hangs_from_the_tips(size: int) -> None:
    course = piece(6, size, 2, 'stitch = "peyote" ;; rounds = ["B", "B"]')
    laid = [one for one in stitches(course) if one["beads"] == ["B"]]
    tips = [6 * (size + 1) + 6 * size + nth * size + (size + 1) // 2 for nth in range(6)]
    assert [one["through"][-1] for one in laid[:6]] == [*tips[1:], tips[0]]
    assert len(laid) == 12


@pytest.mark.parametrize(
    ("start", "work", "words"),
    [
        ('beads = "34A"', "", "34 beads do not divide by 4; 32 and 36 do"),
        ('beads = "34A" ;; loop = 5', "", "34 beads do not divide by 6; 30 and 36 do"),
        ('beads = "8A"', "", "a net ring of 8 beads has too few loops (12 beads or more)"),
        ('beads = "40A" ;; loop = 4', "", "a loop of 4 has no middle bead (loop = 3 or loop = 5)"),
        ('beads = "40A"', "loop = 2", "a loop of 2 has no middle bead"),
        ('beads = "40A"', 'rounds = "9A"', "the last space of the round has no bead"),
        ('beads = "40A"', 'rounds = "9A, AAAAA together"', "loop 10 takes 3 beads"),
        ('beads = "40A"', 'rounds = "10A (40 beads)"', "the round has 30 beads, not 40"),
    ],
)
def test_what_cannot_be_worked_is_refused(start: str, work: str, words: str) -> None:
    rounds = [work] if "rounds" in work else ['rounds = "A"', *([work] if work else [])]
    with pytest.raises(PlanError) as caught:
        course_of(f'start = "net ring" ;; {start}', " ;; ".join(['stitch = "netting"', *rounds]))
    assert words in str(caught.value)


def test_netting_on_a_ring_is_refused() -> None:
    with pytest.raises(PlanError, match="netting hangs from a net ring"):
        course_of('start = "ring" ;; beads = "12A"', 'stitch = "netting" ;; rounds = "A"')


def test_words_lead_to_the_last_bead() -> None:
    laid, said = walked(piece(4, 3, 3))
    assert laid == 16 + 36
    assert any("the tip of the next loop" in one for one in said)
    assert any("3 beads with the one where it began" in one for one in said)
