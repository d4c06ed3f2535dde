"""Cells of a terminal against a terminal emulator."""

from __future__ import annotations

import pyte
import pytest

from stitchalong.form.cells import ansi, cells, plain
from stitchalong.form.render import picture
from stitchalong.form.runs import Line
from stitchalong.form.shape import Form
from stitchalong.form.view import Marks, View
from tests.form.samples import formed, tube

GROUND = (24, 24, 28)


@pytest.fixture(scope="module")
def form() -> Form:
    return formed(tube(12, 3))


def test_each_cell_shows_its_two_pixels(form: Form) -> None:
    columns, lines = 40, 12
    shot = picture(form, View(), columns, 2 * lines, ground=GROUND)
    screen = pyte.Screen(columns, lines)
    stream = pyte.Stream(screen)
    stream.feed("\r\n".join(ansi(cells(form, View(), columns, lines, ground=GROUND))))
    for row in range(lines):
        for column in range(columns):
            cell = screen.buffer[row][column]
            top, bottom = ("{:02x}{:02x}{:02x}".format(*shot[2 * row + at, column].tolist()) for at in (0, 1))
            if cell.data == "▀":
                assert (cell.fg, cell.bg) == (top, bottom)
            else:
                assert cell.data == " "
                assert cell.bg == top == bottom


def test_lines_are_as_wide_as_asked_and_end_without_colour(form: Form) -> None:
    found = cells(form, View(), 33, 9)
    assert len(found) == 9
    assert all(sum(len(run.text) for run in line) == 33 for line in found)
    # equal cells side by side are one run
    assert all(a[1:] != b[1:] for line in found for a, b in zip(_looks(line), _looks(line)[1:], strict=False))
    assert all(line.endswith("\x1b[0m") for line in ansi(found))


def _looks(line: Line) -> list[tuple[str, object, object]]:
    return [(run.text, run.ink, run.paper) for run in line]


def test_without_colour_there_are_only_characters(form: Form) -> None:
    lines = plain(form, View(), 40, 14)
    assert len(lines) == 14
    assert all(line.isascii() and line.isprintable() and len(line) <= 40 for line in lines)
    assert {"@", "."} <= set("".join(lines))


def test_letters_are_those_of_the_beads(form: Form) -> None:
    lines = plain(form, View(0, 90), 40, 14, letters=True)
    assert set("".join(lines)) == {"A", " "}
    marked = plain(form, View(0, 90), 40, 14, letters=True, marks=Marks(frozenset(range(24, 29)), 29))
    assert set("".join(marked)) == {"A", " ", "o", "?"}


def test_nearer_is_denser(form: Form) -> None:
    """From the side, the middle of a tube comes towards the eye and its flanks go away."""
    line = plain(form, View(0, 0), 40, 15)[7].strip()
    order = "@%#*+=-:."
    assert order.index(line[len(line) // 2]) < order.index(line[0])
    assert order.index(line[len(line) // 2]) < order.index(line[-1])


def test_nothing_to_see() -> None:
    form = formed(tube(12, 1))
    assert plain(form, View(zoom=16.0, tilt=90), 20, 5) == [""] * 5
