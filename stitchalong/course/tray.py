"""The tray: beads to count out before they are used, and what it means when some are left over or missing.

Counting out the beads of a round exactly is a way to check it without counting the work: what is left over means a
place that was missed, running short one that was filled twice, and the fault lies in this round
(heartstringsfiberarts.com/bead-counting.shtm, of knitting with beads; in bead weaving beading.live/good-to-know).
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping

from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout
from stitchalong.course.spaces import beads_between, steps_of_stretch, stretch_at
from stitchalong.course.words import counted
from stitchalong.errors import UsageError
from stitchalong.values import value

Pile = tuple[tuple[str, int], ...]
"""beads by code, in the order of the codes; codes of which there are none are left out"""

ROUNDS_AHEAD = 3

_PART = re.compile(r"([-+]?)\s*(\d{0,7})\s*([A-Za-z])")


@value
class Heap:
    """Beads counted out together."""

    label: str
    """`this side`, `round 5, top edge`"""
    needed: Pile
    used: Pile = ()
    """how many of them are laid already"""

    @property
    def left(self) -> Pile:
        """What should still lie on the tray."""
        return _pile(Counter(dict(self.needed)) - Counter(dict(self.used)))


@value
class Tray:
    side: Heap | None
    """None on a rib, at a move, and where the round is all one side"""
    round: Heap
    ahead: tuple[Heap, ...]
    """the rounds that follow, as many as were asked for and are there"""

    @property
    def together(self) -> Pile:
        """What is left of this round, and the rounds ahead."""
        found = Counter(dict(self.round.left))
        for heap in self.ahead:
            found.update(dict(heap.needed))
        return _pile(found)


def tray(lookout: Lookout, position: int, rounds: int = ROUNDS_AHEAD) -> Tray:
    """What to count out at this position, with so many rounds ahead."""
    course = lookout.course
    index = course.round_of(position)
    last = min(len(course.rounds), index + 1 + max(0, rounds))
    return Tray(
        _side(course, index, position),
        _heap(course, lookout.round_title(index), _steps_of(course, index), position),
        tuple(_heap(course, lookout.round_title(at), _steps_of(course, at), position) for at in range(index + 1, last)),
    )


def _steps_of(course: Course, index: int) -> tuple[int, int]:
    return course.rounds[index].first_step, course.rounds[index].stop_step


def _side(course: Course, index: int, position: int) -> Heap | None:
    sides, stretch = stretch_at(course, index, position)
    if stretch is None or len(sides.lengths) == len(sides.stretches) == 1:
        return None
    return _heap(course, "this side", steps_of_stretch(course, index, stretch), position)


def _heap(course: Course, label: str, steps: tuple[int, int], position: int) -> Heap:
    first, stop = steps
    needed, used = beads_between(course, first, stop), beads_between(course, first, min(stop, position))
    return Heap(label, _pile(needed), _pile(used))


def _pile(beads: Mapping[str, int]) -> Pile:
    return tuple(sorted((code, count) for code, count in beads.items() if count > 0))


# ---- left over or short -------------------------------------------------------------------------


@value
class Finding:
    """One thing that the tray tells at the end of a round that was counted out exactly."""

    words: str
    difference: int
    """beads more (or, below 0, fewer) in the work than the plan has, as far as this finding goes"""


def left_over(needed: Pile, on_tray: Mapping[str, int]) -> tuple[Finding, ...]:
    """What beads left over (above 0) or short (below 0) mean, by code, where `needed` was counted out.

    A code that is left over and another that is short by as many is a bead in the place of another. Nothing left and
    nothing short is one finding too. Raises UsageError for beads that were not counted out, or more than were.
    """
    have = dict(needed)
    for code, count in on_tray.items():
        if code not in have and count > 0:
            raise UsageError(f"no {code} was counted out for this round", fix=f"it takes {_listed(needed)}")
        if count > have.get(code, 0):
            raise UsageError(f"{count} {code} cannot be left: {have[code]} were counted out")
    over = {code: count for code, count in sorted(on_tray.items()) if count > 0}
    short = {code: -count for code, count in sorted(on_tray.items()) if count < 0}
    findings: list[Finding] = []
    for left in over:
        for gone in short:
            swapped = min(over[left], short[gone])
            if swapped:
                over[left] -= swapped
                short[gone] -= swapped
                times = "once" if swapped == 1 else f"{swapped} times"
                findings.append(Finding(f"{gone} was laid {times} where {left} belongs: look for the colour", 0))
    for code, count in over.items():
        if count:
            findings.append(
                Finding(
                    f"{count} {code} left over: {counted(count, 'space')} of this round missed, or so many pairs laid "
                    "as one bead",
                    -count,
                )
            )
    for code, count in short.items():
        if count:
            findings.append(
                Finding(
                    f"{count} {code} short: two beads in one space somewhere in this round, or "
                    f"{'a bead' if count == 1 else 'beads'} lost from the tray",
                    count,
                )
            )
    return tuple(findings) or (Finding("nothing left and nothing short: this round is right", 0),)


def left_typed(text: str) -> dict[str, int]:
    """`1A`, `2A -1B`: beads left over by code, short ones below 0. Raises UsageError for anything else."""
    found: dict[str, int] = {}
    rest = text
    for match in _PART.finditer(text):
        sign, number, code = match.groups()
        found[code.upper()] = (-1 if sign == "-" else 1) * int(number or 1)
        rest = rest.replace(match.group(), "", 1)
    if rest.strip(" ,;"):
        raise UsageError(f"“{text[:20]}” names no beads", fix="as in 1A, or -1A for one that is missing")
    return found


def _listed(beads: Pile) -> str:
    return ", ".join(f"{count} {code}" for code, count in beads)
