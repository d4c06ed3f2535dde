"""From a plan to a form: measures, doubts, what cannot be."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.errors import UsageError
from stitchalong.form.whole import form_of
from stitchalong.plan.model import Plan
from stitchalong.plan.read import read_text
from tests.form.samples import disc, fins, formed, plan_of, spread, tube


def _plan(bead: str, more: str = "") -> str:
    return (
        f'title = "t"\n[beads.A]\nname = "a"\ncolour = "#102030"\n{bead}\n{more}'
        '[[work]]\nstart = "tube"\nbeads = "12A"\n[[work]]\nstitch = "peyote"\nrounds = ["A", "A"]\n'
    )


def test_a_larger_bead_makes_the_same_piece_larger() -> None:
    """Similar beads make similar pieces: measures three times as large, all lengths three times as large."""
    small, large = (
        read_text(_plan(f"width = {1.6 * times}\nlength = {1.3 * times}"), "t.toml").plan for times in (1, 3)
    )
    one, other = formed(small), formed(large)
    assert np.ptp(other.points, axis=0) == pytest.approx(3 * np.ptp(one.points, axis=0), rel=0.01)


def test_without_measures_there_is_no_form() -> None:
    plan = read_text(_plan(""), "t.toml").plan
    with pytest.raises(UsageError, match=r"the form needs a bead's measures.*bead A"):
        form_of(compile_plan(plan), plan)


def test_a_bead_without_measures_is_drawn_as_large_as_the_others() -> None:
    more = '[beads.B]\nname = "b"\ncolour = "#ffffff"\nsize = "11/0"\nshape = "cylinder"\n'
    plan = read_text(_plan("", more), "t.toml").plan
    form = form_of(compile_plan(plan), plan)
    assert form.materials[0].across == form.materials[1].across == 1.6
    assert any("bead A is drawn as large as the others" in doubt for doubt in form.doubts)


def test_nothing_stitched_nothing_seen() -> None:
    plan = tube(12, 2)
    with pytest.raises(UsageError, match="no bead is stitched yet"):
        form_of(compile_plan(plan), plan, beads=0)


def test_more_beads_than_there_are_is_the_whole() -> None:
    plan = tube(12, 2)
    assert form_of(compile_plan(plan), plan, beads=10_000).beads == 24


def test_what_was_not_tried_is_said() -> None:
    rounded = formed(tube(12, 2, "R"))
    assert any("rounded ends" in doubt for doubt in rounded.doubts)
    full = formed(disc(5, (2,), 4))
    assert any("one likely form" in doubt for doubt in full.doubts)
    passed = formed(
        plan_of(
            'start = "tube" ;; beads = "16A"', 'stitch = "peyote" ;; rounds = ["*A, no bead; repeat from * around"]'
        )
    )
    assert any("spaces passed" in doubt for doubt in passed.doubts)
    assert formed(tube(12, 2)).doubts == ()


def test_a_form_that_goes_against_the_rule_says_so() -> None:
    """2-2-2-1-0 with four corners grows as fast as 3-2-2-1-0, which is published as flat (beads-making.com/
    beaded-square-box), and by its angles it is flat; the model, in which its corners do not give, folds it."""
    form = formed(disc(4, (2, 2, 2, 1, 0), 12))
    assert form.against.endswith("real work gives a little, and this does not")
    assert form.against in form.doubts


def _two_parts(*more: str) -> Plan:
    return plan_of(
        'start = "ring" ;; part = "front" ;; beads = "3A"',
        'stitch = "peyote" ;; rounds = ["A"] ;; increase = { at = "every space" } ;; height = 4',
        'start = "ring" ;; part = "back" ;; beads = "3B"',
        'stitch = "peyote" ;; rounds = ["B"] ;; increase = { at = "every space" } ;; height = 4',
        *more,
    )


def test_parts_stand_side_by_side_and_are_alike() -> None:
    plan = _two_parts()
    form = formed(plan)
    half = form.beads // 2
    front, back = form.points[:half], form.points[half:]
    assert spread(front) == pytest.approx(spread(back), abs=0.02)
    assert spread(front) == pytest.approx(spread(formed(disc(3, (2,), 5)).points), abs=0.02)
    assert front[:, 0].max() + 1.6 < back[:, 0].min()
    assert form.doubts == ("its parts are shown side by side, each by itself",)
    some = form_of(compile_plan(plan), plan, beads=half + 4, standing=form)
    assert some.beads == half + 4
    assert spread(some.points[:half]) == pytest.approx(spread(front), abs=0.02)


def test_work_that_adds_no_bead_and_is_not_known_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("stitchalong.form.doubts.MODELLED", frozenset({"ring", "peyote"}))
    form = formed(_two_parts('stitch = "peyote" ;; rounds = "B"', 'zip = ["back", "front"]'), 1)
    assert form.doubts.count("what zip does to the form is not known: it is shown as before") == 1


def test_what_comes_before_unknown_work_can_be_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("stitchalong.form.derive.MODELLED", frozenset({"strung row", "flat peyote"}))
    plan = plan_of(
        'start = "strung row" ;; beads = "6A"',
        'stitch = "flat peyote" ;; rows = "A" ;; height = 3',
        'stitch = "fringe" ;; strands = "3A, B"',
    )
    course = compile_plan(plan)
    with pytest.raises(UsageError, match=r"the form of fringe is not known.*the first 4 rounds can be shown"):
        form_of(course, plan)
    assert form_of(course, plan, beads=15).beads == 15


KINDS = {
    "weave": ('start = "right-angle weave row" ;; beads = "7A"', 'stitch = "right-angle weave" ;; rows = "A"'),
    "one room wide": ('start = "right-angle weave row" ;; beads = "4A"', 'stitch = "right-angle weave" ;; rows = "A"'),
    "weave and peyote": (
        'start = "right-angle weave ring" ;; beads = "12A"',
        'stitch = "peyote" ;; rounds = ["A", "BB x 4"]',
    ),
    "cubes and peyote": (
        'start = "cube base" ;; beads = "3A"',
        'stitch = "cubic right-angle weave" ;; rounds = "A" ;; height = 2',
        'stitch = "peyote" ;; rounds = "A"',
    ),
    "widening bricks": (
        'start = "ladder" ;; joined = true ;; beads = "3A"',
        'stitch = "tubular brick stitch" ;; rounds = "AA together x 3"',
        'stitch = "tubular brick stitch" ;; rounds = "AAA together, 5A"',
    ),
    "a brick at the point": (
        'start = "ladder" ;; beads = "2A"',
        'stitch = "brick stitch" ;; width = "one fewer" ;; rows = "A"',
    ),
    "widening herringbone": (
        'start = "ladder" ;; joined = true ;; beads = "4A"',
        'stitch = "tubular herringbone" ;; between = "B" ;; rounds = "A" ;; height = 2',
        'stitch = "tubular herringbone" ;; rounds = "A"',
    ),
    "nets of other loops": (
        'start = "net ring" ;; beads = "12A" ;; loop = 3',
        'stitch = "netting" ;; rounds = "A" ;; loop = 1',
        'stitch = "netting" ;; rounds = "A" ;; loop = 7',
        'stitch = "peyote" ;; rounds = ["A", "A"]',
    ),
    "a short strip": (
        'start = "MRAW strip" ;; frame = "A" ;; spacers = "2A"',
        'stitch = "flat peyote" ;; rows = "A" ;; turn = "through the edge" ;; height = 3',
    ),
    "fringe on a net": (
        'start = "net ring" ;; beads = "12A"',
        'stitch = "netting" ;; rounds = "A"',
        'stitch = "fringe" ;; strands = ["3A"]',
    ),
}


@pytest.mark.parametrize("work", KINDS.values(), ids=KINDS.keys())
def test_small_pieces_of_any_kind_as_far_as_they_are_stitched(work: tuple[str, ...]) -> None:
    plan = plan_of(*work)
    course = compile_plan(plan)
    before = None
    for beads in (1, course.beads // 2, course.beads - 1):
        form = form_of(course, plan, beads=beads, standing=before)
        assert form.beads == beads
        assert np.isfinite(form.points).all()
        assert np.linalg.norm(form.holes, axis=1) == pytest.approx(np.ones(beads))
        before = form
    assert formed(plan).strain < 0.004


def test_progress_is_told() -> None:
    heard: list[float] = []
    plan = tube(12, 4)
    form_of(compile_plan(plan), plan, told=heard.append)
    assert heard == sorted(heard)
    assert 0 < heard[0] < heard[-1] <= 1


def test_it_can_be_called_off() -> None:
    class Enough(Exception):
        pass

    def told(share: float) -> None:
        if share > 0.3:
            raise Enough

    plan = tube(12, 4)
    with pytest.raises(Enough):
        form_of(compile_plan(plan), plan, told=told)


def test_colours_and_stops() -> None:
    plan = fins(4, 3, 2)
    course = compile_plan(plan)
    form = form_of(course, plan)
    assert form.stops[-1] == form.beads == course.beads
    assert form.stops[0] == 4 * 15
    markers = [code for code in "".join(form.materials[at].code for at in form.material.tolist()) if code == "M"]
    assert len(markers) >= 3
    assert {one.code: one.colour for one in form.materials}["M"] == (0xE0, 0xB0, 0x20)


def _run(script: str) -> str:
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, timeout=60)
    return done.stdout


def test_without_numpy_it_says_how_to_get_it() -> None:
    out = _run(
        "import sys; sys.modules['numpy'] = None\n"
        "from stitchalong import form\n"
        "from stitchalong.errors import UsageError\n"
        "print(form.ready())\n"
        "try:\n    form.require()\nexcept UsageError as error:\n    print(error)\n"
    )
    assert out.startswith("False\n")
    assert "in the program's folder: .venv/bin/pip install '.[form]'" in out


def test_nothing_heavy_is_loaded_before_a_form_is_asked_for() -> None:
    out = _run(
        "import sys, stitchalong.form, stitchalong.form.view, stitchalong.form.bonds; print('numpy' in sys.modules)"
    )
    assert out == "False\n"
    whole = _run("import sys, stitchalong.form.whole, stitchalong.form.cells; print(*sys.modules)")
    assert not {"textual", "pydantic", "sqlite3", "rich"} & set(whole.split())
