"""Keeping on a disk that takes its time: presses go to a writer's thread, which keeps several in one commit.

A disk that keeps a press at once is waited for, so that there is no difference; on a slow one the hands go on, and what
is not kept yet is known (`Work.unkept`), so that nobody shows it as kept.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from pathlib import Path
from time import monotonic
from typing import TYPE_CHECKING

from stitchalong.course.walker import Walker
from stitchalong.errors import StoreError
from stitchalong.store.rows import Record
from stitchalong.values import value

if TYPE_CHECKING:
    from stitchalong.store.pieces import Store
    from stitchalong.store.writer import Ticket

AT_ONCE = 0.008
"""seconds that one press is waited for: longer than a usual disk takes, shorter than anybody sees"""
HURRIED = 0.015
"""seconds; presses that follow each other faster came all at once, and are not waited for one by one"""


@value
class Sent:
    """A press on its way to the disk."""

    ticket: Ticket
    before: Walker
    """where the work stood before it"""


class Behind:
    """The way to the disk of the presses of one window, and what is on it."""

    def __init__(self, folder: Path, clock: Callable[[], float], told: Callable[[], object]) -> None:
        """`folder`: of the data; `clock` gives epoch seconds, UTC.

        `told` is called in the writer's thread when presses are settled that were not at once. Raises StoreError.
        """
        from stitchalong.store.writer import Writer

        def tell(_: object) -> None:
            if self._late:
                told()

        self._late = False
        self._last = 0.0
        self._writer = Writer(folder, clock=clock, told=tell)
        self.sent: deque[Sent] = deque()
        """what is not known to be kept, in order"""

    def put(self, record: Record, before: Walker) -> None:
        """Send a press to the disk; `before`: where the work stood."""
        ticket = self._writer.put(record)
        self.sent.append(Sent(ticket, before))
        now = monotonic()
        hurried, self._last = now - self._last < HURRIED, now
        if self._late or hurried or not ticket.settle(AT_ONCE):
            self._late = True

    def settle(self, piece_id: int) -> tuple[Walker, int, Exception] | None:
        """Forget what is kept. Where a press was not kept: where the work stood before it, the piece's number then,
        and why; all that was sent after it is not kept either, and is forgotten."""
        while self.sent and self.sent[0].ticket.settled:
            failed = self.sent.popleft()
            if failed.ticket.error is not None:
                self.sent.clear()
                self._late = False
                self._writer.resume(piece_id)
                return failed.before, failed.ticket.record.expected_seq, failed.ticket.error
        if not self.sent:
            self._late = False
        return None

    def flush(self) -> None:
        """Wait until all that was sent is settled."""
        if self.sent:
            self._writer.flush()

    def close(self) -> None:
        """Settle all that was sent, then end. Presses cannot be sent any more."""
        self._writer.close()


def behind(store: Store, told: Callable[[], object]) -> Behind | None:
    """A way behind for the presses of this store; None where there can be none, and all goes on without."""
    try:
        return Behind(store.path.parent, store.clock, told)
    except StoreError:
        return None
