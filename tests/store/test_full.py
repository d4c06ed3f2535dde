"""A disk so full that not even reading has the room it needs beside the database."""

from __future__ import annotations

import sqlite3
from types import SimpleNamespace

import pytest

from stitchalong.errors import StoreError
from stitchalong.store import faults


@pytest.mark.parametrize(
    ("name", "free", "words"),
    [
        ("SQLITE_IOERR_SHMSIZE", 0, "the disk is full"),
        ("SQLITE_CANTOPEN", 1000, "the disk is full"),
        ("SQLITE_IOERR_SHMSIZE", 10**9, "cannot be read or written"),
        ("SQLITE_CANTOPEN", 10**9, "cannot be opened"),
        ("SQLITE_READONLY", 0, "cannot be written"),
    ],
)
def test_it_is_called_full(tmp_path, monkeypatch, name, free, words):
    """The first of these names is what SQLite 3.40 gave on a file system of 300 KiB, filled to its last byte."""
    monkeypatch.setattr(faults, "disk_usage", lambda folder: SimpleNamespace(free=free))
    error = sqlite3.OperationalError("disk I/O error")
    error.sqlite_errorname = name
    with pytest.raises(StoreError) as caught, faults.faults(tmp_path / "pieces.db"):
        raise error
    assert words in str(caught.value)
    assert caught.value.problems[0].fix


def test_a_disk_that_does_not_tell_is_not_called_full(tmp_path, monkeypatch):
    def gone(folder):
        raise OSError("gone")

    monkeypatch.setattr(faults, "disk_usage", gone)
    error = sqlite3.OperationalError("disk I/O error")
    error.sqlite_errorname = "SQLITE_IOERR_READ"
    with pytest.raises(StoreError, match="cannot be read or written"), faults.faults(tmp_path / "pieces.db"):
        raise error
