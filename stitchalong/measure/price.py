"""Cost and price: plain arithmetic, every line shown, in the plan's own currency."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from stitchalong.errors import UsageError
from stitchalong.measure.materials import Material

CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class Line:
    """`amount` × `rate` = `sum`; the sum is rounded to cents, halves up."""

    label: str
    amount: Decimal
    unit: str
    """`g` or `h`"""
    rate: Decimal
    """of one unit"""
    sum: Decimal

    def __str__(self) -> str:
        return f"{self.label}: {self.amount} {self.unit} × {self.rate:f} = {self.sum}"


@dataclass(frozen=True, slots=True)
class Price:
    lines: tuple[Line, ...]
    materials: Decimal
    work: Decimal
    total: Decimal
    """the sum of the lines as shown"""
    missing: tuple[str, ...]
    """codes without a price or a weight: not in the total"""


def price(
    needs: Sequence[Material],
    rates: Mapping[str, float | None],
    *,
    hours: float = 0.0,
    hourly: float = 0.0,
    bought: bool = False,
) -> Price:
    """What a piece costs: beads at `rates` a gram, by code, and `hours` of work at `hourly`.

    `bought` reckons with the packings to buy instead of the beads used. Raises UsageError for what is below
    0.
    """
    lines: list[Line] = []
    missing: list[str] = []
    for need in needs:
        rate = rates.get(need.code)
        if rate is None or need.grams is None:
            missing.append(need.code)
            continue
        grams = sum(packs.grams * packs.number for packs in need.packs) if bought else need.grams.value
        lines.append(_line(f"bead {need.code}", grams, "g", rate))
    beads = sum((line.sum for line in lines), Decimal(0))
    if hours or hourly:
        lines.append(_line("work", hours, "h", hourly))
    total = sum((line.sum for line in lines), Decimal(0))
    return Price(
        tuple(lines),
        beads.quantize(CENT),
        (total - beads).quantize(CENT),
        total.quantize(CENT),
        tuple(missing),
    )


def _line(label: str, amount: float, unit: str, rate: float) -> Line:
    if not (0 <= amount < 1e12 and 0 <= rate < 1e12):
        raise UsageError(f"{label}: {amount:g} {unit} at {rate:g} makes no price", fix="give figures of 0 or more")
    # The amount is rounded first: what is shown is what is multiplied.
    shown = Decimal(str(amount)).quantize(CENT, ROUND_HALF_UP)
    exact_rate = Decimal(str(rate))
    return Line(label, shown, unit, exact_rate, (shown * exact_rate).quantize(CENT, ROUND_HALF_UP))
