"""Latency from a cue to its sound, without a sound device: `python tests/bench/bench_cues.py [rounds]`.

A stand-in for the device library asks for 10 ms of samples at a time and notes when it was first given some. Times
depend on the machine; the ratios are what to compare. The clock of the two processes is the same one on Linux and
macOS (`time.monotonic`).
"""

from __future__ import annotations

import os
import re
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from stitchalong.cues.cue import Cue
from stitchalong.cues.sound.outlet import SoundOutlet
from stitchalong.cues.sound.settings import SoundSettings

DEVICE = """
import enum, os, threading, time

class MiniaudioError(Exception):
    pass

class Backend(enum.Enum):
    STAND_IN = 1

class SampleFormat(enum.Enum):
    SIGNED16 = 2

class PlaybackDevice:
    backend = "stand-in"

    def __init__(self, **choices):
        self.period = choices["sample_rate"] * choices["buffersize_msec"] // 1000

    def start(self, samples):
        threading.Thread(target=self.run, args=(samples,), daemon=True).start()

    def run(self, samples):
        sounding = False
        due = time.monotonic()
        with open(os.environ["HEARD"], "a", buffering=1) as file:
            while True:
                given = any(samples.send(self.period))
                if given and not sounding:
                    file.write(f"{time.monotonic()}\\n")
                sounding = given
                due += 0.01
                time.sleep(max(0.0, due - time.monotonic()))
"""


@contextmanager
def stand_in() -> Iterator[tuple[SoundOutlet, Path, float]]:
    """An outlet that sounds through the stand-in, what notes when it sounds, and the seconds until it was ready."""
    with tempfile.TemporaryDirectory() as root:
        heard = Path(root, "heard")
        Path(root, "miniaudio.py").write_text(DEVICE)
        paths = [root, *filter(None, [os.environ.get("PYTHONPATH")])]
        environ = {**os.environ, "PYTHONPATH": os.pathsep.join(paths), "HEARD": str(heard)}
        begun = time.monotonic()
        outlet = SoundOutlet(
            SoundSettings(play_over_ssh=True),
            bell=lambda: sys.exit("the bell rang: the cue was not sounded"),
            folder=Path(root, "folder"),
            environ=environ,
        )
        if not outlet.wait_until_ready(10):
            sys.exit(f"no sound: {outlet.describe()}")
        try:
            yield outlet, heard, time.monotonic() - begun
        finally:
            outlet.close()


def measure(cue: Cue, rounds: int) -> dict[str, list[float]]:
    """Milliseconds of each step, for so many cues one after the other."""
    with stand_in() as (outlet, heard, ready):
        calls, sounds = [], []
        for i in range(rounds):
            time.sleep(0.05 + 0.0013 * (i % 8))
            told = time.monotonic()
            outlet.deliver(cue)
            calls.append(time.monotonic() - told)
            outlet.wait_until_quiet(10)
            # A cue with pauses in it begins more than once: the first is what counts.
            sounds.append(next(at for at in map(float, heard.read_text().split()) if at >= told) - told)
    times = {"the call": calls, "call to sound": sounds, "start to ready": [ready]}
    return {name: [1000 * value for value in values] for name, values in times.items()}


def idle(seconds: float) -> tuple[float, float]:
    """MB that the helper's process holds, and the part of a core that it takes, while nothing sounds. Linux."""
    with stand_in():
        (child,) = _children()
        begun = _processor(child)
        time.sleep(seconds)
        (held,) = re.findall(r"VmRSS:\s+(\d+)", Path(f"/proc/{child}/status").read_text())
        return int(held) / 1024, (_processor(child) - begun) / seconds


def _children() -> list[str]:
    """Of this process, whichever thread began them."""
    return [child for task in Path("/proc/self/task").glob("*/children") for child in task.read_text().split()]


def _processor(process: str) -> float:
    fields = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def main() -> None:
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 30
    period = 10.0
    for name, cue in (("a tone", Cue("now")), ("words", Cue(None, "two gold together"))):
        for step, values in measure(cue, rounds).items():
            middle, worst = statistics.median(values), max(values)
            print(
                f"{name}: {step}: median {middle:.2f} ms, worst {worst:.2f} ms,"
                f" {middle / period:.2f} of a period of the device"
            )


if __name__ == "__main__":
    main()
