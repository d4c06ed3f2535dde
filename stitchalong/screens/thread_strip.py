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


def _stitches(bits: Sequence[Bit], after: Bit | None) -> list[list[Span]]:
    """The spans of each stitch or move; beads of one space are joined by a plus. `after` follows the last bit."""
    stitches: list[list[Span]] = []
    for nth, bit in enumerate(bits):
        if not bit.code:
            stitches.append([Span("( )", "dim") if bit.kind is Kind.SKIP else Span(f" {bit.kind.value} ", "move")])
            continue
        following = bits[nth + 1] if nth + 1 < len(bits) else after
        joined_on = following is not None and bool(following.code) and following.together
        text = f"{'' if bit.together else '('}{bit.code}{'+' if joined_on else ')'}"
        if bit.together and stitches:
            stitches[-1].append(Span(text, BEAD + bit.code))
        else:
            stitches.append([Span(text, BEAD + bit.code)])
    return stitches


def _fitting(stitches: Sequence[list[Span]], room: int) -> list[list[Span]]:
    """As many whole stitches as fit; of one that alone is too long, its first beads."""
    kept: list[list[Span]] = []
    for stitch in stitches:
        size = width_of(stitch)
        if size > room:
            if not kept:
                while stitch and width_of(stitch) > room:
                    stitch = stitch[:-1]
                kept.append(stitch)
            break
        kept.append(stitch)
        room -= size
    return kept


def strip(laid: Sequence[Bit], coming: Sequence[Bit], width: int, at: int, glyphs: Glyphs) -> Line:
    """The strip, so many cells wide at most, the needle at cell `at`. Stitches that do not fit whole are left out."""
    backward = [stitch[::-1] for stitch in reversed(_stitches(laid, coming[0] if coming else None))]
    left = [span for stitch in reversed(_fitting(backward, at)) for span in reversed(stitch)]
    needle = Span(glyphs.needle, "strong")
    right = _fitting(_stitches(coming, None), width - at - width_of([needle]))
    return (Span(" " * (at - width_of(left))), *left, needle, *(span for stitch in right for span in stitch))


def caption(at: int, width: int, glyphs: Glyphs) -> Line:
    """Below the strip: which is which."""
    laid, coming = "laid", "to come"
    if at < len(laid) or width - at < len(coming) + 4:
        return ()
    return (Span(" " * (at - len(laid)) + laid + " " * (len(glyphs.needle) + 1) + coming, "dim"),)
