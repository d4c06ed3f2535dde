"""Time and memory of a piece's form: `OMP_NUM_THREADS=1 python tests/bench/bench_form.py [beads …]`.

Pieces are bands with four ribs on one edge. Times depend on the machine and on what else it does. Also ten seeds of
a hexagon, a triangle, a bowl, a square and a saddle of more rounds than the tests take.
"""

from __future__ import annotations

import resource
import sys
import time

import numpy as np

from stitchalong.course.compile import compile_plan
from stitchalong.form.cells import ansi, cells
from stitchalong.form.files import ply
from stitchalong.form.render import picture
from stitchalong.form.verdict import seen
from stitchalong.form.view import View
from stitchalong.form.whole import form_of
from stitchalong.plan.model import Plan
from tests.form.samples import disc, fins, formed, spread

SIZES = {300: (5, 6), 1000: (10, 12), 5000: (20, 32)}
"""beads, about -> (plain units on a side, rounds)"""
MEGABYTES = 1024 if sys.platform != "darwin" else 1024 * 1024


def measure(plan: Plan) -> None:
    course = compile_plan(plan)
    begun = time.perf_counter()
    form = form_of(course, plan)
    grown = time.perf_counter() - begun
    before = form_of(course, plan, beads=form.stops[-2], standing=form)
    begun = time.perf_counter()
    form_of(course, plan, standing=before)
    one_more = time.perf_counter() - begun
    frames = []
    for turn in range(0, 60, 6):
        begun = time.perf_counter()
        text = "".join(ansi(cells(form, View(turn=turn), 60, 30)))
        frames.append(time.perf_counter() - begun)
    begun = time.perf_counter()
    picture(form, View(), 1000, 1000)
    large = time.perf_counter() - begun
    begun = time.perf_counter()
    mesh = ply(form)
    meshed = time.perf_counter() - begun
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // MEGABYTES
    print(
        f"{course.beads:,} beads: form {grown:.2f} s, one round more {1000 * one_more:.0f} ms, mean strain"
        f" {100 * form.strain:.3f} %; frame of 60 × 30 cells {1000 * sorted(frames)[len(frames) // 2]:.1f} ms"
        f" ({len(text) // 1000} kB); picture of 1000 × 1000 {large:.2f} s; mesh {meshed:.2f} s"
        f" ({len(mesh) // 1_000_000} MB); most memory so far {peak} MB"
    )
    for doubt in form.doubts:
        print(f"    {doubt}")


def agreement(name: str, plan: Plan) -> None:
    forms = [formed(plan, seed) for seed in range(10)]
    energies = np.array([form.energy for form in forms])
    extents = np.array([spread(form.points) for form in forms])
    apart = 100 * np.ptp(energies) / energies.mean()
    unlike = 100 * (np.ptp(extents, axis=0) / extents.mean(axis=0)).max()
    found = seen(forms[0])
    print(
        f"{name}, {forms[0].beads} beads, ten seeds: energies differ by {apart:.2f} %, extents by {unlike:.2f} %;"
        f" {found.verdict}, {found.half_angle:.1f}°"
    )


def main() -> None:
    for beads in [int(word) for word in sys.argv[1:]] or list(SIZES):
        side, rounds = SIZES[beads]
        measure(fins(side, 4, rounds))
    agreement("hexagon", disc(6, (2, 1, 0), 18))
    agreement("triangle", disc(3, (2,), 12))
    agreement("bowl", disc(5, (2, 1, 0), 18))
    agreement("square", disc(4, (3, 2, 2, 1, 0), 17))
    agreement("saddle", disc(4, (2,), 16))


if __name__ == "__main__":
    main()
