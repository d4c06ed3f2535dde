"""How the sheets of measuring say something."""

from __future__ import annotations

from stitchalong.errors import StitchalongError


def sentence(text: str) -> str:
    """With a capital and an end."""
    whole = f"{text[:1].upper()}{text[1:]}"
    return whole if whole.endswith((".", "?", "!")) else f"{whole}."


def fault_words(error: StitchalongError) -> str:
    """What is wrong, and the likely fix."""
    problem = error.problems[0]
    return sentence(f"{problem.what}: {problem.fix}" if problem.fix else problem.what)
