"""Groups of several beads that are one stitch: notation read bead by bead and gathered into groups."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stitchalong.course.bench import Bench
from stitchalong.course.techniques.row_work import laid_out
from stitchalong.course.words import counted
from stitchalong.errors import Place, PlanError
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.plan.model import Item, Lay, Repeat, Ruled, Until
from stitchalong.plan.model import Round as PlanRound


def groups_of(codes: Sequence[str], drop: int, kind: Kind | None = None) -> list[Make]:
    """Codes in the order picked up, `drop` to a group; singles where that is one."""
    kind = kind or (Kind.GROUP if drop > 1 else Kind.SINGLE)
    return [Make(kind, tuple(codes[at : at + drop]), (0,)) for at in range(0, len(codes), drop)]


def refuse_uneven(number: int, step: int, what: str, place: Place, least: int = 1) -> PlanError:
    """For a count that does not divide: names the nearest that do."""
    down = number // step * step
    near = [count for count in (down, down + step) if count >= least] or [least]
    return PlanError(
        f"{what} do not divide by {step}; {' and '.join(f'{count:,}' for count in near)} do",
        place=place,
    )


def grouped(
    bench: Bench,
    spec: PlanRound,
    spaces: int,
    drop: int,
    place: Place,
    number: int,
    word: str,
    under: Sequence[int] = (),
) -> list[Make]:
    """A round of groups. Beads are written one by one, or a group at a time as beads together (`AB`)."""
    if drop == 1:
        return laid_out(bench, spec, spaces, place, number, word, under)
    if isinstance(spec, Ruled):
        makes = laid_out(bench, _plain(spec, drop, place), spaces, place, number, word, under)
        return [
            replace(make, kind=Kind.GROUP, ups=(0,), beads=make.beads * drop if len(make.beads) == 1 else make.beads)
            for make in makes
        ]
    singles = replace(spec, items=tuple(_singly(item, drop, place) for item in spec.items), total=None)
    makes = laid_out(bench, singles, spaces * drop, place, number, word)
    found = groups_of([code for make in makes for code in make.beads], drop)
    total = spec.total
    if total is not None and total.number != (spaces * drop if total.of == "beads" else spaces):
        have = counted(spaces * drop, "bead") if total.of == "beads" else counted(spaces, "stitch", "stitches")
        raise PlanError(
            f"the {word} has {have}, not {total.number}",
            fix=f"correct the check in brackets or the {word}",
            place=replace(place, source=spec.text or None, span=total.span),
        )
    return found


def _plain(spec: Ruled, drop: int, place: Place) -> Ruled:
    for lay in (spec.fill, *(lay for _, lay in spec.over)):
        _check(lay, drop, place)
    return spec


def _check(lay: Lay, drop: int, place: Place) -> None:
    if lay.form not in ("single", "together") or (lay.form == "together" and len(lay.codes) != drop):
        raise PlanError(
            f"one stitch of this {drop}-drop work is {drop} beads", fix=f"as in `{'A' * drop} together`", place=place
        )


def _singly(item: Item, drop: int, place: Place) -> Item:
    """The item with groups of beads together taken apart."""
    match item:
        case Lay():
            _check(item, drop, place)
            if item.form == "single":
                return item
            return Repeat(tuple(Lay("single", (code,)) for code in item.codes), item.count)
        case Until():
            _check(item.lay, drop, place)
            if item.lay.form != "single":
                raise PlanError("`to end` takes one bead code here", place=place)
            return replace(item, before=item.before * drop)
        case Repeat():
            return replace(item, items=tuple(_singly(inner, drop, place) for inner in item.items))
