"""What the beads of a plan look like and measure."""

from __future__ import annotations

from stitchalong.course.course import Course
from stitchalong.errors import UsageError
from stitchalong.form.shape import Material
from stitchalong.measure.of_course import bead_sizes
from stitchalong.plan.model import Plan

_HOLE = 0.5
"""of a bead's thickness, where nobody measured it"""


def materials_of(plan: Plan) -> tuple[tuple[Material, ...], list[str]]:
    """What each bead of the palette looks like, and what had to be guessed, one line each.

    Raises UsageError where no bead's measures are known.
    """
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


def material_of(course: Course, materials: tuple[Material, ...]) -> list[int]:
    """The index of every bead's material, in the order picked up."""
    index = {one.code: at for at, one in enumerate(materials)}
    out: list[int] = []
    for at in range(len(course.rounds)):
        for stitch, count in course.runs_of(at):
            out.extend([index[code] for code in stitch.beads] * count)
    return out
