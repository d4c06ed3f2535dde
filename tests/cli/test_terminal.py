"""The program in a real pseudo-terminal: keys as bytes, the screen as a terminal shows it, signals, a closed window."""

from __future__ import annotations

import re
import signal
from collections.abc import Iterator
from itertools import cycle
from pathlib import Path

import pytest

from stitchalong.screens.parts import NOT_KEPT
from tests.cli.running import ROOT, here
from tests.cli.terminal import Terminal

BEADS = 60
"""of the ring: 24 of the band, then 6, 8, 10 and 12 (two pairs in each of three rounds make each two longer)"""


def piece(home: Path) -> dict[str, object]:
    (found,) = here(home, "pieces", "--json").data["pieces"]
    return dict(found)


# Space and Page Down are both a bead (a pedal sends the latter). Typed in turn they are no key that is held down,
# which the program would count once.
PRESSES = ("\x1b[6~", " ")


class Stitcher:
    """Presses keys one by one and reads what the screen says after each."""

    def __init__(self, terminal: Terminal) -> None:
        self.terminal = terminal
        self.pressed = 0
        self._keys: Iterator[str] = cycle(PRESSES)

    def shown(self) -> int:
        """Beads laid, as the screen tells it."""
        found = re.search(rf"(\d+) of {BEADS} beads", self.terminal.text)
        return int(found[1]) if found else -1

    def press(self) -> None:
        """One press, and wait until the screen has changed by it, and says no longer that it is not kept yet."""
        before = self.terminal.text
        self.terminal.type(next(self._keys))
        self.pressed += 1
        self.terminal.until(lambda text: text != before and self.shown() >= 0 and NOT_KEPT not in text)


def test_a_whole_ring_is_stitched_killed_in_the_middle_and_finished_with_the_right_count(home: Path, plan: str) -> None:
    with Terminal(home, "start", plan) as terminal:
        terminal.until(f"0 of {BEADS} beads")
        stitcher = Stitcher(terminal)
        for _ in range(34):
            stitcher.press()
        terminal.until(lambda _: 0 < stitcher.shown() <= 34)
        shown = stitcher.shown()
        terminal.send(signal.SIGKILL)
        assert terminal.ends() == -signal.SIGKILL
    assert piece(home)["position"] == 34

    with Terminal(home, "go-on") as terminal:
        back = terminal.until("only closes this")
        assert "You stopped today at " in back
        stitcher = Stitcher(terminal)
        terminal.type(" ")  # closes what tells where one stopped, and is no bead
        terminal.until(f"{shown} of {BEADS} beads")
        assert piece(home)["position"] == 34
        for _ in range(34):
            stitcher.press()
        terminal.until(lambda _: stitcher.shown() == BEADS)
        terminal.until("the piece is done")
        terminal.type("q")
        assert terminal.ends() == 0
        assert terminal.in_order
    done = piece(home)
    # 60 beads; closing the band has three passes without a bead (common practice: the five moves of the join bring
    # two of them, the settling pass before is one), the top row is passed once more, and then come a step-up onto
    # the edge and one after each of four rounds but the last
    assert (done["position"], done["steps"], done["state"]) == (BEADS + 3 + 1 + 1 + 3, done["position"], "finished")


@pytest.mark.parametrize("sent", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT])
def test_a_signal_leaves_the_terminal_in_order_and_the_piece_whole(home: Path, plan: str, sent: signal.Signals) -> None:
    with Terminal(home, "start", plan) as terminal:
        terminal.until(f"0 of {BEADS} beads")
        assert terminal.alternate
        assert not terminal.in_order
        terminal.type("9 ")
        terminal.until(f"9 of {BEADS} beads")
        terminal.send(sent)
        assert terminal.ends() == 128 + sent
        assert terminal.in_order
        assert "Traceback" not in terminal.raw.decode(errors="replace")
    assert piece(home)["position"] == 9
    assert not (home / "log").exists()


def test_a_closed_window_ends_it_and_keeps_the_piece(home: Path, plan: str) -> None:
    with Terminal(home, "start", plan) as terminal:
        terminal.until(f"0 of {BEADS} beads")
        terminal.type("9 ")
        terminal.until(f"9 of {BEADS} beads")
        terminal.hang_up()
        assert terminal.child.wait(20) != 0
    assert piece(home)["position"] == 9
    assert not (home / "log").exists()
    assert here(home, "go-on", typed="1\n").status == 0, "nobody holds the piece any more"


def test_a_fault_of_the_program_restores_the_terminal_and_keeps_the_place(home: Path, plan: str) -> None:
    broken = """
import sys
from stitchalong.cli import main
from stitchalong.course.outlook import Lookout
at = Lookout.at
def breaks(self, position):
    if position > 5:
        raise ZeroDivisionError("nobody expects this")
    return at(self, position)
Lookout.at = breaks
sys.exit(main())
"""
    with Terminal(home, "start", plan, code=broken) as terminal:
        terminal.until(f"0 of {BEADS} beads")
        terminal.type("5 ")
        terminal.until(f"5 of {BEADS} beads")
        terminal.type("2\x1b[6~")
        assert terminal.ends() == 1
        assert terminal.in_order
        told = terminal.raw.decode(errors="replace")
    (report,) = (home / "log").glob("crash-*.txt")
    assert f"a fault of the program itself; your place is kept; a report lies in {report}" in told
    assert "Traceback" not in told
    assert "ZeroDivisionError: nobody expects this" in report.read_text()
    assert str(ROOT) not in report.read_text()
    assert piece(home)["position"] == 7, "the press was kept before it was to be shown"


def test_home_offers_to_go_on_first_and_lists_the_plans(home: Path, plan: str) -> None:
    assert here(home, "start", plan, typed="9\n").status == 0
    with Terminal(home) as terminal:
        listed = terminal.until("Gorse ring")
        assert listed.index("sorrel-ring") < listed.index("Gorse ring")
        terminal.type("\r")
        terminal.until("only closes this")
        terminal.type(" ")
        terminal.until(f"9 of {BEADS} beads")
        terminal.type("q")
        assert terminal.ends() == 0
        assert terminal.in_order
    assert piece(home)["position"] == 9


def test_home_is_left_by_a_key(home: Path) -> None:
    with Terminal(home) as terminal:
        terminal.until("Gorse ring")
        terminal.type("q")
        assert terminal.ends() == 0
        assert terminal.in_order


def test_a_second_window_is_told_at_once_watches_and_takes_over(home: Path, plan: str) -> None:
    with Terminal(home, "start", plan) as first:
        first.until(f"0 of {BEADS} beads")
        with Terminal(home, "go-on") as second:
            second.until("This piece is open in another window")
            second.type(" ")
            first.type("3 ")
            first.until(f"3 of {BEADS} beads")
            second.until(f"3 of {BEADS} beads")
            second.type("5 ")
            second.until("only watching")
            second.type("t")
            second.until("Welcome back")
            second.type("\x1b")
            second.until(f"3 of {BEADS} beads")
            second.type("4 ")
            second.until(f"7 of {BEADS} beads")
            first.type(" ")
            first.until("worked on in another window")
            first.type("q")
            assert first.ends() == 0
            assert f"kept: the band, 5 units left; 7 beads of {BEADS} laid" in first.text
            second.type("q")
            assert second.ends() == 0
            assert first.in_order
            assert second.in_order


def test_watching_is_left_by_a_key_or_a_signal_and_the_other_window_goes_on(home: Path, plan: str) -> None:
    with Terminal(home, "start", plan) as first:
        first.until(f"0 of {BEADS} beads")
        with Terminal(home, "watch", "sorrel-ring") as second:
            second.until("only watching")
            second.type("q")
            assert second.ends() == 0
            assert second.in_order
        with Terminal(home, "watch", "sorrel-ring") as third:
            third.until("only watching")
            third.send(signal.SIGTERM)
            assert third.ends() == 128 + signal.SIGTERM
            assert third.in_order
        first.type("3 ")
        first.until(f"3 of {BEADS} beads")


# ---- line by line, in a terminal --------------------------------------------------------------------


@pytest.mark.parametrize(
    ("arguments", "environ"),
    [(["--plain"], {}), ([], {"STITCHALONG_PLAIN": "1"}), ([], {"TERM": "dumb"})],
    ids=["asked for", "by environment", "no full terminal"],
)
def test_line_by_line_writes_lines_and_nothing_that_steers_the_terminal(
    home: Path, plan: str, arguments: list[str], environ: dict[str, str]
) -> None:
    with Terminal(home, "start", plan, *arguments, **environ) as terminal:
        terminal.until("the band, 6 units left: pick up 4 A")
        terminal.type("\n")
        terminal.until("then pick up 3 A")
        terminal.type("forward\n")
        terminal.until("is not understood")
        terminal.type("14\n")
        terminal.until("warning: ")
        terminal.type("quit\n")
        assert terminal.ends() == 0
        assert terminal.in_order
        signs = set(terminal.raw) - set(range(32, 256)) - {0x0A, 0x0D}
        assert signs <= {0x07}, "line ends, and the bell"
        assert terminal.raw.count(b"\x07") == terminal.raw.count(b"warning: ")
    assert piece(home)["position"] == 15


@pytest.mark.parametrize(("key", "status"), [("\x04", 0), ("\x03", 130)])
def test_line_by_line_ends_in_order_at_the_end_of_typing_and_at_an_interrupt(
    home: Path, plan: str, key: str, status: int
) -> None:
    with Terminal(home, "start", plan, "--plain") as terminal:
        terminal.until("the band, 6 units left")
        terminal.type("5\n")
        terminal.until("the band, 5 units left|then pick up 3 A")
        terminal.type(key)
        assert terminal.ends() == status
        assert terminal.in_order
        assert "Traceback" not in terminal.text
    assert piece(home)["position"] == 5


@pytest.mark.parametrize("sent", [signal.SIGTERM, signal.SIGHUP])
def test_line_by_line_a_signal_leaves_terminal_and_piece_whole(home: Path, plan: str, sent: signal.Signals) -> None:
    with Terminal(home, "start", plan, "--plain") as terminal:
        terminal.until("the band, 6 units left")
        terminal.type("5\n")
        terminal.until("then pick up 3 A")
        terminal.send(sent)
        assert terminal.ends() == -sent
        assert terminal.in_order
    assert piece(home)["position"] == 5


def test_remove_asks_in_the_terminal(home: Path, plan: str) -> None:
    assert here(home, "start", plan).status == 0
    with Terminal(home, "remove", "sorrel-ring") as terminal:
        terminal.until("Type yes to do it:")
        terminal.type("no\n")
        assert terminal.ends() == 0
        assert "sorrel-ring stays" in terminal.text
    assert piece(home)["name"] == "sorrel-ring"
