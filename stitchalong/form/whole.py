"""From a course and its plan to a form."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stitchalong.course.course import Course
from stitchalong.errors import UsageError
from stitchalong.form.bonds import Bonds, Measure
from stitchalong.form.derive import bonds_of, parts_of, refuse_unknown
from stitchalong.form.doubts import FULL, against_rule, of_beads, of_stitches
from stitchalong.form.grow import Grown, Told, grow, grow_on, rest
from stitchalong.form.holes import holes
from stitchalong.form.palette import material_of, materials_of
from stitchalong.form.shape import Form
from stitchalong.form.upright import upright
from stitchalong.form.zipped import Seam, faced, rolled, seams, together
from stitchalong.measure.flat import Verdict
from stitchalong.measure.gauge import MRAW, Gauge, Per, default_gauge
from stitchalong.measure.of_course import PartFlatness, flat_parts, frame_bead
from stitchalong.plan.model import Band, Plan

SLOW = 2500
"""beads from which on it takes so long that it should not be waited for"""
_STARTS = 4
"""Work that ruffles has many folds: the lowest of so many starts is taken."""
_BETWEEN = 2.0
"""bead thicknesses between the parts of a piece, which are set side by side"""


@dataclass(frozen=True, slots=True)
class _Part:
    """A part of the piece, grown by itself."""

    bonds: Bonds
    grown: Grown
    points: NDArray[np.float64]
    """shape (beads, 3)"""
    first: int
    """bead of the piece, from 0"""

    @property
    def stop(self) -> int:
        return self.first + len(self.points)


def form_of(
    course: Course,
    plan: Plan,
    *,
    beads: int | None = None,
    standing: Form | None = None,
    gauge: Gauge | None = None,
    seed: int = 0,
    told: Told | None = None,
) -> Form:
    """One likely form of the first `beads` beads (None: all).

    `standing`: a form of the same course with more or fewer beads, to go on from, which is much quicker. `gauge`: the
    stitcher's own of what `asks_for` says, for the scale of files. `told` hears how far it has come, 0 to 1,
    now and then; what it raises ends it.

    Raises UsageError where a technique is not modelled, no bead's measures are known, or no bead is stitched.
    """
    number = course.beads if beads is None else min(beads, course.beads)
    if number < 1:
        raise UsageError("no bead is stitched yet, so there is no form", fix="stitch the start first")
    refuse_unknown(course, number)
    materials, guessed = materials_of(plan)
    material = material_of(course, materials)
    measures = [Measure(materials[at].across, materials[at].along, materials[at].rounded) for at in material]
    rules = flat_parts(course, plan)
    parts: list[_Part] = []
    for rounds in parts_of(course, number):
        first = course.rounds[rounds.start].first_bead - 1
        last = course.rounds[rounds.stop - 1]
        end = last.first_bead - 1 + last.beads
        stop = min(end, number)
        bonds = bonds_of(course, measures[first:end], rounds)
        bonds.full = bonds.disc and any(rule.flatness.verdict in FULL for rule in rules)
        stood = standing.points[first:stop] if standing is not None else np.zeros((0, 3))
        hear = _share(told, first / number, stop / number)
        grown = _grown(bonds, stop - first, stood, rules, seed, hear)
        own = np.ascontiguousarray(grown.points.T)
        parts.append(_Part(bonds, grown, own if bonds.flat else upright(own), first))
    for seam in seams(course, number):
        parts = _zipped(parts, seam, told)
    points = _side_by_side([part.points for part in parts], _BETWEEN * max(one.across for one in measures))
    strains = np.concatenate([np.abs(part.grown.strain) for part in parts])
    stops = [item.first_bead - 1 + item.beads for item in course.rounds]
    form = Form(
        title=plan.title,
        points=points,
        holes=np.concatenate([_holes(part) for part in parts]),
        materials=materials,
        material=np.array(material[:number], np.int64),
        stops=(*(stop for stop in stops if stop < number), number),
        energy=sum(part.grown.energy for part in parts),
        strain=float(strains.mean()) if strains.size else 0.0,
        scale=_scale(course, plan, gauge),
        doubts=tuple(guessed),
    )
    lone_disc = len(parts) == 1 and parts[0].bonds.disc and rules and form.beads == course.beads
    against = against_rule(form, rules[0]) if lone_disc else ""
    doubts = (*guessed, *_doubts(course, form, parts), *([against] if against else []))
    return replace(form, doubts=doubts, against=against)


def _zipped(parts: list[_Part], seam: Seam, told: Told | None) -> list[_Part]:
    """The parts, those that the seam joins being one from now on."""
    ends = {bead for pair in seam.pairs for bead in pair}
    joined = [part for part in parts if any(part.first <= bead < part.stop for bead in ends)]
    one, other = joined[0], joined[-1]
    if len(joined) > 2 or (one is not other and one.stop != other.first):
        return parts
    pairs = [(here - one.first, there - one.first) for here, there in seam.pairs]
    if one is other:
        placed = rolled(one.points, pairs)
    else:
        size = len(one.points)
        thick = max(measure.across for measure in one.bonds.measures)
        theirs = faced(one.points, other.points, [(low, high - size) for low, high in map(sorted, pairs)], thick)
        placed = np.concatenate((one.points, theirs))
    own = [one] if one is other else [one, other]
    bonds = together([(part.bonds, len(part.points)) for part in own], pairs)
    grown = rest(bonds, np.ascontiguousarray(placed.T), told)
    whole = _Part(bonds, grown, upright(np.ascontiguousarray(grown.points.T)), one.first)
    at = parts.index(one)
    return [*parts[:at], whole, *parts[at + len(own) :]]


def _holes(part: _Part) -> NDArray[np.float64]:
    bonds = part.bonds
    return holes(part.points, bonds.neighbours, bonds.columns, bonds.upright)


def _grown(
    bonds: Bonds, beads: int, stood: NDArray[np.float64], rules: tuple[PartFlatness, ...], seed: int, told: Told | None
) -> Grown:
    if len(stood):
        return grow_on(bonds, stood.T, beads, told)
    ruffles = bonds.full and any(rule.flatness.verdict is Verdict.RUFFLE for rule in rules)
    starts = _STARTS if ruffles else 1
    found = [grow(bonds, beads, seed + nth, _share(told, nth / starts, (nth + 1) / starts)) for nth in range(starts)]
    return min(found, key=lambda one: one.energy)


def _share(told: Told | None, low: float, high: float) -> Told | None:
    """Tells a stretch of the whole."""
    return None if told is None else lambda share: told(low + share * (high - low))


def _side_by_side(parts: list[NDArray[np.float64]], between: float) -> NDArray[np.float64]:
    """Parts one beside the other along the first axis."""
    placed: list[NDArray[np.float64]] = []
    for points in parts:
        shift = np.zeros(3)
        if placed:
            shift[0] = placed[-1][:, 0].max() + between - points[:, 0].min()
        placed.append(points + shift)
    return np.concatenate(placed)


def _doubts(course: Course, form: Form, parts: list[_Part]) -> Iterator[str]:
    yield from of_beads(form)
    if any(part.bonds.full for part in parts):
        yield "this is one likely form: a piece so full folds in more ways than one"
    if len(parts) > 1:
        yield "its parts are shown side by side, each by itself"
    yield from of_stitches(course, form.beads)
    if not all(part.grown.still for part in parts):
        yield "the piece is so large that it was not waited for until it lay still"


def _scale(course: Course, plan: Plan, gauge: Gauge | None) -> float:
    """Of a band what its gauge makes of the distance of two bead lengths a unit, in the middle of the wall.

    Of other work the stitcher's own gauge over the usual one.
    """
    start = plan.work[0]
    bead = frame_bead(plan)
    if bead is None or bead.length is None or bead.outside is None:
        return 1.0
    if not isinstance(start, Band):
        usual = default_gauge(bead, gauge.stitch, gauge.per) if gauge is not None else None
        return gauge.each.value / usual.each.value if gauge is not None and usual is not None else 1.0
    gauge = gauge or default_gauge(bead, MRAW, Per.UNIT)
    if gauge is None:
        return 1.0
    units = course.rounds[0].spaces
    return (gauge.length(units).value + math.pi * bead.outside) / (2 * bead.length * units)
