"""How a person wants the screens."""

from __future__ import annotations

from pathlib import Path

from stitchalong.cues.rests import LOOK_AFTER, REST_AFTER
from stitchalong.measure.units import Units
from stitchalong.screens.glyphs import ASCII, BLOCKS, Glyphs
from stitchalong.settings.commands import COMMANDS, Command
from stitchalong.settings.held import FASTEST, FIRST_REPEAT, HELD_AFTER
from stitchalong.settings.settings import Settings
from stitchalong.settings.use import commands_of, held_keys, rests
from stitchalong.values import value


@value
class Preferences:
    """Each can be changed at the keys too, for as long as the program runs."""

    theme: str = "dark"
    """of `themes.LOOKS`"""
    ascii: bool = False
    """draw with plain ASCII signs"""
    remarks: bool = True
    """show the remarks of plan and technique"""
    tap: bool = True
    """a click counts a bead"""
    guard: bool = True
    """a key that is held down counts once"""
    held: tuple[float, int, tuple[float, float]] = (FASTEST, HELD_AFTER, FIRST_REPEAT)
    """the figures of that guard, as `HeldKeys` takes them"""
    commands: tuple[Command, ...] = COMMANDS
    """with keys of the stitcher's own"""
    large: bool = False
    """only the number, now and next"""
    units: Units = Units.METRIC
    """of lengths and weights"""
    reminders: tuple[float | None, float | None] = (LOOK_AFTER, REST_AFTER)
    """seconds after which to look up, and to rest; None: never"""
    file: Path | None = None
    """where the settings are kept; None: they cannot be changed from the screens"""

    @classmethod
    def of(cls, settings: Settings, file: Path | None = None) -> Preferences:
        """As it is set."""
        reminders, held = rests(settings), held_keys(settings)
        return cls(
            theme=settings.look.theme,
            ascii=settings.look.glyphs == "ascii",
            remarks=settings.counting.remarks,
            tap=settings.counting.tap,
            guard=settings.keys.guard,
            held=(held.fastest, held.held_after, held.first_repeat),
            commands=commands_of(settings),
            large=settings.look.large,
            units=Units(settings.words.units),
            reminders=(reminders.look_after, reminders.rest_after),
            file=file,
        )

    @property
    def glyphs(self) -> Glyphs:
        return ASCII if self.ascii else BLOCKS
