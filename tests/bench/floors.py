"""The programs that are run, and how one knows that they stand."""

from __future__ import annotations

import tempfile
from pathlib import Path

from tests.bench.driver import Run

BARE = ("-m", "tests.bench.floor")
BARE_SHOWS = b"count 0"
OURS = ("-m", "stitchalong", "go-on")
OURS_SHOWS = b"go on (not"
"""of the panel that tells where one stopped"""

WITHOUT_KEEPING = """
from stitchalong.store import Store, journal
Store.record = lambda self, piece_id, seq, events, **more: seq + len(events)
import stitchalong.screens.keeping as keeping
keeping.Keeping.begin = lambda self: None
"""
SLOW = """
import contextlib, time
from stitchalong.store.database import Database
real = Database.transaction
@contextlib.contextmanager
def transaction(self, kind="IMMEDIATE"):
    with real(self, kind) as connection:
        yield connection
        time.sleep(0.01)
Database.transaction = transaction
"""
_MAIN = """
import sys
from stitchalong.cli import main
sys.exit(main(["go-on"]))
"""


def changed(code: str) -> tuple[str, str]:
    """The program with something changed in it before it starts."""
    return "-c", code + _MAIN


def bare(home: Path) -> Run:
    run = Run(home, *BARE)
    run.shows(BARE_SHOWS)
    return run


def ours(home: Path, *command: str) -> Run:
    run = Run(home, *(command or OURS))
    run.shows(OURS_SHOWS)
    return run


def warm() -> None:
    """Compile what is to be imported, once."""
    with tempfile.TemporaryDirectory() as home, bare(Path(home)):
        pass
