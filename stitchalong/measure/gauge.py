"""Gauge: millimetres that one unit, column or row takes, by default and in a stitcher's own hands.

Defaults:

- *MRAW band, unit*: 2.24 mm of inner circumference for 11/0 cylinders (1.6 × 1.3 mm) worked snugly, ± 4 %, so
  that a joined band of 24 units comes out between US 6½ and 7. Common practice, no source; a calibration, not
  evidence for a model. Other beads: a unit is one bead long (its bottom bead) and one bead thick (its side
  bead), so the figure goes with length + outside; the ends of the range also take in the scaling with the
  length alone and the outside alone, and at least ± 8 %.
- *right-angle weave, unit*: between √2 · outside (spheres that touch at the corners) and outside + length
  (square shoulders). Geometry, no source.
- *peyote, column and row*: a column is one bead long, a row (as the trade counts, zig-zag) half a bead thick.
  ± 5 % for tension (3 to 5 %, from memory), for beads with rounded ends, which nest deeper, ± 15 % (an
  estimate), and at least the spread of the bead's own measures.
- *square stitch*: a column is one bead long, a row one bead thick. *Brick stitch*: its beads stand, so that a column is
  one bead thick and a row one bead long; it is peyote turned by a quarter. *Herringbone*: the same, but two and two
  lean against each other, ± 15 %. Geometry, no source.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from stitchalong.errors import UsageError
from stitchalong.measure.beads import BeadSize
from stitchalong.measure.figure import Figure, positive
from stitchalong.measure.sizes import RingSize, Scale


class Per(StrEnum):
    """What the millimetres are counted by."""

    UNIT = "unit"
    COLUMN = "column"
    ROW = "row"


MRAW, RAW, PEYOTE = "MRAW band", "right-angle weave", "peyote"
SQUARE, BRICK, HERRINGBONE = "square stitch", "brick stitch", "herringbone"
"""Stitches that have a default; any other name is a stitcher's to measure."""
STANDING = (BRICK, HERRINGBONE)
"""stitches whose beads stand, their holes across the row"""

MRAW_UNIT = 2.24
"""mm of inner circumference a unit"""
MRAW_SPREAD = 0.04
MRAW_AT = 24
"""units of the band by which it was calibrated"""
_MRAW_OUTSIDE, _MRAW_LENGTH = 1.6, 1.3

HAND = 0.01
"""How much two pieces by the same hand differ, one standard deviation, as a share. An estimate, no source;
that they differ: modernminerals.com spiceberry (strips of eight inches with unequal numbers of rows)."""
READING = 0.5
"""mm that a reading of a length may be off, one standard deviation"""


@dataclass(frozen=True, slots=True)
class Gauge:
    """Millimetres per unit, column or row, for one bead, stitch and tension."""

    size: str
    shape: str
    stitch: str
    per: Per
    tension: str
    """a word of the stitcher's own; empty for her usual one"""
    each: Figure
    """mm; of a band the inner circumference a unit"""
    wall: float
    """thickness of the work, mm"""
    at: float | None = None
    """the number of units for which a ring's gauge holds best; None: flat work, the same for any number"""
    pieces: int = 0
    """measurements that have gone in"""

    def length(self, count: int) -> Figure:
        """Millimetres of `count` units, columns or rows; of a ring, its inner circumference.

        Off the number of units for which a ring's gauge was found, the ends also take in the other model, in
        which the wall takes its share (π · wall) from every ring alike, however many units it has.
        """
        figure = self.each.times(count)
        if self.at is None:
            return figure
        other = figure.value + math.pi * self.wall * (count / self.at - 1)
        return figure.reaching(max(0.0, other))


@dataclass(frozen=True, slots=True)
class Measurement:
    """A swatch or a finished piece, measured."""

    count: int
    """units, columns or rows in the length measured"""
    length: float
    """mm; of a ring the inner circumference"""
    error: float = READING
    """mm, one standard deviation"""


def measured_ring(units: int, size: RingSize) -> Measurement:
    """A finished band of so many units that was found to have this size. Off by up to half a step of the
    scale."""
    step = {Scale.US: 0.64, Scale.UK: 0.625, Scale.JP: 1.05, Scale.ISO: 1.0, Scale.MM: 1.0}[size.scale]
    return Measurement(units, size.circumference, max(READING, step / 2))


def default_gauge(bead: BeadSize, stitch: str, per: Per, tension: str = "") -> Gauge | None:
    """The gauge before anybody has measured; None where there is no default or the bead's measures are not
    known."""
    if bead.outside is None or bead.length is None:
        return None
    at = None
    if stitch == MRAW and per is Per.UNIT:
        each, at = _band_unit(bead, bead.outside, bead.length), MRAW_AT
    elif stitch == RAW and per is Per.UNIT:
        low, high = math.sqrt(2) * bead.outside, bead.outside + bead.length
        low, high = min(low, high), max(low, high)
        each = Figure((low + high) / 2, low, high, "between round and square shoulders of the bead")
    elif per is not Per.UNIT and (size := _flat(bead.outside, bead.length, stitch, per)) is not None:
        straight = bead.flat_ended and stitch != HERRINGBONE
        spread = max(bead.spread, 0.05 if straight else 0.15)
        each = Figure.around(size, spread, "from the bead's measures; tension moves it")
    else:
        return None
    return Gauge(bead.size, bead.shape, stitch, per, tension, each, bead.outside, at)


def _flat(outside: float, length: float, stitch: str, per: Per) -> float | None:
    """A column or a row of flat work; None for a stitch that has no default."""
    if stitch in STANDING:
        return outside if per is Per.COLUMN else length
    if per is Per.COLUMN:
        return length if stitch in (PEYOTE, SQUARE) else None
    return {PEYOTE: outside / 2, SQUARE: outside}.get(stitch)


def _band_unit(bead: BeadSize, outside: float, length: float) -> Figure:
    if (bead.size, bead.shape, outside, length) == ("11/0", "cylinder", _MRAW_OUTSIDE, _MRAW_LENGTH):
        return Figure.around(MRAW_UNIT, MRAW_SPREAD, "common practice for 11/0 cylinders worked snugly")
    by_length, by_outside = length / _MRAW_LENGTH, outside / _MRAW_OUTSIDE
    by_both = (length + outside) / (_MRAW_LENGTH + _MRAW_OUTSIDE)
    basis = "common practice for 11/0 cylinders, scaled by the bead's length and thickness"
    figure = Figure.around(MRAW_UNIT * by_both, 2 * MRAW_SPREAD, basis)
    return figure.reaching(
        *(MRAW_UNIT * by * end for by in (by_length, by_outside) for end in (1 - MRAW_SPREAD, 1 + MRAW_SPREAD))
    )


def improved(default: Gauge, measurements: Sequence[Measurement]) -> Gauge:
    """The gauge after a stitcher's own measurements: a mean weighted by precision, the default being one
    voice in it.

    The default enters with half its range as its standard deviation: a weak voice, because it stands for all
    hands. A measurement x = length / count enters with √(hand² + (error / count)²), where `hand` is what two
    pieces by one hand differ by (`HAND`). The range is ± 2 standard deviations of the next piece, √(variance
    of the mean + hand²), and never wider than the default's, unless the measurements differ among themselves
    by more than they should: then both are widened by √(χ² / (N − 1)), as the Particle Data Group does
    (Review of Particle Physics, Introduction; from memory).

    Raises UsageError for a count or length that is none, and for one that is half or twice what the default
    says.
    """
    if not measurements:
        return default
    return _combined(default, measurements, ", and the default")


def _combined(default: Gauge, measurements: Sequence[Measurement], rest: str) -> Gauge:
    hand = HAND * default.each.value
    found = [(_each(one, default), math.hypot(hand, one.error / one.count), one.count) for one in measurements]
    prior = (default.each.high - default.each.low) / 2
    weights = [1 / sd**2 for _, sd, _ in found]
    weight = sum(weights) + 1 / prior**2
    sum_own = sum(w * x for w, (x, _, _) in zip(weights, found, strict=True))
    mean = (sum_own + default.each.value / prior**2) / weight
    own = sum_own / sum(weights)
    chi = sum(w * (x - own) ** 2 for w, (x, _, _) in zip(weights, found, strict=True))
    scatter = max(1.0, math.sqrt(chi / (len(found) - 1))) if len(found) > 1 else 1.0
    half = 2 * scatter * math.sqrt(1 / weight + hand**2)
    if scatter == 1.0:
        half = min(half, prior)
    at = default.at
    if at is not None:
        counts = sum(w * count for w, (_, _, count) in zip(weights, found, strict=True))
        at = (counts + at / prior**2) / weight
    what = "1 measurement" if len(found) == 1 else f"{len(found)} measurements"
    each = Figure(mean, max(0.0, mean - half), mean + half, f"{what} of your own{rest}")
    return replace(default, each=each, at=at, pieces=len(found))


def swatch(bead: BeadSize, stitch: str, per: Per, measurements: Sequence[Measurement], tension: str = "") -> Gauge:
    """The gauge of a stitch that has no default, from a stitcher's own measurements alone: their mean,
    weighted by precision, ± 2 standard deviations as in `improved`. Raises UsageError without a
    measurement."""
    if not measurements:
        raise UsageError(f"no gauge is known for {stitch}", fix="measure a swatch")
    first = measurements[0]
    each = positive(first.length, "the length measured") / positive(first.count, "the count")
    wall = bead.outside or 0.0
    blank = Gauge(bead.size, bead.shape, stitch, per, tension, Figure(each, 0.0, 2 * each), wall)
    return _combined(blank, measurements, "")


def _each(one: Measurement, default: Gauge) -> float:
    positive(one.count, "the count")
    positive(one.length, "the length measured")
    positive(one.error, "the error of a reading")
    each = one.length / one.count
    if not 0.5 <= each / default.each.value <= 2:
        raise UsageError(
            f"{one.length:g} mm for {one.count} makes {each:.2f} mm a {default.per}, "
            f"where about {default.each.value:.2f} is usual",
            fix="is the count right, and the length in millimetres?",
        )
    return each
