"""Leaving the screen: every press on its way is settled whatever else goes wrong, and each fault is told."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from stitchalong import cli
from stitchalong.errors import StoreError
from stitchalong.screens import app as app_module
from stitchalong.screens.app import ScreensApp, run_stitching
from stitchalong.screens.keeping import Keeping
from stitchalong.session import Session
from stitchalong.store import Store
from tests.cli.running import here
from tests.screens.acting import Clock, Ear, begin
from tests.test_keeping_behind import Disk
from tests.test_keeping_behind import disk as disk


class Broken(Ear):
    """An outlet that breaks when it is closed."""

    def close(self) -> None:
        super().close()
        raise LookupError("the loudspeaker is gone")


class Work(Keeping):
    """A screen's presses, without the screen."""

    def __init__(self, session: Session, disk: Disk) -> None:
        self._session = session
        self._behind = session.keep_behind(disk.told)

    def finish(self) -> Exception | None:
        assert self._behind is not None
        self._behind.close()
        return self._session.settle()


def _leave(
    session: Session, disk: Disk, monkeypatch: pytest.MonkeyPatch, outlet: Ear, fault: Exception | None, *, crash: bool
) -> Exception | None:
    """Three presses that the disk is still busy with, then the screen goes. What leaving raises."""

    def play(app: ScreensApp, *, tap: bool) -> None:
        app.keeping = Work(session, disk)
        disk.going.clear()
        for _ in range(3):
            session.press()
        disk.fault = fault
        disk.going.set()
        if crash:
            raise ZeroDivisionError("a fault of the program")

    monkeypatch.setattr(app_module, "play", play)
    try:
        run_stitching(session, outlet=lambda ring, changed: outlet, clock=Clock())
    except Exception as error:
        return error
    return None


@pytest.mark.parametrize("crash", [False, True])
@pytest.mark.parametrize("outlet", [Ear, Broken])
@pytest.mark.parametrize("full", [False, True])
def test_presses_are_settled_whatever_else_goes_wrong_and_all_is_told(
    store: Store, disk: Disk, monkeypatch: pytest.MonkeyPatch, crash: bool, outlet: type[Ear], full: bool
) -> None:
    session, ear = begin(store), outlet()
    fault = sqlite3.OperationalError("database or disk is full") if full else None
    error = _leave(session, disk, monkeypatch, ear, fault, crash=crash)
    wanted = [ZeroDivisionError] * crash + [StoreError] * full + [LookupError] * (outlet is Broken)
    found = list(error.exceptions) if isinstance(error, ExceptionGroup) else [error] if error else []
    assert [type(one) for one in found] == wanted
    assert ear.closed
    assert store.piece(session.piece.id).position == session.position == (0 if full else 3)


def test_each_of_several_faults_is_told_in_its_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise ExceptionGroup("both", [ZeroDivisionError("x"), StoreError("3 presses were not kept")])

    monkeypatch.setattr(cli, "import_module", lambda name: type("Module", (), {"run": staticmethod(broken)}))
    ran = here(tmp_path / "home", "pieces")
    (report,) = (tmp_path / "home" / "log").glob("crash-*.txt")
    assert ran.status == 1
    assert ran.err.splitlines() == [
        f"stitchalong: a fault of the program itself; a report lies in {report}",
        "stitchalong: 3 presses were not kept",
    ]
