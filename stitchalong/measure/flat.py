"""Will it lie flat? The growth a round against the flat growth, and the total angle.

Split a polygon of n ribs into n sectors. A round adds half a bead's thickness outward (h / 2), so that a flat
sector widens by (h / w) · tan(180° / n) columns a round, w being the bead's length; idea and the case n = 10
with 1.6 × 1.3 mm: beadmechanics.com /2020/02/08/flat-peyote-decagon and /2019/11/17/flat-peyote-octagon. A
sector that widens by g columns a round has the apex angle 2 · atan(g · w / h), n of them the total angle:
360° is flat. Published flat patterns fall in 341° to 360°, hence the bands. Columns are counted on both edges
of a bead's row: one up bead more is two columns more.

Beads with rounded ends nest deeper than half their thickness, and stitchers report that they lie flat where
the model says cup (bellaonline.com/articles/art62793.asp): for them the verdict is doubtful without a swatch.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from stitchalong.errors import UsageError
from stitchalong.measure.beads import BeadSize

FLAT_FROM, FLAT_TO = 335.0, 365.0
"""degrees of total angle that lie flat in practice"""


class Verdict(StrEnum):
    TUBE = "stands up"
    """no growth: a tube or a wall"""
    CUP = "cups"
    FLAT = "lies flat"
    SADDLE = "warps to a saddle"
    """too full, with four ribs or fewer: two corners rise and two fall"""
    RUFFLE = "ruffles"
    NARROWS = "closes in"
    """rounds become smaller"""


@dataclass(frozen=True, slots=True)
class Flatness:
    ribs: int
    """0: growth spread round, no ribs"""
    growth: float
    """columns a round and rib; without ribs, columns a round"""
    flat_growth: float | None
    """what would be flat; None where nothing is, with one or two ribs"""
    angle: float
    """total angle in degrees; below 0 where the work closes in"""
    verdict: Verdict
    doubt: str = ""
    """why the verdict may not hold; empty where nothing speaks against it"""


def flat_growth(height: float, width: float, ribs: int) -> float | None:
    """Columns a round that each sector of a flat polygon widens by; without ribs (0), columns a round of a
    flat disc.

    `height` is the bead's thickness, `width` its length along the hole, both in mm. None for one or two ribs,
    with which nothing lies flat.
    """
    _check(height, width, ribs)
    if ribs == 0:
        return math.pi * height / width
    return height / width * math.tan(math.pi / ribs) if ribs > 2 else None


def total_angle(growth: float, height: float, width: float, ribs: int) -> float:
    """Degrees round the point from which the work grows; arguments as in `flat_growth`."""
    _check(height, width, ribs)
    if ribs == 0:
        return 360 * growth * width / (math.pi * height)
    return math.degrees(2 * ribs * math.atan(growth * width / height))


def _check(height: float, width: float, ribs: int) -> None:
    if not (height > 0 and width > 0):
        raise UsageError("a bead must measure more than 0 mm", fix="give its length and width in millimetres")
    if ribs < 0:
        raise UsageError(f"{ribs} ribs cannot be", fix="0 where there are none")


def growth_of(ups: Sequence[int], ribs: int = 0) -> float:
    """Columns a round (and rib) by which an edge grows, from its number of up beads, round after round.

    Where the latter half and more of the rounds repeats a cycle (in a hexagon: one increase in three rounds)
    at least twice, the mean of one cycle, which does not hang on where in the cycle the last round falls;
    else of all rounds.
    """
    if len(ups) < 2:
        raise UsageError("growth can be told from two rounds on", fix="give more rounds")
    steps = [after - before for before, after in pairwise(ups)]
    cycle = next((period for period in range(1, len(steps) // 2 + 1) if _repeats(steps, period)), len(steps))
    return 2 * sum(steps[-cycle:]) / cycle / (ribs or 1)


def _repeats(steps: Sequence[int], period: int) -> bool:
    length = period
    while length < len(steps) and steps[-length - 1] == steps[-length - 1 + period]:
        length += 1
    return length >= 2 * period and 2 * length >= len(steps)


def growth_of_codes(codes: Sequence[int]) -> float:
    """Columns a round and rib of a cycle of corner codes: 2 and 3 add an up bead, 1 and 0 none (`2-1-0`,
    `3-2-2-1-0`)."""
    if not codes or not set(codes) <= {0, 1, 2, 3}:
        raise UsageError("corner codes are 0, 1, 2 and 3", fix="2-1-0 for a hexagon, for example")
    return 2 * sum(code > 1 for code in codes) / len(codes)


def flatness(growth: float, bead: BeadSize, ribs: int) -> Flatness | None:
    """The verdict on work that grows by so many columns a round (and rib); None where the bead's measures
    are not known."""
    if bead.outside is None or bead.length is None:
        return None
    angle = total_angle(growth, bead.outside, bead.length, ribs)
    doubt = ""
    if not bead.flat_ended:
        doubt = "beads with rounded ends nest deeper than the model thinks and lie flatter: try a swatch"
    elif bead.spread > 0.10:
        doubt = "this bead's measures are not sure: measure your own, or try a swatch"
    return Flatness(ribs, growth, flat_growth(bead.outside, bead.length, ribs), angle, _verdict(angle, ribs), doubt)


def _verdict(angle: float, ribs: int) -> Verdict:
    if angle < 0:
        return Verdict.NARROWS
    if angle == 0:
        return Verdict.TUBE
    if angle < FLAT_FROM:
        return Verdict.CUP
    if angle <= FLAT_TO:
        return Verdict.FLAT
    return Verdict.SADDLE if 0 < ribs <= 4 else Verdict.RUFFLE
