"""What can be told about sound on this machine, in plain sentences, for a command to print."""

from __future__ import annotations

import subprocess
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from stitchalong.cues.sound.outlet import over_ssh
from stitchalong.cues.sound.process import COMMAND, apart, open_log
from stitchalong.cues.sound.protocol import begin_order, decode, encode
from stitchalong.cues.sound.settings import SoundSettings
from stitchalong.errors import how_to_add

LIMIT = 60.0
"""seconds that trying all means may take: each that hangs takes up to 3"""


def doctor(
    settings: SoundSettings,
    *,
    environ: Mapping[str, str],
    folder: Path,
    command: Sequence[str] = COMMAND,
    limit: float = LIMIT,
    unspoken: str = "in the settings",
) -> list[str]:
    """A sentence on each means of tones and voice, then what follows. Sounds nothing, never raises.

    `unspoken`: by what speech is turned off, where it is.
    """
    found, fault = _ask_helper(settings, environ, folder, command, limit)
    lines = [str(line) for line in found.get("lines", ())]
    if fault:
        lines.append(fault)
    sound, speech = str(found.get("sound", "")), str(found.get("speech", ""))
    if over_ssh(environ) and not settings.play_over_ssh:
        sound = speech = ""
        lines.append(
            "You are connected over SSH: what sounds would sound where this program runs, so only the bell is"
            " used, unless sound over SSH is turned on in the settings."
        )
    else:
        lacking = found.get("lacking", ())
        if "sound" in lacking:
            lines.append(f"For tones, {how_to_add('sound')}.")
        if "voice" in lacking:
            lines.append(f"For a voice, {how_to_add('voice')}.")
        if found.get("unheard"):
            lines.append(f"{found['unheard']} cannot be heard, for nothing was found that plays sound.")
    if not settings.speak:
        lines.append(f"Speech is turned off {unspoken}.")
    bell = "bell" in settings.means
    if not sound and bell:
        lines.append("Many terminals keep their bell silent: look in the settings of yours.")
    tones = f"tones through {sound}" if sound else "the terminal's bell" if bell else "no tones"
    lines.append(f"In use: {tones}, {speech or 'no voice'}.")
    if settings.muted:
        lines.append("But all is muted in the settings.")
    return lines


def _ask_helper(
    settings: SoundSettings, environ: Mapping[str, str], folder: Path, command: Sequence[str], limit: float
) -> tuple[Mapping[str, Any], str]:
    """What the helper found, and what went wrong with it."""
    see = f"see {folder / 'sound.log'}"
    try:
        log = open_log(folder)
    except OSError as error:
        return {}, f"Sound cannot be started: {folder} cannot be written ({error.strerror})."
    order = {**begin_order(settings, folder), "report": True}
    try:
        with open(log, "wb") as errors:
            done = subprocess.run(
                command,
                input=encode(order),
                stdout=subprocess.PIPE,
                stderr=errors,
                env=dict(environ),
                timeout=limit,
                check=False,
                **apart(),
            )
    except subprocess.TimeoutExpired:
        return {}, f"The sound helper does not answer within {limit:g} s; {see}."
    except OSError as error:
        return {}, f"The sound helper cannot be started: {error.strerror}."
    for line in done.stdout.splitlines():
        message = decode(line)
        if message.get("is") == "report":
            return message, ""
    return {}, f"The sound helper fails (exit status {done.returncode}); {see}."
