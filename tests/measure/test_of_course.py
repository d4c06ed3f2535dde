"""What a course asks for, against counts that are published or follow from the start, and against every single pass."""

from __future__ import annotations

import math

import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.report import course_document
from stitchalong.measure.extents import width
from stitchalong.measure.flat import Verdict
from stitchalong.measure.gauge import MRAW, Measurement, Per, default_gauge, improved
from stitchalong.measure.of_course import (
    bead_lengths,
    bead_sizes,
    counts,
    flat_parts,
    frame_bead,
    positions,
    stretches,
)
from stitchalong.measure.of_start import inside, size_note, way_of
from stitchalong.measure.sizes import Scale, circumference_of
from stitchalong.measure.thread import plan_thread
from stitchalong.plan.model import Plan
from stitchalong.plan.read import read_text


def _plan(work: str, **sizes: str) -> Plan:
    """A plan with the beads C and M in 11/0 cylinders, and one more bead for each code in `sizes` (`"15/0 round"`)."""
    beads = {"C": "11/0 cylinder", "M": "11/0 cylinder", **sizes}
    text = 'title = "Trial"\n'
    for code, word in beads.items():
        size, shape = word.rsplit(" ", 1)
        text += f'[beads.{code}]\nname = "bead {code}"\ncolour = "#404040"\nsize = "{size}"\nshape = "{shape}"\n'
    return read_text(text + work, "trial").plan


def _compiled(work: str, **sizes: str) -> tuple[Course, Plan]:
    plan = _plan(work, **sizes)
    return compile_plan(plan), plan


_BAND = """
[[work]]
start = "MRAW band"
frame = "C"
spacers = "*6C, M* 4 times"
"""
_RING = (
    _BAND
    + """
[[work]]
stitch = "peyote"
rounds = ["C"]
height = 4
increase = { over = "M", with = "MM", from_round = 2 }

[[work]]
stitch = "peyote"
edge = "bottom"
rounds = ["C"]
height = 3
"""
)
_TRIANGLE = """
[[work]]
start = "ring"
beads = "3C"

[[work]]
stitch = "peyote"
rounds = ["C"]
height = 9
increase = { sides = 3, with = "CC" }
"""


def test_beads_of_a_triangle() -> None:
    # oeis.org/A045943: 3, 9, 18, 30, 45, 63, 84, 108, 135, 165
    course, plan = _compiled(_TRIANGLE)
    assert counts(course, plan) == {"C": 165}


def test_beads_of_a_ring_by_code() -> None:
    # common practice, no source: 4n for the band, n a round, 2 more for each pair than for a single, n for the fill
    course, plan = _compiled(_RING)
    n, ribs, pairs = 28, 4, 3
    found = counts(course, plan)
    assert sum(found.values()) == 4 * n + n + 3 * n + ribs * (1 + 2 + 3) + n + 3 * n
    assert found["M"] == ribs + 2 * ribs * pairs
    assert list(found) == ["C", "M"]


def test_the_size_of_a_ring() -> None:
    # common practice, no source: 24 units come out between US 6½ and 7
    course, plan = _compiled(_BAND.replace("6C", "5C"))
    ring = inside(course, plan)
    assert ring is not None
    assert circumference_of(Scale.US, 6.5) <= ring.value <= circumference_of(Scale.US, 7)


def test_a_measured_gauge_decides_the_size() -> None:
    course, plan = _compiled(_BAND)
    bead = frame_bead(plan)
    assert bead is not None
    default = default_gauge(bead, MRAW, Per.UNIT)
    assert default is not None
    own = improved(default, [Measurement(28, 28 * 2.35)] * 4)
    ring = inside(course, plan, own)
    assert ring is not None
    assert ring.value == pytest.approx(28 * own.each.value)
    assert abs(ring.value - 28 * 2.35) < 1.0


def test_the_size_of_a_tube() -> None:
    course, plan = _compiled('[[work]]\nstart = "tube"\nbeads = "50C"\n')
    ring = inside(course, plan)
    assert ring is not None
    assert ring.value == pytest.approx(50 * 1.3)  # flat-ended beads touch along their inner edges


def test_a_band_of_several_sizes_is_told() -> None:
    assert size_note(_plan(_BAND)) == ""
    assert size_note(_plan(_TRIANGLE)) == ""
    assert "bead C" in size_note(_plan(_BAND.replace("6C, M", "6C, S"), S="15/0 cylinder"))


def test_what_has_no_size() -> None:
    course, plan = _compiled(_TRIANGLE)
    assert inside(course, plan) is None
    assert width(course, plan) is None
    course, plan = _compiled(_BAND.replace('"C"', '"X"'), X="9/0 pebble")
    assert way_of(plan) is None
    assert inside(course, plan) is None


def test_width_leaves_the_fins_out() -> None:
    course, plan = _compiled(_RING)
    wide, band = width(course, plan), width(*_compiled(_BAND))
    assert wide is not None
    assert band is not None
    # geometry, no source: 1.3 + 2 · 1.6 for the frame, half of 1.6 for the spacers; then a half for round 1 of the top,
    # the fill and three rounds below, and none for the rounds with pairs
    assert band.value == pytest.approx(1.3 + 3.2 + 0.8)
    assert wide.value == pytest.approx(band.value + 5 * 0.8)


# ---- thread -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("work", "sizes"),
    [
        (_RING, {}),
        (_TRIANGLE, {}),
        (_RING + "reinforce = true\n", {}),
        (_RING.replace('over = "M", with = "MM"', 'over = "M", with = "SS"'), {"S": "11/0 cylinder"}),
        ('[[work]]\nstart = "tube"\nbeads = "20C"\n[[work]]\nstitch = "peyote"\nrounds = ["C"]\nheight = 3\n', {}),
        (
            _TRIANGLE + '[[work]]\nwalk = 3\nedge = "top"\n[[work]]\nstitch = "peyote"\nrounds = ["C"]\nheight = 2\n',
            {},
        ),
    ],
)
def test_thread_is_that_of_every_single_pass(work: str, sizes: dict[str, str]) -> None:
    course, plan = _compiled(work, **sizes)
    lengths, notes = bead_lengths(plan)
    assert notes == ()
    ours = sum(one.stitches * one.each for one in stretches(course, lengths))
    passes = 0
    for item in course_document(course)["rounds"]:  # type: ignore[attr-defined]
        for stitch in item["stitches"]:
            passes += len(stitch["beads"]) + len(stitch["through"])
    assert ours == pytest.approx(1.3 * passes)


def test_thread_of_beads_of_several_lengths() -> None:
    # up beads of the round below are taken at their mean: where a round is of one code, that is exact
    work = _TRIANGLE.replace('rounds = ["C"]', 'rounds = ["C", "S"]').replace(', with = "CC"', "")
    course, plan = _compiled(work, S="15/0 cylinder")
    lengths, _ = bead_lengths(plan)
    assert lengths["S"] != lengths["C"]
    ours = sum(one.stitches * one.each for one in stretches(course, lengths))
    by_hand = 0.0
    for item in course_document(course)["rounds"]:  # type: ignore[attr-defined]
        for stitch in item["stitches"]:
            by_hand += sum(lengths[code] for code in (*stitch["beads"], *stitch["through_codes"]))
    assert ours == pytest.approx(by_hand)


def test_thread_by_part_and_where_it_changes() -> None:
    course, plan = _compiled(_RING)
    lengths, _ = bead_lengths(plan)
    found = plan_thread(stretches(course, lengths), working=900.0)
    assert [use.label for use in found.parts] == ["band", "top edge", "bottom edge"]
    assert "round 3 on the top edge" in [use.label for use in found.rounds]
    # 28 · 6 passes and a little: a band costs about one and a half times its 112 beads
    assert found.parts[0].length.value == pytest.approx(1.15 * 1.3 * (28 * 6 + 56), rel=0.05)
    places = positions(course, found.changes)
    assert len(places) == found.lengths - 1 >= 1
    for place, done in zip(places, found.changes, strict=True):
        spot = course.spot(place)
        assert spot.step == 0
        before = sum(course.count_of(run) for run in range(spot.run)) + spot.nth
        assert before == done


def test_a_bead_without_measures_counts_as_the_others() -> None:
    course, plan = _compiled(_RING.replace('with = "MM"', 'with = "PP"'), P="9/0 pebble")
    lengths, notes = bead_lengths(plan)
    assert lengths["P"] == pytest.approx(1.3)
    assert len(notes) == 1
    assert "bead P" in notes[0]
    assert plan_thread(stretches(course, lengths)).total.value > 0
    assert bead_sizes(plan)["P"].size is None


# ---- flatness -----------------------------------------------------------------------------------


def test_a_triangle_lies_flat() -> None:
    # beadmechanics.com/2019/11/17/flat-peyote-octagon: three corners of 2-2-2 are flat
    (part,) = flat_parts(*_compiled(_TRIANGLE))
    assert part.flatness.verdict is Verdict.FLAT
    assert part.flatness.ribs == 3
    assert (part.edge, part.first, part.last) == ("top", 2, 10)


def test_four_spines_warp() -> None:
    # geometry of the same page; common practice, no source
    (part,) = flat_parts(*_compiled(_TRIANGLE.replace("3C", "4C").replace("sides = 3", "sides = 4")))
    assert part.flatness.verdict is Verdict.SADDLE
    assert part.flatness.angle == pytest.approx(math.degrees(8 * math.atan(2 * 1.3 / 1.6)))


def test_each_part_has_its_own_verdict() -> None:
    top, bottom = flat_parts(*_compiled(_RING))
    assert (top.edge, top.first, top.last, top.flatness.ribs) == ("top", 1, 4, 4)
    assert top.flatness.growth == pytest.approx(2.0)
    assert bottom.edge == "bottom"
    assert bottom.flatness.verdict is Verdict.TUBE


def test_round_beads_are_told_with_doubt() -> None:
    (part,) = flat_parts(*_compiled(_TRIANGLE.replace('"C"', '"R"').replace('"CC"', '"RR"'), R="11/0 round"))
    assert "swatch" in part.flatness.doubt


def test_doubling_has_no_ribs_and_ruffles() -> None:
    work = """
[[work]]
start = "ring"
beads = "6C"

[[work]]
stitch = "peyote"
rounds = ["CC x 6", "CC x 12", "CC x 24", "CC x 48"]
"""
    course, plan = _compiled(work)
    # 6, 12, 24, 48, 96: proportional growth, hyperbolic (timaryart.blogspot.com/2009/03)
    assert [item.beads for item in course.rounds] == [6, 12, 24, 48, 96]
    (part,) = flat_parts(course, plan)
    assert part.flatness.ribs == 0
    assert part.flatness.verdict is Verdict.RUFFLE


def test_decreases_close_in() -> None:
    # a decreasing side mirrors an increasing one: beads-making.com/building-the-sides-of-beaded-box
    work = (
        _TRIANGLE
        + """
[[work]]
stitch = "peyote"
rounds = ["C"]
height = 1
decrease = { sides = 3 }
"""
    )
    flat, closing = flat_parts(*_compiled(work))
    assert flat.flatness.verdict is Verdict.FLAT
    assert closing.flatness.verdict is Verdict.NARROWS
    assert closing.flatness.ribs == 3
    assert closing.flatness.growth == pytest.approx(-flat.flatness.growth)
