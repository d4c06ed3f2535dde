"""The chain of speech: library, system, program, and what speaks by itself; each link made to fail."""

from __future__ import annotations

import json
import sys
from ast import literal_eval
from pathlib import Path

import espeakng_loader
import pytest

from stitchalong.cues.cue import Cue
from stitchalong.cues.sound import outlet as outlet_module
from stitchalong.cues.sound.settings import SoundSettings, Volumes
from tests.cues.sound.hearing import loudness, notes, read
from tests.cues.sound.rig import SOON, Rig, alive, eventually, hasty, script

SPOKEN = Cue(None, "two gold together")


def written(rig: Rig, wav: Path, settings: SoundSettings) -> float:
    """Loudness of a spoken cue in a WAV."""
    with rig.outlet(settings) as outlet:
        assert outlet.wait_until_ready(SOON)
        outlet.deliver(SPOKEN)
        assert outlet.wait_until_quiet(SOON)
    return loudness(read(wav))


# A stand-in for the program espeak-ng: notes how it was called, and sends a WAV of noise whose stated lengths
# mean nothing, as one that writes into a pipe does.
ESPEAK = f"""#!{sys.executable}
import os, struct, sys
with open(os.environ["LOG"], "a") as log:
    log.write(repr((sys.argv[1:], sys.stdin.read())) + "\\n")
if "nobody" in sys.argv:
    sys.exit(1)
head = b"RIFF\\xff\\xff\\xff\\x7fWAVEfmt " + struct.pack("<IHHIIHH", 16, 1, 1, 22050, 44100, 2, 16)
body = struct.pack("<4000h", *[9000, -9000] * 2000)
sys.stdout.buffer.write(head + b"data\\xff\\xff\\xff\\x7f" + body)
"""


def with_espeak_program(rig: Rig, text: str = ESPEAK) -> None:
    path = rig.programs / "espeak-ng"
    path.write_text(text)
    path.chmod(0o755)


def test_the_library_of_the_extra_speaks(rig: Rig, tmp_path: Path) -> None:
    rig.with_voice()
    with_espeak_program(rig)
    assert written(rig, tmp_path / "a.wav", SoundSettings(wav=tmp_path / "a.wav")) > 0.02
    assert not rig.lines()


@pytest.mark.parametrize(
    "loader",
    [
        "raise ImportError('not installed')",
        "def get_library_path(): return '/no/such/library'\ndef get_data_path(): return '/no'",
        "def get_library_path(): return __file__\ndef get_data_path(): return '/no'",
        "import time\ndef get_library_path(): time.sleep(1000)",
        f"def get_library_path(): return {espeakng_loader.get_library_path()!r}\n"
        "def get_data_path(): return '/no/such/data'",
    ],
    ids=["absent", "no file", "no library", "hangs", "no data"],
)
def test_a_library_that_fails_gives_way_to_the_program(rig: Rig, tmp_path: Path, loader: str) -> None:
    rig.module("espeakng_loader", loader)
    with_espeak_program(rig)
    settings = SoundSettings(speech=("library", "command"), wav=tmp_path / "a.wav")
    assert written(rig, tmp_path / "a.wav", settings) > 0.05
    arguments, text = literal_eval(rig.lines()[-1])
    assert text == "two gold together"
    assert arguments[:6] == ["-v", "en-us+f2", "-s", "165", "-a", "80"]


def test_the_library_of_the_system_speaks(rig: Rig, tmp_path: Path) -> None:
    # The very library of the extra, put where the loader of the system finds it under its published name.
    folder = tmp_path / "lib"
    folder.mkdir()
    (folder / "libespeak-ng.so.1").symlink_to(espeakng_loader.get_library_path())
    rig.environ["LD_LIBRARY_PATH"] = str(folder)
    rig.environ["ESPEAK_DATA_PATH"] = str(Path(espeakng_loader.get_data_path()).parent)
    settings = SoundSettings(speech=("library", "system"), wav=tmp_path / "a.wav")
    assert written(rig, tmp_path / "a.wav", settings) > 0.02


def test_the_program_falls_back_to_the_voice_of_the_language(rig: Rig, tmp_path: Path) -> None:
    with_espeak_program(rig)
    settings = SoundSettings(speech=("command",), voice="nobody", language="de", rate=200, wav=tmp_path / "a.wav")
    assert written(rig, tmp_path / "a.wav", settings) > 0.05
    assert literal_eval(rig.lines()[-1])[0][:4] == ["-v", "de+f2", "-s", "200"]


@pytest.mark.parametrize(
    "body",
    ["exit 1", "echo this is no sound", "exec /bin/sleep 1000", "printf RIFFxxxxWAVEfmt"],
    ids=["fails", "text", "hangs", "half a header"],
)
def test_a_program_that_does_not_speak_leaves_the_tones(rig: Rig, tmp_path: Path, body: str) -> None:
    rig.program("espeak-ng", body)
    settings = SoundSettings(speech=("command",), wav=tmp_path / "a.wav")
    with rig.outlet(settings, command=hasty(voices_LIMIT=0.5)) as outlet:
        assert outlet.wait_until_ready(SOON)
        assert outlet.describe() == f"{tmp_path / 'a.wav'}, no voice"
        outlet.deliver(Cue("now", "two gold together"))
        assert outlet.wait_until_quiet(SOON)
    assert loudness(read(tmp_path / "a.wav")) > 0.05


SPD_SAY = """
    case "$*" in
        *--list-output-modules*) ;;
        *--cancel*) echo "cancel" >> "$LOG" ;;
        *slow*) echo "$*" >> "$LOG"; exec /bin/sleep 1000 ;;
        *) echo "$*" >> "$LOG" ;;
    esac
"""


def test_spd_say_speaks_where_eSpeak_is_not(rig: Rig) -> None:  # noqa: N802
    rig.with_device()
    rig.program("spd-say", SPD_SAY)
    settings = SoundSettings(speech=("library", "command"), language="de-at", rate=170, volumes=Volumes(voice=0.5))
    with rig.outlet(settings) as outlet:
        assert outlet.wait_until_ready(SOON)
        assert outlet.describe() == "FakeAudio, spd-say"
        outlet.deliver(Cue("now", "two gold together"))
        (line,) = eventually(rig.lines)
        assert line == "--wait -N stitchalong -l de -r 0 -i 0 -- two gold together"
        # A newer cue, even one without words, cuts it off: what speaks is another process, so it is asked to.
        outlet.deliver(Cue(None, "slow words"))
        eventually(lambda: rig.lines()[-1].endswith("slow words"))
        before = len(rig.lines())
        outlet.deliver(Cue("done"))
        eventually(lambda: rig.lines()[before:] == ["cancel"])


def test_spd_say_without_a_server_is_not_used(rig: Rig) -> None:
    rig.with_device()
    rig.program("spd-say", "exit 1")
    rig.program("say", 'echo "$*" >> "$LOG"')
    with rig.outlet() as outlet:
        assert outlet.wait_until_ready(SOON)
        assert outlet.describe() == "FakeAudio, say"
        outlet.deliver(SPOKEN)
        assert eventually(rig.lines) == ["-r 165 two gold together"]


def test_what_cannot_be_cut_off_is_given_up(rig: Rig) -> None:
    rig.with_device()
    rig.program("spd-say", SPD_SAY.replace('echo "cancel" >> "$LOG"', "exec /bin/sleep 1000"))
    with rig.outlet() as outlet:
        assert outlet.wait_until_ready(SOON)
        outlet.deliver(Cue(None, "slow words"))
        eventually(rig.lines)
        outlet.deliver(SPOKEN)
        eventually(lambda: outlet.describe() == "FakeAudio, no voice")


def test_a_voice_that_a_program_does_not_have_gives_way_to_its_own(rig: Rig) -> None:
    rig.with_device()
    rig.program("say", 'case "$*" in *nobody*) exit 1 ;; *) echo "$*" >> "$LOG" ;; esac')
    with rig.outlet(SoundSettings(speech=("command",), voice="nobody")) as outlet:
        assert outlet.wait_until_ready(SOON)
        outlet.deliver(SPOKEN)
        assert eventually(rig.lines) == ["-r 165 two gold together"]


def test_when_all_that_speaks_fails_the_tones_go_on(rig: Rig) -> None:
    rig.with_device()
    rig.program("say", "exit 1")
    with rig.outlet() as outlet:
        assert outlet.wait_until_ready(SOON)
        outlet.deliver(SPOKEN)
        eventually(lambda: outlet.describe() == "FakeAudio, no voice")
        outlet.deliver(Cue("now", "two gold together", urgent=True))
        assert outlet.wait_until_quiet(SOON)
    assert not rig.rung


def test_speech_without_tones_leaves_the_tones_to_the_bell(rig: Rig, monkeypatch: pytest.MonkeyPatch) -> None:
    rig.with_device()
    (rig.device / "away").touch()
    rig.program("say", 'echo "$*" >> "$LOG"')
    with rig.outlet() as outlet:
        assert outlet.wait_until_ready(SOON)
        assert outlet.describe() == "bell, say"
        outlet.deliver(Cue("now", "two gold together", urgent=True))
        assert len(rig.rung) == 1
        assert eventually(rig.lines) == ["-r 165 two gold together"]
        # The device is tried again in a pause.
        (rig.device / "away").unlink()
        monkeypatch.setattr(outlet_module, "UPGRADE", 0.5)
        monkeypatch.setattr(outlet_module, "PAUSE", 0.5)
        eventually(lambda: outlet.describe() == "FakeAudio, say")


def powershell(rig: Rig, tmp_path: Path, body: str) -> None:
    root = tmp_path / "Windows"
    script(root / "System32" / "WindowsPowerShell" / "v1.0", "powershell.exe", body)
    rig.environ["SystemRoot"] = str(root)


def test_one_powershell_speaks_line_by_line(rig: Rig, tmp_path: Path) -> None:
    rig.with_device()
    powershell(rig, tmp_path, 'echo $$ >> "$LOG.pid"; exec /bin/cat >> "$LOG"')
    settings = SoundSettings(speech=("command",), rate=180, language="de-de", voice="nobody")
    with rig.outlet(settings) as outlet:
        assert outlet.wait_until_ready(SOON)
        assert outlet.describe() == "FakeAudio, System.Speech"
        outlet.deliver(Cue(None, "zwei \N{SNOWMAN} “gold”"))
        outlet.deliver(Cue("now", "two gold together"))
        lines = eventually(lambda: rig.lines() if len(rig.lines()) > 3 else None)
        assert all(line.isascii() for line in lines)
        orders = [json.loads(line) for line in lines]
        assert orders[0] == {"rate": 0, "volume": 80, "voice": "nobody", "language": "de-de"}
        # The older words are cut off before the tone; the newer come after it.
        assert [order["say"] for order in orders[1:]] == ["zwei \N{SNOWMAN} “gold”", None, "two gold together"]
    pid = int(Path(f"{rig.log}.pid").read_text())
    eventually(lambda: not alive(pid))


def test_a_powershell_that_ends_is_given_up(rig: Rig, tmp_path: Path) -> None:
    rig.with_device()
    powershell(rig, tmp_path, "exit 1")
    with rig.outlet() as outlet:
        assert outlet.wait_until_ready(SOON)
        for _ in range(3):
            outlet.deliver(SPOKEN)
        eventually(lambda: outlet.describe() == "FakeAudio, no voice")


def test_words_that_cannot_be_spoken_do_not_cut_off_a_tone(rig: Rig, tmp_path: Path) -> None:
    settings = SoundSettings(speech=("library",), wav=tmp_path / "a.wav")
    with rig.outlet(settings) as outlet:
        assert outlet.wait_until_ready(SOON)
        outlet.deliver(Cue("error"))
        outlet.pass_time(0.1)
        outlet.deliver(SPOKEN)
        assert outlet.wait_until_quiet(SOON)
    assert [note.length for note in notes(read(tmp_path / "a.wav"))] == pytest.approx([320, 320], abs=12)


def test_speech_can_be_turned_off(rig: Rig) -> None:
    rig.with_device()
    rig.program("say", 'echo "$*" >> "$LOG"')
    with rig.outlet(SoundSettings(speak=False)) as outlet:
        assert outlet.wait_until_ready(SOON)
        assert outlet.describe() == "FakeAudio"
        outlet.deliver(Cue("now", "two gold together"))
        assert outlet.wait_until_quiet(SOON)
    assert not rig.lines()
