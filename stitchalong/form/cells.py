"""A form in the cells of a terminal: half blocks in colour, or shades and letters without."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

import numpy as np

from stitchalong.form.render import Picture, picture, scene
from stitchalong.form.runs import Colour, Line, Run
from stitchalong.form.shape import Form
from stitchalong.form.view import Marks, View

HALF = "▀"
_SHADES = "@%#*+=-:."
"""from near to far"""
_LAID, _COMING = "o", "?"


def cells(
    form: Form, view: View, columns: int, lines: int, *, marks: Marks | None = None, ground: Colour = (24, 24, 28)
) -> tuple[Line, ...]:
    """The form in so many cells, each of two pixels one above the other, in 24-bit colour."""
    pixels = picture(form, view, columns, 2 * lines, marks=marks, ground=ground)
    return tuple(tuple(_runs(pixels[2 * at : 2 * at + 2])) for at in range(lines))


def _runs(pair: Picture) -> Iterator[Run]:
    looks = [(tuple(top), tuple(bottom)) for top, bottom in zip(pair[0].tolist(), pair[1].tolist(), strict=True)]
    for (top, bottom), group in groupby(looks):
        number = sum(1 for _ in group)
        if top == bottom:
            yield Run(" " * number, None, bottom)
        else:
            yield Run(HALF * number, top, bottom)


def ansi(lines: tuple[Line, ...]) -> Iterator[str]:
    """Lines as a terminal of 24-bit colour takes them, each ending without colour."""
    for line in lines:
        parts = []
        for run in line:
            codes = [f"{base};2;{colour[0]};{colour[1]};{colour[2]}" for base, colour in _layers(run)]
            parts.append(f"\x1b[{';'.join(codes)}m{run.text}" if codes else f"\x1b[0m{run.text}")
        yield "".join(parts) + "\x1b[0m"


def _layers(run: Run) -> Iterator[tuple[int, Colour]]:
    if run.ink is not None:
        yield 38, run.ink
    if run.paper is not None:
        yield 48, run.paper


def plain(
    form: Form, view: View, columns: int, lines: int, *, marks: Marks | None = None, letters: bool = False
) -> list[str]:
    """The form in characters alone: the nearer the denser, or with `letters` each bead by its code.

    Beads just laid are `o`, the next one is `?`.
    """
    marks = marks or Marks()
    buffer = scene(form, view, columns, 2 * lines, marks)
    upper, lower = buffer.depth[0::2], buffer.depth[1::2]
    nearer = lower > upper
    depth = np.where(nearer, lower, upper)
    bead = np.where(nearer, buffer.bead[1::2], buffer.bead[0::2])
    seen = bead >= 0
    if not seen.any():
        return [""] * lines
    near, far = float(depth[seen].max()), float(depth[seen].min())
    shade = np.zeros(depth.shape, np.int64)
    shade[seen] = ((near - depth[seen]) / max(near - far, 1e-6) * (len(_SHADES) - 1) + 0.5).astype(np.int64)
    out = []
    for at in range(lines):
        row = (
            _character(form, marks, int(bead[at, column]), int(shade[at, column]), letters) for column in range(columns)
        )
        out.append("".join(row).rstrip())
    return out


def _character(form: Form, marks: Marks, bead: int, shade: int, letters: bool) -> str:
    if bead < 0:
        return " "
    if bead == marks.coming:
        return _COMING
    if bead in marks.laid:
        return _LAID
    return form.materials[int(form.material[bead])].code[:1] if letters else _SHADES[shade]
