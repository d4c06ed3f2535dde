"""Arguments that several commands take, and how their words are read. Light, as the parser is."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import Literal

Sides = int | tuple[int, ...]

_MOST_SIDES = 1000

# ---- reading ------------------------------------------------------------------------------------


def whole(least: int, most: int) -> Callable[[str], int]:
    """Reads a whole number within bounds."""

    def read(text: str) -> int:
        word = text.strip()
        if not (word.isascii() and word.isdigit() and len(word) <= 9 and least <= int(word) <= most):
            raise argparse.ArgumentTypeError(f"“{short(text)}” is no whole number from {least} to {most:,}")
        return int(word)

    return read


def amount(text: str) -> float:
    """Reads an amount of 0 or more, as `12`, `3.5`, `3,5`."""
    word = text.strip().replace(",", ".")
    digits = word.replace(".", "", 1)
    if not (digits.isascii() and digits.isdigit() and len(word) <= 12):
        raise argparse.ArgumentTypeError(f"“{short(text)}” is no amount, as 12 or 3.5 is")
    return float(word)


def sides(text: str) -> Sides:
    """Reads `4` (as many, as even as can be) or `6,7,6,5` (the plain ones of each)."""
    parts = [part.strip() for part in text.split(",")]
    if not all(part.isascii() and part.isdigit() and len(part) <= 9 for part in parts) or len(parts) > _MOST_SIDES:
        raise argparse.ArgumentTypeError(f"“{short(text)}” names no sides, as 4 or 6,7,6,5 do")
    numbers = tuple(int(part) for part in parts)
    return numbers[0] if len(numbers) == 1 else numbers


def short(text: str) -> str:
    """A word as a fault names it."""
    return text if len(text) <= 40 else text[:39] + "…"


# ---- arguments ----------------------------------------------------------------------------------


def add_plan(parser: argparse.ArgumentParser) -> None:
    """A plan, and the size to begin it with."""
    parser.add_argument("plan", metavar="PLAN", help="the name of a plan that ships, or a plan file")
    add_size(parser)


def add_size(parser: argparse.ArgumentParser) -> None:
    """The size to begin a plan with."""
    parser.add_argument(
        "--units", metavar="N", type=whole(1, 1_000_000), help="begin it with so many units (or beads strung)"
    )
    parser.add_argument(
        "--sides", metavar="N,N,…", type=sides, help="the plain units of each side (6,7,6,5), or how many sides (4)"
    )


def add_json(parser: argparse._ActionsContainer) -> None:
    """A document for scripts."""
    parser.add_argument("--json", action="store_true", help="for scripts: one JSON document")


def add_piece(parser: argparse.ArgumentParser) -> None:
    """A piece."""
    parser.add_argument("piece", metavar="PIECE", help="its name, the beginning of it, or its number")


def add_subject(parser: argparse.ArgumentParser, usual: str = "piece", number: Literal["?"] | None = None) -> None:
    """A plan or a piece, and which of both of one name is meant; `usual`: the one that is taken; `number`: `?` where it
    may be left out."""
    told = "a plan, as `start` takes it, or a piece by name or number"
    parser.add_argument("what", metavar="PLAN|PIECE", nargs=number, help=told)
    which = parser.add_mutually_exclusive_group()
    for sort in ("plan", "piece"):
        told = f"the {sort} is meant; of both of one name {'this' if sort == usual else 'the ' + usual} is taken"
        which.add_argument(f"--{sort}", dest="sort", action="store_const", const=sort, help=told)
    add_size(parser)


def add_figure(parser: argparse.ArgumentParser, number: Literal["?"] | None = None) -> None:
    """What every command that gives figures takes."""
    add_subject(parser, number=number)
    add_units(parser)
    add_json(parser)


def add_units(parser: argparse.ArgumentParser) -> None:
    """Inches or millimetres; else as the settings say."""
    units = parser.add_mutually_exclusive_group()
    units.add_argument("--inch", dest="units_of", action="store_const", const="inch", help="inches and ounces")
    units.add_argument("--metric", dest="units_of", action="store_const", const="metric", help="millimetres and grams")


def add_tension(parser: argparse.ArgumentParser) -> None:
    """By which tension a gauge was measured."""
    parser.add_argument("--tension", metavar="WORD", default="", help="a word of your own for it; else your usual one")
