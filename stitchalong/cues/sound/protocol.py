"""What the program and its helper process write to each other: JSON objects in ASCII, one a line.

To the helper: first `begin` with the choices, then `cue`, `clear`, `quiet`, `pass` and `end`; each but `end`
is answered by `got` with its number. From the helper: `means` whenever the means in use change, `lost` with a
reason before it ends, `report` if that is what it was begun for.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from stitchalong.cues.sound.settings import SoundSettings

LONGEST = 400
"""characters of words that are spoken; more would still be spoken when it no longer matters"""

WINDOW = 3900
"""bytes that may be on their way to the helper: a pipe holds at least 4,096, so writing never waits"""


def encode(message: Mapping[str, Any]) -> bytes:
    """One line."""
    return json.dumps(message, separators=(",", ":")).encode("ascii") + b"\n"


def decode(line: bytes) -> dict[str, Any]:
    """A message; empty where the line is none."""
    try:
        message = json.loads(line)
    except ValueError:
        return {}
    return message if isinstance(message, dict) else {}


def speakable(words: str) -> str:
    """Words without what speech programs take for orders: control characters, brackets, a dash in front."""
    text = "".join(char if char.isprintable() and char not in "[]<>{}|\\" else " " for char in words)
    text = re.sub(r"\s+", " ", text).strip()
    return text.lstrip("-/@ ")[:LONGEST]


def begin_order(settings: SoundSettings, folder: Path) -> dict[str, Any]:
    """What the helper is begun with. Where it changes, another helper is needed."""
    return {
        "do": "begin",
        "means": [link for link in settings.means if link != "bell"],
        "speech": list(settings.speech) if settings.speak else [],
        "rate": settings.rate,
        "voice": settings.voice,
        "language": settings.language,
        "volume": settings.volumes.voice,
        "folder": str(folder.absolute()),
        "wav": str(settings.wav.absolute()) if settings.wav else None,
    }


@dataclass(frozen=True, slots=True)
class Means:
    """By which means the helper sounds and speaks."""

    kind: str = ""
    """`device`, `player`, `file`, or "" where it cannot sound"""
    output: str = ""
    """the name of what sounds"""
    speech: str = ""
    """the name of what speaks, "" where it cannot speak"""
    hopeful: bool = False
    """something is installed that could sound or speak later, such as for a device that is away"""
    notes: tuple[str, ...] = ()
    """what does not work, and why"""

    def message(self) -> dict[str, Any]:
        return {"is": "means", **asdict(self)}

    @classmethod
    def of(cls, message: Mapping[str, Any]) -> Means:
        return cls(
            str(message.get("kind", "")),
            str(message.get("output", "")),
            str(message.get("speech", "")),
            bool(message.get("hopeful")),
            tuple(str(note) for note in message.get("notes", ())),
        )
