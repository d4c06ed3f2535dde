"""What a loudspeaker is about to be given: one cue at a time, a newer one in place of the older."""

from __future__ import annotations

import threading
from array import array

from stitchalong.cues.sound.pcm import RATE, TOP

FADE = RATE // 250
"""frames (4 ms) over which a cue that is cut off fades, under the next one, so that it does not click"""


class Mixer:
    """Samples in, frames out. Safe to use from the thread that plays and the thread that is told what."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._now: array[int] = array("h")
        self._at = 0
        self._tail: array[int] = array("h")
        self._quiet = 0

    def play(self, samples: array[int]) -> None:
        """Sound this from now on and nothing else."""
        with self._lock:
            rest = self._now[self._at : self._at + FADE]
            self._tail = array("h", (round(s * (FADE - i) / FADE) for i, s in enumerate(rest)))
            self._now, self._at = samples, 0

    def append(self, samples: array[int]) -> None:
        """Sound this after what sounds now."""
        with self._lock:
            self._now = self._now[self._at :] + samples
            self._at = 0

    def clear(self) -> None:
        """Fall silent."""
        self.play(array("h"))

    def read(self, frames: int) -> array[int]:
        """The next frames, silence where there is nothing to sound."""
        with self._lock:
            out = self._now[self._at : self._at + frames]
            self._at += len(out)
            sounding = bool(out or self._tail)
            out.extend([0] * (frames - len(out)))
            for i, sample in enumerate(self._tail[:frames]):
                out[i] = max(-TOP, min(TOP, out[i] + sample))
            self._tail = self._tail[frames:]
            self._quiet = 0 if sounding else self._quiet + frames
        return out

    @property
    def quiet(self) -> float:
        """Seconds of silence handed out since the last sound; 0 while anything is left to sound."""
        with self._lock:
            return 0.0 if self._tail or self._at < len(self._now) else self._quiet / RATE
