"""A form as SVG: every bead a body and the end that faces the eye, the furthest first."""

from __future__ import annotations

import math
from collections.abc import Iterator
from xml.sax.saxutils import escape

import numpy as np

from stitchalong.form.shape import Barrel, Form, Material
from stitchalong.form.view import Marks, View
from stitchalong.plan.text import clean

_MARGIN = 1.04


def svg(form: Form, view: View, width: int = 600, height: int = 600, *, marks: Marks | None = None) -> str:
    """An SVG 1.1 document of the form, in parallel projection; drawn back to front (painter's order)."""
    marks = marks or Marks()
    beads = form.beads if view.shown is None else min(view.shown, form.beads)
    axes = np.array(view.axes())
    centres = (form.points[:beads] - form.middle) @ axes.T
    ways = form.holes[:beads] @ axes.T
    # each hole's end towards the eye
    ways = np.where(ways[:, 2:] < 0, -ways, ways)
    scale = min(width, height) / (2 * form.radius * _MARGIN) * view.zoom
    used = sorted(set(form.material[:beads].tolist()))
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="0 0 {width} {height}">',
        f"<title>{escape(clean(form.title))}</title>",
        "<style>",
        *(line for index in used for line in _styles(index, form.materials[index])),
        "</style>",
        f'<g transform="translate({width / 2:g} {height / 2:g}) scale({scale:.4f} {-scale:.4f})">',
    ]
    for bead in np.argsort(centres[:, 2], kind="stable").tolist():
        material = int(form.material[bead])
        x, y, _ = centres[bead].tolist()
        lines.extend(_bead(form.materials[material].barrel, material, x, y, ways[bead].tolist(), bead, marks))
    lines += ["</g>", "</svg>", ""]
    return "\n".join(lines)


def _styles(index: int, material: Material) -> Iterator[str]:
    body = material.colour
    dark, light = (_mixed(body, (0, 0, 0), 0.45), _mixed(body, (255, 255, 255), 0.25))
    yield f".b{index} {{ fill: {_hex(body)}; stroke: {_hex(dark)}; stroke-width: 0.06 }}"
    yield f".e{index} {{ fill: {_hex(light)}; stroke: {_hex(dark)}; stroke-width: 0.04 }}"


def _mixed(colour: tuple[int, int, int], other: tuple[int, int, int], share: float) -> tuple[int, int, int]:
    red, green, blue = (round(a + (b - a) * share) for a, b in zip(colour, other, strict=True))
    return red, green, blue


def _hex(colour: tuple[int, int, int]) -> str:
    return "#{:02x}{:02x}{:02x}".format(*colour)


def _bead(
    barrel: Barrel, material: int, x: float, y: float, way: list[float], bead: int, marks: Marks
) -> Iterator[str]:
    ux, uy, uz = way
    flat = math.hypot(ux, uy)
    angle = math.degrees(math.atan2(uy, ux)) if flat > 1e-9 else 0.0
    long, thick, rim = barrel.half * flat, barrel.thick, barrel.rim
    ghost = ' fill-opacity="0.3" stroke-dasharray="0.2 0.15"' if bead == marks.coming else ""
    yield f'<g transform="translate({x:.3f} {y:.3f}) rotate({angle:.1f})"{ghost}>'
    # the outline: round the far end, along the side, round the near end, and back
    bow = f"Q 0 {2 * thick - rim:.3f}"
    yield (
        f'<path class="b{material}" d="M {-long:.3f} {-rim:.3f} A {rim * uz:.3f} {rim:.3f} 0 0 0 {-long:.3f} {rim:.3f} '
        f"{bow} {long:.3f} {rim:.3f} A {rim * uz:.3f} {rim:.3f} 0 0 0 {long:.3f} {-rim:.3f} "
        f'Q 0 {rim - 2 * thick:.3f} {-long:.3f} {-rim:.3f} Z"/>'
    )
    if bead in marks.laid:
        yield f'<path d="M 0 {-thick:.3f} V {thick:.3f}" stroke="#fff" stroke-width="0.5"/>'
    if uz > 0.05:
        yield f'<ellipse class="e{material}" cx="{long:.3f}" rx="{rim * uz:.3f}" ry="{rim:.3f}"/>'
        hole = barrel.hole / 2
        yield f'<ellipse cx="{long:.3f}" rx="{hole * uz:.3f}" ry="{hole:.3f}" fill="#111"/>'
    yield "</g>"
