"""Work that differs from its plan and is accepted as it is: a round's runs as they were really laid."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course.choices import Deviation
from stitchalong.course.words import counted, ordinal
from stitchalong.errors import Place, PlanError
from stitchalong.fabric.peyote import Run
from stitchalong.fabric.stitch import NO_BEAD, Make
from stitchalong.values import value

MOST_BEADS = 4
"""beads in one space"""


@value
class AsLaid:
    """A round as it really is."""

    runs: list[Run]
    strays: frozenset[int] = frozenset()
    """spaces in which the count changes by accident"""
    lost: frozenset[int] = frozenset()
    """spaces that were meant to change it and do not"""


def as_laid(runs: list[Run], deviations: Sequence[Deviation], turn: int, codes: frozenset[str], place: Place) -> AsLaid:
    """The runs of a round with what was laid instead. The needle began in canonical space `turn`.

    Raises PlanError for a space that the round does not have and for beads that the plan does not have.
    """
    size = sum(count for _, count in runs)
    strays, lost = set(), set()
    for one in deviations:
        _check(one, size, codes, place)
        space = (one.space + turn) % size
        planned = _at(runs, space)
        laid = make_of_laid(one.laid)
        runs = _replaced(runs, space, laid)
        if len(planned.ups) == 1 and len(laid.ups) != 1:
            strays.add(space)
        elif len(planned.ups) != 1 and len(laid.ups) == 1:
            lost.add(space)
    return AsLaid(runs, frozenset(strays), frozenset(lost))


def make_of_laid(codes: tuple[str, ...]) -> Make:
    """Beads that ended up in one space: whatever lies there side by side stands up."""
    if not codes:
        return NO_BEAD
    return Make.single(codes[0]) if len(codes) == 1 else Make.together(codes)


def _check(one: Deviation, size: int, codes: frozenset[str], place: Place) -> None:
    if not 0 <= one.space < size:
        raise PlanError(
            f"there is no {ordinal(one.space + 1)} space to accept as it is: this round has {size}", place=place
        )
    if len(one.laid) > MOST_BEADS:
        raise PlanError(f"{len(one.laid)} beads in one space cannot be worked on", place=place)
    for code in one.laid:
        if code not in codes:
            raise PlanError(f"there is no bead {code} in this plan", place=place)


def _at(runs: Sequence[Run], space: int) -> Make:
    for make, count in runs:
        if space < count:
            return make
        space -= count
    raise IndexError(space)


def _replaced(runs: Sequence[Run], space: int, laid: Make) -> list[Run]:
    out: list[Run] = []
    for make, count in runs:
        if 0 <= space < count:
            out += [(make, space)] if space else []
            out.append((laid, 1))
            out += [(make, count - space - 1)] if count - space - 1 else []
        else:
            out.append((make, count))
        space -= count
    return out


def deviation_words(one: Deviation) -> str:
    """`round 4, top edge: two beads in the third space`."""
    match len(one.laid):
        case 0:
            what = "no bead"
        case 1:
            what = f"one {one.laid[0]}"
        case number:
            what = f"{counted(number, 'bead')} ({''.join(one.laid)})"
    where = f"about the {ordinal(one.space + 1)} space" if one.somewhere else f"the {ordinal(one.space + 1)} space"
    part = "" if one.part == "main" else f"{one.part}: "
    return f"{part}round {one.round}, {one.edge} edge: {what} in {where}"
