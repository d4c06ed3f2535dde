"""Programs that speak by themselves: spd-say, say, and System.Speech of Windows through one PowerShell."""

from __future__ import annotations

import json
import shutil
import subprocess
import threading
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Protocol

from stitchalong.cues.sound.child import NO_WINDOW, OneAtATime, Program, ended
from stitchalong.cues.sound.outputs import OutputFault
from stitchalong.cues.sound.voices import LIMIT, Manner


class Speaker(Protocol):
    """Speaks words. Nothing raises; `name` is "" when it cannot speak any more."""

    @property
    def name(self) -> str: ...

    def say(self, words: str, delay: float) -> None:
        """Speak after so many seconds, in place of what is being spoken."""

    def stop(self) -> None:
        """Fall silent."""

    def quiet(self) -> bool:
        """Whether nothing is being spoken."""

    def close(self) -> None:
        """Fall silent and end what runs."""


def find_speaker(manner: Manner, environ: Mapping[str, str], on_change: Callable[[str], None]) -> Speaker:
    """The best speaker that is installed. Raises `OutputFault` if there is none."""
    shell = _powershell(environ)
    if shell is not None:
        return PowerShellSpeaker(shell, manner, environ, on_change)
    faults: list[str] = []
    programs = find_programs(manner, environ, faults)
    if not programs:
        raise OutputFault("; ".join(faults))
    return ProgramSpeaker(programs, environ, on_change)


def find_programs(manner: Manner, environ: Mapping[str, str], faults: list[str]) -> list[Program]:
    """The programs on the search path, best first; each with the wanted voice, then with its own.

    `faults` is told which are not to be used.
    """
    found: list[Program] = []
    path = shutil.which("spd-say", path=environ.get("PATH", ""))
    if path is None:
        faults.append("spd-say is not installed")
    elif not _answers((path, "--list-output-modules"), environ):
        faults.append("spd-say is installed but does not answer")
    else:
        named = ("-y", manner.voice) if manner.voice else ()
        spoken = (
            *("--wait", "-N", "stitchalong", "-l", manner.language.split("-")[0]),
            *("-r", str(_percent_rate(manner.rate)), "-i", str(round(200 * manner.volume - 100))),
        )
        for voice in dict.fromkeys((named, ())):
            found.append(Program("spd-say", (path, *spoken, *voice, "--"), (path, "--cancel")))
    path = shutil.which("say", path=environ.get("PATH", ""))
    if path is None:
        faults.append("say is not installed")
    else:
        named = ("-v", manner.voice) if manner.voice else ()
        for voice in dict.fromkeys((named, ())):
            found.append(Program("say", (path, "-r", str(manner.rate), *voice)))
    return found


def _answers(argv: tuple[str, ...], environ: Mapping[str, str]) -> bool:
    """Whether a program does what it is asked in reasonable time."""
    try:
        done = subprocess.run(
            argv,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            env=dict(environ),
            timeout=LIMIT,
            check=False,
            creationflags=NO_WINDOW,
        )
    except (OSError, subprocess.SubprocessError):
        return False
    return done.returncode == 0


def _percent_rate(rate: int) -> int:
    """Words a minute on a scale of -100 to 100 where 0 is about 170 (by ear; no source gives the scale)."""
    return max(-100, round((rate - 170) / 0.9)) if rate < 170 else min(100, round((rate - 170) / 2.8))


class ProgramSpeaker:
    """Runs a program for each phrase."""

    def __init__(self, programs: list[Program], environ: Mapping[str, str], on_change: Callable[[str], None]) -> None:
        self._runs = OneAtATime(programs, environ, on_change)

    @property
    def name(self) -> str:
        return self._runs.program.name if self._runs.program else ""

    def say(self, words: str, delay: float) -> None:
        self._runs.run(words, delay=delay)

    def stop(self) -> None:
        self._runs.stop()

    def quiet(self) -> bool:
        return not self._runs.busy

    def close(self) -> None:
        self._runs.close()


def _powershell(environ: Mapping[str, str]) -> Path | None:
    root = environ.get("SystemRoot", "")
    path = Path(root, "System32", "WindowsPowerShell", "v1.0", "powershell.exe")
    return path if root and path.is_file() else None


# Each line read is a JSON object in ASCII: what to say, or null to fall silent.
_SCRIPT = """
$ErrorActionPreference = 'Stop'
Add-Type -AssemblyName System.Speech
$voice = New-Object System.Speech.Synthesis.SpeechSynthesizer
while ($null -ne ($line = [Console]::In.ReadLine())) {
  $order = $line | ConvertFrom-Json
  if ($null -ne $order.rate) { $voice.Rate = $order.rate; $voice.Volume = $order.volume
    try {
      if ($order.voice) { $voice.SelectVoice($order.voice) }
      else { $voice.SelectVoiceByHints('NotSet', 'NotSet', 0, $order.language) }
    } catch { }
  } else { $voice.SpeakAsyncCancelAll(); if ($order.say) { [void]$voice.SpeakAsync($order.say) } }
}
"""


class PowerShellSpeaker:
    """One hidden PowerShell that speaks line by line: starting one for each phrase would come too late."""

    def __init__(
        self, shell: Path, manner: Manner, environ: Mapping[str, str], on_change: Callable[[str], None]
    ) -> None:
        """Raises `OutputFault` if it cannot be started."""
        self.name = "System.Speech"
        self._on_change = on_change
        self._lock = threading.Lock()
        self._timer: threading.Timer | None = None
        try:
            self._process = subprocess.Popen(
                [str(shell), "-NoLogo", "-NoProfile", "-NonInteractive", "-Command", _SCRIPT],
                stdin=subprocess.PIPE,
                stdout=subprocess.DEVNULL,
                env=dict(environ),
                bufsize=0,
                creationflags=NO_WINDOW,
            )
        except OSError as error:
            raise OutputFault(f"PowerShell cannot be started: {error.strerror}") from error
        self._send(
            {
                # System.Speech has rates of -10 to 10; 0 is about 180 words a minute (by ear; no source).
                "rate": max(-10, min(10, round((manner.rate - 180) / 20))),
                "volume": round(100 * manner.volume),
                "voice": manner.voice,
                "language": manner.language,
            }
        )

    def _send(self, order: dict[str, object]) -> None:
        assert self._process.stdin is not None
        try:
            self._process.stdin.write(json.dumps(order).encode() + b"\n")
        except (OSError, ValueError):
            if self.name:
                self.name = ""
                self._on_change("System.Speech fails (PowerShell has ended)")

    def say(self, words: str, delay: float) -> None:
        with self._lock:
            self._forget()
            if delay > 0:
                self._send({"say": None})
                self._timer = threading.Timer(delay, self._send, [{"say": words}])
                self._timer.daemon = True
                self._timer.start()
            else:
                self._send({"say": words})

    def _forget(self) -> None:
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None

    def stop(self) -> None:
        with self._lock:
            self._forget()
            self._send({"say": None})

    def quiet(self) -> bool:
        return self._timer is None or not self._timer.is_alive()  # of what is spoken nothing comes back

    def close(self) -> None:
        with self._lock:
            self._forget()
        if self._process.stdin is not None:
            self._process.stdin.close()
        ended(self._process)
