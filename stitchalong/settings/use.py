"""What the parts of the program take from the settings."""

from __future__ import annotations

from stitchalong.cues.rests import Rests
from stitchalong.cues.sound.settings import SoundSettings, Volumes
from stitchalong.settings.commands import Command
from stitchalong.settings.held import HeldKeys
from stitchalong.settings.key_map import mapped
from stitchalong.settings.settings import Settings


def held_keys(settings: Settings) -> HeldKeys:
    """The guard against held keys."""
    keys = settings.keys
    return HeldKeys(keys.guard, keys.fastest, keys.repeats, (keys.first_repeat_from, keys.first_repeat_to))


def commands_of(settings: Settings) -> tuple[Command, ...]:
    """All commands, with the keys that the stitcher gave them."""
    return mapped(settings.key_map)


def rests(settings: Settings) -> Rests:
    """The reminders; those that are off are None."""
    reminders = settings.reminders
    return Rests(reminders.look_up * 60.0 or None, reminders.rest * 60.0 or None)


def sound(settings: Settings) -> SoundSettings:
    """Sounds and speech. Raises UsageError for a voice or language that cannot be."""
    chosen = settings.sound
    return SoundSettings(
        muted=chosen.muted,
        volumes=Volumes(
            chosen.volume_bead,
            chosen.volume_heads_up,
            chosen.volume_now,
            chosen.volume_done,
            chosen.volume_undone,
            chosen.volume_error,
            chosen.volume_voice,
        ),
        speak=chosen.speak,
        rate=chosen.rate,
        voice=chosen.voice,
        language=chosen.language,
        play_over_ssh=chosen.over_ssh,
        means=chosen.means,
        speech=chosen.speech,
    )
