"""Random rounds, as values."""

from __future__ import annotations

from hypothesis import strategies as st

from stitchalong.plan.model import Item, Lay, Repeat, Round, Ruled, Total, Until, Written
from stitchalong.plan.notation import codes_in, count_of

CODES = st.sampled_from("ABCDXZ")


def _beads(least: int, most: int) -> st.SearchStrategy[tuple[str, ...]]:
    mixed = st.lists(CODES, min_size=least, max_size=most).map(tuple)
    return mixed | st.builds(lambda code, count: (code,) * count, CODES, st.integers(least, most))


_STITCHES = st.one_of(
    st.builds(lambda code: Lay("single", (code,)), CODES),
    st.builds(lambda codes: Lay("together", codes), _beads(2, 30)),
    st.builds(lambda codes: Lay("as one", codes), _beads(2, 30)),
    st.builds(lambda half, tip: Lay("picot", (*half, tip, *half)), _beads(1, 5), CODES),
    st.builds(lambda codes: Lay("corner", codes), _beads(3, 3)),
    st.just(Lay("no bead", ())),
)
_LAYS = st.builds(lambda lay, count: Lay(lay.form, lay.codes, count), _STITCHES, st.integers(1, 1000) | st.just(1))
_UNTILS = st.builds(Until, _STITCHES, st.sampled_from(["rib", "marker", "end"]), st.integers(0, 50))
_PLAIN: st.SearchStrategy[Item] = _LAYS | _UNTILS
_ITEMS: st.SearchStrategy[Item] = st.recursive(
    _PLAIN,
    lambda inner: st.builds(
        lambda items, times: Repeat(tuple(items), times), st.lists(inner, min_size=1, max_size=4), st.integers(1, 30)
    ),
    max_leaves=8,
)
_TOTALS = st.none() | st.builds(Total, st.integers(1, 1_000_000), st.sampled_from(["beads", "stitches"]))


def _depth(item: Item) -> int:
    return 1 + max(_depth(inner) for inner in item.items) if isinstance(item, Repeat) else 0


@st.composite
def written(draw: st.DrawFn) -> Written:
    items: list[Item] = draw(st.lists(_ITEMS, min_size=1, max_size=5))
    if draw(st.booleans()):
        items.append(Repeat(tuple(draw(st.lists(_ITEMS, min_size=1, max_size=4))), None))
    begins = draw(st.sampled_from([None, "rib", "marker"]))
    return Written(tuple(items), draw(_TOTALS), begins)


def _fits(round: Round) -> bool:
    if isinstance(round, Ruled):
        return bool(codes_in(round))
    return (
        bool(codes_in(round))
        and max(count_of(round.items)) <= 1_000_000
        and max(_depth(item) for item in round.items) <= 8
    )


@st.composite
def ruled(draw: st.DrawFn) -> Ruled:
    beside = draw(st.none() | _STITCHES)
    apart = st.none() if beside else st.none() | _STITCHES
    below = draw(st.lists(CODES, unique=True, max_size=3))
    return Ruled(
        draw(st.builds(lambda code: Lay("single", (code,)), CODES) | _STITCHES.filter(lambda lay: bool(lay.codes))),
        ribs=draw(st.none() | _STITCHES),
        beside=beside,
        before=draw(apart),
        after=draw(apart),
        middle=draw(st.none() | _STITCHES),
        over=tuple((code, draw(_STITCHES)) for code in below),
        total=draw(_TOTALS),
    )


ROUNDS: st.SearchStrategy[Round] = (written() | ruled()).filter(_fits)
