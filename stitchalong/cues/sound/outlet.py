"""The outlet of a front end for all that is heard: the helper process, watched over, and the bell."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from stitchalong.cues.cue import EARCONS, Cue
from stitchalong.cues.sound.process import COMMAND, HelperProcess
from stitchalong.cues.sound.protocol import Means, begin_order, speakable
from stitchalong.cues.sound.settings import SoundSettings

DELAYS = (2.0, 4.0, 8.0, 10.0, 10.0, 10.0, 10.0, 10.0, 10.0, 60.0)
"""seconds before the helper is started again, after one fault, two, …; the last one for all further"""

START_LIMIT = 15.0
"""seconds in which the helper must have found its means: each of those that hang takes up to 3"""

GOOD = 10.0
"""seconds a helper must have worked for its fault to count as the first again"""

RECENT = 1.5
"""seconds: a warning given so shortly before the sound was found lost was probably not heard"""

UPGRADE = 10.0
"""seconds after which a helper that speaks but cannot sound is replaced, in a pause, to try the device again"""

PAUSE = 3.0
"""seconds without a cue that count as a pause: longer than most cues take to be spoken"""


def over_ssh(environ: Mapping[str, str]) -> bool:
    """Whether the person sits at another machine."""
    return any(environ.get(name) for name in ("SSH_CONNECTION", "SSH_TTY", "SSH_CLIENT"))


class SoundOutlet:
    """Sounds and speaks cues by the best means there are; see `Outlet`."""

    def __init__(
        self,
        settings: SoundSettings,
        *,
        bell: Callable[[], object],
        folder: Path,
        environ: Mapping[str, str],
        on_change: Callable[[], object] | None = None,
        clock: Callable[[], float] = time.monotonic,
        command: Sequence[str] = COMMAND,
        delays: Sequence[float] = DELAYS,
    ) -> None:
        """Returns at once; the helper is found ready later (`wait_until_ready`).

        `bell` rings the terminal's bell and `on_change` shows `describe` anew: both are called from any
        thread. `folder` is for the log and for WAV files, `environ` for the helper.
        """
        self._settings = settings
        self._bell = bell
        self._folder = folder
        self._environ = dict(environ)
        self._on_change = on_change
        self._clock = clock
        self._command = tuple(command)
        self._delays = tuple(delays)
        self._helper: HelperProcess | None = None
        self._begun: dict[str, Any] = {}
        self._faults = self._crashes = 0
        self._next_start = clock()
        self._trouble = ""
        self._given_up = False
        self._delivered = clock()
        self._warned: tuple[Cue, float] | None = None
        self._closed = False
        self._wake = threading.Event()
        self._shown = self.describe()
        self._thread = threading.Thread(target=self._supervise, name="sound", daemon=True)
        self._thread.start()

    # What a front end calls

    def deliver(self, cue: Cue) -> None:
        """Sound and speak it now; where nothing can, ring the bell. Never waits and never raises."""
        settings = self._settings
        if self._closed or settings.muted:
            return
        volume = settings.volumes.of(cue.earcon) if cue.earcon is not None else 0.0
        words = speakable(cue.words) if settings.speak and settings.volumes.voice > 0 else ""
        helper = self._ready()
        if helper is not None and helper.means is not None and not helper.means.speech:
            words = ""  # what cannot be spoken must not cut off what sounds
        if not volume and not words:
            return
        self._delivered = self._clock()
        order: dict[str, Any] = {"do": "cue", "words": words}
        if volume:
            order |= {"earcon": cue.earcon, "volume": volume}
        sent = helper is not None and helper.send(order, patience=1.0 if settings.wav else 0.0)
        if not sent or helper is None or helper.means is None or not helper.means.kind:
            self._ring(cue)
        elif cue.urgent:
            self._warned = (cue, self._delivered)

    def describe(self) -> str:
        """By which means cues are heard at this moment, for a header."""
        if self._settings.muted:
            return "muted"
        bell = "bell" in self._settings.means
        helper = self._ready()
        if helper is not None and helper.means is not None:
            sound = helper.means.output or ("bell" if bell else "no tones")
            return f"{sound}, {helper.means.speech or 'no voice'}" if self._settings.speak else sound
        only = "bell only" if bell else "sound off"
        if over_ssh(self._environ) and not self._allowed():
            return f"{only} (over SSH)"
        if not self._wanted() and not self._given_up:
            return only
        return f"{only} ({self._trouble or 'sound is starting'})"

    @property
    def settings(self) -> SoundSettings:
        return self._settings

    def change(self, settings: SoundSettings) -> None:
        """Use other settings from now on. The helper is started anew where the change concerns it."""
        self._settings = settings
        helper = self._ready()
        if settings.muted and helper is not None:
            helper.send({"do": "clear"})
        self._given_up = False
        self._next_start = self._clock()
        self._wake.set()

    def mute(self) -> bool:
        """Fall silent at once, or sound again; True: silent from now on."""
        self.change(replace(self._settings, muted=not self._settings.muted))
        return self._settings.muted

    def hush(self) -> None:
        """Cut off what is being told."""
        helper = self._ready()
        if helper is not None:
            helper.send({"do": "clear"})

    def wait_until_ready(self, timeout: float) -> bool:
        """Wait until the means are found; False if none but the bell are."""
        deadline = self._clock() + timeout
        while self._ready() is None:
            waiting = self._wanted() and not self._settings.muted and not self._closed
            if not waiting or self._clock() > deadline:
                return False
            time.sleep(0.005)
        return True

    def wait_until_quiet(self, timeout: float) -> bool:
        """Wait until all has been sounded (into a WAV, let it be sounded)."""
        deadline = self._clock() + timeout
        while (helper := self._ready()) is not None:
            if (left := deadline - self._clock()) <= 0:
                return False
            if helper.quiet(left):
                break
            time.sleep(0.02)
        return True

    def pass_time(self, seconds: float) -> None:
        """Let time pass in the WAV; elsewhere it passes by itself."""
        helper = self._ready()
        if helper is not None and self._settings.wav is not None:
            helper.send({"do": "pass", "seconds": seconds}, patience=1.0)

    def close(self) -> None:
        """Fall silent and end the helper, within a second and a half."""
        self._closed = True
        self._wake.set()
        self._thread.join(1.5)

    # The bell

    def _ring(self, cue: Cue) -> None:
        """Ring, but not for each bead: a bell that always rings warns of nothing."""
        worth = cue.urgent or cue.earcon not in (None, "bead")
        if not worth or "bell" not in self._settings.means or self._settings.wav is not None:
            return
        try:
            self._bell()
        except Exception as fault:
            self._trouble = f"the bell fails: {fault}"

    # The helper, watched over by a thread

    def _ready(self) -> HelperProcess | None:
        helper = self._helper
        if helper is None or helper.over or helper.means is None:
            return None
        return helper if helper.means.kind or helper.means.speech else None

    def _allowed(self) -> bool:
        return self._settings.play_over_ssh or self._settings.wav is not None

    def _wanted(self) -> bool:
        settings = self._settings
        if self._given_up or (over_ssh(self._environ) and not self._allowed()):
            return False
        return bool(settings.speak or settings.wav or {"device", "player"} & set(settings.means))

    def _supervise(self) -> None:
        while not self._closed:
            self._wake.clear()
            try:
                self._look_after()
            except Exception as fault:
                # Such as: no process can be started here. The bell remains.
                self._fault(f"sound cannot be started: {fault}")
            self._tell_change()
            self._wake.wait(0.25 if self._helper is not None or self._wanted() else None)
        if self._helper is not None:
            self._helper.end()
            self._helper = None

    def _look_after(self) -> None:
        helper, now = self._helper, self._clock()
        begin = begin_order(self._settings, self._folder)
        if helper is None:
            # A muted start costs nothing; a helper that runs is kept, to be back at once.
            if self._wanted() and not self._settings.muted and now >= self._next_start:
                self._start(begin)
        elif not self._wanted() or begin != self._begun:
            self._helper = None
            helper.end()
            self._faults = self._crashes = 0
            self._trouble, self._next_start = "", now
            self._wake.set()
        elif helper.over:
            self._lost(helper, helper.why or "the sound helper has ended")
        elif helper.means is None:
            if now - helper.started > START_LIMIT:
                self._lost(helper, "the sound helper does not start")
        elif helper.hung:
            self._lost(helper, "the sound helper does not answer")
        elif not helper.means.kind and helper.means.hopeful and self._idle(helper, now):
            self._lost(helper, "trying again")

    def _start(self, begin: dict[str, Any]) -> None:
        self._begun = begin
        given = dict(begin)
        given["volumes"] = {name: self._settings.volumes.of(name) for name in EARCONS}
        if self._crashes % 3 == 2:
            # A device that takes the helper down with it may still leave the players.
            given["means"] = [link for link in given["means"] if link != "device"]
        self._helper = HelperProcess(
            self._command,
            given,
            folder=self._folder,
            environ=self._environ,
            clock=self._clock,
            on_event=self._wake.set,
        )

    def _idle(self, helper: HelperProcess, now: float) -> bool:
        return now - helper.started > UPGRADE and now - self._delivered > PAUSE

    def _lost(self, helper: HelperProcess, why: str) -> None:
        """The sound is gone: warn by bell if need be, and try again later."""
        now = self._clock()
        means = helper.means or Means()
        self._helper = None
        helper.kill()
        if self._warned is not None and now - self._warned[1] < RECENT and not self._settings.muted:
            self._ring(self._warned[0])
        self._warned = None
        if not means.kind and not means.speech and helper.means is not None:
            why = "no sound device"
            if not means.hopeful:
                self._given_up = True
                why = "nothing is installed that makes sound"
            if self._settings.wav is not None and means.notes:
                why = means.notes[0]
        if now - helper.started > GOOD and means.kind:
            self._faults = self._crashes = 0
        if means.kind == "device" or helper.means is None:
            self._crashes += 1
        self._fault(why)

    def _fault(self, why: str) -> None:
        self._faults += 1
        self._next_start = self._clock() + self._delays[min(self._faults, len(self._delays)) - 1]
        self._trouble = why

    def _tell_change(self) -> None:
        shown, self._shown = self._shown, self.describe()
        if self._on_change is not None and shown != self._shown and not self._closed:
            try:
                self._on_change()
            except Exception as fault:
                self._trouble = f"the display of sound fails: {fault}"
