"""From where on two courses ask for different work, held against the flat list of their steps."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stitchalong.course.course import Course
from stitchalong.course.differ import first_difference
from stitchalong.course.laid import Digests
from stitchalong.course.threads import Threads
from tests.writing import band, course_of, peyote

BAND = band("*3S, M* 3 times")
RISING = 'increase = { over = "M", from_round = 2 }'


def flat(course: Course) -> list[tuple[object, ...]]:
    """Every stitch as (part, edge, numbers, technique, kind, beads, beads passed through), in order."""
    threads = Threads(course)
    out = []
    for index, item in enumerate(course.rounds):
        for run in range(item.first_run, item.stop_run):
            stitch = course.stitch_of(run)
            out += [
                (
                    item.part,
                    item.edge,
                    item.numbers,
                    item.technique,
                    stitch.kind,
                    stitch.beads,
                    tuple(threads.view(index).through(run, nth)),
                )
                for nth in range(course.count_of(run))
            ]
    return out


def by_flat_lists(old: Course, new: Course) -> int | None:
    """The same, stitch by stitch."""
    ours, theirs = flat(old), flat(new)
    step = 0
    for one, other in zip(ours, theirs, strict=False):
        if one != other:
            return step
        step += len(one[5]) or 1  # type: ignore[arg-type]
    return None if len(ours) == len(theirs) else step


COURSES = {
    "as it was": course_of(BAND, peyote('["A", "B"]', "height = 4", RISING)),
    "another colour in round 3": course_of(BAND, peyote('["A", "B", "C", "B"]', "height = 4", RISING)),
    "a later increase": course_of(BAND, peyote('["A", "B"]', "height = 4", RISING.replace("2", "4"))),
    "one round more": course_of(BAND, peyote('["A", "B"]', "height = 5", RISING)),
    "one round less": course_of(BAND, peyote('["A", "B"]', "height = 3", RISING)),
    "another start": course_of(band("*4S, M* 3 times"), peyote('["A", "B"]', "height = 4", RISING)),
    "another marker": course_of(
        band("*3S, M* 2 times, 3S, D"), peyote('["A", "B"]', "height = 4", "increase = { sides = 3, from_round = 2 }")
    ),
    "written out": course_of(BAND, peyote('["A", "3B, BB, 3B, BB, 3B, BB"]')),
    "from the other edge": course_of(BAND, peyote('["A"]', edge="bottom")),
    "reinforced": course_of(BAND, peyote('["A", "B"]', "height = 4", RISING, "reinforce = true")),
    "walked": course_of(BAND, peyote('["A"]'), "walk = 2", peyote('["B", "A"]')),
    "flat": course_of('start = "strung row" ;; beads = "10A"', 'stitch = "flat peyote" ;; rows = ["A", "B"]'),
    "flat, other": course_of(
        'start = "strung row" ;; beads = "10A"', 'stitch = "flat peyote" ;; rows = ["A", "4B, A"]'
    ),
    "tube": course_of('start = "tube" ;; beads = "12A"', peyote('["A"]')),
}  # fmt: skip


@pytest.mark.parametrize("name", COURSES)
@pytest.mark.parametrize("other", COURSES)
def test_the_first_difference_is_that_of_the_flat_lists(name: str, other: str) -> None:
    old, new = COURSES[name], COURSES[other]
    found = first_difference(old, new)
    assert found == by_flat_lists(old, new)
    assert found == first_difference(new, old)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from("AB"), min_size=1, max_size=5), st.lists(st.sampled_from("AB"), min_size=1, max_size=5))
def test_rounds_of_other_colours_differ_from_the_first_of_them_on(one: list[str], other: list[str]) -> None:
    def work(codes: list[str]) -> Course:
        return course_of('start = "ring" ;; beads = "6A"', peyote(str(codes).replace("'", '"')))

    old, new = work(one), work(other)
    same = next((at for at, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other)))
    found = first_difference(old, new)
    if one == other:
        assert found is None
    elif same < min(len(one), len(other)):
        assert found == old.rounds[same + 1].first_step
    else:
        # the shorter one's last round has no step-up
        shorter = old if len(one) < len(other) else new
        assert found == shorter.steps
    digests = Digests(old), Digests(new)
    shared = min(len(one), len(other))
    for index in range(shared + 1):
        alike = digests[0].before(index) == digests[1].before(index)
        assert alike == (found is None or old.rounds[index].first_step <= found or index == 0)


def test_what_is_said_of_the_work_is_no_difference() -> None:
    plain = course_of('start = "ring" ;; beads = "6A, M"', peyote('["A"]'), markers="")
    marked = course_of('start = "ring" ;; beads = "6A, M"', peyote('["A"]'), markers="M")
    assert plain.markers != marked.markers
    assert first_difference(plain, marked) is None
    assert Digests(plain).before(1) == Digests(marked).before(1)


def test_digests_are_the_same_in_whatever_order_they_are_asked_for() -> None:
    course = COURSES["as it was"]
    forward, backward, told = Digests(course), Digests(course), Digests(course)
    last = len(course.rounds) - 1
    wanted = [forward.before(index) for index in range(last + 1)]
    assert [backward.before(index) for index in range(last, -1, -1)] == wanted[::-1]
    assert len(set(wanted)) == last + 1
    told.know(2, wanted[2])
    assert told.before(last) == wanted[last]
    assert told.before(1) == wanted[1]
    told = Digests(course)
    told.know(2, "another")
    assert told.before(3) != wanted[3]
