"""Short ways to write plans in tests."""

from __future__ import annotations

from collections.abc import Iterable

from stitchalong.course.choices import Choice
from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.report import check_document
from stitchalong.plan.model import Plan
from stitchalong.plan.read import read_text

_COLOURS = {"A": "#804020", "B": "#208040", "C": "#3a3d40", "M": "#e0b020", "S": "#7fb8ad", "D": "#102030"}


def plan_text(*work: str, markers: str = "M", title: str = "A piece") -> str:
    """A plan of these [[work]] tables (each a text of its keys, `;;` between lines)."""
    lines = [f'title = "{title}"']
    for code, colour in _COLOURS.items():
        lines += [f"[beads.{code}]", f'name = "bead {code.lower()}"', f'colour = "{colour}"']
        if code in markers:
            lines.append("marker = true")
    for table in work:
        lines += ["[[work]]", *(line.strip() for line in table.split(";;"))]
    return "\n".join(lines) + "\n"


def plan_of(*work: str, markers: str = "M") -> Plan:
    return read_text(plan_text(*work, markers=markers), "test.toml").plan


def course_of(*work: str, markers: str = "M", choices: Iterable[Choice] = ()) -> Course:
    return compile_plan(plan_of(*work, markers=markers), choices)


def rounds_of(course: Course) -> dict[tuple[str, int], dict[str, object]]:
    """The rows of `check`, by edge and round."""
    document = check_document(course)
    return {(row["edge"], row["round"]): row for row in document["rounds"]}  # type: ignore[union-attr,index]


def band(spacers: str, more: str = "") -> str:
    return f'start = "MRAW band" ;; frame = "C" ;; spacers = "{spacers}"{" ;; " + more if more else ""}'


def peyote(rounds: str, *more: str, edge: str = "top") -> str:
    return " ;; ".join([f'stitch = "peyote" ;; edge = "{edge}" ;; rounds = {rounds}', *more])
