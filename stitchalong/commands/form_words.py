"""The words of the command that shows a form."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import TYPE_CHECKING

from stitchalong.commands.arguments import add_subject, short, whole

if TYPE_CHECKING:
    from stitchalong.commands.line import Line


def form(line: Line) -> None:
    """`form`."""
    form = line.command(
        "form",
        "form",
        "show what a piece will look like, in three dimensions",
        "In the terminal, or as files. A piece is shown as far as it is stitched. It is one likely form, reckoned from"
        " the stitches and the beads' measures: no ring size is taken from it.",
    )
    add_subject(form)
    form.add_argument("--png", metavar="FILE", help="write a picture")
    form.add_argument("--svg", metavar="FILE", help="write a drawing that stays sharp at any size")
    form.add_argument("--ply", metavar="FILE", help="write a mesh for other programs, in millimetres")
    form.add_argument("--replace", action="store_true", help="also where there is such a file already")
    far = form.add_mutually_exclusive_group()
    far.add_argument("--round", metavar="N", type=whole(1, 1_000_000), help="when so many rounds are done, as worked")
    far.add_argument("--whole", action="store_true", help="of a piece: all of it, as it will be")
    form.add_argument("--turn", metavar="DEGREES", type=degrees(180), help="about its own axis, from -180 to 180")
    form.add_argument("--tilt", metavar="DEGREES", type=degrees(90), help="90 looks down on it, 0 from the side")
    form.add_argument("--pixels", metavar="N", type=whole(16, 4000), default=900, help="of a picture (default 900)")
    form.add_argument("--letters", action="store_true", help="in the terminal: each bead by its code, without colour")


def degrees(most: int) -> Callable[[str], int]:
    """Reads whole degrees within bounds."""

    def read(text: str) -> int:
        word = text.strip()
        digits = word.removeprefix("-")
        if not (digits.isascii() and digits.isdigit() and len(digits) <= 3 and int(digits) <= most):
            raise argparse.ArgumentTypeError(f"“{short(text)}” is no whole number from -{most} to {most}")
        return int(word)

    return read
