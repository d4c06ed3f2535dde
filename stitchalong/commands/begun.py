"""`start` of a plan of which a piece is under way already."""

from __future__ import annotations

from stitchalong.commands.world import NAME, World
from stitchalong.settings.when import spoken
from stitchalong.store import PieceSummary

_ON = frozenset(("", "on", "go on", "go-on", "yes", "y"))
_ANOTHER = frozenset(("another", "a", "new", "begin", "b", "no", "n"))


def another(begun: PieceSummary, world: World) -> bool | None:
    """Whether another piece is to be begun; None: neither. Nobody is asked where nobody would answer."""
    told = f"{begun.name} of this plan is begun already, touched {spoken(begun.touched, world.clock())}"
    if not world.somebody_answers:
        world.say(f"{told}; `{NAME} go-on {begun.id}` goes on with it")
        return True
    world.say(f"{told}.")
    while True:
        world.say("Go on with it? An empty line goes on; “another” begins another piece.")
        line = world.stdin.readline(100)
        word = line.strip().casefold()
        if not line:
            return None
        if word in _ON | _ANOTHER:
            return word in _ANOTHER
