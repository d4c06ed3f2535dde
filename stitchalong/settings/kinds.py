"""What a setting can hold, and how its value is checked, typed and shown."""

from __future__ import annotations

import math
from dataclasses import field
from typing import Any

from stitchalong.errors import UsageError
from stitchalong.plan.text import did_you_mean, listed, shown
from stitchalong.values import value

Value = bool | int | float | str | tuple[str, ...]

_YES = frozenset(("true", "yes", "on"))
_NO = frozenset(("false", "no", "off"))


@value
class Setting:
    """One setting, documented here alone."""

    key: str
    """as in the file: `counting.warn`"""
    default: Value
    help: str
    """one or two sentences"""
    choices: tuple[str, ...] = ()
    """the words it may hold; of a list, the words that may stand in it"""
    least: float | None = None
    most: float | None = None
    unit: str = ""
    at_once: bool = True
    """whether a change in the settings screen counts at once; else from the next start of the program"""

    @property
    def kind(self) -> str:
        """`on or off`, `whole number`, `number`, `word`, `words`, `text`."""
        match self.default:
            case bool():
                return "on or off"
            case int():
                return "whole number"
            case float():
                return "number"
            case tuple():
                return "words"
        return "word" if self.choices else "text"

    @property
    def wants(self) -> str:
        """What is to be given, in words."""
        if self.choices:
            return f"{'any of' if isinstance(self.default, tuple) else 'one of'} {listed(self.choices, 'and')}"
        bounds = f" from {self.least:g} to {self.most:g}" if self.least is not None and self.most is not None else ""
        unit = f" of {self.unit}" if self.unit else ""
        return "true or false" if isinstance(self.default, bool) else f"a {self.kind}{unit}{bounds}"

    def checked(self, value: object) -> Value:
        """The value, if it is one for this setting. Raises UsageError, without the key in it."""
        match self.default:
            case bool():
                if isinstance(value, bool):
                    return value
            case int():
                if isinstance(value, int) and not isinstance(value, bool) and self._within(value):
                    return value
            case float():
                if isinstance(value, int | float) and not isinstance(value, bool) and self._within(value):
                    return float(value)
            case tuple():
                return self._words(value)
            case str():
                if isinstance(value, str):
                    return self._word(value)
        raise UsageError(f"{_seen(value)} is not {self.wants}", fix=f"the usual is {self.written(self.default)}")

    def _within(self, value: float) -> bool:
        if not math.isfinite(value):
            return False
        return (self.least is None or value >= self.least) and (self.most is None or value <= self.most)

    def _word(self, value: str) -> str:
        if self.choices and value not in self.choices:
            raise UsageError(
                f"{_seen(value)} is not {self.wants}", fix=did_you_mean(value, self.choices) or f"try {self.default}"
            )
        if not value.isprintable() or len(value) > 200:
            raise UsageError(f"{_seen(value)} cannot be meant", fix="a short text without line ends")
        return value

    def _words(self, value: object) -> tuple[str, ...]:
        given = [value] if isinstance(value, str) else value
        if not isinstance(given, list | tuple) or not all(isinstance(one, str) for one in given):
            raise UsageError(f"{_seen(value)} is no list of words", fix=f"as in {self.written(self.default)}")
        return tuple(dict.fromkeys(self._word(one) for one in given))

    def typed(self, text: str) -> Value:
        """The value that somebody typed: `on`, `3`, `0,5`, `bell, device`. Raises UsageError."""
        word = text.strip()
        value: object = word
        match self.default:
            case bool():
                folded = word.casefold()
                value = True if folded in _YES else False if folded in _NO else word
            case int() if word.removeprefix("-").isdecimal() and word.isascii() and len(word) < 10:
                value = int(word)
            case float():
                try:
                    value = float(word.replace(",", ".", 1)) if len(word) < 20 else word
                except ValueError:
                    value = word
            case tuple():
                value = [part.strip() for part in word.split(",") if part.strip()]
        return self.checked(value)

    def written(self, value: Value) -> str:
        """As it stands in the file."""
        match value:
            case bool():
                return "true" if value else "false"
            case tuple():
                return "[" + ", ".join(f'"{word}"' for word in value) + "]"
            case str():
                return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
        return f"{value:g}" if isinstance(value, float) and not value.is_integer() else str(value)


def setting(default: Value, help: str, **limits: Any) -> Any:
    """A field of a group of settings, with its documentation."""
    return field(default=default, metadata={"help": help, **limits})


def _seen(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return f"“{shown(str(value))}”"
