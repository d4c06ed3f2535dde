"""The helper that sounds, in rows of its own; every other row is measured without it."""

from __future__ import annotations

import statistics
from collections.abc import Iterator
from pathlib import Path

from stitchalong.cues.cue import Cue
from tests.bench.bench_cues import idle, measure
from tests.bench.rows import Row, ms

CUES = 20
IDLE = 5.0


def rows(on_disk: Path, in_memory: Path | None) -> Iterator[Row]:
    found = {step: statistics.median(times) / 1000 for step, times in measure(Cue("now"), CUES).items()}
    told = f"{ms(found['the call'])}, {ms(found['call to sound'])} with a device that takes 10 ms at a time"
    yield Row("sound: a cue is handed over, and sounds, after", told, "", "")
    held, used = idle(IDLE)
    ready = ms(found["start to ready"])
    yield Row(
        "sound: the helper's process, silent", f"{held:.0f} MB, {used:.1%} of a core; ready after {ready}", "", ""
    )
