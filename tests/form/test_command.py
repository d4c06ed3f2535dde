"""The command that shows a form."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from xml.etree import ElementTree

import pyte
import pytest

from stitchalong.errors import Exit
from tests.cli.running import here


def test_a_plan_in_the_terminal_in_characters(tmp_path: Path) -> None:
    ran = here(tmp_path, "form", "kite-pendant")
    assert ran.status == Exit.OK
    assert ran.err == ""
    lines = ran.out.splitlines()
    assert len(lines) == 22
    assert all(len(line) < 80 for line in lines)
    assert {"@", "."} <= set(ran.out)
    letters = here(tmp_path, "form", "kite-pendant", "--letters", "--tilt", "89", "--turn", "-20")
    assert {"K", "L", "G"} <= set(letters.out) <= {"K", "L", "G", " ", "\n"}


def test_a_plan_in_a_terminal_of_many_colours(tmp_path: Path) -> None:
    ran = here(tmp_path, "form", "kite-pendant", terminal=True, COLORTERM="truecolor")
    screen = pyte.Screen(80, 24)
    pyte.Stream(screen).feed(ran.out.replace("\n", "\r\n"))
    looks = {cell.fg for row in screen.buffer.values() for cell in row.values()}
    assert len(looks) > 30
    assert "▀" in ran.out
    # nobody who asks for no colour gets any
    assert "\x1b" not in here(tmp_path, "form", "kite-pendant", terminal=True, COLORTERM="truecolor", NO_COLOR="1").out
    assert "\x1b" not in here(tmp_path, "form", "kite-pendant", terminal=True).out


def test_files(tmp_path: Path) -> None:
    names = {kind: str(tmp_path / f"kite.{kind}") for kind in ("png", "svg", "ply")}
    words = [word for kind, name in names.items() for word in (f"--{kind}", name)]
    ran = here(tmp_path, "form", "kite-pendant", "--pixels", "60", *words)
    assert ran.status == Exit.OK
    assert ran.out.splitlines() == [f"Kite pendant is drawn in {name}" for name in names.values()]
    head = Path(names["png"]).read_bytes()[:24]
    # W3C PNG: the width and height are the eight bytes behind the name IHDR
    assert head[12:] == b"IHDR" + (60).to_bytes(4, "big") * 2
    assert ElementTree.parse(names["svg"]).getroot().attrib["width"] == "60"
    assert Path(names["ply"]).read_bytes().startswith(b"ply\n")
    again = here(tmp_path, "form", "kite-pendant", "--pixels", "60", "--png", names["png"])
    assert again.status == Exit.STORE
    assert again.err.count("\n") == 1
    assert "there is a file already" in again.err
    assert here(tmp_path, "form", "kite-pendant", "--pixels", "60", "--png", names["png"], "--replace").status == 0


def test_a_file_that_cannot_be_written(tmp_path: Path) -> None:
    ran = here(tmp_path, "form", "first-try", "--svg", str(tmp_path / "no folder" / "a.svg"))
    assert ran.status == Exit.STORE
    assert "it cannot be written" in ran.err
    assert not list(tmp_path.glob("**/*.svg"))


def test_a_round_of_it(tmp_path: Path) -> None:
    name = tmp_path / "a.svg"
    here(tmp_path, "form", "kite-pendant", "--round", "3", "--svg", str(name))
    svg = "{http://www.w3.org/2000/svg}"
    # three beads more in each round: 3 + 6 + 9 (OEIS A045943)
    assert len(ElementTree.parse(name).getroot().findall(f"{svg}g/{svg}g")) == 18
    far = here(tmp_path, "form", "kite-pendant", "--round", "99")
    assert far.status == Exit.USAGE
    assert "there is no round 99: the work has 10 rounds" in far.err


def test_a_piece_as_far_as_it_is_stitched(tmp_path: Path) -> None:
    here(tmp_path, "start", "first-try", "--plain", "--name", "ring", typed="14 bead\nquit\n")
    ran = here(tmp_path, "form", "ring", "--letters", "--tilt", "60")
    assert ran.status == Exit.OK
    assert "o" in ran.out, "beads just laid are pointed out"
    assert "D" not in ran.out, "the picots are not there yet"
    whole = here(tmp_path, "form", "ring", "--letters", "--tilt", "60", "--whole")
    assert "D" in whole.out


def test_doubts_are_told_beside_it(tmp_path: Path) -> None:
    ran = here(tmp_path, "form", "folded-leaf")
    assert "stitchalong: a doubt: this is one likely form" in ran.err


def test_what_is_not_modelled_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("stitchalong.form.derive.MODELLED", frozenset({"tube"}))
    ran = here(tmp_path, "form", "fern-tab")
    assert ran.status == Exit.USAGE
    assert ran.out == ""
    assert ran.err.startswith("stitchalong: the form of ladder is not known")
    assert ran.err.count("\n") == 1


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        (["--tilt", "91"], "from -90 to 90"),
        (["--turn", "half"], "from -180 to 180"),
        (["--pixels", "5"], "from 16 to 4,000"),
        (["--round", "0"], "from 1 to"),
        (["--round", "2", "--whole"], "not allowed with"),
    ],
)
def test_words_that_cannot_be(tmp_path: Path, words: list[str], fault: str) -> None:
    ran = here(tmp_path, "form", "first-try", *words)
    assert ran.status == Exit.USAGE
    assert fault in ran.err
    assert ran.err.count("\n") == 1


def test_without_numpy_one_line_says_how_to_get_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "numpy", None)
    ran = here(tmp_path, "form", "first-try")
    assert ran.status == Exit.USAGE
    assert ran.err.count("\n") == 1
    assert "in the program's folder: .venv/bin/pip install '.[form]'" in ran.err
    assert here(tmp_path, "check", "first-try").status == Exit.OK


def test_the_terminals_own_size_is_used(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "get_terminal_size", lambda number: os.terminal_size((50, 14)))
    monkeypatch.setattr("tests.cli.running.Stream.fileno", lambda self: 1)
    ran = here(tmp_path, "form", "first-try")
    assert len(ran.out.splitlines()) == 12
    assert max(len(line) for line in ran.out.splitlines()) < 50
