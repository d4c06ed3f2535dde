"""The sides of a round: the stretches of stitches between rib (or marker) columns."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable

from stitchalong.fabric.stitch import Note, Stitch
from stitchalong.values import value


@value
class Stretch:
    """Stitches from `start` (0-based in the round), half-open, all on one side."""

    start: int
    stop: int
    side: int


@value
class Sides:
    """A round's sides. Side 0 is that of the round's first stitch (the side after it where that stands on a rib).

    The step-up may cut side 0 in two: then it is the first stretch and the last.
    """

    lengths: tuple[int, ...]
    """stitches of each side, both parts of a cut side together"""
    stretches: tuple[Stretch, ...]
    """in working order; empty ones are left out"""
    _starts: tuple[int, ...]

    def stretch_of(self, stitch: int) -> Stretch | None:
        """The stretch in which this stitch (0-based) lies; None on a rib."""
        index = bisect_right(self._starts, stitch) - 1
        if index < 0:
            return None
        stretch = self.stretches[index]
        return stretch if stitch < stretch.stop else None

    def other_part(self, stretch: Stretch) -> Stretch | None:
        """Of a side cut by the step-up, the other part."""
        if len(self.stretches) < 2 or stretch not in (self.stretches[0], self.stretches[-1]):
            return None
        other = self.stretches[-1] if stretch is self.stretches[0] else self.stretches[0]
        return other if other.side == stretch.side else None


def sides_of(runs: Iterable[tuple[Stitch, int]]) -> Sides:
    """The sides of a round, from those of its runs that visit spaces."""
    raw: list[tuple[int, int]] = []
    here = start = 0
    first_on_rib = False
    for stitch, count in runs:
        if not stitch.visits_space:
            continue
        rib, ends = stitch.has(Note.RIB), stitch.has(Note.ENDS_SIDE)
        if not (rib or ends):
            here += count
            continue
        for _ in range(count):
            if rib:
                first_on_rib = first_on_rib or here == 0
                raw.append((start, here))
                start = here + 1
            here += 1
            if ends:
                raw.append((start, here))
                start = here
    bounds = len(raw)
    raw.append((start, here))
    if not bounds:
        return _made((here,), [Stretch(0, here, 0)])
    shift = 1 if first_on_rib else 0
    lengths = [0] * bounds
    stretches: list[Stretch] = []
    for nth, (begin, stop) in enumerate(raw):
        side = (nth - shift) % bounds
        lengths[side] += stop - begin
        if stop > begin:
            stretches.append(Stretch(begin, stop, side))
    return _made(tuple(lengths), stretches)


def _made(lengths: tuple[int, ...], stretches: list[Stretch]) -> Sides:
    return Sides(lengths, tuple(stretches), tuple(stretch.start for stretch in stretches))
