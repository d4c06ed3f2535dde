"""A second window on a piece: it sees what is done in the first, keeps nothing itself, and can take the piece over."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

from stitchalong.errors import StoreError
from stitchalong.session import Session
from stitchalong.store.journal import Conflict
from stitchalong.store.pieces import Store

if TYPE_CHECKING:
    from stitchalong.session.behind import Behind

_READING = frozenset(("piece", "kept_course", "seq", "tail", "told", "notes", "measured", "path"))
_TRIES = 20


class _OnlyReading:
    """A store that can only be read."""

    def __init__(self, store: Store) -> None:
        self._store = store

    def __getattr__(self, name: str) -> Any:
        if name not in _READING:
            raise StoreError("this window only watches", fix="take the piece over to go on with it here")
        return getattr(self._store, name)


class Watching(Session):
    """A session that follows another window's. Whatever would be kept is refused with a StoreError."""

    only_watches = True
    unasked = False
    """whether somebody meant to go on with the piece: then it is said first that another window has it"""

    @classmethod
    def watch(cls, store: Store, piece_id: int) -> Watching:
        """Follow this piece. Raises StoreError or PlanError, as `Session.resume` does."""
        found = cls.resume(cast(Store, _OnlyReading(store)), piece_id)
        found.window = store
        return found

    window: Store
    """this window's own store, for taking over"""
    taken_over_behind: Behind | None = None
    """the way of its presses to the disk then"""

    def look(self) -> bool:
        """Whether the other window has done something since the last look; then this session stands where it does.

        Cheap where nothing has happened, so it can be asked for several times a second. Raises StoreError where the
        piece is gone.
        """
        if self._store.seq(self.piece.id) == self._seq:
            return False
        old, row = self.piece, self._store.piece(self.piece.id)
        self._stand(row, as_before=(row.plan_data, row.choices) == (old.plan_data, old.choices))
        self._notes = self._entries = None
        return True

    def take_over(self) -> Session:
        """Go on with the piece in this window. The other one's next press is refused there, and told (a `Conflict`).

        No press of either is lost or counted twice: the mark that takes over stands behind all that the other has kept.
        """
        for _ in range(_TRIES):
            session = Session.resume(self.window, self.piece.id, warn=self.warn)
            try:
                session.mark("taken over")
            except Conflict:  # a press of the other window came in between
                continue
            session._behind = self.taken_over_behind
            self.claim = session.claim = self.window.hold(self.piece.id, take_over=True)
            return self._as_told(session)
        raise StoreError("the other window is too busy to take the piece over", fix="try again")
