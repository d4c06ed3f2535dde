"""Whether a plan is stitched already."""

from __future__ import annotations

from collections.abc import Iterable

from stitchalong.store.names import NAME_LIMIT
from stitchalong.store.rows import PieceSummary, clean


def under_way(pieces: Iterable[PieceSummary], title: str) -> PieceSummary | None:
    """The first of the pieces that is of a plan of this title and not done. A piece keeps the beginning of a title."""
    kept = clean(title, NAME_LIMIT)
    return next((piece for piece in pieces if piece.state == "going" and piece.title == kept), None)
