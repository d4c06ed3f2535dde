"""Plans by their sort, told at a glance."""

from __future__ import annotations

import tomllib

import pytest

from stitchalong.plan.library import glance, shipped
from stitchalong.plan.sorts import OTHER, SORTS, order_of, sort_of


def of(*work: dict[str, object]) -> str:
    return sort_of({"title": "x", "work": list(work)})


@pytest.mark.parametrize(
    ("start", "stitch", "sort"),
    [
        ("MRAW band", "peyote", "bands with peyote"),
        ("mraw  Strip", "flat peyote", "bands with peyote"),
        ("ladder", "brick stitch", "brick stitch"),
        ("ladder", "tubular herringbone", "herringbone"),
        ("ladder", None, "ladders"),
        ("strand", "square stitch", "square stitch"),
        ("strung row", "netting", "netting"),
        ("strung row", "flat peyote", "flat peyote"),
        ("cube base", "cubic right-angle weave", "right-angle weave"),
        ("spider", "wool", OTHER),
    ],
)
def test_a_plan_is_told_by_its_start_or_by_the_first_stitch_on_it(start: str, stitch: str | None, sort: str) -> None:
    more = [{"stitch": stitch}] if stitch else []
    assert of({"start": start}, *more) == sort


@pytest.mark.parametrize("data", [None, [], {}, {"work": 3}, {"work": [3, {"start": 4}]}, {"work": {}}])
def test_no_data_of_a_stranger_breaks_it(data: object) -> None:
    assert sort_of(data) == OTHER


def test_every_plan_that_ships_has_a_sort() -> None:
    for path in shipped():
        found = glance(path)
        assert found.sort in [name for name, _ in SORTS]
        assert found.sort == sort_of(tomllib.loads(path.read_text()))
    assert sorted(range(len(SORTS)), key=lambda nth: order_of(SORTS[nth][0])) == list(range(len(SORTS)))
    assert order_of(OTHER) == len(SORTS)
