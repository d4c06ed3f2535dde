"""What a command is, the groups that it may belong to, and where it may be asked for."""

from __future__ import annotations

from typing import Literal

from stitchalong.values import value

Scope = Literal["stitching", "watching", "home", "plain"]


@value
class Command:
    """One command."""

    id: str
    title: str
    """what it does, in a few words; also its name in the palette"""
    help: str
    """one or two sentences"""
    group: str
    keys: tuple[str, ...] = ()
    """the first is the one that is shown"""
    footer: str = ""
    """its word in the footer; empty: it is not shown there"""
    word: str = ""
    """what is typed for it in the line-by-line front end; empty: it has no place there"""
    counts: bool = False
    """whether a number before it repeats it, or gives it its amount"""
    scopes: tuple[Scope, ...] = ("stitching", "plain")
    more: bool = False
    """what is typed behind its word in the line-by-line front end belongs to it"""
    also: str = ""
    """other words that people look for it by; never shown"""


COUNTING = "Counting"
BACK = "Going back"
PLACE = "Finding your place"
CHOOSING = "Choosing"
SHOWING = "Showing and telling"
PROGRAM = "The program"
PIECES = "Pieces and plans"

GROUPS = (COUNTING, BACK, PLACE, CHOOSING, SHOWING, PROGRAM, PIECES)

ALL: tuple[Scope, ...] = ("stitching", "watching", "home", "plain")
HOME: tuple[Scope, ...] = ("home",)
PLAIN: tuple[Scope, ...] = ("plain",)
SCREEN: tuple[Scope, ...] = ("stitching",)
SEEN: tuple[Scope, ...] = ("stitching", "watching")
TOLD: tuple[Scope, ...] = ("stitching", "watching", "plain")
WATCHING: tuple[Scope, ...] = ("watching",)
