"""Fakes and helpers for the tests of sound: no test needs a sound device, a player or a speech program."""

from __future__ import annotations

import os
import subprocess
import sys
import textwrap
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from stitchalong.cues.cue import Cue
from stitchalong.cues.sound.outlet import SoundOutlet
from stitchalong.cues.sound.settings import SoundSettings

SOON = 20.0
"""seconds that something may take on a busy machine before it counts as not happening"""

WARNING = Cue("now", urgent=True)

FAKE_DEVICE = '''
"""Stands in for the library of the sound device: asks for samples every 10 ms and keeps them in a file."""
import enum, os, pathlib, threading, time

HERE = pathlib.Path(os.environ["FAKE_DEVICE"])

class MiniaudioError(Exception):
    pass

class Backend(enum.Enum):
    PULSEAUDIO = 7
    NULL = 14

class SampleFormat(enum.Enum):
    SIGNED16 = 2

class PlaybackDevice:
    def __init__(self, output_format, nchannels, sample_rate, buffersize_msec, backends, app_name):
        os.write(1, b"noise of a library on stdout\\n")
        os.write(2, b"noise of a library on stderr\\n")
        if (HERE / "hangs").exists():
            time.sleep(1000)
        if (HERE / "crashes").exists():
            os.abort()
        if (HERE / "away").exists() or Backend.NULL in backends:
            raise MiniaudioError("failed to init device", -401)
        assert (output_format, nchannels, sample_rate) == (SampleFormat.SIGNED16, 1, 22050)
        self.backend = "FakeAudio"
        self.period = sample_rate * buffersize_msec // 1000

    def start(self, generator):
        threading.Thread(target=self.run, args=(generator,), daemon=True).start()

    def run(self, generator):
        with open(HERE / "played.raw", "ab", buffering=0) as file:
            while not (HERE / "away").exists():
                file.write(generator.send(self.period))
                time.sleep(0.01)
        time.sleep(1000)  # a lost device just stops calling
'''


def script(folder: Path, name: str, body: str) -> Path:
    """A program for the search path, in the language of `sh`."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / name
    path.write_text("#!/bin/sh\n" + textwrap.dedent(body))
    path.chmod(0o755)
    return path


def eventually(is_so: Callable[[], Any], within: float = SOON) -> Any:
    """Wait until it is so; fails if that takes too long."""
    deadline = time.monotonic() + within
    while not (value := is_so()):
        assert time.monotonic() < deadline, f"not so within {within} s"
        time.sleep(0.01)
    return value


class Rig:
    """A made-up machine: its programs, its sound device, its bell, and outlets that run on it."""

    def __init__(self, root: Path) -> None:
        self.folder = root / "folder"
        self.programs = root / "bin"
        self.modules = root / "modules"
        self.device = root / "device"
        for path in (self.programs, self.modules, self.device):
            path.mkdir()
        self.log = root / "log"
        self.rung: list[float] = []
        self.environ = {
            "PATH": str(self.programs),
            "PYTHONPATH": str(self.modules),
            "FAKE_DEVICE": str(self.device),
            "LOG": str(self.log),
        }
        # What is really installed here must not take part.
        self.module("miniaudio", "raise ImportError('none here')")
        self.module("espeakng_loader", "raise ImportError('none here')")

    def module(self, name: str, text: str) -> None:
        (self.modules / f"{name}.py").write_text(text)

    def with_device(self) -> None:
        """Give the machine a sound device."""
        self.module("miniaudio", FAKE_DEVICE)

    def with_voice(self) -> None:
        """Let the machine have the real speech library."""
        (self.modules / "espeakng_loader.py").unlink(missing_ok=True)

    def program(self, name: str, body: str) -> Path:
        return script(self.programs, name, body)

    def lines(self) -> list[str]:
        """What programs have written into the log."""
        return self.log.read_text().splitlines() if self.log.exists() else []

    def played(self) -> bytes:
        """What the sound device was given."""
        path = self.device / "played.raw"
        return path.read_bytes() if path.exists() else b""

    def ring(self) -> None:
        self.rung.append(time.monotonic())

    @contextmanager
    def outlet(self, settings: SoundSettings | None = None, **more: Any) -> Iterator[SoundOutlet]:
        """An outlet on this machine."""
        # The speech library of the machine under the tests is left out where a test does not ask for it.
        chosen = settings or SoundSettings(speech=("library", "command"))
        arguments: dict[str, Any] = {
            "bell": self.ring,
            "folder": self.folder,
            "environ": self.environ,
            "delays": (0.1,),
            **more,
        }
        outlet = SoundOutlet(chosen, **arguments)
        try:
            yield outlet
        finally:
            outlet.close()


def helper_pid(outlet: SoundOutlet) -> int:
    """The process number of the helper that serves now."""
    helper = outlet._helper
    assert helper is not None
    return helper._popen.pid


def alive(pid: int) -> bool:
    """Whether a process runs; one that has ended and was not waited for by its parent does not."""
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    state = Path(f"/proc/{pid}/stat")
    try:
        return state.read_text().rpartition(")")[2].split()[0] != "Z"
    except FileNotFoundError:
        return not state.parent.parent.joinpath("self").exists()


def hasty(**limits: float) -> tuple[str, ...]:
    """The command of a helper with other limits, in seconds, so that a test need not wait for the real ones.

    Each is named for its module and its constant: `outputs_WAKING=0.3`.
    """
    lines = ["import importlib"]
    for name, seconds in limits.items():
        module, constant = name.split("_", 1)
        lines.append(f"importlib.import_module('stitchalong.cues.sound.{module}').{constant} = {seconds}")
    lines.append("from stitchalong.cues.sound.helper import main; main()")
    return (sys.executable, "-P", "-c", "\n".join(lines))


def run_python(code: str, environ: Mapping[str, str]) -> subprocess.CompletedProcess[bytes]:
    """Run a piece of Python in a process of its own."""
    return subprocess.run(
        [sys.executable, "-c", textwrap.dedent(code)],
        capture_output=True,
        env=dict(environ),
        timeout=60,
        check=False,
    )
