"""Counts, against published sequences and graphs."""

from __future__ import annotations

import networkx
import pytest

from stitchalong.course.report import check_document
from stitchalong.fabric import band
from tests.writing import band as band_start
from tests.writing import course_of, peyote, rounds_of

# First terms as printed at oeis.org/A045943 (3n(n+1)/2), oeis.org/A046092 (2n(n+1)), oeis.org/A028896 (3n(n+1)),
# from index 1; the rest from the formula in each entry.
SEQUENCES = {
    3: [3, 9, 18, 30, 45, 63, 84, 108, 135, 165],
    4: [4, 12, 24, 40, 60, 84, 112, 144, 180, 220],
    6: [6, 18, 36, 60, 90, 126],
}


@pytest.mark.parametrize("corners", sorted(SEQUENCES))
def test_cornered_pieces_hold_as_many_beads_as_the_sequence(corners: int) -> None:
    course = course_of(
        f'start = "ring" ;; beads = "{corners}A"',
        peyote('"A"', "height = 39", 'increase = { at = "every space" }'),
    )
    total, totals = 0, []
    for row in check_document(course)["rounds"]:
        total += row["beads"]
        totals.append(total)
    assert totals[: len(SEQUENCES[corners])] == SEQUENCES[corners]
    assert totals == [corners * r * (r + 1) // 2 for r in range(1, 41)]


@pytest.mark.parametrize("units", [3, 4, 5, 12, 28, 61])
def test_a_band_has_the_edges_of_a_closed_ladder_and_a_spacer_each(units: int) -> None:
    """Common practice, no source: 3n frame beads, one to an edge of the closed ladder graph, and n spacers."""
    ladder = networkx.circular_ladder_graph(units)
    row = rounds_of(course_of(band_start(f"{units}S"), peyote('"A"')))["top", 0]
    assert row["codes"] == {"C": ladder.number_of_edges(), "S": units}
    assert (row["beads"], row["stitches"]) == (4 * units, units)


@pytest.mark.parametrize("units", [3, 4, 28])
def test_every_bead_of_a_band_has_one_place(units: int) -> None:
    places = [f(unit, units) for f in (band.spacer, band.top, band.bottom, band.side) for unit in range(units)]
    assert sorted(places) == list(range(1, 4 * units + 1))


def test_sides_grow_by_one_a_round() -> None:
    """Common practice, no source: with seven plain spacers between markers on a three-sided band, the first
    increase round has seven single beads a side, the next eight, then nine; and so on."""
    course = course_of(
        band_start("*7S, M* 3 times"), peyote('"A"', "height = 9", 'increase = { over = "M", from_round = 2 }')
    )
    rounds = rounds_of(course)
    assert [rounds["top", number]["sides"] for number in range(2, 10)] == [[side] * 3 for side in range(7, 15)]
    assert [rounds["top", number]["increases"] for number in range(10)] == [0, 0] + [3] * 8


@pytest.mark.parametrize(("strung", "each"), [(8, 4), (50, 25)])
def test_an_even_tube_adds_half_its_ring_in_each_round(strung: int, each: int) -> None:
    """A ring of 8 gives 4 a round (firemountaingems.com, tutorial 8235), one of 50 gives 25, and five rounds of
    it 125 (lovemyartjewelry.blogspot.com/2013/10, peyote hoops)."""
    rows = check_document(course_of(f'start = "tube" ;; beads = "{strung}A"', peyote('"A"', "height = 3")))["rounds"]
    assert [row["beads"] for row in rows] == [each] * 5
    assert [row["round"] for row in rows] == [1, 2, 3, 4, 5]


def test_the_first_bead_strung_belongs_to_round_two() -> None:
    """The labelling of the trade: beadwork.about.com, Follow-Even-Count-Tubular-Peyote-Stitch-Pattern."""
    rounds = rounds_of(course_of('start = "tube" ;; beads = "*A, B* 4 times"', peyote('"A"')))
    assert rounds["top", 1]["codes"] == {"B": 4}
    assert rounds["top", 2]["codes"] == {"A": 4}
