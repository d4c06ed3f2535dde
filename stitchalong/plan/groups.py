"""The grammar of sequences: stitches one after the other, groups, and how often a group is worked."""

from __future__ import annotations

from stitchalong.plan.cursor import NUMERALS
from stitchalong.plan.items import count_of
from stitchalong.plan.model import Item, Repeat
from stitchalong.plan.stitches import StitchReader
from stitchalong.plan.tokens import MAX_COUNT, Token

MAX_DEPTH = 8
"""groups within groups"""

_CLOSER = {"(": ")", "[": "]", "{": "}"}
_ALL = ("around", "across")
"""as often as there is room: round and round, or to and fro"""
_OFTEN = {"once": 1, "twice": 2, "thrice": 3}
PLACES = ("ribs", "beside", "before", "after", "middle", "over")


class GroupReader(StitchReader):
    """Reads items and groups of items."""

    # ---- items --------------------------------------------------------------------------------

    def items(self, depth: int, *, star: bool = False, marked: bool = False) -> tuple[list[Item], int | None]:
        """items := item {[","] item}

        With `star` a `*` ends them; with `marked` one `**` may stand among them. Returns the items and
        how many of them stand before `**`.
        """
        found: list[Item] = []
        mark: int | None = None
        while True:
            token = self.peek()
            if token.kind in ("end", ")", "]", "}", ";", ".", ":", "-") or (star and token.kind == "*"):
                break
            if (token.kind == "(" and self.is_total()) or (found and self.is_repeat()):
                break
            if token.kind == "**":
                if not marked or mark is not None or not found:
                    raise self.wrong(token, "`**` marks one place within a group that begins with `*`")
                self.take()
                mark = len(found)
            else:
                found.extend(self.item(depth, star))
            if token.kind == "*" and self.peek().kind == ";" and not self.is_place(1):
                self.take()
            self.accept(",")
        return found, mark

    def item(self, depth: int, star: bool) -> list[Item]:
        """item := star | bracket | until | lay"""
        token = self.peek()
        if token.kind == "*":
            if star:
                raise self.wrong(token, "a `*` group stands inside a `*` group", "use brackets for one: `(…) x 3`")
            return self.star(self.deeper(depth))
        if token.kind in _CLOSER and not self.is_bracketed_count():
            return [self.bracket(self.deeper(depth), star)]
        return [self.until()]

    def deeper(self, depth: int) -> int:
        if depth >= MAX_DEPTH:
            raise self.wrong(self.peek(), f"groups stand more than {MAX_DEPTH} deep")
        return depth + 1

    def bracket(self, depth: int, star: bool) -> Repeat:
        """bracket := "(" items ")" times | "[" items "]" times | "{" items "}" times"""
        opened = self.take()
        items = self.items(depth, star=star)[0]
        closed = self.take()
        if closed.kind != _CLOSER[opened.kind]:
            if closed.kind == "end":
                raise self.wrong(opened, f"`{opened.text}` is opened here and never closed")
            if closed.kind in _CLOSER.values():
                raise self.wrong(opened, f"`{opened.text}` is opened here and closed with `{closed.text}`")
            raise self.unexpected(closed, f"`{_CLOSER[opened.kind]}`")
        span = self.span_from(opened.start)
        if not items:
            raise self.wrong(span, "this group is empty")
        times = self.times()
        if times is False:
            raise self.wrong(span, "this group does not say how many times", "write `(…) x 3`")
        return self.repeat(items, times, opened, depth)

    def star(self, depth: int) -> list[Item]:
        """star := "*" items ("*" times | [";"] "repeat" "from" "*" again)"""
        opened = self.take()
        items, mark = self.items(depth, star=True, marked=True)
        if not items:
            raise self.unexpected(self.peek(), "a stitch after `*`")
        if self.accept("*"):
            if mark is not None:
                raise self.wrong(opened, "`**` needs `repeat from * …, ending last repeat at **`")
            times = self.times()
            if times is False:
                raise self.wrong(
                    self.span_from(opened.start),
                    "this group does not say how many times",
                    "write `*…* 3 times`",
                )
            return [self.repeat(items, times, opened, depth)]
        if not self.is_repeat():
            if self.peek().kind == "end":
                raise self.wrong(
                    opened,
                    "`*` is opened here and never closed",
                    "end with `* 3 times` or `; repeat from * around`",
                )
            if self.peek().kind == ";":
                raise self.unexpected(self.peek(1), "`repeat from *`")
            raise self.unexpected(self.peek(), "`*` or `; repeat from *`")
        self.accept(";")
        self.take()
        if not self.word("from") or not self.accept("*"):
            raise self.unexpected(self.peek(), "`from *` after `repeat`")
        total = self.again()
        if not self.ending():
            if mark is not None:
                raise self.wrong(opened, "`**` needs `repeat from * …, ending last repeat at **`")
            return [self.repeat(items, total, opened, depth)]
        if mark is None:
            raise self.wrong(
                self.span_from(opened.start), "the last repeat ends at `**`, but no `**` stands in the group"
            )
        if total is None:
            raise self.wrong(
                self.span_from(opened.start),
                "a repeat `around` cannot end at `**`: how many there are is not known yet",
                "say how many more times",
            )
        return [self.repeat(items, total - 1, opened, depth), *items[:mark]]

    def repeat(self, items: list[Item], times: int | None, opened: Token, depth: int) -> Repeat:
        span = self.span_from(opened.start)
        if times is None and depth > 1:
            raise self.wrong(span, "a repeat `around` cannot stand inside another group", "say how many times")
        if times is not None and times * max(count_of(items)) > MAX_COUNT:
            raise self.wrong(span, f"this group is larger than {MAX_COUNT:,} beads")
        return Repeat(tuple(items), times, span)

    def times(self) -> int | bool | None:
        """times := "x" number ["times"] | (number | numeral) "times" [in all] | "once" | "twice" | "around" | "across"

        None for `around`, False where nothing of the kind stands here.
        """
        if self.word(*_ALL):
            return None
        often = self.word(*_OFTEN)
        if often:
            return _OFTEN[often.text]
        if self.accept("x"):
            number = self.count()
            self.word("times")
            return number
        if self.peek().kind == "number" or self.is_word(*NUMERALS):
            if self.is_word("more", ahead=1):
                raise self.wrong(self.peek(1), "`more` can be read two ways here", "say how many times in all")
            if not self.is_word("times", "time", ahead=1):
                return False
            number = self.count()
            self.take()
            self.in_all()
            return number
        return False

    def again(self) -> int | None:
        """again := "around" | "across" | ("once" | "twice" | "thrice") ["more"] | (number | numeral) ["more"] "times"

        The group has been worked once already, so the total is one more; None for `around`.
        """
        if self.word(*_ALL):
            return None
        often = self.word(*_OFTEN)
        if often:
            self.word("more")
            return _OFTEN[often.text] + 1
        if self.peek().kind == "number" or self.is_word(*NUMERALS):
            number = self.count()
            self.word("more")
            if not self.word("times", "time"):
                raise self.unexpected(self.peek(), "`more times`")
            return number + 1
        raise self.unexpected(self.peek(), "`around` or `2 more times`")

    def ending(self) -> bool:
        """ending := [","] ("ending" | "end") ["the"] "last" "repeat" "at" "**" """
        ahead = 1 if self.peek().kind == "," else 0
        if not self.is_word("ending", "end", ahead=ahead):
            return False
        self.at += ahead + 1
        self.word("the")
        for word in ("last", "repeat", "at"):
            if not self.word(word):
                raise self.unexpected(self.peek(), "`last repeat at **`")
        if not self.accept("**"):
            raise self.unexpected(self.peek(), "`**`")
        return True

    def is_total(self) -> bool:
        return self.peek(1).kind == "number" and self.is_word("bead", "beads", "stitch", "stitches", ahead=2)

    def is_repeat(self) -> bool:
        """Whether `repeat` or `; repeat` stands here."""
        return self.is_word("repeat", "rep", ahead=1 if self.peek().kind == ";" else 0)

    def is_place(self, ahead: int = 0) -> bool:
        return self.is_word("rib", *PLACES, ahead=ahead)
