"""Looking at a form from somewhere: geometry."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.form.view import View

STOPS = (12, 18, 24, 30)


@given(st.floats(-180, 180), st.floats(-90, 90))
def test_axes_are_a_right_handed_frame(turn: float, tilt: float) -> None:
    right, up, eye = (np.array(axis) for axis in View(turn, tilt).axes())
    assert np.stack([right, up, eye]) @ np.stack([right, up, eye]).T == pytest.approx(np.eye(3))
    assert np.cross(right, up) == pytest.approx(eye)
    # the piece's own axis never leans to the side
    assert right[2] == 0
    assert up[2] >= -1e-12


def test_from_above_and_from_the_side() -> None:
    assert View(0, 90).axes()[2] == pytest.approx((0, 0, 1))
    assert View(0, 0).axes()[1] == pytest.approx((0, 0, 1))
    assert View(0, 0).axes()[0] == pytest.approx((1, 0, 0))


def test_turning_all_round_comes_back() -> None:
    view = View()
    for _ in range(24):
        view = view.turned(15)
    assert view.turn == pytest.approx(View().turn)
    assert View().turned(10).turned(-10) == View()
    # anticlockwise from above: what lies in front goes to the right
    right, _, _ = View(0, 30).turned(90).axes()
    assert right == pytest.approx((0, -1, 0))


def test_tilt_and_zoom_have_ends() -> None:
    assert View().tilted(500).tilt == 90
    assert View().tilted(-500).tilt == -90
    far, near = View(), View()
    for _ in range(60):
        far, near = far.zoomed(0.8), near.zoomed(1.25)
    assert 0 < far.zoom < 1 < near.zoom < 100


def test_stepping_through_rounds() -> None:
    view = View()
    assert view.stepped(STOPS, -1).shown == 24
    assert view.stepped(STOPS, -2).shown == 18
    assert view.stepped(STOPS, -99).shown == 12
    assert view.stepped(STOPS, 1).shown is None
    assert View(shown=12).stepped(STOPS, 1).shown == 18
    assert View(shown=24).stepped(STOPS, 1).shown is None
    # out of the middle of a round, to its end and to its beginning
    assert View(shown=20).stepped(STOPS, 1).shown == 24
    assert View(shown=20).stepped(STOPS, -1).shown == 18
