"""Voices that make samples, by eSpeak NG: the library of the extra [voice], the system's, or a program."""

from __future__ import annotations

import ctypes
import importlib
import os
import shutil
import subprocess
from array import array
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any, Protocol

from stitchalong.cues.sound.child import NO_WINDOW
from stitchalong.cues.sound.outputs import OutputFault, in_time
from stitchalong.cues.sound.pcm import RATE, trimmed

LIMIT = 2.0
"""seconds that a voice may take to be ready, and a program to speak a phrase"""

LOADER = "espeakng_loader"
"""what the extra [voice] installs"""

# Of eSpeak NG's published header speak_lib.h.
_SYNCHRONOUS = 2
_DONT_EXIT = 0x8000
_POSITION_CHARACTER = 1
_CHARS_UTF8 = 1
_RATE_PARAMETER = 1
_VOLUME_PARAMETER = 2
_CALLBACK = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_void_p, ctypes.c_int, ctypes.c_void_p)

_SYSTEM_LIBRARIES = ("libespeak-ng.so.1", "libespeak-ng.1.dylib")


@dataclass(frozen=True, slots=True)
class Manner:
    """How to speak: words a minute, a voice's own name or "", a language tag, a volume of 0 to 1."""

    rate: int
    voice: str
    language: str
    volume: float

    def espeak_voices(self) -> list[str]:
        """Names to try, the wanted one first."""
        # The variant f2 at 165 words a minute was understood best by a machine listener (21 to 24 of 25
        # phrases; the plain voice 12).
        names = [self.voice, f"{self.language}+f2", self.language, "en-us+f2", "en"]
        return [name for name in dict.fromkeys(names) if name]


class Voice(Protocol):
    """Makes the samples of words. `pcm` gives none where it fails."""

    name: str
    """for a header"""
    about: str
    """the name, and which voice it is"""

    def pcm(self, words: str) -> array[int]: ...


def from_extra(manner: Manner, environ: Mapping[str, str]) -> Voice:
    """The library that comes with the extra [voice]. Raises `OutputFault`."""
    try:
        loader = importlib.import_module(LOADER)
    except Exception as error:
        raise OutputFault("the extra [voice] is not installed") from error
    return in_time(
        lambda: _Library(loader.get_library_path(), loader.get_data_path(), manner),
        LIMIT,
        "the speech library of the extra [voice]",
    )


def from_system(manner: Manner, environ: Mapping[str, str]) -> Voice:
    """A library that the system has. Raises `OutputFault`."""
    names = list(_SYSTEM_LIBRARIES)
    if os.name == "nt":
        names = [os.path.join(environ.get("ProgramFiles", "C:\\"), "eSpeak NG", "libespeak-ng.dll")]
    for name in names:
        try:
            ctypes.CDLL(name)
        except OSError:
            continue
        return in_time(partial(_Library, name, None, manner), LIMIT, "the system's speech library")
    raise OutputFault("the system has no eSpeak NG library")


def from_program(manner: Manner, environ: Mapping[str, str]) -> Voice:
    """The program espeak-ng. Raises `OutputFault`."""
    path = shutil.which("espeak-ng", path=environ.get("PATH", ""))
    if not path:
        raise OutputFault("espeak-ng is not installed")
    return _Program(path, manner, environ)


class _Library:
    """eSpeak NG by its C interface; one for each process."""

    def __init__(self, path: str, data: str | None, manner: Manner) -> None:
        self._library: Any = ctypes.CDLL(path)
        self._samples = array("h")
        self._callback = _CALLBACK(self._collect)
        rate = self._library.espeak_Initialize(_SYNCHRONOUS, 100, data.encode() if data else None, _DONT_EXIT)
        if rate != RATE:
            raise OutputFault("eSpeak NG cannot read its voices" if rate < 0 else f"speaks at {rate} Hz")
        self._library.espeak_SetSynthCallback(self._callback)
        names = manner.espeak_voices()
        voice = next((n for n in names if self._library.espeak_SetVoiceByName(n.encode()) == 0), None)
        if voice is None:
            raise OutputFault(f"eSpeak NG has no voice {names[0]}")
        self._library.espeak_SetParameter(_RATE_PARAMETER, manner.rate, 0)
        self._library.espeak_SetParameter(_VOLUME_PARAMETER, round(100 * manner.volume), 0)
        self._library.espeak_Info.restype = ctypes.c_char_p
        version = self._library.espeak_Info(None).decode().split()[0]
        self.name = "eSpeak NG"
        self.about = f"eSpeak NG {version}, voice {voice}"
        if manner.volume and not self.pcm("one"):
            raise OutputFault("eSpeak NG says nothing")

    def _collect(self, samples: int | None, count: int, _events: int | None) -> int:
        if samples and count > 0:
            self._samples.frombytes(ctypes.string_at(samples, 2 * count))
        return 0

    def pcm(self, words: str) -> array[int]:
        self._samples = array("h")
        text = words.encode()
        self._library.espeak_Synth(text, len(text) + 1, 0, _POSITION_CHARACTER, 0, _CHARS_UTF8, None, None)
        return trimmed(self._samples)


class _Program:
    """espeak-ng run for each phrase. It gives samples: played by itself, it would fail in silence."""

    def __init__(self, path: str, manner: Manner, environ: Mapping[str, str]) -> None:
        self._path = path
        self._manner = manner
        self._environ = dict(environ)
        fault = ""
        for self._voice in manner.espeak_voices():
            fault = self._speak("one")[1]
            if not fault:
                self.name = "espeak-ng"
                self.about = f"the program espeak-ng, voice {self._voice}"
                return
        raise OutputFault(f"espeak-ng is installed but does not speak: {fault}")

    def pcm(self, words: str) -> array[int]:
        try:
            return trimmed(self._speak(words)[0])
        except OutputFault:
            return array("h")

    def _speak(self, words: str) -> tuple[array[int], str]:
        """The samples, and what is wrong with this voice. Raises `OutputFault` if all voices would fail."""
        try:
            done = subprocess.run(
                [
                    *(self._path, "-v", self._voice, "-s", str(self._manner.rate)),
                    *("-a", str(round(100 * self._manner.volume)), "-b", "1", "--stdin", "--stdout"),
                ],
                input=words.encode(),
                capture_output=True,
                env=self._environ,
                timeout=LIMIT,
                check=False,
                creationflags=NO_WINDOW,
            )
        except subprocess.TimeoutExpired:
            raise OutputFault(f"espeak-ng does not answer within {LIMIT:g} s") from None
        except OSError as error:
            raise OutputFault(f"espeak-ng cannot be started: {error.strerror}") from error
        if done.returncode:
            return array("h"), f"exit status {done.returncode}"
        return _samples_of(done.stdout)


def _samples_of(wav: bytes) -> tuple[array[int], str]:
    """Samples of a WAV whose stated lengths mean nothing, because it was written into a pipe."""
    data = wav.find(b"data", 12)
    if wav[:4] != b"RIFF" or data < 0:
        return array("h"), "no sound comes out"
    if wav[22:24] != b"\x01\x00" or int.from_bytes(wav[24:28], "little") != RATE or wav[34:36] != b"\x10\x00":
        return array("h"), "its sound has another format"
    body = wav[data + 8 :]
    samples = array("h", body[: len(body) // 2 * 2])
    if int.from_bytes(b"\x01\x00", "little") != array("h", b"\x01\x00")[0]:
        samples.byteswap()
    return samples, "" if samples else "no sound comes out"


VOICES: dict[str, Callable[[Manner, Mapping[str, str]], Voice]] = {
    "library": from_extra,
    "system": from_system,
    "command": from_program,
}
"""Each means of speech that makes samples, by its name in the settings."""
