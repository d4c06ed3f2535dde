"""The grammar of one stitch: singles, beads together, picots, corners, no bead, and `A to rib`."""

from __future__ import annotations

from dataclasses import replace

from stitchalong.plan.cursor import NUMERALS, Cursor
from stitchalong.plan.model import Item, Lay, Until
from stitchalong.plan.text import listed, shown
from stitchalong.plan.tokens import Token

MAX_TOGETHER = 30
"""beads of one stitch"""

_TARGETS = ("rib", "marker", "end")


class StitchReader(Cursor):
    """Reads stitches; whatever can be read in two ways is refused with both readings."""

    bare = False
    """the stitch read last had no count of its own"""

    def until(self) -> Item:
        """until := lay "to" ["the"] ["next"] [number "before" ["the"]] ("rib" | "marker" | "end")"""
        start = self.peek().start
        lay = self.lay()
        if not self.is_word("to"):
            return lay
        to = self.take()
        if not self.bare:
            raise self.wrong(
                self.span_from(start),
                "this says both how many and how far",
                "write only one, as in `A to rib`",
            )
        before = 0
        if self.peek().kind == "number" or self.is_word(*NUMERALS):
            before = self.count()
            if not self.word("before"):
                raise self.unexpected(self.peek(), "`before rib`, `before marker` or `before end`")
        self.word("the")
        self.word("next")
        target = self.word(*_TARGETS)
        if target is None:
            raise self.unexpected(self.peek(), f"{listed(f'`{name}`' for name in _TARGETS)} after `{to.text}`")
        self.bare = False
        return Until(lay, target.text, before, self.span_from(start))

    def lay(self) -> Lay:
        """lay := (single | together | asone | picot | corner | nobead) ["x" number]"""
        token = self.peek()
        lay = self.no_bead() or self.kinded() or self.beads()
        if lay is None:
            raise self.unexpected(token, "a stitch")
        self.bare = token.kind not in ("number", "(") or lay.form != "single"
        times = self.accept("x")
        if times:
            if not self.bare:
                raise self.wrong(
                    self.span_from(token.start),
                    "this stitch is counted twice",
                    "write one count, or a group as in `(5A) x 3`",
                )
            lay = replace(lay, count=self.count())
            self.bare = False
        elif self.peek().kind == "number" and self.is_word("times", "time", ahead=1):
            self.at += 2
            raise self.wrong(
                self.span_from(token.start),
                "`times` can be read two ways here",
                "write `BB x 3` for one stitch, `(…) x 3` for a group",
            )
        return replace(lay, span=self.span_from(token.start))

    def no_bead(self) -> Lay | None:
        """nobead := "no" "bead" """
        if not self.word("no"):
            return None
        if not self.word("bead", "beads"):
            raise self.unexpected(self.peek(), "`bead` after `no`")
        return Lay("no bead", ())

    def kinded(self) -> Lay | None:
        """picot := "picot" ["of"] beads; corner := "corner" ["of"] beads; beads := codes | number code"""
        name = self.word("picot", "corner")
        if name is None:
            return None
        self.word("of")
        number = self.accept("number")
        codes = self.accept("codes")
        if codes is None or (number and len(codes.text) != 1):
            raise self.unexpected(codes or self.peek(), f"beads after `{name.text}`, as in `{name.text} DDD`,")
        count = self.number(number, MAX_TOGETHER) if number else 1
        beads = tuple(codes.text) * count
        span = self.span_from(name.start)
        if name.text == "corner" and len(beads) != 3:
            raise self.wrong(span, "a corner has three beads", "as in `corner CCC`")
        if name.text == "picot" and (len(beads) < 3 or len(beads) % 2 == 0):
            raise self.wrong(span, "a picot has one bead as its tip: three, five, seven … beads", "as in `picot DDD`")
        self.few(beads, span)
        return Lay(name.text, beads)

    def beads(self) -> Lay | None:
        """single := [number | "(" number ")"] code

        together := codes ["together"] | number code "together"
        asone := codes "as" "one" | number code "as" "one"
        """
        start = self.peek().start
        number: Token | None
        if self.is_bracketed_count():
            self.take()
            number = self.take()
            self.take()
        else:
            number = self.accept("number")
        codes = self.accept("codes")
        if codes is None:
            if number is None:
                return None
            if number.text.strip("0") and self.is_word("times", "more"):
                raise self.wrong(self.span_from(start), "this count has no group", "put brackets around it: `(…) x 3`")
            raise self.unexpected(self.peek(), f"a bead code after `{shown(number.text, 12)}`")
        together = self.word("together")
        one = None if together else self.word("as")
        if one is not None and not self.word("one"):
            raise self.unexpected(self.peek(), "`one` after `as`")
        together = together or one
        text, span = codes.text, self.span_from(start)
        if number and len(text) > 1:
            raise self.wrong(span, f"`{shown(number.text + text)}` can be read two ways", _either(number.text, text))
        if len(text) == 1 and not together:
            return Lay("single", (text,), self.number(number) if number else 1)
        beads = (text,) * self.number(number, MAX_TOGETHER) if number else tuple(text)
        if len(beads) == 1:
            words = "as one" if one else "together"
            raise self.wrong(span, f"one bead alone cannot be {words}", f"write `{text}` or `2{text} {words}`")
        self.few(beads, span)
        if len(beads) > 2 and not together:
            raise self.wrong(span, f"`{text}` does not say what kind of stitch it is", _ask(text))
        return Lay("as one" if one else "together", beads)

    def few(self, beads: tuple[str, ...], span: tuple[int, int]) -> None:
        if len(beads) > MAX_TOGETHER:
            raise self.wrong(span, f"one stitch has at most {MAX_TOGETHER} beads", "put spaces between stitches")

    def is_bracketed_count(self) -> bool:
        """Whether `(5)` stands here, right before a code."""
        kinds = [self.peek(ahead).kind for ahead in range(4)]
        return kinds == ["(", "number", ")", "codes"]


def _either(number: str, codes: str) -> str:
    number, rest = shown(number, 8), ", ".join(codes[1:5])
    return f"write `{shown(codes)} x {number}` for beads together, `{number}{codes[0]}, {rest}` for single ones"


def _ask(codes: str) -> str:
    kinds = [f"`picot {codes}`"] if len(codes) % 2 else []
    kinds += [f"`corner {codes}`"] if len(codes) == 3 else []
    several = f"{len(codes)}{codes[0]}" if len(set(codes)) == 1 else ", ".join(codes)
    kinds.append(f"`{codes} together`")
    return f"write {', '.join(kinds)}, or `{several}` for single stitches"
