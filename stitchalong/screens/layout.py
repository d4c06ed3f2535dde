"""Where the parts of the stitching screen go, at any size: less is shown on a smaller one, nothing is cut in half."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.screens import parts
from stitchalong.screens.glyphs import LOW, TALL, Glyphs
from stitchalong.screens.lines import BLANK, Line, fit, inset, line, wrapped
from stitchalong.screens.thread_strip import caption, strip
from stitchalong.screens.view import View
from stitchalong.settings.commands import commands
from stitchalong.values import value

WIDE = 60
"""cells from which there is room for names and leads"""

HIGH = 20
"""rows from which the number is five rows high"""

GAPS = 2
"""blank rows above a block at most"""


@value
class Block:
    """A part in its place, from top to bottom."""

    lines: Sequence[Line]
    keep: int
    """the higher, the longer it stays where there is little room"""
    rows: int = 0
    """kept free for it, so that what lies below does not jump; given up before any part goes"""
    gap: int = 0
    """how early it gets a blank row above it where there is room; 0: never"""

    @property
    def height(self) -> int:
        return max(len(self.lines), self.rows)


def needle_at(width: int) -> int:
    """The cell of the needle: the eye finds it always at the same place."""
    return width * 2 // 5


def thread_room(width: int) -> tuple[int, int]:
    """How many steps of thread are seen at most behind the needle and ahead of it; a bead takes two cells or three."""
    at = needle_at(width)
    return at // 2 + 1, (width - at) // 2 + 1


def paint(view: View, width: int, height: int, glyphs: Glyphs) -> tuple[Line, ...]:
    """The whole screen: exactly `height` lines of exactly `width` cells."""
    if view.showing.large:
        blocks = _large(view, width, height, glyphs)
    elif width >= WIDE and height >= HIGH:
        blocks = _roomy(view, width, height, glyphs)
    else:
        blocks = _small(view, width, height, glyphs)
    return stack(blocks, width, height)


def stack(blocks: Sequence[Block], width: int, height: int) -> tuple[Line, ...]:
    """Fit blocks to the height: free rows go first, then the blocks that matter least."""
    kept = list(blocks)
    free = {id(block): max(0, block.rows - len(block.lines)) for block in kept}

    def total() -> int:
        return sum(len(block.lines) + free[id(block)] for block in kept)

    for block in sorted(kept, key=lambda block: block.keep):
        excess = total() - height
        if excess <= 0:
            break
        free[id(block)] -= min(free[id(block)], excess)
    while total() > height and len(kept) > 1:
        kept.remove(min((block for block in kept if block.lines), key=lambda block: block.keep))
    spare = max(0, height - total())
    order = sorted((block for block in kept if block.gap and block.height), key=lambda block: block.gap)
    above = dict.fromkeys((id(block) for block in kept), 0)
    for block in (order * GAPS)[:spare]:
        above[id(block)] += 1
    above[id(kept[-1])] += spare - sum(above.values())
    lines: list[Line] = []
    for block in kept:
        lines += [*[BLANK] * above[id(block)], *block.lines, *[BLANK] * free[id(block)]]
    return tuple(fit(some, width) for some in lines[:height])


def _small(view: View, width: int, height: int, glyphs: Glyphs) -> list[Block]:
    """For 40 x 12 and the like: one glance at the number, the warning, the sentence, the thread."""
    alarm = parts.alarm(view, width, glyphs, 2)
    ahead = alarm or parts.coming_up(view, width, most=2)
    if len(alarm) == 1:
        ahead = (
            [*alarm, *parts.coming_up(view, width, lead=("", ""), most=2)[-1:]] if _then_fits(view, width) else alarm
        )
    note = _note(view, width, glyphs, 1)
    if view.outlook.decision is not None:
        # header and footer stay, so that it is seen where one is and which keys lead on
        middle, ahead = parts.question(view, width, height - LOW - 2 - len(note)), []
    elif view.outlook.done:
        middle = _ending(view, width)
    else:
        middle = parts.now(view, width, brief=True)
    return [
        Block([parts.place(view, width)], 80),
        Block(parts.number(view, width, glyphs, LOW, with_place=False), 100),
        Block(ahead, 98, rows=2),
        Block(middle, 99, rows=3),
        Block(_thread(view, width, glyphs, captioned=False), 60, rows=1),
        Block(
            note or [parts.tray(view, width, glyphs)],
            97 if view.showing.message else 55,
            rows=1,
        ),
        Block([parts.footer(parts.keys_now(view, _footer(view)), width)], 70, rows=1),
    ]


def _then_fits(view: View, width: int) -> bool:
    """Whether the special action after the one warned of can stand in one line."""
    after = view.outlook.after if view.warning is not None and view.warning.level == "heads-up" else view.outlook.next
    return after is not None and len(parts.special_words(after)) <= width


def _roomy(view: View, width: int, height: int, glyphs: Glyphs) -> list[Block]:
    """For 80 x 24 and up."""
    inner = width - 2 * parts.MARGIN
    outlook = view.outlook
    ahead: list[Line] = []
    if outlook.decision is not None:
        middle = parts.question(view, inner, height - TALL - 9)
    elif outlook.done:
        middle = _ending(view, inner)
    else:
        middle = parts.now(view, inner, lead="now   ")
        ahead = parts.coming_up(view, inner, lead=("next  ", "then  "))
    quiet = outlook.done
    remarks = parts.remarks(view, inner, 4 if height < 30 else 8, lead="remark  ")
    note = [_message(view, inner, glyphs)] if view.showing.count else _message_lines(view, inner)
    return [
        Block([parts.header(view, width, glyphs)], 30, rows=1),
        Block([line(glyphs.rule * width, "rest")], 20, rows=1),
        Block(parts.number(view, width, glyphs, TALL), 100, gap=2),
        Block(parts.alarm(view, width, glyphs, 3), 98, rows=3),
        Block(_inset(middle), 99, rows=2, gap=5),
        Block(_inset(ahead), 75, rows=2, gap=6),
        Block(_thread(view, width, glyphs, captioned=True), 60, rows=2, gap=3),
        Block(_inset(parts.comes_out(view, inner)), 45, rows=2 if width < 100 else 1, gap=8),
        Block(
            _inset([parts.tray(view, inner, glyphs, lead=f"this {view.word}  ")]) if not quiet else [],
            50,
            rows=1,
            gap=7,
        ),
        Block(_inset(remarks), 65, rows=2, gap=4),
        Block(_inset(note), 97, rows=1, gap=9),
        Block(_inset([parts.progress(view, inner, glyphs)]), 40, rows=1, gap=10),
        Block(_inset([parts.footer(parts.keys_now(view, _footer(view)), inner)]), 70, rows=1, gap=11),
    ]


def _large(view: View, width: int, height: int, glyphs: Glyphs) -> list[Block]:
    """Only the number, now and next, as large as they can be."""
    times = max(1, min((height - 9) // TALL, (width - 26) // 27))
    rows = TALL * times if height >= 14 and width >= WIDE else LOW
    brief = width < WIDE
    middle = parts.question(view, width) or (_ending(view, width) if view.outlook.done else None)
    return [
        Block(parts.number(view, width, glyphs, rows), 100),
        Block(parts.alarm(view, width, glyphs, 3 if height >= HIGH else 2), 98, rows=2),
        Block(middle or parts.now(view, width, brief=brief), 99, rows=2, gap=1),
        Block([] if middle else parts.coming_up(view, width), 75, rows=2, gap=2),
        Block(_note(view, width, glyphs, 2), 97, rows=1),
    ]


def _inset(lines: Sequence[Line]) -> list[Line]:
    return [inset(some) for some in lines]


def _thread(view: View, width: int, glyphs: Glyphs, *, captioned: bool) -> list[Line]:
    at = needle_at(width)
    lines = [strip(view.laid, view.coming, width, at, glyphs)]
    return [*lines, caption(at, width, glyphs)] if captioned else lines


def _message(view: View, width: int, glyphs: Glyphs) -> Line:
    return parts.typed(view, glyphs)


def _message_lines(view: View, width: int) -> list[Line]:
    return wrapped(view.showing.message, width, "message") if view.showing.message else []


def _note(view: View, width: int, glyphs: Glyphs, rows: int) -> list[Line]:
    """The one thing that is worth the last rows: a count being typed, a message, a remark."""
    if view.showing.unkept and view.showing.large:
        return [line(parts.NOT_KEPT, "strong")]
    if view.showing.count:
        return [_message(view, width, glyphs)]
    return _message_lines(view, width) or parts.remarks(view, width, rows)


def _footer(view: View) -> list[tuple[str, str]]:
    return parts.footer_items(commands(view.showing.scope, view.showing.commands))


def _ending(view: View, width: int) -> list[Line]:
    lines: list[Line] = []
    for nth, text in enumerate(parts.ending(view)[: 4 if width >= WIDE else 2]):
        lines += wrapped(text, width, "text" if nth else "strong")
    return lines
