"""Each thing that a person can ask for, defined once: name, words, keys.

Keys, footer, help, palette and the words of the line-by-line front end are all made from this list, so that
they cannot drift apart. Keys are named as terminals' toolkits name them; only such are used as reach a program
everywhere, and the first of each needs no shift key.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from stitchalong.settings.command import GROUPS, Command, Scope
from stitchalong.settings.showing_commands import SHOWN
from stitchalong.settings.working_commands import WORKING

__all__ = ["COMMANDS", "GROUPS", "Command", "Scope", "by_group", "clashes", "command", "commands", "key_words"]

COMMANDS: tuple[Command, ...] = (*WORKING, *SHOWN)

_KEY_WORDS = {
    "space": "Space",
    "enter": "Enter",
    "backspace": "Backspace",
    "pagedown": "Page Down",
    "pageup": "Page Up",
    "left": "Left",
    "right": "Right",
    "delete": "Delete",
    "escape": "Escape",
    "question_mark": "?",
}


def key_words(key: str) -> str:
    """A key as people call it: `Page Down`, `Ctrl+P`, `t`."""
    if key.startswith("ctrl+"):
        return "Ctrl+" + key.removeprefix("ctrl+").upper()
    if key[:1] == "f" and key[1:].isdigit():
        return key.upper()
    return _KEY_WORDS.get(key, key)


def commands(scope: Scope, some: tuple[Command, ...] = COMMANDS) -> tuple[Command, ...]:
    """Those of one front end or screen, in their order. `some`: with keys of the stitcher's own."""
    return tuple(command for command in some if scope in command.scopes)


def command(wanted: str, some: tuple[Command, ...] = COMMANDS) -> Command:
    """The command of this id. Raises KeyError."""
    for found in some:
        if found.id == wanted:
            return found
    raise KeyError(wanted)


def by_group(scope: Scope, some: tuple[Command, ...] = COMMANDS) -> list[tuple[str, list[Command]]]:
    """For listings: groups that have a command here, with their commands."""
    here = commands(scope, some)
    grouped = [(group, [item for item in here if item.group == group]) for group in GROUPS]
    return [(group, items) for group, items in grouped if items]


def clashes(some: Iterable[Command]) -> list[str]:
    """Keys that more than one of these commands claims."""
    claims = Counter(key for item in some for key in item.keys)
    return sorted(key for key, times in claims.items() if times > 1)
