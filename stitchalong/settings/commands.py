"""Each thing that a person can ask for, defined once: name, words, keys.

Keys, footer, help, palette and the words of the line-by-line front end are all made from this list, so that
they cannot drift apart. Keys are named as terminals' toolkits name them; only such are used as reach a program
everywhere, and the first of each needs no shift key.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Scope = Literal["stitching", "home", "plain"]


@dataclass(frozen=True, slots=True)
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


COUNTING = "Counting"
BACK = "Going back"
PLACE = "Finding your place"
CHOOSING = "Choosing"
SHOWING = "Showing and telling"
PROGRAM = "The program"
PIECES = "Pieces and plans"

GROUPS = (COUNTING, BACK, PLACE, CHOOSING, SHOWING, PROGRAM, PIECES)

_ALL: tuple[Scope, ...] = ("stitching", "home", "plain")
_HOME: tuple[Scope, ...] = ("home",)
_PLAIN: tuple[Scope, ...] = ("plain",)
_SCREEN: tuple[Scope, ...] = ("stitching",)

COMMANDS: tuple[Command, ...] = (
    Command(
        "bead",
        "One bead",
        "Count one bead, or one action without a bead (a step-up, a pass). A number before it counts so many.",
        COUNTING,
        ("space", "pagedown", "right"),
        footer="bead",
        word="bead",
        counts=True,
    ),
    Command(
        "stitch",
        "Finish the stitch",
        "Count all beads that are left of this stitch. A number before it finishes so many stitches.",
        COUNTING,
        ("enter",),
        footer="stitch",
        word="stitch",
        counts=True,
    ),
    Command(
        "back",
        "Back one bead",
        "Take back the last bead or action; a choice made just here is taken back first.",
        BACK,
        ("backspace", "pageup", "left"),
        footer="back",
        word="back",
        counts=True,
    ),
    Command(
        "back_stitch",
        "Back one stitch",
        "Take back to the start of the last stitch.",
        BACK,
        ("t",),
        word="back stitch",
        counts=True,
    ),
    Command(
        "back_side",
        "Back to the start of the side",
        "Take back to where this side began; it first says what that takes.",
        BACK,
        ("s",),
        word="back side",
        counts=True,
    ),
    Command(
        "back_round",
        "Back to the start of the round",
        "Take back to where this round began; it first says what that takes.",
        BACK,
        ("r",),
        word="back round",
        counts=True,
    ),
    Command(
        "back_part",
        "Back to the start of the part",
        "Take back to where the band, the rounds of this edge or this part began; it first says what that takes.",
        BACK,
        word="back part",
        counts=True,
    ),
    Command(
        "take_out",
        "Beads taken out",
        "You have taken beads out of the work: say how many. Presses that came in a burst go back in one go here, too.",
        BACK,
        ("delete",),
        scopes=_SCREEN,
        counts=True,
    ),
    Command(
        "again",
        "Do again",
        "Do again what was last taken back, bead by bead.",
        BACK,
        ("a",),
        word="again",
        counts=True,
    ),
    Command(
        "all_again",
        "Do all again",
        "Return to where the taking back began.",
        BACK,
        ("e",),
        word="all again",
    ),
    Command(
        "go_to",
        "Go to a place",
        "Go to a round, a side and a bead. Also for a piece that was begun before it was counted here.",
        PLACE,
        ("g",),
        footer="go to",
        word="go to",
    ),
    Command(
        "find",
        "Find my place",
        "From the last beads on the thread, or what else you see, find the places that fit, and go to one.",
        PLACE,
        ("f",),
        scopes=_SCREEN,
    ),
    Command(
        "recount",
        "Recount",
        "Type the number counted in the hand: what may have happened, where to look, how to mend it or accept it.",
        PLACE,
        ("x",),
        scopes=_SCREEN,
        counts=True,
    ),
    Command(
        "step_up",
        "Walk along and step up elsewhere",
        "Begin the next round so many spaces further on along the edge. Within a round the wish is kept until its end.",
        PLACE,
        ("w",),
        word="step up",
        counts=True,
    ),
    Command(
        "another",
        "Another round",
        "Where the height is left to you: one more round of the rise.",
        CHOOSING,
        ("m",),
        word="another",
    ),
    Command(
        "on",
        "On to what follows",
        "Where the height is left to you: high enough, on to what follows.",
        CHOOSING,
        ("o",),
        word="on",
    ),
    Command(
        "warn",
        "How early to warn",
        "A number before it: warn so many beads ahead (0 is off). Without a number the next usual one is taken.",
        SHOWING,
        ("d",),
        word="warn",
        counts=True,
    ),
    Command(
        "remarks",
        "Remarks on or off",
        "Show or hide the remarks of the plan and of the technique.",
        SHOWING,
        ("i",),
        word="remarks",
    ),
    Command(
        "large",
        "Large view",
        "Only the number, what to do now and what comes next.",
        SHOWING,
        ("l",),
        scopes=_SCREEN,
    ),
    Command(
        "say",
        "Tell it again",
        "Tell once more what to do now and what comes next.",
        SHOWING,
        ("v",),
        word="say",
    ),
    Command(
        "where",
        "Where am I?",
        "What is left on this side, the round, and the bead that the thread comes out of.",
        PLACE,
        ("c",),
        word="where",
    ),
    Command(
        "mute",
        "Mute, or sound again",
        "Be silent at once, tones, voice and bell; or tell by ear again.",
        SHOWING,
        ("z",),
        word="mute",
    ),
    Command(
        "talk",
        "How much is said",
        "Aloud: what is asked and what goes wrong; also what changes; or each stitch. Each time the next of the three.",
        SHOWING,
        ("y",),
        word="talk",
    ),
    Command(
        "chart",
        "The chart",
        "The piece as beads in their places: laid, the next one, and to come.",
        SHOWING,
        ("p",),
        scopes=_SCREEN,
    ),
    Command(
        "tray",
        "Beads to count out",
        "For this side, this round and the next three; and what it means when some are left over or missing.",
        SHOWING,
        ("f2",),
        scopes=_SCREEN,
    ),
    Command(
        "thread",
        "The thread",
        "A new thread and its length, or what is left of it: how far it reaches, and where to change it.",
        SHOWING,
        ("j",),
        scopes=_SCREEN,
        counts=True,
    ),
    Command(
        "note",
        "A note for this place",
        "Pin a note to the bead laid last; it is shown when you pass there again.",
        SHOWING,
        ("n",),
        scopes=_SCREEN,
    ),
    Command(
        "time",
        "Time and pace",
        "Time in this piece, beads a minute, and about how long the rest takes.",
        SHOWING,
        word="time",
    ),
    Command(
        "sounds",
        "Hear the sounds",
        "Hear each of the short sounds, and what it says.",
        SHOWING,
        ("u",),
        scopes=_SCREEN,
    ),
    Command(
        "last",
        "The last beads",
        "The beads laid last, to be compared with the work in your hand.",
        PLACE,
        word="last",
        scopes=_PLAIN,
    ),
    Command(
        "left",
        "What is left",
        "Beads left on this side, in this round and in the piece, and how many of each to have on the mat.",
        PLACE,
        word="left",
        scopes=_PLAIN,
    ),
    Command(
        "figures",
        "The piece in figures",
        "How large it comes out, what beads and thread it takes, how long by your own pace, whether it will lie flat.",
        SHOWING,
        ("b",),
        word="figures",
        scopes=_ALL,
    ),
    Command(
        "held",
        "Guard against a held key",
        "Switch on or off that a key held down counts once and not many times.",
        SHOWING,
        ("k",),
        scopes=_SCREEN,
    ),
    Command(
        "open",
        "Go on or start",
        "Go on with the piece, or begin a new one from the plan, that is marked.",
        PIECES,
        ("enter",),
        footer="open",
        scopes=_HOME,
    ),
    Command(
        "rename",
        "Rename the piece",
        "Give the marked piece another name.",
        PIECES,
        ("n",),
        footer="rename",
        scopes=_HOME,
    ),
    Command(
        "put_away",
        "Put the piece away",
        "Take the marked piece off the list, or bring it back; nothing of it is lost.",
        PIECES,
        ("p",),
        footer="put away",
        scopes=_HOME,
    ),
    Command(
        "show_away",
        "Show pieces put away",
        "Show or hide the pieces that were put away.",
        PIECES,
        ("s",),
        scopes=_HOME,
    ),
    Command(
        "remove",
        "Remove the piece",
        "Remove the marked piece for good; it asks first.",
        PIECES,
        ("delete", "x"),
        footer="remove",
        scopes=_HOME,
    ),
    Command(
        "help",
        "Help",
        "All keys and commands, and cautions.",
        PROGRAM,
        ("h", "f1", "question_mark"),
        footer="help",
        word="help",
        scopes=_ALL,
    ),
    Command(
        "palette",
        "Find a command",
        "Search all commands by their words.",
        PROGRAM,
        ("ctrl+p",),
        scopes=("stitching", "home"),
    ),
    Command(
        "quit",
        "Quit",
        "Leave. Every bead counted is kept already.",
        PROGRAM,
        ("q", "ctrl+q", "ctrl+c"),
        footer="quit",
        word="quit",
        scopes=_ALL,
    ),
)

_KEY_WORDS = {
    "space": "Space",
    "enter": "Enter",
    "backspace": "Backspace",
    "pagedown": "Page Down",
    "pageup": "Page Up",
    "left": "Left",
    "right": "Right",
    "delete": "Delete",
    "escape": "Escape",
    "question_mark": "?",
}


def key_words(key: str) -> str:
    """A key as people call it: `Page Down`, `Ctrl+P`, `t`."""
    if key.startswith("ctrl+"):
        return "Ctrl+" + key.removeprefix("ctrl+").upper()
    if key[:1] == "f" and key[1:].isdigit():
        return key.upper()
    return _KEY_WORDS.get(key, key)


def commands(scope: Scope, some: tuple[Command, ...] = COMMANDS) -> tuple[Command, ...]:
    """Those of one front end or screen, in their order. `some`: with keys of the stitcher's own."""
    return tuple(command for command in some if scope in command.scopes)


def command(wanted: str, some: tuple[Command, ...] = COMMANDS) -> Command:
    """The command of this id. Raises KeyError."""
    for found in some:
        if found.id == wanted:
            return found
    raise KeyError(wanted)


def by_group(scope: Scope, some: tuple[Command, ...] = COMMANDS) -> list[tuple[str, list[Command]]]:
    """For listings: groups that have a command here, with their commands."""
    here = commands(scope, some)
    grouped = [(group, [item for item in here if item.group == group]) for group in GROUPS]
    return [(group, items) for group, items in grouped if items]


def clashes(some: Iterable[Command]) -> list[str]:
    """Keys that more than one of these commands claims."""
    claims = Counter(key for item in some for key in item.keys)
    return sorted(key for key, times in claims.items() if times > 1)
