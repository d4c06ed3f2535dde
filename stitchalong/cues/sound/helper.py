"""The helper process: `python -m stitchalong.cues.sound.helper`, told on stdin what to sound.

The lines are those of `protocol`. Status goes to stdout; whatever libraries write goes to stderr, which is a
log. It ends with its stdin.
"""

from __future__ import annotations

import os
import sys
import threading
import time
import traceback
from array import array
from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any, NoReturn

from stitchalong.cues.cue import EARCONS, Earcon
from stitchalong.cues.sound.earcons import render
from stitchalong.cues.sound.links import Chain, Wishes, find_chain
from stitchalong.cues.sound.outputs import GAP, OutputFault
from stitchalong.cues.sound.pcm import RATE
from stitchalong.cues.sound.protocol import Means, decode, encode
from stitchalong.cues.sound.report import report
from stitchalong.cues.sound.voices import Manner

WATCH = 0.25
"""seconds between two looks at whether the sound is lost"""

_tone = lru_cache(maxsize=32)(render)


class Helper:
    """Carries out orders with the chain that was found."""

    def __init__(self, wishes: Wishes, environ: Mapping[str, str], tell: Callable[[dict[str, Any]], None]) -> None:
        self._tell = tell
        self._gone: list[str] = []
        self._chain = Chain()
        self._chain = find_chain(wishes, environ, self._changed)

    def _changed(self, why: str) -> None:
        """A program was given up: say which are in use now."""
        self._gone.append(why)
        self.tell_means()

    def tell_means(self) -> None:
        chain = self._chain
        output = chain.output
        self._tell(
            Means(
                output.kind if output else "",
                output.name if output else "",
                chain.speech,
                chain.hopeful,
                (*chain.notes, *self._gone),
            ).message()
        )

    @property
    def useless(self) -> bool:
        """Whether it can neither sound nor speak."""
        return self._chain.output is None and not self._chain.speech

    def check(self) -> None:
        """Raises `OutputFault` if the sound is lost, or there is neither sound nor speech any more."""
        if self._chain.output is not None:
            self._chain.output.check()
        elif self.useless:
            raise OutputFault("nothing speaks any more")

    def obey(self, order: Mapping[str, Any]) -> dict[str, Any]:
        """Carry out one order. Gives what to answer."""
        chain = self._chain
        answer: dict[str, Any] = {"is": "got", "n": order.get("n")}
        match order.get("do"):
            case "cue":
                self._cue(order)
            case "clear":
                if chain.output is not None:
                    chain.output.clear()
                if chain.speaker is not None:
                    chain.speaker.stop()
            case "quiet":
                answer["quiet"] = (chain.output is None or chain.output.quiet()) and (
                    chain.speaker is None or chain.speaker.quiet()
                )
            case "pass" if chain.output is not None:
                chain.output.pass_time(float(order["seconds"]))
        return answer

    def _cue(self, order: Mapping[str, Any]) -> None:
        chain = self._chain
        words = str(order.get("words", ""))
        tone = self._tone(order.get("earcon"), float(order.get("volume", 0)))
        if chain.output is not None and (tone or chain.voice is not None or not words):
            voice = chain.voice
            chain.output.play(tone, (lambda: voice.pcm(words)) if voice is not None and words else None)
        elif chain.output is not None:
            chain.output.clear()
        if chain.speaker is not None:
            if words:
                chain.speaker.say(words, len(tone) / RATE + GAP if tone else 0.0)
            else:
                chain.speaker.stop()

    @staticmethod
    def _tone(earcon: object, volume: float) -> array[int]:
        known: tuple[Earcon, ...] = tuple(name for name in EARCONS if name == earcon)
        return _tone(known[0], volume) if known and volume > 0 else array("h")

    def close(self) -> None:
        for part in (self._chain.output, self._chain.speaker):
            if part is not None:
                part.close()


def wishes_of(order: Mapping[str, Any]) -> Wishes:
    """The wishes in a `begin` order."""
    return Wishes(
        tuple(order["means"]),
        tuple(order["speech"]),
        Manner(int(order["rate"]), str(order["voice"]), str(order["language"]), float(order["volume"])),
        Path(order["folder"]),
        Path(order["wav"]) if order.get("wav") else None,
    )


def main() -> NoReturn:
    """Serve until stdin ends. Never returns: at the end, threads of libraries may hang the interpreter."""
    status = os.dup(1)
    os.dup2(2, 1)  # what a library prints must not be taken for status
    lock = threading.Lock()

    def tell(message: dict[str, Any]) -> None:
        with lock:
            try:
                os.write(status, encode(message))
            except OSError:
                os._exit(0)

    try:
        code = _serve(tell)
    except BaseException:
        traceback.print_exc()
        code = 1
    sys.stderr.flush()
    os._exit(code)


def _serve(tell: Callable[[dict[str, Any]], None]) -> int:
    lines = sys.stdin.buffer
    begin = decode(lines.readline())
    if begin.get("do") != "begin":
        return 2
    wishes = wishes_of(begin)
    if begin.get("report"):
        tell({"is": "report", **report(wishes, os.environ)})
        return 0
    # Tones are made while the device opens, so that no cue's first time is the slow one.
    volumes = begin.get("volumes", {})
    warm = threading.Thread(target=lambda: [_tone(name, float(volumes.get(name, 0))) for name in EARCONS])
    warm.start()
    helper = Helper(wishes, os.environ, tell)
    warm.join()
    helper.tell_means()
    if helper.useless:
        return 3
    threading.Thread(target=_watch, args=(helper, tell), daemon=True).start()
    while line := lines.readline():
        order = decode(line)
        if order.get("do") == "end":
            break
        tell(helper.obey(order))
    helper.close()
    return 0


def _watch(helper: Helper, tell: Callable[[dict[str, Any]], None]) -> NoReturn:
    while True:
        time.sleep(WATCH)
        try:
            helper.check()
        except OutputFault as fault:
            tell({"is": "lost", "why": str(fault)})
            os._exit(3)


if __name__ == "__main__":
    main()
