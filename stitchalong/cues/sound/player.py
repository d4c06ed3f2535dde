"""The system's player programs, each given a WAV file."""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
import time
from array import array
from collections.abc import Callable, Mapping
from pathlib import Path

from stitchalong.cues.sound.child import NO_WINDOW, OneAtATime, Program
from stitchalong.cues.sound.outputs import GAP, OutputFault, Words
from stitchalong.cues.sound.pcm import RATE, silence, write_wav

PROBE_LIMIT = 3.0
"""seconds that a player may take over what it plays"""

OLD = 3600.0
"""seconds after which a WAV of words left behind by another run is deleted"""

_PLAYERS: dict[str, tuple[str, ...]] = {
    "pw-play": (),
    "paplay": (),
    "aplay": ("-q",),
    "afplay": (),
}


def find_players(environ: Mapping[str, str]) -> tuple[list[Program], list[str]]:
    """The players on the search path, best first, and the names of those that are not there."""
    there, missing = [], []
    for name, options in _PLAYERS.items():
        path = shutil.which(name, path=environ.get("PATH", ""))
        if path:
            there.append(Program(name, (path, *options)))
        else:
            missing.append(name)
    if os.name == "nt":
        play = "import sys, winsound; winsound.PlaySound(sys.argv[1], winsound.SND_FILENAME)"
        there.append(Program("winsound", (sys.executable, "-I", "-c", play)))
    return there, missing


def probe(player: Program, folder: Path, environ: Mapping[str, str]) -> str | None:
    """Play a moment of silence. Gives why that fails, in plain words, or None."""
    try:
        path = folder / "silence.wav"
        write_wav(path, silence(0.05))
        done = subprocess.run(
            [*player.argv, str(path)],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            env=dict(environ),
            timeout=PROBE_LIMIT,
            check=False,
            creationflags=NO_WINDOW,
        )
    except subprocess.TimeoutExpired:
        return f"it does not answer within {PROBE_LIMIT:g} s"
    except OSError as error:
        return error.strerror or "it cannot be started"
    if done.returncode == 0:
        return None
    lines = done.stderr.decode(errors="replace").strip().splitlines()
    return f"exit status {done.returncode}" + (f", {lines[-1].strip()}" if lines else "")


class PlayerOutput:
    """Plays each cue as a WAV of its own with the first player that works."""

    kind = "player"

    def __init__(
        self, folder: Path, environ: Mapping[str, str], on_change: Callable[[str], None], notes: list[str]
    ) -> None:
        """Raises `OutputFault` if no player works; adds to `notes` which do not and why."""
        there, missing = find_players(environ)
        working: list[Program] = []
        for player in there:
            # Those after the first that works are tried only when they are needed.
            why = None if working else probe(player, folder, environ)
            if why is None:
                working.append(player)
            else:
                notes.append(f"{player.name} is installed but cannot play: {why}")
        if not working:
            raise OutputFault(
                "no player of the system can play" if there else f"none of {', '.join(missing)} is installed",
                installed=bool(there),
            )
        self._folder = folder
        self._turn = 0
        self._runs = OneAtATime(working, environ, on_change)
        _sweep(folder)

    @property
    def name(self) -> str:
        return self._runs.program.name if self._runs.program else "no player"

    def play(self, tone: array[int], words: Words | None) -> None:
        try:
            if words is None:
                samples, path = tone, self._tone_file(tone)
            else:
                samples = tone + silence(GAP) + words() if tone else words()
                path = self._words_file(samples)
        except OSError:
            self._runs.stop()
            return
        self._runs.run(str(path), limit=len(samples) / RATE + PROBE_LIMIT)

    def _tone_file(self, tone: array[int]) -> Path:
        digest = hashlib.sha256(tone.tobytes()).hexdigest()[:16]
        path = self._folder / f"tone-{digest}.wav"
        if not path.exists():
            write_wav(path, tone)
        return path

    def _words_file(self, samples: array[int]) -> Path:
        self._turn = (self._turn + 1) % 4
        path = self._folder / f"words-{os.getpid()}-{self._turn}.wav"
        write_wav(path, samples)
        return path

    def clear(self) -> None:
        self._runs.stop()

    def quiet(self) -> bool:
        return not self._runs.busy

    def pass_time(self, seconds: float) -> None:
        """Time passes by itself here."""

    def check(self) -> None:
        if self._runs.program is None:
            raise OutputFault("no player of the system can play any more")

    def close(self) -> None:
        self._runs.close()
        for path in self._folder.glob(f"words-{os.getpid()}-*.wav"):
            path.unlink(missing_ok=True)


def _sweep(folder: Path) -> None:
    for path in folder.glob("words-*.wav"):
        try:
            if time.time() - path.stat().st_mtime > OLD:
                path.unlink()
        except OSError:
            continue
