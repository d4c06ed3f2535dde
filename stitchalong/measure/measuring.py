"""What can be measured of a swatch or a ring, as people say it; what was measured and what it makes, in words."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from stitchalong.errors import UsageError
from stitchalong.measure.beads import look_up
from stitchalong.measure.book import THREAD, Book, known_bead, measured
from stitchalong.measure.figure import Figure
from stitchalong.measure.gauge import (
    BRICK,
    HERRINGBONE,
    MRAW,
    PEYOTE,
    RAW,
    SQUARE,
    Measurement,
    Per,
    measured_ring,
)
from stitchalong.measure.measured import Measured
from stitchalong.measure.sizes import read_ring_size
from stitchalong.measure.units import INCH, Units, length, read_length

WHAT = {"band": Per.UNIT, "weave": Per.UNIT, "columns": Per.COLUMN, "rows": Per.ROW}
"""what can be measured"""
STITCHES = {"peyote": PEYOTE, "square": SQUARE, "brick": BRICK, "herringbone": HERRINGBONE}
"""of which columns and rows can be measured"""
_UNITS = {"band": MRAW, "weave": RAW}


def read_measured(bead: str, of: str, count: int, long: str, tension: str = "", stitch: str = "") -> Measured:
    """`11/0 cylinder`, `band`, 24, `54.1mm` or `US 7`; `stitch` of columns and rows, else peyote. Raises UsageError."""
    if stitch and of in _UNITS:
        raise UsageError("a stitch is named for columns and rows", fix=f"leave it out for {of}")
    name = _UNITS.get(of) or STITCHES[stitch or "peyote"]
    if of == "band":
        try:
            one = Measurement(count, read_length(long))
        except UsageError:
            if re.fullmatch(r"[\d.,]+", long.strip()):
                fix = "a length as 54.1mm, or a ring size as US 7"
                raise UsageError(f"“{long.strip()[:40]}” does not say its unit", fix=fix) from None
            one = measured_ring(count, read_ring_size(long))
    else:
        one = Measurement(count, read_length(long))
    return measured(known_bead(bead), name, WHAT[of], one, tension_word(tension))


def tension_word(tension: str) -> str:
    """A word of the stitcher's own, as it is kept."""
    return " ".join(tension.split()).casefold()


def what_of(one: Measured) -> str:
    """`band`, `weave`, `columns`, `rows`, `thread`."""
    if one.stitch == THREAD:
        return THREAD
    units = {stitch: word for word, stitch in _UNITS.items()}
    return units.get(one.stitch) or next(word for word, per in WHAT.items() if per == one.per)


def counted_words(one: Measured) -> str:
    """`24 units of a band`, `20 rows of brick stitch`; `thread`."""
    what = what_of(one)
    if what == THREAD:
        return THREAD
    word = what if what in ("columns", "rows") else "units"
    return f"{one.count:,} {word if one.count != 1 else word[:-1]} of {_made_of(one.stitch)}"


def _made_of(stitch: str) -> str:
    return {MRAW: "a band", RAW: "weave"}.get(stitch, stitch)


def length_words(one: Measured, units: Units) -> str:
    """How long it was; of thread, how many times the beads passed."""
    return f"{one.length / one.count:.2f} times" if one.stitch == THREAD else length(one.length, units)


# ---- what it makes ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Own:
    """A gauge of one's own."""

    bead: str
    of: str
    stitch: str
    tension: str
    each: Figure
    """mm; for thread a share"""
    usual: Figure | None
    """the same without what was measured"""


def own_gauges(kept: Sequence[Measured], only: Measured | None = None) -> Iterator[Own]:
    """The gauges that the measurements make; `only`: that to which this one belongs."""
    done = set()
    for one in [only] if only is not None else kept:
        key = (one.size, one.shape, one.stitch, one.per, one.tension)
        if key in done:
            continue
        done.add(key)
        book = Book(kept, one.tension)
        if one.stitch == THREAD:
            yield Own("", THREAD, THREAD, "", book.slack(), Book().slack())
            continue
        bead = look_up(one.size, one.shape)
        if bead is None:
            continue
        own, usual = (some.gauge(bead, one.stitch, Per(one.per)) for some in (book, Book()))
        if own is not None:
            bead_name = f"{one.size} {one.shape}"
            yield Own(bead_name, what_of(one), one.stitch, one.tension, own.each, usual.each if usual else None)


def gauge_line(own: Own, units: Units) -> str:
    """`11/0 cylinder, tight: 2.21 mm (2.16 to 2.26) a unit of a band; 1 measurement …; without it 2.24 mm`."""
    if own.of == THREAD:
        low, high = own.each.low, own.each.high
        usual = f"; without it {own.usual.value:.2f}" if own.usual and own.usual != own.each else ""
        return f"thread: {own.each.value:.2f} ({low:.2f} to {high:.2f}) times the beads passed; {own.each.basis}{usual}"
    tension = f", {own.tension}" if own.tension else ""
    word = {"columns": "column", "rows": "row"}.get(own.of, "unit")
    usual = f"; without it {_fine(own.usual.value, units)}" if own.usual and own.usual != own.each else ""
    each = f"{_fine(own.each.value, units)} ({_bare(own.each.low, units)} to {_bare(own.each.high, units)})"
    return f"{own.bead}{tension}: {each} a {word} of {_made_of(own.stitch)}; {own.each.basis}{usual}"


def _fine(millimetres: float, units: Units) -> str:
    """Gauges are told finer than lengths: `2.24 mm`, `0.0882 in`."""
    return f"{_bare(millimetres, units)} {'in' if units is Units.INCH else 'mm'}"


def _bare(millimetres: float, units: Units) -> str:
    return f"{millimetres / INCH:.4f}" if units is Units.INCH else f"{millimetres:.2f}"
