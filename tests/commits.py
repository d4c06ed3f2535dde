"""Something that happens at every commit of a store, in the place of a disk's moods."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest

from stitchalong.store.database import Database


def at_each_commit(monkeypatch: pytest.MonkeyPatch, happens: Callable[[], None]) -> None:
    """`happens` is called before a transaction is committed; what it raises undoes the transaction."""
    real: Callable[..., object] = Database.transaction

    @contextmanager
    def transaction(self: Database, kind: str = "IMMEDIATE") -> Iterator[sqlite3.Connection]:
        with real(self, kind) as connection:  # type: ignore[attr-defined]
            yield connection
            happens()

    monkeypatch.setattr(Database, "transaction", transaction)
