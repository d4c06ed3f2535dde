"""A piece that is finished: how it came out makes the stitcher's own gauge better."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from stitchalong.errors import StitchalongError, UsageError
from stitchalong.measure.units import Units
from stitchalong.session import Session
from stitchalong.store.pieces import Store

if TYPE_CHECKING:
    from stitchalong.measure.measured import Measured

SIZE, THREAD, TENSION = "size", "thread", "tension"
"""what is said of a finished piece"""


class Ending:
    """What a piece came out at, held against its plan and how far it is counted. Its plan is read once, when needed."""

    def __init__(self, store: Store, piece_id: int) -> None:
        self._store, self._piece_id = store, piece_id

    @cached_property
    def _session(self) -> Session:
        return Session.resume(self._store, self._piece_id)

    def size(self, text: str, tension: str = "") -> Measured:
        """What a ring size tells. Raises UsageError for what is none, is not closed yet, or cannot be."""
        from stitchalong.measure.measuring import tension_word
        from stitchalong.measure.need import measured_size
        from stitchalong.measure.of_start import closed_at
        from stitchalong.measure.sizes import read_ring_size

        size, word = read_ring_size(text), tension_word(tension)
        course, plan = self._session.course, self._session.plan
        found = measured_size(course, plan, size, word, self._session.piece.uid)
        if self._session.position < closed_at(course, plan):
            raise UsageError(
                "as far as it is counted its ring is not closed yet, so a size tells nothing of your gauge",
                fix="leave the size out, or count on first",
            )
        return found

    def thread(self, text: str) -> Measured:
        """What the thread that it took tells. Raises UsageError for no length, or one that cannot be."""
        from stitchalong.measure.need import measured_use
        from stitchalong.measure.units import read_length

        session = self._session
        found = measured_use(session.course, session.plan, read_length(text), session.piece.uid)
        if session.position < session.course.steps:
            raise UsageError(
                "not every bead of the plan is counted, so its thread tells nothing of your gauge",
                fix="leave the thread out, or count on first",
            )
        return found

    def faults(self, size: str, thread: str, tension: str) -> dict[str, StitchalongError]:
        """What cannot be, by what is said."""
        found: dict[str, StitchalongError] = {}
        for name, text, look in ((SIZE, size, self.size), (THREAD, thread, self.thread)):
            try:
                if text:
                    look(text)
            except StitchalongError as error:
                found[name] = error
        if tension and not size:
            found[TENSION] = UsageError("a tension is kept with a size", fix="give the size, too")
        return found

    def doubt(self, name: str, text: str) -> StitchalongError | None:
        """What is wrong with a size or a thread that is being typed; None while it is none yet."""
        from stitchalong.measure.sizes import read_ring_size
        from stitchalong.measure.units import read_length

        try:
            if name == SIZE:
                read_ring_size(text)
            elif name == THREAD:
                read_length(text)
            else:
                return None
        except UsageError:
            return None
        return self.faults(text if name == SIZE else "", text if name == THREAD else "", "").get(name)


def finish(
    store: Store,
    piece_id: int,
    *,
    size: str | None = None,
    thread: str | None = None,
    tension: str = "",
    units: Units = Units.METRIC,
    ending: Ending | None = None,
) -> list[str]:
    """The piece is finished; it came out at this ring size and took so much thread, as far as that is said.

    All is looked at before anything is kept. Gives what it makes of the gauges, a line each, and how that is taken
    back. Raises UsageError, PlanError and StoreError.
    """
    if tension and size is None:
        raise UsageError("a tension is kept with a size", fix="give the size: --size")
    told: list[str] = []
    if size is not None or thread is not None:
        ending = ending or Ending(store, piece_id)
        found = [ending.size(size, tension)] if size is not None else []
        found += [ending.thread(thread)] if thread is not None else []
        told = _kept(store, found, units)
    store.finish(piece_id)
    return told


def _kept(store: Store, found: list[Measured], units: Units) -> list[str]:
    from stitchalong.measure.measuring import gauge_line, own_gauges

    numbers = [store.add_measured(one) for one in found]
    kept = store.measured()
    told = [gauge_line(own, units) for one in found for own in own_gauges(kept, only=one)]
    return [*told, *(f"kept as {number}; `stitchalong gauge remove {number}` forgets it" for number in numbers)]
