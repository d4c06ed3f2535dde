"""Faults of the world and of the program itself: told in one line, and nothing that was counted is lost."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from stitchalong.commands import listings
from stitchalong.commands.crash import KEPT, write_report
from tests.cli.running import NOW, ROOT, environment, here, process
from tests.cli.terminal import heed_interrupts

needs_full = pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")


def test_a_fault_of_the_program_leaves_a_report_and_one_line(
    home: Path, plan: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert here(home, "start", plan, typed="9\n").status == 0

    def broken(*_: object) -> None:
        value = "known to nobody"
        assert value
        raise ZeroDivisionError(f"in {os.path.expanduser('~')}/diary")

    monkeypatch.setattr(listings, "piece_lines", broken)
    ran = here(home, "pieces", HOME=os.path.expanduser("~"))
    (report,) = (home / "log").glob("crash-*.txt")
    assert ran.status == 1
    assert ran.err == (f"stitchalong: a fault of the program itself; your place is kept; a report lies in {report}\n")
    told = report.read_text()
    assert "ZeroDivisionError: in ~/diary" in told
    assert "stitchalong/commands/listings.py" in told
    assert str(ROOT) not in told
    assert 'File "test_faults.py"' in told
    assert "known to nobody" not in told
    monkeypatch.undo()
    (piece,) = here(home, "pieces", "--json").data["pieces"]
    assert piece["position"] == 9


def test_a_report_that_cannot_be_written_is_not_a_second_fault(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    home.mkdir()
    (home / "log").write_text("in the way")

    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("stitchalong.plan.library.glance", broken)
    ran = here(home, "plans")
    assert (ran.status, ran.err.count("\n")) == (1, 1)
    assert "no report could be written (ZeroDivisionError)" in ran.err


def test_only_the_latest_reports_stay(tmp_path: Path) -> None:
    for number in range(KEPT + 5):
        last = write_report(tmp_path, ValueError(str(number)), command="plans", now=NOW + number // 2)
    reports = sorted(tmp_path.iterdir())
    assert len(reports) == KEPT
    assert last in reports
    assert f"ValueError: {KEPT + 4}" in last.read_text()


def test_nobody_reading_the_output_is_no_fault(home: Path) -> None:
    # a reader that is gone before the first word
    read, write = os.pipe()
    os.close(read)
    with subprocess.Popen(
        [sys.executable, "-m", "stitchalong", "course", "gorse-ring", "--json"],
        cwd=ROOT,
        env=environment(home),
        stdout=write,
        stderr=subprocess.PIPE,
    ) as running:
        os.close(write)
        assert running.stderr is not None
        assert running.stderr.read() == b""
    # 128 + the number of the signal, as shells tell it (POSIX, Shell Command Language, 2.8.2)
    assert running.returncode == 128 + signal.SIGPIPE


@needs_full
def test_a_full_disk_under_the_output_is_told(home: Path) -> None:
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "stitchalong", "plans"],
            cwd=ROOT,
            env=environment(home),
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert done.returncode == 4
    assert done.stderr.startswith("stitchalong: the output cannot be written: ")
    assert done.stderr.count("\n") == 1


@needs_full
def test_where_nothing_can_be_told_at_all_the_status_still_tells(home: Path) -> None:
    """As when the window is closed under a command that has something to say."""
    done = subprocess.run(
        f"{sys.executable} -m stitchalong plans >/dev/full 2>/dev/full",
        shell=True,
        cwd=ROOT,
        env=environment(home),
        check=False,
        timeout=60,
    )
    assert done.returncode == 4
    assert not (home / "log").exists()


def test_closed_streams_are_no_fault(home: Path) -> None:
    done = subprocess.run(
        f"{sys.executable} -m stitchalong start first-try <&- >&- 2>&-",
        shell=True,
        cwd=ROOT,
        env=environment(home),
        check=False,
        timeout=60,
    )
    assert done.returncode == 0
    assert len(here(home, "pieces", "--json").data["pieces"]) == 1


def test_output_in_few_characters_does_not_stop_the_work(home: Path) -> None:
    ran = process(home, "start", "first-try", typed="5\nforward\n", PYTHONIOENCODING="ascii")
    assert ran.status == 2
    assert "?forward? is not understood" in ran.err


def test_typed_bytes_that_are_no_text_are_not_understood(home: Path) -> None:
    ran = process(home, "start", "first-try", typed=b"5\n\xff\xfe\n")
    assert ran.status == 2
    assert ran.err.startswith("stitchalong: line 2: ")


@pytest.mark.parametrize(("sent", "status"), [(signal.SIGINT, 130), (signal.SIGTERM, -15), (signal.SIGKILL, -9)])
def test_a_process_that_is_ended_has_kept_every_bead_it_told(home: Path, plan: str, sent: int, status: int) -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "stitchalong", "start", plan],
        cwd=ROOT,
        env=environment(home),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        preexec_fn=heed_interrupts,
    ) as running:
        assert running.stdin is not None
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdin.write(b"\n" * 7)
        running.stdin.flush()
        # the band's first unit has four beads: after seven, three units of six are begun or done
        told = 0
        while told < 7 + 1:
            told += running.stdout.readline().startswith(b"the band, ")
        time.sleep(0.05)
        running.send_signal(sent)
        running.stdin.close()
        assert running.stderr.read() == b""
        assert running.wait(20) == status
    (piece,) = here(home, "pieces", "--json").data["pieces"]
    assert piece["position"] == 7


def test_a_folder_that_cannot_be_named_is_told(home: Path) -> None:
    ran = process(home, "pieces", STITCHALONG_HOME="~there-is-no-such-user/x")
    assert ran.status == 2
    assert ran.err.startswith("stitchalong: STITCHALONG_HOME names no folder: ")
