"""`sheet` on the command line."""

from __future__ import annotations

import sys
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest

from tests.cli.running import RING, here, ok


@pytest.fixture
def plan(tmp_path: Path) -> str:
    path = tmp_path / "sorrel.toml"
    path.write_text(RING)
    return str(path)


@pytest.mark.parametrize(
    ("name", "begins"),
    [("a.html", b"<!DOCTYPE html>"), ("a.pdf", b"%PDF-"), ("a.md", b"# Sorrel"), ("a.txt", b"Sorrel ring\n===")],
)
def test_the_ending_of_the_file_says_the_kind(home: Path, plan: str, tmp_path: Path, name: str, begins: bytes) -> None:
    out = tmp_path / name
    assert ok(here(home, "sheet", plan, "--out", str(out))).out.startswith("written:")
    assert out.read_bytes().startswith(begins)
    again = here(home, "sheet", plan, "--out", str(out))
    assert again.status == 4
    assert "already" in again.err
    ok(here(home, "sheet", plan, "--out", str(out), "--replace", "--large", "--paper", "letter", "--left-handed"))


def test_the_drawing_has_as_many_beads_as_the_course(home: Path, plan: str) -> None:
    """Six units of four beads, and 6 + 8 + 10 + 12 above."""
    drawn = ElementTree.fromstring(ok(here(home, "sheet", plan, "--as", "svg")).out.encode())
    assert len(drawn.findall(".//{http://www.w3.org/2000/svg}rect")) == 24 + 6 + 8 + 10 + 12


def test_a_piece_is_told_as_its_stitcher_has_it(home: Path, plan: str) -> None:
    ok(here(home, "start", plan, "--units", "8", "--name", "Ida's", typed="5\n"))
    assert "8 units, 32 beads" in ok(here(home, "sheet", "Ida's")).out


def test_of_a_piece_and_a_plan_of_one_name_the_plan_is_handed_out(home: Path) -> None:
    ok(here(home, "start", "gorse-ring", "--units", "24"))
    plan, piece, both = (here(home, "sheet", "gorse-ring", *more) for more in (("--plan",), ("--piece",), ()))
    assert "28 units" in plan.out
    assert "24 units" in piece.out
    assert plan.err == piece.err == ""
    assert both.out == plan.out
    assert both.err == "stitchalong: this is the plan; there is a piece of that name too: add --piece for it\n"


def test_a_class_and_inches(home: Path) -> None:
    text = ok(here(home, "sheet", "gorse-ring", "--class", "8", "--inch")).out
    assert "a class of 8" in text
    assert " oz" in text
    assert " yd" in text


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--out", "sheet.doc"], ".html, .pdf"),
        (["--as", "pdf"], "--out sheet.pdf"),
        (["--as", "txt", "--font", "x.ttf"], "only a PDF"),
        (["--class", "0"], "from 1 to 500"),
        (["--out", "no/such/folder/a.txt"], "cannot be written"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(home: Path, plan: str, arguments: list[str], says: str) -> None:
    ran = here(home, "sheet", plan, *arguments)
    assert ran.status in (2, 4)
    assert says in ran.err
    assert len(ran.err.splitlines()) == 1


def test_without_the_extra_it_says_what_to_install(home: Path, plan: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "fpdf", None)
    for name in [name for name in sys.modules if name.startswith("stitchalong.sheets.pdf")]:
        monkeypatch.delitem(sys.modules, name)
    ran = here(home, "sheet", plan, "--out", "a.pdf")
    assert ran.status == 2
    assert ".[pdf]" in ran.err
