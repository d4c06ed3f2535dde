"""Zipping, against the published zigzag and naive rolls and rings.

Through up bead A1, B1, A2, B2 … and no bead is added (Beading Basics: Stitches, 2006); an even number of rows
(spotidoc.com/doc/94900). Of two triangles one needs a round more than the other: common practice, no source.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.commands.rounds import round_lines
from stitchalong.course.choices import StepUpElsewhere
from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout
from stitchalong.course.report import course_document
from stitchalong.errors import PlanError
from tests.techniques.columns import flat
from tests.techniques.common import beads_by_row, calm, leaps, stitches, walked
from tests.writing import course_of, plan_of

ZIP = 'zip = ["main", "lid"]'


# ---- the ends of a strip ------------------------------------------------------------------------


def roll(across: int, rows: int, drop: int = 1) -> Course:
    return course_of(
        f'start = "strung row" ;; beads = "{across * drop}A" ;; drop = {drop}',
        f'stitch = "flat peyote" ;; rows = "A" ;; height = {rows - 2}',
        'zip = "main"',
    )


def seam(course: Course) -> list[dict[str, Any]]:
    rounds: Any = course_document(course)["rounds"]
    found: list[dict[str, Any]] = rounds[-1]["stitches"]
    return found


@calm
@given(st.integers(3, 14), st.integers(2, 9).map(lambda half: 2 * half), st.integers(1, 2))
def test_a_rolled_strip_is_zipped_from_gap_to_gap(across: int, rows: int, drop: int) -> None:
    course = roll(across, rows, drop)
    piece = flat(across, rows, drop, lambda row: bool(across % 2))
    assert course.beads == piece.laid, "zipping adds nothing"
    tops, feet = [stack[-1] for stack in piece.stacks], [stack[0] for stack in piece.stacks]
    seam_pairs = set()
    for at, foot in enumerate(feet):
        # the first row lies on the tops of its own columns and between those of the columns beside them
        for beside in (at - 1, at, at + 1):
            if 0 <= beside < len(tops) and (at // drop) % 2 == 0:
                seam_pairs.add(frozenset((foot, tops[beside])))
    assert not leaps(course, lambda one, other: piece.touch(one, other) or frozenset((one, other)) in seam_pairs)
    zigzag = [bead for move in seam(course) if move["kind"] == "join" for bead in move["through"]]
    first = {foot for at, foot in enumerate(feet) if (at // drop) % 2 == 0}
    last = {top for at, top in enumerate(tops) if (at // drop) % 2 == 1}
    assert sorted(zigzag) == sorted(first | last), "every up bead of both ends once"
    groups = [zigzag[at] in first for at in range(0, len(zigzag), drop)]
    assert all(one != other for one, other in pairwise(groups)), "by turns"


def test_a_strip_of_n_columns_is_zipped_through_half_of_them_on_each_edge() -> None:
    moves = seam(roll(6, 4))
    assert [move["through"] for move in moves[:-1]] == [[6, 12], [4, 11], [2, 10]]
    assert moves[-1]["through"] == [2, 11, 4, 12, 6]
    assert moves[-1]["kind"] == "reinforce"


@pytest.mark.parametrize(("rows", "near"), [(5, "4 and 6"), (9, "8 and 10")])
@pytest.mark.parametrize("across", [6, 7])
def test_an_odd_number_of_rows_is_refused(rows: int, near: str, across: int) -> None:
    with pytest.raises(PlanError, match=f"after {rows} rows .* do not interlock.*; {near} do"):
        roll(across, rows)


def test_nothing_more_is_worked_on_a_zipped_edge() -> None:
    with pytest.raises(PlanError, match="the top edge is zipped: nothing more can be worked on it"):
        course_of(
            'start = "strung row" ;; beads = "6A"',
            'stitch = "flat peyote" ;; rows = "A" ;; height = 4',
            'zip = "main"',
            'stitch = "flat peyote" ;; rows = "A"',
        )


# ---- two closed edges ---------------------------------------------------------------------------


def polygon(corners: int, rounds: int, plain: int, part: str = "") -> list[str]:
    """A pair in every corner up to this round, then plain rounds."""
    work = [
        f'start = "ring" ;; beads = "{corners}A"' + (f' ;; part = "{part}"' if part else ""),
        f'stitch = "peyote" ;; rounds = "A" ;; height = {rounds - 1} ;; increase = {{ at = "every space" }}',
    ]
    return [*work, *(['stitch = "peyote" ;; rounds = "B" ;; height = ' + str(plain)] if plain else [])]


def last_round(course: Course, part: str) -> list[dict[str, Any]]:
    rounds: Any = course_document(course)["rounds"]
    found: list[dict[str, Any]] = [one for one in rounds if one["part"] == part][-1]["stitches"]
    return found


@calm
@given(st.integers(3, 6), st.integers(2, 6), st.integers(0, 3), st.integers(0, 3), st.integers(0, 30))
def test_two_faces_interlock_where_pairs_meet_single_beads(
    corners: int, rounds: int, front: int, back: int, elsewhere: int
) -> None:
    """One plain round more or fewer turns a corner's gap into a bead: so the numbers of plain rounds must differ in
    parity, however far the stitcher has stepped up elsewhere."""
    work = [*polygon(corners, rounds, front), *polygon(corners, rounds, back, "lid")]
    choices = [StepUpElsewhere("top", rounds + back, elsewhere % (corners * rounds), part="lid")]
    if (front - back) % 2 == 0:
        with pytest.raises(PlanError, match="work one plain round more on one of them"):
            course_of(*work, ZIP, choices=choices)
        return
    apart, course = course_of(*work), course_of(*work, ZIP, choices=choices)
    assert course.beads == apart.beads, "zipping adds nothing"
    ups = corners * rounds
    moves = seam(course)
    ring = [bead for move in moves[:-1] for bead in move["through"]]
    assert len(moves) == ups + 1
    assert len(set(ring)) == len(ring) == 2 * ups
    split = next(lap for lap in course.rounds if lap.part == "lid").first_bead
    assert all((one < split) != (other < split) for one, other in pairwise([*ring, ring[0]])), "by turns"


@pytest.mark.parametrize("corners", [3, 4, 6])
def test_the_corner_bead_of_the_plain_edge_sits_between_the_pairs(corners: int) -> None:
    course = course_of(*polygon(corners, 4, 0), *polygon(corners, 4, 1, "lid"), ZIP)
    ring = [bead for move in seam(course)[:-1] for bead in move["through"]]
    pairs = [one["ids"] for one in last_round(course, "main") if one["kind"] == "pair"]
    rounds: Any = course_document(course)["rounds"]
    plain = [one for one in rounds if one["part"] == "lid"][-2]["stitches"]
    corner_beads = {one["ids"][0] for one in plain if one["inside"]}
    assert len(pairs) == len(corner_beads) == corners
    for pair in pairs:
        between = [ring[at] for at in range(len(ring)) if {ring[at - 1], ring[(at + 1) % len(ring)]} == set(pair)]
        assert len(between) == 1
        assert between[0] in corner_beads


def test_the_other_edge_is_met_backwards() -> None:
    course = course_of(*polygon(4, 3, 0), *polygon(4, 3, 1, "lid"), ZIP)
    ring = [bead for move in seam(course)[:-1] for bead in move["through"]]
    other = [bead for bead in ring if bead <= 24]
    assert sum(before - after == 1 for before, after in pairwise(other)) == len(other) - 2


def test_edges_without_ribs_need_only_the_same_count() -> None:
    course = course_of(
        'start = "tube" ;; beads = "12A"',
        'stitch = "peyote" ;; rounds = "A" ;; height = 3',
        'start = "net ring" ;; beads = "24B" ;; loop = 3 ;; part = "lid"',
        'stitch = "netting" ;; rounds = "B"',
        ZIP,
    )
    assert len(seam(course)) == 7
    assert course.beads == 12 + 18 + 24 + 18


RIBBED = 'stitch = "peyote" ;; rounds = "A" ;; height = 2 ;; increase = {{ over = "M", from_round = 3 }}'


@pytest.mark.parametrize(
    ("work", "zipped", "words"),
    [
        (
            [*polygon(3, 4, 0), *polygon(3, 5, 1, "lid")],
            ZIP,
            'the top edge of "lid" has 15 up beads and the top edge of "main" 12: they do not interlock '
            "(work them until both have 15, or both 12)",
        ),
        ([*polygon(3, 4, 0), *polygon(3, 4, 0, "lid")], ZIP, "gap against gap or bead against bead"),
        (
            [
                'start = "ring" ;; beads = "A, M, 2A, M, 3A, M"',
                RIBBED.format(),
                'start = "ring" ;; beads = "A, M, 2A, M, 3A, M" ;; part = "lid"',
                RIBBED.format(),
                'stitch = "peyote" ;; rounds = "A"',
            ],
            ZIP,
            "the sides do not match",
        ),
        (polygon(3, 4, 0), ZIP, 'there is no part "lid" here (parts begun before: "main")'),
        (polygon(3, 4, 0), 'zip = "main"', "only a strip of flat peyote"),
        (polygon(3, 4, 0), 'zip = ["main", "main"]', "a part is zipped to another, not to itself"),
        (polygon(3, 4, 0), 'zip = "main" ;; edges = ["top", "top"]', "`edges` belongs to two parts"),
        (
            [*polygon(3, 4, 0), 'start = "ladder" ;; beads = "4A" ;; part = "lid"'],
            ZIP,
            'the top edge of "lid", left by ladder, has no up beads all around',
        ),
        (
            [*polygon(3, 4, 0), *polygon(3, 4, 1, "lid"), 'start = "ring" ;; beads = "3A" ;; part = "bail"'],
            ZIP,
            'the thread at hand is that of "bail" (put the zip right behind the work on one of its parts)',
        ),
        ([*polygon(3, 4, 0), *polygon(3, 4, 1, "lid"), ZIP], ZIP, "is zipped already"),
    ],
)
def test_what_does_not_interlock_is_refused(work: list[str], zipped: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of(*work, zipped)
    assert words in str(caught.value)


def test_unequal_sides_zip_to_their_mirror_image() -> None:
    """As the faces look away from each other, 1, 2, 3 meets 3, 2, 1."""
    course = course_of(
        'start = "ring" ;; beads = "A, M, 2A, M, 3A, M"',
        RIBBED.format(),
        'start = "ring" ;; beads = "3A, M, 2A, M, A, M" ;; part = "lid"',
        RIBBED.format(),
        'stitch = "peyote" ;; rounds = "A"',
        ZIP,
    )
    assert len(seam(course)) == 13


def test_a_box_of_three_parts_is_zipped_at_both_ends() -> None:
    """A band worked on both edges, and a lid zipped to each."""
    walls = [
        'start = "MRAW band" ;; frame = "C" ;; spacers = "20S" ;; part = "box"',
        'stitch = "peyote" ;; rounds = "A"',
        'stitch = "peyote" ;; rounds = "A" ;; edge = "bottom"',
    ]
    lid, floor = polygon(4, 5, 1, "lid"), polygon(4, 5, 0, "floor")
    work = [*walls, *lid, 'zip = ["lid", "box"]', *floor, 'zip = ["box", "floor"] ;; edges = ["bottom", "top"]']
    course = course_of(*work)
    seams = [lap for lap in course.rounds if lap.technique == "zip"]
    assert [(lap.part, lap.stop_step - lap.first_step) for lap in seams] == [("lid", 21), ("floor", 21)]
    assert course.beads == course_of(*[one for one in work if not one.startswith("zip")]).beads
    assert walked(course)[0] == course.beads
    edges: Any = course_document(course)["rounds"]
    top, bottom = (
        {bead for one in laps for stitch in one["stitches"] for bead in stitch["ids"]}
        for laps in (
            [one for one in edges if (one["part"], one["edge"], one["round"]) == ("box", edge, 1)]
            for edge in ("top", "bottom")
        )
    )
    passed = [
        {bead for stitch in one["stitches"][:-1] for bead in stitch["through"]}
        for one in edges
        if len(one["stitches"]) == 21 and not any(stitch["ids"] for stitch in one["stitches"])
    ]
    assert top < passed[0]
    assert bottom < passed[1]


def test_the_other_edge_is_reached_from_where_the_seam_ends() -> None:
    """The thread is back in the first bead of the top round: on through the spacer that closed its stitch, and through
    the frame beads of that unit: top, side, bottom."""
    course = course_of(
        *polygon(4, 5, 1, "lid"),
        'start = "MRAW band" ;; frame = "C" ;; spacers = "20S" ;; part = "box"',
        'stitch = "peyote" ;; rounds = "A"',
        'zip = ["box", "lid"]',
        'stitch = "peyote" ;; rounds = "A" ;; edge = "bottom"',
    )
    rounds: Any = course_document(course)["rounds"]
    at = next(nth for nth, lap in enumerate(course.rounds) if lap.technique == "zip")
    first = rounds[at - 1]["stitches"][0]
    assert rounds[at]["stitches"][-1]["through"][-1] == first["ids"][0]
    crossing = rounds[at + 1]["stitches"][0]
    assert crossing["kind"] == "cross"
    spacer, *frame = crossing["through"]
    assert spacer == first["through"][-1]
    band = course.rounds[at - 2]
    assert band.technique == "band"
    # a unit picks up its spacer, top, side and bottom in this order; the unit behind this spacer is the next one
    assert frame == [spacer + 1, spacer + 2, spacer + 3]
    assert walked(course)[0] == course.beads


@pytest.mark.parametrize("course", [roll(6, 4), course_of(*polygon(3, 3, 0), *polygon(3, 3, 1, "lid"), ZIP)])
def test_words_lead_through_the_seam(course: Course) -> None:
    laid, said = walked(course)
    assert laid == course.beads
    assert any("zip: pass through" in one.lower() for one in said)
    assert Lookout(course, {}).round_title(len(course.rounds) - 1).endswith("the seam")


def test_the_seam_is_announced_once() -> None:
    course = roll(8, 4)
    first = course.rounds[-1].first_step
    view = Lookout(course, {}).at(first)
    assert view.special is not None
    assert view.special.words == "the seam"
    assert view.next is not None
    assert view.next.words == "a pass through the seam"
    assert not [one for one in stitches(course) if one["kind"] == "join" and one["ids"]]


def test_the_seam_is_listed_with_the_rounds_and_not_counted() -> None:
    work = [
        'start = "strung row" ;; beads = "6A"',
        'stitch = "flat peyote" ;; rows = "A" ;; height = 2',
        'zip = "main"',
    ]
    lines = list(round_lines(course_of(*work), plan_of(*work)))
    assert lines[-1] == "the seam: zip the edges together in 3 passes, without a bead; pass through once more"
    assert beads_by_row(course_of(*work)) == [3, 3, 3, 3]
