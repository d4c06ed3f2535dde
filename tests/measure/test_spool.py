"""The thread at hand: how much is left, how far it reaches, and that nobody who listens runs out."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout
from stitchalong.errors import UsageError
from stitchalong.fabric.stitch import Kind
from stitchalong.measure.book import Book, measured_thread
from stitchalong.measure.of_course import bead_lengths
from stitchalong.measure.spool import ROOM, Entry, Spool, State, checked_length, reach_words
from stitchalong.measure.thread import SLACK, TAIL, WEAVING
from stitchalong.measure.units import Units, hand_length
from stitchalong.plan.read import read_text

BEAD = 'name = "bead"\ncolour = "#404040"\nsize = "11/0"\nshape = "cylinder"\n'
RING = f"""title = "Trial"
[beads.C]
{BEAD}[beads.M]
{BEAD}[[work]]
start = "MRAW band"
frame = "C"
spacers = "*6C, M* 4 times"
[[work]]
stitch = "peyote"
rounds = ["C"]
height = 8
increase = {{ over = "M", with = "MM", from_round = 2 }}
[[work]]
stitch = "peyote"
edge = "bottom"
rounds = ["C"]
height = 3
"""
TUBE = f"""title = "Tube"
[beads.C]
{BEAD}[[work]]
start = "tube"
beads = "100C"
[[work]]
stitch = "peyote"
rounds = ["C"]
height = 22
"""


def _spool(text: str) -> tuple[Course, Spool]:
    plan = read_text(text, "trial").plan
    course = compile_plan(plan)
    return course, Spool(course, bead_lengths(plan)[0])


COURSE, SPOOL = _spool(RING)
LENGTHS = bead_lengths(read_text(RING, "trial").plan)[0]


def test_plain_peyote_takes_three_metres_for_a_thousand_beads() -> None:
    """An 11/0 cylinder is 1.3 mm long, a new bead costs two lengths, and 15 % is slack: 3 m for 1,000 beads. Geometry,
    held loosely by the one published length that could be compared (see `stitchalong.measure.thread`)."""
    course, spool = _spool(TUBE)
    start, stop = course.rounds[1].first_step, course.rounds[20].stop_step
    beads = course.beads_before(stop) - course.beads_before(start)
    assert beads == 1000
    assert spool.length(start, stop) * SLACK == pytest.approx(3000, rel=0.05)


@settings(deadline=None)
@given(st.integers(0, COURSE.steps), st.integers(0, COURSE.steps), st.integers(0, COURSE.steps))
def test_thread_adds_up_however_it_is_cut(one: int, two: int, three: int) -> None:
    assert SPOOL.length(one, three) == pytest.approx(SPOOL.length(one, two) + SPOOL.length(two, three), abs=1e-6)
    assert SPOOL.length(two, one) == pytest.approx(-SPOOL.length(one, two))
    if one < two:
        assert SPOOL.length(one, two) > 0


@settings(deadline=None)
@given(st.integers(0, COURSE.steps), st.floats(0, 6000))
def test_what_a_length_reaches_takes_no_more_and_a_stitch_more_would(start: int, length: float) -> None:
    reached = SPOOL.reached(start, length)
    assert reached >= start
    if reached > start:
        assert SPOOL.length(start, reached) <= length + 1e-6
    if reached < COURSE.steps:
        spot = COURSE.spot(reached)
        assert reached == start or spot.step == 0, "at the end of a stitch"
        after = reached - spot.step + spot.stitch.steps
        assert SPOOL.length(start, after) > length - 1e-6


def test_the_beginning_of_a_thread_is_not_for_stitching() -> None:
    first = SPOOL.reach([Entry(0, 1500, True)], 0)
    later = SPOOL.reach([Entry(0, 1500, True), Entry(40, 1500, True)], 40)
    measured = SPOOL.reach([Entry(40, 400, False)], 40)
    assert first is not None
    assert later is not None
    assert measured is not None
    assert first.left.value == 1500 - TAIL
    assert later.left.value == 1500 - WEAVING
    assert measured.left.value == 400
    assert SPOOL.reach([], 10) is None


def test_beads_taken_out_give_their_thread_back() -> None:
    here = SPOOL.reach([Entry(100, 400, False)], 100)
    back = SPOOL.reach([Entry(100, 400, False)], 60)
    assert here is not None
    assert back is not None
    assert back.left.value == pytest.approx(here.left.value + SPOOL.length(60, 100) * SLACK)


@settings(deadline=None)
@given(st.floats(0.71, 1.29), st.integers(700, 2500), st.integers(0, 3))
def test_whoever_changes_when_told_always_has_room_to_weave_in(use: float, length: int, late: int) -> None:
    """A stitcher whose stitches take 71 to 129 % of what the rule says: within the ± 30 % that the rule admits."""
    at, entries, changes = 0, [Entry(0, float(length), True)], 0
    hanging = float(length) - TAIL
    while at < COURSE.steps:
        reach = SPOOL.reach(entries, at)
        assert reach is not None
        if reach.change_at == at:
            assert hanging >= ROOM - 1e-6
            entries.append(Entry(at, float(length), True))
            hanging, changes = float(length) - WEAVING, changes + 1
            assert changes < 200, "a change brings one on"
        hanging -= SPOOL.length(at, at + 1) * SLACK * use
        at += 1
    assert hanging >= ROOM - 1e-6


def test_a_thread_is_changed_after_the_step_up() -> None:
    entries = [Entry(0, 1500.0, True)]
    seen = set()
    for at in range(COURSE.steps):
        reach = SPOOL.reach(entries, at)
        assert reach is not None
        seen.add(reach.state)
        if reach.state in (State.SOON, State.FINE):
            assert reach.change_at is not None
            assert COURSE.spot(reach.change_at - 1).stitch.kind in (Kind.STEP_UP, Kind.SINGLE)
        if reach.state is State.NOW:
            entries.append(Entry(at, 1500.0, True))
    assert {State.FINE, State.SOON, State.NOW} <= seen
    ends = [item.stop_step for item in COURSE.rounds]
    assert len(entries) > 2
    assert all(entry.position in ends for entry in entries[1:])


def test_where_no_end_of_a_round_is_reached_the_change_lies_away_from_the_ribs() -> None:
    course, spool = _spool(RING.replace("6C, M", "40C, M").replace("height = 8", "height = 12"))
    item = course.rounds[9]
    here = item.first_step + 50
    reach = spool.reach([Entry(here, 330.0, False)], here)
    assert reach is not None
    assert reach.state is State.SOON
    assert reach.change_at is not None
    assert here < reach.change_at < item.stop_step
    around = [course.spot(reach.change_at + side).stitch for side in (-1, 0)]
    assert all(stitch.kind is Kind.SINGLE and not stitch.notes for stitch in around)


def test_her_own_measures_correct_the_rule() -> None:
    start, stop = 0, 200
    took = SPOOL.length(start, stop) * SLACK * 1.2
    entries = [Entry(start, 3000.0, True), Entry(stop, 3000.0 - TAIL - took, False)]
    assert SPOOL.own_share(entries) == pytest.approx(1.2)
    ahead = SPOOL.reach(entries, 260)
    plain = SPOOL.reach(entries[1:], 260)
    assert ahead is not None
    assert plain is not None
    used = SPOOL.length(stop, 260) * SLACK
    assert plain.left.value - ahead.left.value == pytest.approx(0.2 * used)
    assert ahead.left.share < plain.left.share
    assert SPOOL.own_share([Entry(0, 3000.0, True), Entry(20, 2000.0, False)]) is None, "too little thread to tell"
    assert SPOOL.own_share([Entry(0, 3000.0, True), Entry(200, 2990.0, False)]) is None, "no thread was used: a slip"


def test_what_finished_pieces_took_is_the_rule_from_then_on() -> None:
    own = Book([measured_thread(100_000.0, 140_000.0, 0)] * 3).slack()
    spool = Spool(COURSE, LENGTHS, own)
    entry = [Entry(0, 3000.0, False)]
    usual, hers = SPOOL.reach(entry, 200), spool.reach(entry, 200)
    assert usual is not None
    assert hers is not None
    used = SPOOL.length(0, 200)
    assert 3000 - usual.left.value == pytest.approx(used * SLACK)
    assert 3000 - hers.left.value == pytest.approx(used * own.value)
    assert own.value > SLACK
    assert hers.left.high - hers.left.low < usual.left.high - usual.left.low, "her own is surer"
    took = used * own.value * 1.2
    assert spool.own_share([*entry, Entry(200, 3000.0 - took, False)]) == pytest.approx(1.2)


def test_it_is_told_as_one_would_say_it() -> None:
    lookout = Lookout(COURSE, {})
    here = COURSE.rounds[3].first_step + 4
    words = {}
    for length in (200, 420, 700, 9000):
        reach = SPOOL.reach([Entry(here, float(length), False)], here)
        assert reach is not None
        words[length] = reach_words(reach, lookout, here)
    assert words[200] == "about 20 cm left: change now, there is little room to weave in"
    beads = COURSE.beads_before(COURSE.rounds[3].stop_step) - COURSE.beads_before(here)
    assert words[420].startswith("about 40 cm left, enough ")
    assert words[420].endswith(f"; the place to change is the end of this round, after the step-up, in {beads} beads")
    assert words[700] == (
        "about 70 cm left, enough into round 6, top edge; "
        "the place to change is the end of round 5, top edge, after the step-up, in 116 beads"
    )
    assert words[9000] == "about 9.0 m left, enough to the end of the piece"


@pytest.mark.parametrize(
    ("millimetres", "units", "words"),
    [
        (400, Units.METRIC, "40 cm"),
        (387, Units.METRIC, "40 cm"),
        (1234, Units.METRIC, "1.2 m"),
        (254, Units.INCH, "10 in"),
        (914.4, Units.INCH, "1.0 yd"),
    ],
)
def test_lengths_as_held_in_the_hand(millimetres: float, units: Units, words: str) -> None:
    assert hand_length(millimetres, units) == words


@pytest.mark.parametrize("length", [0, -3, float("nan"), float("inf"), 20_001])
def test_a_length_that_cannot_be_is_refused(length: float) -> None:
    with pytest.raises(UsageError):
        checked_length(length)
