"""How the screen of a new plan looks at any size: the rows of the form, help, figures, drawings."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from stitchalong.design.outcome import Outcome
from stitchalong.plan.colours import read_colour
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.home_lines import sentences
from stitchalong.screens.lines import BLANK, Line, Span, fit, line, text_of, wrapped
from stitchalong.screens.making.board import bead_ink
from stitchalong.screens.making.fields import WRITE, Making, Row

WIDE, HIGH = 72, 18
"""cells from which what it comes to stands beside the form"""
_BOTH = 26
"""rows beside the form from which two drawings have room"""

Draw = Callable[[int, int], list[Line]]
"""a drawing in at most so many cells and lines"""


@dataclass(frozen=True, slots=True)
class Seen:
    """What there is to show."""

    making: Making
    outcome: Outcome | None
    """of the last answers that could be; None: none yet"""
    stale: bool
    """whether it is of earlier answers"""
    told: str
    """why there is no outcome, or what just happened"""
    drawings: tuple[Draw, ...]
    """the first is drawn wherever there is room"""


def paint(seen: Seen, width: int, height: int, glyphs: Glyphs) -> list[Line]:
    """`height` lines at most."""
    title = line("A new plan", "strong")
    if width < WIDE or height < HIGH:
        return _narrow(seen, width, height, glyphs, title)
    left = max(34, min(48, width * 2 // 5))
    right = width - left - 2
    form = _form(seen.making, left, height - 2, glyphs)
    beside = _beside(seen, right, height - 2)
    rows = max(len(form), len(beside))
    form += [BLANK] * (rows - len(form))
    beside += [BLANK] * (rows - len(beside))
    both = [(*fit(one, left), Span("  "), *other) for one, other in zip(form, beside, strict=True)]
    return [title, BLANK, *both][:height]


def _narrow(seen: Seen, width: int, height: int, glyphs: Glyphs, title: Line) -> list[Line]:
    """The form, and below it what there is room for."""
    brief = _brief(seen, width)[: max(1, height // 4)]
    rows = len(seen.making.rows)
    told = _help(seen.making, width, max(1, height - len(brief) - min(rows, 5)))
    fields = max(3, height - len(brief) - len(told))
    out = _rows(seen.making, width, min(fields, rows), glyphs)
    out += [*told, *brief]
    free = height - len(out)
    if free > rows // 2 and free >= 6 and seen.drawings:
        out += seen.drawings[0](width, free)
    elif free:
        out = [title, *out]
    return out[:height]


def _form(making: Making, width: int, height: int, glyphs: Glyphs) -> list[Line]:
    rows = len(making.rows)
    told = _help(making, width, max(1, height - min(rows, height // 2) - 1))
    return [*_rows(making, width, min(rows, height - len(told) - 1), glyphs), BLANK, *told]


def _help(making: Making, width: int, rows: int) -> list[Line]:
    """As many whole sentences as fit; of a fault, all that fits."""
    if making.fault(making.at) is not None:
        return wrapped(making.help(making.at), width, "message")[:rows]
    return [line(text_of(some), "dim") for some in sentences(making.help(making.at), width, rows)]


def _rows(making: Making, width: int, height: int, glyphs: Glyphs) -> list[Line]:
    """As many rows as there is room for, the marked one among them."""
    rows = making.rows
    place = making.place
    first = max(0, min(place - height // 2, len(rows) - height))
    names = max(len(making.name(row)) for row in rows if row.key != WRITE) + 2
    faults = making.draft.faults()
    return [
        _row(making, row, nth == place, names, width, glyphs, faults)
        for nth, row in enumerate(rows[first : first + height], start=first)
    ]


def _row(
    making: Making, row: Row, marked: bool, names: int, width: int, glyphs: Glyphs, faults: Mapping[str, object]
) -> Line:
    wrong = row.key in faults and making.fault(row) is not None
    mark = f"{glyphs.mark} " if marked else "! " if wrong else "  "
    if row.key == WRITE:
        return Span(mark, "strong"), Span(f" {making.name(row)} ", "marked" if marked else "key")
    head = Span(f"{mark}{making.name(row):<{names}}", "message" if wrong else "strong" if marked else "dim")
    value = making.shown(row)
    swatch = _swatch(value) if row.key == "colours" else ()
    room = width - names - 4 - (4 if swatch else 0)
    cursor = "_" if marked and making.typing else ""
    if len(value) + len(cursor) > room:
        value = "…" + value[-(room - 1 - len(cursor)) :] if cursor else value[: room - 1] + "…"
    if row.key == "order" and not marked and not {"order", "colours"} & set(faults):
        return head, *_order(making, room)
    return head, Span(f" {value}{cursor} ", "marked" if marked else "text"), *swatch


def _swatch(text: str) -> tuple[Span, ...]:
    try:
        colour = read_colour(f"#{text.rpartition('#')[2]}" if "#" in text else text)
    except ValueError:
        return ()
    return Span(" "), Span("   ", bead_ink(colour))


def _order(making: Making, room: int) -> tuple[Span, ...]:
    """The rounds as beads of their colours, as many as fit."""
    colours = dict(zip(making.draft.codes, (colour.rgb for colour in making.draft.colours), strict=True))
    codes = making.draft.order
    shown = codes if 2 * len(codes) <= room else (*codes[: room // 2 - 1], "…")
    spans = [Span(" ")]
    for code in shown:
        spans += [Span(code, bead_ink(_rgb(colours[code])) if code in colours else "dim"), Span(" ")]
    return tuple(spans)


def _rgb(colour: str) -> str:
    try:
        return read_colour(colour)
    except ValueError:
        return "#808080"


# ---- what it comes to ---------------------------------------------------------------------------


def _brief(seen: Seen, width: int) -> list[Line]:
    """A line or two: why there is nothing, or counts, size, thread."""
    if seen.told:
        return wrapped(seen.told, width, "message")
    if seen.outcome is None:
        return [line("reckoning …", "dim")]
    return wrapped(seen.outcome.brief, width, "dim" if seen.stale else "strong")


def _beside(seen: Seen, width: int, height: int) -> list[Line]:
    """Drawings above, figures below; figures get what they ask for up to a half."""
    figures = _figures(seen, width)
    drawings = seen.drawings[: 2 if height >= _BOTH else 1]
    if not drawings:
        return _cut(figures, height)
    room = height - min(len(figures), height // 2)
    drawn: list[Line] = []
    for nth, draw in enumerate(drawings):
        drawn += draw(width, (room - len(drawn)) // (len(drawings) - nth) - 1)
        drawn.append(BLANK)
    return [*drawn, *_cut(figures, height - len(drawn))]


def _figures(seen: Seen, width: int) -> list[Line]:
    out = wrapped(seen.told, width, "message") if seen.told else []
    if seen.outcome is None:
        return out or [line("reckoning …", "dim")]
    for nth, text in enumerate(seen.outcome.short):
        ink = "dim" if seen.stale else "text" if nth else "strong"
        out += wrapped(text, width, ink, lead=line("" if not nth else "· "))
    for doubt in seen.outcome.doubts:
        out += wrapped(f"a doubt: {doubt}", width, "message")
    return out


def _cut(lines: Sequence[Line], height: int) -> list[Line]:
    """As many as fit, and a word where there are more."""
    if len(lines) <= height:
        return list(lines)
    return [*lines[: max(0, height - 1)], line("F4 shows the rest", "dim")]
