"""Ears for the tests: reads WAV files and measures rhythm, pitch and loudness from the samples alone."""

from __future__ import annotations

import itertools
import wave
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Sound = NDArray[np.float64]

RATE = 22_050


@dataclass(frozen=True)
class Heard:
    """One stretch of sound: start and length in milliseconds."""

    start: float
    length: float
    samples: Sound

    @property
    def hertz(self) -> float:
        """The fundamental: the strongest line of the spectrum between 200 and 1,400 Hz, interpolated."""
        size = 1 << 17
        spectrum = np.abs(np.fft.rfft(self.samples * np.hanning(len(self.samples)), size))
        low, high = (int(edge * size / RATE) for edge in (200, 1400))
        top = low + int(np.argmax(spectrum[low:high]))
        return top * RATE / size


def read(path: Path) -> Sound:
    """Samples from -1 to 1. Fails where the file is not mono, 16 bits, 22,050 Hz."""
    with wave.open(str(path), "rb") as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, RATE)
        return np.frombuffer(file.readframes(file.getnframes()), dtype="<i2").astype(np.float64) / 32_768


def loudness(sound: Sound) -> float:
    """Root of the mean square."""
    return float(np.sqrt(np.mean(sound**2))) if len(sound) else 0.0


def notes(sound: Sound, *, gap: float = 12.0, floor: float = 0.03) -> list[Heard]:
    """Stretches above `floor` of the loudest, parted by at least `gap` milliseconds of quiet."""
    window = int(0.004 * RATE)
    envelope = np.sqrt(np.convolve(sound**2, np.ones(window) / window, mode="same"))
    loud = np.flatnonzero(envelope > max(floor * envelope.max(initial=0), 1e-4))
    if not len(loud):
        return []
    cuts = np.flatnonzero(np.diff(loud) > gap * RATE / 1000)
    firsts = [loud[0], *loud[cuts + 1]]
    lasts = [*loud[cuts], loud[-1]]
    return [
        Heard(1000 * a / RATE, 1000 * (b - a + 1) / RATE, sound[a : b + 1]) for a, b in zip(firsts, lasts, strict=True)
    ]


def split(sound: Sound, *, pause: float) -> list[Sound]:
    """Parts between silences of `pause` seconds and more."""
    loud = np.flatnonzero(np.abs(sound) > 0)
    edges = np.flatnonzero(np.diff(loud) > pause * RATE)
    bounds = [0, *(edges + 1), len(loud)]
    return [sound[loud[a] : loud[b - 1] + 1] for a, b in itertools.pairwise(bounds) if b > a]


def passed(sound: Sound, *, low: float = 0.0, high: float = RATE / 2) -> Sound:
    """Only what lies between two frequencies."""
    spectrum = np.fft.rfft(sound)
    hertz = np.fft.rfftfreq(len(sound), 1 / RATE)
    spectrum[(hertz < low) | (hertz > high)] = 0
    return np.fft.irfft(spectrum, len(sound))


def line(sound: Sound, hertz: float) -> float:
    """Strength of one frequency."""
    turn = np.exp(-2j * np.pi * hertz * np.arange(len(sound)) / RATE)
    return float(abs(np.mean(sound * turn)))
