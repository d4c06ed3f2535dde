"""Flatness against published flat patterns."""

from __future__ import annotations

import math

import pytest

from stitchalong.errors import UsageError
from stitchalong.measure.beads import BeadSize, look_up
from stitchalong.measure.flat import Verdict, flat_growth, flatness, growth_of, growth_of_codes, total_angle


def _bead(size: str = "11/0", shape: str = "cylinder") -> BeadSize:
    found = look_up(size, shape)
    assert found is not None
    return found


def test_the_published_decagon() -> None:
    # beadmechanics.com/2020/02/08/flat-peyote-decagon: with 1.6 × 1.3 mm, "0.4 extra beads per row", 2-1-0-1-0
    assert flat_growth(1.6, 1.3, 10) == pytest.approx(0.400, abs=0.0005)
    assert growth_of_codes([2, 1, 0, 1, 0]) == pytest.approx(0.4)
    assert total_angle(0.4, 1.6, 1.3, 10) == pytest.approx(360, abs=0.5)


@pytest.mark.parametrize(
    ("ribs", "codes"),
    [
        (3, [2]),  # beadmechanics.com/2019/11/17/flat-peyote-octagon
        (6, [2, 1, 0]),  # the same, and jeririggs.blogspot.com/2020
        (4, [3, 2, 2, 1, 0]),  # beads-making.com/beaded-square-box
        (10, [2, 1, 0, 1, 0]),  # beadmechanics.com/2020/02/08/flat-peyote-decagon
    ],
)
def test_published_flat_patterns_lie_flat(ribs: int, codes: list[int]) -> None:
    found = flatness(growth_of_codes(codes), _bead(), ribs)
    assert found is not None
    assert found.verdict is Verdict.FLAT
    assert found.doubt == ""
    assert found.flat_growth is not None
    assert found.growth == pytest.approx(found.flat_growth, rel=0.07)


@pytest.mark.parametrize(
    ("ribs", "codes", "angle", "verdict"),
    [
        (4, [2], 467.1, Verdict.SADDLE),  # "the square that warps"; 2 · 4 · atan(2 · 1.3 / 1.6)
        (5, [2, 1, 0], 284.4, Verdict.CUP),
        (2, [2], 233.6, Verdict.CUP),
        (7, [2, 1, 0], 398.2, Verdict.RUFFLE),
        (6, [2], 700.7, Verdict.RUFFLE),
        (4, [1], 0.0, Verdict.TUBE),
    ],
)
def test_what_does_not_lie_flat(ribs: int, codes: list[int], angle: float, verdict: Verdict) -> None:
    # geometry of the page above; that four corners of 2-2-2 do not lie flat: common practice, no source
    found = flatness(growth_of_codes(codes), _bead(), ribs)
    assert found is not None
    assert found.angle == pytest.approx(angle, abs=0.05)
    assert found.verdict is verdict


def test_six_a_round_is_the_same_tolerance() -> None:
    # crochet's flat disc grows by 6 stitches a round where 2π would be exact: carol-mycrochetpage.blogspot.com/2011/10,
    # mspremiseconclusion.wordpress.com 2018-07-24. Stitches as wide as high: two columns of half their width each.
    angle = total_angle(6.0, 2.0, 1.0, 0)
    assert angle == pytest.approx(360 * 6 / (2 * math.pi))
    found = flatness(6.0, BeadSize("", "cylinder", 2.0, 1.0, None, None, 0.0, ""), 0)
    assert found is not None
    assert found.verdict is Verdict.FLAT


def test_work_that_closes_in() -> None:
    found = flatness(-0.5, _bead(), 4)
    assert found is not None
    assert found.verdict is Verdict.NARROWS


def test_doubt_is_told() -> None:
    # bellaonline.com/articles/art62793.asp: hexagons of round beads lie flat where the model says cup
    found = flatness(growth_of_codes([2, 1, 0]), _bead("11/0", "round"), 6)
    assert found is not None
    assert found.verdict is Verdict.CUP
    assert "swatch" in found.doubt
    unsure = flatness(growth_of_codes([2, 1, 0]), _bead("10/0"), 6)
    assert unsure is not None
    assert "measure" in unsure.doubt
    assert flatness(1.0, _bead("12/0", "round"), 6) is None


@pytest.mark.parametrize(
    ("rounds", "ribs", "growth"),
    [
        # jeririggs.blogspot.com/2020: rounds of the hexagonal disc from 3 beads, one increase in three rounds
        ([3, 6, 6, 12, 12, 12, 18, 18], 6, 2 / 3),
        # bellaonline.com/articles/art62793.asp: the disc from 6, increases in rounds 3, 6, 9
        ([6, 6, 12, 12, 12, 18, 18, 18, 24], 6, 2 / 3),
        # oeis.org/A008585, three more a round: the triangle
        ([3, 6, 9, 12, 15], 3, 2.0),
        ([12, 12, 12, 12], 0, 0.0),
        ([4, 8], 0, 8.0),
    ],
)
def test_growth_from_published_rounds(rounds: list[int], ribs: int, growth: float) -> None:
    assert growth_of(rounds, ribs) == pytest.approx(growth)


def test_what_cannot_be_told() -> None:
    with pytest.raises(UsageError, match="two rounds"):
        growth_of([6])
    with pytest.raises(UsageError, match="corner codes"):
        growth_of_codes([4])
    with pytest.raises(UsageError, match="more than 0"):
        flat_growth(0.0, 1.3, 4)
    with pytest.raises(UsageError, match="ribs"):
        total_angle(1.0, 1.6, 1.3, -1)
    assert flat_growth(1.6, 1.3, 2) is None
