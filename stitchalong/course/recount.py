"""Held against a count in the hand: the likely faults in order, where to look for each, how to mend it.

A press forgotten or made twice comes first: there the work is right and the count is not (common practice, no source).
The order of the others is that of the trade's lists of mistakes: the small space right beside a pair is missed most,
then the space inside it, then a pair is passed as one; then the step-up, then two beads in one space. Common practice;
of circular peyote jeririggs.blogspot.com/2020 and beads-making.com/beaded-square-box say the same.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from enum import StrEnum

from stitchalong.course.checkpoints import Checkpoint, place_counted, take_out
from stitchalong.course.course import Course
from stitchalong.course.spaces import spaces_done, step_of_space
from stitchalong.course.words import counted as so_many
from stitchalong.course.words import ordinal
from stitchalong.errors import UsageError
from stitchalong.fabric.stitch import Kind, Note, Stitch
from stitchalong.values import value

MOST_PLACES = 12
"""places told for one fault"""
SELDOM = 4
"""a count that is off by more is seldom a slip of the needle"""
MOST_COUNTED = 10_000_000


class Slip(StrEnum):
    """What may have happened."""

    PRESSES = "the work is right, the count is not"
    FLANK = "a space right beside an increase was missed"
    INSIDE = "the space inside a pair was missed"
    AS_ONE = "a pair was passed as if it were one bead"
    SHORT_PAIR = "one bead was laid where a pair belongs"
    STEP_UP = "the step-up was missed"
    TOO_MANY = "a bead too many in one space"
    ELSEWHERE = "a space was missed elsewhere"
    UNIT = "a unit too few or too many"
    STRAND = "beads were strung too few or too many"
    COUNTED = "the bead on the rib was counted along"


@value
class Where:
    """A space to look at."""

    space: int
    """0-based, in working order"""
    position: int
    """the step before which it stands"""
    words: str
    """`right after the second increase`"""
    back: int
    """beads to take out to come back to it; below 0: so many presses further on"""


@value
class Fault:
    """One thing that may have happened."""

    slip: Slip
    words: str
    effect: int
    """beads (or units) that it makes more, or below 0 fewer, each time"""
    times: int
    """how often it must have happened to explain the count; 0 where it can only be a part of it"""
    places: tuple[Where, ...]
    """where to look, 12 at most; none where it may be anywhere"""
    more: int
    """further places"""
    look: str
    """what to look for"""
    mend: str


@value
class Recount:
    """A count in the hand, held against the plan."""

    checkpoint: Checkpoint
    counted: int
    difference: int
    """counted less expected"""
    words: str
    faults: tuple[Fault, ...]
    """the likeliest first; none where the count is right"""


PULL_BACK = (
    "To pull back: take the needle off the thread and draw the thread out bead by bead; do not sew backwards, that "
    "splits it."
)
BREAK = (
    "A bead that is one too many and lies deep may be broken: eyes protected, the hand over it, an awl pressed into "
    "its hole (pliers only on braided thread, and even that can be cut)."
)
_SEW_IN = "Pull back to there, or sew the missing bead in: through the work to that space, the bead, and back."
_LOOK_MISSED = "two up beads of the row below lie side by side with bare thread between them"

_FAULTS: dict[Slip, tuple[str, str]] = {
    Slip.PRESSES: (
        "every space is filled as it should be, and each bead lies alone: then a press was forgotten, or made twice",
        "No bead is touched; the count alone is moved.",
    ),
    Slip.FLANK: (f"beside the pair {_LOOK_MISSED}", _SEW_IN),
    Slip.INSIDE: ("the thread lies across the top of the pair and no bead sits in its middle", _SEW_IN),
    Slip.AS_ONE: (
        "both beads of the pair below tilt together, one thread through both",
        "Pull back to there and come out between the two beads of the pair.",
    ),
    Slip.SHORT_PAIR: ("a single bead stands where the others have a pair", _SEW_IN),
    Slip.TOO_MANY: (
        "two beads crowd one space and push the edge out",
        "Pull back to there. " + BREAK,
    ),
    Slip.ELSEWHERE: (_LOOK_MISSED, _SEW_IN),
    Slip.COUNTED: ("the number agrees when counted from beside one rib to beside the next", "Count once more."),
    Slip.UNIT: ("there is a spacer too few or too many between two markers", "Pull back to there."),
    Slip.STRAND: (
        "there is a bead too few or too many from marker to marker, the thread drawn straight",
        "Let beads off the end, or string the missing ones, before the ring is closed.",
    ),
}


def recount(course: Course, checkpoint: Checkpoint, counted: int, position: int) -> Recount:
    """Hold a count against the plan. `position`: where the work stands, for what there is to take out.

    Raises UsageError for a number that cannot be.
    """
    if not 0 <= counted <= MOST_COUNTED:
        raise UsageError(f"{counted} {checkpoint.unit}s cannot be counted", fix="type the number counted in the hand")
    difference = counted - checkpoint.expected
    where = f"{checkpoint.label}, {checkpoint.title}" if checkpoint.title not in checkpoint.label else checkpoint.title
    planned = so_many(checkpoint.expected, checkpoint.unit)
    if not difference:
        return Recount(checkpoint, counted, 0, f"{where}: {planned}, as it should be", ())
    amount = so_many(abs(difference), checkpoint.unit)
    words = f"{where}: {amount} {'more' if difference > 0 else 'fewer'} than the plan's {planned}"
    if abs(difference) > SELDOM:
        words += "; so many are seldom a slip of the needle: see that it is this round, and count once more"
    found = list(_faults(course, checkpoint, difference, position))
    # what explains the whole count first; the order of likelihood within
    found.sort(key=lambda fault: fault.times == 0)
    return Recount(checkpoint, counted, difference, words, tuple(found))


def _faults(course: Course, checkpoint: Checkpoint, difference: int, position: int) -> Iterator[Fault]:
    place = place_counted(course, checkpoint, checkpoint.expected + difference, position)
    if place is not None:
        yield _presses(course, checkpoint, difference, place, position)
    technique = course.rounds[checkpoint.index].technique
    if technique == "band":
        yield _fault(Slip.UNIT, difference // abs(difference), difference, [], 0)
        return
    if course.rounds[checkpoint.index].below < 0:
        yield _fault(Slip.STRAND, difference // abs(difference), difference, [], 0)
        return
    spaces = _Spaces(course, checkpoint, position)
    if difference < 0:
        yield from spaces.missing(difference)
    else:
        yield from spaces.surplus(difference)


def _presses(course: Course, checkpoint: Checkpoint, difference: int, place: int, position: int) -> Fault:
    """The work is right, and only the count is moved."""
    back = course.beads_before(position) - course.beads_before(place)
    where = Where(spaces_done(course, checkpoint.index, place), place, "", back)
    words = f"{Slip.PRESSES}: set it to {checkpoint.expected + difference}"
    return _fault(Slip.PRESSES, difference, difference, [where], 1, words=words)


def _fault(
    slip: Slip, effect: int, difference: int, places: list[Where], number: int, *, words: str = "", look: str = ""
) -> Fault:
    times, rest = divmod(difference, effect)
    explains = rest == 0 and (not number or times <= number)
    seen, mend = _FAULTS.get(slip, ("", ""))
    return Fault(
        slip,
        words or str(slip),
        effect,
        times if explains else 0,
        tuple(places),
        max(0, number - len(places)) if places else 0,
        look or seen,
        mend or f"Pull back to there. {PULL_BACK}",
    )


class _Spaces:
    """The spaces of a checkpoint, by what is special about them."""

    def __init__(self, course: Course, checkpoint: Checkpoint, position: int) -> None:
        self.course = course
        self.checkpoint = checkpoint
        self.position = position
        self.special: list[tuple[int, Stitch, int]] = []
        """(space, stitch, ribs before it in the round)"""
        self.ribs = 0
        """increases, and pairs of the round below, in the whole round"""
        self.word = "pair"
        self.plain: Counter[int] = Counter()
        """spaces that have nothing special, by the beads that they take"""
        item = course.rounds[checkpoint.index]
        here = 0
        for run in range(item.first_run, item.stop_run):
            stitch = course.stitch_of(run)
            if not stitch.visits_space:
                continue
            count = course.count_of(run)
            if stitch.has(Note.INCREASE):
                self.word = "increase"
            is_rib = stitch.has(Note.INCREASE | Note.INSIDE)
            special = is_rib or stitch.has(Note.BEFORE | Note.AFTER)
            first, last = max(here, checkpoint.start), min(here + count, checkpoint.stop)
            if special:
                self.special += [(at, stitch, self.ribs + (at - here) * is_rib) for at in range(first, last)]
            elif stitch.beads and first < last:
                self.plain[len(stitch.beads)] += last - first
            self.ribs += count * is_rib
            here += count

    def _where(self, space: int, words: str) -> Where:
        course, index = self.course, self.checkpoint.index
        back = take_out(course, self.position, index, space)
        return Where(space, step_of_space(course, index, space), words, back)

    def _group(self, slip: Slip, effect: int, difference: int, chosen: list[tuple[int, str]]) -> Iterator[Fault]:
        if chosen:
            places = [self._where(*one) for one in chosen[:MOST_PLACES]]
            yield _fault(slip, effect, difference, places, len(chosen))

    def missing(self, difference: int) -> Iterator[Fault]:
        """What leaves beads out, in order of likelihood."""
        flanks = [
            (space, self._beside(stitch, ribs))
            for space, stitch, ribs in self.special
            if stitch.has(Note.BEFORE | Note.AFTER) and not stitch.has(Note.INCREASE | Note.INSIDE) and stitch.beads
        ]
        yield from self._group(Slip.FLANK, -1, difference, flanks)
        for slip in (Slip.INSIDE, Slip.AS_ONE):
            for size in (2, 1, 3, 4):
                inside = [
                    (space, f"{'inside' if slip is Slip.INSIDE else 'at'} the {ordinal(ribs + 1)} pair")
                    for space, stitch, ribs in self.special
                    if stitch.has(Note.INSIDE) and len(stitch.beads) == size
                ]
                yield from self._group(slip, -size, difference, inside)
        pairs = [
            (space, f"at the {ordinal(ribs + 1)} increase")
            for space, stitch, ribs in self.special
            if stitch.has(Note.INCREASE) and stitch.kind is Kind.PAIR
        ]
        yield from self._group(Slip.SHORT_PAIR, -1, difference, pairs)
        if self.checkpoint.last and self._steps_up(self.checkpoint.index):
            last = self.checkpoint.stop - 1
            yield _fault(
                Slip.STEP_UP,
                -1,
                difference,
                [self._where(last, "the last space before the step-up")],
                1,
                words="the last space was left out: stepped up one space too early",
                look="the needle came out of a bead of the row below and went up before the last space was filled",
            )
        for size, number in self.plain.most_common():
            yield _fault(Slip.ELSEWHERE, -size, difference, [], number)

    def surplus(self, difference: int) -> Iterator[Fault]:
        """What adds beads, in order of likelihood."""
        item = self.course.rounds[self.checkpoint.index]
        if self.checkpoint.first and self.checkpoint.side is not None and self._steps_up(item.below):
            yield _fault(
                Slip.STEP_UP,
                1,
                difference,
                [self._where(0, "the space over the bead where the round before began")],
                1,
                words="the step-up of the round before was missed: the first bead lies one space too early",
                look="the first bead of this round lies before the first bead of the round below, not behind it",
            )
        if self.checkpoint.side is not None:
            yield _fault(Slip.COUNTED, 1, difference, [], 0)
        yield _fault(Slip.TOO_MANY, 1, difference, [], 0)

    def _steps_up(self, index: int) -> bool:
        item = self.course.rounds[index]
        return self.course.stitch_of(item.stop_run - 1).kind is Kind.STEP_UP

    def _beside(self, stitch: Stitch, ribs: int) -> str:
        """Names a flank by the increases (or pairs) of the round, counted in working order."""
        before, after, word = ordinal(ribs + 1), ordinal(ribs), self.word
        if stitch.has(Note.BEFORE) and stitch.has(Note.AFTER):
            if not ribs:
                return f"right after the step-up, before the first {word}"
            if ribs == self.ribs:
                return f"between the {after} {word} and the step-up"
            return f"between the {after} and the {before} {word}"
        if stitch.has(Note.AFTER):
            return f"right after the {after} {word}" if ribs else f"right after the step-up, behind the last {word}"
        if ribs == self.ribs:
            return f"right before the step-up, before the first {word}"
        return f"right before the {before} {word}"
