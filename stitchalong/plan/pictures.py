"""A small picture becomes the letters of a chart: each pixel the bead of the palette that is nearest in colour.

The file lies beside the plan or in a folder below it. It is read once; the letters are kept with the plan's data.
"""

from __future__ import annotations

import os
import re
import stat
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from io import BytesIO
from math import sqrt
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING

from stitchalong.errors import PlanError, how_to_add
from stitchalong.plan.text import shown

if TYPE_CHECKING:
    from PIL.Image import Image

MAX_BYTES = 4 * 1024 * 1024
MAX_ACROSS = 1_000
MAX_HIGH = 5_000
MAX_PIXELS = 1_000_000
MAX_COLOURS = 256
FAR = 30.0
"""a distance in CIE L*a*b* from which on a bead is another colour than the pixel"""

Lab = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Mapped:
    """A picture in letters."""

    lines: tuple[str, ...]
    """the top line first"""
    colours: tuple[tuple[str, str, int], ...]
    """(`#rrggbb` in the picture, bead code, how many pixels), the most frequent first"""
    far: tuple[tuple[str, str], ...]
    """(colour, code) of those that no bead comes near"""


def map_picture(folder: Path, name: str, palette: Mapping[str, str]) -> Mapped:
    """The picture `name` below `folder` in the codes of `palette` (code -> `#rrggbb`).

    Raises PlanError, without a place, for a file that may not or cannot be read.
    """
    picture = _opened(_bytes_of(folder, name))
    counts = Counter({f"#{r:02x}{g:02x}{b:02x}": number for number, (r, g, b) in _colours(picture)})
    known = {code: lab(colour) for code, colour in palette.items()}
    code_of = {colour: min(known, key=lambda code: distance(known[code], lab(colour))) for colour in counts}
    letters = [code_of[f"#{r:02x}{g:02x}{b:02x}"] for r, g, b in _pixels(picture)]
    width, height = picture.size
    return Mapped(
        tuple("".join(letters[row * width : (row + 1) * width]) for row in range(height)),
        tuple((colour, code_of[colour], number) for colour, number in counts.most_common()),
        tuple((colour, code) for colour, code in code_of.items() if distance(known[code], lab(colour)) > FAR),
    )


# ---- the file -----------------------------------------------------------------------------------


def _bytes_of(folder: Path, name: str) -> bytes:
    """The bytes of a file beside or below the folder, whatever links there are. Raises PlanError."""
    pure = PurePosixPath(name)
    if "\\" in name or ":" in name or "\0" in name or pure.is_absolute() or ".." in pure.parts or not pure.parts:
        raise PlanError(
            f"`{shown(name)}` does not lie beside the plan or below it",
            fix="put it into the plan's own folder",
        )
    try:
        root = folder.resolve(strict=True)
        path = root.joinpath(*pure.parts).resolve(strict=True)
        if not path.is_relative_to(root):
            raise PlanError(f"`{shown(name)}` leads out of the plan's folder", fix="put the picture itself there")
        if not stat.S_ISREG(path.stat().st_mode):
            raise PlanError(f"`{shown(name)}` is no ordinary file")
        flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
        with open(os.open(path, flags), "rb") as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                raise PlanError(f"`{shown(name)}` is no ordinary file")
            raw = file.read(MAX_BYTES + 1)
    except FileNotFoundError:
        raise PlanError(f"there is no picture `{shown(name)}` beside the plan") from None
    except (OSError, RuntimeError) as error:
        reason = getattr(error, "strerror", None) or "the name leads round in a circle"
        raise PlanError(f"`{shown(name)}` cannot be read: {shown(reason, 80).lower()}") from None
    if len(raw) > MAX_BYTES:
        raise PlanError(f"`{shown(name)}` is larger than {MAX_BYTES // 2**20} MiB, too large for a chart")
    return raw


def _opened(raw: bytes) -> Image:
    """The picture in red, green and blue. Raises PlanError for anything but a small opaque PNG."""
    try:
        from PIL import Image
    except ImportError:
        raise PlanError("reading a picture needs a library that is not installed", fix=how_to_add("picture")) from None
    width, height = _size(raw)
    if width > MAX_ACROSS or height > MAX_HIGH or width * height > MAX_PIXELS:
        raise PlanError(
            f"the picture is {width:,} pixels by {height:,}; one pixel is one bead",
            fix=f"make it smaller: at most {MAX_ACROSS:,} by {MAX_HIGH:,}",
        )
    try:
        with Image.open(BytesIO(raw), formats=("PNG",)) as picture:
            full = picture.convert("RGBA")
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError) as error:
        raise PlanError("the picture cannot be read as a PNG", fix="save it anew as PNG") from error
    if full.getchannel("A").getextrema()[0] != 255:
        raise PlanError("the picture has see-through pixels", fix="fill them with a colour of the palette")
    return full.convert("RGB")


def _size(raw: bytes) -> tuple[int, int]:
    """Width and height as a PNG's first chunk tells them (w3.org/TR/png-3, 5.2 and 11.2.1)."""
    if raw[:8] != b"\x89PNG\r\n\x1a\n" or raw[12:16] != b"IHDR" or len(raw) < 33:
        raise PlanError("the picture is no PNG", fix="save it as PNG")
    return int.from_bytes(raw[16:20], "big"), int.from_bytes(raw[20:24], "big")


def _colours(picture: Image) -> list[tuple[int, tuple[int, int, int]]]:
    found = picture.getcolors(MAX_COLOURS)
    if found is None:
        raise PlanError(
            f"the picture has more than {MAX_COLOURS} colours",
            fix="reduce it to the colours of the beads, without smoothing",
        )
    return found  # type: ignore[return-value]


def _pixels(picture: Image) -> list[tuple[int, int, int]]:
    raw = picture.tobytes()
    return [(raw[at], raw[at + 1], raw[at + 2]) for at in range(0, len(raw), 3)]


# ---- colour -------------------------------------------------------------------------------------

_HEX = re.compile(r"#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})")
_WHITE = (0.95047, 1.0, 1.08883)


def lab(colour: str) -> Lab:
    """CIE L*a*b* (D65) of `#rrggbb`, by IEC 61966-2-1 and CIE 15."""
    match = _HEX.fullmatch(colour)
    if match is None:
        raise ValueError(f"no colour: {colour!r}")
    red, green, blue = (_linear(int(part, 16) / 255) for part in match.groups())
    x = 0.4124564 * red + 0.3575761 * green + 0.1804375 * blue
    y = 0.2126729 * red + 0.7151522 * green + 0.0721750 * blue
    z = 0.0193339 * red + 0.1191920 * green + 0.9503041 * blue
    fx, fy, fz = (_root(value / white) for value, white in zip((x, y, z), _WHITE, strict=True))
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


def distance(one: Lab, other: Lab) -> float:
    """How far apart two colours are (CIE 1976)."""
    return sqrt(sum((a - b) ** 2 for a, b in zip(one, other, strict=True)))


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else float(((part + 0.055) / 1.055) ** 2.4)


def _root(ratio: float) -> float:
    return float(ratio ** (1 / 3)) if ratio > (6 / 29) ** 3 else ratio / (3 * (6 / 29) ** 2) + 4 / 29
