"""Notation given back: printed in one canonical form, or read aloud."""

from __future__ import annotations

from collections.abc import Iterable

from stitchalong.plan.cursor import NUMERALS
from stitchalong.plan.model import Item, Lay, Repeat, Round, Ruled, Total, Until
from stitchalong.plan.text import listed

_BRACKETS = ("()", "[]", "{}")
_SAID = {number: word for word, number in NUMERALS.items()}

# ---- printed ------------------------------------------------------------------------------------


def print_round(round: Round) -> str:
    """The round in notation; reading it again gives an equal value."""
    check = f" ({round.total.number} {_unit(round.total)})" if round.total else ""
    if isinstance(round, Ruled):
        places = (f"; {place} {_stitch(lay)}" for place, lay in _places(round))
        return f"{_stitch(round.fill)}{''.join(places)}{check}"
    begins = f"from {round.begins}: " if round.begins else ""
    only = round.items[0] if len(round.items) == 1 else None
    if isinstance(only, Lay) and only.count == 1:
        # without its count a lone stitch would be a fill
        return f"{begins}{f'1{only.codes[0]}' if only.form == 'single' else f'{_stitch(only)} x 1'}{check}"
    return f"{begins}{_sequence(round.items, 0)}{check}"


def print_lay(lay: Lay) -> str:
    """One stitch, or so many equal ones, in notation."""
    if lay.count == 1:
        return _stitch(lay)
    return f"{lay.count}{lay.codes[0]}" if lay.form == "single" else f"{_stitch(lay)} x {lay.count}"


def _places(round: Ruled) -> Iterable[tuple[str, Lay]]:
    places = {
        "ribs": round.ribs,
        "beside ribs": round.beside,
        "before ribs": round.before,
        "after ribs": round.after,
        "middle": round.middle,
    }
    yield from ((place, lay) for place, lay in places.items() if lay is not None)
    yield from ((f"over {below}", lay) for below, lay in round.over)


def _sequence(items: Iterable[Item], depth: int) -> str:
    return ", ".join(_item(item, depth) for item in items)


def _item(item: Item, depth: int) -> str:
    if isinstance(item, Lay):
        return print_lay(item)
    if isinstance(item, Until):
        kept = f"{item.before} before " if item.before else ""
        return f"{_stitch(item.lay)} to {kept}{item.target}"
    inner = _sequence(item.items, depth + 1)
    if item.times is None:
        return f"*{inner}; repeat from * around"
    brackets = _BRACKETS[depth % len(_BRACKETS)]
    return f"{brackets[0]}{inner}{brackets[1]} x {item.times}"


def _stitch(lay: Lay) -> str:
    codes = "".join(lay.codes)
    if lay.form == "no bead":
        return lay.form
    if lay.form in ("picot", "corner"):
        return f"{lay.form} {codes}"
    if lay.form == "as one":
        return f"{codes} as one"
    return f"{codes} together" if len(codes) > 2 else codes


def _unit(total: Total) -> str:
    if total.number > 1:
        return total.of
    return {"beads": "bead", "stitches": "stitch"}[total.of]


# ---- read aloud ---------------------------------------------------------------------------------


def aloud(said: Item | Round) -> str:
    """What a person would read out: `five A`, `two B together, three times`, `A to the rib`."""
    if isinstance(said, Lay):
        return _lay_aloud(said)
    if isinstance(said, Until):
        kept = f"{number_aloud(said.before)} before " if said.before else ""
        return f"{_stitch_aloud(said.lay, '')} to {kept}the {said.target}"
    if isinstance(said, Repeat):
        return f"{_items_aloud(said.items)}, {_often(said.times)}"
    check = f"; {number_aloud(said.total.number)} {_unit(said.total)} in all" if said.total else ""
    if isinstance(said, Ruled):
        places = (f"; {_where(place)} {_stitch_aloud(lay)}" for place, lay in _places(said))
        return f"{_stitch_aloud(said.fill)} in every space{''.join(places)}{check}"
    begins = f"from the {said.begins}: " if said.begins else ""
    return f"{begins}{_items_aloud(said.items)}{check}"


def number_aloud(number: int) -> str:
    """Words up to twenty, figures beyond."""
    return _SAID.get(number, str(number))


def _items_aloud(items: tuple[Item, ...]) -> str:
    if len(items) == 1:
        return aloud(items[0])
    return ", ".join(f"a group of {aloud(item)}" if isinstance(item, Repeat) else aloud(item) for item in items)


def _lay_aloud(lay: Lay) -> str:
    if lay.form == "single":
        return f"{number_aloud(lay.count)} {lay.codes[0]}"
    if lay.form == "no bead" and lay.count > 1:
        return f"no bead in the next {number_aloud(lay.count)} spaces"
    return _stitch_aloud(lay) + (f", {_times(lay.count)}" if lay.count > 1 else "")


def _stitch_aloud(lay: Lay, one: str = "one ") -> str:
    codes = lay.codes
    if lay.form == "no bead":
        return "no bead in the next space"
    if lay.form == "single":
        return f"{one}{codes[0]}"
    if len(set(codes)) == 1:
        beads = f"{number_aloud(len(codes))} {codes[0]}"
    else:
        beads = " and ".join(codes) if lay.form in ("together", "as one") else listed(codes, "and")
    return f"{beads} {lay.form}" if lay.form in ("together", "as one") else f"a {lay.form} of {beads}"


def _times(count: int) -> str:
    return "twice" if count == 2 else "once" if count == 1 else f"{number_aloud(count)} times"


def _often(times: int | None) -> str:
    return "all around" if times is None else f"{_times(times)} in all"


def _where(place: str) -> str:
    name, _, rest = place.partition(" ")
    if name == "ribs":
        return "at the ribs"
    if name == "middle":
        return "in the middle of a side"
    return f"{name} {'the ribs' if rest == 'ribs' else rest}"
