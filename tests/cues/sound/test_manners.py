"""What the outlet owes the program: no waiting, no raising, no stray line, nothing left behind, nothing heavy."""

from __future__ import annotations

import os
import signal
import sys
import time
from dataclasses import replace
from pathlib import Path

import pytest

from stitchalong.cues.cue import Cue, Outlet
from stitchalong.cues.sound.protocol import LONGEST, WINDOW, begin_order, decode, encode, speakable
from stitchalong.cues.sound.settings import SoundSettings, Volumes
from stitchalong.errors import UsageError
from tests.cues.sound.rig import SOON, WARNING, Rig, alive, eventually, helper_pid, run_python

SILENT_VOICE = SoundSettings(speak=False)


def test_a_helper_that_reads_nothing_never_makes_a_cue_wait(rig: Rig) -> None:
    rig.with_device()
    rig.with_voice()
    with rig.outlet(SoundSettings(speech=("library",))) as outlet:
        assert outlet.wait_until_ready(SOON)
        os.kill(helper_pid(outlet), signal.SIGSTOP)
        words = "\N{SNOWMAN}" * LONGEST  # the longest lines there are
        begun = time.monotonic()
        for _ in range(200):
            outlet.deliver(Cue("now", words, urgent=True))
        assert time.monotonic() - begun < 0.8  # more than a pipe holds, in less than the helper is given
        assert len(rig.rung) >= 190


def test_the_longest_line_fits_the_window() -> None:
    words = speakable("\N{SNOWMAN}" * 10_000)
    assert len(words) == LONGEST
    line = encode({"do": "cue", "n": 10**9, "earcon": "heads-up", "volume": 0.123456789, "words": words})
    # POSIX: a pipe takes at least _POSIX_PIPE_BUF = 512 bytes at once, Linux and macOS one page of 4,096.
    assert len(line) < WINDOW < 4096
    assert decode(line)["words"] == words


def test_neither_a_bell_nor_a_display_that_fails_is_felt(rig: Rig) -> None:
    def fail() -> None:
        raise RuntimeError("broken")

    rig.with_device()
    with rig.outlet(SoundSettings(means=("bell",), speak=False), bell=fail, on_change=fail) as outlet:
        outlet.deliver(WARNING)
        outlet.change(SILENT_VOICE)
        assert outlet.wait_until_ready(SOON)


def test_after_closing_nothing_sounds_and_nothing_raises(rig: Rig) -> None:
    rig.with_device()
    with rig.outlet(SILENT_VOICE) as outlet:
        assert outlet.wait_until_ready(SOON)
        pid = helper_pid(outlet)
        begun = time.monotonic()
        outlet.close()
        assert time.monotonic() - begun < 2
        assert not alive(pid)
        outlet.deliver(WARNING)
        outlet.hush()
        outlet.pass_time(1)
        assert outlet.wait_until_quiet(0.1)
        assert not outlet.wait_until_ready(0.1)
    assert not rig.rung


def test_closing_ends_a_helper_that_does_not_listen(rig: Rig) -> None:
    rig.with_device()
    with rig.outlet(SILENT_VOICE) as outlet:
        assert outlet.wait_until_ready(SOON)
        pid = helper_pid(outlet)
        os.kill(pid, signal.SIGSTOP)
    eventually(lambda: not alive(pid))


def test_hushing_cuts_off_what_sounds(rig: Rig, tmp_path: Path) -> None:
    settings = replace(SILENT_VOICE, wav=tmp_path / "a.wav")
    with rig.outlet(settings) as outlet:
        assert outlet.wait_until_ready(SOON)
        outlet.deliver(Cue("error"))
        outlet.pass_time(0.1)
        outlet.hush()
        assert outlet.wait_until_quiet(SOON)
        assert (tmp_path / "a.wav").stat().st_size < 2 * 22_050 * 0.2


PROGRAM = """
    import os, sys, time
    from pathlib import Path
    from stitchalong.cues.cue import Cue
    from stitchalong.cues.sound.outlet import SoundOutlet
    from stitchalong.cues.sound.settings import SoundSettings
    outlet = SoundOutlet(
        SoundSettings(speak=False), bell=lambda: None, folder=Path(FOLDER), environ=os.environ
    )
    assert outlet.wait_until_ready(20)
    outlet.deliver(Cue("now", urgent=True))
    Path(PID).write_text(str(outlet._helper._popen.pid))
    END
"""


@pytest.mark.parametrize("end", ["outlet.close()", "pass", "os._exit(0)", "os.kill(os.getpid(), 9)"])
def test_no_stray_line_and_no_process_is_left_however_the_program_ends(rig: Rig, tmp_path: Path, end: str) -> None:
    rig.with_device()  # which writes on stdout and on stderr
    code = PROGRAM.replace("FOLDER", repr(str(rig.folder))).replace("PID", repr(str(tmp_path / "pid")))
    done = run_python(code.replace("END", end), rig.environ)
    assert done.stdout == b""
    assert done.stderr == b""
    assert done.returncode == (-9 if "kill" in end else 0)
    pid = int((tmp_path / "pid").read_text())
    eventually(lambda: not alive(pid))
    log = (rig.folder / "sound.log").read_text()
    assert "noise of a library on stdout" in log
    assert "noise of a library on stderr" in log


def test_the_helper_has_no_terminal_to_write_on(rig: Rig) -> None:
    rig.with_device()
    with rig.outlet(SILENT_VOICE) as outlet:
        assert outlet.wait_until_ready(SOON)
        pid = helper_pid(outlet)
        assert os.getsid(pid) == pid != os.getsid(0)


def test_the_log_does_not_grow_for_ever(rig: Rig) -> None:
    rig.folder.mkdir()
    (rig.folder / "sound.log").write_bytes(b"x" * 200_000)
    rig.with_device()
    with rig.outlet(SILENT_VOICE) as outlet:
        assert outlet.wait_until_ready(SOON)
    assert (rig.folder / "sound.log").stat().st_size < 10_000


def test_the_side_of_the_program_imports_nothing_heavy(rig: Rig) -> None:
    code = """
        import sys
        import stitchalong.cues.sound.outlet
        import stitchalong.cues.sound.doctor
        heavy = "miniaudio espeakng_loader ctypes wave numpy textual rich pydantic sqlite3 asyncio".split()
        print([name for name in heavy if name in sys.modules])
    """
    assert run_python(code, {"PATH": ""}).stdout.strip() == b"[]"


def test_the_helper_imports_no_part_of_the_program_but_cues_errors_and_values(rig: Rig) -> None:
    code = """
        import sys
        import stitchalong.cues.sound.helper
        print(sorted({name.split(".")[1] for name in sys.modules if name.startswith("stitchalong.")}))
    """
    assert run_python(code, {"PATH": ""}).stdout.strip() == b"['cues', 'errors', 'values']"


def test_a_module_in_the_working_folder_is_not_imported(
    rig: Rig, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "here").mkdir()
    (tmp_path / "here" / "json.py").write_text("raise SystemExit('imported from the working folder')")
    monkeypatch.chdir(tmp_path / "here")
    rig.with_device()
    with rig.outlet(SILENT_VOICE) as outlet:
        assert outlet.wait_until_ready(SOON)


def test_it_is_an_outlet(rig: Rig) -> None:
    with rig.outlet(SILENT_VOICE) as outlet:
        port: Outlet = outlet
        assert port.describe()


@pytest.mark.parametrize(
    ("words", "spoken"),
    [
        ("two gold together", "two gold together"),
        ("  two\n\tgold\x1b[2J ", "two gold 2J"),
        ("--stdin", "stdin"),
        ("[[fU]] <break/> gold", "fU break/ gold"),
        ("\u202egold\ud800", "gold"),
        ("", ""),
    ],
)
def test_words_are_cleared_of_what_programs_take_for_orders(words: str, spoken: str) -> None:
    assert speakable(words) == spoken


@pytest.mark.parametrize(
    ("choices", "word"),
    [
        ({"volumes": Volumes(heads_up=1.5)}, "heads-up"),
        ({"rate": 10}, "80 to 450"),
        ({"voice": "--help"}, "--help"),
        ({"language": ""}, "en-us"),
        ({"means": ("gramophone",)}, "gramophone"),
        ({"speech": ("parrot",)}, "parrot"),
    ],
)
def test_settings_that_cannot_be_meant_are_refused_in_one_line(choices: dict[str, object], word: str) -> None:
    with pytest.raises(UsageError) as caught:
        SoundSettings(**choices)  # type: ignore[arg-type]
    (problem,) = caught.value.problems
    assert word in str(problem)
    assert "\n" not in str(problem)


def test_the_same_settings_need_no_other_helper(tmp_path: Path) -> None:
    settings = SoundSettings()
    louder = replace(settings, volumes=Volumes(now=0.2, bead=1), muted=True)
    assert begin_order(settings, tmp_path) == begin_order(louder, tmp_path)
    assert begin_order(settings, tmp_path) != begin_order(replace(settings, language="de"), tmp_path)


def test_python_is_what_runs_the_helper() -> None:
    from stitchalong.cues.sound.process import COMMAND

    assert COMMAND[0] == sys.executable
