"""Figures in words: lines for people, the same on the command line and on the screens."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from stitchalong.course.words import counted
from stitchalong.measure.figure import Figure
from stitchalong.measure.flat import Verdict
from stitchalong.measure.materials import Material
from stitchalong.measure.need import ThreadNeed
from stitchalong.measure.of_course import FINS, PartFlatness
from stitchalong.measure.price import Price
from stitchalong.measure.size import Size, Sizes, Sort, count_words
from stitchalong.measure.sizes import SOURCES, RingSize, Scale, chart_notes, every_size
from stitchalong.measure.units import Units, length, length_range, thread, thread_range, weight, weight_range

MOST_PLACES = 40
"""changes of thread that are told one by one"""

# ---- size ---------------------------------------------------------------------------------------


def size_lines(size: Size, units: Units, *, sources: bool = True) -> Iterator[str]:
    """How large it comes out. `sources`: where each scale comes from, too."""
    if size.inside is not None:
        across = size.inside.times(1 / math.pi)
        yield f"inside: {length_range(size.inside, units)} around, {length_range(across, units)} across"
        yield f"reckoned from {count_words(size)} of {size.bead}: {size.inside.basis}"
    elif size.bead:
        yield f"no ring size: it is not closed into a ring; reckoned for {size.bead}"
    if size.sort is Sort.NARROW:
        yield "no ring size: it is too narrow for a finger"
    elif size.sort is Sort.BANGLE and size.hand is not None:
        hand = length_range(size.hand, units)
        yield f"no ring size: it is a bangle; it goes over a closed hand of up to {hand} around"
    for one in size.rings:
        yield f"{sizes_words(one)}{f'; {SOURCES[one.value.scale]}' if sources else ''}"
    for extent in size.extents:
        yield f"{extent.label}: {length_range(extent.length, units)}; {extent.length.basis}"
    if size.wide is not None and size.finger is not None:
        yield f"{size.wide.text} So it fits a finger of about {size.finger}."
    yield from size.notes
    if size.caution:
        yield size.caution


def sizes_words(one: Sizes) -> str:
    """`US 6¾ (6 to 7½)`."""
    prefix = "" if one.value.scale is Scale.MM else f"{one.value.scale} "
    low, value, high = (size.text for size in (one.low, one.value, one.high))
    return value if low == high else f"{value} ({low.removeprefix(prefix)} to {high.removeprefix(prefix)})"


def conversion_notes(ring: RingSize) -> tuple[str, ...]:
    """What to know where charts disagree, about each scale."""
    return tuple(dict.fromkeys(note for one in every_size(ring.circumference) for note in chart_notes(one)))


def conversion_lines(ring: RingSize, units: Units) -> Iterator[str]:
    """A ring size on every scale, computed, with what to know where charts disagree."""
    yield f"{ring}: {length(ring.circumference, units)} around inside, {length(ring.diameter, units)} across"
    for one in every_size(ring.circumference):
        yield f"{one}; {SOURCES[one.scale]}"
    yield from conversion_notes(ring)


# ---- beads --------------------------------------------------------------------------------------


def bead_lines(needs: Sequence[Material], names: Mapping[str, str], units: Units, people: int = 1) -> Iterator[str]:
    """What to have ready of each bead, in all, and where that comes from."""
    for need in needs:
        line = f"{need.code} {names[need.code]}: {counted(need.count, 'bead')}"
        if need.grams is not None and need.buy_grams is not None:
            packs = ", ".join(f"{pack.number} of {pack.grams:g} g" for pack in need.packs)
            line += f", {weight_range(need.grams, units)}; with the allowance {counted(need.buy_count, 'bead')}"
            line += f", {weight(need.buy_grams, units)}: buy {packs}"
        else:
            line += f"; with the allowance {counted(need.buy_count, 'bead')}"
        yield line
    known = [need.grams for need in needs if need.grams is not None]
    whole = sum(need.count for need in needs)
    line = f"in all {counted(whole, 'bead')}"
    if known and len(known) == len(needs):
        weights = Figure(*(sum(getattr(one, part) for one in known) for part in ("value", "low", "high")))
        line += f", {weight_range(weights, units)}"
    yield line + (f", for {counted(people, 'person', 'people')}" if people > 1 else "")
    yield "allowance: a tenth more, for odd beads; weights from the beads' measures and the density of glass"
    for need in needs:
        if need.note:
            yield need.note


# ---- thread -------------------------------------------------------------------------------------


def thread_lines(need: ThreadNeed, places: Sequence[str], units: Units, *, rounds: bool = True) -> Iterator[str]:
    """Thread in all, its lengths and where they change, by part and by round. `places`: of the changes, in words."""
    plan = need.plan
    yield f"thread: {thread_range(plan.total, units)} in all, with tails and changes; {plan.total.basis}"
    number = str(plan.lengths)
    if plan.lengths_low != plan.lengths_high:
        number += f" ({plan.lengths_low} to {plan.lengths_high})"
    yield f"working lengths of {thread(plan.working, units)}: {number}"
    for nth, place in enumerate(places[:MOST_PLACES], start=2):
        yield f"length {nth} from about {place}"
    if len(places) > MOST_PLACES:
        yield f"and {len(places) - MOST_PLACES:,} more changes"
    yield f"tails, and ends woven in at changes: {thread_range(plan.ends, units)} of it"
    if not rounds:
        return
    for use in plan.parts:
        yield f"{use.label}: {thread_range(use.length, units)}"
    for use in plan.rounds:
        if use.label not in {part.label for part in plan.parts}:
            yield f"{use.label}: {thread_range(use.length, units)}"
    yield from need.notes


# ---- price --------------------------------------------------------------------------------------


def price_lines(found: Price) -> Iterator[str]:
    """Every line of the reckoning, the sum, and what is not in it."""
    yield from map(str, found.lines)
    if found.work:
        yield f"materials: {found.materials}"
        yield f"work: {found.work}"
    yield f"in all: {found.total}, in the plan's own currency; thread is not in it"
    if found.missing:
        yield f"not in it, because price or weight is not known: {', '.join(found.missing)}"


# ---- flatness -----------------------------------------------------------------------------------


def flat_lines(parts: Sequence[PartFlatness]) -> Iterator[str]:
    """Whether it lies flat, part by part."""
    if not parts:
        yield "nothing of it is worked in rounds of peyote in beads whose measures are known: a swatch tells more"
        return
    for part in parts:
        rounds = f"round {part.first}" if part.first == part.last else f"rounds {part.first} to {part.last}"
        doubtful = "; doubtful" if _doubt(part) else ""
        yield f"{part.edge} edge, {rounds}: {_flat_words(part)}{doubtful}"
    if any(part.fins for part in parts):
        yield FINS
    yield from (f"doubtful: {doubt}" for doubt in dict.fromkeys(map(_doubt, parts)) if doubt)
    yield "360° is flat, 335° to 365° lies flat in practice; the model is plain geometry, tension moves it"


def _doubt(part: PartFlatness) -> str:
    """Nothing is doubtful of a wall, nor of fins that they rise."""
    if part.flatness.verdict is Verdict.TUBE:
        return ""
    return part.flatness.doubt.removeprefix(FINS).removeprefix("; ") if part.fins else part.flatness.doubt


def _flat_words(part: PartFlatness) -> str:
    found = part.flatness
    if found.verdict is Verdict.TUBE:
        return f"{found.verdict}; nothing grows"
    per = "a round and rib" if found.ribs else "a round"
    if found.verdict is Verdict.NARROWS:
        return f"{found.verdict}; {counted(found.ribs, 'rib')}, {-found.growth:.2f} columns fewer {per}"
    verdict = "rises as fins" if part.fins else found.verdict
    words = f"{verdict}; {found.angle:.0f}°, {counted(found.ribs, 'rib')}, {found.growth:.2f} columns {per}"
    return words if found.flat_growth is None else f"{words} where {found.flat_growth:.2f} would be flat"
