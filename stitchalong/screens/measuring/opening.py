"""Opens the sheets of measuring, for what is marked on the first screen."""

from __future__ import annotations

from collections.abc import Callable

from stitchalong.course.compile import compile_plan
from stitchalong.errors import Problems, StitchalongError
from stitchalong.measure.book import Book
from stitchalong.measure.fitting import Fitting
from stitchalong.measure.of_start import Asks, asks_for
from stitchalong.measure.units import Units
from stitchalong.plan.library import Listed
from stitchalong.plan.model import Plan
from stitchalong.plan.read import read_plan
from stitchalong.screens.beside.screen import SheetScreen
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.inks import Look
from stitchalong.screens.measuring.fitting import FitSheet
from stitchalong.screens.measuring.gauging import GaugeSheet, Keeping
from stitchalong.store import Store


def fit_screen(listed: Listed, store: Store, units: Units, look: Look, glyphs: Glyphs) -> SheetScreen:
    """Which count of a plan fits. Raises PlanError, StoreError, and UsageError where no size can be chosen."""
    plan = read_plan(listed.path, Problems()).plan
    fitting = Fitting(plan, compile_plan(plan), Book(store.measured()))
    return SheetScreen(FitSheet.of(plan.title, fitting, units), look, glyphs, {})


def gauge_screen(
    listed: Listed | None, store: Store, clock: Callable[[], float], units: Units, look: Look, glyphs: Glyphs
) -> SheetScreen:
    """One's own gauge. `listed`: a plan that is marked, whose bead and stitch a measurement begins with. Raises
    StoreError."""
    keeping = Keeping(store, clock, units)
    return SheetScreen(GaugeSheet.of(keeping, _asks(listed)), look, glyphs, {})


def _asks(listed: Listed | None) -> Asks | None:
    if listed is None:
        return None
    try:
        plan: Plan = read_plan(listed.path, Problems()).plan
    except StitchalongError:
        return None
    return asks_for(plan)
