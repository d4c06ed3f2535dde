"""What a stitcher measured is kept, replaced where a piece is measured anew, and outlives its piece."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace

import pytest

from stitchalong.errors import StoreError
from stitchalong.measure.measured import Measured
from stitchalong.store import Store
from stitchalong.store.copies import copies

SWATCH = Measured("11/0", "cylinder", "peyote", "column", "", 20, 26.5, 0.5)


def test_measurements_come_back_as_they_were_kept(store, clock, folder):
    numbers = [store.add_measured(SWATCH), store.add_measured(replace(SWATCH, tension="loose", length=27))]
    assert store.measured() == [
        replace(SWATCH, id=numbers[0], at=clock.now),
        replace(SWATCH, id=numbers[1], tension="loose", length=27.0, at=clock.now),
    ]
    again = Store.open(folder, clock=clock)
    try:
        assert again.measured() == store.measured()
    finally:
        again.close()
    store.remove_measured(numbers[0])
    assert [one.id for one in store.measured()] == [numbers[1]]
    with pytest.raises(StoreError, match="no measurement"):
        store.remove_measured(numbers[0])


def test_a_piece_has_one_measurement_of_a_stitch(store, begin):
    piece = begin(store)
    ring = replace(SWATCH, stitch="MRAW band", per="unit", count=24, length=53.8, piece=piece.uid)
    store.add_measured(ring)
    store.add_measured(replace(ring, stitch="thread", size="", shape=""))
    store.add_measured(replace(ring, length=54.4))
    assert [(one.stitch, one.length) for one in store.measured()] == [("thread", 53.8), ("MRAW band", 54.4)]
    store.remove(piece.id)
    assert len(store.measured()) == 2


@pytest.mark.parametrize("change", [{"count": 0}, {"length": 0.0}, {"error": -1.0}, {"per": "yard"}])
def test_what_cannot_be_a_measurement_is_not_kept(store, change):
    with pytest.raises(StoreError):
        store.add_measured(replace(SWATCH, **change))
    assert store.measured() == []


def test_a_flipped_bit_is_found(store, folder, clock):
    store.add_measured(SWATCH)
    store._database.close()
    with closing(sqlite3.connect(folder / "pieces.db")) as connection, connection:
        connection.execute("UPDATE measured SET length = 27.5")
    opened = Store.open(folder, clock=clock)
    with pytest.raises(StoreError, match="measurement 1 does not read"):
        opened.measured()
    opened._database.close()


def test_a_measurement_alone_is_worth_the_daily_copy(store, clock, folder):
    store.add_measured(SWATCH)
    clock.now += 86_400
    store.close()
    assert [copy.why for copy in copies(folder)] == ["daily"]
