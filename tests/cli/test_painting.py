"""What goes to the terminal key by key makes the same picture as one that is painted whole."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from tests.cli.running import RING
from tests.cli.terminal import Terminal

WIDE = RING.replace('title = "Sorrel ring"', 'title = "漢字 ring 🧵"').replace('name = "sorrel"', 'name = "茶"')


def cells(terminal: Terminal) -> list[list[tuple[str, str, str, bool, bool]]]:
    """Sign, colours, bold and reverse of each cell, when nothing more comes."""
    while terminal._read(time.monotonic() + 0.2):
        pass
    screen = terminal.screen
    rows = (screen.buffer[row] for row in range(screen.lines))
    return [
        [(one.data, one.fg, one.bg, one.bold, one.reverse) for one in (row[at] for at in range(screen.columns))]
        for row in rows
    ]


@pytest.mark.parametrize(
    ("plan", "environ"),
    [(RING, {"COLORTERM": "truecolor"}), (WIDE, {}), (RING, {"NO_COLOR": "1"})],
    ids=["24 bit", "256 colours, signs of two cells", "no colour"],
)
def test_key_by_key_is_the_same_picture_as_painted_whole(tmp_path: Path, plan: str, environ: dict[str, str]) -> None:
    path = tmp_path / "ring.toml"
    path.write_text(plan)
    with Terminal(tmp_path / "home", "start", str(path), columns=80, lines=24, **environ) as terminal:
        terminal.until("0 of 60 beads")
        for number, key in enumerate([" ", "\x1b[6~"] * 7, 1):
            terminal.type(key)
            terminal.until(f"{number} of 60 beads")
        terminal.type("\r")
        terminal.until("16 of 60 beads")
        terminal.type("\x7f")
        terminal.until("15 of 60 beads")
        terminal.type(" ")  # a message goes with the next key
        terminal.until("16 of 60 beads")
        patched = cells(terminal)
        terminal.type("h")
        terminal.until("[Ee]sc")
        terminal.type("\x1b")
        terminal.until("16 of 60 beads")
        assert cells(terminal) == patched
        terminal.type("q")
        assert terminal.ends() == 0
