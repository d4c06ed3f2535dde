"""The words of the commands that make something to hand out, or a plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stitchalong.commands.arguments import add_subject, add_units, whole

if TYPE_CHECKING:
    from stitchalong.commands.line import Line

KINDS = ("html", "pdf", "md", "txt", "svg")


def making(line: Line) -> None:
    """`new` and `sheet`."""
    new = line.command(
        "new",
        "new",
        "make a plan by answering questions",
        "What it comes to is shown before it is written; no file is written over without asking.",
    )
    new.add_argument("file", metavar="FILE", nargs="?", help="the plan file to write; else it is asked for at the end")
    sheet = line.command(
        "sheet",
        "sheets",
        "make a sheet to hand out or print: materials, picture, every round with a box to tick",
        "Without --out it is written to the output. For a PDF the extra [pdf] is needed.",
    )
    add_subject(sheet, usual="plan")
    add_units(sheet)
    sheet.add_argument("--out", metavar="FILE", help="the file to write; its ending says the kind")
    sheet.add_argument("--as", dest="kind", choices=KINDS, help="the kind; else by the ending of --out, else txt")
    sheet.add_argument("--replace", action="store_true", help="also where there is such a file already")
    sheet.add_argument("--paper", choices=("a4", "letter"), default="a4", help="for html and pdf; a4 is usual")
    hand = sheet.add_mutually_exclusive_group()
    hand.add_argument("--left-handed", dest="hand", action="store_const", const="left", help="mirrored")
    hand.add_argument(
        "--right-handed", dest="hand", action="store_const", const="right", help="else as in the settings"
    )
    sheet.add_argument("--large", action="store_true", help="large print, for html and pdf")
    sheet.add_argument("--font", metavar="FILE", help="a .ttf or .otf file for a pdf in letters other than Latin ones")
    sheet.add_argument(
        "--class", dest="people", metavar="K", type=whole(1, 500), help="instead: what a class of so many needs"
    )
