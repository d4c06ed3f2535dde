"""The form in small, as lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stitchalong.form.cells import cells
from stitchalong.form.runs import Colour
from stitchalong.form.view import View
from stitchalong.screens.lines import Line, Span
from stitchalong.screens.making.board import PAINT

if TYPE_CHECKING:
    from stitchalong.form.shape import Form


def formed(form: Form, ground: str, width: int, height: int) -> list[Line]:
    """`ground`: the colour behind it, `#rrggbb`."""
    back = int(ground[1:3], 16), int(ground[3:5], 16), int(ground[5:7], 16)
    rows = cells(form, View(), width, height, ground=back)
    return [tuple(Span(run.text, f"{PAINT}{_code(run.ink)}/{_code(run.paper)}") for run in row) for row in rows]


def _code(colour: Colour | None) -> str:
    return "#{:02x}{:02x}{:02x}".format(*colour) if colour else ""
