"""Which ink is read on a colour."""

from __future__ import annotations

from stitchalong.chart.svg import is_light


def ink_on(colour: str) -> str:
    """`#000000` or `#ffffff`, whichever is read better on this `#rrggbb`."""
    return "#000000" if is_light(colour) else "#ffffff"


def rgb(colour: str) -> tuple[int, int, int]:
    """`#rrggbb` as three numbers from 0 to 255."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)
