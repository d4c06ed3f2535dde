"""Drawing: every bead a shaded cylinder (or ellipsoid, where its ends are rounded) with its hole, into a depth buffer.

Parallel projection. A pixel's ray meets a cylinder, its flat ends, or an ellipsoid, where a quadratic equation says;
the nearest bead wins.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stitchalong.form.shape import Barrel, Form
from stitchalong.form.view import Marks, View

Picture = NDArray[np.uint8]
"""red, green, blue, shape (height, width, 3)"""
Reals = NDArray[np.float32]

_AT_ONCE = 400_000
"""rays cast, and pixels coloured, in one go: bounds the memory"""
_LIGHT = np.array([-0.38, 0.55, 0.745], np.float32)
_BELT = np.array([255, 255, 255], np.float32)
_COMING = np.array([255, 220, 60], np.float32)
_FAINT = np.float32(0.3)
"""of a bead's own light, where the rest is the ground"""
_MARGIN = 1.04


@dataclass(frozen=True, slots=True)
class Buffer:
    """What every pixel sees. Shapes (height, width)."""

    bead: NDArray[np.int32]
    """-1 where there is none"""
    depth: Reals
    """mm towards the eye; -inf where there is no bead"""
    light: Reals
    """0 to 1"""
    along: Reals
    """-1 to 1: where along the bead's hole"""
    bore: NDArray[np.bool_]
    """looks into a hole"""


def shown(form: Form, view: View) -> float:
    """mm of the piece that the shorter side of a picture shows."""
    return 2 * form.radius * _MARGIN / view.zoom


def scene(form: Form, view: View, width: int, height: int, marks: Marks, rows: tuple[int, int] | None = None) -> Buffer:
    """Cast the rays of a picture of this size in pixels (square ones); of these rows of it alone (None: all)."""
    first, stop = rows or (0, height)
    beads = form.beads if view.shown is None else min(view.shown, form.beads)
    axes = np.array(view.axes())
    centres = ((form.points[:beads] - form.middle) @ axes.T).astype(np.float32)
    ways = (form.holes[:beads] @ axes.T).astype(np.float32)
    scale = min(width, height) / shown(form, view)
    size = width * (stop - first)
    depth = np.full(size, -np.inf, np.float32)
    bead = np.full(size, -1, np.int32)
    light = np.zeros(size, np.float32)
    along = np.zeros(size, np.float32)
    bore = np.zeros(size, np.bool_)
    across = centres[:, 0] * scale + (width - 1) / 2
    down = (height - 1) / 2 - centres[:, 1] * scale - first
    for index, material in enumerate(form.materials):
        own = np.flatnonzero(form.material[:beads] == index)
        if not own.size:
            continue
        barrel = material.barrel
        around = math.ceil(math.hypot(barrel.half, barrel.thick) * scale + 0.5)
        on = (np.abs(across[own] - width / 2) < width / 2 + around) & (
            np.abs(down[own] - (stop - first) / 2) < (stop - first) / 2 + around
        )
        own = own[on]
        steps = np.arange(-around, around + 1)
        dy, dx = (part.ravel() for part in np.meshgrid(steps, steps, indexing="ij"))
        bunch = max(1, _AT_ONCE // dx.size)
        for at in range(0, own.size, bunch):
            some = own[at : at + bunch, None]
            column = np.rint(across[some]).astype(np.int64) + dx
            row = np.rint(down[some]).astype(np.int64) + dy
            x = ((column - across[some]) / scale).astype(np.float32)
            y = ((down[some] - row) / scale).astype(np.float32)
            inside = (column >= 0) & (column < width) & (row >= 0) & (row < stop - first)
            if marks.coming is not None:
                inside &= (some != marks.coming) | ((column + row + first) % 2 == 0)
            hit = _cast(x, y, ways[some], barrel)
            near = hit.near + centres[some, 2]
            seen = np.flatnonzero((inside & hit.met).ravel())
            pixel = (row * width + column).ravel()[seen]
            far = near.ravel()[seen]
            np.maximum.at(depth, pixel, far)
            front = far == depth[pixel]
            seen, pixel = seen[front], pixel[front]
            bead[pixel] = np.broadcast_to(some, column.shape).ravel()[seen]
            light[pixel] = hit.light.ravel()[seen]
            along[pixel] = hit.along.ravel()[seen]
            bore[pixel] = hit.bore.ravel()[seen]
    shape = (stop - first, width)
    return Buffer(
        bead.reshape(shape), depth.reshape(shape), light.reshape(shape), along.reshape(shape), bore.reshape(shape)
    )


@dataclass(frozen=True, slots=True)
class _Hit:
    met: NDArray[np.bool_]
    near: Reals
    light: Reals
    along: Reals
    bore: NDArray[np.bool_]


def _cast(x: Reals, y: Reals, ways: Reals, barrel: Barrel) -> _Hit:
    """Rays at (x, y) from a bead's middle, towards the eye; `ways` shape (beads, 1, 3).

    On the barrel's side r² + bulge · a² = thick² with r off the axis and a along it; its ends are flat.
    """
    ux, uy, uz = ways[..., 0], ways[..., 1], ways[..., 2]
    thick, half = np.float32(barrel.thick), np.float32(barrel.half)
    stretch = np.float32(barrel.bulge - 1)
    side = x * ux + y * uy
    square = x * x + y * y
    a = np.maximum(1 + stretch * uz * uz, np.float32(1e-6))
    b = stretch * uz * side
    under = b * b - a * (square + stretch * side * side - thick * thick)
    near = (np.sqrt(np.maximum(under, 0)) - b) / a
    along = side + uz * near
    met = (under > 0) & (np.abs(along) <= half)
    # the flat end that faces the eye
    end = np.where(uz < 0, -half, half)
    cap = (end - side) / np.where(np.abs(uz) < 1e-4, np.float32(1e-4), uz)
    off = square + cap * cap - half * half
    on_cap = (off <= barrel.rim**2) & (np.abs(uz) > 1e-3) & ~met
    nx, ny, nz = (x + stretch * along * ux, y + stretch * along * uy, near + stretch * along * uz)
    long = np.sqrt(np.maximum(nx * nx + ny * ny + nz * nz, np.float32(1e-12)))
    sign = np.sign(uz)
    light = np.where(on_cap, _lit(ux * sign, uy * sign, uz * sign), _lit(nx / long, ny / long, nz / long))
    return _Hit(
        met | on_cap,
        np.where(on_cap, cap, near),
        light,
        np.where(on_cap, end, along).astype(np.float32) / half,
        on_cap & (off <= (barrel.hole / 2) ** 2),
    )


def _lit(nx: Reals, ny: Reals, nz: Reals) -> Reals:
    """Light from the upper left, and darker where a bead curves away, so that each stands out from the next."""
    direct = np.maximum(nx * _LIGHT[0] + ny * _LIGHT[1] + nz * _LIGHT[2], 0)
    lit: Reals = (0.18 + 0.6 * direct + 0.3 * np.maximum(nz, 0)) * (0.55 + 0.45 * np.maximum(nz, 0))
    return lit


def colours(form: Form, buffer: Buffer, marks: Marks, ground: tuple[int, int, int]) -> Reals:
    """The buffer in colours, 0 to 255, shape (height, width, 3)."""
    palette = np.array([material.colour for material in form.materials], np.float32)
    seen = buffer.bead >= 0
    bead = np.where(seen, buffer.bead, 0)
    base = palette[form.material[bead]]
    if marks.laid:
        laid = np.zeros(form.beads, np.bool_)
        laid[[one for one in marks.laid if one < form.beads]] = True
        base = np.where((laid[bead] & (np.abs(buffer.along) < 0.45))[..., None], _BELT, base)
    if marks.coming is not None:
        base = np.where((bead == marks.coming)[..., None], _COMING, base)
    light = np.where(buffer.bore, np.float32(0.08), buffer.light)[..., None]
    # a little of the light is white: glass shines
    shine = np.maximum(light - 0.85, 0) * 400
    paper = np.array(ground, np.float32)
    lit = np.clip(base * light + shine, 0, 255)
    if marks.faint is not None:
        lit = np.where((bead >= marks.faint)[..., None], paper + (lit - paper) * _FAINT, lit)
    out: Reals = np.where(seen[..., None], lit, paper)
    return out


def picture(
    form: Form,
    view: View,
    width: int,
    height: int,
    *,
    marks: Marks | None = None,
    ground: tuple[int, int, int] = (250, 248, 244),
    samples: int = 2,
) -> Picture:
    """A picture of the form; each pixel is the mean of `samples` × `samples` rays."""
    marks = marks or Marks()
    out = np.empty((height, width, 3), np.uint8)
    step = max(1, _AT_ONCE // (width * samples * samples))
    for first in range(0, height, step):
        stop = min(first + step, height)
        buffer = scene(form, view, width * samples, height * samples, marks, (first * samples, stop * samples))
        fine = colours(form, buffer, marks, ground)
        out[first:stop] = fine.reshape(stop - first, samples, width, samples, 3).mean(axis=(1, 3)) + 0.5
    return out


def cropped(pixels: Picture, ground: tuple[int, int, int], *, mirrored: bool = False) -> Picture:
    """The picture without the ground around what is drawn; `mirrored`: right and left changed."""
    rows, columns = np.nonzero((pixels != np.array(ground, np.uint8)).any(axis=2))
    if not len(rows):
        return pixels
    inside = pixels[rows.min() : rows.max() + 1, columns.min() : columns.max() + 1]
    return np.ascontiguousarray(inside[:, ::-1] if mirrored else inside)
