"""Pictures against the geometry of shadows."""

from __future__ import annotations

import math

import numpy as np
import pytest

from stitchalong.form.render import picture, scene
from stitchalong.form.shape import Form, Material
from stitchalong.form.view import Marks, View
from tests.form.samples import formed, tube

GROUND = (250, 248, 244)


def one_bead(
    way: tuple[float, float, float], *, rounded: bool = False, across: float = 1.6, along: float = 1.3
) -> Form:
    return beads([(0.0, 0.0, 0.0)], [way], rounded=rounded, across=across, along=along)


def beads(
    points: list[tuple[float, float, float]],
    ways: list[tuple[float, float, float]],
    *,
    rounded: bool = False,
    across: float = 1.6,
    along: float = 1.3,
) -> Form:
    material = Material("A", "a", (200, 40, 40), across, along, across / 2, rounded)
    other = Material("B", "b", (40, 200, 40), across, along, across / 2, rounded)
    return Form(
        "t",
        np.array(points, float),
        np.array([np.array(way) / np.linalg.norm(way) for way in ways]),
        (material, other),
        np.arange(len(points), dtype=np.int64) % 2,
        (len(points),),
        0.0,
        0.0,
        1.0,
        (),
    )


def area(form: Form, view: View, size: int = 400) -> float:
    """Of the shadow, in mm²."""
    buffer = scene(form, view, size, size, Marks())
    scale = size / (2 * form.radius * 1.04) * view.zoom
    return float((buffer.bead >= 0).sum()) / scale**2


FROM_ABOVE = View(0, 90)


def test_shadows_of_a_cylinder() -> None:
    """A rectangle from the side, a disc from the end, and in between L · D · sin + π D² / 4 · cos."""
    assert area(one_bead((1, 0, 0)), FROM_ABOVE) == pytest.approx(1.6 * 1.3, rel=0.01)
    assert area(one_bead((0, 0, 1)), FROM_ABOVE) == pytest.approx(math.pi * 0.64, rel=0.01)
    for degrees in (10, 35, 60, 85):
        angle = math.radians(degrees)
        true = 1.3 * 1.6 * math.sin(angle) + math.pi * 0.64 * math.cos(angle)
        assert area(one_bead((math.sin(angle), 0, math.cos(angle))), FROM_ABOVE) == pytest.approx(true, rel=0.01)


@pytest.mark.parametrize("rounded", [False, True])
def test_the_mean_shadow_is_a_quarter_of_the_surface(rounded: bool) -> None:
    """Cauchy's theorem on convex bodies (1841); the surface by turning the outline about the hole's axis."""
    form = one_bead((0, 0, 1), rounded=rounded)
    barrel = form.materials[0].barrel
    at = np.linspace(-barrel.half, barrel.half, 4001)
    off = np.sqrt(barrel.thick**2 - barrel.bulge * at**2)
    side = 2 * math.pi * np.sum((off[1:] + off[:-1]) / 2 * np.hypot(np.diff(at), np.diff(off)))
    surface = side + 2 * math.pi * barrel.rim**2
    # directions evenly over the sphere: even steps of the height above the horizon's sine
    sines = (np.arange(60) + 0.5) / 60
    mean = np.mean([area(form, View(0, math.degrees(math.asin(sine))), 300) for sine in sines])
    assert mean == pytest.approx(surface / 4, rel=0.01)


def test_a_rounded_bead_is_as_long_and_as_thick_as_it_measures() -> None:
    buffer = scene(one_bead((1, 0, 0), rounded=True), FROM_ABOVE, 500, 500, Marks())
    seen = buffer.bead >= 0
    scale = 500 / (2 * one_bead((1, 0, 0)).radius * 1.04)
    assert np.ptp(np.flatnonzero(seen.any(axis=0))) + 1 == pytest.approx(1.3 * scale, abs=2)
    assert np.ptp(np.flatnonzero(seen.any(axis=1))) + 1 == pytest.approx(1.6 * scale, abs=2)


def test_one_looks_through_the_end_into_the_hole() -> None:
    buffer = scene(one_bead((0, 0, 1)), FROM_ABOVE, 400, 400, Marks())
    seen = buffer.bead >= 0
    # the hole is half as wide as the bead, so a quarter of its end
    assert buffer.bore.sum() / seen.sum() == pytest.approx(0.25, rel=0.02)
    assert not scene(one_bead((1, 0, 0)), FROM_ABOVE, 400, 400, Marks()).bore.any()


def test_what_is_nearer_hides_what_is_behind() -> None:
    form = beads([(0, 0, -3), (0, 0, 3)], [(1, 0, 0), (1, 0, 0)])
    above = scene(form, FROM_ABOVE, 200, 200, Marks())
    assert set(np.unique(above.bead)) == {-1, 1}
    below = scene(form, View(0, -90), 200, 200, Marks())
    assert set(np.unique(below.bead)) == {-1, 0}
    side = scene(form, View(0, 0), 200, 200, Marks())
    rows = [np.flatnonzero((side.bead == bead).any(axis=1)) for bead in (0, 1)]
    # the upper bead is drawn above: rows count from the top
    assert rows[1].max() < rows[0].min()


def test_depth_is_where_the_ray_meets_the_bead() -> None:
    """Of a cylinder lying in the plane: √(R² - y²), by Pythagoras."""
    form = one_bead((1, 0, 0))
    size = 401
    buffer = scene(form, FROM_ABOVE, size, size, Marks())
    scale = size / (2 * form.radius * 1.04)
    for row in range(size):
        y = ((size - 1) / 2 - row) / scale
        depth = buffer.depth[row, size // 2]
        if abs(y) < 0.79:
            assert depth == pytest.approx(math.sqrt(0.64 - y * y), abs=1e-4)


def test_only_so_many_beads_are_shown() -> None:
    form = formed(tube(12, 3))
    assert set(np.unique(scene(form, View(shown=12), 150, 150, Marks()).bead)) <= set(range(-1, 12))
    assert not np.array_equal(picture(form, View(), 60, 60), picture(form, View(shown=18), 60, 60))


def test_marks_are_seen_without_colour() -> None:
    """Just laid: a light belt on the bead; coming: a grid that lets one see through."""
    form = beads([(0, 0, 0), (4, 0, 0)], [(1, 0, 0), (1, 0, 0)])
    plain = picture(form, FROM_ABOVE, 200, 200, ground=GROUND)
    laid = picture(form, FROM_ABOVE, 200, 200, ground=GROUND, marks=Marks(frozenset({0})))
    changed = (plain != laid).any(axis=2)
    assert 0.3 < changed.sum() / (plain[:, :100] != GROUND).any(axis=2).sum() < 0.6
    assert laid[changed].mean() > plain[changed].mean() + 30
    coming = scene(form, FROM_ABOVE, 200, 200, Marks(coming=1))
    whole = scene(form, FROM_ABOVE, 200, 200, Marks())
    assert (coming.bead == 1).sum() == pytest.approx((whole.bead == 1).sum() / 2, rel=0.02)
    assert (coming.bead == 0).sum() == (whole.bead == 0).sum()


def test_the_ground_is_what_was_asked_for() -> None:
    shot = picture(one_bead((1, 0, 0)), View(zoom=0.25), 40, 30, ground=(1, 2, 3))
    assert shot.shape == (30, 40, 3)
    assert tuple(shot[0, 0]) == (1, 2, 3)
    # turned away from the light it is still told from black ground
    assert picture(one_bead((1, 0, 0)), View(0, -90), 40, 40, ground=(0, 0, 0)).max() > 40


def test_a_large_picture_is_drawn_in_strips_that_fit() -> None:
    form = formed(tube(12, 3))
    marks = Marks(frozenset({3, 4}), 20)
    whole = scene(form, View(), 500, 400, marks)
    upper, lower = (scene(form, View(), 500, 400, marks, rows) for rows in ((0, 150), (150, 400)))
    assert np.array_equal(whole.bead, np.concatenate([upper.bead, lower.bead]))
    assert np.array_equal(whole.light, np.concatenate([upper.light, lower.light]))
    # more rays than are cast in one go; with one ray a pixel, beads are where the buffer has them
    large = picture(form, View(), 1000, 800, marks=marks, samples=1, ground=(1, 2, 3))
    seen = scene(form, View(), 1000, 800, marks).bead >= 0
    assert np.array_equal((large != (1, 2, 3)).any(axis=2), seen)


def test_the_same_again() -> None:
    form = formed(tube(12, 2))
    assert np.array_equal(picture(form, View(), 80, 60), picture(form, View(), 80, 60))


def test_beads_that_are_to_come_are_nearer_to_the_ground() -> None:
    form = formed(tube(12, 4))
    ground = (10, 200, 30)
    usual, faint = (
        picture(form, View(), 60, 60, marks=marks, ground=ground).astype(float)
        for marks in (Marks(), Marks(faint=form.stops[1]))
    )
    away = [np.abs(one - np.array(ground)).sum(axis=2) for one in (usual, faint)]
    drawn = away[0] > 0
    # none further from the ground, the earlier rounds as before, the others nearer by the same share
    assert np.all(away[1] <= away[0] + 3)
    same = np.abs(away[0] - away[1]) <= 1
    assert 0 < same[drawn].sum() < drawn.sum()
    assert np.median(away[1][~same] / away[0][~same]) == pytest.approx(0.3, abs=0.05)
