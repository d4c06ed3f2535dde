"""What a typed line asks for. Pure: knows the words of the commands and no piece."""

from __future__ import annotations

import re
from dataclasses import dataclass

from stitchalong.errors import UsageError
from stitchalong.plan.text import did_you_mean, shown
from stitchalong.settings.commands import commands

MOST = 1_000_000
"""of a count: no piece has more beads"""

_WORDS = {command.word: command for command in commands("plain") if command.word}
_MORE = tuple(command for command in _WORDS.values() if command.more)
_FORMS = {
    "beads": "bead",
    "stitches": "stitch",
    "back stitches": "back stitch",
    "goto": "go to",
    "exit": "quit",
    "recount": "count",
}
_EDGES = ("top", "bottom")


@dataclass(frozen=True, slots=True)
class Goal:
    """A place as a person names it; all that is left out is None. Rounds as numbered, the rest from 1."""

    edge: str | None = None
    round: int | None = None
    side: int | None = None
    bead: int | None = None
    band: bool = False


@dataclass(frozen=True, slots=True)
class Asked:
    """A command by its id, with the number that was typed with it."""

    id: str
    count: int | None = None
    goal: Goal | None = None
    text: str = ""
    """what was typed behind a word that takes more"""


def asked(line: str) -> Asked:
    """What the line asks for; an empty one is one bead, a number so many. Raises UsageError."""
    words = line.casefold().split()
    if not words:
        return Asked("bead")
    joined = " ".join([_FORMS.get(words[0], words[0]), *words[1:]])
    for start in ("go to", "goto"):
        if joined == start or joined.startswith(start + " "):
            return Asked("go_to", goal=_goal(joined.removeprefix(start), line))
    for one in _MORE:
        if joined == one.word or joined.startswith(one.word + " "):
            rest = " ".join(line.split()[len(one.word.split()) :])
            return Asked(one.id, _number(rest)) if one.counts and _is_number(rest) else Asked(one.id, text=rest)
    numbers = [word for word in (words[0], words[-1]) if _is_number(word)][:1]
    if numbers:
        words.remove(numbers[0])
    count = _number(numbers[0]) if numbers else None
    word = " ".join(words) or "bead"
    command = _WORDS.get(_FORMS.get(word, word))
    if command is None:
        raise _unknown(line, word)
    if count is not None and not command.counts:
        raise UsageError(f"`{command.word}` takes no number", fix=f"type `{command.word}` alone")
    if count == 0 and command.id not in ("warn", "step_up"):
        raise UsageError("0 counts nothing", fix="a number from 1")
    return Asked(command.id, count)


def _unknown(line: str, word: str) -> UsageError:
    hint = did_you_mean(word, _WORDS) or "`help` lists the words"
    return UsageError(f"“{shown(line.strip())}” is not understood", fix=hint)


def _is_number(word: str) -> bool:
    return word.isascii() and word.replace(",", "").isdigit()


def _number(word: str) -> int:
    digits = word.replace(",", "").lstrip("0") or "0"
    if len(digits) > len(str(MOST)) or int(digits) > MOST:
        raise UsageError(f"{shown(word)} is more than any piece has", fix=f"a number up to {MOST:,}")
    return int(digits)


def _goal(text: str, line: str) -> Goal:
    """`[top|bottom] [round] 5 [side] 2 [bead] 3`, `band`; each word with its number, or numbers in this order."""
    if not text.strip():
        raise UsageError(
            "where to?", fix="such as `go to round 5`, `go to round 5 side 2 bead 3`, `go to bottom round 1`"
        )
    edge: str | None = None
    band = False
    named: dict[str, int] = {}
    order = ["round", "side", "bead"]
    waiting: str | None = None
    for word in re.sub(r"[,;]", " ", text).split():
        if waiting is None and word in _EDGES:
            edge = word
        elif waiting is None and word == "band":
            band = True
        elif waiting is None and word in order and word not in named:
            waiting = word
        elif word == "edge" and edge and waiting is None:
            continue
        elif _is_number(word):
            key = waiting or next((key for key in order if key not in named), None)
            if key is None:
                raise _no_place(line)
            named[key] = _number(word)
            waiting = None
        else:
            raise _no_place(line)
    if waiting:
        raise UsageError(f"`{waiting}` needs its number", fix=f"such as `go to {waiting} 2`")
    if named.get("side") == 0 or named.get("bead") == 0:
        raise UsageError("sides and beads are counted from 1")
    return Goal(edge, named.get("round"), named.get("side"), named.get("bead"), band)


def _no_place(line: str) -> UsageError:
    return UsageError(f"“{shown(line.strip())}” names no place", fix="such as `go to round 5 side 2 bead 3`")
