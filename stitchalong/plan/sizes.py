"""How many units, and where the markers stand: sides as even as can be, and a plan begun in another size."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from stitchalong.errors import PlanError
from stitchalong.plan.model import (
    Band,
    Foundation,
    Item,
    Lay,
    Peyote,
    Plan,
    Repeat,
    RingStart,
    TubeStart,
    Until,
    Written,
)
from stitchalong.plan.tokens import MAX_COUNT
from stitchalong.plan.wording import print_round

LEAST_UNITS = 3
LEAST_RING = 3
LEAST_TUBE = 6
LEAST_ROW = 2


def even_sides(units: int, sides: int) -> tuple[int, ...]:
    """Units of each side, markers included, as even as can be: 26 over 4 gives 7, 6, 7, 6.

    Side i takes ceil((i + 1) · units / sides) - ceil(i · units / sides) units. Raises ValueError where a side
    would have none.
    """
    if not 1 <= sides <= units:
        raise ValueError(f"{units} units cannot make {sides} sides")
    edges = [-(-i * units // sides) for i in range(sides + 1)]
    return tuple(edges[i + 1] - edges[i] for i in range(sides))


def with_markers(side: str, marker: str, plain: Sequence[int], lead: int | None = None) -> Written:
    """Spacers: so many plain ones on each side, a marker at its end.

    `lead`: how many of the first side's are laid before its marker, the rest being laid last; None: all.
    """
    lead = plain[0] if lead is None else min(lead, plain[0])
    if lead == plain[0] and len(set(plain)) == 1:
        group = (*_run(side, lead), Lay("single", (marker,)))
        return _named((Repeat(group, len(plain)),) if len(plain) > 1 else group)
    items: list[Item] = [*_run(side, lead), Lay("single", (marker,))]
    for count in plain[1:]:
        items += [*_run(side, count), Lay("single", (marker,))]
    return _named((*items, *_run(side, plain[0] - lead)))


def plain_run(code: str, count: int) -> Written:
    """So many beads of one code."""
    return _named(tuple(_run(code, count)))


def _run(code: str, count: int) -> list[Item]:
    return [Lay("single", (code,), count)] if count else []


def _named(items: tuple[Item, ...]) -> Written:
    written = Written(items)
    return replace(written, text=print_round(written))


def singles(items: Iterable[Item]) -> list[str]:
    """The codes of beads laid one by one. Raises ValueError where they are anything but counted singles."""
    codes: list[str] = []
    for item in items:
        if isinstance(item, Repeat):
            codes += singles(item.items) * _times(item)
        else:
            lay = _single(item)
            codes += [*lay.codes] * lay.count
    return codes


def hold_singles(items: Iterable[Item]) -> None:
    """Raises ValueError where these are anything but counted singles; however many, without laying them out."""
    for item in items:
        if isinstance(item, Repeat):
            _times(item)
            hold_singles(item.items)
        else:
            _single(item)


def _single(item: Lay | Until) -> Lay:
    if isinstance(item, Until) or item.form != "single":
        raise ValueError("only single beads with counts can be strung")
    return item


def _times(item: Repeat) -> int:
    if item.times is None:
        raise ValueError("a start has no round to go around")
    return item.times


# ---- another size -------------------------------------------------------------------------------


def resized(plan: Plan, units: int | None = None, sides: int | Sequence[int] | None = None) -> Plan:
    """The plan begun with so many units (for a ring or a tube: beads strung), sides as even as they can be.

    `sides`: how many, or the plain spacers of each named singly; None: as many as the plan has. Without
    markers only `units` can be chosen, and beads in a pattern can be lengthened by whole repeats alone.
    Rounds written out may not fit the new size; that is found when the plan is compiled. Raises PlanError
    saying why.
    """
    if units is None and sides is None:
        return plan
    start = plan.work[0] if plan.work else None
    if plan.charts:
        raise PlanError("the colours of this plan stand in a chart, so its size is fixed")
    if isinstance(start, Band):
        new: Band | RingStart | TubeStart | Foundation = _resized_band(plan, start, units, sides)
    elif isinstance(start, RingStart | TubeStart):
        if sides is not None or units is None:
            raise PlanError("only a band has sides that can be named", fix="say how many beads are strung")
        least = LEAST_RING if isinstance(start, RingStart) else LEAST_TUBE
        if isinstance(start, TubeStart) and units % 2:
            raise PlanError(f"a tube needs an even number of beads, not {units}", fix=f"string {units + 1}")
        new = replace(start, beads=_repeated(singles(start.beads.items), units, least, "beads"))
    elif isinstance(start, Foundation) and start.beads is not None:
        if sides is not None or units is None:
            raise PlanError("only a band has sides that can be named", fix="say how many beads are strung")
        new = replace(start, beads=_repeated(singles(start.beads.items), units, LEAST_ROW, "beads"))
    else:
        raise PlanError("this plan does not begin with a start whose size can be chosen")
    return replace(plan, work=(new, *plan.work[1:]))


def _resized_band(plan: Plan, band: Band, units: int | None, sides: int | Sequence[int] | None) -> Band:
    codes = singles(band.spacers.items)
    marker = _marker(plan, codes)
    if marker is None:
        if sides is not None or units is None:
            raise PlanError(
                "the spacers of this band have no one marker, so its sides cannot be named",
                fix="say how many units",
            )
        return replace(band, units=units, spacers=_repeated(codes, units, LEAST_UNITS, "units"))
    places = [index for index, code in enumerate(codes) if code == marker]
    if sides is None:
        sides = len(places)
    if isinstance(sides, int):
        units = len(codes) if units is None else units
        _in_bounds(units, LEAST_UNITS, "units")
        if not 1 <= sides <= units // 2:
            raise PlanError(f"{units} units cannot make {sides} sides", fix="each side needs a spacer and its marker")
        plain = [count - 1 for count in even_sides(units, sides)]
    else:
        plain = list(sides)
        whole = sum(plain) + len(plain)
        if not plain or min(plain) < 1:
            raise PlanError("each side needs at least one plain spacer")
        if units is not None and units != whole:
            raise PlanError(f"sides of {', '.join(map(str, plain))} with their markers make {whole} units, not {units}")
        units = whole
        _in_bounds(units, LEAST_UNITS, "units")
    side = next(code for code in codes if code != marker)
    lead = None if places[-1] == len(codes) - 1 else places[0]
    return replace(band, units=units, spacers=with_markers(side, marker, plain, lead))


def _in_bounds(units: int, least: int, what: str) -> None:
    if not least <= units <= MAX_COUNT:
        word = what.removesuffix("s") if units == 1 else what
        raise PlanError(f"{units} {word} cannot be begun", fix=f"from {least} to {MAX_COUNT:,}")


def _repeated(codes: list[str], units: int, least: int, what: str) -> Written:
    """So many beads of the same pattern, in whole repeats."""
    _in_bounds(units, least, what)
    period = _period(codes)
    if period == 1:
        return plain_run(codes[0], units)
    if units % period:
        near = max(period, units - units % period)
        raise PlanError(
            f"the pattern of {period} beads does not come out even over {units} {what}",
            fix=f"choose {near} or {near + period}",
        )
    group: list[Item] = []
    for code in codes[:period]:
        last = group[-1] if group else None
        if isinstance(last, Lay) and last.codes == (code,):
            group[-1] = replace(last, count=last.count + 1)
        else:
            group.append(Lay("single", (code,)))
    return _named((Repeat(tuple(group), units // period),))


def _period(codes: Sequence[str]) -> int:
    """The length of the shortest pattern that, repeated, gives the codes."""
    prefix = [0] * len(codes)
    for index in range(1, len(codes)):
        length = prefix[index - 1]
        while length and codes[index] != codes[length]:
            length = prefix[length - 1]
        prefix[index] = length + (codes[index] == codes[length])
    period = len(codes) - prefix[-1]
    return period if len(codes) % period == 0 else len(codes)


def _marker(plan: Plan, codes: Sequence[str]) -> str | None:
    """The code that parts the sides, where the spacers are runs of one other code."""
    found = set(codes)
    if len(found) != 2:
        return None
    named = {bead.code for bead in plan.beads if bead.marker} & found
    if len(named) != 1:
        named = _gone_over(plan) & found
    if len(named) != 1:
        named = {code for code in found if not _two_in_a_row(codes, code)}
    marker = named.pop() if len(named) == 1 else None
    return marker if marker and not _two_in_a_row(codes, marker) else None


def _gone_over(plan: Plan) -> set[str]:
    """Codes that rules name as places."""
    rules = [rule for work in plan.work if isinstance(work, Peyote) for rule in work.rules]
    return {code for rule in rules for code in (rule.over, getattr(rule, "between", None)) if code}


def _two_in_a_row(codes: Sequence[str], code: str) -> bool:
    return any(codes[index - 1] == code == codes[index] for index in range(len(codes)))
