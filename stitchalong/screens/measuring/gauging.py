"""One's own gauge: what was measured, what it makes, a measurement more or one less."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from stitchalong.errors import StitchalongError
from stitchalong.measure.beads import table
from stitchalong.measure.measured import Measured
from stitchalong.measure.measuring import (
    STITCHES,
    counted_words,
    gauge_line,
    length_words,
    own_gauges,
    read_measured,
)
from stitchalong.measure.of_start import Asks
from stitchalong.measure.units import Units
from stitchalong.screens.beside.sheet import Done, entries, field, typed
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import BLANK, Line, Span, fit, line, wrapped
from stitchalong.screens.measuring.telling import fault_words
from stitchalong.screens.panels import Keys
from stitchalong.settings.when import spoken
from stitchalong.store import Store

BEADS = tuple(f"{size} {shape}" for size, shape in table())
WHATS = (
    ("band", ""),
    ("weave", ""),
    *((what, stitch) for stitch in STITCHES for what in ("columns", "rows")),
)
"""what can be measured, and of which stitch"""
_NAMES = ("bead", "of", "count", "length", "tension")
_HINTS = (
    "Left and Right choose the bead.",
    "Left and Right choose what you measured over.",
    "How many of them you measured over.",
    "{how} A number alone is {unit}.",
    "A word of your own, such as tight; none is your usual one.",
)
_BAND = "The way round the inside of the joined band, as 54.1mm, or its ring size, as US 7."
_FLAT = "As measured, as 52mm or 2 1/16 in."
_MOST = (0, 0, 6, 20, 20)
"""characters of each field"""


@dataclass(frozen=True, slots=True)
class Keeping:
    """Where measurements are kept."""

    store: Store
    clock: Callable[[], float]
    units: Units


@dataclass(frozen=True, slots=True)
class GaugeSheet:
    """The list."""

    keeping: Keeping
    kept: tuple[Measured, ...]
    bead: int = 0
    """what a new measurement begins with"""
    what: int = 0
    at: int = 0
    message: str = ""
    asking: bool = False
    """whether the marked one is to be forgotten"""

    @classmethod
    def of(cls, keeping: Keeping, asks: Asks | None = None) -> GaugeSheet:
        """`asks`: of the plan that is marked. Raises StoreError."""
        bead, what = BEADS.index("11/0 cylinder"), 0
        if asks is not None:
            name = f"{asks.bead.size} {asks.bead.shape}"
            bead = BEADS.index(name) if name in BEADS else bead
            what = next((nth for nth, some in enumerate(WHATS) if _asks(asks) == some), 0)
        return cls(keeping, tuple(keeping.store.measured()), bead, what)

    @property
    def keys(self) -> Keys:
        if self.asking:
            return (("Enter", "forget it"), ("Escape", "keep it"))
        more = (("Delete", "forget one"), ("Up Down", "mark")) if self.kept else ()
        return (("Enter", "measure"), ("Escape", "close"), *more)

    def press(self, key: str, character: str) -> GaugeSheet | Adding | Done:
        plain = replace(self, message="", asking=False)
        if self.asking:
            return plain._forgotten() if key == "enter" else plain
        match key:
            case "escape" | "q":
                return Done()
            case "up":
                return replace(plain, at=max(0, self.at - 1))
            case "down":
                return replace(plain, at=min(max(0, len(self.kept) - 1), self.at + 1))
            case "enter" | "a" | "plus":
                return Adding(plain, plain.bead, plain.what)
            case "delete" | "x" if self.kept:
                return replace(plain, asking=True)
        return self

    def _forgotten(self) -> GaugeSheet:
        one = self.kept[self.at]
        try:
            self.keeping.store.remove_measured(one.id)
        except StitchalongError as error:
            return replace(self, message=fault_words(error))
        left = tuple(other for other in self.kept if other is not one)
        return replace(self, kept=left)._anew(f"Forgotten: {self._words(one)}.", one)

    def added(self, one: Measured) -> GaugeSheet:
        """A measurement is kept. Raises StoreError."""
        self.keeping.store.add_measured(one)
        return self._anew("Kept.", one)

    def _anew(self, said: str, one: Measured) -> GaugeSheet:
        """The list as it is now, and what that makes of the gauge; where it cannot be read, that too."""
        try:
            kept = tuple(self.keeping.store.measured())
        except StitchalongError as error:
            at = max(0, min(self.at, len(self.kept) - 1))
            return replace(self, at=at, message=f"{said} The list cannot be read anew: {fault_words(error)}")
        effect = [f"Now {gauge_line(own, self.keeping.units)}." for own in own_gauges(kept, only=one)]
        return replace(self, kept=kept, at=max(0, min(self.at, len(kept) - 1)), message=" ".join([said, *effect]))

    def _words(self, one: Measured) -> str:
        bead = f"{one.size} {one.shape}".strip() or "every bead"
        tension = f", {one.tension}" if one.tension else ""
        return f"{bead}{tension}: {counted_words(one)}, {length_words(one, self.keeping.units)}"

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        out = [line("Your own gauge", "strong")]
        if self.asking:
            asked = f"Forget this? {self._words(self.kept[self.at])}."
            return [*out, BLANK, *wrapped(asked, width, "strong")][:height]
        if self.message:
            out += wrapped(self.message, width, "message")
        if not self.kept:
            out += wrapped(
                "Nothing measured yet: sizes are reckoned from what is usual, and told as a wide range.", width
            )
            more = (
                "Measure a swatch, or a band that is joined; a piece that is finished with its size is kept here too."
            )
            return [*out, BLANK, *wrapped(more, width, "dim")][:height]
        now = self.keeping.clock()
        words = [
            f"{self._words(one)}; {'a piece' if one.piece else 'a swatch'}, {spoken(one.at, now)}" for one in self.kept
        ]
        made: list[Line] = []
        for own in own_gauges(self.kept):
            made += wrapped(gauge_line(own, self.keeping.units), width, "dim")
        listed = entries(words, self.at, height - len(out) - min(len(made) + 1, height // 3), width, glyphs)
        out += listed
        if len(out) + 1 < height:
            out += [BLANK, *made]
        return out[:height]


@dataclass(frozen=True, slots=True)
class Adding:
    """A measurement to be typed in."""

    sheet: GaugeSheet
    bead: int
    what: int
    count: str = ""
    length: str = ""
    tension: str = ""
    at: int = 0
    fault: str = ""

    keys = (("Enter", "keep it"), ("Escape", "back"), ("Up Down", "field"), ("Left Right", "change"))

    @property
    def _typed(self) -> tuple[str, ...]:
        return "", "", self.count, self.length, self.tension

    def press(self, key: str, character: str) -> GaugeSheet | Adding | Done:
        match key:
            case "escape":
                return self.sheet
            case "up" | "shift+tab":
                return replace(self, at=(self.at - 1) % len(_NAMES), fault="")
            case "down" | "tab":
                return replace(self, at=(self.at + 1) % len(_NAMES), fault="")
            case "left" | "right":
                return self._stepped(-1 if key == "left" else 1)
            case "enter":
                return self._kept()
        if self.at < 2:
            return self
        text = typed(self._typed[self.at], key, character, digits=self.at == 2, most=_MOST[self.at])
        if text is None:
            return self
        plain = replace(self, fault="")
        match self.at:
            case 2:
                return replace(plain, count=text)
            case 3:
                return replace(plain, length=text)
        return replace(plain, tension=text)

    def _stepped(self, by: int) -> Adding:
        match self.at:
            case 0:
                return replace(self, bead=(self.bead + by) % len(BEADS), fault="")
            case 1:
                return replace(self, what=(self.what + by) % len(WHATS), fault="")
        return self

    def _kept(self) -> GaugeSheet | Adding:
        """Kept, or on to what is still missing."""
        for at, text in ((2, self.count), (3, self.length)):
            if not text.strip("0 "):
                return replace(self, at=at, fault="" if self.at < at else f"{_NAMES[at].capitalize()} is missing.")
        of, stitch = WHATS[self.what]
        long = self.length.strip()
        if long.replace(",", ".").replace(".", "", 1).isdigit():
            long += "in" if self.sheet.keeping.units is Units.INCH else "mm"
        try:
            one = read_measured(BEADS[self.bead], of, int(self.count), long, self.tension, stitch)
            return replace(self.sheet, bead=self.bead, what=self.what).added(one)
        except StitchalongError as error:
            return replace(self, fault=fault_words(error))

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        of, stitch = WHATS[self.what]
        what = {"band": "units of a joined band", "weave": "units of right-angle weave"}.get(of)
        shown = (BEADS[self.bead], what or f"{of} of {STITCHES[stitch]}", *self._typed[2:])
        out = [line("A measurement", "strong")]
        for nth, (name, value) in enumerate(zip(_NAMES, shown, strict=True)):
            draw = chosen_of if nth < 2 else field
            out.append(draw(f"{name:<7}", value, nth == self.at, glyphs, width))
        unit = "in" if self.sheet.keeping.units is Units.INCH else "mm"
        hint = _HINTS[self.at].format(how=_BAND if of == "band" else _FLAT, unit=unit)
        return [*out, *wrapped(self.fault or hint, width, "message" if self.fault else "dim")][:height]


def chosen_of(name: str, value: str, chosen: bool, glyphs: Glyphs, width: int) -> Line:
    """A line of a form whose value is one of several."""
    mark = f"{glyphs.mark} " if chosen else "  "
    head = Span(f"{mark}{name}  ", "strong" if chosen else "dim")
    return fit((head, Span(f" {value} ", "marked" if chosen else "text")), width)


def _asks(asks: Asks) -> tuple[str, str]:
    """What to measure for a start."""
    if asks.per == "unit":
        return ("band" if asks.stitch == "MRAW band" else "weave"), ""
    stitch = next((word for word, name in STITCHES.items() if name == asks.stitch), "peyote")
    return f"{asks.per}s", stitch
