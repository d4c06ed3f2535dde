"""The words of the command that shows and changes settings."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from stitchalong.commands.line import Line


def settings(line: Line) -> None:
    """`settings`."""
    found = line.command(
        "settings",
        "settings",
        "show or change the settings",
        "Without more: all of them. With a name: that one, and what it is for. With a value too: it is changed, and "
        "all else in the file stays as it is.",
    )
    found.add_argument("name", metavar="NAME", nargs="?", help="such as counting.warn")
    found.add_argument("value", metavar="VALUE", nargs="?", help="such as 3, on, light, or bell,device for a list")
    told = found.add_mutually_exclusive_group()
    told.add_argument("--keys", action="store_true", help="the keys of each command, those of your own marked")
    told.add_argument("--sample", action="store_true", help="a settings file with every setting explained")
    told.add_argument("--pedal", action="store_true", help="press your pedal, and let its key count beads")
    told.add_argument("--json", action="store_true", help="for scripts: one JSON document")
