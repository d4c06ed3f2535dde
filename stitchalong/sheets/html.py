"""A document as HTML that stands alone: one file, its style and picture within, made to be printed."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterator, Mapping
from html import escape

from stitchalong.chart import svg
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
    Sort,
    Step,
    Steps,
    count_words,
    side_words,
)
from stitchalong.sheets.ink import ink_on
from stitchalong.sheets.paper import MOST_BEAD, Paper

_KEPT = 6
"""items of a list that stay on one page"""

_STYLE = """
@page { size: %(width)gmm %(height)gmm; margin: 16mm 15mm 18mm;
  @bottom-right { content: counter(page) " / " counter(pages); } }
* { box-sizing: border-box; }
html { font: %(points)gpt/1.45 sans-serif; color: #111; background: #fff; }
body { margin: 0 auto; max-width: 46em; padding: 0 1em; }
h1 { font-size: 1.9em; margin: 0.4em 0 0.2em; border-bottom: 3px solid #111; }
h2 { font-size: 1.25em; margin: 1.4em 0 0.4em; border-bottom: 1px solid #777; break-after: avoid; }
p, ul, ol { margin: 0.4em 0; }
li { margin: 0.2em 0; break-inside: avoid; }
table { border-collapse: collapse; margin: 0.6em 0; break-inside: avoid; }
th, td { text-align: left; vertical-align: top; padding: 0.2em 0.7em 0.2em 0; border-bottom: 1px solid #bbb; }
th.right, td.right { text-align: right; }
tr { break-inside: avoid; }
tbody th, td.right { white-space: nowrap; }
thead { display: table-header-group; }
tfoot td { font-weight: bold; border-bottom: 0; }
.letter { display: inline-block; min-width: 1.7em; padding: 0.05em 0.3em; text-align: center; font-weight: bold;
  border: 1px solid #222; border-radius: 0.3em; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
figure { margin: 0.8em auto; text-align: center; break-inside: avoid; }
figure svg { width: 100%%; height: auto; max-width: 100%%; max-height: 110mm;
  print-color-adjust: exact; -webkit-print-color-adjust: exact; }
.keep { break-inside: avoid; }
h2 + p { break-after: avoid; }
.steps { list-style: none; padding: 0; margin: 0.6em 0; }
.step { display: grid; grid-template-columns: 1.7em 1fr; padding: 0.35em 0; border-bottom: 1px solid #bbb;
  break-inside: avoid; }
.box { display: inline-block; width: 1em; height: 1em; border: 1.5px solid #111; border-radius: 0.15em;
  vertical-align: -0.12em; }
.count { color: #333; margin-left: 0.5em; white-space: nowrap; }
.notation { font-size: 1.12em; font-weight: bold; margin: 0.1em 0; overflow-wrap: anywhere; }
.steps.short { display: grid; grid-template-columns: repeat(3, 1fr); column-gap: 1.5em; }
.short .step > div { display: grid; grid-template-columns: auto 1fr; column-gap: 0.8em; align-items: baseline; }
.short b { white-space: nowrap; }
.short .notation { margin: 0; }
.short .count { grid-row: 2; grid-column: 1 / 3; margin: 0; font-size: 0.9em; }
.step > div { position: relative; }
.codes { position: absolute; top: 0; right: 0; font-size: 0.9em; }
.codes .letter { min-width: 1.4em; padding: 0; margin-left: 0.7em; }
.sides > span { display: inline-block; margin-right: 1.1em; white-space: nowrap; }
.note { margin: 0.1em 0; }
.mind { border-left: 3px solid #111; padding-left: 0.5em; }
.sort { font-variant: small-caps; font-weight: bold; }
@media print { body { max-width: none; padding: 0; } }
@media screen { body { padding-bottom: 3em; } }
"""


def as_html(document: Document, paper: Paper, *, large: bool = False) -> str:
    """One file. `large`: large print."""
    style = _STYLE % {"width": paper.width, "height": paper.height, "points": 15.0 if large else 10.5}
    body = "\n".join(line for block in document.blocks for line in _block(block))
    title = text(document.title)
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta name="viewport" content="width=device-width, initial-scale=1">\n<title>{title}</title>\n'
        f"<style>{style}</style>\n</head>\n<body>\n<main>\n<h1>{title}</h1>\n{body}\n</main>\n</body>\n</html>\n"
    )


def text(words: str) -> str:
    """Words of a plan, harmless and escaped."""
    return escape(clean(words), quote=True)


def _block(block: Block) -> Iterator[str]:
    match block:
        case Heading(words):
            yield f"<h2>{text(words)}</h2>"
        case Paragraph(words):
            yield f"<p>{text(words)}</p>"
        case Items(texts, numbered):
            tag = "ol" if numbered else "ul"
            yield f'<{tag} class="keep">' if len(texts) <= _KEPT else f"<{tag}>"
            yield from (f"<li>{text(words)}</li>" for words in texts)
            yield f"</{tag}>"
        case Grid():
            yield from _grid(block)
        case Picture(chart, colours, names, letters):
            drawn = svg(chart, colours, letters=letters, names=names)
            style = f"max-width:{chart.width * MOST_BEAD:.0f}mm"
            yield f'<figure style="{style}">{drawn[drawn.index("<svg") :].strip()}</figure>'
        case Photo(png, across, title, told):
            data = b64encode(png).decode("ascii")
            image = f'<img style="width:{across:.0f}mm" alt="{text(title)}" src="data:image/png;base64,{data}">'
            yield f"<figure>{image}<figcaption>{text(told)}</figcaption></figure>"
        case Steps():
            for short, group in block.groups():
                yield f'<ol class="steps{" short" if short else ""}">'
                for step in group:
                    yield from _step(step, block.colours)
                yield "</ol>"


def _grid(grid: Grid) -> Iterator[str]:
    yield "<table>"
    if any(grid.head):
        cells = (f'<th scope="col"{_right(grid, at)}>{text(cell)}</th>' for at, cell in enumerate(grid.head))
        yield f"<thead><tr>{''.join(cells)}</tr></thead>"
    yield "<tbody>"
    for nth, row in enumerate(grid.rows):
        colour = grid.colours[nth] if grid.colours else ""
        yield f"<tr>{''.join(_cell(grid, at, cell, colour) for at, cell in enumerate(row))}</tr>"
    yield "</tbody>"
    if grid.foot:
        foot = (f"<td{_right(grid, at)}>{text(cell)}</td>" for at, cell in enumerate(grid.foot))
        yield f"<tfoot><tr>{''.join(foot)}</tr></tfoot>"
    yield "</table>"


def _cell(grid: Grid, at: int, cell: str, colour: str) -> str:
    if at == 0 and colour:
        return f"<td>{_chip(cell, colour)}</td>"
    if at == 0:
        return f'<th scope="row"{_right(grid, at)}>{text(cell)}</th>'
    return f"<td{_right(grid, at)}>{text(cell)}</td>"


def _right(grid: Grid, at: int) -> str:
    return ' class="right"' if at in grid.right else ""


def _step(step: Step, colours: Mapping[str, str]) -> Iterator[str]:
    yield '<li class="step"><span class="box"></span><div>'
    yield f'<b>{text(step.title)}</b><span class="count">{text(count_words(step))}</span>'
    chips = "".join(f"{_chip(code, colours.get(code, ''))} {count:,}" for code, count in step.codes)
    yield f'<div class="notation">{text(step.notation)}</div>'
    if chips:
        yield f'<div class="codes">{chips}</div>'
    if step.sides:
        boxes = (f'<span><span class="box"></span> {side}</span>' for side in side_words(step))
        yield f'<div class="sides">sides: {"".join(boxes)}</div>'
    yield from (_note(note) for note in step.notes)
    yield "</div></li>"


def _chip(code: str, colour: str) -> str:
    style = f' style="background:{text(colour)};color:{ink_on(colour)}"' if colour else ""
    return f'<span class="letter"{style}>{text(code)}</span>'


def _note(note: Note) -> str:
    more = " mind" if note.sort in (Sort.MIND, Sort.THREAD) else ""
    return f'<div class="note{more}"><span class="sort">{note.sort}:</span> {text(note.text)}</div>'
