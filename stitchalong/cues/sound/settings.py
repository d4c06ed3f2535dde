"""What a person can choose about sound and speech."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import field, fields
from pathlib import Path

from stitchalong.cues.cue import Earcon
from stitchalong.errors import UsageError
from stitchalong.values import value

MEANS = ("device", "player", "bell")
"""Ways to sound an earcon, best first: a sound device, a player of the system, the terminal's bell."""

SPEECH = ("library", "system", "command")
"""Ways to speak, best first: the eSpeak NG library of the extra [voice], that of the system, a program."""

RATES = (80, 450)
"""Slowest and fastest rate in words a minute: what eSpeak NG takes (its documentation of `espeakRATE`)."""


@value
class Volumes:
    """How loud each class sounds, as a fraction of the greatest amplitude, 0 (silent) to 1."""

    bead: float = 0.0
    """a bead counted; off unless wanted"""
    heads_up: float = 0.6
    now: float = 0.9
    done: float = 0.6
    undone: float = 0.5
    error: float = 0.7
    voice: float = 0.8

    def of(self, earcon: Earcon) -> float:
        value: float = getattr(self, earcon.replace("-", "_"))
        return value


@value
class SoundSettings:
    """All choices about sound. Raises `UsageError` for what cannot be meant."""

    muted: bool = False
    volumes: Volumes = field(default_factory=Volumes)
    speak: bool = True
    rate: int = 165
    """words a minute"""
    voice: str = ""
    """a voice by the name that the means of speech gives it; empty: the one that suits the language"""
    language: str = "en-us"
    """a language tag such as `en-gb` or `de`"""
    play_over_ssh: bool = False
    """sound on the machine that is logged in to; else only the bell reaches the person"""
    means: tuple[str, ...] = MEANS
    speech: tuple[str, ...] = SPEECH
    wav: Path | None = None
    """write the sound into this file and play nothing"""

    def __post_init__(self) -> None:
        for name in (one.name for one in fields(Volumes)):
            if not 0 <= getattr(self.volumes, name) <= 1:
                raise UsageError(
                    f"the volume of {name.replace('_', '-')} is {getattr(self.volumes, name)}",
                    fix="a volume is a number from 0 to 1",
                )
        if not RATES[0] <= self.rate <= RATES[1]:
            raise UsageError(
                f"a rate of {self.rate} words a minute cannot be spoken",
                fix=f"choose {RATES[0]} to {RATES[1]}",
            )
        for text, what in ((self.voice, "voice"), (self.language, "language")):
            if text.startswith("-") or not text.isprintable() or len(text) > 60:
                raise UsageError(f"{text!r} is no name of a {what}", fix="try en-us, or leave it out")
        if not self.language:
            raise UsageError("no language is given", fix="try en-us")
        _known(self.means, MEANS, "means of sound")
        _known(self.speech, SPEECH, "means of speech")


def _known(given: Iterable[str], known: tuple[str, ...], what: str) -> None:
    for name in given:
        if name not in known:
            raise UsageError(f"{name!r} is no {what}", fix=f"there are {', '.join(known)}")
