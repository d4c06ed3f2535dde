"""How the sheets of measuring say something."""

from __future__ import annotations

from stitchalong.course.words import sentence
from stitchalong.errors import StitchalongError


def fault_words(error: StitchalongError) -> str:
    """What is wrong, and the likely fix."""
    problem = error.problems[0]
    return sentence(f"{problem.what}: {problem.fix}" if problem.fix else problem.what)
