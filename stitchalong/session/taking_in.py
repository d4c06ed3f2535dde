"""A piece that came in a file: whether it can be gone on with, and says nothing that a plan's file may not say."""

from __future__ import annotations

import json

from stitchalong.course.course import Course
from stitchalong.errors import Place, Problems, StoreError
from stitchalong.plan.checked import build
from stitchalong.plan.faults import check
from stitchalong.plan.model import Plan
from stitchalong.store.rows import PieceRow


def plan_of(row: PieceRow) -> Plan:
    """The plan kept with a piece, held against the schema as a file would be. Raises PlanError or StoreError."""
    data = json.loads(row.plan_data)
    if not isinstance(data, dict):
        raise StoreError("what is kept as its plan is none")
    problems = Problems()
    checked = check(data, problems, lambda path: Place())
    problems.raise_if_any()
    assert checked is not None
    plan = build(data, source=row.plan_name)
    if plan != build(checked, source=row.plan_name):
        raise StoreError("its plan was not made from a plan file")
    return plan


def hold_place(row: PieceRow, course: Course) -> None:
    """Raise StoreError where the place kept lies behind the end of its course."""
    if max(row.position, row.redo_to) > course.steps:
        raise StoreError("its place lies behind the end of its plan")
