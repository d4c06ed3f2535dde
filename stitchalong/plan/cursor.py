"""A cursor over the tokens of one round: looking, taking, counting, and faults in a person's words."""

from __future__ import annotations

from stitchalong.errors import PlanError
from stitchalong.plan.text import did_you_mean, shown
from stitchalong.plan.tokens import MAX_COUNT, Token, fault, tokens

NUMERALS = {
    word: number
    for number, word in enumerate(
        (
            *("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"),
            *("eleven", "twelve", "thirteen", "fourteen", "fifteen"),
            *("sixteen", "seventeen", "eighteen", "nineteen", "twenty"),
        ),
        start=1,
    )
}
_WORDS = (
    *("no", "bead", "beads", "stitch", "stitches", "picot", "corner", "together", "as", "one"),
    *("to", "before", "after", "beside", "rib", "ribs", "marker", "end", "middle", "over"),
    *("repeat", "from", "more", "times", "around", "across", "once", "twice"),
)


class Cursor:
    def __init__(self, source: str) -> None:
        self.source = source
        self.tokens = tokens(source)
        self.at = 0
        self.bare = False
        """the stitch read last had no count of its own"""

    # ---- moving -------------------------------------------------------------------------------

    def peek(self, ahead: int = 0) -> Token:
        return self.tokens[min(self.at + ahead, len(self.tokens) - 1)]

    def take(self) -> Token:
        token = self.peek()
        self.at += 1
        return token

    def accept(self, *kinds: str) -> Token | None:
        return self.take() if self.peek().kind in kinds else None

    def word(self, *words: str) -> Token | None:
        """The next token, if it is one of these words; taken."""
        return self.take() if self.is_word(*words) else None

    def is_word(self, *words: str, ahead: int = 0) -> bool:
        token = self.peek(ahead)
        return token.kind == "word" and token.text in words

    def span_from(self, start: int) -> tuple[int, int]:
        return start, self.tokens[self.at - 1].end

    def wrong(self, span: Token | tuple[int, int], what: str, fix: str | None = None) -> PlanError:
        if isinstance(span, Token):
            span = (span.start, span.end)
        return fault(self.source, span, what, fix)

    def unexpected(self, token: Token, wanted: str) -> PlanError:
        if token.kind == "end":
            return self.wrong(token, f"the round ends where {wanted} should come")
        what = f"`{shown(token.text)}` where {wanted} should come"
        if token.kind == "word":
            letters = token.text.upper() if len(token.text) == 1 else None
            hint = f"bead codes are capital letters: `{letters}`" if letters else None
            known = () if token.text in _WORDS else _WORDS
            return self.wrong(token, what, hint or did_you_mean(token.text, known))
        if token.kind == "-":
            return self.wrong(token, what, "counts go from 1 up")
        if token.kind == "x":
            return self.wrong(token, what, "`x 3` follows the stitch or group it counts")
        return self.wrong(token, what)

    def count(self) -> int:
        """count := number | numeral, 1 to 1,000,000"""
        if self.is_word(*NUMERALS):
            return NUMERALS[self.take().text]
        token = self.accept("number")
        if token is None:
            raise self.unexpected(self.peek(), "a number")
        return self.number(token)

    def number(self, token: Token, most: int = MAX_COUNT) -> int:
        digits = token.text.lstrip("0")
        if not digits:
            raise self.wrong(token, f"`{shown(token.text, 8)}` is no count", f"counts go from 1 to {most:,}")
        if len(digits) > len(str(most)) or int(digits) > most:
            raise self.wrong(token, f"`{shown(digits, 12)}` is too many", f"counts go from 1 to {most:,}")
        return int(digits)

    def in_all(self) -> None:
        if self.is_word("in") and self.is_word("all", "total", ahead=1):
            self.at += 2
