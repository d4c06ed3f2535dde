"""The thread as a strip."""

from __future__ import annotations

import pytest

from stitchalong.course.strand import Bit
from stitchalong.fabric.stitch import Kind
from stitchalong.screens.glyphs import ASCII, BLOCKS, big
from stitchalong.screens.lines import text_of, width_of
from stitchalong.screens.thread_strip import caption, strip


def single(code: str) -> Bit:
    return Bit(code, Kind.SINGLE)


def pair(codes: str) -> list[Bit]:
    return [Bit(code, Kind.PAIR, together=nth > 0) for nth, code in enumerate(codes)]


STEP_UP = Bit("", Kind.STEP_UP)
NO_BEAD = Bit("", Kind.SKIP)


@pytest.mark.parametrize(
    ("laid", "coming", "text"),
    [
        ([single("A")], [single("B")], "     (A)==>(B)"),
        ([*pair("MM")], [*pair("MN")], "   (M+M)==>(M+N)"),
        ([single("A"), *pair("MM")[:1]], pair("MM")[1:], "  (A)(M+==>M)"),
        ([STEP_UP], [NO_BEAD, single("C")], "==>( )(C)"),
        ([], [*pair("DDD"), single("A")], "        ==>(D+D+D)(A)"),
    ],
)
def test_beads_of_one_space_are_joined(laid: list[Bit], coming: list[Bit], text: str) -> None:
    shown = text_of(strip(laid, coming, 24, 8, ASCII)).rstrip()
    assert shown == text or shown.endswith(text)


def test_the_needle_stays_where_it_is() -> None:
    for laid in ([], [single("A")], [single("A")] * 40, [STEP_UP, single("B")]):
        assert text_of(strip(laid, [single("C")] * 40, 60, 24, BLOCKS)).index("══»") == 24


@pytest.mark.parametrize("width", range(20, 70))
def test_no_stitch_is_shown_in_part_at_the_edges(width: int) -> None:
    bits = [single("A"), *pair("MM"), *pair("DDD")] * 9
    shown = strip(bits, bits, width, width * 2 // 5, BLOCKS)
    assert width_of(shown) <= width
    left, right = text_of(shown).split("══»")
    for part in (left.strip(), right.strip()):
        assert part.count("(") == part.count(")")
        assert part.startswith("(")
        assert part.endswith(")")


def test_a_stitch_wider_than_the_strip_shows_its_first_beads() -> None:
    shown = text_of(strip([], pair("D" * 30), 20, 4, ASCII))
    assert shown.strip().startswith("==>(D+D+D")
    assert width_of(strip([], pair("D" * 30), 20, 4, ASCII)) <= 20


def test_a_bead_has_the_ink_of_its_code() -> None:
    spans = strip([single("A")], [single("B")], 20, 8, ASCII)
    assert [(span.text, span.ink) for span in spans if span.ink.startswith("bead:")] == [
        ("(A)", "bead:A"),
        ("(B)", "bead:B"),
    ]


def test_the_caption_stands_under_its_side() -> None:
    text = text_of(caption(24, 60, ASCII))
    assert text.index("laid") + len("laid") == 24
    assert text.index("to come") == 24 + len("==>") + 1


def test_each_digit_is_drawn_and_no_two_are_alike() -> None:
    for glyphs in (BLOCKS, ASCII):
        for rows in (3, 5):
            drawn = {big(sign, glyphs, rows) for sign in "0123456789>+?"}
            assert len(drawn) == 13
            assert {len(rows_) for rows_ in drawn} == {rows}
    assert all(row.isascii() for sign in "0123456789>+?" for rows in (3, 5) for row in big(sign, ASCII, rows))
