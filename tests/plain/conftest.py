"""Pieces to stitch line by line."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from stitchalong.plan.read import read_text
from stitchalong.session import Session
from stitchalong.store import Store

RING = """
title = "Sorrel ring"
[beads.A]
name = "sorrel"
colour = "#7a3b2e"
[beads.B]
name = "bone"
colour = "#e9e2cf"
[[work]]
start = "MRAW band"
frame = "A"
side = "A"
marker = "B"
sides = [2, 3]
[[work]]
stitch = "peyote"
rounds = ["A", "B"]
{height}
increase = {{ over = "B", from_round = 2 }}
[[remarks]]
round = 2
say = "The first pairs."
"""

Begin = Callable[[str], Session]


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    store = Store.open(tmp_path / "data", clock=lambda: 1_750_000_000.0)
    yield store
    store.close()


@pytest.fixture
def begin(store: Store) -> Begin:
    """Begins a ring of seven units with this line for its height."""

    def begun(height: str) -> Session:
        loaded = read_text(RING.format(height=height))
        return Session.begin(store, plan=loaded.plan, plan_text=loaded.text, plan_data=loaded.data, plan_name="sorrel")

    return begun


@pytest.fixture
def ring(begin: Begin) -> Session:
    """Seven units, three rounds: 28 beads of the band, then 7, 9 and 11."""
    return begin("height = 3")
