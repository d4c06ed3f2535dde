"""What a stitcher measured, as it is kept."""

from __future__ import annotations

from stitchalong.values import value


@value
class Measured:
    """A swatch or a finished piece; by bead, stitch and tension."""

    size: str
    """of the bead, as the table of sizes has it; empty for thread, which is kept for all beads alike"""
    shape: str
    stitch: str
    """a stitch of `gauge`, or `book.THREAD`"""
    per: str
    """`unit`, `column` or `row`"""
    tension: str
    """a word of the stitcher's own; empty for the usual one"""
    count: int
    length: float
    """mm"""
    error: float
    """mm, one standard deviation"""
    piece: str = ""
    """the uid of the piece that was measured; empty for a swatch"""
    id: int = 0
    """in the store"""
    at: float = 0.0
    """epoch seconds, UTC"""
