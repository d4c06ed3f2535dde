"""The start of a plan: which beads are laid in which order, from whichever way it is said."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from stitchalong.plan.desk import Desk, Path
from stitchalong.plan.model import Band, Repeat, Written
from stitchalong.plan.notation import count_of, parse_written
from stitchalong.plan.sizes import (
    LEAST_RING,
    LEAST_TUBE,
    LEAST_UNITS,
    even_sides,
    hold_singles,
    plain_run,
    with_markers,
)
from stitchalong.plan.tokens import MAX_COUNT


def strung(desk: Desk, text: str, path: Path, *, tube: bool) -> Written | None:
    """Beads strung and closed; None with the fault put down."""
    beads = strand(desk, text, path)
    if beads is None:
        return None
    count = count_of(beads.items)[0]
    least = LEAST_TUBE if tube else LEAST_RING
    if count < least:
        name = "tube" if tube else "ring"
        desk.fault(path, f"a {name} of {_counted(count, 'bead')} cannot be closed", f"{least} beads or more")
        return None
    if tube and count % 2:
        desk.fault(path, f"a tube needs an even number of beads, and {count} are strung", f"string {count + 1}")
        return None
    return beads


def band(desk: Desk, entry: Mapping[str, Any], path: Path) -> Band | None:
    """An MRAW band; None with the fault put down."""
    frame = entry["frame"]
    desk.known(frame.values(), (*path, "frame"))
    written = "spacers" in entry
    if written == ("side" in entry):
        desk.fault(
            path,
            "this band says its spacers in two ways" if written else "this band does not say its spacers",
            'either spacers = "*6S, M* 4 times", or side = "S" with marker and sides',
        )
        return None
    spacers = _written(desk, entry, path) if written else _by_sides(desk, entry, path)
    if spacers is None:
        return None
    units = count_of(spacers.items)[0]
    if units < LEAST_UNITS:
        desk.fault(path, f"a band of {_counted(units, 'unit')} cannot be joined", f"{LEAST_UNITS} units or more")
        return None
    codes = (frame["top"], frame["side"], frame["bottom"])
    return Band(units, *codes, spacers, True, entry.get("reinforce", True), entry.get("part", ""))


def _written(desk: Desk, entry: Mapping[str, Any], path: Path) -> Written | None:
    """Spacers written out; a repeat around goes on until the units are full."""
    for key in ("marker", "sides"):
        if key in entry:
            desk.fault((*path, key), f"`{key}` goes with `side`, not with `spacers`")
            return None
    units = entry.get("units")
    spacers = strand(desk, entry["spacers"], (*path, "spacers"), units)
    if spacers is None:
        return None
    count = count_of(spacers.items)[0]
    if units is not None and count != units:
        desk.fault(
            (*path, "spacers"),
            f"{_counted(count, 'spacer')} for {_counted(units, 'unit')}",
            f"each unit carries one; units = {count}, or leave `units` out",
        )
        return None
    return spacers


def strand(desk: Desk, text: str, path: Path, units: int | None = None) -> Written | None:
    """Notation of single beads with a right check, any repeat around counted out over the units."""
    written: Written | None = desk.notation(parse_written, text, path)
    if written is None:
        return None
    last = written.items[-1]
    if isinstance(last, Repeat) and last.times is None and units:
        left, whole = units - count_of(written.items[:-1])[0], count_of(last.items)[0]
        if left <= 0 or left % whole:
            desk.fault(path, f"the repeat does not come out even over {_counted(units, 'unit')}")
            return None
        written = replace(written, items=(*written.items[:-1], replace(last, times=left // whole)))
    try:
        hold_singles(written.items)
        count = count_of(written.items)[0]
    except ValueError as error:
        desk.fault(path, str(error), "write `6S, M` or `*6S, M* 4 times`")
        return None
    if written.total is not None and written.total.number != count:
        desk.fault(path, f"the check says {written.total.number}, but there are {_counted(count, 'bead')}")
        return None
    return written


def _by_sides(desk: Desk, entry: Mapping[str, Any], path: Path) -> Written | None:
    """Plain spacers with a marker at the end of each side."""
    side, marker, sides, units = entry["side"], entry.get("marker"), entry.get("sides"), entry.get("units")
    desk.known({side} | ({marker} if marker else set()), path)
    if marker is None and sides is None:
        if units is not None:
            return plain_run(side, units)
        desk.fault(path, "this band does not say how many units", "units = 28")
        return None
    if marker is None or sides is None:
        desk.fault(path, "`marker` and `sides` go together", 'as in side = "S", marker = "M", sides = 4, units = 28')
        return None
    if isinstance(sides, list):
        plain = sides
        whole = sum(sides) + len(sides)
        if units is not None and units != whole:
            desk.fault(
                (*path, "units"),
                f"these sides with their markers make {whole} units, not {units}",
                f"units = {whole}, or leave `units` out",
            )
            return None
        if whole > MAX_COUNT:
            desk.fault((*path, "sides"), f"more than {MAX_COUNT:,} units")
            return None
    elif units is None:
        desk.fault(path, "this band does not say how many units", "units = 28")
        return None
    elif sides * 2 > units:
        desk.fault((*path, "sides"), f"{_counted(units, 'unit')} cannot make {sides} sides, each with its marker")
        return None
    else:
        plain = [count - 1 for count in even_sides(units, sides)]
    return with_markers(side, marker, plain)


def _counted(number: int, word: str) -> str:
    return f"{number:,} {word}" + ("" if number == 1 else "s")
