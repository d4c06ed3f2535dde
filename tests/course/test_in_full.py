"""A plan printed in full reads back to the same work."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given

from stitchalong.course.compile import compile_plan
from stitchalong.course.in_full import print_in_full, same_work
from stitchalong.course.report import check_document, course_document
from stitchalong.errors import PlanError
from stitchalong.plan.library import shipped
from stitchalong.plan.model import Plan
from stitchalong.plan.read import Loaded, read_plan, read_text
from tests.course.test_against_naive import many
from tests.naive.strategies import plans
from tests.naive.wording import as_toml
from tests.writing import band, peyote, plan_text


def again(text: str) -> Plan:
    return read_text(text, "again.toml").plan


def in_full(loaded: Loaded) -> str:
    return print_in_full(loaded.data, compile_plan(loaded.plan), again)


def documents(plan: Plan) -> tuple[Any, Any]:
    course = compile_plan(plan)
    check = check_document(course)
    check.pop("open", None)  # how far a rise may be taken is settled
    return check, course_document(course)


@pytest.mark.parametrize("path", shipped(), ids=lambda path: path.stem)
def test_every_plan_that_ships_reads_back_to_the_same_work(path: Path) -> None:
    loaded = read_plan(path)
    assert documents(again(in_full(loaded))) == documents(loaded.plan)


@many
@given(plans())
def test_random_plans_read_back_to_the_same_work(plan: dict[str, Any]) -> None:
    loaded = read_text(as_toml(plan), "drawn")
    assert documents(again(in_full(loaded))) == documents(loaded.plan)


def test_no_rule_is_left_and_every_count_is_written() -> None:
    """Four sides of seven (six and a marker); each of the four pairs adds one bead a round: 28, 32, 36."""
    loaded = read_text(
        plan_text(band("*6S, M* 4 times"), peyote('"A"', "height = 3", 'increase = { over = "M", from_round = 2 }'))
    )
    document = tomllib.loads(in_full(loaded))
    rounds = document["work"][1]
    assert set(rounds) == {"stitch", "edge", "rounds"}
    assert [re.search(r"\((\d+) beads\)", text)[1] for text in rounds["rounds"]] == ["28", "32", "36"]  # type: ignore[index]


def test_a_text_that_is_other_work_is_refused() -> None:
    loaded = read_text(plan_text('start = "tube" ;; beads = "12A"', peyote('["A", "B"]')))
    other = again(plan_text('start = "tube" ;; beads = "12A"', peyote('["A", "A"]')))
    course = compile_plan(loaded.plan)
    assert not same_work(course, compile_plan(other))
    with pytest.raises(PlanError, match="no written form"):
        print_in_full(loaded.data, course, lambda text: other)
