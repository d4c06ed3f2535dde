"""Work in a thread beside a screen, such as a form: what comes of it, or in words why nothing does.

What goes wrong there ends neither the screen nor what was filled in on it; a fault of the program is told as such.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from stitchalong.errors import StitchalongError
from stitchalong.values import value

T = TypeVar("T")

Tell = Callable[[float], None]
"""called now and then with the share that is done"""


@value
class Missing:
    """What there is instead."""

    told: str = ""
    """why; empty: nobody waits for it any more"""
    fault: bool = False
    """whether it is a fault of the program"""


class _LeftAlone(Exception):
    """Nobody waits for it any more."""


def worked_out(work: Callable[[Tell], T], wanted: Callable[[float], bool]) -> T | Missing:
    """Do the work in this thread, as long as it is wanted: asked before, and whenever the work tells its share."""

    def tell(share: float) -> None:
        if not wanted(share):
            raise _LeftAlone

    try:
        tell(0.0)
        return work(tell)
    except _LeftAlone:
        return Missing()
    except (StitchalongError, ImportError) as error:  # what it needs is not installed, or cannot be loaded
        return Missing(str(error))
    except Exception as error:
        return Missing(f"a fault of the program itself ({type(error).__name__}): this cannot be shown", fault=True)
