"""What the helper writes into a WAV, measured from the samples."""

from __future__ import annotations

import itertools
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from stitchalong.cues.cue import EARCONS, Cue, Earcon
from stitchalong.cues.sound.settings import SoundSettings, Volumes
from tests.cues.sound.hearing import RATE, Sound, line, loudness, notes, passed, read, split
from tests.cues.sound.rig import SOON, Rig

ALL_ON = Volumes(bead=0.3, heads_up=0.6, now=0.9, done=0.6, undone=0.5, error=0.7)

# What each earcon is meant to be: start and length of each note in milliseconds, and its key on a piano
# (69 is A4), which ISO 16 puts at 440 Hz with twelve equal steps to the octave.
MEANT: dict[Earcon, list[tuple[int, int, int]]] = {
    "bead": [(0, 35, 79)],
    "heads-up": [(0, 140, 74), (260, 140, 79)],
    "now": [(0, 70, 83), (120, 70, 83), (240, 70, 83)],
    "done": [(0, 90, 72), (130, 90, 76), (260, 90, 79), (390, 320, 84)],
    "undone": [(0, 60, 79), (85, 240, 74)],
    "error": [(0, 320, 72), (420, 320, 72)],
}


def iso16(key: int) -> float:
    return 440 * 2 ** ((key - 69) / 12)


def write(rig: Rig, wav: Path, cues: list[Cue], settings: SoundSettings | None = None) -> Sound:
    """Sound each cue to its end, half a second apart."""
    settings = replace(settings or SoundSettings(speech=("library",)), wav=wav)
    with rig.outlet(settings) as outlet:
        assert outlet.wait_until_ready(SOON)
        for cue in cues:
            outlet.deliver(cue)
            assert outlet.wait_until_quiet(SOON)
            outlet.pass_time(0.5)
    assert not rig.rung
    return read(wav)


@pytest.fixture(scope="module")
def earcons(tmp_path_factory: pytest.TempPathFactory) -> dict[Earcon, Sound]:
    """The samples of each earcon as the helper writes them."""
    root = tmp_path_factory.mktemp("earcons")
    settings = SoundSettings(volumes=ALL_ON, speak=False)
    sound = write(Rig(root), root / "all.wav", [Cue(name) for name in EARCONS], settings)
    return dict(zip(EARCONS, split(sound, pause=0.4), strict=True))


@pytest.mark.parametrize("name", EARCONS)
def test_each_earcon_has_the_rhythm_and_the_pitches_it_is_meant_to_have(
    earcons: dict[Earcon, Sound], name: Earcon
) -> None:
    heard = notes(earcons[name])
    assert len(heard) == len(MEANT[name])
    for note, (start, length, key) in zip(heard, MEANT[name], strict=True):
        assert note.start == pytest.approx(start, abs=8)
        assert note.length == pytest.approx(length, abs=12)
        # A tenth of a semitone, half of one where the note is too short for a sharp line.
        assert note.hertz == pytest.approx(iso16(key), rel=0.006 if length > 50 else 0.03)


# Sources: ISO 7029 (statistical distribution of hearing thresholds with age: loss grows above about 2 kHz);
# that small loudspeakers give little under 450 Hz is common practice, no source.
@pytest.mark.parametrize("name", EARCONS)
def test_fundamentals_lie_where_old_ears_and_small_loudspeakers_are_good(
    earcons: dict[Earcon, Sound], name: Earcon
) -> None:
    assert all(520 <= note.hertz <= 1050 for note in notes(earcons[name]))
    kept = loudness(passed(earcons[name], low=450, high=2000))
    assert kept > 0.7 * loudness(earcons[name])


@pytest.mark.parametrize("name", EARCONS)
def test_four_harmonics_sound(earcons: dict[Earcon, Sound], name: Earcon) -> None:
    note = notes(earcons[name])[-1]
    strengths = [line(note.samples, n * note.hertz) for n in (1, 2, 3, 4)]
    assert strengths == sorted(strengths, reverse=True)
    assert strengths[3] > 0.03 * strengths[0]
    assert line(note.samples, 5.5 * note.hertz) < 0.2 * strengths[3]


def rhythm(sound: Sound) -> list[tuple[float, float]]:
    return [(note.start, note.length) for note in notes(sound)]


@pytest.mark.parametrize("heard_through", [{}, {"high": 1100.0}, {"low": 450.0}], ids=["open", "muffled", "tinny"])
def test_no_two_earcons_share_a_rhythm(earcons: dict[Earcon, Sound], heard_through: dict[str, float]) -> None:
    for one, other in itertools.combinations(EARCONS, 2):
        a, b = (rhythm(passed(earcons[name], **heard_through)) for name in (one, other))
        if len(a) == len(b):
            # 60 ms is a difference in length or start that is heard at once (common practice, no source).
            apart = max(abs(x - y) for p, q in zip(a, b, strict=True) for x, y in zip(p, q, strict=True))
            assert apart > 60, (one, other)


def test_loudness_follows_the_volume_of_the_class(earcons: dict[Earcon, Sound]) -> None:
    peaks = {name: float(np.abs(sound).max()) for name, sound in earcons.items()}
    for name, peak in peaks.items():
        assert peak == pytest.approx(ALL_ON.of(name), rel=0.03)
    assert peaks["now"] > peaks["heads-up"] > peaks["bead"]


@pytest.mark.parametrize("name", EARCONS)
def test_notes_swell_and_fade_without_a_click(earcons: dict[Earcon, Sound], name: Earcon) -> None:
    for note in notes(earcons[name]):
        peak = np.abs(note.samples).max()
        assert np.abs(note.samples[: int(0.001 * RATE)]).max() < 0.4 * peak
        assert np.abs(note.samples[-int(0.001 * RATE) :]).max() < 0.4 * peak


def test_a_bead_is_silent_unless_wanted(rig: Rig, tmp_path: Path) -> None:
    sound = write(rig, tmp_path / "a.wav", [Cue("bead"), Cue("now")], SoundSettings(speak=False))
    assert len(split(sound, pause=0.4)) == 1
    assert len(notes(sound)) == 3


def test_a_newer_cue_cuts_off_an_older_one(rig: Rig, tmp_path: Path) -> None:
    settings = SoundSettings(speak=False, volumes=ALL_ON, wav=tmp_path / "cut.wav")
    with rig.outlet(settings) as outlet:
        assert outlet.wait_until_ready(SOON)
        outlet.deliver(Cue("error"))
        outlet.pass_time(0.1)
        outlet.deliver(Cue("now"))
        assert outlet.wait_until_quiet(SOON)
    sound = read(tmp_path / "cut.wav")
    cut = int(0.1 * RATE)
    error, now = iso16(72), iso16(83)
    assert line(sound[:cut], error) > 20 * line(sound[:cut], now)
    after = sound[cut + int(0.005 * RATE) :]
    assert line(after, now) > 20 * line(after, error)
    starts = [note.start for note in notes(sound[cut:], gap=20)]
    assert starts == pytest.approx([0, 120, 240], abs=8)
    # No step in the samples where one gives way to the other: none larger than the tones themselves make.
    steps = np.abs(np.diff(sound))
    assert steps[cut - 150 : cut + 150].max() < 1.3 * max(steps[: cut - 150].max(), steps[cut + 150 :].max())


def test_a_newer_cue_cuts_off_words(rig: Rig, tmp_path: Path) -> None:
    rig.with_voice()
    settings = SoundSettings(volumes=ALL_ON, speech=("library",), wav=tmp_path / "cut.wav")
    with rig.outlet(settings) as outlet:
        assert outlet.wait_until_ready(SOON)
        outlet.deliver(Cue(None, "four left on this side, round five"))
        outlet.pass_time(0.4)
        outlet.deliver(Cue("bead"))
        outlet.pass_time(2)
    sound = read(tmp_path / "cut.wav")
    assert loudness(sound[: int(0.4 * RATE)]) > 0.02
    assert loudness(sound[int(0.45 * RATE) :]) == 0


def test_mute_silences_at_once_and_holds_until_it_is_taken_back(rig: Rig, tmp_path: Path) -> None:
    settings = SoundSettings(speak=False, wav=tmp_path / "mute.wav")
    with rig.outlet(settings) as outlet:
        assert outlet.wait_until_ready(SOON)
        outlet.deliver(Cue("done"))
        outlet.pass_time(0.2)
        outlet.change(replace(settings, muted=True))
        assert outlet.describe() == "muted"
        outlet.deliver(Cue("now", "two gold together", urgent=True))
        outlet.pass_time(1.0)
        outlet.change(settings)
        outlet.deliver(Cue("now"))
        assert outlet.wait_until_quiet(SOON)
    sound = read(tmp_path / "mute.wav")
    fade = int(0.01 * RATE)
    start, end = int(0.2 * RATE), int(1.2 * RATE)
    assert loudness(sound[:start]) > 0.05
    assert loudness(sound[start + fade : end]) == 0
    assert len(notes(sound[end:])) == 3
    assert not rig.rung


def test_the_order_of_cues_is_the_order_in_the_sound(rig: Rig, tmp_path: Path) -> None:
    order: list[Earcon] = ["heads-up", "now", "heads-up", "now", "done", "undone", "error"]
    sound = write(rig, tmp_path / "order.wav", [Cue(name) for name in order], SoundSettings(speak=False))
    assert [len(notes(part)) for part in split(sound, pause=0.4)] == [len(MEANT[name]) for name in order]


def speech(rig: Rig, wav: Path, words: str, **choices: object) -> Sound:
    rig.with_voice()
    settings = replace(SoundSettings(speech=("library",)), **choices)
    (part,) = split(write(rig, wav, [Cue(None, words)], settings), pause=0.4)
    return part


def test_words_are_spoken_at_the_rate_that_is_asked_for(rig: Rig, tmp_path: Path) -> None:
    # A rate is words a minute by definition, so twice the rate is half the time (ends of phrases apart).
    words = "four left on this side, round five, two gold together on the next bead"
    slow, fast = (len(speech(rig, tmp_path / f"{rate}.wav", words, rate=rate)) for rate in (120, 240))
    assert slow / fast == pytest.approx(2, rel=0.15)
    seconds = slow / RATE
    assert len(words.split()) / seconds * 60 == pytest.approx(120, rel=0.35)


def test_words_follow_the_earcon(rig: Rig, tmp_path: Path) -> None:
    rig.with_voice()
    sound = write(rig, tmp_path / "both.wav", [Cue("heads-up", "increase in two")])
    first, second = notes(sound)[:2]
    assert (first.hertz, second.hertz) == pytest.approx((iso16(74), iso16(79)), rel=0.006)
    end = int(0.41 * RATE)
    assert loudness(sound[end : end + int(0.04 * RATE)]) < 0.002
    words = sound[end : end + RATE]
    assert loudness(words) > 0.02


def pitch(sound: Sound) -> float:
    """Of a voice, in hertz: the lag of 2 to 14 ms at which it is most like itself."""
    turned = np.fft.irfft(np.abs(np.fft.rfft(sound, 1 << 17)) ** 2)
    low, high = int(0.002 * RATE), int(0.014 * RATE)
    return RATE / (low + int(np.argmax(turned[low:high])))


def test_language_voice_and_volume_change_what_is_heard(rig: Rig, tmp_path: Path) -> None:
    plain = speech(rig, tmp_path / "1.wav", "one two three")
    german = speech(rig, tmp_path / "3.wav", "one two three", language="de")
    male = speech(rig, tmp_path / "4.wav", "one two three", voice="en-us")
    soft = speech(rig, tmp_path / "5.wav", "one two three", volumes=Volumes(voice=0.2))
    assert abs(len(german) - len(plain)) > 0.02 * RATE
    # The voice of the library's own name is a man's, the default one is higher.
    assert pitch(male) < 0.8 * pitch(plain)
    assert loudness(soft) < 0.5 * loudness(plain)


@pytest.mark.parametrize(
    "words",
    ["[[DEAD]] <voice/> gold\x1b[31m", "--help", "\ud800 gold", "x" * 100_000, "’öß 你好", "\x00\x07"],
)
def test_no_words_of_a_plan_do_harm(rig: Rig, tmp_path: Path, words: str) -> None:
    rig.with_voice()
    sound = write(rig, tmp_path / "a.wav", [Cue("now", words), Cue("now")])
    assert len(notes(split(sound, pause=0.4)[-1])) == 3


def test_the_wav_is_whole_while_it_is_being_written(rig: Rig, tmp_path: Path) -> None:
    settings = SoundSettings(speak=False, wav=tmp_path / "now.wav")
    with rig.outlet(settings) as outlet:
        assert outlet.wait_until_ready(SOON)
        outlet.deliver(Cue("now"))
        assert outlet.wait_until_quiet(SOON)
        assert len(notes(read(tmp_path / "now.wav"))) == 3


def test_a_wav_that_cannot_be_written_is_told(rig: Rig, tmp_path: Path) -> None:
    with rig.outlet(SoundSettings(wav=tmp_path / "no" / "such.wav")) as outlet:
        assert not outlet.wait_until_ready(SOON)
        assert "such.wav" in outlet.describe()
        assert "No such file" in outlet.describe()
