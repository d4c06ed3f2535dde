"""Pieces, presses, choices and notes, kept in SQLite."""

from stitchalong.store.database import Missing
from stitchalong.store.journal import Conflict, Kept
from stitchalong.store.pieces import Store
from stitchalong.store.rows import Event, Note, PieceRow, PieceSummary, Record

__all__ = ["Conflict", "Event", "Kept", "Missing", "Note", "PieceRow", "PieceSummary", "Record", "Store"]
