"""What a commit costs on a disk: SQLite alone, write-ahead log, synchronous FULL."""

from __future__ import annotations

import sqlite3
import statistics
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from tests.bench.rows import ms


def commit_times(folder: Path, count: int = 200) -> list[float]:
    """Seconds of each of so many commits of one row."""
    found = []
    with closing(sqlite3.connect(folder / "alone.db", isolation_level=None)) as connection:
        for pragma in ("journal_mode = WAL", "synchronous = FULL"):
            connection.execute(f"PRAGMA {pragma}")
        connection.execute("CREATE TABLE one (a, b)")
        for nth in range(count):
            begun = time.perf_counter()
            connection.execute("INSERT INTO one VALUES (?, ?)", (nth, "x" * 100))
            found.append(time.perf_counter() - begun)
    return sorted(found)


def told(on_disk: Path, in_memory: Path | None) -> Iterator[str]:
    for name, folder in (("the disk", on_disk), ("memory", in_memory)):
        if folder is not None:
            found = commit_times(folder)
            yield f"a commit on {name}: {ms(statistics.median(found))}, p99 {ms(found[len(found) * 99 // 100])}"
    yield ""
