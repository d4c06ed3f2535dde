"""Lines of cells. Widths of signs: Unicode Standard Annex 11 (East Asian Width): wide signs take two cells."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from stitchalong.screens.lines import Span, apart, fit, line, text_of, width_of, wrap, wrapped
from stitchalong.screens.patch import GAP, differing

TEXT = st.text(st.sampled_from("ab cé漢字🧵\u0301-.  "), max_size=60)
INK = st.sampled_from(["text", "dim", "strong"])
LINE = st.lists(st.builds(Span, TEXT, INK), max_size=6).map(tuple)


@given(LINE, st.integers(1, 50))
def test_a_fitted_line_has_exactly_the_width(some: tuple[Span, ...], width: int) -> None:
    fitted = fit(some, width)
    assert width_of(fitted) == width
    assert cell_len(text_of(fitted)) == width


@given(LINE, st.integers(1, 50))
def test_what_fits_is_not_changed(some: tuple[Span, ...], width: int) -> None:
    if width_of(some) <= width:
        assert text_of(fit(some, width)).rstrip() == text_of(some).rstrip()


@given(TEXT, st.integers(2, 40))
def test_wrapping_loses_nothing_and_keeps_the_width(text: str, width: int) -> None:
    lines = wrap(text, width)
    assert all(cell_len(some) <= width for some in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


def test_wrapping_breaks_at_blanks() -> None:
    assert wrap("pass through the next up bead", 12) == ("pass through", "the next up", "bead")
    assert wrap("漢字漢字", 5) == ("漢字", "漢字")


def test_lines_after_a_lead_begin_under_its_end() -> None:
    lines = wrapped("pick up two beads", 12, lead=line("now  ", "dim"))
    assert [text_of(some) for some in lines] == ["now  pick up", "     two", "     beads"]


def test_the_right_part_goes_where_both_do_not_fit() -> None:
    assert text_of(apart(line("left"), line("right"), 12)) == "left   right"
    assert text_of(apart(line("left"), line("right"), 10)) == "left"


def test_control_and_direction_signs_are_left_out() -> None:
    assert text_of(fit(line("a\x1b]0;x\x07\u202eb\u200bc\n"), 20)).rstrip() == "a]0;xbc"


@given(LINE, LINE, st.integers(1, 40))
def test_the_pieces_that_differ_are_enough_to_paint(old: tuple[Span, ...], new: tuple[Span, ...], width: int) -> None:
    """Painting them over the old line gives the new one, ink for ink."""
    before, after = fit(old, width), fit(new, width)

    def cells(some: tuple[Span, ...]) -> list[tuple[str, str]]:
        out: list[tuple[str, str]] = []
        before = ""
        for span in some:
            for sign in span.text:
                size = cell_len(sign)
                if size == 0 and out:
                    out[-1] = (out[-1][0] + sign, out[-1][1])
                elif size == 0:
                    before += sign
                else:
                    out += [(before + sign, span.ink)] + [("", span.ink)] * (size - 1)
                    before = ""
        return out

    painted = cells(before)
    pieces = differing(before, after)
    for at, some in pieces:
        piece = cells(some)
        painted[at : at + len(piece)] = piece
    assert painted == cells(after)
    if before == after and all(cell_len(sign) == 1 for span in after for sign in span.text):
        assert pieces == []


def test_what_stays_between_two_changes_is_sent_again_only_where_it_is_short() -> None:
    old = line("-" * 60)
    near = line("x" + "-" * GAP + "x" + "-" * (58 - GAP))
    far = line("x" + "-" * (GAP + 1) + "x" + "-" * (57 - GAP))
    assert differing(old, near) == [(0, line("x" + "-" * GAP + "x"))]
    assert differing(old, far) == [(0, line("x")), (GAP + 2, line("x"))]
