"""Figures of a plan or a piece: its size, its beads, its thread, whether it lies flat, how long it takes, its price.

With `--json` each is one object with `format`, `title`, `piece` (null for a plan), `beads` (in all), lengths in mm,
weights in grams, times in seconds; a figure is an object of `value`, `low`, `high` and `basis`. Beside these

- `size`: `sort` (`ring`, `bangle`, `tube`, `no ring`), `count` and `of` (28, `units`), `inside`, `rings` (a list of
  `scale`, `size`, `low`, `high`), `finger` and `hand` (which of them it fits, or null), `measures` (a list of `label`
  and `length`), `notes`;
- `beads`: `people` and `codes`, a list of `code`, `name`, `count`, `grams`, `buy_count`, `buy_grams`, `packs` (a list
  of `grams` and `number`), `note`;
- `thread`: `total`, `ends` (tails and changes, of it), `length` (of one working length), `lengths` (with `low` and
  `high`), `changes` (a list of `position` in steps and `place` in words), `parts` and `rounds` (lists of `label` and
  `length`), `notes`;
- `flat`: `parts`, a list of `edge`, `first` and `last` (rounds), `verdict`, `angle`, `ribs`, `growth`, `flat_growth`,
  `fins` (whether it rises from a band, as is meant), `doubt`;
- `time`: `left` (beads), `whole` and `rest` (null where no pace is known), `spent`, `pace` (seconds a bead);
- `price`: `lines` (a list of `label`, `amount`, `unit`, `rate`, `sum`, in decimal words), `materials`, `work`, `total`,
  `missing` (codes).

`size --ring` has neither a title nor a piece, but `ring` (as it was read), `inside` and `across` in mm, `rings` (a list
of `scale` and `size`) and `notes`.
"""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator

from stitchalong.commands.subject import Subject, subject_of, units_of
from stitchalong.commands.world import World
from stitchalong.errors import Exit, UsageError
from stitchalong.measure.figure import Figure
from stitchalong.measure.in_figures import time_lines
from stitchalong.measure.need import beads_of, place_words, thread_of
from stitchalong.measure.of_course import flat_parts
from stitchalong.measure.pace import duration
from stitchalong.measure.price import price
from stitchalong.measure.size import size_of
from stitchalong.measure.sizes import every_size, read_ring_size
from stitchalong.measure.thread import WORKING
from stitchalong.measure.units import Units, read_length
from stitchalong.measure.words import (
    bead_lines,
    conversion_lines,
    conversion_notes,
    flat_lines,
    price_lines,
    size_lines,
    thread_lines,
)

Answer = tuple[dict[str, object], Iterator[str]]
"""a document for scripts, lines for people"""


def run(asked: Namespace, world: World) -> int:
    """`size`, `beads`, `thread`, `flat`, `time` or `price`."""
    units = units_of(asked, world)
    if asked.command == "size" and asked.ring is not None:
        return _converted(asked, world, units)
    working = read_length(asked.length) if getattr(asked, "length", None) is not None else WORKING
    subject = subject_of(asked, world)
    match asked.command:
        case "size":
            document, lines = _size(subject, units)
        case "beads":
            document, lines = _beads(subject, units, asked.people)
        case "thread":
            document, lines = _thread(subject, units, working)
        case "flat":
            document, lines = _flat(subject)
        case "time":
            document, lines = _time(subject)
        case _:
            document, lines = _price(subject, asked)
    if asked.json:
        world.say_data(subject.document() | document)
    else:
        world.say(subject.heading)
        if subject.doubt:
            world.say(subject.doubt)
        world.say_all(lines)
    return Exit.OK


def data_of(figure: Figure | None) -> dict[str, object] | None:
    """A figure as data."""
    if figure is None:
        return None
    numbers = {name: round(getattr(figure, name), 4) for name in ("value", "low", "high")}
    return numbers | {"basis": figure.basis}


def _size(subject: Subject, units: Units) -> Answer:
    size = size_of(subject.course, subject.plan, subject.book)
    rings = [
        {"scale": str(one.value.scale), "size": str(one.value), "low": str(one.low), "high": str(one.high)}
        for one in size.rings
    ]
    document: dict[str, object] = {
        "sort": str(size.sort),
        "count": size.count,
        "of": size.word,
        "bead": size.bead,
        "inside": data_of(size.inside),
        "rings": rings,
        "finger": str(size.finger) if size.finger else None,
        "hand": data_of(size.hand),
        "measures": [{"label": one.label, "length": data_of(one.length)} for one in size.extents],
        "notes": list(size.notes),
    }
    return document, size_lines(size, units)


def _converted(asked: Namespace, world: World, units: Units) -> Exit:
    """A ring size on every scale."""
    if asked.what is not None:
        raise UsageError(
            "a ring size is asked for alone, or a plan or piece", fix="`fit PLAN --ring` brings them together"
        )
    ring = read_ring_size(asked.ring)
    if asked.json:
        sizes = [{"scale": str(one.scale), "size": str(one)} for one in every_size(ring.circumference)]
        world.say_data(
            {
                "format": 1,
                "ring": str(ring),
                "inside": round(ring.circumference, 4),
                "across": round(ring.diameter, 4),
                "rings": sizes,
                "notes": list(conversion_notes(ring)),
            }
        )
    else:
        world.say_all(conversion_lines(ring, units))
    return Exit.OK


def _beads(subject: Subject, units: Units, people: int) -> Answer:
    needs = beads_of(subject.course, subject.plan, people)
    names = {bead.code: bead.name for bead in subject.plan.beads}
    codes = [
        {
            "code": need.code,
            "name": names[need.code],
            "count": need.count,
            "grams": data_of(need.grams),
            "buy_count": need.buy_count,
            "buy_grams": None if need.buy_grams is None else round(need.buy_grams, 4),
            "packs": [{"grams": pack.grams, "number": pack.number} for pack in need.packs],
            "note": need.note,
        }
        for need in needs
    ]
    return {"people": people, "codes": codes}, bead_lines(needs, names, units, people)


def _thread(subject: Subject, units: Units, working: float) -> Answer:
    need = thread_of(subject.course, subject.plan, subject.book, working)
    places = place_words(subject.course, subject.plan, need.changes)
    found = need.plan
    document: dict[str, object] = {
        "total": data_of(found.total),
        "ends": data_of(found.ends),
        "length": found.working,
        "lengths": {"value": found.lengths, "low": found.lengths_low, "high": found.lengths_high},
        "changes": [
            {"position": position, "place": place} for position, place in zip(need.changes, places, strict=True)
        ],
        "parts": [{"label": use.label, "length": data_of(use.length)} for use in found.parts],
        "rounds": [{"label": use.label, "length": data_of(use.length)} for use in found.rounds],
        "notes": list(need.notes),
    }
    return document, thread_lines(need, places, units)


def _flat(subject: Subject) -> Answer:
    parts = flat_parts(subject.course, subject.plan)
    rows = [
        {
            "edge": part.edge,
            "first": part.first,
            "last": part.last,
            "verdict": str(part.flatness.verdict),
            "angle": round(part.flatness.angle, 2),
            "ribs": part.flatness.ribs,
            "growth": round(part.flatness.growth, 4),
            "flat_growth": None if part.flatness.flat_growth is None else round(part.flatness.flat_growth, 4),
            "fins": part.fins,
            "doubt": part.flatness.doubt,
        }
        for part in parts
    ]
    return {"parts": rows}, flat_lines(parts)


# ---- time and price -----------------------------------------------------------------------------


def _time(subject: Subject) -> Answer:
    pace, beads = subject.pace, subject.course.beads
    whole = pace.time_for(beads) if pace else None
    rest = pace.time_for(subject.left) if pace else None
    spent = subject.piece.seconds if subject.piece else 0.0
    document: dict[str, object] = {
        "left": subject.left,
        "whole": data_of(whole),
        "rest": data_of(rest),
        "spent": round(spent),
        "pace": data_of(pace.each if pace else None),
    }

    def lines() -> Iterator[str]:
        if subject.piece is not None:
            yield f"spent so far: {duration(spent)}, rests left out"
        yield from time_lines(beads, subject.left if subject.piece else None, pace)

    return document, lines()


def _price(subject: Subject, asked: Namespace) -> Answer:
    if all(bead.price is None for bead in subject.plan.beads):
        raise UsageError(
            "the plan gives no prices", fix="write price = … (of one gram, in your own currency) under its beads"
        )
    hours = asked.hours
    if hours is None and asked.hourly:
        if subject.pace is None:
            raise UsageError("how long it takes is not known yet", fix="say the hours of work with --hours")
        hours = subject.pace.time_for(subject.course.beads).value / 3600
    rates = {bead.code: bead.price for bead in subject.plan.beads}
    found = price(
        beads_of(subject.course, subject.plan), rates, hours=hours or 0.0, hourly=asked.hourly, bought=asked.bought
    )
    document: dict[str, object] = {
        "lines": [
            {
                "label": line.label,
                "amount": str(line.amount),
                "unit": line.unit,
                "rate": f"{line.rate:f}",
                "sum": str(line.sum),
            }
            for line in found.lines
        ],
        "materials": str(found.materials),
        "work": str(found.work),
        "total": str(found.total),
        "missing": list(found.missing),
    }
    return document, price_lines(found)
