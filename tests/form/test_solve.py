"""The solver and the energy against calculus and brute force."""

from __future__ import annotations

import math

import numpy as np
import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.form.energy import Energy, Net
from stitchalong.form.near import close_pairs
from stitchalong.form.solve import settle
from stitchalong.plan.model import Plan
from tests.form.samples import bonds, disc, fins


def test_rosenbrock() -> None:
    """Rosenbrock, An automatic method for finding the greatest or least value of a function, 1960: least at (1, 1)."""

    def valley(at: np.ndarray) -> tuple[float, np.ndarray]:
        (x,), (y,) = at
        slope = [[-400 * x * (y - x * x) - 2 * (1 - x)], [200 * (y - x * x)]]
        return float(100 * (y - x * x) ** 2 + (1 - x) ** 2), np.array(slope)

    rest = settle(valley, np.array([[-1.2], [1.0]]), 500, 1e-9)
    assert rest.points.ravel() == pytest.approx([1, 1], abs=1e-6)
    assert rest.energy < 1e-12
    assert rest.steps < 500


def test_a_bowl_in_many_dimensions() -> None:
    chance = np.random.default_rng(5)
    root = chance.normal(size=(60, 60))
    matrix = root @ root.T + np.eye(60)
    goal = chance.normal(size=60)

    def bowl(at: np.ndarray) -> tuple[float, np.ndarray]:
        slope = matrix @ at.ravel() - goal
        return float(0.5 * at.ravel() @ matrix @ at.ravel() - goal @ at.ravel()), slope.reshape(at.shape)

    rest = settle(bowl, np.zeros((3, 20)), 2000, 1e-10)
    assert rest.points.ravel() == pytest.approx(np.linalg.solve(matrix, goal), abs=1e-6)


def test_it_stops_when_told() -> None:
    def slope(at: np.ndarray) -> tuple[float, np.ndarray]:
        return float((at**4).sum()), 4 * at**3

    pulses: list[int] = []
    settle(slope, np.full((3, 2), 3.0), 41, 0.0, lambda: pulses.append(1))
    assert len(pulses) == 3
    rest = settle(slope, np.full((3, 2), 3.0), 4, 0.0)
    assert rest.steps == 4
    assert rest.energy < 3.0**4 * 6


@pytest.mark.parametrize("number", [1, 2, 40, 300])
def test_close_pairs_against_every_pair(number: int) -> None:
    points = np.random.default_rng(number).uniform(-4, 4, (3, number))
    for reach in (0.3, 1.1, 20.0):
        one, other = close_pairs(points, reach)
        found = list(zip(one.tolist(), other.tolist(), strict=True))
        true = {
            (a, b) for a in range(number) for b in range(a + 1, number) if math.dist(points[:, a], points[:, b]) < reach
        }
        assert len(found) == len(set(found))
        assert set(found) == true


@pytest.mark.parametrize("plan", [disc(4, (3, 2, 2, 1, 0), 7), fins(3, 3, 3)], ids=["disc", "fins"])
def test_the_gradient_is_that_of_the_energy(plan: Plan) -> None:
    """By central differences; crowded points, so that contact takes part."""
    course = compile_plan(plan)
    net = Net(bonds(course))
    points = np.random.default_rng(3).uniform(-2.5, 2.5, (3, course.beads))
    value = Energy(net, course.beads, 0.3)
    _, slope = value(points)
    step = 1e-5
    chance = np.random.default_rng(4)
    for _ in range(30):
        axis, bead = int(chance.integers(3)), int(chance.integers(course.beads))
        moved = points.copy()
        moved[axis, bead] += step
        up, _ = value(moved)
        moved[axis, bead] -= 2 * step
        down, _ = value(moved)
        assert slope[axis, bead] == pytest.approx((up - down) / (2 * step), rel=1e-4, abs=1e-5)


def test_energy_knows_no_place_and_no_direction() -> None:
    """Moved and turned as a whole, a piece has the same energy; forces turn with it and add up to none."""
    course = compile_plan(disc(5, (2, 1, 0), 6))
    net = Net(bonds(course))
    points = np.random.default_rng(1).uniform(-4, 4, (3, course.beads))
    turn, _ = np.linalg.qr(np.random.default_rng(2).normal(size=(3, 3)))
    energy, slope = Energy(net, course.beads, 0.3)(points)
    turned, slope_turned = Energy(net, course.beads, 0.3)(turn @ points + np.array([[3.0], [-2.0], [7.0]]))
    assert turned == pytest.approx(energy)
    assert slope_turned == pytest.approx(turn @ slope, abs=1e-7)
    assert slope.sum(axis=1) == pytest.approx(np.zeros(3), abs=1e-8)


def test_a_part_of_a_piece_has_only_its_own_bonds() -> None:
    """What is not stitched yet does not pull: the energy of a part is that of the piece ended there."""
    plan = disc(3, (2,), 6)
    course = compile_plan(plan)
    shorter = compile_plan(disc(3, (2,), 4))
    points = np.random.default_rng(1).uniform(-4, 4, (3, shorter.beads))
    part = Energy(Net(bonds(course)), shorter.beads, 0.3)(points)
    whole = Energy(Net(bonds(shorter)), shorter.beads, 0.3)(points)
    assert part[0] == pytest.approx(whole[0])
    assert part[1] == pytest.approx(whole[1])
