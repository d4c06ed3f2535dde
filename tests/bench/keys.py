"""Keys: to the last byte of their picture, bytes, processor time; many at once; a slow disk; idle."""

from __future__ import annotations

import statistics
import time
from collections.abc import Iterator
from pathlib import Path

from stitchalong.store import Store
from tests.bench import samples
from tests.bench.driver import Key, Keys, Run
from tests.bench.floors import SLOW, WITHOUT_KEEPING, bare, changed, ours
from tests.bench.rows import Row, ms, times

KEYS = 300
BURST = 500
IDLE = 5.0


def typed(runs: dict[str, Run], count: int = KEYS) -> dict[str, Keys]:
    """So many keys to each of these programs, in turn, so that all meet the same machine."""
    found: dict[str, list[Key]] = {name: [] for name in runs}
    used: dict[str, float] = {}
    for run in runs.values():
        run.rest(0.3)
        for _ in range(20):
            run.press()
    for name, run in runs.items():
        used[name] = -run.processor()
    for _ in range(count):
        for name, run in runs.items():
            found[name].append(run.press())
    for name, run in runs.items():
        used[name] += run.processor()
    out = {}
    for name, some in found.items():
        seconds = sorted(one.seconds for one in some)
        out[name] = Keys(
            statistics.median(seconds),
            seconds[count * 99 // 100],
            statistics.median(one.bytes for one in some),
            used[name] / count,
        )
    return out


def position(home: Path) -> int:
    store = Store.open(home / "data", clock=time.time)
    try:
        return store.pieces()[0].position
    finally:
        store.close()


def rows(on_disk: Path, in_memory: Path | None) -> Iterator[Row]:
    text = samples.ring(112, 24)
    homes = {"on the disk": on_disk / "keys"} | ({"in memory": in_memory / "keys"} if in_memory else {})
    for name, home in homes.items():
        samples.begin(home, text, 500)
        with bare(home) as floor, ours(home) as our:
            found = typed({"bare": floor, "ours": our})
            one, other = found["ours"], found["bare"]
            where = f", store {name}"
            both = f"{ms(one.median)}, {ms(other.median)}"
            yield Row(f"key → paint, median{where}", f"{times(one.median / other.median)} ({both})", "1.2 ×", "1.5 ×")
            both = f"{ms(one.p99)}, {ms(other.p99)}"
            yield Row(f"key → paint, p99{where}", f"{times(one.p99 / other.p99)} ({both})", "1.5 ×", "3 ×")
            yield Row(f"processor time a key{where}", times(one.processor / other.processor), "1.2 ×", "1.5 ×")
            if name == "on the disk":
                yield Row("bytes a key, median", f"{one.bytes:,.0f}", "1,500", "4,000")
            first, last = our.burst(BURST)
            _, bare_last = floor.burst(BURST)
        kept = position(home) - 500 - KEYS - 19  # the first key closes the panel
        row = f"{times(last / bare_last)} ({ms(last)}; {kept} kept; first picture after {ms(first)})"
        yield Row(f"500 keys at once{where}", row, "1.0 ×", "2.0 ×")
    yield from _durable(on_disk, in_memory)
    with ours(on_disk / "keys") as our:
        our.rest(0.5)
        before = our.processor()
        _, sent = our.rest_for(IDLE)
        used = (our.processor() - before) / IDLE
        yield Row("idle", f"{sent} bytes, {used:.2%} of a core", "none, under 0.5 %", "")


def _durable(on_disk: Path, in_memory: Path | None) -> Iterator[Row]:
    for name, top in (("on the disk", on_disk), ("in memory", in_memory)):
        if top is None:
            continue
        for home in ("kept", "not"):
            samples.begin(top / home, samples.ring(112, 24), 500)
        with ours(top / "kept") as kept, ours(top / "not", *changed(WITHOUT_KEEPING)) as other:
            found = typed({"kept": kept, "not": other})
        more = found["kept"].median / found["not"].median - 1
        yield Row(f"durable press, to the same program without keeping, {name}", f"{more:+.0%}", "+10 %", "+15 %")


def slow(on_disk: Path, in_memory: Path | None) -> Iterator[Row]:
    home = (in_memory or on_disk) / "slow"
    samples.begin(home, samples.ring(112, 24), 500)
    with ours(home, *changed(SLOW)) as our:
        our.rest(0.3)
        our.press()
        first, last = our.burst(BURST)
    row = f"{ms(last)}; {position(home) - 500} kept; first picture after {ms(first)}"
    yield Row("a disk whose commit takes 10 ms: 500 keys at once", row, "0.3 s", "0.6 s")
