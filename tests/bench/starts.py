"""Starts, and commands that only tell something."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.bench import samples
from tests.bench.driver import ROOT, median
from tests.bench.floors import bare, ours
from tests.bench.rows import Row, ms, times

STARTS = 15
SCRIPT = "import sys; from stitchalong.cli import main; sys.exit(main())"
"""what the installed command does"""


@dataclass(frozen=True, slots=True)
class Started:
    """A start, to the first picture."""

    seconds: float
    processor: float
    """seconds of processor time; what else the machine does makes less of a difference to them"""
    peak: int
    """bytes of memory, a moment later"""


def _started(homes: dict[str, Path | None], count: int = STARTS) -> dict[str, Started]:
    """Of each home (None: the bare app) the median start, all in turn."""
    found: dict[str, list[Started]] = {name: [] for name in homes}
    for nth in range(count + 1):
        for name, home in homes.items():
            with bare(Path("/")) if home is None else ours(home) as run:
                at, used = time.perf_counter() - run.begun, run.processor()
                run.rest(0.2)
                if nth:
                    found[name].append(Started(at, used, run.peak()))
    return {
        name: Started(
            median([one.seconds for one in some]),
            median([one.processor for one in some]),
            max(one.peak for one in some),
        )
        for name, some in found.items()
    }


def _to(one: Started, other: Started) -> str:
    """A start held against another."""
    return f"{times(one.seconds / other.seconds)}, processor {times(one.processor / other.processor)}"


def rows(on_disk: Path, in_memory: Path | None) -> Iterator[Row]:
    text = samples.ring(112, 24)
    homes: dict[str, Path | None] = {"bare": None, "disk": on_disk / "ring"}
    samples.begin(on_disk / "ring", text, 300)
    if in_memory is not None:
        homes["memory"] = in_memory / "ring"
        samples.begin(in_memory / "ring", text, 300)
    found = _started(homes)
    floor = found["bare"]
    for name in list(homes)[1:]:
        one = found[name]
        yield Row(
            f"start → a piece in progress, store {'on the disk' if name == 'disk' else 'in memory'}, to the bare app",
            f"{_to(one, floor)} ({ms(one.seconds)}, {ms(floor.seconds)})",
            "1.1 ×",
            "1.3 ×",
        )
        if name == "disk":
            yield Row(
                "peak memory, a ring open", f"{times(one.peak / floor.peak)} ({one.peak >> 20} MB)", "1.1 ×", "1.25 ×"
            )


def large(on_disk: Path, in_memory: Path | None) -> Iterator[Row]:
    """A piece at the limit to a small one, and a long record to a short one."""
    top = in_memory or on_disk
    samples.begin(top / "small", samples.tube(50, 8), 200)
    samples.begin(top / "limit", samples.tube(50, 19_990), 500_010)
    found = _started({"small": top / "small", "limit": top / "limit"})
    small, limit = found["small"], found["limit"]
    yield Row("start at 999,600 beads in 19,991 rounds, to 500 beads", _to(limit, small), "1.0 ×", "1.15 ×")
    yield Row("memory there", f"{(limit.peak - small.peak) / 2**20:+.1f} MB", "+2 MB", "+10 MB")
    for name, presses in (("few", 100), ("many", 1_000_000)):
        samples.press_often(top / name, samples.begin(top / name, samples.ring(112, 24), 300), presses)
    found = _started({"few": top / "few", "many": top / "many"})
    yield Row("resume with 1,000,000 presses, to 100", _to(found["many"], found["few"]), "1.0 ×", "1.1 ×")


def words(on_disk: Path, in_memory: Path | None) -> Iterator[Row]:
    home = on_disk / "words"
    samples.begin(home, samples.ring(28, 4))
    asked = {"pass": ("-c", "pass")} | {
        word: ("-c", SCRIPT, word) for word in ("--version", "--help", "pieces", "plans")
    }
    found: dict[str, list[float]] = {name: [] for name in asked}
    for _ in range(STARTS):
        for name, command in asked.items():
            begun = time.perf_counter()
            subprocess.run(
                [sys.executable, *command],
                cwd=ROOT,
                env={"STITCHALONG_HOME": str(home), "PATH": "/usr/bin:/bin"},
                stdout=subprocess.DEVNULL,
                check=True,
            )
            found[name].append(time.perf_counter() - begun)
    floor = median(found.pop("pass"))
    for name, some in found.items():
        yield Row(
            f"`{name}`, to `python -c pass`", f"{times(median(some) / floor)} ({ms(median(some))})", "2.5 ×", "4 ×"
        )
