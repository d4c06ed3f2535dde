"""New inputs made of kept ones: cut, doubled, spliced, numbers grown, words put in. The same seed, the same inputs."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Iterator, Sequence

LONGEST = 20_000
"""characters of an input"""

_NUMBER = re.compile(r"\d+")
_NUMBERS = ("0", "1", "2", "3", "5", "7", "8", "16", "100", "999", "20000", "20001", "100000", "1000000", "1000001",
            "-1", "4294967296", "99999999999999999999")  # fmt: skip
_SIGNS = "AABBMSx*()[]{};,.:- \t\n\"'=0123456789#\\\x00\x1b\u200b\u202eé“"
_VALUES = (None, True, 0, -1, 1, 2**31, 2**63, 10**400, 1.5, float("inf"), "", "x", "\x1b[2J", "\u202e", "\ud800", [],
           {}, [[]], ["A"], {"A": 1})  # fmt: skip


def inputs(corpus: Sequence[str], words: Sequence[str], seed: int) -> Iterator[str]:
    """Inputs without end."""
    chance = random.Random(seed)
    while True:
        text = chance.choice(corpus)
        for _ in range(chance.choice((1, 1, 1, 2, 2, 3, 5, 9))):
            text = changed(text, corpus, words, chance)
        yield text[:LONGEST]


def changed(text: str, corpus: Sequence[str], words: Sequence[str], chance: random.Random) -> str:
    """The text with one thing changed."""
    at = chance.randrange(len(text) + 1)
    some = chance.choice((1, 1, 2, 4, 8, 40))
    match chance.randrange(11):
        case 0:
            return text[:at] + text[at + some :]
        case 1:
            return text[:at] + text[at : at + some] * chance.choice((2, 3, 20)) + text[at + some :]
        case 2 | 3:
            return text[:at] + chance.choice(words) + text[at:]
        case 4:
            return text[:at] + chance.choice(words) + text[at + some :]
        case 5:
            return text[:at] + chance.choice(_SIGNS) + text[at + 1 :]
        case 6:
            return _other_number(text, chance)
        case 7:
            other = chance.choice(corpus)
            return text[:at] + other[chance.randrange(len(other) + 1) :]
        case 8:
            return _other_lines(text, chance)
        case 9:
            return _other_value(text, chance)
        case _:
            other = chance.choice(corpus)
            begin = chance.randrange(len(other) + 1)
            return text[:at] + other[begin : begin + some] + text[at + some :]


def _other_number(text: str, chance: random.Random) -> str:
    found = list(_NUMBER.finditer(text))
    if not found:
        return text
    match = chance.choice(found)
    number = chance.choice(_NUMBERS)
    if chance.random() < 0.5:
        number = str(max(0, int(match.group()[:9]) + chance.choice((-2, -1, 1, 2))))
    return text[: match.start()] + number + text[match.end() :]


def _other_lines(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    here, there = chance.randrange(len(lines)), chance.randrange(len(lines))
    match chance.randrange(3):
        case 0:
            lines[here], lines[there] = lines[there], lines[here]
        case 1:
            lines.insert(there, lines[here])
        case _:
            del lines[here]
    return "\n".join(lines)


def _other_value(text: str, chance: random.Random) -> str:
    """Where a line is JSON: one value in it, however deep, exchanged for another; also in JSON kept as text."""
    lines = text.split("\n")
    at = chance.randrange(len(lines))
    try:
        value = json.loads(lines[at])
    except (ValueError, RecursionError):
        return text
    lines[at] = json.dumps(_with_other(value, chance))
    return "\n".join(lines)


def _with_other(value: object, chance: random.Random) -> object:
    if isinstance(value, str) and value[:1] in ("{", "[") and chance.random() < 0.8:
        try:
            return json.dumps(_with_other(json.loads(value), chance))
        except (ValueError, RecursionError):
            return value
    if isinstance(value, dict) and value and chance.random() < 0.95:
        key = chance.choice(list(value))
        if chance.random() < 0.1:
            return {other: held for other, held in value.items() if other != key}
        return {**value, key: _with_other(value[key], chance)}
    if isinstance(value, list) and value and chance.random() < 0.95:
        index = chance.randrange(len(value))
        return [*value[:index], _with_other(value[index], chance), *value[index + 1 :]]
    if isinstance(value, int | float) and chance.random() < 0.5:
        return value + chance.choice((-1, 1))
    return chance.choice(_VALUES)
