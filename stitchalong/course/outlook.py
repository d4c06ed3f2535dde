"""The outlook from a position: what is left, what to do now, what comes next. A value, made anew at each press."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Mapping

from stitchalong.course import phrases
from stitchalong.course.course import Course, Decision, Remark, Round, Spot
from stitchalong.course.say import Teller, mirrored
from stitchalong.course.sides import Sides, Stretch, sides_of
from stitchalong.course.words import counted
from stitchalong.fabric.stitch import Kind, Note, Stitch
from stitchalong.values import value

_NAMED = {"band": "the band", "MRAW strip": "the strip", "cube base": "the base", "zip": "the seam"}
"""rounds that go without a number, by technique"""
_IN_ONE = (Kind.JOIN, Kind.TURN)
"""several of these one behind the other are announced once"""


@value
class Special:
    """Something to be warned of."""

    position: int
    """the step before which it stands"""
    away: int
    """beads to pick up before it; 0 is now (or next, where only moves lie between)"""
    words: str
    kind: Kind
    notes: Note
    then: str = ""
    """what must not be missed right behind it"""


@value
class Outlook:
    """What the stitcher wants to know at a glance."""

    position: int
    steps: int
    beads_done: int
    beads: int
    done: bool
    now: str
    stitch: Stitch | None
    step: int
    """beads of the present stitch that are on the needle"""
    title: str
    """`round 5, top edge`, `band`"""
    edge: str
    round: int
    big: int | None
    """the one number: beads left on this side (units in a band, beads on a strand); None for a move"""
    big_label: str
    side: int | None
    """0-based; None on a rib"""
    sides: int
    cut: str
    """of a side cut by the step-up, the other part; empty otherwise"""
    left_round: int
    left_piece: int
    codes_left: tuple[tuple[str, int], ...]
    """beads still to lay in this round, by code"""
    special: Special | None
    """what the present stitch itself is"""
    next: Special | None
    after: Special | None
    decision: Decision | None
    remarks: tuple[Remark, ...]
    comes_out: str
    alike: int = 1
    """stitches of this side that pick up the same beads one after the other, from this one on"""

    @property
    def fraction(self) -> float:
        return self.beads_done / self.beads if self.beads else 1.0


@value
class _RoundFacts:
    sides: Sides
    space_at: dict[int, int]
    """run -> spaces of the round before it"""
    bead_stop: int


class Lookout:
    """Makes outlooks of a course. Keeps what it found out about the present round.

    `left_handed` mirrors the program's own words of direction; a plan's remarks and all counts stay.
    """

    def __init__(self, course: Course, names: Mapping[str, str], *, left_handed: bool = False) -> None:
        self.course = course
        self.teller = Teller(course, names, left_handed=left_handed)
        self._facts: tuple[int, _RoundFacts] | None = None

    def _of_round(self, index: int) -> _RoundFacts:
        if self._facts is not None and self._facts[0] == index:
            return self._facts[1]
        course = self.course
        item = course.rounds[index]
        space_at: dict[int, int] = {}
        here = 0
        for run in range(item.first_run, item.stop_run):
            space_at[run] = here
            if course.stitch_of(run).visits_space:
                here += course.count_of(run)
        facts = _RoundFacts(sides_of(course.runs_of(index)), space_at, item.first_bead - 1 + item.beads)
        self._facts = (index, facts)
        return facts

    def at(self, position: int) -> Outlook:
        """The outlook from here. 0 <= `position` <= steps."""
        course = self.course
        beads_done = course.beads_before(position)
        if position >= course.steps:
            return self._end(beads_done)
        spot = course.spot(position)
        item = course.rounds[spot.round]
        facts = self._of_round(spot.round)
        stitch = spot.stitch
        big, label, stretch, cut = self._big(spot, facts, beads_done)
        upcoming = self._specials_after(spot, 2)
        decision = course.decision_at(position)
        return Outlook(
            position=position,
            steps=course.steps,
            beads_done=beads_done,
            beads=course.beads,
            done=False,
            now=self.teller.now(spot),
            stitch=stitch,
            step=spot.step,
            title=self.round_title(spot.round),
            edge=item.edge,
            round=item.number,
            big=big,
            big_label=label,
            side=stretch.side if stretch else None,
            sides=len(facts.sides.lengths),
            cut=cut,
            left_round=facts.bead_stop - beads_done,
            left_piece=course.beads - beads_done,
            codes_left=self._codes_left(spot, item.stop_run),
            special=self._special(spot, beads_done) if self._is_special(spot.run) else None,
            next=upcoming[0] if upcoming else None,
            after=upcoming[1] if len(upcoming) > 1 else None,
            decision=decision,
            remarks=self.remarks_at(position),
            comes_out=self.teller.comes_out(position),
            alike=self._alike(spot),
        )

    def _end(self, beads_done: int) -> Outlook:
        course = self.course
        decision = course.decision_at(course.steps)
        item = course.rounds[-1]
        return Outlook(
            position=course.steps,
            steps=course.steps,
            beads_done=beads_done,
            beads=course.beads,
            done=decision is None,
            now="The last bead is laid. Weave in the ends." if decision is None else "This round is done.",
            stitch=None,
            step=0,
            title=self.round_title(len(course.rounds) - 1),
            edge=item.edge,
            round=item.number,
            big=0,
            big_label="beads left",
            side=None,
            sides=0,
            cut="",
            left_round=0,
            left_piece=0,
            codes_left=(),
            special=None,
            next=None,
            after=None,
            decision=decision,
            remarks=(),
            comes_out=self.teller.comes_out(course.steps),
        )

    def round_title(self, index: int) -> str:
        """`round 5, top edge`, `the band`, `rounds 1 and 2`; with the part where a piece has several."""
        part = self.course.rounds[index].part
        title = self._title_in_part(index)
        return title if len(self.course.part_names) == 1 else f"{part}: {title}"

    def _title_in_part(self, index: int) -> str:
        course = self.course
        item = course.rounds[index]
        if item.technique in _NAMED:
            return _NAMED[item.technique]
        if len(item.numbers) > 1:
            return f"{word_of(item)}s " + " and ".join(map(str, item.numbers))
        if item.technique == "fill":
            return "fill round, bottom edge"
        name = f"{word_of(item)} {item.number}"
        if len(course.edges_of(item.part)) > 1 or course.rounds[0].technique == "band":
            name += f", {item.edge} edge"
        return name

    # ---- the big number -------------------------------------------------------------------------

    def _big(self, spot: Spot, facts: _RoundFacts, beads_done: int) -> tuple[int | None, str, Stretch | None, str]:
        stitch = spot.stitch
        technique = self.course.rounds[spot.round].technique
        if technique == "band" and stitch.kind in (Kind.UNIT, Kind.JOIN):
            left = self._units_left(spot)
            return left, "units left" if left > 1 else "unit left, the join", None, ""
        if stitch.kind is Kind.STRING:
            left = facts.bead_stop - beads_done
            return left, f"{'bead' if left == 1 else 'beads'} left to string", None, ""
        if not stitch.visits_space:
            return None, self.teller.special(spot), None, ""
        space = facts.space_at[spot.run] + spot.nth
        stretch = facts.sides.stretch_of(space)
        if stretch is None:
            left = len(stitch.beads) - spot.step
            label = "on the rib" if stitch.beads else "no bead on the rib"
            return left, label, None, ""
        left = self._beads_until(spot, facts, stretch.stop)
        whole = len(facts.sides.lengths) == 1 and len(facts.sides.stretches) == 1
        label = f"left in this {word_of(self.course.rounds[spot.round])}" if whole else "left on this side"
        return left, label, stretch, self._cut(facts, stretch, left, self._steps_up(spot.round))

    def _steps_up(self, index: int) -> bool:
        """Whether the round ends with a step-up; an edge's last round does not."""
        runs = range(self.course.rounds[index].first_run, self.course.rounds[index].stop_run)
        return any(self.course.stitch_of(run).kind is Kind.STEP_UP for run in reversed(runs[-3:]))

    def _cut(self, facts: _RoundFacts, stretch: Stretch, left: int, steps_up: bool) -> str:
        """Of a side cut by the start of the round, the other part in words."""
        other = facts.sides.other_part(stretch)
        if other is None:
            return ""
        if other.start > stretch.start:
            return f"this side has {other.stop - other.start} more at the end of the round"
        end = "the step-up" if steps_up else "the end of the round"
        return f"{left} to {end}; this side had {other.stop - other.start} at the start"

    def _units_left(self, spot: Spot) -> int:
        units = self.course.rounds[spot.round].spaces
        if spot.stitch.detail == "first":
            return units
        if spot.stitch.detail == "unit":
            return units - 1 - self._of_round(spot.round).space_at[spot.run] - spot.nth
        return 1

    def _beads_until(self, spot: Spot, facts: _RoundFacts, stop: int) -> int:
        """Beads from here to the space `stop` (half-open) of this round."""
        course = self.course
        left = 0
        for run in range(spot.run, course.rounds[spot.round].stop_run):
            stitch = course.stitch_of(run)
            start = facts.space_at[run] + (spot.nth if run == spot.run else 0)
            if start >= stop:
                break
            if stitch.visits_space:
                last = min(stop, facts.space_at[run] + course.count_of(run))
                left += (last - start) * len(stitch.beads)
        return left - (spot.step if spot.stitch.beads else 0)

    def _codes_left(self, spot: Spot, stop_run: int) -> tuple[tuple[str, int], ...]:
        course = self.course
        left: Counter[str] = Counter()
        for run in range(spot.run, stop_run):
            stitch = course.stitch_of(run)
            count = course.count_of(run) - (spot.nth if run == spot.run else 0)
            for code in stitch.beads:
                left[code] += count
        for code in spot.stitch.beads[: spot.step]:
            left[code] -= 1
        return tuple(sorted((code, count) for code, count in left.items() if count))

    # ---- what is coming -------------------------------------------------------------------------

    def _is_special(self, run: int) -> bool:
        specials = self.course.special_runs
        index = bisect_right(specials, run) - 1
        return index >= 0 and specials[index] == run

    def _specials_after(self, spot: Spot, wanted: int) -> list[Special]:
        """The next specials that begin behind the present stitch."""
        course = self.course
        beads_done = course.beads_before(spot.position)
        found: list[Special] = []
        run, nth = spot.run, spot.nth + 1
        specials = course.special_runs
        while len(found) < wanted:
            if not (self._is_special(run) and nth < course.count_of(run)):
                index = bisect_right(specials, run)
                if index >= len(specials):
                    break
                run, nth = specials[index], 0
            stitch = course.stitch_of(run)
            before = stitch if nth or not run else course.stitch_of(run - 1)
            if not (stitch.kind in _IN_ONE and before.kind is stitch.kind):
                position = course.run_step[run] + nth * stitch.steps
                found.append(self._special(course.spot(position), beads_done))
            nth += 1
        return found

    def _special(self, spot: Spot, beads_done: int) -> Special:
        course = self.course
        position = spot.position - spot.step
        away = max(0, course.beads_before(position) - beads_done)
        return Special(position, away, self.teller.special(spot), spot.stitch.kind, spot.stitch.notes, self._then(spot))

    def _then(self, spot: Spot) -> str:
        """The space right behind an increase is the one that is missed; say so where a bead goes there."""
        if not spot.stitch.has(Note.INCREASE):
            return ""
        following = spot.position - spot.step + spot.stitch.steps
        if following >= self.course.steps:
            return ""
        stitch = self.course.spot(following).stitch
        if stitch.kind is Kind.SINGLE and stitch.has(Note.AFTER) and not stitch.has(Note.RIB):
            return "then one in the small space beside it"
        return ""

    def _alike(self, spot: Spot) -> int:
        """Stitches that pick up the same beads from here on, to what one is warned of or the end of the side."""
        course = self.course
        ends = Note.NONE if spot.stitch.kind is Kind.STRING else Note.RIB
        if self._is_special(spot.run) or spot.stitch.has(ends):
            return 1
        count = 0
        for run in range(spot.run, course.rounds[spot.round].stop_run):
            stitch = course.stitch_of(run)
            same = stitch.beads == spot.stitch.beads and stitch.kind is spot.stitch.kind
            if not same or self._is_special(run) or stitch.has(ends):
                break
            if ends and stitch.has(Note.ENDS_SIDE):
                return count + 1
            count += course.count_of(run) - (spot.nth if run == spot.run else 0)
        return count

    def remarks_at(self, position: int) -> tuple[Remark, ...]:
        """The remarks that stand before this step."""
        remarks = self.course.remarks
        low = bisect_right(remarks, position - 1, key=lambda remark: remark.step)
        high = bisect_right(remarks, position, key=lambda remark: remark.step)
        found = remarks[low:high]
        if not self.teller.left_handed:
            return found
        return tuple(remark if remark.own else remark._replace(text=mirrored(remark.text)) for remark in found)


def word_of(item: Round) -> str:
    """`row`, `round` or `lap`."""
    return phrases.word_of(item.technique, item.flat)


def distance(special: Special) -> str:
    """`now`, `in 2 beads`."""
    return f"in {counted(special.away, 'bead')}" if special.away else "now"
