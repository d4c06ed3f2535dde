"""Colours that can be read, reckoned here from the text of the W3C's guidelines, not by the program's own figures.

Contrast of 4.5 to 1: https://www.w3.org/TR/WCAG22/#contrast-minimum; of 7 to 1: #contrast-enhanced. Parts of a picture
of 3 to 1: #non-text-contrast.
"""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.plan.colours import NAMED
from stitchalong.screens.inks import COLOURLESS, INKS, Look, contrast, letter_on
from stitchalong.screens.themes import LOOKS
from stitchalong.settings.settings import THEMES
from tests.cli.running import RING
from tests.cli.terminal import Terminal


def light(colour: str) -> float:
    """Relative luminance as https://www.w3.org/TR/WCAG22/#dfn-relative-luminance has it, step by step."""
    total = 0.0
    for at, weight in ((1, 0.2126), (3, 0.7152), (5, 0.0722)):
        part = int(colour[at : at + 2], 16) / 255
        total += weight * (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4)
    return total


def ratio(one: str, other: str) -> float:
    """(L1 + 0.05) / (L2 + 0.05), L1 the lighter: https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio."""
    a, b = light(one), light(other)
    return (max(a, b) + 0.05) / (min(a, b) + 0.05)


@pytest.mark.parametrize(
    ("one", "other", "wanted"),
    [
        ("#000000", "#ffffff", 21.0),
        ("#ffffff", "#ffffff", 1.0),
        ("#767676", "#ffffff", 4.54),
        ("#777777", "#ffffff", 4.48),
    ],
)
def test_the_contrast_is_that_of_the_guidelines(one: str, other: str, wanted: float) -> None:
    """21 to 1 stands in the guidelines' definition; the greys at the limit are widely published (from memory)."""
    assert contrast(one, other) == pytest.approx(wanted, abs=0.005)
    assert ratio(one, other) == pytest.approx(wanted, abs=0.005)


def test_each_theme_that_can_be_set_has_a_look_and_each_look_all_inks() -> None:
    assert tuple(LOOKS) == THEMES
    for look in (*LOOKS.values(), COLOURLESS):
        assert set(look.pens) == set(INKS)
    assert all(not pen.front and not pen.back for pen in COLOURLESS.pens.values())


@pytest.mark.parametrize("ink", INKS)
@pytest.mark.parametrize("theme", THEMES)
def test_every_ink_can_be_read_on_its_ground(theme: str, ink: str) -> None:
    pen = LOOKS[theme].pens[ink]
    assert ratio(pen.front, pen.back) >= (7.0 if theme.startswith("contrast") else 4.5)


@pytest.mark.parametrize("theme", THEMES)
def test_grounds_that_mean_something_differ_in_lightness_and_not_in_hue_alone(theme: str) -> None:
    """Who sees no hue at all still tells a warning from the ground, and one that is near from one that is now."""
    pens = LOOKS[theme].pens
    ground = pens["text"].back
    for ink in ("soon", "lost", "move", "marked"):
        # Black letters at 7 to 1 leave a ground 3 to 1 from white at the very most: 7 x 3 is 21.
        assert ratio(pens[ink].back, ground) >= 2.9, ink
    assert ratio(pens["soon"].back, pens["here"].back) >= 3.0
    assert ratio(pens["here"].back, pens["lost"].back) >= 1.5


@pytest.mark.parametrize("look", [*LOOKS.values(), COLOURLESS], ids=lambda look: look.name)
def test_what_stands_out_stands_out_by_weight_or_ground_too(look: Look) -> None:
    for ink in ("soon", "here", "lost", "marked"):
        pen = look.pens[ink]
        assert pen.bold
        assert pen.reverse or pen.back != look.pens["text"].back
    assert look.pens["message"].bold


@given(st.integers(0, 0xFFFFFF), st.sampled_from(THEMES))
def test_a_letter_on_any_bead_can_be_read(number: int, theme: str) -> None:
    colour = f"#{number:06x}"
    assert ratio(letter_on(colour), colour) >= 4.5
    pen = LOOKS[theme].bead(colour)
    assert ratio(pen.front, pen.back) >= (7.0 if theme.startswith("contrast") else 4.5)


@pytest.mark.parametrize("colour", NAMED.values())
def test_a_bead_keeps_its_colour_where_its_letter_can_be_read(colour: str) -> None:
    for theme in ("dark", "light"):
        assert LOOKS[theme].bead(colour).back == colour


def test_named_colours_stay_apart_in_high_contrast() -> None:
    """Made lighter or darker for its letter, no bead takes on the very look of another."""
    for theme in ("contrast-dark", "contrast-light"):
        for one, other in combinations(NAMED.values(), 2):
            assert (LOOKS[theme].bead(one) != LOOKS[theme].bead(other)) or one == other


COLOUR_CODES = set(range(30, 50)) | set(range(90, 108))
"""Foreground and background in `ESC [ … m`, the defaults 39 and 49 too: ECMA-48, 8.3.117 (SGR), and the bright ones"""


def codes_sent(raw: bytes) -> set[int]:
    """Every number of every SGR sequence among these bytes."""
    found: set[int] = set()
    for part in raw.split(b"\x1b[")[1:]:
        body, ends, _ = part.partition(b"m")
        if ends and all(byte in b"0123456789;:" for byte in body):
            found |= {int(number) for number in body.replace(b":", b";").split(b";") if number}
    return found


def test_where_no_colour_is_wanted_none_is_sent(tmp_path: Path) -> None:
    """`NO_COLOR`, https://no-color.org: a piece, its help, the first screen; every byte that a terminal gets."""
    plan = tmp_path / "ring.toml"
    plan.write_text(RING)
    with Terminal(tmp_path / "home", "start", str(plan), NO_COLOR="1", COLORTERM="truecolor") as terminal:
        terminal.until("Space bead")
        terminal.type(" ")
        terminal.until(r"1 of \d+ beads")
        terminal.type("h")
        terminal.until("Count one bead")
        terminal.type("h")
        terminal.until("Space bead")
        terminal.type("q")
        assert terminal.ends() == 0
    assert not codes_sent(bytes(terminal.raw)) & COLOUR_CODES
    with Terminal(tmp_path / "home", NO_COLOR="1", COLORTERM="truecolor") as terminal:
        terminal.until("Plans to begin from")
        terminal.type("q")
        assert terminal.ends() == 0
    assert not codes_sent(bytes(terminal.raw)) & COLOUR_CODES
    assert {1, 7} <= codes_sent(bytes(terminal.raw)), "bold and reversed text stay"


def test_a_theme_that_is_set_is_what_the_terminal_gets(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    with Terminal(home, code=_SET.format(home=str(home)), COLORTERM="truecolor") as terminal:
        terminal.until("Plans to begin from")
        terminal.type("q")
        terminal.ends()
    ground = LOOKS["contrast-light"].pens["text"].back
    wanted = ";".join(str(int(ground[at : at + 2], 16)) for at in (1, 3, 5))
    assert f"48;2;{wanted}".encode() in terminal.raw


_SET = """
import sys
from stitchalong.cli import main
main(["settings", "look.theme", "contrast-light"])
sys.exit(main([]))
"""
