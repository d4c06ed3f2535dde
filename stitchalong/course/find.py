"""Finding one's place: from what can be seen of the work, the positions that fit, best first.

The beads of a course are kept as sets of bits, one big number for each code: bit n says that bead n has this
code (beads count from 1 in the order picked up). A clue is a few shifts and unions of such numbers, whatever the
length of the piece; the places that fit are then taken nearest first.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator

from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout
from stitchalong.course.words import counted, ordinal
from stitchalong.errors import UsageError
from stitchalong.fabric.stitch import Note
from stitchalong.values import value

MOST = 20
"""fits that are told"""
MOST_CLUES = 200
"""beads that are looked at; nobody compares more"""
NEAR = 2
"""rounds by which a round that is known roughly may be off"""
_SHARE = 3
"""a round is of a colour when one bead in three of it is"""


@value
class Clues:
    """What the stitcher sees. Whatever is left out is not known."""

    last: tuple[str, ...] = ()
    """codes of the last beads on the thread, the nearest to the needle last"""
    either_way: bool = True
    """they may also have been read from the needle on"""
    since_increase: int | None = None
    """beads picked up since the last increase was finished"""
    colour: str | None = None
    """code of the colour that the round at hand is mostly (or for a third) laid in"""
    round: int | None = None
    """the round at hand, roughly"""
    edge: str | None = None
    part: str | None = None


@value
class Fit:
    """A place that fits."""

    position: int
    beads: int
    """beads that are laid there"""
    misread: int | None
    """index into the clue's beads of the one that would have been misread; None where all fit"""
    backwards: bool
    """the beads fit when they were read from the needle on"""
    off: int
    """rounds by which the round that was said is off"""
    title: str
    """`round 5, top edge`"""
    laid: str
    """`12 of 20 laid`: of the round's beads"""
    now: str
    """the stitch that would come next"""
    left: str
    """`4 left on this side`; empty where a move comes next"""


@value
class Found:
    fits: tuple[Fit, ...]
    """best first, 20 at most"""
    places: int
    """beads after which all clues fit, in the whole piece"""
    doubtful: int
    """beads after which they fit if one bead was misread; 0 where that was not looked at"""

    @property
    def sure(self) -> str:
        """How sure the answer is, in words."""
        if self.places == 1:
            return "the only place that fits all you see"
        if self.places:
            return f"{self.places:,} places fit all you see: a few more beads would tell them apart"
        if self.doubtful:
            return f"no place fits all you see; {counted(self.doubtful, 'place')} would if one bead was misread"
        return "no place fits what you see"


class Finder:
    """Finds places in one course; what it found out about the course is kept for the next question."""

    def __init__(self, lookout: Lookout) -> None:
        self._lookout = lookout
        self.course = lookout.course
        self._text: bytes | None = None
        self._of_code: dict[str, int] = {}
        self._increases: int | None = None

    # ---- the course as bits ---------------------------------------------------------------------

    @property
    def text(self) -> bytes:
        """The codes of all beads, one byte each."""
        if self._text is None:
            course = self.course
            table = [("".join(stitch.beads).encode(), stitch.steps) for stitch in course.stitches]
            steps = course.run_step
            pieces = []
            for run, kind in enumerate(course.run_stitch):
                codes, size = table[kind]
                if codes:
                    pieces.append(codes * ((steps[run + 1] - steps[run]) // size))
            self._text = b"".join(pieces)
        return self._text

    def _beads_of(self, code: str) -> int:
        """Bit n: bead n has this code."""
        bits = self._of_code.get(code)
        if bits is None:
            digits = bytearray(b"0" * 256)
            digits[ord(code)] = ord("1")
            bits = self._of_code[code] = _from_digits(self.text.translate(bytes(digits))) << 1
        return bits

    def _ends_of_increases(self) -> int:
        """Bit n: bead n is the last of an increase."""
        if self._increases is None:
            course = self.course
            digits = bytearray(b"0" * (course.beads + 1))
            for run in course.special_runs:
                stitch = course.stitch_of(run)
                if stitch.has(Note.INCREASE):
                    size, first, last = len(stitch.beads), course.run_bead[run], course.run_bead[run + 1]
                    digits[first + size : last + 1 : size] = b"1" * ((last - first) // size)
            self._increases = _from_digits(digits)
        return self._increases

    # ---- clues ----------------------------------------------------------------------------------

    def find(self, clues: Clues, kept: int = 0, most: int = MOST) -> Found:
        """The positions that fit, best first; among equals the nearest to position `kept`.

        First those that fit all clues, then those where one bead was misread. A round that is off by one or two
        comes after the round that was said, beads read from the needle on after beads read towards it. Raises
        UsageError where nothing was said, or something that this piece does not have.
        """
        self._check(clues)
        course = self.course
        near = course.beads_before(min(max(kept, 0), course.steps))
        fits: list[Fit] = []
        totals = [0, 0]
        orders = [(clues.last, False)]
        if clues.either_way and clues.last != clues.last[::-1]:
            orders.append((clues.last[::-1], True))
        masks = list(self._masks(clues))
        seen = 0
        for misread in (False, True) if len(clues.last) > 2 else (False,):
            already = seen
            for codes, backwards in orders:
                exact, one_off = self._matches(codes)
                matches = one_off if misread else exact
                for off, mask in masks:
                    hits = matches & mask & ~seen
                    for bead in _nearest(hits, near):
                        if len(fits) >= most:
                            break
                        fits.extend(self._fits_after(bead, codes, misread, backwards, off, most - len(fits), kept))
                    seen |= hits
            totals[misread] = (seen ^ already).bit_count()
        return Found(tuple(fits), totals[0], totals[1])

    def _check(self, clues: Clues) -> None:
        course = self.course
        if not clues.last and clues.since_increase is None and clues.colour is None and clues.round is None:
            raise UsageError(
                "nothing to go by",
                fix="say the last beads on the thread, as in `A A B B A`, or the round and how many beads since the "
                "last increase",
            )
        if len(clues.last) > MOST_CLUES:
            raise UsageError(f"more than {MOST_CLUES} beads", fix="the last ten or twenty are enough")
        known = sorted({code for stitch in course.stitches for code in stitch.beads})
        for code in (*clues.last, *((clues.colour,) if clues.colour is not None else ())):
            if code not in known:
                raise UsageError(f"there is no bead {code} in this piece", fix=f"its beads are {', '.join(known)}")
        if clues.since_increase is not None:
            if clues.since_increase < 0:
                raise UsageError("fewer than no beads since the last increase")
            if not self._ends_of_increases():
                raise UsageError("this piece has no increases", fix="say the last beads on the thread")
        if clues.part is not None and clues.part not in course.part_names:
            raise UsageError(f"there is no part {clues.part}", fix=f"the parts are {', '.join(course.part_names)}")
        edges = {item.edge for item in course.rounds}
        if clues.edge is not None and clues.edge not in edges:
            raise UsageError(f"there is no {clues.edge} edge", fix=f"the edges are {', '.join(sorted(edges))}")

    def _matches(self, codes: tuple[str, ...]) -> tuple[int, int]:
        """(beads after which these were the last, those after which all but one were)."""
        every = (1 << (self.course.beads + 1)) - 1
        exact, one_off = every, 0
        for back, code in enumerate(reversed(codes)):
            same = (self._beads_of(code) << back) & every
            # a bead misread is still a bead: the thread must reach so far back
            there = every & ~((1 << (back + 1)) - 1)
            one_off = (one_off & same) | (exact & ~same & there)
            exact &= same
        return exact, one_off

    def _masks(self, clues: Clues) -> Iterator[tuple[int, int]]:
        """(rounds off, beads after which all clues but the beads fit), the better first."""
        others = (1 << (self.course.beads + 1)) - 1
        if clues.since_increase is not None:
            others &= self._since_increase(clues.since_increase)
        for off in range(NEAR + 1) if clues.round is not None else (0,):
            rounds = self._in_rounds(clues, off)
            yield off, others if rounds is None else others & rounds

    def _since_increase(self, beads: int) -> int:
        ends = self._ends_of_increases()
        if beads > self.course.beads:
            return 0
        # in these many beads after the end of an increase no other has ended
        covered, width = ends, 1
        while width < beads:
            step = min(width, beads - width)
            covered |= covered << step
            width += step
        return (ends << beads) & ~covered if beads else ends

    def _in_rounds(self, clues: Clues, off: int) -> int | None:
        """Beads of the rounds that fit; None where nothing was said of the round."""
        if clues.round is None and clues.edge is None and clues.part is None and clues.colour is None:
            return None
        digits = bytearray(b"0" * (self.course.beads + 1))
        for index, item in enumerate(self.course.rounds):
            if clues.part is not None and item.part != clues.part:
                continue
            if clues.edge is not None and item.edge != clues.edge:
                continue
            if clues.round is not None and min(abs(number - clues.round) for number in item.numbers) != off:
                continue
            if clues.colour is not None and not self._is_of(index, clues.colour):
                continue
            digits[item.first_bead : item.first_bead + item.beads] = b"1" * item.beads
        return _from_digits(digits)

    def _is_of(self, index: int, code: str) -> bool:
        item = self.course.rounds[index]
        first = item.first_bead - 1
        have = self.text.count(code.encode(), first, first + item.beads)
        return have * _SHARE >= item.beads > 0

    # ---- places ---------------------------------------------------------------------------------

    def _fits_after(
        self, bead: int, codes: tuple[str, ...], misread: bool, backwards: bool, off: int, room: int, kept: int
    ) -> list[Fit]:
        """The places where so many beads are laid; several where moves without a bead follow."""
        wrong = None
        if misread:
            laid = self.text[bead - len(codes) : bead].decode()
            at = next(at for at, (saw, is_) in enumerate(zip(codes, laid, strict=True)) if saw != is_)
            wrong = len(codes) - 1 - at if backwards else at
        fits = []
        for position in sorted(positions_after(self.course, bead), key=lambda position: abs(position - kept))[:room]:
            look = self._lookout.at(position)
            left = f"{look.big} {look.big_label}" if look.big is not None else ""
            whole = self.course.rounds[self.course.round_of(position)].beads
            laid = f"{whole - look.left_round:,} of {whole:,} laid"
            fits.append(Fit(position, bead, wrong, backwards, off, look.title, laid, look.now, left))
        return fits


def positions_after(course: Course, beads: int) -> range:
    """The positions at which so many beads are laid: one, and one more for each move that follows without a bead."""
    if beads == 0:
        first = 0
    else:
        run = bisect_left(course.run_bead, beads) - 1
        first = course.run_step[run] + beads - course.run_bead[run]
    if beads >= course.beads:
        return range(first, course.steps + 1)
    following = bisect_left(course.run_bead, beads + 1) - 1
    last = course.run_step[following] + beads - course.run_bead[following]
    return range(first, last + 1)


def fit_words(fit: Fit, clues: Clues) -> str:
    """What speaks against this place, in words; empty where all fits as it was said."""
    words = []
    if fit.misread is not None:
        words.append(f"if the {ordinal(fit.misread + 1)} bead, {clues.last[fit.misread]}, was misread")
    if fit.backwards:
        words.append("if you read the beads from the needle on")
    if fit.off:
        words.append(f"{counted(fit.off, 'round')} off from round {clues.round}")
    return ", ".join(words)


def codes_typed(text: str) -> tuple[str, ...]:
    """Bead codes as people type them: `A A B B A`, `aabba`, `2A, 2B, A`. Raises UsageError for other signs."""
    codes: list[str] = []
    count = ""
    for char in text:
        if char.isascii() and char.isdigit():
            count += char
        elif char.isascii() and char.isalpha():
            number = int(count[:4]) if count else 1
            codes.extend(char.upper() * number if number <= MOST_CLUES else ())
            if number > MOST_CLUES or len(codes) > MOST_CLUES:
                raise UsageError(f"more than {MOST_CLUES} beads", fix="the last ten or twenty are enough")
            count = ""
        elif not (char.isspace() or char in ",;-"):
            shown = char if char.isprintable() else f"U+{ord(char):04X}"
            raise UsageError(f"`{shown}` is no bead code", fix="type the codes as in `A A B B A` or `2A, 2B, A`")
    if count:
        raise UsageError(f"{count[:9]} of which bead?", fix="type the codes as in `A A B B A` or `2A, 2B, A`")
    return tuple(codes)


# ---- bits ---------------------------------------------------------------------------------------


def _from_digits(digits: bytes | bytearray) -> int:
    """The number whose bit n is digit n (`0` or `1`)."""
    return int(digits[::-1], 2) if digits else 0


def _nearest(bits: int, near: int) -> Iterator[int]:
    """The bits that are set, the nearest to bit `near` first; of two equally near the earlier."""
    after = bits >> near
    before = bits & ((1 << near) - 1)
    up = down = -1
    while before or after or up >= 0 or down >= 0:
        if up < 0 and after:
            lowest = after & -after
            up = near + lowest.bit_length() - 1
            after ^= lowest
        if down < 0 and before:
            down = before.bit_length() - 1
            before ^= 1 << down
        if down >= 0 and (up < 0 or near - down <= up - near):
            yield down
            down = -1
        else:
            yield up
            up = -1
