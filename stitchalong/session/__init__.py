"""One piece being stitched: walker, store, cues and clock. The only thing that a front end calls.

Every press is kept before it is shown: a method that moves returns only when the store has it, or, after `keep_behind`,
when it is on its way there and `unkept` says so.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Self, TypeVar

from stitchalong.course.course import COMPILER
from stitchalong.course.laid import Digests
from stitchalong.cues.words import USUAL_WARNING
from stitchalong.session.beside import Beside
from stitchalong.session.plan_files import FromFile
from stitchalong.session.replanning import Replanning
from stitchalong.session.values import LARGE_UNDO, LAST_BEADS, Made, Return, Told, place_text
from stitchalong.store.pieces import Store
from stitchalong.store.rows import PieceRow

if TYPE_CHECKING:
    from stitchalong.plan.model import Plan
    from stitchalong.session.watching import Watching
    from stitchalong.store.locks import FileLock
    from stitchalong.store.unpack import Unpacked

__all__ = ["LARGE_UNDO", "LAST_BEADS", "Made", "Return", "Session", "Told"]


S = TypeVar("S", bound="Session")


class Session(FromFile, Replanning, Beside):
    """A piece at work."""

    only_watches = False
    """whether another window works on it"""
    claim: FileLock | None = None
    """on the piece, where it was taken over from another window"""

    @classmethod
    def begin(
        cls,
        store: Store,
        *,
        plan: Plan,
        plan_text: str,
        plan_data: object,
        plan_name: str,
        name: str | None = None,
        warn: int = USUAL_WARNING,
    ) -> Self:
        """Begin a new piece. Raises PlanError for a plan that cannot be stitched."""
        from stitchalong.course.compile import compile_plan

        course = compile_plan(plan)
        row = store.begin(
            title=plan.title,
            plan_text=plan_text,
            plan_data=json.dumps(plan_data, ensure_ascii=False),
            plan_name=plan_name,
            compiler=COMPILER,
            steps=course.steps,
            place=place_text(Digests(course), 0),
            name=name,
        )
        session = cls(store, row, plan, warn=warn, course=course)
        session._keep_course(row.choices)
        return session

    @classmethod
    def resume(cls, store: Store, piece_id: int, *, warn: int = USUAL_WARNING) -> Self:
        """Go on with a piece, from its own copy of the plan. Raises StoreError or PlanError."""
        return cls(store, store.piece(piece_id), warn=warn)

    def anew(self) -> Session:
        """The piece as it stands in the store now: for going on after another window has worked on it."""
        other = self._as_told(type(self).resume(self._store, self.piece.id, warn=self.warn))
        other._behind = self._behind
        return other

    def taken_back(self) -> Session:
        """The piece as it stands now, to go on with here though another window has worked on it."""
        other = self.anew()
        other.claim = self._store.hold(self.piece.id, take_over=True)
        return other

    def newest(self) -> Session:
        """This session, or the piece anew where another one has gone on with it."""
        return self if self._store.seq(self.piece.id) == self._seq else self.anew()

    def followed(self) -> Watching:
        """The same piece, to be watched while another window works on it. Raises StoreError."""
        other = self._as_told(self.watch(self._store, self.piece.id))
        other.taken_over_behind = self._behind
        return other

    def _as_told(self, other: S) -> S:
        """The other session tells as this one does."""
        other.warn, other.talk, other.remarks = self.warn, self.talk, self.remarks
        other.hold_needle(left=self.left_handed)
        return other

    @staticmethod
    def watch(store: Store, piece_id: int) -> Watching:
        """Follow a piece that another window works on; see `stitchalong.session.watching`."""
        from stitchalong.session.watching import Watching

        return Watching.watch(store, piece_id)

    @classmethod
    def take_in(cls, store: Store, source: Path, *, as_new: bool = False) -> Unpacked:
        """Take in a piece that was written into a file, if it can be gone on with; all of it or nothing.

        See `stitchalong.store.unpack`. Raises StoreError.
        """
        from stitchalong.session.taking_in import hold_place, plan_of

        def check(row: PieceRow) -> None:
            hold_place(row, cls(store, row, plan_of(row)).course)

        return store.unpack(source, as_new=as_new, check=check)
