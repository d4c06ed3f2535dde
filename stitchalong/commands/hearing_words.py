"""The words by which one says how to be told by ear."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from stitchalong.commands.line import Line

SOUND_VARIABLE = "STITCHALONG_SOUND"
"""names the means of sound where `--sound` does not"""

MEANS: dict[str, tuple[str, ...]] = {
    "auto": ("device", "player", "bell"),
    "device": ("device", "bell"),
    "player": ("player", "bell"),
    "bell": ("bell",),
    "none": (),
}
"""what can be asked for, each with the ways to sound that it tries, in this order"""

TALKS = {"quiet": "quiet", "changes": "changes", "every-stitch": "every stitch"}
"""how much is said, as it is typed and as it is set"""


def add_hearing(parser: argparse.ArgumentParser) -> None:
    """For stitching."""
    group = parser.add_argument_group("being heard", "Volumes, voice and language are settings: `settings sound.rate`.")
    _means(group)
    group.add_argument("--talk", metavar="HOW", choices=list(TALKS), help="what is said: quiet, changes, every-stitch")
    group.add_argument("--quiet", action="store_true", help="begin muted; a key, or the word mute, brings the sound")


def _means(group: argparse._ActionsContainer) -> None:
    group.add_argument(
        "--sound",
        metavar="MEANS",
        choices=list(MEANS),
        help=f"auto (the best there is), device, player, bell or none; else as {SOUND_VARIABLE} or the settings say",
    )
    group.add_argument("--voice", action=argparse.BooleanOptionalAction, help="speak, or do not")


def sound(line: Line) -> None:
    """`sound`."""
    found = line.command(
        "sound", "sound", "tell what was found of sound and voice", "Or let each short sound be heard, with its name."
    )
    found.add_argument("--hear", action="store_true", help="sound each of them")
    found.add_argument("--say", metavar="TEXT", help="say this aloud")
    _means(found)
