"""A document as plain text, and as Markdown."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator, Sequence

from stitchalong.plan.text import clean
from stitchalong.sheets.blocks import (
    Block,
    Document,
    Grid,
    Heading,
    Items,
    Note,
    Paragraph,
    Photo,
    Picture,
    Step,
    Steps,
    code_words,
    count_words,
    side_words,
)

WIDTH = 78
_TOO_WIDE = 100

# ---- plain --------------------------------------------------------------------------------------


def as_text(document: Document) -> str:
    """Plain text, at most 78 wide where words allow; boxes are `[ ]`."""
    lines = [clean(document.title), "=" * len(clean(document.title))]
    for block in document.blocks:
        lines += ["", *_plain(block)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _plain(block: Block) -> Iterator[str]:
    match block:
        case Heading(text):
            yield clean(text).upper()
        case Paragraph(text):
            yield from _wrapped(clean(text))
        case Items(texts, numbered):
            for nth, text in enumerate(texts, start=1):
                yield from _wrapped(clean(text), f"{nth}. " if numbered else "- ")
        case Grid():
            yield from _plain_grid(block)
        case Picture(chart):
            yield f"(The picture of {len(chart.beads):,} beads is in the other kinds of sheet;"
            yield "`stitchalong form PLAN` shows the piece in three dimensions.)"
        case Photo():
            yield f"({clean(block.told)} It is in the sheets as HTML and PDF.)"
        case Steps(steps):
            for step in steps:
                yield from _plain_step(step)


def _wrapped(text: str, mark: str = "") -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=mark, subsequent_indent=" " * len(mark)) or [mark]


def _plain_grid(grid: Grid) -> Iterator[str]:
    rows = [row for row in (grid.head, *grid.rows, grid.foot) if any(row)]
    cells = [[clean(cell) for cell in row] for row in rows]
    widths = [max(len(row[column]) for row in cells) for column in range(len(cells[0]))]
    if sum(widths) + 2 * len(widths) > _TOO_WIDE:
        for row in cells:
            first, *more = (cell for cell in row if cell)
            yield from _wrapped(f"{first}: {'; '.join(more)}", "- ")
        return
    for row in cells:
        yield "  ".join(
            cell.rjust(widths[at]) if at in grid.right else cell.ljust(widths[at]) for at, cell in enumerate(row)
        ).rstrip()


def _plain_step(step: Step) -> Iterator[str]:
    codes = f": {clean(code_words(step))}" if step.codes else ""
    yield from _wrapped(f"{clean(step.title)} ({count_words(step)}){codes}", "[ ] ")
    yield from ("    " + line for line in _notation_lines(step.notation))
    if step.sides:
        yield from (
            "    " + line for line in _wrapped("sides " + "  ".join(f"[ ] {side}" for side in side_words(step)))
        )
    yield from ("    " + line for note in step.notes for line in _wrapped(_said(note)))
    yield ""


def _notation_lines(text: str) -> list[str]:
    return textwrap.wrap(clean(text), WIDTH - 4) or [""]


def _said(note: Note) -> str:
    return f"{note.sort}: {clean(note.text)}"


# ---- Markdown -----------------------------------------------------------------------------------

_SIGNS = re.compile(r"([\\`*_{}\[\]<>#|~!&])")
# Of a number only what would begin a list (CommonMark 0.31, 5.2): a decimal stays as it is.
_BEGINS = re.compile(r"^(\s*)(\d+)([.)])(?=\s|$)|^(\s*)([-+=])")


def as_markdown(document: Document) -> str:
    """Markdown with tables and task boxes; nothing of a plan's text is markup."""
    lines = [f"# {md(document.title)}"]
    for block in document.blocks:
        lines += ["", *_marked(block)]
    return "\n".join(lines) + "\n"


def md(text: str) -> str:
    """A text in which no sign has a meaning."""
    text = _SIGNS.sub(r"\\\1", clean(text))
    return _BEGINS.sub(lambda found: f"{found[2]}\\{found[3]}" if found[2] else f"\\{found[5]}", text)


def _marked(block: Block) -> Iterator[str]:
    match block:
        case Heading(text):
            yield f"## {md(text)}"
        case Paragraph(text):
            yield md(text)
        case Items(texts, numbered):
            yield from (f"{f'{nth}.' if numbered else '-'} {md(text)}" for nth, text in enumerate(texts, start=1))
        case Grid():
            yield from _marked_grid(block)
        case Picture(chart):
            picture = f"The picture of {len(chart.beads):,} beads: `stitchalong sheet PLAN --as svg`"
            yield f"*({picture}; the piece in three dimensions: `stitchalong form PLAN --png FILE`.)*"
        case Photo():
            yield f"*({md(block.told)} It is in the sheets as HTML and PDF.)*"
        case Steps(steps):
            for step in steps:
                yield from _marked_step(step)


def _marked_grid(grid: Grid) -> Iterator[str]:
    yield _row(grid.head)
    yield "|" + "|".join(" ---: " if at in grid.right else " --- " for at in range(len(grid.head))) + "|"
    yield from (_row(row) for row in grid.rows)
    if grid.foot:
        yield _row(grid.foot)


def _row(cells: Sequence[str]) -> str:
    return "| " + " | ".join(md(cell) for cell in cells) + " |"


def _marked_step(step: Step) -> Iterator[str]:
    codes = f": {md(code_words(step))}" if step.codes else ""
    yield f"- [ ] **{md(step.title)}** ({md(count_words(step))}){codes}  "
    yield f"  {md(step.notation)}"
    yield from (f"  - [ ] side of {side}" for side in side_words(step))
    yield from (f"  - *{note.sort}:* {md(note.text)}" for note in step.notes)
