"""Why a round written out does not fit, said so that it can be mended: the space, and what would fit."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course.ground import Ground, increase_spaces, sides_of
from stitchalong.course.reading import Reading, aligned_stitches, has_until
from stitchalong.course.words import counted, ordinal
from stitchalong.errors import PlanError
from stitchalong.plan.model import Repeat, Written

MOST_SIDES = 24
"""told one by one"""


def no_turn(ground: Ground, written: Written, around: Repeat, misfits: Sequence[PlanError | Reading]) -> PlanError:
    """Why no turn fits, and what would."""
    size = ground.edge.size
    aligned = increase_spaces(ground)
    if aligned is not None and not aligned:
        return ground.refuse(
            f"{ground.word} {ground.number} has no space over a rib or marker",
            f"begin in {_or(ground.number)}",
            text=written.text,
        )
    readings = [item for item in misfits if isinstance(item, Reading)]
    if not readings:
        first = misfits[0]
        assert isinstance(first, PlanError)
        return first
    if not has_until(around.items):
        one = Reading.of(ground, 0, written.text)
        one.read(around.items)
        group = one.used
        if group > size or size % group:
            down, up = size // group * group, (size // group + 1) * group
            fits = f"{down} and {up} do" if down else f"{up} do"
            return ground.refuse(
                f"{counted(size, 'space')} do not come out even by {group}; {fits}",
                _by_sides(ground) or "change the repeat, or write it out from the needle",
                span=around.span,
                text=written.text,
            )
    return ground.refuse(
        "in no turn do the many-bead stitches of this round all fall on increase spaces",
        _by_sides(ground),
        span=around.span,
        text=written.text,
    )


def _by_sides(ground: Ground) -> str | None:
    """What the sides hold in this round, for a fix."""
    sides = sides_of(ground)
    if not sides:
        return None
    if len(set(sides)) == 1:
        return f"each side has {counted(sides[0], 'space')} here: `*{sides[0]}A, BB; repeat from * around`"
    some = ", ".join(map(str, sides[:MOST_SIDES])) + (", …" if len(sides) > MOST_SIDES else "")
    return f"the sides have {some} spaces here: use `A to rib`"


def _or(number: int) -> str:
    return f"{number - 1} or {number + 1}" if number > 1 else str(number + 1)


def uncovered(ground: Ground, written: Written, reading: Reading) -> PlanError:
    """Names the space that is left out (or over), as well as it can be known."""
    size = ground.edge.size
    asked = sum(count for _, count in reading.runs)
    missing = size - asked
    asked_words = f"{'more than ' if asked > size + 1 else ''}{counted(asked, 'stitch', 'stitches')}"
    if missing > 0:
        where = _first_gap(ground, reading) or f"the last space of the {ground.word}"
        if missing == 1:
            what = f"{where} has no bead: the {ground.word} has {counted(size, 'space')} and {asked_words}"
        else:
            what = (
                f"{counted(missing, 'space')} have no bead, the first of them {where}: "
                f"the {ground.word} has {counted(size, 'space')} and {asked_words}"
            )
        fix = _by_sides(ground)
        if fix is None:
            fix = "add the stitches, or write `no bead` where a space is meant to stay empty"
        else:
            fix += "; `no bead` where a space is meant to stay empty"
        return ground.refuse(what, fix, text=written.text)
    return ground.refuse(
        f"{counted(-missing, 'stitch', 'stitches')} too many: "
        f"the {ground.word} has {counted(size, 'space')} and {asked_words}",
        _by_sides(ground),
        text=written.text,
    )


def _first_gap(ground: Ground, reading: Reading) -> str | None:
    """Compares the many-bead stitches with the increase spaces: where one comes early, the space before it (the flank
    after the increase before) was left out."""
    aligned = increase_spaces(ground)
    if not aligned:
        return None
    size = ground.edge.size
    wanted = sorted((space - reading.start) % size for space in aligned)
    got = [at for at in aligned_stitches(reading) if at < size]
    for index, (want, have) in enumerate(zip(wanted, got, strict=False)):
        if have < want:
            if index == 0:
                return "the space right before the first increase"
            return f"the space right after the {ordinal(index)} increase"
    if got and len(got) == len(wanted):
        return f"the space right after the {ordinal(len(got))} increase"
    if len(got) < len(wanted):
        return f"the space of the {ordinal(len(got) + 1)} increase"
    return None
