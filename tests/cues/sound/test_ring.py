"""A short ring stitched line by line, heard from its samples alone: into a WAV, without a sound device."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from stitchalong.cues.cue import Cue, Earcon
from stitchalong.cues.sound.outlet import SoundOutlet
from stitchalong.cues.sound.settings import SoundSettings, Volumes
from stitchalong.plain.front import Front
from stitchalong.plan.read import read_text
from stitchalong.session import Session
from stitchalong.store import Store
from tests.cli.running import RING
from tests.cues.sound.hearing import RATE, Sound, loudness, notes, passed, read, split
from tests.cues.sound.rig import SOON, Rig
from tests.cues.sound.test_heard import MEANT, iso16

VOLUMES = Volumes(bead=0.3, heads_up=0.6, now=0.9, done=0.6, undone=0.5, error=0.7)
PAUSE = 0.5
"""seconds between two presses"""


class Patient:
    """Lets each cue sound to its end and half a second go by, as a slow stitcher would."""

    def __init__(self, outlet: SoundOutlet) -> None:
        self._outlet = outlet
        self.told: list[Cue] = []

    def deliver(self, cue: Cue) -> None:
        self.told.append(cue)
        self._outlet.deliver(cue)
        assert self._outlet.wait_until_quiet(SOON)
        self._outlet.pass_time(PAUSE)

    def mute(self) -> bool:
        return self._outlet.mute()

    def describe(self) -> str:
        return self._outlet.describe()

    def close(self) -> None:
        self._outlet.close()


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    store = Store.open(tmp_path / "data", clock=lambda: 0.0)
    loaded = read_text(RING)
    yield Session.begin(store, plan=loaded.plan, plan_text=RING, plan_data=loaded.data, plan_name="sorrel")
    store.close()


def stitched(rig: Rig, session: Session, settings: SoundSettings, lines: list[str]) -> tuple[list[Cue], Sound]:
    """The cues that were told for these lines, and all that sounded."""
    assert settings.wav is not None
    with rig.outlet(settings) as outlet:
        assert outlet.wait_until_ready(SOON)
        patient = Patient(outlet)
        front = Front(session, lambda line: None, outlet=patient)
        front.open(0.0)
        front.run(lines, attended=True)
        front.close()
    assert not rig.rung
    return patient.told, read(settings.wav)


def recognised(part: Sound) -> Earcon:
    """Which of the short sounds this is, by rhythm and pitch. Fails where it is none."""
    heard = notes(part)
    for name, meant in MEANT.items():
        if len(heard) == len(meant) and all(
            abs(note.start - start) < 10
            and abs(note.length - length) < 15
            and abs(note.hertz / iso16(key) - 1) < (0.01 if length > 50 else 0.03)
            for note, (start, length, key) in zip(heard, meant, strict=True)
        ):
            return name
    raise AssertionError([(note.start, note.length, note.hertz) for note in heard])


def test_every_press_of_a_whole_ring_sounds_as_it_should_and_in_order(
    rig: Rig, session: Session, tmp_path: Path
) -> None:
    settings = SoundSettings(speak=False, volumes=VOLUMES, wav=tmp_path / "ring.wav")
    presses = [""] * session.course.steps
    told, sound = stitched(rig, session, settings, [*presses, "", "back"])
    heard = [recognised(part) for part in split(sound, pause=PAUSE - 0.1)]
    assert heard == [cue.earcon for cue in told if cue.earcon is not None]
    # 24 beads of the band and its five passes, then 6, 8, 10 and 12 with three step-ups (the plan's own count, above
    # it in the file it comes from); the last two are the key too many, and what was taken back.
    assert len(heard) == 24 + 3 + 2 + 6 + 8 + 10 + 12 + 3 + 2
    assert heard[-3:] == ["done", "error", "undone"]
    # Two pairs in each of three rounds; a heads-up stands before each unless another action is nearer than it.
    pairs = [cue for cue in told if cue.earcon == "now" and "together" in cue.words]
    assert len(pairs) == 6
    for before, cue in itertools.pairwise(heard):
        assert (before, cue) != ("heads-up", "heads-up"), "one is warned of once"


def test_a_ring_stitched_muted_is_silent(rig: Rig, session: Session, tmp_path: Path) -> None:
    settings = SoundSettings(speak=False, volumes=VOLUMES, wav=tmp_path / "ring.wav")
    told, sound = stitched(rig, session, settings, ["mute", *[""] * 12, "mute", "", "mute", *[""] * 4])
    assert len([cue for cue in told if cue.earcon]) == 17
    assert len(split(sound, pause=PAUSE - 0.1)) == 1, "only what was pressed while it sounded"


def test_by_ear_alone_words_follow_the_tones(rig: Rig, session: Session, tmp_path: Path) -> None:
    """The line-by-line front end with speech: what has words is heard speaking, what has none is not."""
    rig.with_voice()
    settings = SoundSettings(speech=("library",), volumes=replace(VOLUMES, bead=0.0), wav=tmp_path / "spoken.wav")
    told, sound = stitched(rig, session, settings, [*["stitch"] * 12, "where", "last", "say"])
    spoken = [cue for cue in told if cue.words]
    heard = split(sound, pause=PAUSE - 0.05)
    assert len(heard) == len([cue for cue in told if cue.words or cue.earcon not in (None, "bead")])
    # Speech has most of its energy where a telephone passes it (ITU-T G.712: 300 to 3,400 Hz), and takes longer the
    # more there is to say.
    lengths = []
    for cue, part in zip(spoken, heard, strict=True):
        assert loudness(passed(part, low=300, high=3400)) > 0.4 * loudness(part)
        lengths.append((len(cue.words), len(part) / RATE))
    lengths.sort()
    assert lengths[0][1] < lengths[-1][1]
    words, seconds = sum(len(cue.words.split()) for cue in spoken), sum(length for _, length in lengths)
    assert 90 < 60 * words / seconds < 260, "at about the rate that was asked for, 165 words a minute"
