"""The words of the command line: every command with its arguments and its help."""

from __future__ import annotations

import argparse

from stitchalong.commands.arguments import add_json, add_piece, add_plan, add_tension, whole
from stitchalong.commands.figure_words import figures
from stitchalong.commands.form_words import form
from stitchalong.commands.hearing_words import add_hearing, sound
from stitchalong.commands.line import Line
from stitchalong.commands.making_words import making
from stitchalong.commands.settings_words import settings


def command_line(wanted: str | None = None) -> Line:
    """All commands; `wanted` as `Line` has it."""
    return Line((_stitching, _looking, form, figures, making, _pieces, _keeping, sound, settings), wanted)


# ---- what can be given to several commands ------------------------------------------------------


def _telling(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--plain", action="store_true", help="line by line, never full screen")
    warn = parser.add_mutually_exclusive_group()
    warn.add_argument("--warn", metavar="N", type=whole(0, 99), help="warn so many beads ahead (default 2; 0: never)")
    warn.add_argument("--no-warnings", dest="warn", action="store_const", const=0, help="do not warn")
    parser.add_argument("--no-remarks", dest="remarks", action="store_false", help="leave the remarks out")
    add_hearing(parser)


# ---- the commands -------------------------------------------------------------------------------


def _stitching(line: Line) -> None:
    start = line.command(
        "start", "stitching", "begin a new piece from a plan", "The piece keeps a copy of the plan as it is now."
    )
    add_plan(start)
    start.add_argument("--name", metavar="NAME", help="what to call the piece; else it is called after the plan")
    _telling(start)
    go_on = line.command("go-on", "stitching", "go on with a piece", "Without a name: the one last worked on.")
    go_on.add_argument("piece", metavar="PIECE", nargs="?", help="its name, the beginning of it, or its number")
    _telling(go_on)
    go_on.add_argument(
        "--take-over", action="store_true", help="though it is open in another window; that one stops then"
    )


def _looking(line: Line) -> None:
    add_json(line.command("plans", "listings", "list the plans that ship, and your own"))
    check = line.command(
        "check",
        "plans",
        "check a plan, and count its rounds and beads",
        "Every fault is told, with the place. Where the height is left open, the usual one is counted.",
    )
    add_plan(check)
    once = check.add_mutually_exclusive_group()
    once.add_argument("--watch", action="store_true", help="check it again each time the file is saved, until Ctrl-C")
    add_json(once)
    course = line.command("course", "plans", "print a plan's rounds, as they are stitched")
    add_plan(course)
    how = course.add_mutually_exclusive_group()
    how.add_argument("--in-full", action="store_true", help="as a plan that writes out every round, fit to be read")
    add_json(how)
    line.command("schema", "plans", "print the JSON schema of a plan", "Editors check and complete a plan by it.")


def _pieces(line: Line) -> None:
    pieces = line.command("pieces", "listings", "list the pieces")
    pieces.add_argument("--all", action="store_true", help="also those put away")
    add_json(pieces)
    rename = line.command("rename", "pieces", "give a piece another name")
    add_piece(rename)
    rename.add_argument("name", metavar="NAME", help="the new name")
    finish = line.command(
        "finish",
        "pieces",
        "call a piece finished",
        "`go-on` opens it again. What you measured makes your gauge better.",
    )
    add_piece(finish)
    finish.add_argument("--size", metavar="SIZE", help="the ring size it came out at: “US 7”, “54.4 mm”")
    finish.add_argument(
        "--thread", metavar="LENGTH", help="all the thread it took: what was cut, less what was left over"
    )
    add_tension(finish)
    away = line.command("put-away", "pieces", "take a piece off the list", "`go-on` brings it back; nothing is lost.")
    add_piece(away)
    remove = line.command("remove", "pieces", "remove a piece for good; asks first")
    add_piece(remove)
    remove.add_argument("--yes", action="store_true", help="do not ask")
    replan = line.command(
        "replan",
        "changed",
        "go on with a piece by its changed plan; asks first",
        "It tells from where on the plan differs, and keeps the place where all that is done is the same.",
    )
    add_piece(replan)
    replan.add_argument("plan", metavar="PLAN", help="the changed plan: its file, or its name")
    replan.add_argument("--yes", action="store_true", help="do not ask")
    add_piece(line.command("watch", "changed", "see what another window does with a piece"))


def _keeping(line: Line) -> None:
    add_json(line.command("where", "listings", "tell where files are kept"))
    export = line.command("export", "keeping", "write a piece into one file", "To keep it, or carry it elsewhere.")
    add_piece(export)
    export.add_argument("file", metavar="FILE", help="the file to write")
    export.add_argument("--replace", action="store_true", help="also where there is such a file already")
    into = line.command(
        "import", "keeping", "take in a piece that `export` wrote", "A second time does no harm; nothing is taken back."
    )
    into.add_argument("file", metavar="FILE", help="the file to read")
    into.add_argument("--as-new", action="store_true", help="as another piece, though it is here already")
    copies = line.command(
        "copies", "keeping", "list the copies of all pieces", "One is made by itself on each day of stitching."
    )
    copies.add_argument("--now", action="store_true", help="make one now")
    add_json(copies)
    restore = line.command(
        "restore",
        "keeping",
        "bring a copy of all pieces back; asks first",
        "What is there now is set aside, not lost.",
    )
    restore.add_argument("copy", metavar="COPY", nargs="?", help="its number in `copies`, or its name; else the newest")
    restore.add_argument("--yes", action="store_true", help="do not ask")
