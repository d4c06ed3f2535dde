"""What speaks against a form, one line each."""

from __future__ import annotations

from collections.abc import Iterator

from stitchalong.course.course import Course
from stitchalong.fabric.stitch import Kind
from stitchalong.form.derive import MODELLED
from stitchalong.form.shape import Form
from stitchalong.form.verdict import LEAST_ROUNDS, seen
from stitchalong.measure.flat import Verdict
from stitchalong.measure.of_course import PartFlatness

FULL = (Verdict.SADDLE, Verdict.RUFFLE)


def of_beads(form: Form) -> Iterator[str]:
    """Because of the beads."""
    used = {form.materials[at] for at in set(form.material.tolist())}
    if any(one.rounded for one in used):
        yield "beads with rounded ends nest deeper than they are drawn here"
    if len({(one.across, one.along) for one in used}) > 1:
        yield "beads of several sizes were not tried: where they meet the work may draw in or wave more"


def of_stitches(course: Course, beads: int) -> Iterator[str]:
    """Because of what the first so many beads are stitched in."""
    done = [at for at, item in enumerate(course.rounds) if item.first_bead - (not item.beads) <= beads]
    kinds = {(course.rounds[at].technique, stitch.kind) for at in done for stitch, _ in course.runs_of(at)}
    for technique in sorted({technique for technique, _ in kinds} - MODELLED):
        yield f"what {technique} does to the form is not known: it is shown as before"
    if ("peyote", Kind.SKIP) in kinds:
        yield "spaces passed without a bead were not tried: how hard the thread draws in decides"
    if any(kind is Kind.CORNER for _, kind in kinds):
        yield "corners of three crowd their beads: the thread is taken to give there as much as flat work needs"
    techniques = {technique for technique, _ in kinds}
    if "netting" in techniques:
        yield "a net can be pulled wide or long: here its meshes are as open as they lie by themselves"
    if "fringe" in techniques:
        yield "strands of fringe are drawn straight: how they fall is not reckoned"
    if any(kind is Kind.PICOT for _, kind in kinds):
        yield "picots stand or lean here as chance has it"


def against_rule(form: Form, rule: PartFlatness) -> str:
    """Where a disc does not do what the total angle foretells; empty where it does."""
    asked = rule.flatness.verdict
    if rule.last < LEAST_ROUNDS or asked not in (*FULL, Verdict.FLAT, Verdict.CUP):
        return ""
    found = seen(form, rule.last).verdict
    if found is asked or (found in FULL and asked in FULL):
        return ""
    where = "" if rule.last == len(form.stops) else f" up to round {rule.last}"
    return f"here it {found}{where}, where by its angles it {asked}: real work gives a little, and this does not"
