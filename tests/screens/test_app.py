"""The app around the screens: faults, signals, and what it must not import."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from stitchalong.screens.app import ScreensApp, play, stitching_app
from stitchalong.screens.stitching import StitchingScreen
from stitchalong.store import Store
from tests.screens.acting import SHORT, Clock, Stage, begin, playing


@pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are POSIX")
@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT])
async def test_signals_end_it_in_order(store: Store, number: signal.Signals) -> None:
    usual = signal.getsignal(number)
    async with playing(begin(store)) as stage:
        await stage.type(" ")
        os.kill(os.getpid(), number)
        for _ in range(50):
            await stage.pilot.pause()
            if not stage.app.is_running:
                break
        assert not stage.app.is_running
        assert stage.app.ended_by == number
    assert [piece.position for piece in store.pieces()] == [1]
    assert signal.getsignal(number) == usual


async def test_a_fault_of_the_program_ends_it_without_a_report_on_the_screen(
    store: Store, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    secret = "a value that nobody should see"

    def broken(self: StitchingScreen) -> None:
        local = secret
        raise RuntimeError(f"broken{local[:0]}")

    app, _ = stitching_app(begin(store, SHORT), clock=Clock())

    async def played() -> None:
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            monkeypatch.setattr(StitchingScreen, "show", broken)
            await Stage(app, pilot).type(" ")

    with pytest.raises(RuntimeError, match="broken"):
        await played()
    told = capsys.readouterr()
    assert secret not in told.out + told.err
    assert "Traceback" not in told.out + told.err


def test_a_fault_is_raised_again_when_the_terminal_is_in_order(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    app, _ = stitching_app(begin(store, SHORT), clock=Clock())

    def run(self: ScreensApp, **more: object) -> None:
        self._handle_exception(ValueError("deep inside"))

    monkeypatch.setattr(ScreensApp, "run", run)
    with pytest.raises(ValueError, match="deep inside"):
        play(app)


CHECK = """
import asyncio, sys
from pathlib import Path
from stitchalong.store import Store
from stitchalong.session import Session
from stitchalong.screens.app import stitching_app

store = Store.open(Path(sys.argv[1]), clock=lambda: 5.0)
app, outlet = stitching_app(Session.resume(store, 1), clock=lambda: 9.0)

async def main():
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert app.screen.children[0].lines

asyncio.run(main())
heavy = {"pydantic", "rich.markdown", "importlib.metadata", "tomllib", "miniaudio"} & set(sys.modules)
print(sorted(heavy))
"""


def test_a_piece_in_progress_is_painted_without_what_is_slow_to_import(store: Store, tmp_path: Path) -> None:
    session = begin(store, SHORT)
    session.press(2)
    store.close()
    done = subprocess.run(
        [sys.executable, "-c", CHECK, str(tmp_path / "data")], capture_output=True, text=True, timeout=60
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == "[]"
