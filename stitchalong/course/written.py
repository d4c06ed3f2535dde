"""Lays a round written out, turned to where the needle really stands.

Everything here speaks of one round on one closed edge, read from the up bead where the needle is. The result is a
list of runs that fills every space, or a `PlanError` that names the round, the space and the likely fix.
"""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course.ground import Ground, check_total, increase_spaces, turn_runs
from stitchalong.course.misfits import no_turn, uncovered
from stitchalong.course.reading import Reading, Targets, aligned_stitches, depends, has_until
from stitchalong.errors import PlanError
from stitchalong.fabric.peyote import Run
from stitchalong.plan.model import Item, Lay, Repeat, Until, Written

MOST_WAYS = 10
"""looked for, where a round can be turned in several"""
FREE_TRIES = 4
"""of one round, before they are reckoned"""


def lay_written(ground: Ground, written: Written) -> list[Run]:
    """A round written out.

    With a repeat *around* it is turned so that its many-bead stitches fall on increase spaces.
    """
    around = _around_of(ground, written)
    if around is None:
        return _from_needle(ground, written)
    fits, misfits = _tried(ground, written, around)
    if len(fits) == 1:
        check_total(ground, written.total, fits[0], written.text)
        return fits[0]
    if len(fits) > 1:
        ways = f"{len(fits)} ways" if len(fits) < MOST_WAYS else "many ways"
        raise ground.refuse(
            f"this round can be turned in {ways} that give different work",
            "say where it begins with `from rib:`, or write it out from the needle without `around`",
            text=written.text,
        )
    raise no_turn(ground, written, around, misfits)


def _tried(ground: Ground, written: Written, around: Repeat) -> tuple[list[list[Run]], list[PlanError | Reading]]:
    """The different ways in which a round fits, at most `MOST_WAYS`; and of what does not fit one: a reading that
    misses, else the first fault."""
    size = ground.edge.size
    fits: dict[tuple[Run, ...], None] = {}
    misfits: list[PlanError | Reading] = []
    aligned = increase_spaces(ground)
    turns = _Turns(ground, written, around)
    for start in _starts(ground, written, around):
        if len(fits) == MOST_WAYS or turns.same_as_before(start):
            continue
        turns.reckon()
        try:
            reading = turns.read(start)
        except PlanError as error:
            misfits = misfits or [error]
            continue
        if reading.used == size and (
            aligned is None or all((start + at) % size in aligned for at in aligned_stitches(reading))
        ):
            fits.setdefault(tuple(turn_runs(reading.runs, (size - start) % size)))
        else:
            misfits = [reading]
    return [list(runs) for runs in fits], misfits


class _Turns:
    """Readings of a round with a repeat around, one for each start that can give different work."""

    def __init__(self, ground: Ground, written: Written, around: Repeat) -> None:
        self._ground, self._written, self._around = ground, written, around
        self._targets = Targets(ground)
        self._depends = depends(around.items)
        self._apart = ground.edge.size
        """starts so many spaces apart give the same work"""
        self._read: set[int] = set()
        """starts that were read, within the first so many spaces"""
        self._tries = 0
        self._last: Reading | None = None

    def same_as_before(self, start: int) -> bool:
        """Whether this start would only be another group of a reading that was made already."""
        return start % self._apart in self._read

    def reckon(self) -> None:
        """Before another try. Raises PlanError where far too much was tried."""
        if self._tries > FREE_TRIES and self._last is not None:
            tried = 3 * (len(self._last.runs) + len(self._last.fixed))
            self._ground.effort.spend(tried, self._ground.place, "say where the round begins: `from rib:`")

    def read(self, start: int) -> Reading:
        """Raises PlanError where the round cannot be read from here."""
        self._tries += 1
        reading = self._last = Reading(self._ground, start, self._written.text, self._targets)
        reading.read(self._written.items[:-1])
        begun = self._go_round(reading)
        whole = reading.used == reading.size
        if not self._depends:
            self._apart = begun[1] - begun[0] if len(begun) > 1 else self._apart
            self._apart = self._apart if whole else 1
            self._read.add(start % self._apart)
        elif whole:
            self._read.update((start + at) % reading.size for at in begun)
        return reading

    def _go_round(self, reading: Reading) -> list[int]:
        """Reads the repeat until the round is full; where its groups begin, in spaces from the start."""
        begun = []
        while reading.used < reading.size:
            before, runs = reading.used, len(reading.runs)
            begun.append(before)
            reading.read(self._around.items)
            spaces = reading.used - before
            if not spaces:
                raise self._ground.refuse(
                    "this repeat takes no space, so it never comes round",
                    span=self._around.span,
                    text=self._written.text,
                )
            if not self._depends and reading.used < reading.size:
                begun.append(reading.used)
                reading.repeat(runs, before, -(-(reading.size - reading.used) // spaces))
        return begun


def _around_of(ground: Ground, written: Written) -> Repeat | None:
    for index, item in enumerate(written.items):
        if isinstance(item, Repeat) and item.times is None:
            if index != len(written.items) - 1:
                raise ground.refuse(
                    "something follows a repeat that goes all around", span=item.span, text=written.text
                )
            return item
    return None


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
    probe = Reading.of(ground, 0, written.text)
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
    reading = Reading.of(ground, start, written.text)
    reading.read(written.items)
    if reading.used != size:
        raise uncovered(ground, written, reading)
    runs = turn_runs(reading.runs, (size - start) % size)
    check_total(ground, written.total, runs, written.text)
    return runs
