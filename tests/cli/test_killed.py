"""The program in a real pseudo-terminal, killed at any moment: what the screen has shown is kept, and nothing else is.

`STITCHALONG_KILLS` sets how many times it is killed (3). That a kill is no power cut is known: what is on the disk
when a press is shown is held by tests/store/test_durability.py.
"""

from __future__ import annotations

import os
import random
import re
import signal
import time
from itertools import cycle
from pathlib import Path

import pytest

from stitchalong.screens.parts import NOT_KEPT
from stitchalong.session import Session
from stitchalong.store import Store
from tests.cli.terminal import Terminal
from tests.writing import plan_text

KILLS = int(os.environ.get("STITCHALONG_KILLS", "3"))
BEADS = max(9_000, 200 * KILLS)
"""more than are laid between so many kills: a piece that is done cannot be gone on with"""
KEYS = ("\x1b[6~", " ")
"""both a bead; in turn, for one key again and again is taken for one that is held down"""


def shown(terminal: Terminal) -> int:
    """Beads laid and kept, as the screen tells it; -1 where it does not, or says that they are not kept yet."""
    if NOT_KEPT in terminal.text:
        return -1
    found = re.search(rf"([\d,]+) of {BEADS:,} beads", terminal.text)
    return int(found[1].replace(",", "")) if found else -1


def kept(home: Path) -> int:
    """Beads laid, as the store has it; every press of the record leads to the next."""
    store = Store.open(home / "data", clock=lambda: 1_700_000_000.0)
    try:
        [piece] = store.pieces()
        events = [one.event for one in store.tail(piece.id, piece.seq)]
        assert [event.position for event in events] == list(range(1, piece.position + 1))
        return Session.resume(store, piece.id).outlook.beads_done
    finally:
        store.close()


@pytest.mark.timeout(60 + 20 * KILLS)
def test_a_killed_program_has_kept_all_that_it_showed_and_nothing_that_was_not_pressed(tmp_path: Path) -> None:
    home = tmp_path / "home"
    plan = tmp_path / "ring.toml"
    plan.write_text(plan_text(f'start = "ring" ;; beads = "{BEADS}A"'))
    chance = random.Random(8)
    before = 0
    in_the_middle = 0
    for number in range(KILLS):
        arguments = ("go-on",) if number else ("start", str(plan))
        with Terminal(home, *arguments) as terminal:
            if number:
                terminal.until("only closes this")
                terminal.type(" ")  # closes what tells where one stopped, and is no bead
            terminal.until(lambda _, before=before: shown(terminal) == before)
            sent = 0
            ends = time.monotonic() + chance.uniform(0, 0.25)
            for key in cycle(KEYS):
                terminal.type(key)
                sent += 1
                terminal._read(time.monotonic() + chance.uniform(0, 0.01))
                if time.monotonic() > ends:
                    break
            terminal.send(signal.SIGKILL)
            assert terminal.ends() == -signal.SIGKILL
            seen = shown(terminal)
        after = kept(home)
        assert seen == -1 or before <= seen
        assert before <= after <= before + sent
        assert seen <= after
        in_the_middle += before < after < before + sent
        before = after
    assert in_the_middle or KILLS < 10, "some were killed with keys still to come"
