"""What can be told about sound on this machine, in plain sentences, for a command to print."""

from __future__ import annotations

import subprocess
from collections.abc import Mapping, Sequence
from pathlib import Path

from stitchalong.cues.sound.outlet import over_ssh
from stitchalong.cues.sound.process import COMMAND, apart, open_log
from stitchalong.cues.sound.protocol import begin_order, decode, encode
from stitchalong.cues.sound.settings import SoundSettings

LIMIT = 60.0
"""seconds that trying all means may take: each that hangs takes up to 3"""


def doctor(
    settings: SoundSettings,
    *,
    environ: Mapping[str, str],
    folder: Path,
    command: Sequence[str] = COMMAND,
    limit: float = LIMIT,
) -> list[str]:
    """A sentence on each means of sound and speech, then what follows. Sounds nothing, never raises."""
    lines = []
    if settings.muted:
        lines.append("Sound is muted in the settings.")
    if remote := over_ssh(environ) and not settings.play_over_ssh:
        lines.append(
            "You are connected over SSH: sound would come out of the other machine, so only the bell is used"
            " (play-over-ssh changes that)."
        )
    found, fault = _ask_helper(settings, environ, folder, command, limit)
    lines += found
    if fault:
        lines.append(fault)
    sound = any(line.startswith("Sound works") for line in found)
    speech = any(line.startswith("Speech works") for line in found)
    if not sound and not remote:
        lines.append("For tones, install the extra [sound]: pip install 'stitchalong[sound]'.")
    if settings.speak and not speech and not remote:
        lines.append("For a voice, install the extra [voice]: pip install 'stitchalong[voice]'.")
    if "bell" not in settings.means:
        lines.append("The terminal's bell is turned off in the settings.")
    elif remote or not sound:
        lines.append("The terminal's bell is rung instead. Many terminals keep it silent: look in their settings.")
    return lines


def _ask_helper(
    settings: SoundSettings, environ: Mapping[str, str], folder: Path, command: Sequence[str], limit: float
) -> tuple[list[str], str]:
    """What the helper found, and what went wrong with it."""
    see = f"see {folder / 'sound.log'}"
    try:
        log = open_log(folder)
    except OSError as error:
        return [], f"Sound cannot be started: {folder} cannot be written ({error.strerror})."
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
        return [], f"The sound helper does not answer within {limit:g} s; {see}."
    except OSError as error:
        return [], f"The sound helper cannot be started: {error.strerror}."
    for line in done.stdout.splitlines():
        message = decode(line)
        if message.get("is") == "report":
            return [str(text) for text in message.get("lines", ())], ""
    return [], f"The sound helper fails (exit status {done.returncode}); {see}."
