"""The database, as one commented text a version.

A shipped text is never changed: a later version adds a text of its own to `MIGRATIONS`, and a stored file
of every version lies with the tests. A text that adds a column to a sealed row must seal the rows anew.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator

APPLICATION_ID = 0x73746368
"""marks the file as ours (`stch` in ASCII); in the header at offset 68"""

VERSION_1 = """
-- Which texts ran here, and when (epoch seconds).
CREATE TABLE migration (
    version INTEGER PRIMARY KEY,
    ran     REAL NOT NULL
) STRICT;

-- A piece: where it stands. Small, because every press writes this row anew.
CREATE TABLE piece (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,  -- never given twice
    uid      TEXT NOT NULL UNIQUE,               -- 32 hex digits, the same on every computer
    name     TEXT NOT NULL,
    name_key TEXT NOT NULL UNIQUE,               -- the name in NFC, case folded
    title    TEXT NOT NULL,                      -- the plan's
    begun    REAL NOT NULL,                      -- epoch seconds, UTC
    touched  REAL NOT NULL,                      -- the last event, epoch seconds, UTC
    position INTEGER NOT NULL CHECK (position >= 0),
    redo_to  INTEGER NOT NULL CHECK (redo_to >= position),
    seq      INTEGER NOT NULL CHECK (seq >= 0),  -- of the last event
    steps    INTEGER NOT NULL CHECK (steps >= 0),
    place    TEXT NOT NULL,                      -- JSON
    state    TEXT NOT NULL CHECK (state IN ('going', 'finished', 'put away')),
    seconds  REAL NOT NULL CHECK (seconds >= 0), -- time spent
    told     INTEGER NOT NULL CHECK (told >= 0), -- how many events carry data
    notes    INTEGER NOT NULL CHECK (notes >= 0), -- how many notes there are
    seal     INTEGER NOT NULL                    -- CRC-32 over the row, without name_key
) STRICT;

-- What a piece is stitched from: large, and written seldom.
CREATE TABLE work (
    piece     INTEGER PRIMARY KEY REFERENCES piece (id) ON DELETE CASCADE,
    plan_text TEXT NOT NULL,
    plan_data TEXT NOT NULL,                     -- JSON, the checked form
    plan_name TEXT NOT NULL,
    compiler  INTEGER NOT NULL,
    choices   TEXT NOT NULL,                     -- JSON list
    seal      INTEGER NOT NULL                   -- CRC-32 over the row
) STRICT;

-- Every event, in order, for ever.
CREATE TABLE press (
    piece    INTEGER NOT NULL REFERENCES piece (id) ON DELETE CASCADE,
    seq      INTEGER NOT NULL CHECK (seq > 0),   -- 1, 2, 3, ... within the piece
    at       REAL NOT NULL,                      -- epoch seconds, UTC
    kind     TEXT NOT NULL
             CHECK (kind IN ('press', 'undo', 'redo', 'goto', 'choice', 'thread', 'mark')),
    amount   INTEGER NOT NULL,
    position INTEGER NOT NULL CHECK (position >= 0),
    redo_to  INTEGER NOT NULL CHECK (redo_to >= position),
    data     TEXT NOT NULL,
    seal     INTEGER NOT NULL,                   -- CRC-32 over the row
    PRIMARY KEY (piece, seq)
) STRICT, WITHOUT ROWID;

-- Choices and marks are few among very many presses.
CREATE INDEX press_with_data ON press (piece, seq) WHERE data <> '';

CREATE TRIGGER press_is_never_changed BEFORE UPDATE ON press
BEGIN
    SELECT raise(ABORT, 'a kept press is never changed');
END;

-- Presses go only when their piece goes.
CREATE TRIGGER press_is_never_removed BEFORE DELETE ON press
WHEN EXISTS (SELECT 1 FROM piece WHERE id = OLD.piece)
BEGIN
    SELECT raise(ABORT, 'a kept press is never removed');
END;

CREATE TABLE note (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    piece    INTEGER NOT NULL REFERENCES piece (id) ON DELETE CASCADE,
    position INTEGER NOT NULL CHECK (position >= 0),
    text     TEXT NOT NULL,
    at       REAL NOT NULL,                      -- epoch seconds, UTC
    seal     INTEGER NOT NULL                    -- CRC-32 over piece, position, text, at
) STRICT;
"""

VERSION_2 = """
-- What a stitcher measured: gauges are found from it. It outlives the piece that was measured.
CREATE TABLE measured (
    id      INTEGER PRIMARY KEY AUTOINCREMENT,
    size    TEXT NOT NULL,                      -- of the bead; empty for thread
    shape   TEXT NOT NULL,
    stitch  TEXT NOT NULL,
    per     TEXT NOT NULL CHECK (per IN ('unit', 'column', 'row')),
    tension TEXT NOT NULL,                      -- empty: the usual one
    count   INTEGER NOT NULL CHECK (count > 0), -- units, columns or rows in the length
    length  REAL NOT NULL CHECK (length > 0),   -- mm
    error   REAL NOT NULL CHECK (error > 0),    -- mm, one standard deviation
    piece   TEXT NOT NULL,                      -- the uid of the piece measured; empty: a swatch
    at      REAL NOT NULL,                      -- epoch seconds, UTC
    seal    INTEGER NOT NULL                    -- CRC-32 over the row, without id
) STRICT;
"""

MIGRATIONS: tuple[str, ...] = (VERSION_1, VERSION_2)
"""`MIGRATIONS[n]` brings a database of version n to version n + 1."""

TABLES = frozenset(("migration", "piece", "work", "press", "note", "measured"))


def statements(text: str) -> Iterator[str]:
    """The statements of a text one by one, so that they can run inside an open transaction."""
    pending = ""
    for line in text.splitlines(keepends=True):
        pending += line
        if sqlite3.complete_statement(pending):
            yield pending.strip()
            pending = ""
    if pending.strip():
        raise ValueError(f"an unfinished statement: {pending.strip()[:60]!r}")
