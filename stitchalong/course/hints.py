"""Remarks: a designer's own, and the few of each technique, pinned where they matter."""

from __future__ import annotations

from collections.abc import Callable

from stitchalong.course.builder import Builder
from stitchalong.course.course import Remark, Round
from stitchalong.course.edges import WorkingEdge
from stitchalong.errors import Place, PlanError
from stitchalong.plan.model import Plan


def say(out: Builder, text: str) -> None:
    """A technique's own word, at the step that comes next."""
    out.remarks.append(Remark(out.step, text, own=False))


def say_at(out: Builder, step: int, text: str) -> None:
    """A technique's own word, at a step of the round just closed."""
    out.remarks.append(Remark(step, text, own=False))


def at_band(out: Builder) -> None:
    say(
        out,
        "Pass the needle on the same side of the spacer in every unit, always in front or always behind; "
        "mixed, it shows.",
    )


def at_join(out: Builder) -> None:
    say(out, "Before joining: lay the band flat and see that there is no twist in the band.")


def at_string(out: Builder, tube: bool) -> None:
    if tube:
        say(out, "These beads are rounds 1 and 2 at once; the first bead strung belongs to round 2.")


def at_crossing(out: Builder) -> None:
    say(out, "Weave through beads only; pull gently, so that no thread shows on the way to the other edge.")


def at_round(out: Builder, state: WorkingEdge, done: int, rules: bool) -> None:
    """What a round of peyote wants said, at its beginning."""
    if state.number <= 1 and done == 0:
        say(out, "Keep this round snug: it settles the edge for all that hang from it.")
    if done == 0 and rules:
        say(out, "The small space right before and right after a pair is the one that is missed; look for it.")


def pin(out: Builder, plan: Plan, *, is_open: bool) -> None:
    """Put the plan's remarks where they belong. Raises PlanError for a place that the piece does not have."""
    rounds: dict[tuple[str, str, int], Round] = {}
    for item in reversed(out.rounds if plan.remarks else ()):
        rounds.update({(item.part, item.edge, number): item for number in item.numbers})
    stitches: dict[int, Callable[[int], int]] = {}
    for index, remark in enumerate(plan.remarks):
        if remark.round is None and remark.edge is None and remark.part is None:
            out.remarks.append(Remark(0, remark.say, own=True))
            continue
        edge = remark.edge or "top"
        number = remark.round or 0
        part = remark.part or out.rounds[0].part
        found = rounds.get((part, edge, number))
        if found is None:
            if is_open:
                continue
            raise PlanError(
                f"a remark is pinned to round {number} on the {edge} edge, which this piece does not have",
                fix="correct `round` or `edge`",
                place=Place(file=plan.source or None, key=f"remarks[{index + 1}]"),
            )
        step = found.first_step
        if remark.stitch is not None:
            if id(found) not in stitches:
                stitches[id(found)] = out.steps_of_stitches(found)
            step = stitches[id(found)](remark.stitch - 1)
        out.remarks.append(Remark(step, remark.say, own=True))
