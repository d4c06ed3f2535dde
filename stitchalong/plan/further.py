"""What can still be told of a plan whose words are refused: rounds that cannot be read, and beads that nobody names.

Only what holds whatever the refused words come to is told; counts need the whole plan.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Mapping
from typing import Any

from pydantic import ValidationError

from stitchalong.errors import Place, PlanError, Problem
from stitchalong.plan.checked import build
from stitchalong.plan.desk import Path
from stitchalong.plan.schema import Document

_ROWS = ("rounds", "rows")
_ANY = {"name": "bead", "colour": "#000000"}
_CODE = re.compile(r"[A-Z]")


def further(data: Mapping[str, Any], refused: Collection[Path], place: Callable[[Path], Place]) -> list[Problem]:
    """Faults beside those at the paths that were refused, each with its place; empty where the beads cannot be told."""
    palette, work = data.get("beads"), data.get("work")
    if not isinstance(palette, dict) or not isinstance(work, list) or ("work",) in refused:
        return []
    codes = {code.upper() for code in palette if isinstance(code, str)}
    codes = {code for code in codes if _CODE.fullmatch(code)}
    works = {at: entry for at, entry in enumerate(work) if isinstance(entry, dict) and "chart" not in entry}
    for path in refused:
        if path[:1] == ("work",) and len(path) > 1 and path[1] in works:
            at, key = path[1], path[2] if len(path) > 2 else None
            assert isinstance(at, int)
            if key is None or key in _ROWS or not any(rows in works[at] for rows in _ROWS):
                del works[at]
            else:
                works[at] = {name: value for name, value in works[at].items() if name != key}
    for _ in range(2):
        if not codes or not works:
            return []
        rest = {"title": "-", "beads": dict.fromkeys(codes, _ANY), "work": list(works.values())}
        try:
            checked = Document.model_validate(rest).model_dump(by_alias=True, exclude_none=True)
        except ValidationError as error:
            still = {fault["loc"][1] for fault in error.errors(include_url=False) if fault["loc"][:1] == ("work",)}
            works = {at: entry for nth, (at, entry) in enumerate(works.items()) if nth not in still}
        else:
            return _told(checked, list(works), place)
    return []


def _told(checked: Mapping[str, Any], places: list[int], place: Callable[[Path], Place]) -> list[Problem]:
    """`places`: which work of the plan as it was written each of these is."""

    def back(path: Path) -> Place:
        if path[:1] == ("work",) and len(path) > 1 and isinstance(path[1], int):
            return place(("work", places[path[1]], *path[2:]))
        return place(path)

    try:
        build(checked, place=back)
    except PlanError as error:
        return [one for one in error.problems if one.place.source is not None or "is not in the palette" in one.what]
    return []
