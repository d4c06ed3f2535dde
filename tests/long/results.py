"""The table of results: one row a run, the newest of each kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

HEAD = """\
# Long runs

Written by `python -m tests.long`; the only place where figures are dated. Seconds are of one busy machine of two cores
and say little elsewhere.

| run | date | result | time |
| --- | --- | --- | --- |
"""


@dataclass(frozen=True, slots=True)
class Row:
    """What came of one run."""

    run: str
    date: str
    result: str
    time: str


def read(path: Path) -> dict[str, Row]:
    """The rows by run; empty where there is no table yet."""
    if not path.exists():
        return {}
    lines = path.read_text(encoding="utf-8").splitlines()
    rows = [[cell.strip() for cell in line.strip("|").split("|")] for line in lines if line.startswith("| ")][2:]
    return {row[0]: Row(*row) for row in rows}


def written(rows: Mapping[str, Row]) -> str:
    """The table as text."""
    cells = ((row.run, row.date, row.result, row.time) for row in rows.values())
    return HEAD + "".join(f"| {' | '.join(cell.replace('|', '/') for cell in row)} |\n" for row in cells)
