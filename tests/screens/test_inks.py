"""Colours that can be read: 4.5 to 1 and more (Web Content Accessibility Guidelines 2.2, success criterion 1.4.3)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.plan.colours import NAMED
from stitchalong.screens.inks import COLOURLESS, EVENING, INKS, contrast, letter_on


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("#000000", "#ffffff", 21.0),
        ("#ffffff", "#ffffff", 1.0),
        ("#767676", "#ffffff", 4.54),
        ("#777777", "#ffffff", 4.48),
    ],
)
def test_the_contrast_is_that_of_the_guidelines(one: str, other: str, ratio: float) -> None:
    """21 to 1 stands in the guidelines' definition; the greys at the limit are widely published (from memory)."""
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)


@pytest.mark.parametrize("ink", INKS)
def test_every_ink_can_be_read(ink: str) -> None:
    pen = EVENING.pens[ink]
    assert contrast(pen.front, pen.back) >= 4.5


def test_both_looks_have_all_inks() -> None:
    assert set(EVENING.pens) == set(COLOURLESS.pens) == set(INKS)
    assert all(not pen.front and not pen.back for pen in COLOURLESS.pens.values())


def test_a_warning_does_not_hang_on_colour() -> None:
    for ink in ("soon", "here", "lost"):
        assert COLOURLESS.pens[ink].reverse
        assert COLOURLESS.pens[ink].bold


@given(st.integers(0, 0xFFFFFF))
def test_a_letter_on_any_bead_can_be_read(number: int) -> None:
    colour = f"#{number:06x}"
    assert contrast(letter_on(colour), colour) >= 4.5


@pytest.mark.parametrize("colour", NAMED.values())
def test_a_letter_on_the_named_colours_can_be_read(colour: str) -> None:
    pen = EVENING.bead(colour)
    assert pen.back == colour
    assert contrast(pen.front, colour) >= 4.5
