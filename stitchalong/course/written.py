"""Lays a round written out, turned to where the needle really stands.

Everything here speaks of one round on one closed edge, read from the up bead where the needle is. The result is a
list of runs that fills every space, or a `PlanError` that names the round, the space and the likely fix.
"""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course.ground import Ground, check_total, increase_spaces, turn_runs
from stitchalong.course.misfits import no_turn, uncovered
from stitchalong.course.reading import Reading, aligned_stitches, has_until
from stitchalong.errors import PlanError
from stitchalong.fabric.peyote import Run
from stitchalong.plan.model import Item, Lay, Repeat, Until, Written


def lay_written(ground: Ground, written: Written) -> list[Run]:
    """A round written out.

    With a repeat *around* it is turned so that its many-bead stitches fall on increase spaces.
    """
    around = _around_of(ground, written)
    if around is None:
        return _from_needle(ground, written)
    size = ground.edge.size
    starts = _starts(ground, written, around)
    fits: dict[tuple[Run, ...], int] = {}
    misfits: list[PlanError | Reading] = []
    aligned = increase_spaces(ground)
    for start in starts:
        try:
            reading = _go_round(ground, written, around, start)
        except PlanError as error:
            misfits.append(error)
            continue
        if reading.used != size:
            misfits.append(reading)
            continue
        spaces = {(start + at) % size for at in aligned_stitches(reading)}
        if aligned is not None and not spaces <= aligned:
            misfits.append(reading)
            continue
        fits.setdefault(tuple(turn_runs(reading.runs, (size - start) % size)), start)
    if len(fits) == 1:
        runs = list(next(iter(fits)))
        check_total(ground, written.total, runs, written.text)
        return runs
    if len(fits) > 1:
        raise ground.refuse(
            f"this round can be turned in {len(fits)} ways that give different work",
            "say where it begins with `from rib:`, or write it out from the needle without `around`",
            text=written.text,
        )
    raise no_turn(ground, written, around, misfits)


def _around_of(ground: Ground, written: Written) -> Repeat | None:
    for index, item in enumerate(written.items):
        if isinstance(item, Repeat) and item.times is None:
            if index != len(written.items) - 1:
                raise ground.refuse(
                    "something follows a repeat that goes all around", span=item.span, text=written.text
                )
            return item
    return None


def _go_round(ground: Ground, written: Written, around: Repeat, start: int) -> Reading:
    reading = Reading(ground, start, written.text)
    reading.read(written.items[:-1])
    while reading.used < reading.size:
        before = reading.used
        reading.read(around.items)
        if reading.used == before:
            raise ground.refuse(
                "this repeat takes no space, so it never comes round", span=around.span, text=written.text
            )
    return reading


def _starts(ground: Ground, written: Written, around: Repeat) -> list[int]:
    """The spaces at which the reading may begin."""
    size = ground.edge.size
    _, halves = ground.anchors()
    if written.begins == "marker":
        halves = ground.edge.places_of(ground.markers)
    if written.begins is not None:
        if not halves:
            raise ground.refuse(f"there is no {written.begins} on this edge to begin from", text=written.text)
        return [_start_at(halves[0], written.items, size)]
    spaces = increase_spaces(ground)
    if len(written.items) > 1 or spaces is None:
        return [0]
    if has_until(around.items):
        return sorted({start % size for at in halves for start in ((at >> 1), (at + 1) >> 1)})
    probe = Reading(ground, 0, written.text)
    probe.read(around.items)
    offsets = aligned_stitches(probe)
    if not offsets:
        return [0]
    return sorted({(space - offsets[0]) % size for space in spaces})


def _start_at(at: int, items: Sequence[Item], size: int) -> int:
    """The space to begin in at a rib: on it where the round opens with a many-bead stitch, else right after it."""
    first = _first_lay(items)
    if at & 1 and first is not None and len(first.codes) != 1:
        return at >> 1
    return ((at + 1) >> 1) % size


def _first_lay(items: Sequence[Item]) -> Lay | None:
    for item in items:
        match item:
            case Lay():
                return item
            case Until():
                return item.lay
            case Repeat():
                return _first_lay(item.items)
    return None


def _from_needle(ground: Ground, written: Written) -> list[Run]:
    start = 0
    if written.begins is not None:
        start = _starts(ground, written, Repeat((), None))[0]
    size = ground.edge.size
    reading = Reading(ground, start, written.text)
    reading.read(written.items)
    if reading.used != size:
        raise uncovered(ground, written, reading)
    runs = turn_runs(reading.runs, (size - start) % size)
    check_total(ground, written.total, runs, written.text)
    return runs
