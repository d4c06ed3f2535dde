"""What goes to the terminal key by key makes the same picture as one that is painted whole."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from tests.cli.running import RING, here
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


def test_what_lies_over_the_first_screen_is_painted_over_by_none(tmp_path: Path) -> None:
    """Two pieces whose pictures are the same, so that nothing of them is painted anew when the mark moves."""
    pytest.importorskip("numpy")
    home, path = tmp_path / "home", tmp_path / "ring.toml"
    path.write_text(WIDE.replace("colour =", 'size = "11/0"\nshape = "cylinder"\ncolour ='))
    for _ in range(2):
        assert here(home, "start", str(path), typed="1\n").status == 0

    def drawn(screen: str) -> bool:
        return screen.count("▀") + screen.count("▄") > 20

    with Terminal(home, columns=120, lines=30, COLORTERM="truecolor") as terminal:
        terminal.until(drawn)
        terminal.type("\x1b[B")
        terminal.until(lambda screen: not drawn(screen))
        terminal.until(drawn)
        terminal.type("\x1b[A")
        cells(terminal)
        terminal.type("\x1b[B")
        moved = cells(terminal)
        terminal.type("h")
        terminal.until(lambda screen: not drawn(screen))
        terminal.type("\x1b")
        terminal.until(drawn)
        assert cells(terminal) == moved
        terminal.type("q")
        assert terminal.ends() == 0
