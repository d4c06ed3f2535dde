"""Pieces of several parts, drawn at random from all techniques: each part is the work it would be alone."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stitchalong.course.compile import compile_plan
from stitchalong.course.outlook import Lookout
from stitchalong.course.report import check_document, course_document, totals
from stitchalong.course.walker import address_of, position_of
from stitchalong.errors import PlanError
from stitchalong.plan.read import read_text
from tests.techniques.common import walked
from tests.writing import band, course_of, peyote, plan_text

Work = tuple[str, ...]
FRINGE = 'stitch = "fringe" ;; strands = ["2B", "3A, B"]'
PICOTS = 'stitch = "edging" ;; stitches = "picot BBB"'


@st.composite
def flat(draw: st.DrawFn) -> Work:
    across, drop = draw(st.integers(4, 9)), draw(st.integers(1, 2))
    turn = draw(st.sampled_from(["figure eight", "under thread", "through the edge"]))
    rows = draw(st.sampled_from(['"A"', '["B", "A; over A B"]', '["A to 1 before end, B"]']))
    if drop == 2 and "before end" in rows:
        rows = '"A to end"'
    turning = f' ;; turn = "{turn}"' if across % 2 else ""
    return (
        f'start = "strung row" ;; beads = "{across * drop}A" ;; drop = {drop}',
        f'stitch = "flat peyote" ;; rows = {rows} ;; height = {draw(st.integers(1, 6))}{turning}',
        *draw(st.sampled_from([(), (FRINGE,), (PICOTS,)])),
    )


@st.composite
def spiral(draw: st.DrawFn) -> Work:
    return (
        f'start = "odd tube" ;; beads = "{2 * draw(st.integers(3, 6)) + 1}A"',
        f'stitch = "spiral peyote" ;; pattern = "A, B" ;; height = {draw(st.integers(1, 6))}',
    )


@st.composite
def dropped(draw: st.DrawFn) -> Work:
    drop = draw(st.integers(2, 3))
    return (
        f'start = "drop tube" ;; beads = "{2 * drop * draw(st.integers(3, 5))}A" ;; drop = {drop}',
        f'stitch = "drop peyote" ;; rounds = ["A", "B"] ;; height = {draw(st.integers(1, 6))}',
    )


@st.composite
def disc(draw: st.DrawFn) -> Work:
    code = draw(st.sampled_from(["2-1-0", "3-2-2-1-0", "2", "1-0-2"]))
    return (
        f'start = "ring" ;; beads = "{draw(st.integers(3, 7))}A"',
        peyote('"A"', f"height = {draw(st.integers(2, 7))}", f'corners = {{ code = "{code}", from_round = 2 }}'),
        *draw(st.sampled_from([(), ('stitch = "fringe" ;; strands = "2B" ;; every = 2',)])),
    )


@st.composite
def ring(draw: st.DrawFn) -> Work:
    return (
        band(f"*{draw(st.integers(2, 5))}S, M* 3 times"),
        peyote('"A"', f"height = {draw(st.integers(2, 4))}", 'increase = { over = "M", from_round = 2 }'),
        *draw(st.sampled_from([(), (peyote('["B", "A"]', edge="bottom"),)])),
    )


@st.composite
def weave(draw: st.DrawFn) -> Work:
    units, height = draw(st.integers(3, 7)), draw(st.integers(1, 3))
    if draw(st.booleans()):
        return (
            f'start = "right-angle weave row" ;; beads = "{3 * units + 1}A"',
            f'stitch = "right-angle weave" ;; rows = "A" ;; height = {height}',
        )
    hung = draw(st.sampled_from([(), (peyote('["B", "A"]'),)]))
    return (
        f'start = "right-angle weave ring" ;; beads = "{3 * units}A"',
        f'stitch = "tubular right-angle weave" ;; rounds = "B" ;; height = {height}',
        *hung,
    )


@st.composite
def on_a_ladder(draw: st.DrawFn) -> Work:
    stitch, joined, rows = draw(
        st.sampled_from(
            [
                ("herringbone", False, "rows"),
                ("tubular herringbone", True, "rounds"),
                ("brick stitch", False, "rows"),
                ("tubular brick stitch", True, "rounds"),
            ]
        )
    )
    beads = 2 * draw(st.integers(3, 5))
    return (
        f'start = "ladder" ;; beads = "{beads}A"' + (" ;; joined = true" if joined else ""),
        f'stitch = "{stitch}" ;; {rows} = "B" ;; height = {draw(st.integers(1, 4))}',
    )


@st.composite
def square(draw: st.DrawFn) -> Work:
    return (
        f'start = "strand" ;; beads = "{draw(st.integers(3, 8))}A"',
        f'stitch = "square stitch" ;; rows = ["B", "A"] ;; height = {draw(st.integers(1, 4))}',
    )


@st.composite
def net(draw: st.DrawFn) -> Work:
    loops = draw(st.integers(3, 8))
    return (
        f'start = "net ring" ;; beads = "*B, 3A* {loops} times"',
        f'stitch = "netting" ;; rounds = "ABA together x {loops}" ;; height = {draw(st.integers(1, 3))}',
        *draw(st.sampled_from([(), (peyote('"A"'),)])),
    )


@st.composite
def cubes(draw: st.DrawFn) -> Work:
    return (
        f'start = "cube base" ;; beads = "{draw(st.integers(3, 5))}A"',
        f'stitch = "cubic right-angle weave" ;; rounds = ["A", "B"] ;; height = {draw(st.integers(1, 4))}',
    )


@st.composite
def open_strip(draw: st.DrawFn) -> Work:
    return (
        f'start = "MRAW strip" ;; frame = "A" ;; spacers = "{2 * draw(st.integers(2, 5)) + 1}B"',
        'stitch = "flat peyote" ;; turn = "through the edge" ;; rows = ["A", "B"] ;; height = 3',
    )


PARTS = st.one_of(
    flat(), spiral(), dropped(), disc(), ring(), weave(), on_a_ladder(), square(), net(), cubes(), open_strip()
)


def stitches_of(course_data: dict[str, Any], part: str, first: int) -> list[tuple[Any, ...]]:
    """The stitches of a part, its beads numbered from 1."""
    return [
        (
            one["kind"],
            one["beads"],
            [bead - first + 1 for bead in one["ids"]],
            [bead - first + 1 for bead in one["through"]],
            one["side"],
            one["step_up"],
        )
        for lap in course_data["rounds"]
        if lap["part"] == part
        for one in lap["stitches"]
    ]


@settings(deadline=None, max_examples=40)
@given(st.lists(PARTS, min_size=1, max_size=3))
def test_each_part_is_the_work_it_would_be_alone(parts: list[Work]) -> None:
    works = [f'{work[0]} ;; part = "part {nth}"' for nth, work in enumerate(parts)]
    course = course_of(*(text for start, work in zip(works, parts, strict=True) for text in (start, *work[1:])))
    data: Any = course_document(course)
    first = 1
    counted: Counter[str] = Counter()
    for nth, work in enumerate(parts):
        alone = course_of(*work)
        assert stitches_of(data, f"part {nth}", first) == stitches_of(course_document(alone), "main", 1)
        first += alone.beads
        counted.update(totals(alone))
    assert course.beads == first - 1
    assert totals(course) == dict(sorted(counted.items()))
    assert course.part_names == tuple(f"part {nth}" for nth in range(len(parts)))


@settings(deadline=None, max_examples=25)
@given(st.lists(PARTS, min_size=1, max_size=2))
def test_a_mixed_piece_is_walked_to_its_last_bead(parts: list[Work]) -> None:
    texts = [work[0] + (f' ;; part = "part {nth}"' if nth else "") for nth, work in enumerate(parts)]
    course = course_of(*(text for start, work in zip(texts, parts, strict=True) for text in (start, *work[1:])))
    assert walked(course)[0] == course.beads
    rows: Any = check_document(course)["rounds"]
    assert sum(row["beads"] for row in rows) == course.beads
    for position in range(0, course.steps, 7):
        assert position_of(course, address_of(course, position)) == position


# ---- parts by name ------------------------------------------------------------------------------

BOX = 'start = "ring" ;; beads = "4A"', peyote('["A", "B"]')
LID = 'start = "ring" ;; beads = "5B" ;; part = "lid"', peyote('["B"]')


def test_a_remark_finds_its_part() -> None:
    text = plan_text(*BOX, *LID) + '[[remarks]]\nsay = "Turn the lid over."\npart = "lid"\nround = 2\n'
    course = compile_plan(read_text(text).plan)
    (remark,) = [remark for remark in course.remarks if remark.own]
    lap = course.rounds[course.round_of(remark.step)]
    assert (lap.part, lap.number) == ("lid", 2)


def test_a_part_says_its_name_in_titles() -> None:
    _, said = walked(course_of(*BOX, *LID))
    assert said
    course = course_of(*BOX, *LID)
    assert Lookout(course, {}).round_title(0) == "main: round 1"
    assert Lookout(course, {}).round_title(len(course.rounds) - 1) == "lid: round 2"


@pytest.mark.parametrize(
    ("work", "words"),
    [
        ((*BOX, 'start = "ring" ;; beads = "4A"'), 'a second start in one plan (begin another part: part = "lid")'),
        ((*BOX, *LID, *LID), 'two parts are called "lid"'),
        ((*BOX, *LID, 'start = "ring" ;; beads = "4A" ;; part = "main"'), 'two parts are called "main"'),
        ((*BOX, 'start = "ring" ;; beads = "4A" ;; part = ""'), "`part` is empty"),
    ],
)
def test_parts_have_names_of_their_own(work: Work, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of(*work)
    assert words in str(caught.value)
