"""From a course and its plan to a form."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np

from stitchalong.course.course import Course
from stitchalong.errors import UsageError
from stitchalong.fabric.stitch import Kind
from stitchalong.form.bonds import Bonds, Measure
from stitchalong.form.derive import bonds_of, refuse_unknown
from stitchalong.form.grow import Grown, grow, grow_on
from stitchalong.form.holes import holes
from stitchalong.form.shape import Form, Material
from stitchalong.form.upright import upright
from stitchalong.form.verdict import LEAST_ROUNDS, seen
from stitchalong.measure.flat import Verdict
from stitchalong.measure.gauge import MRAW, Gauge, Per, default_gauge
from stitchalong.measure.of_course import PartFlatness, bead_sizes, flat_parts, frame_bead
from stitchalong.plan.model import Band, Plan

SLOW = 2500
"""beads from which on it takes so long that it should not be waited for"""
_STARTS = 4
"""Work that ruffles has many folds: the lowest of so many starts is taken."""
_FULL = (Verdict.SADDLE, Verdict.RUFFLE)
_HOLE = 0.5
"""of a bead's thickness, where nobody measured it"""


def form_of(
    course: Course,
    plan: Plan,
    *,
    beads: int | None = None,
    standing: Form | None = None,
    gauge: Gauge | None = None,
    seed: int = 0,
    told: Callable[[float], None] | None = None,
) -> Form:
    """One likely form of the first `beads` beads (None: all).

    `standing`: a form of the same course with more or fewer beads, to go on from, which is much quicker. `gauge`: the
    stitcher's own of a band's unit, for the scale of files. `told` hears how far it has come, 0 to 1.

    Raises UsageError where a technique is not modelled, no bead's measures are known, or no bead is stitched.
    """
    refuse_unknown(course)
    number = course.beads if beads is None else min(beads, course.beads)
    if number < 1:
        raise UsageError("no bead is stitched yet, so there is no form", fix="stitch the start first")
    materials, doubts = _materials(plan)
    material = _material_of(course, {one.code: at for at, one in enumerate(materials)})
    bonds = bonds_of(course, [Measure(materials[at].across, materials[at].along) for at in material])
    rules = flat_parts(course, plan) if bonds.disc else ()
    bonds.full = any(rule.flatness.verdict in _FULL for rule in rules)
    if standing is not None:
        grown = grow_on(bonds, standing.points.T, number)
    elif any(rule.flatness.verdict is Verdict.RUFFLE for rule in rules):
        grown = min((grow(bonds, number, seed + nth, told) for nth in range(_STARTS)), key=lambda one: one.energy)
    else:
        grown = grow(bonds, number, seed, told)
    points = upright(np.ascontiguousarray(grown.points.T))
    used = material[:number]
    form = Form(
        title=plan.title,
        points=points,
        holes=holes(points, bonds.neighbours, bonds.columns),
        materials=materials,
        material=np.array(used, np.int64),
        stops=(*(stop for stop in bonds.stops if stop < number), number),
        energy=grown.energy,
        strain=_mean_strain(grown),
        scale=_scale(course, plan, gauge),
        doubts=tuple(_doubts(course, bonds, {materials[at] for at in used})),
    )
    if not grown.still:
        doubts.append("the piece is so large that it was not waited for until it lay still")
    if rules and number == course.beads:
        doubts.extend(_against(form, rules[0]))
    return replace(form, doubts=(*form.doubts, *doubts))


def _against(form: Form, rule: PartFlatness) -> Iterator[str]:
    """What is to be said where a disc does not do what the total angle foretells."""
    asked = rule.flatness.verdict
    if rule.last < LEAST_ROUNDS or asked not in (*_FULL, Verdict.FLAT, Verdict.CUP):
        return
    found = seen(form, rule.last).verdict
    if found is not asked and not (found in _FULL and asked in _FULL):
        where = "" if rule.last == len(form.stops) else f" up to round {rule.last}"
        yield f"here it {found}{where}, where by its angles it {asked}: real work gives a little, and this does not"


def _mean_strain(grown: Grown) -> float:
    return float(np.abs(grown.strain).mean()) if grown.strain.size else 0.0


def _materials(plan: Plan) -> tuple[tuple[Material, ...], list[str]]:
    """What each bead of the palette looks like, and what had to be guessed."""
    sizes = bead_sizes(plan)
    known = [one.size for one in sizes.values() if one.size and one.size.outside and one.size.length]
    if not known:
        notes = [one.note for one in sizes.values() if one.note]
        raise UsageError(
            "the form needs a bead's measures" + (f": {notes[0]}" if notes else ""),
            fix="give size and shape of a bead in the plan, or its length and width in millimetres",
        )
    outside = sum(one.outside or 0.0 for one in known) / len(known)
    length = sum(one.length or 0.0 for one in known) / len(known)
    out: list[Material] = []
    doubts: list[str] = []
    for bead in plan.beads:
        size = sizes[bead.code].size
        across = size.outside if size and size.outside else outside
        along = size.length if size and size.length else length
        if size is None or not (size.outside and size.length):
            doubts.append(f"bead {bead.code} is drawn as large as the others: its measures are not known")
        hole = size.hole if size and size.hole else across * _HOLE
        rounded = bool(size and not size.flat_ended)
        red, green, blue = (int(bead.colour[at : at + 2], 16) for at in (1, 3, 5))
        out.append(Material(bead.code, bead.name, (red, green, blue), across, along, min(hole, 0.8 * across), rounded))
    return tuple(out), doubts


def _material_of(course: Course, index: dict[str, int]) -> list[int]:
    """The material of every bead in the order picked up."""
    out: list[int] = []
    for at in range(len(course.rounds)):
        for stitch, count in course.runs_of(at):
            out.extend([index[code] for code in stitch.beads] * count)
    return out


def _scale(course: Course, plan: Plan, gauge: Gauge | None) -> float:
    """What a band's gauge makes of the distance of two bead lengths a unit, in the middle of the wall."""
    start = plan.work[0]
    bead = frame_bead(plan)
    if not isinstance(start, Band) or bead is None or bead.length is None or bead.outside is None:
        return 1.0
    gauge = gauge or default_gauge(bead, MRAW, Per.UNIT)
    if gauge is None:
        return 1.0
    units = course.rounds[0].spaces
    return (gauge.length(units).value + math.pi * bead.outside) / (2 * bead.length * units)


def _doubts(course: Course, bonds: Bonds, used: set[Material]) -> list[str]:
    out = []
    if any(one.rounded for one in used):
        out.append("beads with rounded ends nest deeper than they are drawn here")
    if len({(one.across, one.along) for one in used}) > 1:
        out.append("beads of several sizes were not tried: where they meet the work may draw in or wave more")
    if bonds.full:
        out.append("this is one likely form: a piece so full folds in more ways than one")
    if any(item.technique == "peyote" and _has(course, at, Kind.SKIP) for at, item in enumerate(course.rounds)):
        out.append("spaces passed without a bead were not tried: how hard the thread draws in decides")
    if any(_has(course, at, Kind.PICOT) for at in range(len(course.rounds))):
        out.append("picots stand or lean here as chance has it")
    return out


def _has(course: Course, index: int, kind: Kind) -> bool:
    return any(stitch.kind is kind for stitch, _ in course.runs_of(index))
