"""What changed in a picture, cell by cell, and the bytes for it alone.

The toolkit repaints whole regions of every widget that lies in them. Where one widget is all there is, what changed can
go to the terminal at once: fewer bytes over a slow line, and less work a key. That takes some of the toolkit's own
names; one that has not got them paints all by itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from rich.cells import cell_len
from rich.console import Console, ConsoleOptions, RenderResult
from rich.control import Control
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from stitchalong.screens.lines import Line, Span

if TYPE_CHECKING:
    from textual._compositor import CompositorUpdate
else:
    try:
        from textual._compositor import CompositorUpdate
    except ImportError:
        CompositorUpdate = object

GAP = 16
"""cells that stay and are sent again rather than jumped over: a jump and the colours after it are longer"""


class Patch(CompositorUpdate):
    """Pieces of lines, each with its place: row, cell, and what stands there from now on."""

    def __init__(self, pieces: Sequence[tuple[int, int, Strip]]) -> None:
        self._pieces = pieces

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        for y, x, strip in self._pieces:
            yield Control.move_to(x, y)
            yield from strip

    def render_segments(self, console: Console) -> str:
        """The bytes for the terminal."""
        return "".join(Control.move_to(x, y).segment.text + strip.render(console) for y, x, strip in self._pieces)


def may_send(widget: Widget) -> bool:
    """Whether what changes in a widget can go to the terminal at once: nothing lies over it or waits to be painted."""
    app, screen, place = widget.app, widget.screen, widget.region
    if app.is_headless or app.no_color or screen is not app.screen:
        return False
    if any(other is not widget and other.display and other.region.overlaps(place) for other in screen.children):
        return False
    try:
        asked = screen._layout_required or screen._repaint_required or app._batch_count
        waiting = bool(asked or screen._dirty_widgets or widget._repaint_regions)
        able = callable(app._display) and callable(widget._styles_cache.set_dirty)
    except AttributeError:
        return False
    return able and CompositorUpdate is not object and not waiting


def send(widget: Widget, regions: Sequence[Region], pieces: Sequence[tuple[int, int, Strip]]) -> None:
    """Send pieces of a widget to the terminal, where `may_send` says so; they change these regions of it."""
    widget._styles_cache.set_dirty(*regions)  # whenever the toolkit itself paints again, it paints these anew
    widget.app._display(widget.screen, Patch(pieces))


def differing(old: Line, new: Line) -> list[tuple[int, Line]]:
    """The pieces of `new` that differ, each with the cell where it begins; both lines are of one width."""
    if not (_plain(old) and _plain(new)):
        return [(0, new)]  # signs of two cells: no half of one may be left
    here, old, new = _without_ends(old, new)
    text, before = "".join(span.text for span in new), "".join(span.text for span in old)
    if len(text) != len(before):
        return [(here, new)]
    inks = [ink for span in new for ink in [span.ink] * len(span.text)]
    inks_before = [ink for span in old for ink in [span.ink] * len(span.text)]
    ranges: list[list[int]] = []
    for at, (one, other, ink, ink_before) in enumerate(zip(text, before, inks, inks_before, strict=True)):
        if one != other or ink != ink_before:
            if ranges and at - ranges[-1][1] <= GAP:
                ranges[-1][1] = at + 1
            else:
                ranges.append([at, at + 1])
    return [(here + start, _cut(new, start, stop)) for start, stop in ranges]


def _without_ends(old: Line, new: Line) -> tuple[int, Line, Line]:
    """Two lines without the spans that they have alike at either end, and the cells that stood before them."""
    first, most = 0, min(len(old), len(new))
    while first < most and old[first] == new[first]:
        first += 1
    last = 0
    while last < most - first and old[-1 - last] == new[-1 - last]:
        last += 1
    cells = sum(len(span.text) for span in new[:first])
    return cells, old[first : len(old) - last], new[first : len(new) - last]


def _plain(some: Line) -> bool:
    """Whether every sign takes one cell."""
    return all(span.text.isascii() or _single(span.text) for span in some)


@lru_cache(maxsize=4096)
def _single(text: str) -> bool:
    return all(cell_len(sign) == 1 for sign in text)


def _cut(some: Line, start: int, stop: int) -> Line:
    """The cells from `start` to `stop` (half-open) of a line in which every sign takes one."""
    found: list[Span] = []
    here = 0
    for span in some:
        first, last = max(start - here, 0), min(stop - here, len(span.text))
        if first < last:
            found.append(Span(span.text[first:last], span.ink))
        here += len(span.text)
    return tuple(found)
