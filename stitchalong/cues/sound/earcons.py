"""The short sounds, synthesised. No two share a rhythm, so that none hangs on pitch alone.

Fundamentals lie in 520–1,050 Hz with three overtones each: age-related loss of hearing sets in above about
2 kHz (ISO 7029), and small loudspeakers lose what is under 450 Hz (measured by a high-pass filter).
"""

from __future__ import annotations

import math
from array import array
from dataclasses import dataclass
from functools import cache

from stitchalong.cues.cue import Earcon
from stitchalong.cues.sound.pcm import RATE, TOP

ATTACK = 0.006
RELEASE = 0.012
"""seconds over which a note swells and fades, so that it does not click"""

OVERTONES = (1.0, 0.5, 0.25, 0.12)
"""amplitude of the fundamental and of its second to fourth harmonic"""


@dataclass(frozen=True, slots=True)
class Note:
    """One tone: fundamental in hertz, start and length in milliseconds."""

    hertz: float
    start: int
    length: int


# Equal temperament over A4 = 440 Hz (ISO 16).
_C5, _D5, _E5, _G5, _B5, _C6 = 523.25, 587.33, 659.26, 783.99, 987.77, 1046.50

NOTES: dict[Earcon, tuple[Note, ...]] = {
    # one tick
    "bead": (Note(_G5, 0, 35),),
    # two slow steps up: something is coming
    "heads-up": (Note(_D5, 0, 140), Note(_G5, 260, 140)),
    # three quick knocks on the highest steady pitch
    "now": (Note(_B5, 0, 70), Note(_B5, 120, 70), Note(_B5, 240, 70)),
    # short, short, short, long, climbing: arrived
    "done": (Note(_C5, 0, 90), Note(_E5, 130, 90), Note(_G5, 260, 90), Note(_C6, 390, 320)),
    # short, long, falling: back again
    "undone": (Note(_G5, 0, 60), Note(_D5, 85, 240)),
    # two long low tones
    "error": (Note(_C5, 0, 320), Note(_C5, 420, 320)),
}


@cache
def _wave() -> tuple[float, ...]:
    """One period of the timbre in 1,024 steps, its peak at 1."""
    steps = [
        sum(part * math.sin(2 * math.pi * n * step / 1024) for n, part in enumerate(OVERTONES, 1))
        for step in range(1024)
    ]
    peak = max(steps)
    return tuple(step / peak for step in steps)


def seconds(earcon: Earcon) -> float:
    """How long it sounds."""
    return max(note.start + note.length for note in NOTES[earcon]) / 1000


def render(earcon: Earcon, volume: float) -> array[int]:
    """Its samples at a volume of 0 to 1 of the greatest amplitude."""
    period = _wave()
    samples = array("h", bytes(2 * round(seconds(earcon) * RATE)))
    for note in NOTES[earcon]:
        first, length = round(note.start * RATE / 1000), round(note.length * RATE / 1000)
        pace = note.hertz * 1024 / RATE
        for i in range(length):
            swell = min(1.0, i / (ATTACK * RATE), (length - i) / (RELEASE * RATE))
            samples[first + i] = round(TOP * volume * swell * period[int(i * pace) & 1023])
    return samples
