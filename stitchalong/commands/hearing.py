"""From what a person asks on the command line, and has set, to what sounds and speaks."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from stitchalong.commands.hearing_words import MEANS, SOUND_VARIABLE
from stitchalong.cues.bell import Bell
from stitchalong.cues.cue import Outlet
from stitchalong.errors import UsageError

if TYPE_CHECKING:
    from stitchalong.commands.world import World
    from stitchalong.cues.sound.settings import SoundSettings


WITHOUT_VOICE = ("bell", "none")
"""who asks for these wants no voice either"""


def means_asked(asked: Namespace, environ: Mapping[str, str]) -> str:
    """The means that are asked for by name; empty where none are. Raises UsageError."""
    name = getattr(asked, "sound", None) or environ.get(SOUND_VARIABLE, "").strip()
    if name and name not in MEANS:
        raise UsageError(f"{SOUND_VARIABLE} names no means of sound", fix=f"one of {', '.join(MEANS)}")
    return name


def why_unspoken(asked: Namespace, usual: SoundSettings, environ: Mapping[str, str]) -> str:
    """By what speech is turned off, where it is: `by --no-voice`. Raises UsageError."""
    if getattr(asked, "voice", None) is False:
        return "by --no-voice"
    name = means_asked(asked, environ)
    if usual.speak and name in WITHOUT_VOICE:
        return f"by --sound {name}" if getattr(asked, "sound", None) else f"by {SOUND_VARIABLE}={name}"
    return "in the settings"


def sound_settings(asked: Namespace, usual: SoundSettings, environ: Mapping[str, str]) -> SoundSettings:
    """What was set, but for what is asked for now. Raises UsageError."""
    settings = usual
    name = means_asked(asked, environ)
    if name:
        settings = replace(settings, means=MEANS[name], speak=settings.speak and name not in WITHOUT_VOICE)
    voice = getattr(asked, "voice", None)
    if voice is not None:
        settings = replace(settings, speak=voice)
    return replace(settings, muted=settings.muted or getattr(asked, "quiet", False))


def outlet(
    settings: SoundSettings,
    world: World,
    *,
    ring: Callable[[], object],
    on_change: Callable[[], object] | None = None,
    patience: float = 0.0,
) -> Outlet:
    """By what the settings ask for: tones and voice, the bell alone, or nothing.

    Returns at once, or after up to `patience` seconds in which the voice may become ready.
    """
    if not settings.speak and set(settings.means) <= {"bell"}:
        made = Bell(ring if settings.means else None)
        if settings.muted:
            made.mute()
        return made
    from stitchalong.cues.sound.outlet import SoundOutlet

    sounding = SoundOutlet(settings, bell=ring, folder=world.paths.log, environ=world.environ, on_change=on_change)
    if patience:
        sounding.wait_until_ready(patience)
    return sounding
