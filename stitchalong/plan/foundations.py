"""Starts and rows of the techniques that keep their own account of their edge, from checked data."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from stitchalong.plan.desk import Desk, Path
from stitchalong.plan.model import Foundation, Height, Option, Rows
from stitchalong.plan.notation import parse_round
from stitchalong.plan.starts import strand

MAX_ROUNDS = 20_000
"""rounds listed in one plan"""

CODES = frozenset(("between", "frame", "turning_bead"))
"""options that hold one bead code"""
STRANDS = frozenset(("pattern", "spacers", "strands"))
"""options that hold beads in the order picked up"""

_COMMON = frozenset(("start", "part", "beads", "stitch", "edge", "rows", "rounds", "height", "usual", "stitches"))
_STRUNG = frozenset(("strung row", "odd tube", "drop tube"))
"""starts that say their beads in order"""
_LISTING_NONE = frozenset(("pattern", "strands"))
"""options of stitches that list no rounds"""


def foundation(desk: Desk, entry: Mapping[str, Any], path: Path) -> Foundation | None:
    """A start; None with the fault put down. Whether its count can be worked is for the technique to say."""
    beads = None
    if entry["start"] in _STRUNG and "beads" not in entry:
        desk.fault((*path, "beads"), "`beads` is missing", 'beads = "10A"')
        return None
    if "beads" in entry:
        beads = strand(desk, entry["beads"], (*path, "beads"))
        if beads is None:
            return None
    return Foundation(entry["start"], beads, _options(desk, entry, path), entry.get("part", ""))


def rows(desk: Desk, entry: Mapping[str, Any], path: Path) -> Rows | None:
    """Rows or rounds; None with the fault put down."""
    key = next((key for key in ("rows", "stitches") if key in entry), "rounds")
    texts = entry.get(key, ())
    read = [
        desk.notation(parse_round, text, (*path, key, index))
        for index, text in enumerate([texts] if isinstance(texts, str) else texts)
    ]
    options = _options(desk, entry, path)
    if "pattern" in entry and (read or "height" not in entry):
        fault = "`pattern` stands instead of `rounds`" if read else "a pattern goes on for ever"
        desk.fault((*path, "pattern"), fault, "keep one of them" if read else "say the height: height = 12")
        return None
    if not read and not entry.keys() & _LISTING_NONE:
        desk.fault(path, f"`{key}` is missing", f'{key} = ["A"]')
        return None
    height = height_of(desk, entry, path, max(1, len(read)))
    if None in read or height is None:
        return None
    return Rows(entry["stitch"], entry.get("edge", "top"), tuple(read), height, options)


def _options(desk: Desk, entry: Mapping[str, Any], path: Path) -> tuple[tuple[str, Option], ...]:
    found: list[tuple[str, Option]] = []
    for key in sorted(entry.keys() - _COMMON):
        value = entry[key]
        if key in CODES:
            desk.known({value}, (*path, key))
        if key in STRANDS and isinstance(value, list):
            read = [strand(desk, text, (*path, key, index)) for index, text in enumerate(value)]
            value = None if None in read else read
        elif key in STRANDS:
            value = strand(desk, value, (*path, key))
        if value is not None:
            found.append((key, tuple(value) if isinstance(value, list) else value))
    return tuple(found)


def height_of(desk: Desk, entry: Mapping[str, Any], path: Path, listed: int) -> Height | None:
    """`6`, `4 to 6`, `4 or more`, `as high as you like`; without it the list once."""
    text = entry.get("height", str(listed))
    usual = entry.get("usual")
    most: int | None
    if text[0].isdigit():
        first, _, rest = text.partition(" ")
        least = int(first)
        most = None if rest == "or more" else int(rest.removeprefix("to ")) if rest else least
    else:
        least, most = 1, None
    if least < 1 or max(least, most or 0) > MAX_ROUNDS or (most is not None and most < least):
        desk.fault((*path, "height"), f'"{text}" is no height', f"from 1 to {MAX_ROUNDS:,} rounds, the lower first")
        return None
    if usual is None:
        usual = max(least, listed) if most is None else (least + most) // 2
    elif least == most:
        desk.fault((*path, "usual"), "`usual` belongs to an open height", 'such as height = "4 to 6"')
        return None
    elif usual < least or (most is not None and usual > most):
        desk.fault((*path, "usual"), f"`usual` must lie within the height, {text}")
        return None
    return Height(least, usual, most)
