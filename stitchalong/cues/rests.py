"""Reminders to look up and to rest the hands. Each is told once and then only after as long again; nothing nags.

Eyes: every 20 minutes look 20 feet (6 m) away for 20 seconds, as the American Academy of Ophthalmology advises
(prnewswire 301244952); the evidence for the figures is thin, and it is a reminder to blink as much as anything.
Hands: 5 to 10 minutes after 50 to 60 minutes are better than longer and rarer breaks (UK Health and Safety Executive,
of work at screens, as quoted by positura.uk/take-a-break); that it holds for stitching is an analogy.
"""

from __future__ import annotations

from dataclasses import dataclass

from stitchalong.course.words import sentence
from stitchalong.cues.cue import Cue

LOOK_AFTER = 20 * 60.0
"""seconds"""
REST_AFTER = 50 * 60.0
REST = 5 * 60.0
"""a pause so long is a rest, and sets both anew"""
GLANCE = 60.0
"""a pause so long is taken for looking up; shorter ones are needed for threading and thinking"""

_LOOK = "look up: 20 seconds at something 6 metres away, and blink"
_REST = "you have stitched for {} minutes: put the needle down for 5 to 10, and stretch hands and back"


@dataclass(slots=True)
class Rests:
    """Watches the times of presses. `look_after`, `rest_after`: seconds; None: that reminder is off."""

    look_after: float | None = LOOK_AFTER
    rest_after: float | None = REST_AFTER
    _last: float | None = None
    _looked: float = 0.0
    """when she last looked up, or was told to"""
    _rested: float = 0.0
    _begun: float = 0.0
    """when she sat down to it again"""

    def stitched(self, at: float) -> Cue | None:
        """Note a press at `at` (seconds of any clock) and give the reminder that is due, if one is.

        A clock that goes back starts the watching anew.
        """
        last, self._last = self._last, at
        if last is None or at < last or at - last >= REST:
            self._looked = self._rested = self._begun = at
            return None
        if at - last >= GLANCE:
            self._looked = at
        if self.rest_after is not None and at - self._rested >= self.rest_after:
            self._looked = self._rested = at
            text = _REST.format(round((at - self._begun) / 60))
            return Cue(None, text, screen=sentence(text))
        if self.look_after is not None and at - self._looked >= self.look_after:
            self._looked = at
            return Cue(None, _LOOK, screen=sentence(_LOOK))
        return None
