"""A piece begun in a size of its own keeps data that gives the same plan again."""

from __future__ import annotations

from hypothesis import assume, given
from hypothesis import strategies as st

from stitchalong.errors import PlanError
from stitchalong.plan.another_size import data_in_size
from stitchalong.plan.checked import build
from stitchalong.plan.read import read_text
from stitchalong.plan.sizes import resized
from tests.plan.samples import BEADS, PEYOTE


@given(
    st.integers(3, 60), st.sampled_from(["*6S, M* 4 times", "3S, M, *6S, M* 3 times, 3S", "28S", "*C, S, M* 4 times"])
)
def test_the_data_kept_with_a_piece_builds_the_resized_plan(units: int, spacers: str) -> None:
    loaded = read_text(
        f'title = "x"\n{BEADS}\n[[work]]\nstart = "MRAW band"\nframe = "C"\nspacers = "{spacers}"\n{PEYOTE}'
    )
    try:
        plan = resized(loaded.plan, units)
    except PlanError:
        assume(False)
    assert build(data_in_size(loaded.data, plan)) == plan
