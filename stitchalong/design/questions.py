"""The questions by which a plan is made, one by one. Who asks is given: lines, a test."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Protocol, TypeVar

from stitchalong.design.asked import ASKED, Question
from stitchalong.design.draft import Draft
from stitchalong.design.wanted import Wanted
from stitchalong.measure.book import Book
from stitchalong.measure.units import Units

__all__ = ["Ask", "Question", "wanted_by"]

T = TypeVar("T")


class Ask(Protocol):
    """Asks until the answer can be read. `read` raises UsageError with what is wrong."""

    def __call__(self, question: Question, read: Callable[[str], T]) -> T: ...


def wanted_by(ask: Ask, book: Book, units: Units) -> Wanted:
    """Ask everything. Whatever `ask` raises goes through."""
    draft = Draft(book, units)
    for key in ASKED:
        if key in draft.keys:
            draft = ask(draft.question(key), partial(_answered, draft, key))
    return draft.wanted()


def _answered(draft: Draft, key: str, word: str) -> Draft:
    answered = draft.answered(key, word)
    answered.check(key)
    return answered
