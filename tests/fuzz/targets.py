"""What is fuzzed: each target takes any text at all and says what became of it.

A target raises where its promise is broken: anything but a `StitchalongError`, a message that is not one harmless
line, a value that does not hold together, or more time than a second.
"""

from __future__ import annotations

import itertools
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, TypeVar
from unittest import mock

from stitchalong.course import bench
from stitchalong.course.builder import Builder
from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout
from stitchalong.course.report import rows
from stitchalong.errors import PlanError, StitchalongError, StoreError
from stitchalong.plan.checked import build
from stitchalong.plan.library import shipped
from stitchalong.plan.model import Lay, Plan
from stitchalong.plan.notation import aloud, parse_lay, parse_round, parse_written, print_round
from stitchalong.plan.read import decode, read_text
from stitchalong.plan.sizes import resized
from stitchalong.plan.text import clean
from stitchalong.session import Session
from stitchalong.settings.file import settings_from
from stitchalong.settings.settings import registry
from stitchalong.settings.use import commands_of, held_keys, rests, sound
from stitchalong.store import Store
from tests.cli.running import here
from tests.fuzz.judge import (
    LARGE_BEADS,
    LARGE_SECONDS,
    SECOND,
    Broken,
    Hang,
    at_most,
    hold_line,
    hold_refusal,
)
from tests.fuzz.parcels import parcels, sealed
from tests.fuzz.replans import Replans
from tests.plan.harmless import is_harmless

CORPUS = Path(__file__).parent / "corpus"

T = TypeVar("T")

TAKEN, REFUSED = "taken", "refused"

TRIES = 3
"""of a plan that takes more than its time"""


@dataclass(frozen=True, slots=True)
class Target:
    """Something that reads what strangers wrote."""

    name: str
    run: Callable[[str], str]
    """takes an input, gives `TAKEN` or `REFUSED`; raises where a promise is broken"""
    words: tuple[str, ...]
    """pieces of its language, to put inputs together from"""
    language: str
    """whose corpus it is fed with"""

    def corpus(self) -> list[str]:
        """The inputs kept, of which others are made."""
        return [*_written(self.language), *_found(self.language)]

    def seeds(self) -> list[str]:
        """The same, those written by hand (most of which are taken) as many as those that guided fuzzing found."""
        written, found = list(_written(self.language)), _found(self.language)
        return written * max(1, len(found) // len(written)) + found


def _found(name: str) -> list[str]:
    path = CORPUS / f"{name}.found.json"
    return [str(text) for text in json.loads(path.read_text(encoding="ascii"))] if path.exists() else []


def _written(name: str) -> Iterator[str]:
    if name == "plan":
        yield from (path.read_text(encoding="utf-8") for path in shipped())
    if name == "parcel":
        yield from parcels(tuple(path.read_text(encoding="utf-8") for path in sorted((CORPUS / "plan").glob("*"))))
    one_a_line = CORPUS / f"{name}.txt"
    if one_a_line.exists():
        yield from (line for line in one_a_line.read_text(encoding="utf-8").split("\n") if line)
    for path in sorted((CORPUS / name).glob("*")):
        with path.open(encoding="utf-8", newline="") as file:
            yield file.read()


# ---- notation -----------------------------------------------------------------------------------


def notation(text: str) -> str:
    """A round's text, as it comes out of a plan, in all three readings."""
    outcome = REFUSED
    text = clean(text)
    with at_most(SECOND):
        for parse in (parse_round, parse_written, parse_lay):
            try:
                found = parse(text)
            except PlanError as error:
                hold_refusal(error)
                continue
            outcome = TAKEN
            if isinstance(found, Lay):
                continue
            hold_line(aloud(found)[:1000])
            again = (parse_written if parse is parse_written else parse_round)(print_round(found))
            if again != found:
                raise Broken(f"printed as {print_round(found)!r}, which reads as something else")
    return outcome


# ---- plans --------------------------------------------------------------------------------------


def plan(text: str) -> str:
    """A plan file's bytes: read, brought to other sizes, derived, and looked at here and there."""
    try:
        with at_most(SECOND):
            loaded = read_text(decode(text.encode("utf-8", "surrogateescape"), "plan.toml"), "plan.toml")
    except StitchalongError as error:
        hold_refusal(error)
        return REFUSED
    with at_most(SECOND):
        if build(loaded.data) != loaded.plan:
            raise Broken("the checked data makes another plan")
    outcome = _derived(loaded.plan)
    for units in (3, 40):
        try:
            with at_most(SECOND):
                other = resized(loaded.plan, units)
        except PlanError as error:
            hold_refusal(error)
        else:
            _derived(other)
    return outcome


def _derived(plan: Plan) -> str:
    try:
        course = _in_time(lambda: compile_plan(plan))
    except PlanError as error:
        hold_refusal(error)
        return REFUSED
    _hold_course(course, plan)
    return TAKEN


class _Counted(Builder):
    """Remembers how many beads were laid, for when a plan is refused in the end."""

    laid = 0

    def close_round(self, *given: Any, **named: Any) -> None:
        super().close_round(*given, **named)
        _Counted.laid = self.bead


def _in_time(act: Callable[[], T]) -> T:
    """Done within its time: a second, or where a very large piece is derived in it what its beads may take.

    All takes longer while others work on the same machine, so it is tried again before it is called a hang.
    """
    for _ in range(TRIES):
        try:
            with at_most(SECOND):
                return act()
        except Hang:
            pass
    _Counted.laid, told = 0, ""
    try:
        with at_most(LARGE_SECONDS), mock.patch.object(bench, "Builder", _Counted):
            return act()
    except StitchalongError as error:
        told = str(error)
        raise
    finally:
        if _Counted.laid < LARGE_BEADS and "1,000,000 beads" not in told:
            raise Hang(f"more than {SECOND:g} s for {_Counted.laid} beads {told}")


def _hold_course(course: Course, plan: Plan) -> None:
    """The sums agree, and what is said at some places is harmless. Raises `Broken`."""
    if sum(item.beads for item in course.rounds) != course.beads or course.beads < 1:
        raise Broken("the rounds' beads do not make the course's")
    if course.rounds[-1].stop_step != course.steps or course.beads_before(course.steps) != course.beads:
        raise Broken("the last round does not end the course")
    for earlier, later in itertools.pairwise(course.rounds):
        if earlier.stop_step != later.first_step:
            raise Broken("a gap between two rounds")
    allowed = SECOND if course.beads < LARGE_BEADS else LARGE_SECONDS
    with at_most(allowed):
        lookout = Lookout(course, {bead.code: bead.name for bead in plan.beads})
        for position in {0, 1, course.steps // 3, course.steps // 2, course.steps - 1, course.steps}:
            outlook = lookout.at(min(position, course.steps))
            for line in (outlook.now, outlook.title, outlook.big_label, outlook.cut, outlook.comes_out):
                hold_line(line)
            for remark in outlook.remarks:
                hold_line(remark.text)
    if course.beads < 5_000 and len(course.rounds) < 500:
        with at_most(SECOND):
            if sum(int(str(row["beads"])) for row in rows(course)) != course.beads:
                raise Broken("the rows of the report do not make the course's beads")


# ---- commands -----------------------------------------------------------------------------------

COMMANDS = (
    ("check", "FILE"),
    ("check", "FILE", "--json"),
    ("course", "FILE"),
    ("course", "FILE", "--in-full"),
    ("sheet", "FILE", "--as", "html"),
    ("sheet", "FILE", "--as", "md"),
    ("sheet", "FILE", "--as", "svg"),
    ("form", "FILE", "--json"),
    ("beads", "FILE"),
    ("thread", "FILE"),
)
"""what somebody does first with a stranger's plan"""


def commands(text: str) -> str:
    """A stranger's plan given to the commands that look at one: a status of theirs, and harmless lines."""
    path, home = _own_folder() / "plan.toml", _own_folder() / "home"
    raw = text.encode("utf-8", "surrogateescape")
    path.write_bytes(raw)
    outcome = REFUSED
    if _is_large(raw):
        return outcome
    for command in COMMANDS:
        arguments = [str(path) if word == "FILE" else word for word in command]
        with at_most(LARGE_SECONDS):
            done = here(home, *arguments)
        if done.status not in (0, 2, 3):
            raise Broken(f"{' '.join(command)} ends with {done.status}: {done.err[:500]}")
        for line in (done.out + done.err).splitlines():
            if not is_harmless(line):
                raise Broken(f"{' '.join(command)} says {line!r:.300}")
        if command[0] == "check" and done.status:
            break
        outcome = TAKEN
    return outcome


def _is_large(raw: bytes) -> bool:
    """Whether it is a plan of more beads than a drawing is made of in a moment; those are the business of `plan`."""
    try:
        with at_most(LARGE_SECONDS):
            return compile_plan(read_text(decode(raw, "plan.toml")).plan).beads > 3_000
    except StitchalongError:
        return False


_replans: Replans | None = None


def replan(text: str) -> str:
    """A plan file's bytes, as the changed plan of a piece at work; see `Replans`."""
    global _replans
    if _replans is None:
        _replans = Replans(_own_folder() / "replans")
    with at_most(LARGE_SECONDS):
        return TAKEN if _replans.run(text) else REFUSED


# ---- settings -----------------------------------------------------------------------------------


def settings(text: str) -> str:
    """A settings file's text, and what the parts of the program make of it."""
    try:
        with at_most(SECOND):
            found = settings_from(text, "settings.toml")
            commands_of(found)
            held_keys(found)
            rests(found)
            sound(found)
    except StitchalongError as error:
        hold_refusal(error)
        return REFUSED
    return TAKEN


# ---- parcels ------------------------------------------------------------------------------------


class Parcels:
    """Takes parcels in, in a store of its own; what was taken is resumed and removed again."""

    def __init__(self, folder: Path) -> None:
        self._file = folder / "piece"
        self._store = Store.open(folder / "data", clock=lambda: 1_700_000_000.0)
        # not a matter of durability, and many times faster
        self._store._database.execute("PRAGMA synchronous = OFF")

    def run(self, text: str) -> str:
        """The lines of a parcel, sealed as they stand. A text that begins with `raw ` is the file itself."""
        raw = text.encode("utf-8", "surrogateescape")
        self._file.write_bytes(raw[4:] if raw.startswith(b"raw ") else sealed(raw))
        before = len(self._store.pieces(include_away=True))
        try:
            taken = _in_time(lambda: Session.take_in(self._store, self._file))
        except StoreError as error:
            hold_refusal(error)
            if len(self._store.pieces(include_away=True)) != before:
                raise Broken("a refused parcel has left something behind") from error
            return REFUSED
        session = _in_time(lambda: Session.resume(self._store, taken.piece_id))
        with at_most(SECOND):
            for line in (session.piece.title, session.piece.name, session.outlook.now, *session.names.values()):
                hold_line(line)
            session.press()
            self._store.remove(taken.piece_id)
        return TAKEN


_folder: TemporaryDirectory[str] | None = None
_parcels: Parcels | None = None


def _own_folder() -> Path:
    """A folder that goes with this process."""
    global _folder
    if _folder is None:
        _folder = TemporaryDirectory(prefix="stitchalong-fuzz-")
    return Path(_folder.name)


def parcel(text: str) -> str:
    """A parcel's lines; see `Parcels`."""
    global _parcels
    if _parcels is None:
        _parcels = Parcels(_own_folder())
    return _parcels.run(text)


# ---- all of them --------------------------------------------------------------------------------

_NOTATION_WORDS = (
    "A", "B", "BB", "DDD", "M", "MM", "5", "0", "3", "1000000", "999999999", "x", " x 3", "*", "**", "(", ")", "[", "]",
    "{", "}", ", ", "; ", ": ", ".", "-", " to rib", " to marker", " to end", " to 1 before rib", "no bead", "picot ",
    "corner ", " together", "; repeat from * around", "; repeat from * twice", " 3 times", " around", " more times",
    "ending last repeat at **", "from rib: ", "from marker: ", "ribs ", "beside ribs ", "before ribs ", "middle ",
    "over S A", "(21 beads)", "(18 stitches)", "two", "twenty", "\u200b", "\x1b[2J", "é", "Ａ", "٣", "×",
    "\u202e", "\n",
)  # fmt: skip

_PLAN_WORDS = (
    "[[work]]\n", "[beads.A]\n", "[beads.Z]\n", "[thread]\n", "[[remarks]]\n", "title = ", "name = ", "colour = ",
    'start = "MRAW band"\n', 'start = "ring"\n', 'start = "tube"\n', 'stitch = "peyote"\n', 'frame = "C"\n', "units = ",
    'spacers = "*6S, M* 4 times"\n', 'beads = "6A"\n', 'rounds = ["A", "B"]\n', "height = ", "usual = ",
    'height = "as high as you like"\n', 'height = "2 to 5"\n', 'increase = { over = "M" }\n',
    'increase = { sides = 4 }\n', 'increase = { at = "every space" }\n', 'increase = { over = "ribs", with = "MM" }\n',
    'decrease = { over = "ribs" }\n', 'decrease = { sides = 3 }\n', "from_round = ", 'edge = "bottom"\n', "walk = ",
    'reinforce = "top"\n', "reinforce = true\n", 'fill = "C"\n', 'say = "x"\n', "round = ", "stitch = ", "sides = ",
    'part = "lid"\n', "marker = true\n", '"', '"""', "'", "{", "}", "[", "]", "=", ",", "#", ".", "\\", "\\u0007",
    "\\u202e", "\x00", "\x1b]0;x\x07", "“", "\ufeff", "\udcff", "1e400", "nan", "0x7fffffffffffffff", "-1",
    "1_000_000", "1979-05-27T07:32:00Z", "true", "[red]x[/red]",
    *(f'"{word}"' for word in _NOTATION_WORDS if "\n" not in word and "\x1b" not in word),
)  # fmt: skip

_SETTINGS_WORDS = (
    *(f"{key.partition('.')[2]} = " for key in registry()), "[keys]\n", "[keys.map]\n", "[sound]\n", "[look]\n",
    'bead = ["space"]\n', 'quit = ["q", "space"]\n', "true", "false", "0", "-1", "1e9", "nan", '"dark"', '"\\u001b"',
    "[", "]", "{", "}", "=", '"', "\n", "\x00", "\u202e", "inf", "1979-05-27",
)  # fmt: skip

_PARCEL_WORDS = (
    '{"press":[', '{"note":[', '{"work":{', '{"piece":{', '"going"', '"put away"', '"press"', '"undo"', '"choice"',
    '"mark"', "null", "true", "[]", "{}", '""', "-1", "0", "1e999", "NaN", "9223372036854775807", "1" * 5_000,
    "[" * 2_000, '"\\u001b[2J"', '"\\ud800"', '"\\u202e"', "\n", "\r", "\x00", "raw ", "../../x", '"..\\/x"', ",", ":",
    '\\"MRAW band\\"', '\\"ring\\"', '\\"beads\\"', '\\"6A\\"', '\\"title\\"', '{\\"choice\\": \\"another\\"}',
)  # fmt: skip

TARGETS = {
    target.name: target
    for target in (
        Target("notation", notation, _NOTATION_WORDS, "notation"),
        Target("plan", plan, _PLAN_WORDS, "plan"),
        Target("commands", commands, _PLAN_WORDS, "plan"),
        Target("replan", replan, _PLAN_WORDS, "plan"),
        Target("settings", settings, _SETTINGS_WORDS, "settings"),
        Target("parcel", parcel, _PARCEL_WORDS, "parcel"),
    )
}
