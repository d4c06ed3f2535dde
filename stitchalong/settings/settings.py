"""Everything that a stitcher can set: name, kind, usual value and help stand here and nowhere else.

A group is a table of the settings file, a field a key in it. All groups are frozen values; the usual ones are those
of `Settings()`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import field, fields
from functools import cache

from stitchalong.cues.sound.settings import MEANS, RATES, SPEECH
from stitchalong.cues.words import USUAL_WARNING
from stitchalong.settings.held import FASTEST, FIRST_REPEAT, HELD_AFTER
from stitchalong.settings.kinds import Setting, setting
from stitchalong.values import value

THEMES = ("dark", "light", "contrast-dark", "contrast-light")
GLYPHS = ("blocks", "ascii")
UNITS = ("metric", "inch")
HANDS = ("right", "left")
TALKATIVE = ("quiet", "changes", "every stitch")


@value
class Counting:
    """Counting along."""

    warn: int = setting(
        USUAL_WARNING, "So many beads ahead something special is announced; 0 is never.", least=0, most=99, unit="beads"
    )
    remarks: bool = setting(True, "Whether remarks of the plan and of the technique are shown.")
    tap: bool = setting(
        True,
        "Whether a click or a tap on the screen counts one bead. While it does, Shift and the mouse mark text.",
    )


@value
class Keys:
    """Keys and pedals. Keys of one's own stand in the table `keys.map`."""

    guard: bool = setting(True, "Whether a key that is held down counts once and not many times.")
    fastest: float = setting(
        FASTEST,
        "Presses of one key that follow each other faster than this are repeats of a held key.",
        least=0.02,
        most=0.5,
        unit="seconds",
    )
    repeats: int = setting(
        HELD_AFTER,
        "After so many repeats in a row the key is taken to be held, and its first repeat is taken back.",
        least=1,
        most=50,
    )
    first_repeat_from: float = setting(
        FIRST_REPEAT[0], "The shortest time before a held key begins to repeat.", least=0.05, most=3.0, unit="seconds"
    )
    first_repeat_to: float = setting(
        FIRST_REPEAT[1], "The longest time before a held key begins to repeat.", least=0.05, most=3.0, unit="seconds"
    )


@value
class Sound:
    """Sounds and speech."""

    muted: bool = setting(False, "Whether nothing is sounded at all.")
    means: tuple[str, ...] = setting(
        MEANS, "Ways to sound a cue, tried in order: a sound device, a player of the system, the bell.", choices=MEANS
    )
    speak: bool = setting(True, "Whether cues are spoken, where there is a voice.")
    speech: tuple[str, ...] = setting(
        SPEECH,
        "Ways to speak, tried in this order: the library of the extra [voice], the system's, a program.",
        choices=SPEECH,
    )
    talkative: str = setting("changes", "How much is said of what one is to do.", choices=TALKATIVE)
    rate: int = setting(165, "How fast is spoken.", least=RATES[0], most=RATES[1], unit="words a minute")
    voice: str = setting("", "A voice by its name; empty: the one that suits the language.")
    language: str = setting("en-us", "The language of the voice, as in en-gb or de.")
    over_ssh: bool = setting(False, "Whether the computer that is logged in to sounds; else only the bell does.")
    volume_bead: float = setting(0.0, "How loud a bead counted sounds; 0 is silent.", least=0, most=1)
    volume_heads_up: float = setting(0.6, "How loud it is told that something is coming.", least=0, most=1)
    volume_now: float = setting(0.9, "How loud it is told that it is now.", least=0, most=1)
    volume_done: float = setting(0.6, "How loud the end of a side or round sounds.", least=0, most=1)
    volume_undone: float = setting(0.5, "How loud something taken back sounds.", least=0, most=1)
    volume_error: float = setting(0.7, "How loud it sounds that something is wrong.", least=0, most=1)
    volume_voice: float = setting(0.8, "How loud the voice is.", least=0, most=1)


@value
class Look:
    """How the screen looks."""

    theme: str = setting(
        "dark", "Colours of the screen; the two of high contrast are for tired eyes and bright rooms.", choices=THEMES
    )
    glyphs: str = setting("blocks", "Signs to draw with; ascii where a terminal shows others wrongly.", choices=GLYPHS)
    large: bool = setting(False, "Whether a piece opens in the large view: the number, what to do, what comes next.")


@value
class Words:
    """How things are told."""

    units: str = setting("metric", "Lengths and weights in mm and grams, or in inches and ounces.", choices=UNITS)
    hand: str = setting(
        "right", "The hand that holds the needle; for the other one, words of direction are mirrored.", choices=HANDS
    )


@value
class Reminders:
    """Reminders; each comes once and then only after as long again."""

    look_up: int = setting(
        20,
        "After so long without a pause: look up, 20 seconds at something 6 m away; 0 is never.",
        least=0,
        most=240,
        unit="minutes",
    )
    rest: int = setting(
        50,
        "After so long without a rest: put the needle down for 5 to 10 minutes; 0 is never.",
        least=0,
        most=240,
        unit="minutes",
    )


@value
class Settings:
    """All settings of a stitcher."""

    counting: Counting = field(default_factory=Counting)
    keys: Keys = field(default_factory=Keys)
    sound: Sound = field(default_factory=Sound)
    look: Look = field(default_factory=Look)
    words: Words = field(default_factory=Words)
    reminders: Reminders = field(default_factory=Reminders)
    key_map: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """keys of one's own by the id of the command; commands that are not in it keep theirs"""

    def value(self, key: str) -> object:
        """The value of a setting by its key in the file. Raises KeyError."""
        table, _, name = registry()[key].key.partition(".")
        value: object = getattr(getattr(self, table), name)
        return value


GROUPS: dict[str, type] = {
    "counting": Counting,
    "keys": Keys,
    "sound": Sound,
    "look": Look,
    "words": Words,
    "reminders": Reminders,
}
"""the tables of the file, in order"""


@cache
def registry() -> dict[str, Setting]:
    """Every setting by its key, in the order of the file."""
    return {found.key: found for table, group in GROUPS.items() for found in _of_group(table, group)}


def _of_group(table: str, group: type) -> Iterator[Setting]:
    usual = group()
    for item in fields(group):
        # What sounds is made once, when the program starts; what is said by it can change at any time.
        at_once = table != "sound" or item.name == "talkative"
        yield Setting(f"{table}.{item.name}", getattr(usual, item.name), at_once=at_once, **item.metadata)
