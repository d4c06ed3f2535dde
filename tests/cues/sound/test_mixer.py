"""The mixer against the plain idea of it: newest samples first to last, and silence."""

from __future__ import annotations

from array import array

from hypothesis import given
from hypothesis import strategies as st

from stitchalong.cues.sound.mixer import FADE, Mixer
from stitchalong.cues.sound.pcm import RATE, TOP, trimmed

SAMPLES = st.lists(st.integers(-TOP, TOP), max_size=600)
READS = st.lists(st.integers(1, 300), min_size=1, max_size=12)


def read_all(mixer: Mixer, reads: list[int]) -> list[int]:
    return [sample for frames in reads for sample in mixer.read(frames)]


@given(SAMPLES, SAMPLES, READS)
def test_samples_come_out_as_they_went_in_whatever_is_asked_for_at_a_time(
    first: list[int], second: list[int], reads: list[int]
) -> None:
    mixer = Mixer()
    mixer.play(array("h", first))
    mixer.append(array("h", second))
    out = read_all(mixer, reads)
    assert out == [*first, *second, *[0] * sum(reads)][: sum(reads)]


@given(SAMPLES, SAMPLES, st.integers(0, 600), READS)
def test_a_newer_sound_replaces_an_older_but_for_its_fading_end(
    older: list[int], newer: list[int], heard: int, reads: list[int]
) -> None:
    mixer = Mixer()
    mixer.play(array("h", older))
    assert list(mixer.read(heard))[: len(older)] == older[:heard]
    mixer.play(array("h", newer))
    out = read_all(mixer, reads)
    alone = [*newer, *[0] * sum(reads)][: sum(reads)]
    assert out[FADE:] == alone[FADE:]
    rest = [*older[heard:], *[0] * FADE][:FADE]
    for i, (sample, new) in enumerate(zip(out[:FADE], alone, strict=False)):
        faded = rest[i] * (FADE - i) / FADE
        assert abs(sample - max(-TOP, min(TOP, new + faded))) <= 1


@given(SAMPLES, READS)
def test_cleared_it_is_silent_after_the_fade_and_knows_it(samples: list[int], reads: list[int]) -> None:
    mixer = Mixer()
    mixer.play(array("h", samples))
    assert (mixer.quiet == 0) == bool(samples) or not samples
    mixer.clear()
    mixer.read(FADE)
    assert not any(read_all(mixer, reads))
    assert mixer.quiet >= sum(reads) / RATE


@given(SAMPLES)
def test_trimming_takes_silence_from_the_ends_only(samples: list[int]) -> None:
    padded = array("h", [0] * 50 + samples + [3] * 50)
    kept = list(trimmed(padded))
    loud = [i for i, sample in enumerate(padded) if abs(sample) > 60]
    assert kept == (list(padded[loud[0] : loud[-1] + 1]) if loud else [])
