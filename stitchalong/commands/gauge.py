"""One's own gauge: what was measured of swatches and finished pieces, kept and used from then on.

`list --json` gives one object with `format`, `measured` (a list of `number`, `at`, `bead`, `of`, `tension`, `count`,
`length` and `error` in mm, `piece`: a uid or empty) and `gauges` (a list of `bead`, `of`, `tension`, `each`: a figure
in mm, for thread a share, and `usual`: the same without what was measured, or null).
"""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from stitchalong.commands.figures import data_of
from stitchalong.commands.subject import units_of
from stitchalong.commands.table import columns
from stitchalong.commands.world import World
from stitchalong.errors import Exit, UsageError
from stitchalong.measure.beads import look_up
from stitchalong.measure.book import THREAD, Book, known_bead, measured
from stitchalong.measure.figure import Figure
from stitchalong.measure.gauge import MRAW, PEYOTE, RAW, Measurement, Per, measured_ring
from stitchalong.measure.measured import Measured
from stitchalong.measure.need import measured_size, measured_use
from stitchalong.measure.sizes import read_ring_size
from stitchalong.measure.units import INCH, Units, length, read_length
from stitchalong.settings.when import spoken
from stitchalong.store import PieceRow, Store

_OF = {
    "band": (MRAW, Per.UNIT),
    "weave": (RAW, Per.UNIT),
    "columns": (PEYOTE, Per.COLUMN),
    "rows": (PEYOTE, Per.ROW),
}
"""what can be measured, by its word on the command line"""
_WORDS = {(stitch, str(per)): word for word, (stitch, per) in _OF.items()} | {(THREAD, str(Per.UNIT)): THREAD}


def run(asked: Namespace, world: World) -> int:
    """`gauge add`, `gauge list` or `gauge remove`."""
    units = units_of(asked, world)
    one = _measured(asked) if asked.act == "add" else None
    store = world.store()
    try:
        if one is not None:
            number = store.add_measured(one)
            world.say(f"kept as {number}")
            world.say_all(_gauge_lines(_gauges(store.measured(), only=one), units))
        elif asked.act == "remove":
            store.remove_measured(asked.number)
            world.say(f"measurement {asked.number} is forgotten")
        else:
            kept = store.measured()
            if asked.json:
                world.say_data(_document(kept))
            else:
                world.say_all(_lines(kept, units, world.clock()))
    finally:
        store.close()
    return Exit.OK


def _measured(asked: Namespace) -> Measured:
    bead = known_bead(asked.bead)
    stitch, per = _OF[asked.of]
    if asked.of == "band":
        try:
            one = Measurement(asked.count, read_length(asked.length))
        except UsageError:
            one = measured_ring(asked.count, read_ring_size(asked.length))
    else:
        one = Measurement(asked.count, read_length(asked.length))
    return measured(bead, stitch, per, one, _word(asked.tension))


def _word(tension: str) -> str:
    return " ".join(tension.split()).casefold()


def learn(store: Store, piece: PieceRow, size: str | None, thread: str | None, tension: str) -> list[str]:
    """Keep the ring size a piece came out at, and the thread it took; what that makes of the gauges.

    All is looked at before anything is kept. Raises UsageError and PlanError.
    """
    from stitchalong.session import Session

    session = Session.resume(store, piece.id)
    found = []
    if size is not None:
        found.append(measured_size(session.course, session.plan, read_ring_size(size), _word(tension), piece.uid))
    if thread is not None:
        found.append(measured_use(session.course, session.plan, read_length(thread), piece.uid))
    for one in found:
        store.add_measured(one)
    kept = store.measured()
    return [line for one in found for line in _gauge_lines(_gauges(kept, only=one), Units.METRIC)]


# ---- telling ------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Own:
    """A gauge of one's own."""

    bead: str
    of: str
    tension: str
    each: Figure
    usual: Figure | None


def _gauges(kept: Sequence[Measured], only: Measured | None = None) -> Iterator[_Own]:
    """The gauges that the measurements make; `only`: that to which this one belongs."""
    done = set()
    for one in [only] if only is not None else kept:
        key = (one.size, one.shape, one.stitch, one.per, one.tension)
        if key in done:
            continue
        done.add(key)
        book = Book(kept, one.tension)
        of = _WORDS[one.stitch, one.per]
        if one.stitch == THREAD:
            yield _Own("", of, "", book.slack(), Book().slack())
            continue
        bead = look_up(one.size, one.shape)
        if bead is None:
            continue
        own, usual = (some.gauge(bead, one.stitch, Per(one.per)) for some in (book, Book()))
        if own is not None:
            yield _Own(f"{one.size} {one.shape}", of, one.tension, own.each, usual.each if usual else None)


def _gauge_lines(gauges: Iterator[_Own], units: Units) -> Iterator[str]:
    each = {"band": "a unit of a band", "weave": "a unit of weave", "columns": "a column", "rows": "a row"}
    for own in gauges:
        if own.of == THREAD:
            low, high = own.each.low, own.each.high
            yield f"thread: {own.each.value:.2f} ({low:.2f} to {high:.2f}) times the beads passed; {own.each.basis}"
            continue
        tension = f", {own.tension}" if own.tension else ""
        usual = f"; without it {own.usual.value:.2f} mm" if own.usual and units is Units.METRIC else ""
        yield f"{own.bead}{tension}: {_fine(own.each, units)} {each[own.of]}; {own.each.basis}{usual}"


def _fine(figure: Figure, units: Units) -> str:
    """Gauges are told finer than lengths: `2.24 mm (2.15 to 2.33)`."""
    if units is Units.INCH:
        low, value, high = (part / INCH for part in (figure.low, figure.value, figure.high))
        return f"{value:.4f} in ({low:.4f} to {high:.4f})"
    return f"{figure.value:.2f} mm ({figure.low:.2f} to {figure.high:.2f})"


def _lines(kept: Sequence[Measured], units: Units, now: float) -> Iterator[str]:
    if not kept:
        yield "nothing measured yet: sizes are reckoned from what is usual"
        yield "`stitchalong gauge add` keeps a swatch, `stitchalong finish PIECE --size` a finished piece"
        return
    rows = []
    for one in kept:
        bead = f"{one.size} {one.shape}".strip() or "every bead"
        what = f"{one.length / one.count:.2f} times" if one.stitch == THREAD else length(one.length, units)
        of = THREAD if one.stitch == THREAD else f"{one.count:,} {_WORDS[one.stitch, one.per]}"
        origin = "a piece" if one.piece else "a swatch"
        rows.append((str(one.id), bead, one.tension, of, what, origin, spoken(one.at, now)))
    yield from columns(rows, right=frozenset((0,)))
    yield from _gauge_lines(_gauges(kept), units)


def _document(kept: Sequence[Measured]) -> dict[str, object]:
    rows = [
        {
            "number": one.id,
            "at": one.at,
            "bead": f"{one.size} {one.shape}".strip(),
            "of": _WORDS[one.stitch, one.per],
            "tension": one.tension,
            "count": one.count,
            "length": one.length,
            "error": one.error,
            "piece": one.piece,
        }
        for one in kept
    ]
    gauges = [
        {"bead": own.bead, "of": own.of, "tension": own.tension, "each": data_of(own.each), "usual": data_of(own.usual)}
        for own in _gauges(kept)
    ]
    return {"format": 1, "measured": rows, "gauges": gauges}
