"""From trade notation to values: one round's text becomes `Written` or `Ruled`.

A recursive-descent parser; each method's docstring is its grammar line. The meaning of *N more times* (N + 1
in all) and of `[…] N times` (N in all) is that of printed patterns; the tests name the sources.
"""

from __future__ import annotations

from stitchalong.plan.groups import PLACES, GroupReader
from stitchalong.plan.items import codes_in, count_of, ruled_lays
from stitchalong.plan.model import Item, Lay, Repeat, Round, Ruled, Total, Written
from stitchalong.plan.text import listed
from stitchalong.plan.tokens import MAX_COUNT


def parse_round(text: str) -> Round:
    """One round: `C` and `C; ribs MM` are `Ruled`, everything else `Written`. Raises PlanError."""
    return _RoundReader(text).round()


def parse_written(text: str) -> Written:
    """Beads in the order laid, as a start is written (`C` is one bead here). Raises PlanError."""
    return _RoundReader(text).written()


def parse_lay(text: str) -> Lay:
    """One stitch, as a rule names it: `MM`, `corner CCC`, `no bead`. Raises PlanError."""
    parser = _RoundReader(text)
    lay = parser.one_lay("this")
    parser.finish()
    return lay


class _RoundReader(GroupReader):
    # ---- rounds -------------------------------------------------------------------------------

    def round(self) -> Round:
        """round := [begins] (ruled | items) [total] ["."]"""
        begins, start = self.begins(), self.at
        items = self.items(0)[0]
        self.need_some(items)
        fill = items[0] if len(items) == 1 and isinstance(items[0], Lay) and self.bare else None
        if (fill and not self.is_repeat()) or (self.peek().kind == ";" and self.is_place(1)):
            first = self.tokens[start]
            if begins is not None:
                raise self.wrong(
                    first,
                    f"`from {begins}:` has no meaning before a fill",
                    "it belongs before a round written out",
                )
            if fill is None:
                raise self.wrong(first, "before `;` and a place comes one fill without a count", "as in `C; ribs MM`")
            return self.ruled(fill)
        total = self.total()
        self.finish()
        return self.checked(Written(tuple(items), total, begins, self.source))

    def written(self) -> Written:
        """written := items [total] ["."]"""
        items = self.items(0)[0]
        self.need_some(items)
        total = self.total()
        self.finish()
        return self.checked(Written(tuple(items), total, None, self.source))

    def need_some(self, items: list[Item]) -> None:
        if not items and self.peek().kind in ("end", "."):
            raise self.wrong(
                self.peek(),
                "this round is empty",
                "write what is laid, as in `*5A, BB; repeat from * around`",
            )
        if not items:
            raise self.unexpected(self.peek(), "a stitch")

    def begins(self) -> str | None:
        """begins := "from" ["the"] ("rib" | "marker") ":" """
        if not self.word("from"):
            return None
        self.word("the")
        target = self.word("rib", "marker")
        if target is None:
            raise self.unexpected(self.peek(), "`rib:` or `marker:`")
        if not self.accept(":"):
            raise self.unexpected(self.peek(), "`:`")
        return target.text

    def checked(self, round: Written) -> Written:
        """Refuses a round of no bead, one too large, and a repeat around that is not the last."""
        if not codes_in(round):
            raise self.wrong((0, len(self.source)), "this round lays no bead at all")
        if max(count_of(round.items)) > MAX_COUNT:
            raise self.wrong((0, len(self.source)), f"this round is larger than {MAX_COUNT:,} beads")
        for item in round.items[:-1]:
            if isinstance(item, Repeat) and item.times is None:
                raise self.wrong(
                    item.span,
                    "nothing can follow a repeat `around`",
                    "it goes on until the round is complete",
                )
        return round

    def finish(self) -> None:
        self.accept(".")
        token = self.peek()
        if token.kind == "end":
            return
        if token.kind in (")", "]", "}"):
            raise self.wrong(token, f"`{token.text}` closes a bracket that was never opened")
        if self.is_repeat():
            raise self.wrong(token, "no `*` says where this repeat begins", "as in `*5A, BB; repeat from * around`")
        if token.kind == ";":
            raise self.unexpected(self.peek(1), f"a place ({listed(PLACES)})")
        raise self.unexpected(token, "the end of the round")

    # ---- rules --------------------------------------------------------------------------------

    def ruled(self, fill: Lay) -> Ruled:
        """ruled := lay {";" place} [total] ["."]"""
        found: dict[str, Lay] = {}
        over: list[tuple[str, Lay]] = []
        while self.accept(";"):
            name, span, below, lay = self.place()
            if name in found or (below and below in dict(over)):
                raise self.wrong(span, f"{f'`over {below}`' if below else f'`{name}`'} is given twice")
            if below:
                over.append((below, lay))
            else:
                found[name] = lay
            if "beside" in found and ("before" in found or "after" in found):
                raise self.wrong(
                    span,
                    "`beside` means both `before` and `after`, so it cannot stand with either",
                    "write `before ribs …; after ribs …`",
                )
        total = self.total()
        self.finish()
        round = Ruled(fill, **found, over=tuple(over), total=total, text=self.source)
        if not any(lay.codes for lay in ruled_lays(round)):
            raise self.wrong((0, len(self.source)), "this round lays no bead at all")
        return round

    def place(self) -> tuple[str, tuple[int, int], str, Lay]:
        """place := ("ribs" | ("beside" | "before" | "after") "ribs" | "middle" | "over" code) lay"""
        token = self.take()
        name = "ribs" if token.text == "rib" else token.text
        if token.kind != "word" or name not in PLACES:
            raise self.unexpected(token, f"a place ({listed(PLACES)})")
        below = ""
        if name in ("beside", "before", "after"):
            self.word("the")
            if not self.word("ribs", "rib"):
                raise self.unexpected(self.peek(), f"`ribs` after `{name}`")
        elif name == "over":
            code = self.accept("codes")
            if code is None or len(code.text) != 1:
                raise self.unexpected(code or self.peek(), "one bead code after `over`, as in `over S A`,")
            below = code.text
        lay = self.one_lay(f"`{name}`")
        return name, self.span_from(token.start), below, lay

    def one_lay(self, owner: str) -> Lay:
        """A lay of exactly one stitch."""
        token = self.peek()
        lay = self.lay()
        if not self.bare:
            fix = f"two beads in one space are written `{lay.codes[0] * 2}`" if lay.form == "single" else None
            raise self.wrong(self.span_from(token.start), f"{owner} names one stitch and takes no count", fix)
        return lay

    def total(self) -> Total | None:
        """total := "(" number ("beads" | "stitches") ")" """
        if self.peek().kind != "(" or not self.is_total():
            return None
        start = self.take().start
        number = self.count()
        of = "beads" if self.take().text.startswith("bead") else "stitches"
        self.in_all()
        if not self.accept(")"):
            raise self.unexpected(self.peek(), "`)`")
        span = self.span_from(start)
        if self.peek().kind not in ("end", "."):
            raise self.wrong(span, "a check like this stands at the end of the round")
        return Total(number, of, span)
