"""What was found of each means, in plain sentences."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from typing import Any

from stitchalong.cues.sound.links import Wishes
from stitchalong.cues.sound.outputs import DeviceOutput, OutputFault
from stitchalong.cues.sound.player import find_players, probe
from stitchalong.cues.sound.speakers import find_speaker
from stitchalong.cues.sound.voices import LOADER, VOICES


def report(wishes: Wishes, environ: Mapping[str, str]) -> dict[str, Any]:
    """Try every link that is wished for, silently: `lines` on each, and the `sound` and `speech` that work best.

    `lacking` names the extras that would help and are not installed, `unheard` a voice that has nothing to sound it.
    """
    lines: list[str] = []
    sounds = _devices(wishes, lines) + _players(wishes, environ, lines)
    # What makes samples needs something that sounds them; what speaks by itself does not.
    voices = _voices(wishes, environ, lines)
    speakers = _speakers(wishes, environ, lines)
    speech = (voices if sounds else []) + speakers
    lacking = [
        *(["sound"] if not sounds and "device" in wishes.means and not _there("miniaudio") else ()),
        *(["voice"] if not voices and not speakers and "library" in wishes.speech and not _there(LOADER) else ()),
    ]
    return {
        "lines": lines,
        "sound": "".join(sounds[:1]),
        "speech": "".join(speech[:1]),
        "unheard": "".join(voices[:1]) if not speech else "",
        "lacking": lacking,
    }


def _there(module: str) -> bool:
    try:
        import_module(module)
    except Exception:  # whatever else a library does when it is loaded: it cannot be used
        return False
    return True


def _devices(wishes: Wishes, lines: list[str]) -> list[str]:
    if "device" not in wishes.means:
        return []
    try:
        name = DeviceOutput().name
    except OutputFault as fault:
        lines.append(f"Tones: {fault}.")
        return []
    lines.append(f"Tones: miniaudio works and plays through {name}.")
    return [name]


def _players(wishes: Wishes, environ: Mapping[str, str], lines: list[str]) -> list[str]:
    if "player" not in wishes.means:
        return []
    there, missing = find_players(environ)
    working = []
    for player in there:
        why = probe(player, wishes.folder, environ)
        if why is None:
            working.append(player.name)
            lines.append(f"Tones: {player.name} works.")
        else:
            lines.append(f"Tones: {player.name} is installed but cannot play: {why}.")
    if missing:
        lines.append(f"Tones: not installed: {', '.join(missing)}.")
    return working


def _voices(wishes: Wishes, environ: Mapping[str, str], lines: list[str]) -> list[str]:
    for link in wishes.speech:
        try:
            voice = VOICES[link](wishes.manner, environ)
        except OutputFault as fault:
            lines.append(f"Voice: {fault}.")
            continue
        lines.append(f"Voice: {voice.about} works.")
        # Not the next as well: two of these libraries in one process are taken for one another.
        return [voice.name]
    return []


def _speakers(wishes: Wishes, environ: Mapping[str, str], lines: list[str]) -> list[str]:
    if "command" not in wishes.speech:
        return []
    try:
        speaker = find_speaker(wishes.manner, environ, lambda why: None)
    except OutputFault as fault:
        lines.append(f"Voice: {fault}.")
        return []
    name = speaker.name
    speaker.close()
    lines.append(f"Voice: {name} is installed; whether it can be heard shows only when it speaks.")
    return [name]
