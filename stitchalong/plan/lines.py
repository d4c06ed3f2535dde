"""Where each key of a TOML file stands: a light walk over text that is already known to be good TOML.

Used for messages alone. Where the walk meets anything it does not know it stops, and no line is told.
"""

from __future__ import annotations

import re
from contextlib import suppress

Path = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\r\n]++|#[^\n]*+)*+")
_KEY = re.compile(r"[ \t]*(?:([A-Za-z0-9_-]+)|\"((?:[^\"\\\n]++|\\.)*+)\"|'([^'\n]*+)')[ \t]*")
_STRING = re.compile(
    r'"""(?:[^"\\]++|\\.|"(?!""))*+"{3,5}'
    r"|'''(?:[^']++|'(?!''))*+'{3,5}"
    r'|"(?:[^"\\\n]++|\\.)*+"'
    r"|'[^'\n]*+'",
    re.DOTALL,
)
_BARE = re.compile(r"[^,\]}#\n]*")
_MAX_DEPTH = 16


class _Unknown(Exception):
    pass


def key_lines(text: str) -> dict[Path, int]:
    """Path (places in lists from 0) -> 1-based line of the key, the table or the list's entry."""
    walk = _Walk(text)
    with suppress(_Unknown):
        walk.document()
    return walk.lines


class _Walk:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.line = 1
        self.seen = 0
        self.lines: dict[Path, int] = {}
        self.arrays: dict[Path, int] = {}
        """tables in each [[array of tables]] so far"""

    def here(self) -> int:
        self.line += self.text.count("\n", self.seen, self.at)
        self.seen = self.at
        return self.line

    def skip(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.at)
        if match is None:
            raise _Unknown
        self.at = match.end()
        return match.group()

    def blank(self) -> str:
        """The next character after blanks and comments; empty at the end."""
        self.skip(_BLANK)
        return self.text[self.at : self.at + 1]

    def expect(self, sign: str) -> None:
        if not self.text.startswith(sign, self.at):
            raise _Unknown
        self.at += len(sign)

    def document(self) -> None:
        base: Path = ()
        while char := self.blank():
            if char == "[":
                base = self.header()
            else:
                self.pair(base, 0)

    def header(self) -> Path:
        many = self.text.startswith("[[", self.at)
        line = self.here()
        self.at += 2 if many else 1
        keys = self.keys()
        self.expect("]]" if many else "]")
        path = self.within((), keys[:-1]) + keys[-1:]
        if many:
            self.arrays[path] = index = self.arrays.get(path, -1) + 1
            self.lines.setdefault(path, line)
            path = (*path, index)
        else:
            path = self.within((), keys)
        self.lines.setdefault(path, line)
        return path

    def within(self, base: Path, keys: Path) -> Path:
        """The path of keys, going into the newest table of each array of tables."""
        for key in keys:
            base = (*base, key)
            if base in self.arrays:
                base = (*base, self.arrays[base])
        return base

    def keys(self) -> Path:
        found: list[str | int] = []
        while True:
            match = _KEY.match(self.text, self.at)
            if match is None:
                raise _Unknown
            self.at = match.end()
            if match[2] is not None and "\\" in match[2]:
                raise _Unknown
            found.append(match[match.lastindex or 1])
            if not self.text.startswith(".", self.at):
                return tuple(found)
            self.at += 1

    def pair(self, base: Path, depth: int) -> None:
        line = self.here()
        path = base + self.keys()
        self.expect("=")
        self.lines.setdefault(path, line)
        self.value(path, depth)

    def value(self, path: Path, depth: int) -> None:
        if depth > _MAX_DEPTH:
            raise _Unknown
        char = self.blank()
        if char in ('"', "'"):
            self.skip(_STRING)
        elif char == "[":
            self.array(path, depth + 1)
        elif char == "{":
            self.at += 1
            while (char := self.blank()) != "}":
                if char == ",":
                    self.at += 1
                else:
                    self.pair(path, depth + 1)
            self.at += 1
        elif not self.skip(_BARE):
            raise _Unknown

    def array(self, path: Path, depth: int) -> None:
        self.at += 1
        index = 0
        while (char := self.blank()) != "]":
            if char == ",":
                self.at += 1
                continue
            self.lines[(*path, index)] = self.here()
            self.value((*path, index), depth)
            index += 1
        self.at += 1
