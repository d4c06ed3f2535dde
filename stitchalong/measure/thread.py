"""How much thread, on how many working lengths, and where the changes fall.

A stitch takes the length of every bead that the needle passes through in it, once a pass, and 15 % of slack:
in plain peyote each new bead costs its own length and that of the next up bead, 2.6 mm in 11/0 cylinders and
about 3 mm with slack. The rule is geometry; it falls within 30 % of the one published project length that
could be compared, 60 in for a ring of 9 columns and some 74 rows (instructables.com/Peyote-Beaded-Ring, whose
bead size is not told).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from stitchalong.errors import UsageError
from stitchalong.measure.figure import Figure, positive

SLACK = 1.15
SPREAD = 0.30
WORKING = 1500.0
"""mm: a wingspan, the usual working length (myworldofbeads.com/beading-terms-defined; others up to 1.8 m)"""
TAIL = 150.0
"""mm left at the beginning and at the end: 6 in, the least that is published; others say 8 to 10 in"""
WEAVING = 125.0
"""mm to weave in at each end of a change of thread: 25 cm a change. Geometry and habit, no source."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Stitches in the order worked that take the same length of thread."""

    part: str
    round: str
    """words under which it is summed"""
    stitches: int
    each: float
    """mm of thread a stitch, without slack"""


@dataclass(frozen=True, slots=True)
class Use:
    """Thread in one part or round, without tails and changes."""

    label: str
    length: Figure
    """mm, slack included"""


@dataclass(frozen=True, slots=True)
class ThreadPlan:
    total: Figure
    """mm, with tails and changes"""
    ends: Figure
    """mm of it: tails, and what is woven in at changes"""
    parts: tuple[Use, ...]
    rounds: tuple[Use, ...]
    """in the order in which they first come"""
    lengths: int
    """working lengths needed, by the value of `total`"""
    lengths_low: int
    lengths_high: int
    changes: tuple[int, ...]
    """stitches (and moves) done when a new thread is begun, counted from the first of the work; by the value. A number
    stands more than once where one pass takes several lengths."""
    working: float
    """mm of one working length"""


def per_stitch(passes: Mapping[str, float], lengths: Mapping[str, float]) -> float:
    """Millimetres of thread in one stitch, without slack, from passes through beads of each code and their lengths."""
    return sum(number * lengths[code] for code, number in passes.items())


def plan_thread(
    stretches: Iterable[Stretch],
    *,
    working: float = WORKING,
    tail: float = TAIL,
    weaving: float = WEAVING,
    slack: float | Figure = SLACK,
) -> ThreadPlan:
    """Thread for the work, all lengths in mm. The number of stretches, not of stitches, is what takes time.

    `slack` is thread for a millimetre of bead; a bare number is taken to be off by `SPREAD`, a figure by what it says.
    Every length of thread but the first begins with `weaving`, the first with `tail`; each keeps the larger of the
    two at its end. A pass too long for one length is interrupted. Raises UsageError where the ends take up the whole
    length.
    """
    work = [one for one in stretches if one.stitches > 0]
    positive(working, "the working length")
    known = slack if isinstance(slack, Figure) else Figure.around(slack, SPREAD, "loosely checked")
    if known.value < 1 or tail < 0 or weaving < 0:
        raise UsageError("tails and slack cannot be less than nothing", fix="slack is 1.15, a tail 150 mm, as a rule")
    parts: dict[str, float] = {}
    rounds: dict[str, float] = {}
    for one in work:
        bare = one.stitches * one.each
        parts[one.part] = parts.get(one.part, 0.0) + bare
        rounds[one.round] = rounds.get(one.round, 0.0) + bare
    basis = f"the length of the beads passed through, with slack; {known.basis}"
    stitched = known.times(sum(parts.values())).since(basis)
    changes, low, high = (_changes(work, working, tail, weaving, by) for by in (known.value, known.low, known.high))
    at_ends, least, most = (2 * (tail + weaving * len(some)) for some in (changes, low, high))
    ends = Figure(at_ends, least, most)
    none = not work
    return ThreadPlan(
        Figure.exact(0.0, basis) if none else stitched.plus(ends).since(basis),
        Figure.exact(0.0) if none else ends,
        _uses(parts, known, basis),
        _uses(rounds, known, basis),
        0 if none else len(changes) + 1,
        0 if none else len(low) + 1,
        0 if none else len(high) + 1,
        tuple(changes),
        working,
    )


def _uses(bare: Mapping[str, float], slack: Figure, basis: str) -> tuple[Use, ...]:
    return tuple(Use(label, slack.times(length).since(basis)) for label, length in bare.items())


def _changes(work: Sequence[Stretch], working: float, tail: float, weaving: float, slack: float) -> list[int]:
    changes: list[int] = []
    end = max(tail, weaving)
    fresh = working - weaving - end
    left = working - tail - end
    if min(fresh, left) <= 0:
        raise UsageError(
            f"a working length of {working:.0f} mm is too short: its ends take {working - min(fresh, left):.0f} mm",
            fix="take a longer thread",
        )
    done = 0
    for one in work:
        each = one.each * slack
        todo = one.stitches
        while todo:
            # a hair of tolerance: a stitch that fits exactly fits
            fits = todo if todo * each <= left + 1e-9 else int((left + 1e-9) / each)
            left -= fits * each
            todo -= fits
            done += fits
            if todo and each <= fresh:
                changes.append(done)
                left = fresh
            elif todo:
                lengths = math.ceil((each - left) / fresh)
                changes += [done] * lengths
                left += lengths * fresh - each
                todo -= 1
                done += 1
    return changes
