"""Rules of rounds of peyote, from checked data: increases, decreases, corner codes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from stitchalong.plan.desk import Desk, Path
from stitchalong.plan.model import Corners, Decrease, Increase, Lay
from stitchalong.plan.notation import parse_lay

_UPS = {"single": 1, "as one": 1, "corner": 2}


def increase(desk: Desk, entry: Mapping[str, Any], path: Path) -> Increase:
    _one_of(desk, entry, ("over", "between", "sides", "at"), path)
    pair: list[Lay] = []
    for at, lay in _lays(desk, entry, path):
        if lay.form not in ("together", "corner"):
            desk.fault(at, f"`{_text(entry, at)}` does not increase", "two beads in one space do, as in `MM`")
        else:
            pair.append(lay)
    desk.known({entry[key] for key in ("over", "between") if key in entry} - {"ribs"}, path)
    return Increase(
        over=entry.get("over"),
        between=entry.get("between"),
        sides=_sides(entry),
        every_space="at" in entry,
        pair=tuple(pair),
        from_round=entry.get("from_round"),
        rounds=entry.get("rounds"),
    )


def decrease(desk: Desk, entry: Mapping[str, Any], path: Path) -> Decrease:
    _one_of(desk, entry, ("over", "sides"), path)
    way = entry.get("way", "every round")
    lays = _lays(desk, entry, path)
    if lays and way == "every round":
        desk.fault((*path, "with"), "nothing is laid where the space stays empty", 'say how: way = "gradual"')
    elif len(lays) > 1:
        desk.fault((*path, "with"), "one stitch is laid over the gap, not several")
    elif lays and lays[0][1].form not in ("single", "as one"):
        at = lays[0][0]
        desk.fault(at, f"`{_text(entry, at)}` would fill the gap with more", "one bead, or two thin ones: `TT as one`")
    desk.known({entry[key] for key in ("over",) if key in entry} - {"ribs"}, path)
    lay = lays[0][1] if lays else None
    return Decrease(entry.get("over"), _sides(entry), entry.get("from_round"), entry.get("rounds"), way, lay)


def corners(desk: Desk, entry: Mapping[str, Any], path: Path) -> Corners:
    if any(key in entry for key in ("over", "sides")):
        _one_of(desk, entry, ("over", "sides", "at"), path)
    codes = tuple(tuple(code) for code in entry["code"])
    for index, code in enumerate(codes):
        wrong = wrong_code(code)
        if wrong is not None:
            desk.fault((*path, "code", index) if len(codes) > 1 else (*path, "code"), *wrong)
    lays = _lays(desk, entry, path)
    _check_lays(desk, [digit for digit in codes[0] if digit], codes, lays, entry, path)
    desk.known({entry[key] for key in ("over",) if key in entry} - {"ribs"}, path)
    return Corners(
        codes=codes,
        over=entry.get("over"),
        sides=_sides(entry),
        every_space="over" not in entry and "sides" not in entry,
        lays=tuple(lay for _, lay in lays),
        from_round=entry.get("from_round"),
        rounds=entry.get("rounds"),
    )


def wrong_code(code: Sequence[int]) -> tuple[str, str] | None:
    """Why a corner code cannot be worked over and over, and what would; None where it can.

    A single bead stands in its column, so behind 1 comes 0; behind 0 there is a space again, and inside a pair or over
    a corner of three there is one in every round.
    """
    text = "-".join(map(str, code))
    if not code[0]:
        return f"{text} begins with 0, but a code begins in a space", "begin it with 1, 2 or 3"
    for here, then in zip(code, (*code[1:], code[0]), strict=True):
        if here == 1 and then:
            return f"in {text} a {then} follows a 1", "after 1 comes 0: the corner is a bead there, not a space"
        if here != 1 and not then:
            return f"in {text} a 0 follows a {here}", "0 comes only after 1, where the corner is a bead"
    return None


def _check_lays(
    desk: Desk,
    digits: Sequence[int],
    codes: Sequence[Sequence[int]],
    lays: Sequence[tuple[Path, Lay]],
    entry: Mapping[str, Any],
    path: Path,
) -> None:
    """One bead for all corners, or a stitch for each digit that lays something."""
    if not lays or (len(lays) == 1 and lays[0][1].form == "single"):
        return
    if len(codes) > 1 or len(lays) != len(digits):
        desk.fault(
            (*path, "with"),
            f"{len(lays)} stitches for {len(digits)} rounds that lay something at a corner",
            "one code for all corner beads, or one stitch for each of these rounds",
        )
        return
    for digit, (at, lay) in zip(digits, lays, strict=True):
        ups = _UPS.get(lay.form, len(lay.codes) if lay.form == "together" else 0)
        beads = {1: 1, 2: 2, 3: 2}[digit]
        if lay.form != "single" and (ups != beads or (digit == 3) != (lay.form == "corner")):
            desk.fault(at, f"`{_text(entry, at)}` is no corner of {digit}")


def _lays(desk: Desk, entry: Mapping[str, Any], path: Path) -> list[tuple[Path, Lay]]:
    found = [((*path, "with", index), text) for index, text in enumerate(entry.get("with", ()))]
    read = [(at, desk.notation(parse_lay, text, at)) for at, text in found]
    return [(at, lay) for at, lay in read if lay is not None]


def _text(entry: Mapping[str, Any], at: Path) -> str:
    return str(entry["with"][at[-1]])


def _one_of(desk: Desk, entry: Mapping[str, Any], keys: Sequence[str], path: Path) -> None:
    given = [key for key in keys if key in entry]
    names = ", ".join(f"`{key}`" for key in keys)
    if not given:
        desk.fault(path, f"this rule does not say where: it needs one of {names}")
    elif len(given) > 1:
        desk.fault(path, f"this rule says where in {len(given)} ways", f"keep one of {names}")


def _sides(entry: Mapping[str, Any]) -> tuple[int, ...] | int | None:
    sides = entry.get("sides")
    return tuple(sides) if isinstance(sides, list) else sides
