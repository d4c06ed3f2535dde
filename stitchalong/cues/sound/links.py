"""The chain of means inside the helper: each link is tried in turn, and what does not work is told."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from stitchalong.cues.sound.outputs import DeviceOutput, FileOutput, Output, OutputFault
from stitchalong.cues.sound.player import PlayerOutput
from stitchalong.cues.sound.speakers import Speaker, find_speaker
from stitchalong.cues.sound.voices import VOICES, Manner, Voice


@dataclass(frozen=True, slots=True)
class Wishes:
    """What the helper is begun with."""

    means: tuple[str, ...]
    speech: tuple[str, ...]
    """empty: do not speak"""
    manner: Manner
    folder: Path
    wav: Path | None = None


@dataclass(slots=True)
class Chain:
    """The links found to work, and `notes`, a sentence on each that does not."""

    output: Output | None = None
    voice: Voice | None = None
    speaker: Speaker | None = None
    hopeful: bool = False
    notes: list[str] = field(default_factory=list)

    @property
    def speech(self) -> str:
        """The name of what speaks."""
        if self.voice is not None and self.output is not None:
            return self.voice.name
        return self.speaker.name if self.speaker is not None else ""


def find_chain(wishes: Wishes, environ: Mapping[str, str], on_change: Callable[[str], None]) -> Chain:
    """Try the links in the order of the wishes. `on_change` is told later why a program was given up."""
    chain = Chain()
    _find_output(chain, wishes, environ, on_change)
    if chain.output is not None:
        _find_voice(chain, wishes.speech, wishes.manner, environ)
    # What speaks by itself cannot be written into a file.
    if chain.voice is None and "command" in wishes.speech and wishes.wav is None:
        try:
            chain.speaker = find_speaker(wishes.manner, environ, on_change)
        except OutputFault as fault:
            chain.notes.append(str(fault))
    return chain


def _find_output(chain: Chain, wishes: Wishes, environ: Mapping[str, str], on_change: Callable[[str], None]) -> None:
    if wishes.wav is not None:
        try:
            chain.output = FileOutput(wishes.wav)
        except OutputFault as fault:
            chain.notes.append(str(fault))
        return
    for link in wishes.means:
        before = len(chain.notes)
        try:
            if link == "device":
                chain.output = DeviceOutput()
            elif link == "player":
                chain.output = PlayerOutput(wishes.folder, environ, on_change, chain.notes)
            else:
                continue
            return
        except OutputFault as fault:
            chain.hopeful = chain.hopeful or fault.installed
            if not chain.notes[before:]:
                chain.notes.append(str(fault))


def _find_voice(chain: Chain, speech: Sequence[str], manner: Manner, environ: Mapping[str, str]) -> None:
    for link in speech:
        try:
            chain.voice = VOICES[link](manner, environ)
            return
        except OutputFault as fault:
            chain.notes.append(str(fault))
