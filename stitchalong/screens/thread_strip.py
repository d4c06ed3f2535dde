"""The thread as a strip: beads laid to the left of the needle, beads to come to the right, joined as they lie."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course.strand import Bit
from stitchalong.fabric.stitch import Kind
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.inks import BEAD
from stitchalong.screens.lines import Line, Span, width_of


def bead(code: str) -> Span:
    """A bead by itself."""
    return Span(f"({code})", BEAD + code)


def _tokens(bits: Sequence[Bit], after: Bit | None) -> list[list[Span]]:
    """A token a bead or move; beads of one space are joined by a plus. `after` is what follows the last bit."""
    tokens: list[list[Span]] = []
    for nth, bit in enumerate(bits):
        if not bit.code:
            tokens.append([Span("( )", "dim") if bit.kind is Kind.SKIP else Span(f" {bit.kind.value} ", "move")])
            continue
        following = bits[nth + 1] if nth + 1 < len(bits) else after
        joined_on = following is not None and bool(following.code) and following.together
        text = f"{'' if bit.together else '('}{bit.code}{'+' if joined_on else ')'}"
        tokens.append([Span(text, BEAD + bit.code)])
    return tokens


def strip(laid: Sequence[Bit], coming: Sequence[Bit], width: int, at: int, glyphs: Glyphs) -> Line:
    """The strip, so many cells wide, the needle at cell `at`. Beads that do not fit whole are left out."""
    left: list[Span] = []
    room = at
    for token in reversed(_tokens(laid, coming[0] if coming else None)):
        size = width_of(token)
        if size > room:
            break
        left = token + left
        room -= size
    right: list[Span] = []
    needle = Span(glyphs.needle, "strong")
    space = width - at - width_of([needle])
    for token in _tokens(coming, None):
        size = width_of(token)
        if size > space:
            break
        right += token
        space -= size
    return (Span(" " * room), *left, needle, *right)


def caption(at: int, width: int, glyphs: Glyphs) -> Line:
    """Below the strip: which is which."""
    laid, coming = "laid", "to come"
    if at < len(laid) or width - at < len(coming) + 4:
        return ()
    return (Span(" " * (at - len(laid)) + laid + " " * (len(glyphs.needle) + 1) + coming, "dim"),)
