"""A piece that is finished: how it came out makes the stitcher's own gauge better."""

from __future__ import annotations

from stitchalong.errors import UsageError
from stitchalong.measure.units import Units
from stitchalong.session import Session
from stitchalong.store.pieces import Store


def finish(
    store: Store,
    piece_id: int,
    *,
    size: str | None = None,
    thread: str | None = None,
    tension: str = "",
    units: Units = Units.METRIC,
) -> list[str]:
    """The piece is finished; it came out at this ring size and took so much thread, as far as that is said.

    All is looked at before anything is kept. Gives what it makes of the gauges, a line each. Raises UsageError,
    PlanError and StoreError.
    """
    told: list[str] = []
    if size is not None or thread is not None:
        told = _learn(store, piece_id, size, thread, tension, units)
    elif tension:
        raise UsageError("a tension is kept with a size", fix="give the size: --size")
    store.finish(piece_id)
    return told


def _learn(store: Store, piece_id: int, size: str | None, thread: str | None, tension: str, units: Units) -> list[str]:
    from stitchalong.measure.measuring import gauge_line, own_gauges, tension_word
    from stitchalong.measure.need import measured_size, measured_use
    from stitchalong.measure.sizes import read_ring_size
    from stitchalong.measure.units import read_length

    session = Session.resume(store, piece_id)
    course, plan, uid = session.course, session.plan, session.piece.uid
    found = []
    if size is not None:
        found.append(measured_size(course, plan, read_ring_size(size), tension_word(tension), uid))
    if thread is not None:
        found.append(measured_use(course, plan, read_length(thread), uid))
    for one in found:
        store.add_measured(one)
    kept = store.measured()
    return [gauge_line(own, units) for one in found for own in own_gauges(kept, only=one)]
