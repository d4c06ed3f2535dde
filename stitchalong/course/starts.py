"""Starts: what the first edge is made by."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby

from stitchalong.course import hints
from stitchalong.course.bench import ENDS_SIDE, MARKER, RIB, Bench
from stitchalong.course.edges import WorkingEdge
from stitchalong.course.words import counted
from stitchalong.errors import PlanError
from stitchalong.fabric import band
from stitchalong.fabric.stitch import Kind
from stitchalong.plan.model import Band, Item, Lay, Repeat, RingStart, TubeStart, Written

_MOST_STRUNG = 1_000_000


def begin(bench: Bench, start: Band | RingStart | TubeStart) -> None:
    """Work the start. Raises PlanError where it cannot be closed."""
    match start:
        case Band():
            _band(bench, start)
        case RingStart():
            codes = strand(bench, start.beads, "beads")
            if len(codes) < 3:
                raise PlanError(
                    f"a ring of {counted(len(codes), 'bead')} cannot be closed",
                    fix="3 beads or more",
                    place=bench.place(bench.index, key="beads"),
                )
            _strung(bench, codes, [""] * len(codes), "ring")
        case TubeStart():
            codes = strand(bench, start.beads, "beads")
            if len(codes) < 6 or len(codes) % 2:
                raise PlanError(
                    f"an even tube needs an even number of beads, 6 or more; {len(codes)} are strung",
                    fix=f"string {max(6, len(codes) + len(codes) % 2)}",
                    place=bench.place(bench.index, key="beads"),
                )
            _strung(bench, codes[::2], codes[1::2], "tube")


def strand(bench: Bench, written: Written, key: str) -> list[str]:
    """The codes of beads strung, one by one. Raises PlanError for anything but single beads."""
    place = bench.place(bench.index, key=key)
    codes: list[str] = []

    def read(items: Sequence[Item]) -> None:
        for item in items:
            match item:
                case Lay(form="single"):
                    codes.extend(item.codes * item.count)
                case Repeat(times=int(times)):
                    before = len(codes)
                    read(item.items)
                    if (len(codes) - before) * times > _MOST_STRUNG:
                        raise PlanError(f"more than {_MOST_STRUNG:,} beads strung", place=place)
                    codes.extend(codes[before:] * (times - 1))
                case _:
                    raise PlanError(
                        "only single beads with counts can be strung",
                        fix="write `6S, M` or `*6S, M* 4 times`",
                        place=replace(place, source=written.text or None, span=item.span),
                    )
            if len(codes) > _MOST_STRUNG:
                raise PlanError(f"more than {_MOST_STRUNG:,} beads strung", place=place)

    read(written.items)
    if written.total is not None and written.total.number != len(codes):
        raise PlanError(
            f"{counted(len(codes), 'bead')}, not {written.total.number}",
            fix="correct the check in brackets or the beads",
            place=replace(place, source=written.text or None, span=written.total.span),
        )
    return codes


def _noted(bench: Bench, codes: Sequence[str], stride: int, whole: int) -> list[int]:
    """The notes of beads that stand in every `stride`th column of `whole`; their markers are put down first."""
    bench.note_markers({stride * nth: code for nth, code in enumerate(codes) if code in bench.markers})
    of_code = {code: MARKER if code in bench.markers else 0 for code in set(codes)}
    notes = [of_code[code] for code in codes]
    for column in bench.foreseen_at_birth("top") | bench.marker_columns:
        for place, note in ((column, RIB), ((column - 1) % whole, ENDS_SIDE)):
            if column < whole and place % stride == 0:
                notes[place // stride] |= note
    return notes


# ---- ring and tube ------------------------------------------------------------------------------


def _strung(bench: Bench, ups: list[str], under: list[str], technique: str) -> None:
    """Beads strung and closed. A tube strings up beads and under beads in turn."""
    tube = technique == "tube"
    size = len(ups)
    strung = [code for pair in zip(ups, under, strict=True) for code in pair] if tube else ups
    stride = 1 if tube else 2
    notes = _noted(bench, strung, stride, 2 * size)
    out = bench.out
    index = out.open_round()
    hints.at_string(out, tube)
    for (code, note), alike in groupby(zip(strung, notes, strict=True)):
        out.add(Kind.STRING, (code,), (0,), note, count=sum(1 for _ in alike))
    out.add(Kind.JOIN, detail="ring")
    _, walk = bench.right_behind(bench.index, "top")
    walk %= size
    if walk:
        out.add(Kind.WALK, detail=str(walk))
        out.add(Kind.STEP_UP, detail="walked")
    number = 2 if tube else 1
    out.close_round(
        part=bench.part,
        edge="top",
        number=number,
        technique=technique,
        work=bench.index,
        spaces=size,
        below=-1,
        begin=0,
        place=bench.place(bench.index),
        numbers=(1, 2) if tube else (1,),
    )
    state = bench.give_birth(
        "top",
        ups[walk:] + ups[:walk],
        under[walk:] + under[:walk],
        first=walk,
        number=number,
        last_round=index,
        begin=walk,
        columns={(column - 2 * walk) % (2 * size): column for column in bench.marker_columns},
    )
    state.bounds |= state.markers


# ---- band ---------------------------------------------------------------------------------------


def _band(bench: Bench, start: Band) -> None:
    units = start.units
    if units < band.LEAST_UNITS:
        raise PlanError(
            f"a band of {counted(units, 'unit')} cannot be joined",
            fix=f"{band.LEAST_UNITS} units or more",
            place=bench.place(bench.index, key="units"),
        )
    spacers = strand(bench, start.spacers, "spacers")
    if len(spacers) != units:
        raise PlanError(
            f"{counted(len(spacers), 'spacer')} for {counted(units, 'unit')}",
            fix="each unit carries one spacer",
            place=bench.place(bench.index, key="spacers"),
        )
    bench.band = start
    bench.spacers = spacers
    notes = _noted(bench, spacers, 2, 2 * units)
    out = bench.out
    bench.band_round = out.open_round()
    hints.at_band(out)
    frame = (start.top, start.side, start.bottom)
    out.add(Kind.UNIT, (*frame, start.side), detail="first")
    for (code, note), alike in groupby(zip(spacers[:-2], notes[:-2], strict=True)):
        out.add(Kind.UNIT, (code, *frame), notes=note, detail="unit", count=sum(1 for _ in alike))
    hints.at_join(out)
    out.add(Kind.JOIN, detail="settle")
    out.add(Kind.JOIN, (spacers[-2], start.top), notes=notes[-2], detail="first of five")
    out.add(Kind.JOIN, detail="second of five")
    out.add(Kind.JOIN, (start.bottom,), detail="third of five")
    out.add(Kind.JOIN, detail="fourth of five")
    out.add(Kind.JOIN, (spacers[-1],), notes=notes[-1], detail="last of five")
    reinforce, walk = bench.right_behind(bench.index, "top")
    if start.reinforce + reinforce:
        out.add(Kind.REINFORCE, detail="top row", count=start.reinforce + reinforce)
    to_top = bench.next_edge(bench.index) == "top"
    first = walk % units
    if to_top:
        if first:
            out.add(Kind.WALK, detail=str(first))
        out.add(Kind.STEP_UP, detail="spacer")
    out.close_round(
        part=bench.part,
        edge="top",
        number=0,
        technique="band",
        work=bench.index,
        spaces=units,
        below=-1,
        begin=0,
        place=bench.place(bench.index),
    )
    if to_top:
        top_edge(bench, first)


def top_edge(bench: Bench, first: int) -> WorkingEdge:
    """The band's upper edge, begun at spacer `first`."""
    assert bench.band is not None
    units = bench.band.units
    spacers = bench.spacers
    known = bench.known_at_birth("top")
    state = bench.give_birth(
        "top",
        spacers[first:] + spacers[:first],
        [bench.band.top] * units,
        first=first,
        number=0,
        last_round=bench.band_round,
        begin=first,
        columns={(column - 2 * first) % (2 * units): column for column in known},
    )
    state.bounds |= state.markers
    return state


def bottom_edge(bench: Bench, first: int) -> WorkingEdge:
    """The row of bottom beads, begun in the space under spacer `first` and met in descending order."""
    assert bench.band is not None
    units = bench.band.units
    known = bench.known_at_birth("bottom")
    return bench.give_birth(
        "bottom",
        [bench.band.bottom] * units,
        [bench.band.side] * units,
        first=first,
        number=-1,
        last_round=bench.band_round,
        begin=first,
        columns={band.bottom_column(column, first, units): column for column in known},
    )
