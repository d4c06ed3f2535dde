"""Where samples go, inside the helper process: a sound device or a WAV file (a player: see `player`)."""

from __future__ import annotations

import importlib
import threading
import time
from array import array
from collections.abc import Callable, Generator
from pathlib import Path
from typing import Any, Protocol, TypeVar

from stitchalong.cues.sound.mixer import Mixer
from stitchalong.cues.sound.pcm import RATE, little_endian, open_wav, silence

PERIOD = 10
"""milliseconds of sound asked for at a time"""

GAP = 0.06
"""seconds between an earcon and the words after it"""

LOST = 1.0
"""seconds without a call for samples after which a device counts as lost"""

WAKING = 3.0
"""the same for a device that was just opened (up to twice as long ago): it may take a while to wake"""

OPEN_LIMIT = 3.0
"""seconds that opening a device may take"""

Words = Callable[[], array]  # type: ignore[type-arg]  # array cannot be subscripted before Python 3.12
"""Makes the samples of spoken words when they are wanted."""

T = TypeVar("T")


class OutputFault(Exception):
    """This way of sounding or speaking does not work; the message says why, in plain words.

    `installed`: it is there and may work later, such as when a device comes back.
    """

    def __init__(self, why: str, *, installed: bool = False) -> None:
        super().__init__(why)
        self.installed = installed


class Output(Protocol):
    """A way to sound samples. `play` and `clear` do not raise; a fault shows in `check`."""

    @property
    def kind(self) -> str:
        """`device`, `player` or `file`."""

    @property
    def name(self) -> str:
        """What sounds, for people."""

    def play(self, tone: array[int], words: Words | None) -> None:
        """Sound a tone, then words, in place of what sounds now."""

    def clear(self) -> None:
        """Fall silent."""

    def quiet(self) -> bool:
        """Whether all has been sounded."""

    def pass_time(self, seconds: float) -> None:
        """Let time pass, where it does not by itself."""

    def check(self) -> None:
        """Raise `OutputFault` if the sound is lost."""

    def close(self) -> None:
        """Stop whatever runs outside this process."""


def in_time(work: Callable[[], T], limit: float, what: str) -> T:
    """Do it in a thread of its own. Raises `OutputFault` if it fails or takes longer than `limit` seconds."""
    result: list[T] = []
    fault: list[BaseException] = []

    def run() -> None:
        try:
            result.append(work())
        except BaseException as error:
            fault.append(error)

    thread = threading.Thread(target=run, daemon=True)
    thread.start()
    thread.join(limit)
    if result:
        return result[0]
    if fault and isinstance(fault[0], OutputFault):
        raise fault[0]
    if fault:
        raise OutputFault(f"{what} fails: {' '.join(map(str, fault[0].args))}", installed=True)
    raise OutputFault(f"{what} does not answer within {limit:g} s", installed=True)


class DeviceOutput:
    """A sound device through miniaudio.

    It is never closed: closing can hang for as long as the device is away. The process ends instead.
    """

    kind = "device"

    def __init__(self) -> None:
        """Open the default device; returns when it has begun to ask for samples. Raises `OutputFault`."""
        try:
            library = importlib.import_module("miniaudio")
        except Exception as error:
            raise OutputFault("miniaudio is not installed") from error
        self._mixer = Mixer()
        self._called: float | None = None
        self._checked = time.monotonic()
        self._device = in_time(lambda: self._open(library), OPEN_LIMIT, "miniaudio")
        self.name = str(getattr(self._device, "backend", "miniaudio"))
        self._opened = time.monotonic()
        while self._called is None:
            if time.monotonic() - self._opened > WAKING:
                raise OutputFault("the sound device opens but never asks for sound", installed=True)
            time.sleep(0.005)

    def _open(self, library: Any) -> Any:
        # Without the null backend, which "plays" in silence where there is no device.
        backends = [backend for backend in library.Backend if backend.name != "NULL"]
        samples = self._samples()
        next(samples)
        try:
            device = library.PlaybackDevice(
                output_format=library.SampleFormat.SIGNED16,
                nchannels=1,
                sample_rate=RATE,
                buffersize_msec=PERIOD,
                backends=backends,
                app_name="stitchalong",
            )
            device.start(samples)
        except library.MiniaudioError as error:
            why = ", ".join(map(str, error.args))
            raise OutputFault(f"miniaudio finds no sound device ({why})", installed=True) from error
        return device

    def _samples(self) -> Generator[bytes, int, None]:
        frames = yield b""
        while True:
            self._called = time.monotonic()
            frames = yield self._mixer.read(frames).tobytes()

    def play(self, tone: array[int], words: Words | None) -> None:
        play_mixed(self._mixer, tone, words)

    def clear(self) -> None:
        self._mixer.clear()

    def quiet(self) -> bool:
        return self._mixer.quiet > 0.1  # what the device itself holds back must have sounded too

    def pass_time(self, seconds: float) -> None:
        """Time passes by itself here."""

    def check(self) -> None:
        now = time.monotonic()
        awake, self._checked = now - self._checked < LOST, now
        # Where this process itself slept, the age of the last call says nothing about the device.
        limit = WAKING if now - self._opened < 2 * WAKING else LOST
        if awake and self._called is not None and now - self._called > limit:
            raise OutputFault("the sound device has stopped", installed=True)

    def close(self) -> None:
        """See above: never closed."""


class FileOutput:
    """A WAV file. Its time stands still but for `pass_time`, and for `quiet`, which lets all be sounded."""

    kind = "file"

    def __init__(self, path: Path) -> None:
        """Raises `OutputFault` where it cannot be written."""
        self.name = str(path)
        try:
            self._file = open_wav(path)
        except OSError as error:
            raise OutputFault(f"cannot write {path}: {error.strerror}") from error
        self._mixer = Mixer()
        self.pass_time(0)

    def play(self, tone: array[int], words: Words | None) -> None:
        play_mixed(self._mixer, tone, words)

    def clear(self) -> None:
        self._mixer.clear()

    def quiet(self) -> bool:
        while not self._mixer.quiet:
            self.pass_time(PERIOD / 1000)
        return True

    def pass_time(self, seconds: float) -> None:
        # The header is mended at each call, so that the file is whole at any time.
        self._file.writeframes(little_endian(self._mixer.read(round(seconds * RATE))))

    def check(self) -> None:
        """A file does not go away."""

    def close(self) -> None:
        self._file.close()


def play_mixed(mixer: Mixer, tone: array[int], words: Words | None) -> None:
    """Begin the tone at once; the words are made while it sounds."""
    if words is None:
        mixer.play(tone)
    elif tone:
        mixer.play(tone + silence(GAP))
        mixer.append(words())
    else:
        mixer.play(words())
