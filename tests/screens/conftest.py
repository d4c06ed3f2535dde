"""A store with a clock that stands still, and frames compared with those that were looked at."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import pytest

from stitchalong.store import Store
from tests.screens.acting import Clock, open_store

GOLDEN = Path(__file__).parent / "golden"
WRITE = "WRITE_GOLDEN"
"""set to 1: the frames are written, to be looked at; the tests fail then, so that it is not left on"""


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def store(tmp_path: Path, clock: Clock) -> Iterator[Store]:
    opened = open_store(tmp_path / "data", clock)
    yield opened
    opened.close()


@pytest.fixture
def golden() -> Callable[[str, Iterable[str]], None]:
    """Compare a frame with the golden one of this name."""

    def compare(name: str, lines: Iterable[str]) -> None:
        path = GOLDEN / f"{name}.txt"
        frame = "\n".join(line.rstrip() for line in lines) + "\n"
        if os.environ.get(WRITE) == "1":
            path.write_text(frame, encoding="utf-8")
            pytest.fail(f"{path.name} is written: look at it, then run again without {WRITE}")
        assert frame == path.read_text(encoding="utf-8")

    return compare
