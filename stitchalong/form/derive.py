"""From a course to bonds: each technique that is modelled, and a plain word for the others."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course.course import Course, Round
from stitchalong.course.words import counted
from stitchalong.errors import UsageError
from stitchalong.form import starts
from stitchalong.form.bonds import Bonds, Measure
from stitchalong.form.edges import Edge
from stitchalong.form.rounds import Rounds, stitches
from stitchalong.form.told import Told

STARTS = frozenset({"ring", "tube", "band"})
CLOSED = frozenset({"fill", "peyote"})
TOLD_STARTS = frozenset({"strung row", "odd tube", "drop tube"})
TOLD = frozenset({"flat peyote", "spiral peyote", "drop peyote"})
MODELLED = STARTS | CLOSED | TOLD_STARTS | TOLD
"""techniques of which the bonds are known"""


class NotModelled(UsageError):
    """Work whose form cannot be computed."""

    def __init__(
        self, what: str, why: str = "which of its beads touch, and how, has not been modelled", before: int = 0
    ) -> None:
        """`before`: rounds that can be shown before it."""
        fix = "peyote in rounds, rows and spirals can be shown, and bands with it"
        if before:
            fix = f"the first {counted(before, 'round')} can be shown" if before > 1 else "the first round can be shown"
        super().__init__(f"the form of {what} is not known: {why}", fix=fix)


def refuse_unknown(course: Course, beads: int) -> None:
    """Raise NotModelled where the first so many beads have rounds of a technique whose bonds are not known."""
    for at, item in enumerate(course.rounds):
        if item.first_bead <= beads and item.technique not in MODELLED:
            raise NotModelled(item.technique, before=at)


def parts_of(course: Course, beads: int) -> list[range]:
    """The rounds of each part of the piece, as far as the first so many beads go."""
    begins: list[int] = []
    last = 0
    for at, item in enumerate(course.rounds):
        if item.first_bead <= beads and item.beads:
            last = at + 1
            if not begins or course.rounds[begins[-1]].part != item.part:
                begins.append(at)
    return [range(at, stop) for at, stop in zip(begins, [*begins[1:], last], strict=True)]


def bonds_of(course: Course, measures: Sequence[Measure], rounds: range | None = None) -> Bonds:
    """The bonds of a part of a course, its rounds given by index (None: of all).

    Beads count from 0 within it, and `measures` are those of its beads. Raises NotModelled.
    """
    rounds = rounds or range(len(course.rounds))
    base = course.rounds[rounds.start].first_bead - 1
    bonds = Bonds(measures)
    told = Told(bonds, course, base)
    worked = Rounds(bonds)
    edges: dict[tuple[str, str], Edge] = {}
    for index in rounds:
        item = course.rounds[index]
        if item.technique in TOLD_STARTS:
            told.strung(index, item)
        elif item.technique in TOLD:
            _told(told, index, item)
        elif item.technique in STARTS:
            _start(bonds, edges, item, base)
        else:
            edge = edges[item.part, item.edge]
            laid = stitches(course.runs_of(index), item.first_bead - 1 - base)
            fill = item.technique == "fill"
            edges[item.part, item.edge] = worked.work(edge, _begin(item, fill), laid, fill=fill)
        bonds.stops.append(item.first_bead - 1 - base + item.beads)
    bonds.finish()
    return bonds


def _start(bonds: Bonds, edges: dict[tuple[str, str], Edge], item: Round, base: int) -> None:
    first = item.first_bead - 1 - base
    match item.technique:
        case "ring":
            edges[item.part, item.edge] = starts.ring(bonds, first, item.spaces)
        case "tube":
            edges[item.part, item.edge] = starts.tube(bonds, first, item.spaces)
        case _:
            edges[item.part, "top"], edges[item.part, "bottom"] = starts.mraw(bonds, first, item.spaces)


def _told(told: Told, index: int, item: Round) -> None:
    try:
        told.work(index, item)
    except (ValueError, KeyError) as error:
        raise NotModelled(f"{item.technique} as it is worked in round {item.number}", str(error)) from error


def _begin(item: Round, fill: bool) -> int:
    """The space of the edge below where the round begins. A band's bottom beads are met in descending order."""
    return -item.begin - 1 if fill else item.begin
