"""How the first screen looks: entries made of pieces and plans, and the lines that show them."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import tzinfo
from pathlib import Path

from rich.cells import cell_len

from stitchalong.course.words import capital, counted
from stitchalong.measure.pace import USUAL, Pace, duration, duration_range, rough
from stitchalong.plan.library import Listed
from stitchalong.plan.sorts import order_of
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import BLANK, Line, Span, apart, fit, line, wrapped
from stitchalong.screens.panels import Page
from stitchalong.settings.when import spoken
from stitchalong.store import PieceSummary

WIDE = 54
"""cells from which an entry takes one line and its details stand beside it"""

_BAR = 10
"""cells"""


@dataclass(frozen=True, slots=True)
class Entry:
    """A piece or a plan in the list."""

    piece: PieceSummary | None
    plan: Listed | None
    title: str
    detail: str
    """how far and when, or what the plan is about"""
    action: str
    """what Enter does, in words"""
    beads: int = 0
    """of a plan; 0: not known, or not yet"""
    time: str = ""
    """that those take, in words"""


def entries(
    pieces: Sequence[PieceSummary],
    plans: Sequence[Listed],
    now: float,
    zone: tzinfo | None,
    beads_of: Callable[[Path], int | None] = lambda path: None,
    pace: Pace = USUAL,
) -> list[Entry]:
    """Unfinished pieces first, the last touched on top; then finished ones, those put away, and plans by their sort."""
    order = {"going": 0, "finished": 1, "put away": 2}
    sorted_pieces = sorted(pieces, key=lambda piece: order[piece.state])
    sorted_plans = sorted(plans, key=lambda plan: order_of(plan.sort))
    return [
        *(
            Entry(piece, None, piece.name, detail(piece, now, zone), f"go on with {piece.name}")
            for piece in sorted_pieces
        ),
        *(_of_plan(plan, beads_of(plan.path) or 0, pace) for plan in sorted_plans),
    ]


def _of_plan(plan: Listed, beads: int, pace: Pace) -> Entry:
    """Its own words, and before them what it takes, once that is known."""
    detail = plan.about
    if beads:
        by = f"at {pace.each.value:.0f} s a bead" if pace is USUAL else "by your own pace"
        detail = f"{counted(beads, 'bead')}, {duration_range(rough(pace.time_for(beads)))} {by}. {plan.about}"
    time = duration(rough(pace.time_for(beads)).value) if beads else ""
    return Entry(None, plan, plan.title, detail.strip(), f"begin {plan.title}", beads, time)


def share(piece: PieceSummary) -> int:
    """Percent of the steps done, rounded down."""
    return piece.position * 100 // piece.steps if piece.steps else 100


def detail(piece: PieceSummary, now: float, zone: tzinfo | None) -> str:
    """`34 %, round 5, today at 9:12, 2 hours ago`."""
    parts: list[str] = [piece.state] if piece.state != "going" else []
    parts += [f"{share(piece)} %", place_words(piece.place), spoken(piece.touched, now, zone)]
    return ", ".join(part for part in parts if part)


def place_words(place: str) -> str:
    """`round 5, bottom edge`, from the place that is kept; empty where it says nothing."""
    try:
        data = json.loads(place)
        number, edge = int(data["round"]), str(data["edge"])
    except (ValueError, KeyError, TypeError):
        return ""
    if number < 1:
        return "at the beginning"
    return f"round {number}" if edge == "top" else f"round {number}, {edge} edge"


def question_of(piece: PieceSummary) -> Page:
    """Whether the piece is to be removed."""

    def draw(width: int, glyphs: Glyphs) -> list[Line]:
        return [
            line("Remove for good?", "strong"),
            BLANK,
            *wrapped(f"“{piece.name}”, {share(piece)} % of it stitched.", width, "strong"),
            BLANK,
            *wrapped("Its counts and notes go with it. To keep them off the list, put it away instead.", width),
        ]

    return Page(draw, (("Enter", "remove"), ("Escape", "keep it")))


def body(some: Sequence[Entry], at: int, message: str, width: int, height: int, glyphs: Glyphs) -> list[Line]:
    """Title, list, and what is marked in full; exactly fits `height`."""
    below = _below(some[at] if some else None, message, width, max(2, height // 3))
    head = [apart(line("stitchalong", "strong"), line("count along while you stitch", "dim"), width), BLANK]
    if height < 14:
        head = head[:1]
    rows = max(1, height - len(head) - len(below))
    listed = _listed(some, at, width, rows, glyphs)
    return [*head, *listed, *[BLANK] * (rows - len(listed)), *below]


def _below(entry: Entry | None, message: str, width: int, rows: int) -> list[Line]:
    """What is worth the last rows: a message, and the marked entry's details."""
    if entry is None:
        return wrapped("There is no piece and no plan yet.", width, "message")
    out = wrapped(message, width, "message") if message else []
    out += wrapped(f"Enter: {entry.action}.", width, "dim")
    return [*out, *sentences(entry.detail, width, rows - len(out))]


def sentences(text: str, width: int, rows: int) -> list[Line]:
    """As many whole sentences as fit."""
    ends = [end for end, sign in enumerate(text, 1) if sign in ".!?" and text[end : end + 1] in ("", " ")]
    for end in (len(text), *reversed(ends)):
        lines = wrapped(text[:end], width)
        if text and len(lines) <= rows:
            return lines
    return []


def _listed(some: Sequence[Entry], at: int, width: int, rows: int, glyphs: Glyphs) -> list[Line]:
    """Headings and entries around the marked one."""
    lines: list[tuple[int, Line]] = []
    heading = ""
    for nth, entry in enumerate(some):
        here = "Pieces" if entry.plan is None else entry.plan.sort
        if here != heading:
            first = entry.plan is not None and heading in ("", "Pieces")
            words = f"Plans to begin from: {here}" if first else capital(here)
            if lines and rows > 8:
                lines.append((-1, BLANK))
            lines.append((-1, line(words, "key")))
            heading = here
        lines.append((nth, _entry_line(entry, nth == at, width, glyphs)))
    marked = next((row for row, (nth, _) in enumerate(lines) if nth == at), 0)
    top = max(0, min(marked - rows // 2, len(lines) - rows))
    return [shown for _, shown in lines[top : top + rows]]


def _entry_line(entry: Entry, marked: bool, width: int, glyphs: Glyphs) -> Line:
    """A name; from `WIDE` on with a bar and what else fits whole."""
    ink = "marked" if marked else "text"
    mark = f"{glyphs.mark} " if marked else "  "
    told = f" {share(entry.piece):>3} %" if entry.piece is not None else f" {entry.beads:,}" if entry.beads else ""
    wide = width >= WIDE
    column = min(34, width // 2) if wide else width - len(told)
    size = cell_len(entry.title) + 3
    if not wide or (entry.piece is None and size > column):
        return (
            *fit((Span(f"{mark}{entry.title} ", ink),), column if told else min(width, size), ink),
            Span(told, "dim"),
        )
    name = fit((Span(f"{mark}{entry.title} ", ink),), column, ink)
    if entry.plan is not None:
        takes = f" {counted(entry.beads, 'bead'):>12}  {entry.time:<11}" if entry.beads else ""
        more = f" {entry.plan.about}" if column + len(takes) + 1 + cell_len(entry.plan.about) <= width else ""
        return (*name, Span(takes + more, "dim"))
    assert entry.piece is not None
    filled = share(entry.piece) * _BAR // 100
    bar = (Span(" " + glyphs.full * filled, "bar"), Span(glyphs.empty * (_BAR - filled), "rest"))
    more = f"  {entry.detail.partition(' %, ')[2]}"
    if column + 1 + _BAR + len(told) + cell_len(more) <= width:
        told += more
    return (*name, *bar, Span(told, "dim"))
