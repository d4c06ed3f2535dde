"""A plan printed in full: every round written out from the needle, as a plan that reads back to the same course."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.noting import round_notation
from stitchalong.course.phrases import word_of
from stitchalong.errors import PlanError
from stitchalong.plan.model import FIRST_PART, Plan
from stitchalong.plan.printed import Noted, print_plan

Data = dict[str, Any]

_RULES = ("increase", "decrease", "corners", "chart", "height", "usual")
"""what a written-out round does without"""
_LISTS = ("rounds", "rows", "strands")
_MOST_TRIES = 24


def print_in_full(data: Mapping[str, Any], course: Course, read: Callable[[str], Plan]) -> str:
    """The text of the plan that writes out every round of `course`, which is what `data` compiles to.

    `read` makes a plan of a text; the result has been read back and compiled to the same stitches, or PlanError is
    raised. Rows of techniques that cannot be counted out stand in the plan's own words; open heights are settled.
    """
    own = [index for index, work in enumerate(data["work"]) if work.get("stitch", "peyote") != "peyote"]
    chosen: set[int] = set()
    text = _text(data, course, chosen)
    _hold(text, course, read)
    for index in own[:_MOST_TRIES]:
        tried = _text(data, course, chosen | {index})
        try:
            _hold(tried, course, read)
        except PlanError:
            continue
        chosen.add(index)
        text = tried
    return text


def same_work(one: Course, other: Course) -> bool:
    """Whether two courses have the same stitches, moves and rounds; remarks and open questions aside."""
    return (
        one.rounds == other.rounds
        and [one.stitches[at] for at in one.run_stitch] == [other.stitches[at] for at in other.run_stitch]
        and one.run_step == other.run_step
        and one.passes == other.passes
    )


def _hold(text: str, course: Course, read: Callable[[str], Plan]) -> None:
    """Raise PlanError where the text is not the same work."""
    again = compile_plan(read(text))
    if not same_work(course, again):
        raise PlanError(
            "this plan has no written form: its rounds, written out one by one, would be counted otherwise",
            fix="`stitchalong course` without `--in-full` prints them",
        )


def _text(data: Mapping[str, Any], course: Course, counted_out: set[int]) -> str:
    """The plan's text; `counted_out`: works of a technique of their own whose rows are written out too."""
    rounds: dict[int, list[int]] = {}
    for index, item in enumerate(course.rounds):
        rounds.setdefault(item.work, []).append(index)
    works = [
        _work(work, course, rounds.get(index, []), index in counted_out) for index, work in enumerate(data["work"])
    ]
    beads = {
        code: {**bead, **({"marker": True} if code in course.markers else {})} for code, bead in data["beads"].items()
    }
    kept = {key: value for key, value in data.items() if key not in ("charts", "beads", "work")}
    head = ["Every round written out, from where the needle is."]
    return print_plan({**kept, "beads": beads, "work": works}, head=head)


def _work(work: Mapping[str, Any], course: Course, rounds: list[int], counted_out: bool) -> Data:
    if "start" in work:
        return _start(work, course, rounds)
    if "stitch" not in work:
        return dict(work)
    if work["stitch"] != "peyote" and not counted_out and "chart" not in work:
        return _in_its_own_words(work, rounds)
    usual = "rows" if rounds and course.rounds[rounds[0]].flat else "rounds"
    key = next((key for key in _LISTS if key in work), usual)
    kept = {name: value for name, value in work.items() if name not in (*_RULES, *_LISTS, "fill", "reinforce")}
    fills = [index for index in rounds if course.rounds[index].technique == "fill"]
    if fills:
        kept["fill"] = round_notation(course, fills[0], check=True)
    kept[key] = [_noted(course, index) for index in rounds if index not in fills]
    if work.get("reinforce"):
        kept["reinforce"] = True
    return kept


def _noted(course: Course, index: int) -> Noted:
    item = course.rounds[index]
    part = f" of {item.part}" if item.part != FIRST_PART else ""
    return round_notation(course, index, check=True), f"{word_of(item.technique, item.flat)} {item.number}{part}"


def _in_its_own_words(work: Mapping[str, Any], rounds: list[int]) -> Data:
    kept = {key: value for key, value in work.items() if key != "usual"}
    if "height" in kept:
        kept["height"] = len(rounds)
    return kept


def _start(work: Mapping[str, Any], course: Course, rounds: list[int]) -> Data:
    kept = dict(work)
    if work["start"] == "MRAW band":
        kept = {key: value for key, value in work.items() if key not in ("side", "marker", "sides", "chart")}
        codes = set(work["frame"].values())
        kept |= {"frame": codes.pop() if len(codes) == 1 else work["frame"]}
        kept |= {"units": course.rounds[rounds[0]].spaces, "spacers": round_notation(course, rounds[0])}
    elif work["start"] in ("ring", "tube") or "chart" in work:
        kept.pop("chart", None)
        kept["beads"] = round_notation(course, rounds[0], check=True)
    return kept
