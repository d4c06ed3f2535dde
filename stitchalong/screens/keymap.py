"""From keys to commands, by the one list of commands."""

from __future__ import annotations

from stitchalong.course.walker import Unit
from stitchalong.settings.commands import COMMANDS, Command, Scope, commands

UNITS = {
    "back": Unit.BEAD,
    "back_stitch": Unit.STITCH,
    "back_side": Unit.SIDE,
    "back_round": Unit.ROUND,
    "back_part": Unit.PART,
}
"""how far the commands lead that take back"""


def keymap(scope: Scope, some: tuple[Command, ...] = COMMANDS) -> dict[str, str]:
    """Key -> command id."""
    return {key: item.id for item in commands(scope, some) for key in item.keys}


def digit_of(character: str | None) -> str:
    """The digit typed, empty for anything else."""
    return character if character is not None and len(character) == 1 and character in "0123456789" else ""
