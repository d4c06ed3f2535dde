"""A chart as SVG: every bead exactly one `rect` with its number; nothing of a plan's text is ever markup."""

from __future__ import annotations

from collections.abc import Mapping
from xml.sax.saxutils import escape, quoteattr

from stitchalong.chart.model import Bead, Chart, State

SCALE = 12
"""user units a bead"""
_FAINT = "0.28"
_STYLE = (
    ".bead{stroke:#222;stroke-width:.08}"
    f".coming{{fill-opacity:{_FAINT};stroke-opacity:.45}}"
    ".next{stroke:#d0006f;stroke-width:.28}"
    "text{font-family:sans-serif;font-size:.62px;text-anchor:middle;dominant-baseline:central}"
    ".label{text-anchor:start;font-size:.95px}"
)


def svg(
    chart: Chart,
    colours: Mapping[str, str],
    *,
    done: int | None = None,
    letters: bool = False,
    names: Mapping[str, str] | None = None,
) -> str:
    """The drawing as one well-formed document that stands alone. `colours`: `#rrggbb` by code.

    `done`: so many beads are shown as laid, the next one marked, the others faint; None: all as laid. `letters`: the
    code on every bead. `names`: of the beads, for the description.
    """
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_number(chart.width)} {_number(chart.height)}" '
        f'width="{_number(chart.width * SCALE)}" height="{_number(chart.height * SCALE)}" role="img">',
        f"<title>{_text(chart.title)}</title>",
        f"<desc>{_text(_description(chart, done, names or {}))}</desc>",
        f"<style>{_STYLE}</style>",
    ]
    for label in chart.labels:
        lines.append(f'<text class="label" x="{_number(label.x)}" y="{_number(label.y)}">{_text(label.text)}</text>')
    laid = len(chart.beads) if done is None else done
    for bead in chart.beads:
        lines.append(_rect(bead, chart.state(bead, laid), colours.get(bead.code, "#808080")))
        if letters:
            lines.append(_letter(bead, colours.get(bead.code, "#808080"), chart.state(bead, laid)))
    lines.append("</svg>\n")
    return "\n".join(lines)


def _rect(bead: Bead, state: State, colour: str) -> str:
    width, height = bead.width * 0.94, bead.height * 0.94
    turned = f' transform="rotate({_number(bead.turn)} {_number(bead.x)} {_number(bead.y)})"' if bead.turn else ""
    mark = "" if state is State.DONE else f" {state.value}"
    return (
        f'<rect class="bead{mark}" id="b{bead.number}" x="{_number(bead.x - width / 2)}" '
        f'y="{_number(bead.y - height / 2)}" width="{_number(width)}" height="{_number(height)}" rx="0.18" '
        f"fill={quoteattr(colour)}{turned}/>"
    )


def _letter(bead: Bead, colour: str, state: State) -> str:
    ink = "#000" if state is State.COMING or is_light(colour) else "#fff"
    return f'<text x="{_number(bead.x)}" y="{_number(bead.y)}" fill="{ink}">{_text(bead.code)}</text>'


def is_light(colour: str) -> bool:
    """Whether black is read better on this colour than white: by relative luminance (WCAG 2.2), the two contrasts are
    equal at 0.179."""
    try:
        parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    except ValueError:
        return True
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue > 0.179


def _description(chart: Chart, done: int | None, names: Mapping[str, str]) -> str:
    counts: dict[str, int] = {}
    for bead in chart.beads:
        counts[bead.code] = counts.get(bead.code, 0) + 1
    listed = ", ".join(f"{count} {code} {names.get(code, '')}".rstrip() for code, count in sorted(counts.items()))
    laid = "" if done is None else f"; {done} laid"
    return f"{len(chart.beads)} beads: {listed}{laid}"


def _text(text: str) -> str:
    return escape("".join(char for char in text if char.isprintable()))


def _number(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".") or "0"
