"""What to buy, and what it costs."""

from __future__ import annotations

from decimal import Decimal
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.errors import UsageError
from stitchalong.measure.beads import sized
from stitchalong.measure.materials import Material, materials, packs_for
from stitchalong.measure.price import price
from stitchalong.plan.model import Bead


def _sized(size: str, shape: str = "cylinder") -> object:
    return sized(Bead("A", "apple", "#aa0000", size=size, shape=shape))


_BEADS = {"A": _sized("11/0", "round"), "B": _sized("15/0", "round"), "C": _sized("9/0", "pebble")}


def _materials(counts: dict[str, int], **more: object) -> dict[str, Material]:
    return {one.code: one for one in materials(counts, _BEADS, **more)}  # type: ignore[arg-type]


def test_weights_of_counts() -> None:
    # beads.co/budgeting-for-projects-using-standard-size-charts: 2,200 beads of 11/0 are 18 to 20 g;
    # estherbeadwork.blogspot.com/2013/10: 2715 beads of 15/0 are 10 g
    found = _materials({"A": 2200, "B": 2715, "C": 5})
    assert found["A"].grams is not None
    assert found["B"].grams is not None
    assert 18 <= found["A"].grams.value <= 20
    assert found["B"].grams.low <= 10 <= found["B"].grams.high
    assert found["C"].grams is None
    assert found["C"].packs == ()
    assert "9/0 pebble" in found["C"].note
    assert list(found) == ["A", "B", "C"]


def test_culling_and_a_class() -> None:
    one = _materials({"A": 1000})["A"]
    assert one.buy_count == 1100
    ten = _materials({"A": 1000}, people=10, culling=0.0)["A"]
    assert (ten.count, ten.buy_count) == (10_000, 10_000)
    assert one.grams is not None
    assert ten.grams is not None
    assert ten.grams.value == pytest.approx(10 * one.grams.value)
    assert one.buy_grams is not None
    assert one.buy_grams == pytest.approx(one.grams.high * 1.1)
    assert sum(packs.grams * packs.number for packs in one.packs) >= one.buy_grams


@pytest.mark.parametrize(
    ("grams", "packs"),
    [
        (0.0, []),
        (0.1, [(5, 1)]),
        (5.0, [(5, 1)]),
        (5.1, [(10, 1)]),
        (14, [(10, 1), (5, 1)]),
        (22, [(24, 1)]),
        (97, [(100, 1)]),
        (120, [(100, 1), (10, 2)]),
        (123, [(100, 1), (24, 1)]),
    ],
)
def test_packings(grams: float, packs: list[tuple[float, int]]) -> None:
    assert [(one.grams, one.number) for one in packs_for(grams)] == packs


@given(st.floats(0.1, 60))
def test_packings_against_trying_all(grams: float) -> None:
    sizes = (5.0, 10.0, 24.0)
    found = packs_for(grams, sizes)
    ours = sum(one.number * (one.grams + 2.5) for one in found)
    assert sum(one.number * one.grams for one in found) >= grams
    best = min(
        sum(n * (size + 2.5) for n, size in zip(numbers, sizes, strict=True))
        for numbers in product(range(13), range(7), range(4))
        if sum(n * size for n, size in zip(numbers, sizes, strict=True)) >= grams
    )
    assert ours == pytest.approx(best)


def test_a_million_beads_are_bought_in_the_largest_packing() -> None:
    found = packs_for(123_456.7)
    assert sum(one.number * one.grams for one in found) - 123_456.7 < 5
    assert found[0].grams == 100


@pytest.mark.parametrize(
    "more", [{"people": 0}, {"culling": -0.1}, {"culling": 1.5}, {"packings": ()}, {"packings": (0.0,)}]
)
def test_what_cannot_be_bought(more: dict[str, object]) -> None:
    with pytest.raises(UsageError):
        _materials({"A": 1}, **more)


# ---- price --------------------------------------------------------------------------------------


def test_the_arithmetic_is_shown_and_comes_out() -> None:
    needs = materials({"A": 2200, "B": 300, "C": 5}, _BEADS)  # type: ignore[arg-type]
    found = price(needs, {"A": 0.45, "B": 1.2, "C": 3.0}, hours=6.5, hourly=18)
    assert [line.label for line in found.lines] == ["bead A", "bead B", "work"]
    for line in found.lines:
        assert abs(line.amount * line.rate - line.sum) <= Decimal("0.005")
        assert str(line.sum) in str(line)
        assert str(line.amount) in str(line)
    assert found.total == sum(line.sum for line in found.lines)
    assert found.total == found.materials + found.work
    assert found.work == Decimal("117.00")
    assert found.missing == ("C",)  # its weight is not known


def test_halves_of_a_cent_go_up() -> None:
    found = price((), {}, hours=0.5, hourly=0.25)
    assert found.total == Decimal("0.13")


def test_what_is_bought_costs_more_than_what_is_used() -> None:
    needs = materials({"A": 2200}, _BEADS)  # type: ignore[arg-type]
    used, bought = price(needs, {"A": 0.5}), price(needs, {"A": 0.5}, bought=True)
    assert bought.total > used.total
    assert bought.total == Decimal("0.50") * sum(int(p.grams) * p.number for p in needs[0].packs)


def test_a_palette_without_prices() -> None:
    needs = materials({"A": 100, "B": 100}, _BEADS)  # type: ignore[arg-type]
    found = price(needs, {"A": None})
    assert found.total == Decimal("0.00")
    assert found.missing == ("A", "B")


@pytest.mark.parametrize(("hours", "hourly"), [(-1.0, 10.0), (1.0, -10.0), (float("nan"), 1.0), (float("inf"), 1.0)])
def test_no_price_below_nothing(hours: float, hourly: float) -> None:
    with pytest.raises(UsageError):
        price((), {}, hours=hours, hourly=hourly)
