"""How a person wants the screens."""

from __future__ import annotations

from dataclasses import dataclass

from stitchalong.cues.rests import LOOK_AFTER, REST_AFTER
from stitchalong.measure.units import Units
from stitchalong.screens.glyphs import ASCII, BLOCKS, Glyphs


@dataclass(frozen=True, slots=True)
class Preferences:
    """Each can be changed at the keys too, for as long as the program runs."""

    ascii: bool = False
    """draw with plain ASCII signs"""
    remarks: bool = True
    """show the remarks of plan and technique"""
    guard: bool = True
    """a key that is held down counts once"""
    large: bool = False
    """only the number, now and next"""
    units: Units = Units.METRIC
    """of lengths and weights"""
    reminders: tuple[float | None, float | None] = (LOOK_AFTER, REST_AFTER)
    """seconds after which to look up, and to rest; None: never"""

    @property
    def glyphs(self) -> Glyphs:
        return ASCII if self.ascii else BLOCKS
