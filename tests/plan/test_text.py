"""Strangers' words made harmless."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.plan.text import clean, did_you_mean, listed, shown


@pytest.mark.parametrize(
    ("raw", "kept"),
    [
        ("  sea glass ", "sea glass"),
        ("sea\tglass\r\nblue", "sea glass blue"),
        ("\x1b[2Jsea\x07", "[2Jsea"),
        ("a\x9bb\x85c", "ab c"),
        # the nine direction marks of Unicode Standard Annex 9, section 2
        ("\u202aa\u202bb\u202cc\u202dd\u202ee\u2066f\u2067g\u2068h\u2069", "abcdefgh"),
        ("a\u200eb\u200fc\u061cd", "abcd"),
        ("a\u200bb\u2060c\ufeffd\u00ade", "abcde"),
        ("a\u2028b\u2029c", "a b c"),
        ("caf\u00e9 \u6d77 \U0001f4ff", "caf\u00e9 \u6d77 \U0001f4ff"),
        # joined pictures of Unicode Technical Standard 51, section 2.2 and 1.4.1
        ("\U0001f469\u200d\U0001f33e", "\U0001f469\u200d\U0001f33e"),
        ("\U0001f469\U0001f3fd\u200d\U0001f33e", "\U0001f469\U0001f3fd\u200d\U0001f33e"),
        ("\u2764\ufe0f\u200d\U0001f525", "\u2764\ufe0f\u200d\U0001f525"),
        ("a\u200db\ufe0f", "ab"),
        ("\U0001f469\u200d", "\U0001f469"),
    ],
)
def test_clean(raw: str, kept: str) -> None:
    assert clean(raw) == kept


@given(st.text(max_size=30))
def test_clean_text_is_harmless_and_stays_as_it_is(raw: str) -> None:
    kept = clean(raw)
    assert clean(kept) == kept
    joiners = kept.replace("\u200d", "")
    assert all(unicodedata.category(char) not in ("Cc", "Cf", "Cs", "Zl", "Zp") for char in joiners)
    assert "\n" not in kept
    lines = clean(raw, keep_lines=True)
    assert clean(lines) == kept


def test_shown_is_short() -> None:
    assert shown("x" * 100) == "x" * 39 + "…"
    assert shown("x" * 40) == "x" * 40
    assert shown("\x1b" * 100 + "x" * 10**7, 10) == ""


def test_near_words() -> None:
    assert did_you_mean("unit", ["units", "spacers"]) == "did you mean `units`?"
    assert did_you_mean("SPACER", ["units", "spacers"]) == "did you mean `spacers`?"
    assert did_you_mean("wxyz", ["units", "spacers"]) is None
    assert did_you_mean("x" * 10**6, ["units"]) is None


def test_lists_in_words() -> None:
    assert listed([]) == ""
    assert listed(["a"]) == "a"
    assert listed(["a", "b"]) == "a or b"
    assert listed(["a", "b", "c"], "and") == "a, b and c"
