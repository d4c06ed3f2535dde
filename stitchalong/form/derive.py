"""From a course to bonds: each technique that is modelled, and a plain word for the others."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course.course import Course, Round
from stitchalong.errors import UsageError
from stitchalong.form import starts
from stitchalong.form.bonds import Bonds, Measure
from stitchalong.form.edges import Edge
from stitchalong.form.rounds import Rounds, stitches

MODELLED = frozenset({"ring", "tube", "band", "fill", "peyote"})
"""techniques of which the bonds are known"""


class NotModelled(UsageError):
    """A technique whose form cannot be computed."""


def refuse_unknown(course: Course) -> None:
    """Raise NotModelled for a course that has rounds of a technique whose bonds are not known."""
    for item in course.rounds:
        if item.technique not in MODELLED or item.flat:
            raise NotModelled(
                f"the form of {item.technique} is not known: which of its beads touch, and how, has not been modelled",
                fix="peyote worked round and round, and bands with it, can be shown",
            )


def bonds_of(course: Course, measures: Sequence[Measure]) -> Bonds:
    """The bonds of a whole course; `measures` of each bead in the order picked up. Raises NotModelled."""
    refuse_unknown(course)
    bonds = Bonds(measures)
    rounds = Rounds(bonds)
    edges: dict[tuple[str, str], Edge] = {}
    for index, item in enumerate(course.rounds):
        first = item.first_bead - 1
        match item.technique:
            case "ring":
                edges[item.part, item.edge] = starts.ring(bonds, first, item.spaces)
            case "tube":
                edges[item.part, item.edge] = starts.tube(bonds, first, item.spaces)
            case "band":
                edges[item.part, "top"], edges[item.part, "bottom"] = starts.mraw(bonds, first, item.spaces)
            case _:
                laid = stitches(course.runs_of(index), first)
                fill = item.technique == "fill"
                edge = edges[item.part, item.edge]
                edges[item.part, item.edge] = rounds.work(edge, _begin(item, fill), laid, fill=fill)
        bonds.stops.append(first + item.beads)
    bonds.finish()
    return bonds


def _begin(item: Round, fill: bool) -> int:
    """The space of the edge below where the round begins. A band's bottom beads are met in descending order."""
    return -item.begin - 1 if fill else item.begin
