"""The command that tells of sound, and stitching that is heard: on a made-up machine, never on the real one."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from stitchalong.cues.cue import EARCONS
from tests.cli.running import here, process
from tests.cli.terminal import Terminal
from tests.cues.sound.hearing import notes, split
from tests.cues.sound.rig import Rig, eventually

AUTO = {"STITCHALONG_SOUND": "auto"}


@pytest.fixture
def rig(tmp_path: Path) -> Rig:
    return Rig(tmp_path)


def on(rig: Rig, **more: str) -> dict[str, str]:
    """The environment of that machine; who sits at it is not far away."""
    return {**rig.environ, **AUTO, "SSH_CONNECTION": "", "SSH_TTY": "", "SSH_CLIENT": "", **more}


def test_it_tells_what_was_found_and_what_to_do(tmp_path: Path, rig: Rig) -> None:
    ran = process(tmp_path / "home", "sound", **on(rig))
    assert (ran.status, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert "Tones: miniaudio is not installed." in lines
    assert "For tones, in the program's folder: .venv/bin/pip install '.[sound]'." in lines
    assert lines[-1].startswith("In use: the terminal's bell, ")
    rig.with_device()
    ran = process(tmp_path / "home", "sound", "--no-voice", **on(rig))
    assert "Tones: miniaudio works and plays through FakeAudio." in ran.out
    assert "In use: tones through FakeAudio, no voice." in ran.out
    assert not rig.played().strip(b"\0"), "telling is silent"


@pytest.mark.parametrize(
    ("words", "variable", "says"),
    [
        ((), "none", "Speech is turned off by STITCHALONG_SOUND=none."),
        (("--sound", "bell"), "auto", "Speech is turned off by --sound bell."),
        (("--no-voice",), "none", "Speech is turned off by --no-voice."),
    ],
)
def test_it_says_what_turns_speech_off(
    tmp_path: Path, rig: Rig, words: tuple[str, ...], variable: str, says: str
) -> None:
    ran = process(tmp_path / "home", "sound", *words, **on(rig, STITCHALONG_SOUND=variable))
    assert says in ran.out.splitlines()
    assert "For tones," not in ran.out, "who wants none is not told how to have them"


def test_over_ssh_it_says_so(tmp_path: Path, rig: Rig) -> None:
    rig.with_device()
    ran = process(tmp_path / "home", "sound", **on(rig, SSH_CONNECTION="10.0.0.1 5 10.0.0.2 22"))
    assert "You are connected over SSH" in ran.out
    assert "In use: the terminal's bell, no voice." in ran.out


def heard(rig: Rig) -> list[int]:
    """How many notes each tone had that the device was given."""
    sound = np.frombuffer(rig.played(), dtype="<i2").astype(np.float64) / 32_768
    return [len(notes(part)) for part in split(sound, pause=0.15)] if np.any(sound) else []


def test_each_short_sound_is_heard_with_its_name(tmp_path: Path, rig: Rig) -> None:
    rig.with_device()
    home = tmp_path / "home"
    home.mkdir()
    (home / "settings.toml").write_text("[sound]\nvolume_bead = 0.3\n")
    ran = process(home, "sound", "--hear", "--no-voice", **on(rig))
    assert (ran.status, ran.err) == (0, "")
    first, *lines = ran.out.splitlines()
    assert first == "heard through: FakeAudio"
    assert [line.partition(":")[0] for line in lines] == list(EARCONS)
    assert lines[0] == "bead: a bead is counted (volume 30%)"
    # Rhythms as they are meant: one tick, two steps, three knocks, four notes, two, two.
    samples = heard(rig)
    assert sum(samples) == 1 + 2 + 3 + 4 + 2 + 2


def test_words_are_said(tmp_path: Path, rig: Rig) -> None:
    rig.program("say", 'echo "$*" >> "$LOG"')
    ran = process(tmp_path / "home", "sound", "--say", "two gold together", "--voice", **on(rig))
    assert (ran.status, ran.err) == (0, "")
    assert "two gold together" in ran.out
    eventually(lambda: any("two gold together" in line for line in rig.lines()))


def test_without_anything_it_says_so_and_ends(tmp_path: Path, rig: Rig) -> None:
    ran = process(tmp_path / "home", "sound", "--hear", "--no-voice", **on(rig))
    assert ran.status == 0
    assert ran.out.startswith("heard through: bell only (nothing is installed that makes sound)\n")
    assert "\a" not in ran.out, "nobody would hear a bell in a pipe"


def test_a_pipe_is_silent_unless_sound_is_asked_for(tmp_path: Path, rig: Rig, plan: str) -> None:
    rig.with_device()
    home = tmp_path / "home"
    silent = process(home, "start", plan, typed="24\n", **on(rig, STITCHALONG_SOUND=""))
    assert silent.status == 0
    assert rig.played() == b""
    asked = process(home, "go-on", "--sound", "device", typed="back\n", **on(rig, STITCHALONG_SOUND=""))
    assert (asked.status, asked.err) == (0, "")


def rung(terminal: Terminal) -> int:
    """How often the bell rang. A control string of the operating-system kind ends with the same sign (ECMA-48)."""
    return re.sub(rb"\x1b\][^\x07\x1b]*(\x07|\x1b\\\\)", b"", terminal.raw).count(b"\x07")


def test_stitching_on_the_full_screen_is_heard_and_the_header_says_through_what(
    home: Path, rig: Rig, plan: str
) -> None:
    rig.with_device()
    with Terminal(home, "start", plan, "--no-voice", columns=100, **on(rig)) as terminal:
        terminal.until("FakeAudio . warns 2 ahead")
        terminal.type("10 ")
        terminal.until(r"Marker \(B\) in 2 beads")
        eventually(lambda: heard(rig) == [2])  # the two slow steps of something that is coming
        terminal.type("z")
        terminal.until("muted . warns 2 ahead")
        terminal.type("q")
        assert terminal.ends() == 0
        assert terminal.in_order
        assert b"noise of a library" not in terminal.raw
    assert rung(terminal) == 0, "what sounds needs no bell"


def test_a_quiet_start_is_silent_until_the_key(home: Path, rig: Rig, plan: str) -> None:
    rig.with_device()
    with Terminal(home, "start", plan, "--no-voice", "--quiet", columns=100, **on(rig)) as terminal:
        terminal.until("muted . warns 2 ahead")
        terminal.type("24 ")
        terminal.until("step-up")
        assert rig.played() == b""
        terminal.type("z")
        terminal.until("FakeAudio . warns 2 ahead")
        terminal.type("q")
        assert terminal.ends() == 0


def test_over_ssh_the_bell_rings_and_the_header_says_why(home: Path, rig: Rig, plan: str) -> None:
    rig.with_device()
    far = on(rig, SSH_CONNECTION="10.0.0.1 5 10.0.0.2 22")
    with Terminal(home, "start", plan, columns=100, **far) as terminal:
        terminal.until("bell only .over SSH. . warns 2 ahead")
        terminal.type("20 ")
        terminal.until(lambda text: rung(terminal) == 1)
        terminal.type("q")
        assert terminal.ends() == 0
    assert rig.played() == b""


def test_line_by_line_speaks_where_that_is_asked_for(home: Path, rig: Rig, plan: str) -> None:
    rig.program("say", 'echo "$*" >> "$LOG"')
    with Terminal(home, "start", plan, "--plain", "--voice", **on(rig)) as terminal:
        terminal.until("the band, 6 units left")
        eventually(lambda: any("six units left" in line for line in rig.lines()))
        terminal.type("where\n")
        eventually(lambda: any("nothing is strung yet" in line for line in rig.lines()))
        terminal.type("quit\n")
        assert terminal.ends() == 0
        assert set(terminal.raw) - set(range(32, 256)) <= {0x0A, 0x0D, 0x07}


def test_what_was_set_holds_unless_something_else_is_asked_for(home: Path, plan: str) -> None:
    home.mkdir()
    (home / "settings.toml").write_text(
        '[sound]\ntalkative = "every stitch"\nmuted = true\n[counting]\nwarn = 5\nremarks = false\n'
    )
    with Terminal(home, "start", plan, columns=100) as terminal:
        terminal.until("muted . warns 5 ahead")
        terminal.type("y")
        terminal.until("only questions and faults are said")
        assert "remark" not in terminal.text
        terminal.type("q")
        assert terminal.ends() == 0
    with Terminal(home, "go-on", "--talk", "quiet", "--warn", "3", columns=100) as terminal:
        terminal.until("muted . warns 3 ahead")
        terminal.type("y")
        terminal.until("what changes is said")
        terminal.type("q")
        assert terminal.ends() == 0


def test_what_cannot_be_meant_by_the_environment_is_told(tmp_path: Path) -> None:
    ran = here(tmp_path / "home", "sound", STITCHALONG_SOUND="trumpet")
    assert ran.status == 2
    assert ran.err == (
        "stitchalong: STITCHALONG_SOUND names no means of sound (one of auto, device, player, bell, none)\n"
    )
