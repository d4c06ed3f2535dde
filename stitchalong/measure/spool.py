"""The thread at hand: about how much is left, how far it reaches, where to change it.

A stitch takes thread as `thread` reckons it, with the slack of the stitcher's finished pieces (`Book.slack`) or the
usual one. What she measures on the way corrects that: the share that her own stitches took, once enough thread has gone
through. A thread is changed at the end of a round, after the step-up, while there is still room to weave the old end in
(cainanwiebe.com, adding and ending thread in peyote).
"""

from __future__ import annotations

from array import array
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise

from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout
from stitchalong.course.words import counted
from stitchalong.errors import UsageError
from stitchalong.fabric.stitch import Kind, Note
from stitchalong.measure.figure import Figure, positive
from stitchalong.measure.of_course import stretches
from stitchalong.measure.thread import SLACK, SPREAD, TAIL, WEAVING
from stitchalong.measure.units import Units, hand_length

ROOM = 250.0
"""mm kept free at the end of a thread, to hold the needle by and to weave in: 10 in, the longest tail that is usual
(beadclublounge.com, what is a stop bead)"""
OWN_FROM = 300.0
"""mm of reckoned thread from which a measured length says more than the rule"""
OWN_SPREAD = 0.15
OWN_BOUNDS = (0.5, 2.0)
"""a measured share beyond these is a slip of the tape or of the keys"""
LONGEST = 20_000.0
"""mm; nobody stitches with more"""

_CROWDED = Note.INCREASE | Note.INSIDE | Note.BEFORE | Note.AFTER | Note.RIB | Note.DECREASE


@dataclass(frozen=True, slots=True)
class Entry:
    """What the stitcher said of her thread."""

    position: int
    length: float
    """mm: of a new thread all of it, of the one in use what hangs out of the work"""
    new: bool


class State(Enum):
    """How the thread stands."""

    ENOUGH = "enough to the end of the piece"
    FINE = "there is time"
    SOON = "the next end of a round is the last that it surely reaches"
    NOW = "change here"
    OVER = "less than the room for weaving in is left"


@dataclass(frozen=True, slots=True)
class Reach:
    """The thread at hand, seen from a position."""

    left: Figure
    """mm that hang out of the work"""
    surely: int
    """the position it reaches with room to weave in, if every stitch takes the most"""
    likely: int
    """the same by the value"""
    change_at: int | None
    """where to change: the last end of a round that it surely reaches, else the last calm stitch; None: not needed"""
    state: State


class Spool:
    """Thread along a course. `lengths`: mm along the hole, for every code of the work (`of_course.bead_lengths`);
    `slack`: thread for a millimetre of bead; None: the usual one."""

    def __init__(self, course: Course, lengths: Mapping[str, float], slack: Figure | None = None) -> None:
        self.course = course
        self._slack = slack or Figure.around(SLACK, SPREAD)
        upto = array("d", [0.0])
        self._each = array("d")
        for stretch in stretches(course, lengths):
            self._each.append(stretch.each)
            upto.append(upto[-1] + stretch.each * stretch.stitches)
        self._upto = upto
        self._ends = [item.stop_step for item in course.rounds]

    def length(self, start: int, stop: int) -> float:
        """mm that the steps from `start` to `stop` take, without slack; below 0 where `stop` lies before `start`."""
        return self._before(stop) - self._before(start)

    def _before(self, position: int) -> float:
        course = self.course
        if position >= course.steps:
            return self._upto[-1]
        run = course.run_of(position)
        return self._upto[run] + (position - course.run_step[run]) / course.stitch_of(run).steps * self._each[run]

    def reached(self, start: int, length: float) -> int:
        """The last end of a stitch that this many mm (slack not counted) reach from `start`; `start` where none is."""
        course = self.course
        goal = self._before(start) + length + 1e-9
        run = bisect_right(self._upto, goal) - 1
        if run >= len(self._each):
            return course.steps
        stitches = int((goal - self._upto[run]) / self._each[run])
        return max(start, course.run_step[run] + stitches * course.stitch_of(run).steps)

    # ---- the stitcher's own thread --------------------------------------------------------------

    def own_share(self, entries: Sequence[Entry]) -> float | None:
        """What her stitches took of what the rule says with slack, from lengths measured on threads in use; None where
        too little has gone through, or the measures cannot be."""
        took = reckoned = 0.0
        for before, after in pairwise(entries):
            if after.new or after.position <= before.position:
                continue
            took += self._hanging(before, before is entries[0]) - after.length
            reckoned += self.length(before.position, after.position) * self._slack.value
        if reckoned < OWN_FROM:
            return None
        share = took / reckoned
        return share if OWN_BOUNDS[0] <= share <= OWN_BOUNDS[1] else None

    def _hanging(self, entry: Entry, first: bool) -> float:
        """What hung out of the work when this was said; a new thread's beginning is kept back or woven in."""
        if not entry.new:
            return entry.length
        return max(0.0, entry.length - (TAIL if first else WEAVING))

    def reach(self, entries: Sequence[Entry], position: int, room: float = ROOM) -> Reach | None:
        """The thread at hand at a position; None where nothing was said of it. `entries` in the order they were made.

        Beads taken out since give their thread back.
        """
        if not entries:
            return None
        last = entries[-1]
        share = self.own_share(entries)
        spread = self._slack.share if share is None else min(OWN_SPREAD, self._slack.share)
        factor = self._slack.value * (share or 1.0)
        hanging = self._hanging(last, len(entries) == 1)
        used = self.length(last.position, position) * factor
        ends = sorted(max(0.0, hanging - used * (1 + at * spread)) for at in (-1, 0, 1))
        left = Figure(ends[1], ends[0], ends[2], "reckoned" if share is None else "reckoned, and corrected by your own")
        if used < 0:
            # what came out of the work is in her hand; it is sure to be there
            left = Figure.exact(hanging - used, left.basis)
        surely = self.reached(position, max(0.0, left.low - room) / (factor * (1 + spread)))
        likely = self.reached(position, max(0.0, left.value - room) / factor)
        return self._judged(left, surely, likely, position, room)

    def _judged(self, left: Figure, surely: int, likely: int, position: int, room: float) -> Reach:
        if surely >= self.course.steps:
            return Reach(left, surely, likely, None, State.ENOUGH)
        at = bisect_right(self._ends, surely) - 1
        end = self._ends[at] if at >= 0 else -1
        if left.value < room:
            return Reach(left, surely, likely, position, State.OVER)
        if end < position:
            calm = self._calm(surely, position)
            return Reach(left, surely, likely, calm, State.NOW if calm <= position else State.SOON)
        if end == position:
            return Reach(left, surely, likely, end, State.NOW)
        upcoming = self._ends[bisect_right(self._ends, position)]
        return Reach(left, surely, likely, end, State.SOON if end == upcoming else State.FINE)

    def _calm(self, surely: int, position: int) -> int:
        """The last end of a stitch up to `surely` that lies away from increases, joins and crossings; `position` where
        there is none after it."""
        course = self.course
        at = surely
        while at > position:
            spot = course.spot(at - 1)
            # within a run all ends but the last are alike
            following = course.spot(at).stitch
            if not (_is_busy(spot.stitch.kind, spot.stitch.notes) or _is_busy(following.kind, following.notes)):
                return at
            at = course.run_step[spot.run] if spot.nth == 0 else at - spot.stitch.steps
        return position


def _is_busy(kind: Kind, notes: Note) -> bool:
    return bool(notes & _CROWDED) or kind in (Kind.JOIN, Kind.CROSS, Kind.TURN, Kind.STEP_UP)


def checked_length(millimetres: float) -> float:
    """A length as the stitcher typed it. Raises UsageError for one that cannot be."""
    positive(millimetres, "the thread")
    if millimetres > LONGEST:
        raise UsageError(
            f"{millimetres / 1000:,.0f} m of thread is more than anybody stitches with",
            fix="150 cm is usual; was it meant in another unit?",
        )
    return millimetres


def reach_words(reach: Reach, lookout: Lookout, position: int, units: Units = Units.METRIC) -> str:
    """`about 40 cm left, enough to the end of round 5, top edge; change there, after the step-up`."""
    left = f"about {hand_length(reach.left.value, units)} left"
    if reach.state is State.ENOUGH:
        return f"{left}, enough to the end of the piece"
    if reach.state is State.OVER:
        return f"{left}: change now, there is little room to weave in"
    if reach.state is State.NOW:
        return f"{left}: change here, before going on"
    assert reach.change_at is not None
    return f"{left}, {_how_far(reach, lookout, position)}; {_where_to_change(lookout, reach.change_at, position)}"


def _how_far(reach: Reach, lookout: Lookout, position: int) -> str:
    course = lookout.course
    if reach.likely >= course.steps:
        return "perhaps enough to the end of the piece"
    index = course.round_of(reach.likely)
    if reach.likely == course.rounds[index].first_step:
        return f"enough to the end of {lookout.round_title(index - 1)}"
    if index == course.round_of(position):
        beads = course.beads_before(reach.likely) - course.beads_before(position)
        return f"enough for about {counted(beads, 'bead')}"
    return f"enough into {lookout.round_title(index)}"


def _where_to_change(lookout: Lookout, change_at: int, position: int) -> str:
    course = lookout.course
    index = course.round_of(change_at - 1)
    beads = course.beads_before(change_at) - course.beads_before(position)
    away = f"in {counted(beads, 'bead')}" if beads else "now"
    if change_at != course.rounds[index].stop_step:
        return f"change {away}, in the middle of a side: no end of a round is surely reached"
    where = "this round" if index == course.round_of(position) else lookout.round_title(index)
    last = course.stitch_of(course.rounds[index].stop_run - 1)
    stepped = ", after the step-up" if last.kind is Kind.STEP_UP else ""
    return f"the place to change is the end of {where}{stepped}, {away}"
