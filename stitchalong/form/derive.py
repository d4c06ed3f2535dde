"""From a course to bonds: each technique that is modelled, and a plain word for the others."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course.course import Course, Round
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

    def __init__(self, what: str, why: str = "which of its beads touch, and how, has not been modelled") -> None:
        super().__init__(
            f"the form of {what} is not known: {why}",
            fix="peyote in rounds, rows and spirals can be shown, and bands with it",
        )


def refuse_unknown(course: Course) -> None:
    """Raise NotModelled for a course that has rounds of a technique whose bonds are not known."""
    for item in course.rounds:
        if item.technique not in MODELLED:
            raise NotModelled(item.technique)


def bonds_of(course: Course, measures: Sequence[Measure]) -> Bonds:
    """The bonds of a whole course; `measures` of each bead in the order picked up. Raises NotModelled."""
    refuse_unknown(course)
    bonds = Bonds(measures)
    told = Told(bonds, course)
    rounds = Rounds(bonds)
    edges: dict[tuple[str, str], Edge] = {}
    for index, item in enumerate(course.rounds):
        if item.technique in TOLD_STARTS:
            told.strung(index, item)
        elif item.technique in TOLD:
            _told(told, index, item)
        elif item.technique in STARTS:
            _start(bonds, edges, item)
        else:
            edge = edges[item.part, item.edge]
            laid = stitches(course.runs_of(index), item.first_bead - 1)
            fill = item.technique == "fill"
            edges[item.part, item.edge] = rounds.work(edge, _begin(item, fill), laid, fill=fill)
        bonds.stops.append(item.first_bead - 1 + item.beads)
    bonds.finish()
    return bonds


def _start(bonds: Bonds, edges: dict[tuple[str, str], Edge], item: Round) -> None:
    first = item.first_bead - 1
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
