"""Stitches of a course in trade notation, read from where the needle is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from stitchalong.course.course import Course, Round
from stitchalong.course.words import counted
from stitchalong.fabric.stitch import Kind, Stitch
from stitchalong.plan.model import Item, Lay, Repeat, Total, Written
from stitchalong.plan.wording import print_round

_LONGEST_REPEAT = 24
"""stitches' runs in a repeat that is looked for"""

_FORMS = {Kind.PICOT: "picot", Kind.CORNER: "corner", Kind.SKIP: "no bead"}


def round_notation(course: Course, index: int, *, check: bool = False) -> str:
    """What fills the spaces of a round; of a band its spacers. `check`: with the number of beads in brackets."""
    return print_round(written_round(course, index, check=check))


def written_round(course: Course, index: int, *, check: bool = False) -> Written:
    """The same as values."""
    item = course.rounds[index]
    stitches = [(stitch, count) for stitch, count in course.runs_of(index) if stitch.visits_space]
    if item.technique == "band":
        # every unit picks its spacer up first; the last one is picked up by itself
        lays = [(Lay("single", stitch.beads[:1]), count) for stitch, count in stitches]
    else:
        lays = [(_lay(stitch, item.technique), count) for stitch, count in stitches]
    beads = sum(len(lay.codes) * count for lay, count in lays)
    return Written(tuple(_folded(_joined(lays))), Total(beads, "beads") if check else None)


def _lay(stitch: Stitch, technique: str) -> Lay:
    if len(stitch.beads) == 1:
        return Lay("single", stitch.beads)
    if stitch.kind is Kind.GROUP and technique == "peyote":
        return Lay("as one", stitch.beads)
    return Lay(_FORMS.get(stitch.kind, "together"), stitch.beads)


def _joined(runs: Sequence[tuple[Lay, int]]) -> list[Lay]:
    """Equal neighbours made one."""
    lays: list[Lay] = []
    for lay, count in runs:
        if lays and (lays[-1].form, lays[-1].codes) == (lay.form, lay.codes):
            lays[-1] = Lay(lay.form, lay.codes, lays[-1].count + count)
        else:
            lays.append(Lay(lay.form, lay.codes, count))
    return lays


def _folded(lays: Sequence[Lay]) -> Iterator[Item]:
    """The same stitches, with what comes several times in a row written as a repeat."""
    at = 0
    while at < len(lays):
        length, times = _best_repeat(lays, at)
        if times > 1:
            yield Repeat(tuple(lays[at : at + length]), times)
            at += length * times
        else:
            yield lays[at]
            at += 1


def _best_repeat(lays: Sequence[Lay], at: int) -> tuple[int, int]:
    """(length, times) of the repeat from here that covers most, the shorter one of two."""
    best = (1, 1)
    for length in range(2, min(_LONGEST_REPEAT, (len(lays) - at) // 2) + 1):
        times = 1
        while lays[at + times * length : at + (times + 1) * length] == lays[at : at + length]:
            times += 1
        if times > 1 and length * times > best[0] * best[1]:
            best = (length, times)
    return best


# ---- moves and sides ------------------------------------------------------------------------------


def move_words(runs: Sequence[tuple[Stitch, int]], item: Round) -> Iterator[str]:
    """The moves among these runs, in few words: `step up through 2 beads`, `cross to the bottom edge`."""
    for stitch, count in runs:
        match stitch.kind:
            case Kind.STEP_UP if stitch.detail.isdigit():
                yield f"step up through {counted(int(stitch.detail), 'bead')}"
            case Kind.STEP_UP:
                yield "step up"
            case Kind.WALK:
                yield f"walk along {counted(int(stitch.detail), 'space')}"
            case Kind.REINFORCE:
                yield "pass through once more" if count == 1 else f"pass through {count} times more"
            case Kind.CROSS:
                yield f"cross to the {item.edge} edge"
            case Kind.TURN:
                yield "turn"


def zip_words(runs: Iterable[tuple[Stitch, int]]) -> str:
    """What closes a seam."""
    passes = sum(count for stitch, count in runs if stitch.kind is Kind.JOIN)
    return f"zip the edges together in {counted(passes, 'pass', 'passes')}, without a bead"


def sides_in_words(sides: Sequence[int]) -> str:
    """`6 7 6 5`; many equal ones by their number, `40 times 6`."""
    words = []
    for length, same in groupby(sides):
        count = len(list(same))
        words.append(f"{count} times {length}" if count > 6 else " ".join([str(length)] * count))
    return " ".join(words)
