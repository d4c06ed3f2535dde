"""Samples: mono, 16 bits, 22,050 a second, in an `array("h")`; and their WAV files."""

from __future__ import annotations

import io
import os
import sys
import wave
from array import array
from pathlib import Path

RATE = 22_050
"""frames a second"""

TOP = 32_767


def silence(seconds: float) -> array[int]:
    """So many seconds of zeros."""
    return array("h", bytes(2 * round(seconds * RATE)))


def trimmed(samples: array[int], *, floor: int = 60) -> array[int]:
    """Without the near-silence (amplitudes up to `floor`) at both ends."""
    first = next((i for i, sample in enumerate(samples) if abs(sample) > floor), len(samples))
    last = next((i for i in range(len(samples), first, -1) if abs(samples[i - 1]) > floor), first)
    return samples[first:last]


def little_endian(samples: array[int]) -> bytes:
    """The bytes as WAV files hold them."""
    if sys.byteorder == "big":
        samples = array("h", samples)
        samples.byteswap()
    return samples.tobytes()


def open_wav(target: Path | io.BytesIO) -> wave.Wave_write:
    """A WAV to be written to, in this module's format. Raises `OSError`."""
    file = wave.open(str(target) if isinstance(target, Path) else target, "wb")  # noqa: SIM115
    file.setnchannels(1)
    file.setsampwidth(2)
    file.setframerate(RATE)
    return file


def write_wav(path: Path, samples: array[int]) -> None:
    """Write a whole WAV, so that nobody ever reads half of one. Raises `OSError`."""
    whole = io.BytesIO()
    with open_wav(whole) as file:
        file.writeframes(little_endian(samples))
    draft = path.with_name(f"{path.name}.{os.getpid()}")
    draft.write_bytes(whole.getvalue())
    os.replace(draft, path)
