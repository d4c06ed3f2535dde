"""Pieces at the limit: compiling them, any place in them, finding one's place, starting and pressing."""

from __future__ import annotations

import gc
import random
import tracemalloc
from collections.abc import Iterator
from pathlib import Path

from stitchalong.course.compile import compile_plan
from stitchalong.course.find import Clues, Finder
from stitchalong.course.outlook import Lookout
from stitchalong.course.strand import last_beads
from stitchalong.plan.read import read_text
from tests.bench import keys, samples, starts
from tests.bench.driver import seconds
from tests.bench.floors import ours
from tests.bench.rows import Row, ms, times

PLACES = 2_000


def compiling(on_disk: Path, in_memory: Path | None) -> Iterator[Row]:
    plan = read_text(samples.tube(50, 19_990)).plan
    yield Row("compile a ruled plan of 999,600 beads", ms(seconds(lambda: compile_plan(plan), 3)), "0.2 s", "1 s")
    text = samples.coloured(200, 4_998)
    yield Row("read a plan of 999,600 beads each of its own colour", ms(seconds(lambda: read_text(text), 1)), "", "")
    plan = read_text(text).plan
    yield Row("compile it", ms(seconds(lambda: compile_plan(plan), 3)), "2 s", "4 s")
    gc.collect()
    tracemalloc.start()
    course = compile_plan(plan)
    size = tracemalloc.get_traced_memory()[0] / course.beads
    tracemalloc.stop()
    yield Row("memory of its course", f"{size:.1f} bytes a bead", "8 bytes", "24 bytes")


def rows(on_disk: Path, in_memory: Path | None) -> Iterator[Row]:
    for text, name in ((samples.tube(50, 19_990), "ruled"), (samples.coloured(200, 4_998), "each its own colour")):
        course = compile_plan(read_text(text).plan)
        chance = random.Random(1)
        places = [chance.randrange(course.steps) for _ in range(PLACES)]
        lookout = Lookout(course, {})
        each = seconds(lambda: [course.spot(at) for at in places]) / PLACES  # noqa: B023
        look = seconds(lambda: [lookout.at(at) for at in places[:200]]) / 200  # noqa: B023
        told = f"{each * 1e6:.1f} µs, the whole outlook {look * 1e6:.0f} µs"
        yield Row(f"any position at a million beads, {name}", told, "10 µs", "50 µs")
        finder = Finder(lookout)
        seen = Clues(last=tuple(last_beads(course, course.steps // 2, 12)))
        finder.find(seen, 0)
        again = seconds(lambda: finder.find(seen, course.steps // 2))  # noqa: B023
        yield Row(f"find my place there, {name}", ms(again), "50 ms", "200 ms")
    yield from starts.large(on_disk, in_memory)
    top = in_memory or on_disk
    with ours(top / "small") as small, ours(top / "limit") as limit:
        found = keys.typed({"small": small, "limit": limit}, 200)
    yield Row("key at 999,600 beads, to 500", times(found["limit"].median / found["small"].median), "1.0 ×", "1.1 ×")
