"""The thread as one would see it: the beads just laid and those to come."""

from __future__ import annotations

from stitchalong.course.course import Course
from stitchalong.fabric.stitch import Kind, Note
from stitchalong.values import value


@value
class Bit:
    """One step on the strand: a bead, or a move without one."""

    code: str
    """empty for a move"""
    kind: Kind
    together: bool = False
    """laid in the same space as the bead before it"""
    on_rib: bool = False


def _bit(course: Course, position: int) -> Bit:
    spot = course.spot(position)
    stitch = spot.stitch
    code = stitch.beads[spot.step] if stitch.beads else ""
    together = spot.step > 0 and stitch.kind not in (Kind.UNIT, Kind.JOIN)
    return Bit(code, stitch.kind, together, stitch.has(Note.INCREASE))


def strand(course: Course, position: int, behind: int, ahead: int) -> tuple[list[Bit], list[Bit]]:
    """Up to so many steps laid before this position (the nearest last), and so many to come."""
    laid = [_bit(course, at) for at in range(max(0, position - behind), position)]
    coming = [_bit(course, at) for at in range(position, min(course.steps, position + ahead))]
    return laid, coming


def last_beads(course: Course, position: int, wanted: int) -> list[str]:
    """The codes of the last beads laid, the nearest last; moves are passed over."""
    found: list[str] = []
    at = position - 1
    while at >= 0 and len(found) < wanted:
        bit = _bit(course, at)
        if bit.code:
            found.append(bit.code)
        at -= 1
    return found[::-1]
