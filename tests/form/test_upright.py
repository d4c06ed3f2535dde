"""Setting upright, against turns that are known."""

from __future__ import annotations

import math

import numpy as np
import pytest

from stitchalong.form.upright import upright

CHANCE = np.random.default_rng(11)
ROD = CHANCE.normal(size=(400, 3)) * [1, 1.5, 9]
PLATE = CHANCE.normal(size=(400, 3)) * [9, 8, 1]


def _leaning(degrees: float) -> np.ndarray:
    angle = math.radians(degrees)
    return np.array([[1, 0, 0], [0, math.cos(angle), -math.sin(angle)], [0, math.sin(angle), math.cos(angle)]])


@pytest.mark.parametrize("piece", [ROD, PLATE], ids=["rod", "plate"])
@pytest.mark.parametrize("degrees", [-40, 5, 30])
def test_what_leans_is_set_upright(piece: np.ndarray, degrees: float) -> None:
    found = upright(piece @ _leaning(degrees).T)
    spread = np.cov(found.T)
    assert np.abs(spread[2, :2]).max() < 1e-8
    # nothing is stretched and nothing mirrored
    assert np.linalg.norm(found[3] - found[7]) == pytest.approx(np.linalg.norm(piece[3] - piece[7]))
    before = np.linalg.det(piece[:3] - piece[3:6])
    assert np.linalg.det(found[:3] - found[3:6]) == pytest.approx(before)


def test_a_ball_is_left_as_it_is() -> None:
    ball = CHANCE.normal(size=(3000, 3))
    ball /= np.linalg.norm(ball, axis=1)[:, None]
    assert np.array_equal(upright(ball), ball)


def test_one_bead_and_two() -> None:
    assert np.array_equal(upright(np.zeros((1, 3))), np.zeros((1, 3)))
    assert np.isfinite(upright(np.array([[0.0, 0, 0], [1, 0, 2]]))).all()
