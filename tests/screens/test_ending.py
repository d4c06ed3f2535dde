"""Signals that come while the screens are being put up or taken down leave the terminal in order all the same."""

from __future__ import annotations

import asyncio
import os
import signal
import sys

import pytest

from stitchalong.screens.app import stitching_app
from stitchalong.screens.ending import heed, remembered, unheed
from stitchalong.store import Store
from tests.screens.acting import SHORT, Clock, begin

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are POSIX")

SENT = [signal.SIGTERM, signal.SIGHUP, signal.SIGINT]


@pytest.mark.parametrize("number", SENT)
def test_where_no_loop_heeds_it_a_signal_is_remembered(number: signal.Signals) -> None:
    noted: list[int] = []
    usual = signal.getsignal(number)
    with remembered(noted.append):
        os.kill(os.getpid(), number)
        assert noted == [number]
    assert signal.getsignal(number) == usual


@pytest.mark.parametrize("number", SENT)
async def test_after_the_loop_it_is_remembered_again(number: signal.Signals) -> None:
    heeded: list[int] = []
    noted: list[int] = []
    loop = asyncio.get_running_loop()
    with remembered(noted.append):
        before = heed(loop, heeded.append)
        os.kill(os.getpid(), number)
        await asyncio.sleep(0.01)
        unheed(loop, before)
        os.kill(os.getpid(), number)
    assert (heeded, noted) == ([number], [number])


async def test_one_that_came_before_the_first_screen_stood_ends_it_then(store: Store) -> None:
    app, _ = stitching_app(begin(store, SHORT), clock=Clock())
    app._end(signal.SIGTERM)
    async with app.run_test(size=(80, 24)) as pilot:
        for _ in range(50):
            await pilot.pause()
            if not app.is_running:
                break
        assert not app.is_running
    assert app.ended_by == signal.SIGTERM
