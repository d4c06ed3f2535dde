"""The plan's file was changed since the piece was begun: what is new, and going on by it."""

from __future__ import annotations

from collections.abc import Iterable

from stitchalong.course.words import sentence
from stitchalong.errors import StitchalongError
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import BLANK, Line, line, wrapped
from stitchalong.screens.panels import Keys, Page
from stitchalong.screens.stitching import StitchingScreen


def ask(screen: StitchingScreen) -> None:
    """Show from where on the changed plan differs; Enter goes on by it, where all that is done is the same."""
    session = screen.session
    try:
        loaded, path = session.new_plan()
        new = session.what_new_plan_means(loaded)
    except StitchalongError as error:
        _tell(screen, "There is no new plan to take over", [str(problem) for problem in error.problems])
        return
    if new.hindered:
        _tell(screen, "The new plan cannot be taken over here", [*new.words, new.hindered])
        return

    def take_over() -> None:
        screen.do(lambda: session.take_over_plan(loaded, path.stem))
        screen.query_one(Canvas).dye(screen.colours())

    page = _page("Take over the new plan?", new.words, (("Enter", "take it over"), ("Escape", "leave it as it is")))
    screen.open(page, take_over)
    screen.aloud.sentence(f"{'; '.join(new.words)}. Enter takes it over, Escape leaves it.")


def _tell(screen: StitchingScreen, heading: str, told: list[str]) -> None:
    screen.open(_page(heading, told, (("Enter", "close"), ("Up Down", "scroll"))), lambda: None)
    screen.aloud.sentence(f"{heading}: {'; '.join(told[:2])}")


def _page(heading: str, told: Iterable[str], keys: Keys) -> Page:
    def draw(width: int, glyphs: Glyphs) -> list[Line]:
        out = [line(heading, "strong")]
        for words in told:
            out += [BLANK, *wrapped(sentence(words), width)]
        return [*out, BLANK, *wrapped("Your place and all that is counted stay as they are.", width, "dim")]

    return Page(draw, keys)
