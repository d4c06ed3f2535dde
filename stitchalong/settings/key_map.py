"""Keys of one's own: checked for commands that there are not, for keys that cannot be, and for clashes."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from stitchalong.errors import Place, Problem, Problems, UsageError
from stitchalong.plan.text import did_you_mean, shown
from stitchalong.settings.commands import COMMANDS, Command, key_words

MOST_KEYS = 8
"""of one command"""
_KEY = re.compile(r"(?:ctrl\+|alt\+|shift\+)*[a-z0-9_]{1,40}")
_TAKEN = {"escape": "it closes what is open", **dict.fromkeys("0123456789", "digits say how many")}
_SHOWN = ("stitching", "home")
"""where keys are pressed; in the line-by-line front end words are typed"""


def read_map(data: Mapping[str, object], problems: Problems, places: Mapping[str, Place]) -> dict[str, tuple[str, ...]]:
    """The keys of each command from the table `keys.map`; faults go to `problems`, `places` says where each stands."""
    found: dict[str, tuple[str, ...]] = {}
    known = {command.id: command for command in COMMANDS if set(command.scopes) & set(_SHOWN)}
    for name, value in data.items():
        place = places.get(name, Place())
        if name not in known:
            what = f"there is no command “{shown(name)}”"
            problems.add(Problem(what, place, did_you_mean(name, known) or "help lists them"))
            continue
        keys = [value] if isinstance(value, str) else value
        if not isinstance(keys, list | tuple) or not all(isinstance(key, str) for key in keys):
            problems.add(Problem(f"the keys of {name} are no list", place, f'as in {name} = ["space", "right"]'))
            continue
        good = _good_keys(name, keys, problems, place)
        if good is not None:
            found[name] = good
    for fault in _clashes(mapped(found), found):
        problems.add(Problem(fault[1], places.get(fault[0], Place()), "give one of them another key"))
    return found


def _good_keys(name: str, keys: Sequence[str], problems: Problems, place: Place) -> tuple[str, ...] | None:
    good: list[str] = []
    for key in keys:
        folded = "space" if key == " " else key.strip().casefold()
        fault = why_not(folded)
        if fault is not None:
            problems.add(replace(fault, place=place))
            return None
        good.append(folded)
    if len(good) > MOST_KEYS:
        problems.add(Problem(f"{len(good)} keys for {name}, and {MOST_KEYS} are the most", place))
        return None
    if not good:
        problems.add(Problem(f"{name} would have no key", place, "leave the line out to keep the usual ones"))
        return None
    return tuple(dict.fromkeys(good))


def why_not(key: str) -> Problem | None:
    """Why a key, as terminals' toolkits name it, can be no command's; None where it can."""
    if not _KEY.fullmatch(key):
        return Problem(f"“{shown(key)}” is no key", fix="keys are called space, pagedown, ctrl+b, t …")
    if key in _TAKEN:
        return Problem(f"{key_words(key)} cannot be given away: {_TAKEN[key]}", fix="take another key")
    return None


def given(key: str, wanted: Command, commands: Sequence[Command]) -> dict[str, tuple[str, ...]]:
    """What to write into the key map so that `key` is for the command `wanted` too, beside the keys that it has.

    Whoever has the key on the same screen gives it up. Raises UsageError where it has no other.
    """
    changes: dict[str, tuple[str, ...]] = {}
    for other in holders(key, wanted, commands):
        rest = tuple(one for one in other.keys if one != key)
        if not rest:
            what = f"{key_words(key)} is the only key of “{other.title}”"
            raise UsageError(what, fix="take another key, or give that one a second key first")
        changes[other.id] = rest
    if key not in wanted.keys:
        changes[wanted.id] = (*wanted.keys, key)
    return changes


def holders(key: str, wanted: Command, commands: Sequence[Command]) -> list[Command]:
    """Other commands that this key asks for where `wanted` can be asked for."""
    scopes = set(wanted.scopes) & set(_SHOWN)
    return [one for one in commands if key in one.keys and one.id != wanted.id and scopes & set(one.scopes)]


def mapped(keys: Mapping[str, Sequence[str]], commands: Sequence[Command] = COMMANDS) -> tuple[Command, ...]:
    """The commands, those that `keys` names with keys of their own."""
    return tuple(
        replace(command, keys=tuple(keys[command.id])) if command.id in keys else command for command in commands
    )


def _clashes(commands: Sequence[Command], changed: Mapping[str, object]) -> list[tuple[str, str]]:
    """(command that was changed, what clashes) for each key that two commands of one screen have."""
    found: dict[tuple[str, str, str], tuple[str, str]] = {}
    for scope in _SHOWN:
        holder: dict[str, Command] = {}
        for command in (command for command in commands if scope in command.scopes):
            for key in command.keys:
                other = holder.setdefault(key, command)
                if other is not command:
                    mine = command if command.id in changed else other
                    what = f"{key_words(key)} is both for {other.id} and for {command.id}"
                    found[key, other.id, command.id] = (mine.id, what)
    return list(found.values())
