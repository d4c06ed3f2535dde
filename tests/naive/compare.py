"""Holds the program's two documents against the naive record, and follows the thread from bead to bead."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from tests.naive.piece import Piece
from tests.naive.record import check_record, course_record
from tests.naive.work import Worker

Dict = dict[str, Any]

TOLD = (
    "beads",
    "ids",
    "through",
    "kind",
    "side",
    "increase",
    "decrease",
    "inside",
    "flank",
    "last",
    "step_up",
)
"""What a stitch in `course --json` says of itself."""


def flat(course: Dict) -> list[Dict]:
    """Every stitch and move of the document in order, with its edge and round."""
    return [
        {"edge": lap["edge"], "round": lap["round"], **stitch} for lap in course["rounds"] for stitch in lap["stitches"]
    ]


def differences(check: Dict, course: Dict, worker: Worker) -> list[str]:
    """Every point in which the documents and the naive piece disagree, one line each."""
    return check_differences(check, worker) + course_differences(course, worker)


def check_differences(check: Dict, worker: Worker) -> list[str]:
    naive = check_record(worker)
    found = [
        f"check: {key} is {check.get(key)}, not {naive.get(key)}"
        for key in ("format", "title", "beads", "totals", "open")
        if check.get(key) != naive.get(key)
    ]
    if len(check["rounds"]) != len(naive["rounds"]):
        found.append(f"check: {len(check['rounds'])} rounds, not {len(naive['rounds'])}")
    for told, laid in zip(check["rounds"], naive["rounds"], strict=False):
        found += [
            f"check, {laid['edge']} round {laid['round']}: {key} is {told.get(key)}, not {value}"
            for key, value in laid.items()
            if told.get(key) != value
        ]
    return found


def course_differences(course: Dict, worker: Worker) -> list[str]:
    told, laid = flat(course), course_record(worker)
    found = [
        f"course: {key} is {course.get(key)}"
        for key, value in (("format", 1), ("title", worker.plan["title"]))
        if course.get(key) != value
    ]
    if len(told) != len(laid):
        found.append(f"course: {len(told)} stitches and moves, not {len(laid)}")
    for place, (one, other) in enumerate(zip(told, laid, strict=False)):
        where = f"course, {other['edge']} round {other['round']}, stitch {place} ({other['kind']})"
        for key in ("edge", "round", *TOLD):
            said, meant = one.get(key), other[key]
            if key == "through" and other["any_way"]:
                said, meant = (said or [])[-1:], meant[-1:]
            if said != meant:
                found.append(f"{where}: {key} is {said}, not {meant}")
    return found


def leaps(course: Dict, piece: Piece) -> list[str]:
    """Places where the thread of the document goes between beads that do not touch."""
    thread = [bead for stitch in flat(course) for bead in [*stitch["ids"], *stitch["through"]]]
    return [
        f"from bead {one} to bead {other}"
        for one, other in pairwise(thread)
        if one > len(piece.beads) or other not in piece.beads[one - 1].touches
    ]
