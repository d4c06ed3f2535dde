"""How a person wants the screens."""

from __future__ import annotations

from dataclasses import dataclass

from stitchalong.cues.rests import LOOK_AFTER, REST_AFTER
from stitchalong.measure.units import Units
from stitchalong.screens.glyphs import ASCII, BLOCKS, Glyphs
from stitchalong.settings.commands import COMMANDS, Command
from stitchalong.settings.held import FASTEST, FIRST_REPEAT, HELD_AFTER


@dataclass(frozen=True, slots=True)
class Preferences:
    """Each can be changed at the keys too, for as long as the program runs."""

    theme: str = "dark"
    """of `themes.LOOKS`"""
    ascii: bool = False
    """draw with plain ASCII signs"""
    remarks: bool = True
    """show the remarks of plan and technique"""
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

    @property
    def glyphs(self) -> Glyphs:
        return ASCII if self.ascii else BLOCKS
