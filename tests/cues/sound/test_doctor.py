"""What the command that tests sound has to say."""

from __future__ import annotations

import sys

from stitchalong.cues.sound.doctor import doctor
from stitchalong.cues.sound.settings import SoundSettings
from tests.cues.sound.rig import Rig, hasty

HERE = SoundSettings(speech=("library", "command"))


def told(rig: Rig, settings: SoundSettings = HERE, **more: object) -> str:
    environ = {**rig.environ, **more.pop("environ", {})}  # type: ignore[dict-item]
    lines = doctor(settings, environ=environ, folder=rig.folder, **more)  # type: ignore[arg-type]
    for line in lines:
        assert line.endswith(".")
        assert "\n" not in line
        assert line.isprintable()
    return "\n".join(lines)


def test_a_bare_machine_is_told_what_to_install(rig: Rig) -> None:
    text = told(rig)
    assert "miniaudio is not installed" in text
    assert "not installed: pw-play, paplay, aplay, afplay" in text
    assert "'.[sound]'" in text
    assert "'.[voice]'" in text
    assert text.endswith("In use: the terminal's bell, no voice.")


def test_a_good_machine_is_told_what_is_in_use(rig: Rig) -> None:
    rig.with_device()
    rig.with_voice()
    text = told(rig)
    assert "Tones: miniaudio works and plays through FakeAudio." in text
    assert "Voice: eSpeak NG 1.52" in text
    assert text.endswith("In use: tones through FakeAudio, eSpeak NG.")
    assert "pip install" not in text
    assert "bell" not in text
    assert not rig.rung


def test_each_player_is_told_with_what_it_says_itself(rig: Rig) -> None:
    rig.with_device()
    (rig.device / "away").touch()
    rig.program("pw-play", "echo some noise >&2; echo 'host is down' >&2; exit 4")
    rig.program("paplay", "exec /bin/sleep 1000")
    rig.program("aplay", "exit 0")
    text = told(rig, command=hasty(player_PROBE_LIMIT=0.5))
    assert "miniaudio finds no sound device (failed to init device, -401)" in text
    assert "pw-play is installed but cannot play: exit status 4, host is down." in text
    assert "paplay is installed but cannot play: it does not answer within 0.5 s." in text
    assert "Tones: aplay works." in text
    assert "For tones," not in text
    assert text.endswith("In use: tones through aplay, no voice.")


def test_a_speech_server_that_does_not_answer_is_told(rig: Rig) -> None:
    rig.program("spd-say", "exec /bin/sleep 1000")
    text = told(rig, command=hasty(speakers_LIMIT=0.5))
    assert "Voice: spd-say is installed but does not answer; say is not installed." in text


def test_it_sounds_nothing(rig: Rig) -> None:
    rig.with_device()
    rig.program("say", 'echo "$*" >> "$LOG"')
    assert "say is installed" in told(rig)
    assert not any(rig.played())
    assert not rig.lines()


def test_over_ssh_it_says_why_only_the_bell_rings(rig: Rig) -> None:
    rig.with_device()
    text = told(rig, environ={"SSH_CONNECTION": "192.0.2.1 50000 192.0.2.2 22"})
    assert "over SSH" in text
    assert text.endswith("In use: the terminal's bell, no voice.")


def test_muted_and_without_a_bell_it_says_so(rig: Rig) -> None:
    text = told(rig, SoundSettings(muted=True, means=("device",), speak=False))
    assert "muted in the settings" in text
    assert "Speech is turned off" in text
    assert "In use: no tones, no voice." in text
    assert "Voice:" not in text


def test_a_voice_that_nothing_can_sound_is_not_called_in_use(rig: Rig) -> None:
    rig.with_voice()
    text = told(rig)
    assert "Voice: eSpeak NG 1.52" in text
    assert "For a voice," not in text, "it is there already"
    assert "eSpeak NG cannot be heard, for nothing was found that plays sound." in text
    assert text.endswith("In use: the terminal's bell, no voice.")


def test_a_library_that_finds_no_device_is_not_told_to_be_installed(rig: Rig) -> None:
    rig.with_device()
    (rig.device / "away").touch()
    text = told(rig)
    assert "miniaudio finds no sound device" in text
    assert "For tones," not in text


def test_the_voice_is_named(rig: Rig) -> None:
    rig.with_voice()
    assert ", voice de+f2 works." in told(rig, SoundSettings(speech=("library",), language="de"))
    assert ", voice en-us+f2 works." in told(rig, SoundSettings(speech=("library",), voice="nobody"))


def test_a_helper_that_fails_or_hangs_is_told_with_its_log(rig: Rig) -> None:
    log = str(rig.folder / "sound.log")
    fails = told(rig, command=(sys.executable, "-c", "raise SystemExit(5)"))
    assert "exit status 5" in fails
    assert log in fails
    hangs = told(rig, command=(sys.executable, "-c", "import time; time.sleep(1000)"), limit=0.5)
    assert "does not answer within 0.5 s" in hangs
    assert "cannot be started" in told(rig, command=("/no/such/program",))


def test_a_folder_that_cannot_be_written_is_told(rig: Rig) -> None:
    rig.folder.write_text("a file where the folder should be")
    assert "cannot be written" in told(rig)
