"""The naive model itself, held against facts from outside the project."""

from __future__ import annotations

from collections.abc import Callable
from itertools import accumulate, pairwise
from typing import Any

import networkx as nx  # type: ignore[import-untyped]
import pytest
from hypothesis import given, settings

from tests.naive.parts import Edge, Unworkable
from tests.naive.piece import Piece
from tests.naive.record import check_record, course_record
from tests.naive.strategies import plans
from tests.naive.work import Ask, Worker


def polygon(corners: int, rounds: int) -> Piece:
    """A ring, then pairs in every space, then pairs inside pairs and singles between."""
    piece = Piece()
    piece.string_ring(["C"] * corners)
    for number in range(2, rounds + 1):
        if number > 2:
            piece.step_up("top")
        gaps = piece.edges["top"].gaps
        piece.lay("top", [("together", "CC") if number == 2 or g.inside else ("single", "C") for g in gaps])
    return piece


@pytest.mark.parametrize(
    ("corners", "totals"),
    [
        (3, [3, 9, 18, 30, 45, 63, 84, 108, 135, 165]),  # OEIS A045943 from its second term
        (4, [4, 12, 24, 40, 60, 84, 112, 144, 180, 220]),  # OEIS A046092 from its second term
        (6, [6, 18, 36, 60, 90, 126]),  # OEIS A028896 from its second term
    ],
)
def test_totals_of_polygons(corners: int, totals: list[int]) -> None:
    laps = polygon(corners, 40).rounds
    assert list(accumulate(len(lap.beads) for lap in laps))[: len(totals)] == totals
    # The closed form that those three entries give.
    assert [r.number for r in laps] == list(range(1, 41))
    assert sum(len(lap.beads) for lap in laps) == corners * 40 * 41 // 2


@pytest.mark.parametrize("units", [3, 4, 7, 28])
def test_a_band_has_the_edges_of_a_closed_ladder(units: int) -> None:
    """A ring of right-angle weave has one bead for each edge of a closed ladder (common practice)."""
    piece = Piece()
    piece.weave_band("T", "R", "B", ["S"] * units, reinforce=True)
    ladder = nx.circular_ladder_graph(units)
    frame = [bead for bead in piece.beads if bead.code != "S"]
    assert len(frame) == ladder.number_of_edges()
    assert len(piece.beads) == ladder.number_of_edges() + units
    # Beads lie against each other where the ladder's edges meet at a corner, rung against rail.
    beads = nx.Graph()
    beads.add_edges_from((b.id, t) for b in frame for t in b.touches if piece.beads[t - 1].code != "S")
    corners = nx.Graph()
    corners.add_edges_from(
        (one, other) for one, other in nx.line_graph(ladder).edges if is_rung(one, units) != is_rung(other, units)
    )
    assert nx.is_isomorphic(beads, corners)


def is_rung(edge: tuple[int, int], units: int) -> bool:
    return abs(edge[0] - edge[1]) == units


@pytest.mark.parametrize(("strung", "a_round", "rounds"), [(8, 4, 5), (50, 25, 5)])
def test_a_tube_adds_half_of_what_was_strung(strung: int, a_round: int, rounds: int) -> None:
    """Published tubular peyote: a ring of 8 takes 4 a round, one of 50 takes 25; step up through two."""
    piece = Piece()
    piece.string_tube(["C"] * strung)
    for number in range(3, rounds + 1):
        if number > 3:
            piece.step_up("top")
            assert piece.log[-1].step_up == 2
        assert len(piece.lay("top", [("single", "C")] * a_round).beads) == a_round
    assert len(piece.beads) == a_round * rounds


def test_the_start_of_a_tube_travels_all_round() -> None:
    """Published charts: the first bead of a round lies half a stitch further on; all round in 2n rounds."""
    half = 5
    piece = Piece()
    piece.string_tube(["C"] * (2 * half))
    born = [bead.column for bead in piece.beads]
    firsts = []
    for number in range(2 * half):
        if number:
            piece.step_up("top")
        firsts.append(piece.lay("top", [("single", "C")] * half).beads[0].column)
    assert [born.index(column) for column in firsts] == [(1 + i) % (2 * half) for i in range(2 * half)]


def test_sides_between_markers_grow_by_one() -> None:
    """Common practice, no source: seven plain spacers give 7, 8, 9 singles a side, one more each round."""
    rows = check_record(over_markers("S" * 7 + "M", 3, rounds=8))["rounds"]
    assert [row["sides"] for row in rows[:2]] == [[7, 7, 7], [8, 8, 8]]
    assert [row["sides"] for row in rows[2:]] == [[s, s, s] for s in range(7, 14)]


def over_markers(group: str, times: int, rounds: int) -> Worker:
    worker = Worker(
        {
            "title": "sides",
            "beads": {"M": {"marker": True}},
            "start": {"kind": "band", "frame": "CCC", "spacers": list(group * times), "reinforce": True},
            "works": [
                {
                    "do": "rounds",
                    "edge": "top",
                    "rounds": [{"fill": ("single", "C")}],
                    "height": rounds,
                    "increase": {"over": "M", "with": ["MM"], "from_round": 2, "rounds": None},
                }
            ],
        }
    )
    worker.run()
    return worker


def counts(ring: int, rounds: int, ask: Callable[[int, Edge, int], Ask]) -> list[int]:
    """Beads in each round of a disc."""
    piece = Piece()
    piece.string_ring(["C"] * ring)
    edge = piece.edges["top"]
    for number in range(2, rounds + 1):
        if number > 2:
            piece.step_up("top")
        piece.lay("top", [ask(number, edge, i) for i in range(len(edge.gaps))])
    return [len(lap.beads) for lap in piece.rounds]


def test_a_six_sided_disc() -> None:
    """Published discs: 3, 6, 6, 12, 12, 12, 18, 18 from three beads; 6, 6, 12, 12, 12, 18, 18, 18, 24.

    Every third round lays two beads at each corner; the corners are the six spaces of the round that first
    has as many.
    """
    corners: list[Any] = []

    def ask(doubles: list[int], six: int) -> Callable[[int, Edge, int], Ask]:
        def chosen(number: int, edge: Edge, i: int) -> Ask:
            column = edge.gaps[i].column
            if number == six:
                corners.append(column)
            double = number in doubles and (number <= six or column in corners)
            return ("together", "CC") if double else ("single", "C")

        return chosen

    assert counts(3, 8, ask([2, 4, 7], 4)) == [3, 6, 6, 12, 12, 12, 18, 18]
    assert counts(6, 9, ask([3, 6, 9], 3)) == [6, 6, 12, 12, 12, 18, 18, 18, 24]


def test_a_flat_square() -> None:
    """Published: 4, 4, 12, 12, 16, 16; three in each space of round 3, two over those, two inside those."""

    def ask(number: int, edge: Edge, i: int) -> Ask:
        if number == 3:
            return ("corner", "CCC")
        return ("together", "CC") if number in (4, 5) and edge.gaps[i].inside else ("single", "C")

    assert counts(4, 6, ask) == [4, 4, 12, 12, 16, 16]


def test_a_corner_of_three_is_stepped_up_through_its_first_bead() -> None:
    """Published with the flat square: the step-up passes through only the first of the three."""
    piece = Piece()
    piece.string_ring(list("CCCC"))
    piece.lay("top", [("corner", "CCC")] * 4)
    piece.step_up("top")
    assert [bead.id for bead in piece.log[-1].through] == [5]


def test_what_cannot_be_stitched() -> None:
    piece = Piece()
    piece.string_ring(list("CCCC"))
    with pytest.raises(Unworkable):
        piece.lay("top", [("single", "C")] * 3)
    with pytest.raises(Unworkable):
        piece.lay("top", [("no bead", "")] * 4)
    bad = over_markers("SM", 3, rounds=2).plan
    bad["works"][0]["increase"]["from_round"] = 1
    with pytest.raises(Unworkable, match="no space"):
        Worker(bad).run()


@settings(deadline=None)
@given(plans())
def test_drawn_plans_hang_together(plan: dict[str, Any]) -> None:
    """The thread of the model steps only between beads that touch, and every bead is picked up once."""
    worker = Worker(plan)
    worker.run()
    beads = worker.piece.beads
    thread = [i for stitch in course_record(worker) for i in [*stitch["ids"], *stitch["through"]]]
    for one, other in pairwise(thread):
        assert other in beads[one - 1].touches, (one, other)
    assert sorted(i for stitch in course_record(worker) for i in stitch["ids"]) == [b.id for b in beads]
    rows = check_record(worker)["rounds"]
    assert sum(row["beads"] for row in rows) == len(beads)
    assert len(rows) == len(worker.piece.rounds)
