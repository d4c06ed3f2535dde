"""Running the command line: in this process with streams of our own, or as a process of its own."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from stitchalong.cli import run
from stitchalong.commands.world import World

ROOT = Path(__file__).resolve().parents[2]
NOW = 1_750_000_000.0
SILENT = {"STITCHALONG_SOUND": "bell"}
"""no test sounds on the machine it runs on"""


class Stream(io.StringIO):
    """A text stream that can claim to be a terminal."""

    def __init__(self, text: str = "", *, terminal: bool = False) -> None:
        super().__init__(text)
        self._terminal = terminal

    def isatty(self) -> bool:
        return self._terminal


@dataclass(frozen=True, slots=True)
class Ran:
    """What a command left behind."""

    status: int
    out: str
    err: str

    @property
    def data(self) -> Any:
        return json.loads(self.out)


def environment(home: Path, **more: str) -> dict[str, str]:
    """The environment of a process that keeps everything in `home`."""
    kept = {key: value for key, value in os.environ.items() if not key.startswith("STITCHALONG")}
    return {**kept, "STITCHALONG_HOME": str(home), **SILENT, "PYTHONWARNINGS": "error", **more}


def here(home: Path, *arguments: str, typed: str = "", terminal: bool = False, now: float = NOW, **environ: str) -> Ran:
    """Run a command in this process. `terminal`: stdin and stdout claim to be one (stderr does not)."""
    out, err = Stream(terminal=terminal), Stream()
    world = World(
        {"STITCHALONG_HOME": str(home), **SILENT, **environ}, lambda: now, Stream(typed, terminal=terminal), out, err
    )
    return Ran(run(arguments, world), out.getvalue(), err.getvalue())


def process(home: Path, *arguments: str, typed: str | bytes = "", **environ: str) -> Ran:
    """Run a command as a process, by pipes."""
    done = subprocess.run(
        [sys.executable, "-m", "stitchalong", *arguments],
        input=typed.encode() if isinstance(typed, str) else typed,
        capture_output=True,
        cwd=ROOT,
        env=environment(home, **environ),
        timeout=60,
        check=False,
    )
    return Ran(done.returncode, done.stdout.decode(), done.stderr.decode())


RING = """
title = "Sorrel ring"
[beads.A]
name = "sorrel"
colour = "#7a3b2e"
[beads.B]
name = "bone"
colour = "#e9e2cf"
[[work]]
start = "MRAW band"
frame = "A"
side = "A"
marker = "B"
sides = [2, 2]
[[work]]
stitch = "peyote"
rounds = ["A", "B"]
height = 4
increase = { over = "B", from_round = 2 }
"""
"""six units, two sides of two plain spacers; 24 beads of the band, then 6, 8, 10 and 12"""


def corners(k: int, rounds: int) -> str:
    """A flat piece of k corners (peyote polygon) with so many rounds, the ring counted."""
    return f"""
title = "Polygon"
[beads.A]
name = "ash"
colour = "#888888"
[[work]]
start = "ring"
beads = "{k}A"
[[work]]
stitch = "peyote"
rounds = "A"
height = {rounds - 1}
increase = {{ at = "every space", from_round = 2 }}
"""


def ok(ran: Ran) -> Ran:
    """The same, where all went well."""
    assert (ran.status, ran.err) == (0, "")
    return ran
