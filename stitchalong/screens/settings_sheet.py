"""All settings by group, with what each does: marked with Up and Down, changed with Left, Right and Enter."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from stitchalong.course.words import capital
from stitchalong.errors import UsageError
from stitchalong.screens.beside.sheet import Done, typed
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import BLANK, Line, Span, fit, line, wrapped
from stitchalong.screens.panels import Keys
from stitchalong.settings.file import write_setting
from stitchalong.settings.kinds import Setting, Value
from stitchalong.settings.settings import GROUPS, Settings, registry

PEDAL = "pedal"
"""what the sheet gives as a message where the pedal is to be set"""

_ASK_FOR_PEDAL = "a pedal's key ..."
_PEDAL_HELP = "Press your pedal, see which key it sends, and let it count beads or ask for another command."


@dataclass(frozen=True, slots=True)
class SettingsSheet:
    """The settings as they stand in the file. What is changed is written at once."""

    path: Path
    found: Settings
    at: int = 0
    """the setting marked; behind the last one, the pedal"""
    text: str | None = None
    """what is typed for it; None: nothing is being typed"""
    fault: str = ""
    told: str = ""
    now: tuple[tuple[str, Value], ...] = ()
    """what was switched at the keys and is not as in the file: counts until the piece is left"""

    @property
    def keys(self) -> Keys:
        if self.text is not None:
            return (("Enter", "keep it"), ("Escape", "leave it as it was"))
        if self._setting is None:
            return (("Enter", "set it"), ("Escape", "close"), ("Up Down", "mark"))
        change = "type it" if self._is_typed else "change"
        return (("Enter", change), ("Escape", "close"), ("Up Down", "mark"), ("Left Right", "change"), _USUAL)

    @property
    def _every(self) -> list[Setting]:
        return list(registry().values())

    @property
    def _setting(self) -> Setting | None:
        every = self._every
        return every[self.at] if self.at < len(every) else None

    @property
    def _is_typed(self) -> bool:
        setting = self._setting
        return setting is not None and setting.kind not in ("on or off", "word")

    def value(self, setting: Setting) -> Value:
        value = self.found.value(setting.key)
        assert isinstance(value, bool | int | float | str | tuple)
        return value

    # ---- keys -----------------------------------------------------------------------------------

    def press(self, key: str, character: str) -> SettingsSheet | Done:
        setting = self._setting
        if self.text is not None and setting is not None:
            return self._typing(setting, self.text, key, character)
        last = len(self._every)
        match key:
            case "escape" | "q" | "f4":
                return Done()
            case "up" | "down" | "pageup" | "pagedown" | "home" | "end":
                step = {"up": -1, "down": 1, "pageup": -6, "pagedown": 6, "home": -last, "end": last}[key]
                return replace(self, at=max(0, min(last, self.at + step)), fault="", told="")
            case "enter" if setting is None:
                return Done(message=PEDAL)
        if setting is None:
            return self
        match key:
            case "enter" if self._is_typed:
                value = self.value(setting)
                shown = ", ".join(value) if isinstance(value, tuple) else setting.written(value).strip('"')
                return replace(self, text=shown, fault="", told="")
            case "enter" | "space" | "right" | "left":
                return self._stepped(setting, -1 if key == "left" else 1)
            case "delete" | "backspace":
                return self._kept(setting, _as_typed(setting.default))
        return self

    def _typing(self, setting: Setting, text: str, key: str, character: str) -> SettingsSheet:
        if key == "escape":
            return replace(self, text=None, fault="")
        if key == "enter":
            return self._kept(setting, text)
        after = typed(text, key, character)
        return self if after is None else replace(self, text=after, fault="")

    def _stepped(self, setting: Setting, by: int) -> SettingsSheet:
        """The next value or the one before it, of those that have such."""
        value = self.value(setting)
        if isinstance(value, bool):
            return self._kept(setting, _as_typed(not value))
        if isinstance(value, int | float):
            step = 1 if isinstance(value, int) else 0.05 if (setting.most or 0) > 0.5 else 0.01
            after = round(value + by * step, 2)
            low, high = setting.least, setting.most
            after = max(low, after) if low is not None else after
            return self._kept(setting, f"{min(high, after) if high is not None else after:g}")
        if isinstance(value, str) and setting.choices:
            return self._kept(setting, setting.choices[(setting.choices.index(value) + by) % len(setting.choices)])
        return self

    def _kept(self, setting: Setting, word: str) -> SettingsSheet:
        """Written to the file; or why it cannot be, with what is likely meant."""
        try:
            found = write_setting(self.path, setting.key, word)
        except UsageError as error:
            return replace(self, fault=". ".join(capital(str(problem)) for problem in error.problems) + ".")
        told = "Kept." if setting.at_once else "Kept; it counts from the next start of the program."
        same = found.value(setting.key) == self.found.value(setting.key)
        now = tuple(pair for pair in self.now if pair[0] != setting.key or same)
        return replace(self, found=found, text=None, fault="", told=told, now=now)

    # ---- lines ----------------------------------------------------------------------------------

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        below = self._below(width)
        spare = height - 1 - len(below)
        while len(below) > 2 and spare < 3:  # the list goes first; the last words of the help give way
            del below[-1]
            spare += 1
        drawn: list[tuple[int, Line]] = []
        table = ""
        for nth, setting in enumerate(self._every):
            here = setting.key.partition(".")[0]
            if here != table:
                table = here
                drawn += [(-1, BLANK)] if drawn and spare > 14 else []
                drawn.append((-1, line((GROUPS[table].__doc__ or "").split(";")[0].split(". ")[0].rstrip("."), "key")))
            drawn.append((nth, self._entry(nth, setting, width, glyphs)))
        drawn += [(-1, BLANK)] if spare > 14 else []
        drawn.append((len(self._every), self._marked_line(len(self._every), _ASK_FOR_PEDAL, glyphs)))
        row = next(row for row, (nth, _) in enumerate(drawn) if nth == self.at)
        first = max(0, min(row - spare // 2, len(drawn) - spare))
        shown = [some for _, some in drawn[first : first + spare]]
        shown += [BLANK] * (spare - len(shown))
        return [line("Settings", "strong"), *shown, *below][:height]

    def _marked_line(self, nth: int, words: str, glyphs: Glyphs) -> Line:
        chosen = nth == self.at
        mark = f"{glyphs.mark} " if chosen else "  "
        return (Span(f"{mark}{words} " if chosen else mark + words, "marked" if chosen else "text"),)

    def _entry(self, nth: int, setting: Setting, width: int, glyphs: Glyphs) -> Line:
        """Its name and value; a star where it is not as usual."""
        chosen = nth == self.at
        value = self.value(setting)
        star = " *" if value != setting.default else ""
        now = dict(self.now).get(setting.key, value)
        kept = _in_words(setting, value)
        shown = kept if now == value else f"{_in_words(setting, now)} now ({kept} as a rule)"
        shown = f"{self.text}_" if chosen and self.text is not None else shown
        name = setting.key.partition(".")[2].replace("_", " ")
        column = min(24, width // 2)
        head = fit((Span(f"{glyphs.mark} " if chosen else "  "), Span(name)), column)
        ink = "marked" if chosen else "text"
        room = max(4, width - column - 2 - len(star))
        told = f" {shown[-room:] if self.text is not None and chosen else shown} "
        return (Span("".join(part.text for part in head), ink), *fit((Span(told, ink),), min(len(told), room + 2), ink),
                Span(star, "dim"))  # fmt: skip

    def _below(self, width: int) -> list[Line]:
        """What is marked in full, or what came of the last key."""
        setting = self._setting
        if setting is None:
            return [BLANK, *wrapped(_PEDAL_HELP, width)]
        out = wrapped(self.fault, width, "message") if self.fault else []
        out += wrapped(f"{setting.key}: {self.told}", width, "message") if self.told else []
        out += wrapped(setting.help, width)
        wants = "on or off" if isinstance(setting.default, bool) else setting.wants
        more = f"{capital(wants)}; usually {_as_typed(setting.default) or 'none'}."
        if not setting.at_once and not self.told:
            more += " A change counts from the next start of the program."
        return [BLANK, *out, *wrapped(more, width, "dim")]


_USUAL = ("Delete", "as usual")


def _as_typed(value: Value) -> str:
    match value:
        case bool():
            return "on" if value else "off"
        case tuple():
            return ", ".join(value)
        case float():
            return f"{value:g}"
    return str(value)


def _in_words(setting: Setting, value: Value) -> str:
    """`on`, `2 beads`, `bell, device`, `(none)`."""
    text = _as_typed(value) or "(none)"
    return f"{text} {setting.unit}" if setting.unit else text
