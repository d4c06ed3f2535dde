"""Thread against a published project, and its changes against winding it off stitch by stitch."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.errors import UsageError
from stitchalong.measure.thread import Stretch, per_stitch, plan_thread


def test_a_published_ring() -> None:
    # instructables.com/Peyote-Beaded-Ring: 9 columns, about 74 rows, 60 in of thread (bead size not told);
    # 9 · 74 / 2 beads
    each = per_stitch({"A": 2}, {"A": 1.3})
    found = plan_thread([Stretch("ring", "ring", 333, each)], tail=150)
    assert found.total.value == pytest.approx(60 * 25.4, rel=0.30)
    assert found.total.value == pytest.approx(1300, rel=0.02)
    assert found.total.low < 60 * 25.4 < found.total.high


def test_three_metres_for_a_thousand_cylinders() -> None:
    # geometry: two bead lengths of 1.3 mm a bead, and slack; no source
    found = plan_thread([Stretch("a", "a", 1000, 2.6)])
    assert found.parts[0].length.value == pytest.approx(3000, rel=0.01)


def test_by_part_and_by_round() -> None:
    found = plan_thread(
        [
            Stretch("band", "band", 10, 6.0),
            Stretch("top edge", "round 1", 20, 2.6),
            Stretch("top edge", "round 2", 21, 2.6),
            Stretch("top edge", "round 2", 1, 0.0),
        ]
    )
    assert [use.label for use in found.parts] == ["band", "top edge"]
    assert [use.label for use in found.rounds] == ["band", "round 1", "round 2"]
    assert sum(use.length.value for use in found.parts) == pytest.approx(sum(use.length.value for use in found.rounds))
    assert found.total.value == pytest.approx(sum(use.length.value for use in found.parts) + 300)
    assert found.lengths == 1
    assert found.changes == ()


_STRETCHES = st.lists(
    st.builds(Stretch, st.just("p"), st.sampled_from(["a", "b"]), st.integers(0, 300), st.floats(0.0, 12.0)),
    max_size=6,
)


@given(_STRETCHES, st.floats(600, 3000), st.floats(0, 200), st.floats(0, 200))
def test_changes_against_winding_off(work: list[Stretch], working: float, tail: float, weaving: float) -> None:
    found = plan_thread(work, working=working, tail=tail, weaving=weaving)
    keep = max(tail, weaving)
    left = working - tail
    changes = []
    done = 0
    for one in work:
        for _ in range(one.stitches):
            need = one.each * 1.15
            if left - need < keep - 1e-9:
                changes.append(done)
                left = working - weaving
            left -= need
            done += 1
    assert found.lengths == (len(changes) + 1 if done else 0)
    # a stitch at the very edge of a length may fall on either side by rounding
    assert len(found.changes) == len(changes)
    assert all(abs(ours - theirs) <= 1 for ours, theirs in zip(found.changes, changes, strict=True))
    if done:
        stitched = sum(one.stitches * one.each * 1.15 for one in work)
        assert found.total.value == pytest.approx(stitched + 2 * tail + 2 * weaving * len(changes))
    assert found.lengths_low <= found.lengths <= found.lengths_high


def test_many_stitches_take_no_time() -> None:
    found = plan_thread([Stretch("p", "r", 1_000_000, 2.6)])
    assert found.lengths == len(found.changes) + 1
    # 3 m for 1,000 beads, in lengths of 1.5 m of which 0.275 m go into the ends
    assert found.lengths == pytest.approx(2_990_000 / (1500 - 275), rel=0.01)
    assert list(found.changes) == sorted(set(found.changes))


def test_a_pass_longer_than_a_thread_is_interrupted() -> None:
    # ends of 100 mm: 800 mm in each length; 100 stitches of 4.6 mm, a pass of 2,300 mm, one stitch more
    work = [Stretch("p", "r", 100, 4.0), Stretch("p", "r", 1, 2000.0), Stretch("p", "r", 1, 4.0)]
    found = plan_thread(work, working=1000.0, tail=100.0, weaving=100.0)
    assert found.changes == (100, 100, 100)
    assert found.lengths == 4


def test_no_work_needs_no_thread() -> None:
    found = plan_thread([])
    assert (found.total.value, found.lengths, found.changes) == (0.0, 0, ())


@pytest.mark.parametrize(
    "options", [{"working": 200.0}, {"working": 0.0}, {"tail": -1.0}, {"weaving": -1.0}, {"slack": 0.5}]
)
def test_what_cannot_be_worked(options: dict[str, float]) -> None:
    with pytest.raises(UsageError) as caught:
        plan_thread([Stretch("p", "r", 10, 2.6)], **options)
    assert "\n" not in str(caught.value)
