"""Colours: held against littlecms (by Pillow) and against what is known of eyes that tell fewer colours apart."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageCms

from stitchalong.measure.eyes import SIMULATED, alike, distance, lab, light_of, seen

COLOURS = st.tuples(*[st.integers(0, 255)] * 3)


def hexed(rgb: tuple[int, ...]) -> str:
    return "#" + "".join(f"{part:02x}" for part in rgb)


def lab_by_littlecms(rgb: tuple[int, ...]) -> tuple[float, ...]:
    """CIELAB in 8 bits; its white is D50, so that only lightness is the same number, and greys are 0, 0."""
    to_lab = ImageCms.buildTransform(ImageCms.createProfile("sRGB"), ImageCms.createProfile("LAB"), "RGB", "LAB")
    pixel = ImageCms.applyTransform(Image.new("RGB", (1, 1), tuple(rgb)), to_lab)
    assert pixel is not None
    light, a, b = (int(channel.tobytes()[0]) for channel in pixel.split())
    return light / 2.55, a - 128, b - 128


@given(st.integers(0, 255))
def test_greys_have_the_lightness_that_littlecms_finds(part: int) -> None:
    found = lab(light_of(hexed((part, part, part))))
    want = lab_by_littlecms((part, part, part))
    assert found[0] == pytest.approx(want[0], abs=0.6)
    assert found[1:] == pytest.approx((0, 0), abs=0.1)


@given(COLOURS, COLOURS)
def test_distances_are_those_of_littlecms_but_for_its_white(one: tuple[int, ...], other: tuple[int, ...]) -> None:
    """The adaptation from D65 to D50 moves chroma by up to some 20 %, 8 bits by 2."""
    found = distance(light_of(hexed(one)), light_of(hexed(other)))
    ours, theirs = lab_by_littlecms(one), lab_by_littlecms(other)
    want = sum((a - b) ** 2 for a, b in zip(ours, theirs, strict=True)) ** 0.5
    assert found == pytest.approx(want, rel=0.25, abs=6)


def test_the_primaries_of_srgb() -> None:
    """Red, green and blue of sRGB in CIELAB at D65 (published by colour calculators; from memory)."""
    assert lab(light_of("#ff0000")) == pytest.approx((53.24, 80.09, 67.20), abs=0.1)
    assert lab(light_of("#00ff00")) == pytest.approx((87.73, -86.18, 83.18), abs=0.1)
    assert lab(light_of("#0000ff")) == pytest.approx((32.30, 79.19, -107.86), abs=0.1)


@given(st.floats(0, 1))
def test_greys_stay_grey_to_all_eyes(part: float) -> None:
    """The rows of each matrix sum to 1: white is white to everybody."""
    for matrix in SIMULATED.values():
        assert seen((part, part, part), matrix) == pytest.approx((part, part, part), abs=1e-5)


@given(COLOURS)
def test_a_colour_is_like_itself_and_black_is_not_like_white(rgb: tuple[int, ...]) -> None:
    assert alike(hexed(rgb), hexed(rgb)) == ("to everybody",)
    assert not alike("#000000", "#ffffff")


def test_red_and_green_of_one_lightness_are_alike_to_those_who_miss_one_of_them_alone() -> None:
    """The best known confusion; blue and yellow stay apart for them."""
    assert set(alike("#b0643c", "#7d7a38")) & {"to eyes that miss red", "to eyes that miss green"}
    assert "to everybody" not in alike("#b0643c", "#7d7a38")
    assert not alike("#2050c0", "#e0c030")
