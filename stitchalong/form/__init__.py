"""The piece before it is stitched: its form in three dimensions, from its stitches and its beads' measures alone.

The rest of the program comes in here. numpy is needed, and nothing of it is loaded before a form is asked for:
`ready` tells whether it is there, `require` says plainly how to get it.
"""

from __future__ import annotations

from importlib.util import find_spec

from stitchalong.errors import UsageError, how_to_add


def ready() -> bool:
    """Whether forms can be computed here."""
    return find_spec("numpy") is not None


def require() -> None:
    """Raise UsageError where numpy is not installed."""
    if not ready():
        raise UsageError(
            "to show a piece's form numpy is needed, which is not installed here",
            fix=f"{how_to_add('form')}; all else works without it",
        )
