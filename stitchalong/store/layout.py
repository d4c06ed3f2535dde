"""What lies in the data folder, and under which name."""

from __future__ import annotations

from pathlib import Path

FILE_NAME = "pieces.db"
"""the database; its log lies beside it"""
COPIES = "copies"
"""the folder of the copies"""
ASIDE = "set-aside"
"""the folder of what was there before a copy was brought back"""
COURSES = "courses"
"""the folder of the courses kept ready; it may be lost at any time"""
PLAN_FILES = "plan-files"
"""the folder that says of each piece where its plan was read from"""
PLAN_BEADS = "plan-beads.json"
"""what plans take, for lists; it may be lost at any time"""
HELD = "held"
"""the folder of the claims that windows have on pieces"""


def in_use_lock(folder: Path) -> Path:
    """Held shared by whoever has the pieces open, unshared by whoever puts a copy in their place."""
    return folder / "pieces.lock"


def has_copies(folder: Path) -> bool:
    """Whether anything lies among the copies."""
    return any((folder / COPIES).glob("pieces-*.db"))
