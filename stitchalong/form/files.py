"""Pictures and meshes as files' bytes: PNG and PLY."""

from __future__ import annotations

import math
import struct
import zlib

import numpy as np
from numpy.typing import NDArray

from stitchalong.form.render import Picture
from stitchalong.form.shape import Form, Material

_AROUND = 16
"""corners of a bead's mesh round its hole"""


def png(picture: Picture) -> bytes:
    """A PNG of 8 bits a colour: signature, IHDR, one IDAT, IEND (W3C PNG specification, 5.2 and 11.2)."""
    height, width, _ = picture.shape
    rows = np.zeros((height, 1 + 3 * width), np.uint8)
    flat = picture.reshape(height, 3 * width)
    # filter 1, the difference to the pixel at the left, makes runs of ground vanish
    rows[:, 0] = 1
    rows[:, 1:4] = flat[:, :3]
    rows[:, 4:] = flat[:, 3:] - flat[:, :-3]
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    data = zlib.compress(rows.tobytes(), 6)
    return b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", head) + _chunk(b"IDAT", data) + _chunk(b"IEND", b"")


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


# ---- mesh ---------------------------------------------------------------------------------------


def ply(form: Form) -> bytes:
    """A binary PLY (Greg Turk's format, version 1.0): each bead a closed tube with its hole, in its colour, in mm.

    Lengths are scaled by the stitcher's gauge.
    """
    vertices: list[NDArray[np.float32]] = []
    colours: list[NDArray[np.uint8]] = []
    faces: list[NDArray[np.int32]] = []
    first = 0
    for index, material in enumerate(form.materials):
        own = np.flatnonzero(form.material == index)
        if not own.size:
            continue
        profile = _profile(material)
        points = _tubes(form.points[own], form.holes[own], profile) * form.scale
        vertices.append(points.reshape(-1, 3).astype(np.float32))
        colours.append(np.tile(np.array(material.colour, np.uint8), (points.size // 3, 1)))
        each = len(profile) * _AROUND
        quads = _quads(len(profile))
        starts = first + each * np.arange(own.size)
        faces.append((starts[:, None, None] + quads).reshape(-1, 4).astype(np.int32))
        first += each * own.size
    corner = np.concatenate(vertices)
    face = np.concatenate(faces)
    head = (
        "ply\nformat binary_little_endian 1.0\n"
        f"comment lengths in millimetres\nelement vertex {len(corner)}\n"
        "property float x\nproperty float y\nproperty float z\n"
        "property uchar red\nproperty uchar green\nproperty uchar blue\n"
        f"element face {len(face)}\nproperty list uchar int vertex_indices\nend_header\n"
    )
    rows = np.empty(len(corner), np.dtype([("at", "<f4", 3), ("colour", "u1", 3)]))
    rows["at"], rows["colour"] = corner, np.concatenate(colours)
    lists = np.empty(len(face), np.dtype([("number", "u1"), ("corners", "<i4", 4)]))
    lists["number"], lists["corners"] = 4, face
    return head.encode("ascii") + rows.tobytes() + lists.tobytes()


def _profile(material: Material) -> list[tuple[float, float]]:
    """A bead's section on one side of its hole, as (along, off the axis), a closed line, outside first."""
    barrel = material.barrel
    half, hole = barrel.half, barrel.hole / 2
    steps = 8 if barrel.bulge else 1
    sides = [half * (2 * nth / steps - 1) for nth in range(steps + 1)]
    outside = [(at, math.sqrt(barrel.thick**2 - barrel.bulge * at * at)) for at in sides]
    return [*outside, (half, hole), (-half, hole)]


def _tubes(
    points: NDArray[np.float64], ways: NDArray[np.float64], profile: list[tuple[float, float]]
) -> NDArray[np.float64]:
    """The corners of each bead, shape (beads, profile, around, 3)."""
    helper = np.where(np.abs(ways[:, 2:]) < 0.9, np.array([[0.0, 0.0, 1.0]]), np.array([[1.0, 0.0, 0.0]]))
    side = np.cross(ways, helper)
    side /= np.sqrt((side * side).sum(axis=1, keepdims=True))
    up = np.cross(ways, side)
    angle = 2 * math.pi * np.arange(_AROUND) / _AROUND
    round_ = np.cos(angle)[:, None] * side[:, None, :] + np.sin(angle)[:, None] * up[:, None, :]
    section = np.array(profile)
    out: NDArray[np.float64] = (
        points[:, None, None, :]
        + section[:, 0, None, None] * ways[:, None, None, :]
        + section[:, 1, None, None] * round_[:, None, :, :]
    )
    return out


def _quads(profile: int) -> NDArray[np.int64]:
    """The faces of one tube, anticlockwise from outside."""
    ring, corner = (part.ravel() for part in np.meshgrid(np.arange(profile), np.arange(_AROUND), indexing="ij"))
    ring_on, corner_on = (ring + 1) % profile, (corner + 1) % _AROUND
    corners = ((ring, corner), (ring, corner_on), (ring_on, corner_on), (ring_on, corner))
    return np.stack([at * _AROUND + around for at, around in corners], axis=1)
