"""A store in a folder of its own, and a clock that the test moves."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from stitchalong.store import Event, PieceRow, Store


class Clock:
    """Epoch seconds that stand still until they are moved."""

    def __init__(self, now: float = 1_700_000_000.0) -> None:
        self.now = now

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "data"


@pytest.fixture
def store(folder: Path, clock: Clock) -> Iterator[Store]:
    opened = Store.open(folder, clock=clock)
    yield opened
    opened.close()


Begin = Callable[..., PieceRow]


@pytest.fixture
def begin() -> Begin:
    """Begin an invented piece in a store; any part can be given."""

    def make(store: Store, **parts: object) -> PieceRow:
        given: dict[str, object] = {
            "title": "Heather ring",
            "plan_text": 'title = "Heather ring"\n',
            "plan_data": '{"title": "Heather ring"}',
            "plan_name": "heather-ring.toml",
            "compiler": 1,
            "steps": 500,
            "place": "{}",
        }
        return store.begin(**(given | parts))  # type: ignore[arg-type]

    return make


@pytest.fixture
def press() -> Callable[..., Event]:
    """A press that lays bead number `position`."""

    def make(position: int, **parts: object) -> Event:
        given: dict[str, object] = {"kind": "press", "amount": 1, "position": position, "redo_to": position}
        return Event(**(given | parts))  # type: ignore[arg-type]

    return make
