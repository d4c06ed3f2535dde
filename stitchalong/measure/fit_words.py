"""What fits, in words: one text for the command line and the screen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stitchalong.measure.fit import Alternative, Choice, Fit, Other
from stitchalong.measure.fitting import Begun, Fitted
from stitchalong.measure.sizes import Scale, every_size
from stitchalong.measure.strap import Strap
from stitchalong.measure.units import Units, length, length_range
from stitchalong.measure.wear import BANGLE_ROOM

_MOST_SIDES = 12
"""sides that are named one by one"""
_WAYS = 2
"""other numbers of sides, and other beads, that are told unasked"""


def answer(fitted: Fitted, who: str, units: Units) -> tuple[str, str]:
    """What to begin, and what lies beside it. `who`: `US 7`, `a hand of 20cm`."""
    found = fitted.found
    first = f"for {who}: {counted_sides(found, found.nearest)}: {size_words(found, found.nearest, units)}"
    at = found.choices.index(found.nearest)
    near = (("smaller", found.choices[max(0, at - 1) : at]), ("larger", found.choices[at + 1 : at + 2]))
    beside = [f"{word}: {counted_sides(found, one)}, {short(one, units)}" for word, some in near for one in some]
    return first, "; ".join(beside)


def counted_sides(found: Fit, choice: Choice) -> str:
    """`25 units, sides 7 6 6 6`."""
    words = f"{choice.count:,} {found.word}"
    return f"{words}, {sides_words(choice)}" if len(choice.sides) > 1 else words


def sides_words(choice: Choice) -> str:
    """`equal sides of 6`, `sides 7 6 6 6`; empty where there is but one."""
    if len(choice.sides) < 2:
        return ""
    if choice.equal:
        return f"equal sides of {choice.sides[0]}"
    return f"sides {' '.join(map(str, choice.sides))}" if len(choice.sides) <= _MOST_SIDES else "sides of two lengths"


def size_words(found: Fit, choice: Choice, units: Units) -> str:
    """`56.0 mm (53.8 to 58.2) inside, US 7½, and being so wide it fits US 7`; `219.5 mm (…) inside, 0.5 mm less`."""
    words = f"{length_range(choice.inside, units)} inside"
    if choice.size.scale is not Scale.MM:
        words += f", {choice.size}"
    if _is_wide(found):
        return f"{words}, and being so wide it fits {choice.fits}"
    return f"{words}, {_off(choice.off, units)}" if choice.size.scale is Scale.MM else words


def _is_wide(found: Fit) -> bool:
    return found.room > 0.05


def short(choice: Choice, units: Units) -> str:
    """`for US 7`; where no scale was asked for, `56.0 mm`."""
    return length(choice.inside.value, units) if choice.size.scale is Scale.MM else f"for {choice.fits}"


def _off(off: float, units: Units) -> str:
    """`0.5 mm less`."""
    return "as looked for" if abs(off) < 0.05 else f"{length(abs(off), units)} {'more' if off > 0 else 'less'}"


def steps(found: Fit, units: Units) -> str:
    """The least changes there are."""
    words = f"the finest step is {length(found.step, units)}, {found.step_us:.1f} US sizes"
    if len(found.nearest.sides) > 1:
        words += f"; with equal sides {length(found.equal_step, units)}, {found.equal_step_us:.1f} US sizes"
    return words


def ways(found: Fit) -> tuple[Alternative, ...]:
    """The best of the other ways: equal sides of another number, another bead."""
    return tuple(
        one
        for kind in (Other.SIDES, Other.BEAD)
        for one in [some for some in found.alternatives if some.kind is kind][:_WAYS]
    )


def way_words(found: Fit, other: Alternative, units: Units) -> str:
    """`5 sides: 25 units, equal sides of 5, for US 7`."""
    return f"{other.label}: {counted_sides(found, other.choice)}, {short(other.choice, units)}"


def options(begun: Begun) -> str:
    """`--units 25 --sides 5`, behind `start` and the plan."""
    return f"--units {begun.units}" + (f" --sides {begun.sides}" if begun.sides is not None else "")


def start_words(begun: Begun, bead: bool = False) -> str:
    """How it is begun, in short, or that it cannot. `bead`: it would be another bead."""
    if begun.cannot:
        return "cannot be begun so"
    if begun.units is None:
        return "another bead in the plan" if bead else "to be written into the plan"
    return options(begun)


def possible_words(found: Fit, choice: Choice | None, units: Units) -> str:
    """What can be begun instead of the nearest count."""
    if choice is None:
        return "no other count can be begun, either"
    inside = length(choice.inside.value, units)
    return f"the nearest that can be begun: {counted_sides(found, choice)}, {inside} inside"


def heads(found: Fit) -> tuple[str, ...]:
    """What stands in the columns of `row`."""
    sides = ("sides",) if len(found.nearest.sides) > 1 else ()
    size = () if found.finger.scale is Scale.MM else ("size", "fits") if _is_wide(found) else ("size",)
    return (found.word, *sides, "inside", *size, "off")


def row(found: Fit, choice: Choice, units: Units) -> tuple[str, ...]:
    """A choice in columns."""
    sides = (sides_words(choice),) if len(found.nearest.sides) > 1 else ()
    size = () if found.finger.scale is Scale.MM else (str(choice.size),)
    fits = (str(choice.fits),) if size and _is_wide(found) else ()
    return (f"{choice.count:,}", *sides, length_range(choice.inside, units), *size, *fits, _off(choice.off, units))


def detail(fitted: Fitted, units: Units) -> Iterator[str]:
    """What was looked for and where it comes from; what to mind."""
    found = fitted.found
    words = f"looked for: {length(found.target, units)} around inside"
    if _is_wide(found):
        own = length(found.finger.circumference, units)
        words += f": {found.finger} is {own}, and so wide a band asks for {length(found.room, units)} more"
    yield f"{words}{_slip(fitted, units)}"
    if found.finger.scale is not Scale.MM:
        others = (str(one) for one in every_size(found.finger.circumference) if one.scale is not found.finger.scale)
        yield f"{found.finger} is {', '.join(others)}; charts differ, and `stitchalong size --ring` says where"
    yield fitted.basis
    yield from fitted.every


def hand_words(fitted: Fitted, units: Units) -> str:
    """What was looked for, for a hand: `looked for: 220.0 mm around inside: the hand's 200.0 mm and 20.0 mm to …`."""
    return f"looked for: {length(fitted.found.target, units)} around inside{_slip(fitted, units)}"


def _slip(fitted: Fitted, units: Units) -> str:
    if not fitted.for_hand:
        return ""
    hand = length(fitted.found.target - BANGLE_ROOM, units)
    return f": the hand's {hand} and {length(BANGLE_ROOM, units)} more to slip over it"


def equal_ones(found: Fit) -> Sequence[Choice]:
    """The nearest with equal sides, smaller and larger, where the nearest of all is not one of them."""
    if len(found.nearest.sides) < 2:
        return ()
    return [one for one in (found.equal_smaller, found.equal_larger) if one is not None and one not in found.choices]


# ---- strips -------------------------------------------------------------------------------------


def strap_answer(who: str, word: str, some: Sequence[Strap], nearest: Strap, units: Units) -> tuple[str, str]:
    """What to begin, and what lies beside it. `who`: `a wrist of 16cm`."""
    at = list(some).index(nearest)
    beside = [
        f"{name}: {one.count:,} {word}, {length(one.length.value, units)}"
        for name, near in (("shorter", some[max(0, at - 1) : at]), ("longer", some[at + 1 : at + 2]))
        for one in near
    ]
    first = f"for {who}: {nearest.count:,} {word}: {length_range(nearest.length, units)} long"
    return first, "; ".join(beside)


def strap_row(one: Strap, units: Units) -> tuple[str, str, str]:
    """A choice in columns."""
    return f"{one.count:,}", length_range(one.length, units), _off(one.off, units)
