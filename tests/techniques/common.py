"""What every technique is held to: a thread that goes only between beads that touch, numbers that come out."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import Any

from hypothesis import settings

from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout
from stitchalong.course.report import check_document, course_document

calm = settings(deadline=None, max_examples=60)
"""for properties that compile whole plans"""

Touches = Callable[[int, int], bool]


def stitches(course: Course) -> Iterator[dict[str, Any]]:
    """Every stitch and move in order."""
    for lap in course_document(course)["rounds"]:  # type: ignore[union-attr, attr-defined]
        yield from lap["stitches"]


def thread_of(course: Course) -> list[int]:
    """The bead numbers along the thread, those picked up and those passed through."""
    return [bead for stitch in stitches(course) for bead in (*stitch["ids"], *stitch["through"])]


def leaps(course: Course, touches: Touches) -> list[tuple[int, int]]:
    """Where the thread goes between beads that do not touch. A bead touches itself: one may turn round in it."""
    return [(one, other) for one, other in pairwise(thread_of(course)) if one != other and not touches(one, other)]


def beads_by_row(course: Course) -> list[int]:
    return [row["beads"] for row in check_document(course)["rounds"]]  # type: ignore[union-attr, attr-defined]


def walked(course: Course) -> tuple[int, set[str]]:
    """Walks to the last bead as a stitcher would, one step a press: beads laid, and every sentence met on the way."""
    lookout = Lookout(course, {code: f"bead {code.lower()}" for code in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"})
    said: set[str] = set()
    laid = 0
    for position in range(course.steps):
        view = lookout.at(position)
        assert view.beads_done == laid
        assert view.left_piece == course.beads - laid
        assert view.now.endswith(".")
        assert "{" not in view.now
        said.add(view.now)
        laid += bool(view.stitch is not None and view.stitch.beads)
    end = lookout.at(course.steps)
    assert end.done or end.decision, "the last bead is laid, or the question of another round is open"
    return laid, said
