"""Every plan that ships with the program is walked to its last bead, sentence by sentence."""

from __future__ import annotations

from pathlib import Path

import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.plan.library import shipped
from stitchalong.plan.read import read_plan
from tests.techniques.common import walked


@pytest.mark.parametrize("path", shipped(), ids=lambda path: path.stem)
def test_it_is_walked_to_its_last_bead(path: Path) -> None:
    course = compile_plan(read_plan(path).plan)
    laid, said = walked(course)
    assert laid == course.beads
    assert len(said) > 1
