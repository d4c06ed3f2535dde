"""What was found of each means, in plain sentences."""

from __future__ import annotations

from collections.abc import Mapping

from stitchalong.cues.sound.links import Wishes
from stitchalong.cues.sound.outputs import DeviceOutput, OutputFault
from stitchalong.cues.sound.player import find_players, probe
from stitchalong.cues.sound.speakers import find_speaker
from stitchalong.cues.sound.voices import VOICES


def report(wishes: Wishes, environ: Mapping[str, str]) -> list[str]:
    """Try every link that is wished for, silently; a sentence on each."""
    lines = []
    if "device" in wishes.means:
        lines.append(_device())
    if "player" in wishes.means:
        lines += _players(wishes, environ)
    for link in wishes.speech:
        try:
            lines.append(f"Speech works: {VOICES[link](wishes.manner, environ).name}.")
            # Two of these libraries in one process would be taken for one another.
            break
        except OutputFault as fault:
            lines.append(f"Speech: {fault}.")
    if "command" in wishes.speech:
        try:
            speaker = find_speaker(wishes.manner, environ, lambda why: None)
            lines.append(f"Speech: {speaker.name} is installed and can speak by itself.")
            speaker.close()
        except OutputFault as fault:
            lines.append(f"Speech: {fault}.")
    return lines


def _device() -> str:
    try:
        return f"Sound works: miniaudio plays through {DeviceOutput().name}."
    except OutputFault as fault:
        return f"Sound: {fault}."


def _players(wishes: Wishes, environ: Mapping[str, str]) -> list[str]:
    there, missing = find_players(environ)
    lines = []
    for player in there:
        why = probe(player, wishes.folder, environ)
        if why is None:
            lines.append(f"Sound works: {player.name} plays.")
        else:
            lines.append(f"Sound: {player.name} is installed but cannot play: {why}.")
    if missing:
        lines.append(f"Sound: not installed: {', '.join(missing)}.")
    return lines
