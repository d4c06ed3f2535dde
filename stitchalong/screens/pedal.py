"""Which key a pedal sends: pressed, looked at, and given to a command. A value; a key makes the next one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from stitchalong.errors import UsageError
from stitchalong.screens.lines import BLANK, Line, Span, line, wrapped
from stitchalong.screens.panels import Keys
from stitchalong.settings.commands import Command, command, commands, key_words
from stitchalong.settings.file import write_keys
from stitchalong.settings.held import FASTEST
from stitchalong.settings.key_map import given, holders, why_not
from stitchalong.settings.settings import Settings

CLICK = "click"
"""what a pedal sends that acts as a mouse"""

SAFE = frozenset(("space", "enter", "pagedown", "pageup", "left", "right", "up", "down"))
"""keys that reach a program in every terminal"""


@dataclass(frozen=True, slots=True)
class Kept:
    """The key is written: the settings as they are now."""

    found: Settings


@dataclass(frozen=True, slots=True)
class Pedal:
    """What came from the pedal so far, and what it is to ask for."""

    path: Path
    every: tuple[Command, ...]
    """with keys of the stitcher's own"""
    guard: bool
    """whether a key held down counts once"""
    fastest: float = FASTEST
    """seconds between two presses below which the second is a repeat"""
    taps: bool = True
    """whether a click counts a bead"""
    wanted: str = "bead"
    key: str = ""
    last: float = 0.0
    """when it came last"""
    times: int = 0
    repeats: int = 0
    fault: str = ""

    @property
    def _keep(self) -> str:
        return "enter" if self.key != "enter" else "y"

    @property
    def _other(self) -> str:
        return "tab" if self.key != "tab" else "o"

    @property
    def _usual(self) -> str:
        return "delete" if self.key != "delete" else "u"

    @property
    def _has_own(self) -> bool:
        """Whether the command has other keys than the usual ones."""
        return self._command.keys != command(self.wanted).keys

    @property
    def keys(self) -> Keys:
        if not self.key or self.key == CLICK or self._why_not:
            return (("Escape", "leave"),)
        names = {"tab": "Tab", "enter": "Enter", "delete": "Delete"}
        keep, other, usual = (names.get(key, key) for key in (self._keep, self._other, self._usual))
        again = ((usual, "its usual keys again"),) if self._has_own else ()
        return ((keep, "keep it"), ("Escape", "leave"), (other, "for something else"), *again)

    @property
    def _command(self) -> Command:
        return command(self.wanted, self.every)

    @property
    def _why_not(self) -> str:
        """Why this key cannot be given away; empty where it can."""
        if self.key != self.key.casefold():
            return f"{self.key} is a capital letter; let the pedal send the small one"
        fault = why_not(self.key)
        return str(fault) if fault else ""

    def press(self, key: str, at: float) -> Pedal | Kept | None:
        """After a key that came at `at`, in seconds of any steady clock; None: leave."""
        if key == "escape":
            return None
        if not self.key or key == self.key:
            repeated = bool(self.key) and 0 <= at - self.last < self.fastest
            return replace(self, key=key, last=at, times=self.times + 1, repeats=self.repeats + repeated, fault="")
        if self.key != CLICK and not self._why_not:
            if key == self._keep:
                return self._kept(lambda: given(self.key, self._command, self.every))
            if key == self._usual and self._has_own:
                return self._kept(lambda: {self.wanted: ()})
            if key in (self._other, "shift+tab"):
                some = [one.id for one in commands("stitching", self.every)]
                step = 1 if key == self._other else -1
                return replace(self, wanted=some[(some.index(self.wanted) + step) % len(some)], fault="")
        return replace(self, key=key, last=at, times=1, repeats=0, fault="")

    def _kept(self, changes: Callable[[], dict[str, tuple[str, ...]]]) -> Pedal | Kept:
        try:
            return Kept(write_keys(self.path, changes()))
        except UsageError as error:
            told = "; ".join(str(problem) for problem in error.problems)
            return replace(self, fault=f"Not kept: {told}.")

    # ---- lines ----------------------------------------------------------------------------------

    def lines(self, width: int, height: int) -> list[Line]:
        out = [line("Press your pedal now", "strong"), BLANK]
        if not self.key:
            out += wrapped("Whatever key it sends is shown here. Press it a few times; hold it down once, too.", width)
            out += wrapped("Space, Enter, Page Down and the arrows reach a program in every terminal.", width, "dim")
            return out[:height]
        name = key_words(self.key) if self.key != CLICK else "a mouse click"
        came = f"  came {self.times} times" if self.times > 1 else "  came"
        out.append((Span(f" {name} ", "marked"), Span(came, "dim")))
        for text, ink in (*self._told(), (self.fault, "message")):
            out += wrapped(text, width, ink) if text else []
        return out[:height]

    def _told(self) -> list[tuple[str, str]]:
        """What that key is now, and what it would be; whether it repeats; whether it reaches everywhere."""
        out: list[tuple[str, str]] = []
        if self.key == CLICK:
            if self.taps:
                return [("A click on the stitching screen counts one bead. Nothing has to be set.", "strong")]
            return [("A click counts nothing as it is set; switch on the setting counting.tap.", "strong")]
        if self._why_not:
            return [(f"{self._why_not}.", "message")]
        wanted = self._command
        others = holders(self.key, wanted, self.every)
        if self.key in wanted.keys:
            out.append((f"It is for “{wanted.title}” already.", "strong"))
        else:
            out.append((f"Keep it for “{wanted.title}”?", "strong"))
        for other in others:
            out.append((f"It is for “{other.title}” now, and would not be any more.", "message"))
        if self.repeats:
            end = "the guard counts that once." if self.guard else "switch on the guard (keys.guard), or it runs away."
            out.append((f"It repeats while it is held: {end}", "text" if self.guard else "message"))
        if self.key not in SAFE and len(self.key) > 1:
            out.append(("Not every terminal lets this key through; Space or Page Down are safer.", "dim"))
        return out
