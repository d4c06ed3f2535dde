"""How large: from a finger, a hand or a count to the units or beads that a piece begins with."""

from __future__ import annotations

import re
from dataclasses import dataclass

from stitchalong.course.words import counted
from stitchalong.design.reading import MOST_COUNT, read_even, read_number
from stitchalong.design.wanted import Kind
from stitchalong.errors import UsageError
from stitchalong.measure.beads import BeadSize
from stitchalong.measure.book import Book
from stitchalong.measure.fit import Choice, fit
from stitchalong.measure.gauge import MRAW, PEYOTE, Per
from stitchalong.measure.rings import Way, band, tube
from stitchalong.measure.sizes import RingSize, Scale, read_ring_size, ring_size
from stitchalong.measure.units import Units, length, read_length
from stitchalong.measure.wear import Ease, bangle, bracelet, read_hand, read_wrist
from stitchalong.plan.text import shown

_STEPS = {"us": 0.5, "iso": 1.0, "jp": 1.0, "hand": 0.5, "wrist": 0.5, "long": 0.5, "": 0.5}
"""by how much a key makes a size larger, by what stands before its number"""


@dataclass(frozen=True, slots=True)
class Offers:
    """Counts that come near a size asked for, the best first."""

    counts: tuple[int, ...]
    texts: tuple[str, ...]


def way_for(kind: Kind, bead: BeadSize, book: Book) -> Way | None:
    """How this kind makes a ring out of a count; None where the bead's measures are not known."""
    gauge = book.gauge(bead, MRAW, Per.UNIT) if kind.finned else book.gauge(bead, PEYOTE, Per.COLUMN)
    if gauge is None:
        return None
    return band(gauge) if kind.finned else tube(bead, gauge)


def read_size(
    word: str, kind: Kind, way: Way | None, sides: int, units: Units, width: float | None = None
) -> int | Offers:
    """A count as it is, or what comes near a ring size or a hand; `width` of the ring in mm, where it is known.

    Raises UsageError.
    """
    plain = word.strip().casefold()
    number = re.fullmatch(r"(\d+)(?: (?:units|beads))?", plain)
    if number:
        if kind.finned:
            return read_number(number[1], 2 * sides, MOST_COUNT, "units")
        return read_even(number[1], 6, "beads")
    if way is None:
        raise UsageError(f"“{shown(word)}” is no number", fix="the bead's measures are not known, so give a number")
    hand = plain.startswith("hand")
    size = ring_size(bangle(read_hand(plain[4:])).value, Scale.MM) if hand else read_ring_size(word)
    found = _near(size, way, sides, None if hand else width)
    if not found:
        raise UsageError(f"{size} is too small for {counted(sides, 'side')}", fix="a larger size, or fewer sides")
    factor = 1 if kind.finned else 2
    return Offers(
        tuple(choice.count * factor for choice in found), tuple(_offer(choice, way, units) for choice in found)
    )


def read_rows(word: str, bead: BeadSize, book: Book, least: int, most: int) -> int:
    """Rows of a strip: so many, as many as go round a wrist (`wrist 16 cm`), or as long as said (`long 18 cm`).

    Raises UsageError.
    """
    found = re.fullmatch(r"(wrist|long) *(.*)", word.strip().casefold())
    if found is None:
        return read_number(word, least, most, "rows")
    gauge = book.gauge(bead, PEYOTE, Per.ROW)
    if gauge is None:
        raise UsageError("the bead's measures are not known", fix="give a number of rows")
    wrist = found[1] == "wrist"
    target = bracelet(read_wrist(found[2]), Ease.COMFORTABLE).value if wrist else read_length(found[2])
    return read_number(str(round(target / gauge.length(1).value)), least, most, "rows")


def _near(size: RingSize, way: Way, sides: int, width: float | None) -> tuple[Choice, ...]:
    """The nearest counts, the nearest with equal sides among them; the nearest first that is not too small."""
    found = fit(size, way, sides, width=width)
    all_of = [found.nearest, found.larger, found.smaller, found.equal_larger, found.equal_smaller]
    counts = {choice.count: choice for choice in all_of if choice is not None and choice.count >= 2 * sides}
    near = sorted(counts.values(), key=lambda choice: abs(choice.off))
    first = next((choice for choice in near if choice.fits.nominal >= size.nominal), None)
    return tuple(near if first is None else [first, *(choice for choice in near if choice is not first)])


def _offer(choice: Choice, way: Way, units: Units) -> str:
    """`US 7: 25 units, sides 7 6 6 6, 0.3 mm larger than asked for`."""
    sides = f", sides {' '.join(map(str, choice.sides))}" if len(choice.sides) > 1 else ""
    off = f"{length(abs(choice.off), units)} {'larger' if choice.off > 0 else 'smaller'} than asked for"
    return f"{choice.fits}: {counted(choice.count, way.word, way.word)}{sides}, {off}"


def size_stepped(word: str, by: int, count_step: int) -> str:
    """The next larger or smaller: `US 7` → `US 7.5`, `28` → `29`; as it is where it has no number."""
    found = re.fullmatch(r"\s*(us|iso|jp|hand|wrist|long)?\s*(\d+(?:[.,]\d+)?)\s*(.*)", word, re.IGNORECASE)
    if found is None:
        return word
    before, number, after = found[1] or "", float(found[2].replace(",", ".")), found[3].strip()
    step = _STEPS[before.casefold()] if before or after.startswith(("mm", "cm", "in")) else count_step
    new = max(step, number + by * step)
    return " ".join(part for part in (before, f"{new:g}", after) if part)
