"""`python -m tests.bench`: the table of what starts, keys, memory and large pieces cost, against floors anyone can run.

Figures are medians and ratios of one run, and depend on the machine and on what else it does; the floor is a bare
Textual app with one counter (`floor.py`), for a durable press the same program without keeping. Linux. Takes some
minutes; words name the parts to run (`start words keys slow compile large sound`).
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from tests.bench import disk, floors, keys, large, sound, starts
from tests.bench.rows import Row

PARTS = {
    "start": starts.rows,
    "words": starts.words,
    "keys": keys.rows,
    "slow": keys.slow,
    "compile": large.compiling,
    "large": large.rows,
    "sound": sound.rows,
}


def told(row: Row) -> str:
    return f"| {row.what} | {row.found} | {row.goal} | {row.least} |"


def found(wanted: list[str], on_disk: Path, in_memory: Path | None) -> Iterator[str]:
    yield from disk.told(on_disk, in_memory)
    yield "| what | found | goal | at least |"
    yield "| --- | --- | --- | --- |"
    for name in wanted or PARTS:
        for row in PARTS[name](on_disk, in_memory):
            yield told(row)


def main(wanted: list[str]) -> int:
    unknown = set(wanted) - set(PARTS)
    if unknown:
        print(f"there is no part {', '.join(sorted(unknown))}: {' '.join(PARTS)}", file=sys.stderr)
        return 2
    shared = Path("/dev/shm")
    with (
        tempfile.TemporaryDirectory() as top,
        tempfile.TemporaryDirectory(dir=shared if shared.is_dir() else None) as shm,
    ):
        floors.warm()
        for line in found(wanted, Path(top), Path(shm) if shared.is_dir() else None):
            print(line, flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
