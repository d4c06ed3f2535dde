"""Lays a round of notation on an edge: which stitch goes into which space.

Everything here speaks of one round on one closed edge, read from the up bead where the needle is. The result is a
list of runs that fills every space, or a `PlanError` that names the round, the space and the likely fix.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from stitchalong.course.words import counted, ordinal
from stitchalong.errors import Place, PlanError
from stitchalong.fabric.edge import Edge
from stitchalong.fabric.peyote import Run
from stitchalong.fabric.stitch import NO_BEAD, Kind, Make
from stitchalong.plan.model import Item, Lay, Repeat, Ruled, Total, Until, Written


@dataclass(frozen=True, slots=True)
class Ground:
    """What a round is laid on."""

    edge: Edge
    ribs: frozenset[int]
    """columns in which pairs, corners or empty spaces have stood on this edge"""
    markers: frozenset[int]
    """columns of marker beads"""
    facing: frozenset[int]
    """rib columns of the band's other edge"""
    below: Callable[[], Sequence[str]]
    """the code of the bead under each space (two rounds down)"""
    place: Place
    number: int
    word: str = "round"
    """or `row`"""

    def refuse(
        self, what: str, fix: str | None = None, *, span: tuple[int, int] | None = None, text: str = ""
    ) -> PlanError:
        place = replace(self.place, source=text or None, span=span) if text else self.place
        return PlanError(what, fix=fix, place=place)

    def anchors(self) -> tuple[str, list[int]]:
        """What `rib` means here and where it stands (in halves): ribs, else markers, else what faces them."""
        for name, columns in (("rib", self.ribs), ("marker", self.markers), ("rib", self.facing)):
            places = self.edge.places_of(columns) if columns else []
            if places:
                return name, places
        return "rib", []


def make_of(lay: Lay) -> Make:
    """The fabric's value for a stitch of notation."""
    match lay.form:
        case "single":
            return Make.single(lay.codes[0])
        case "together":
            return Make.together(lay.codes)
        case "as one":
            return Make.as_one(lay.codes)
        case "picot":
            return Make.picot(lay.codes)
        case "corner":
            return Make.corner(lay.codes)
        case _:
            return NO_BEAD


def runs_from(fill: Make, size: int, special: dict[int, Make]) -> list[Run]:
    """Runs that fill `size` spaces with `fill`, but for the special spaces."""
    runs: list[Run] = []
    here = 0
    for space in sorted(special):
        if space > here:
            runs.append((fill, space - here))
        make = special[space]
        if runs and runs[-1][0] == make and (space == here):
            runs[-1] = (make, runs[-1][1] + 1)
        else:
            runs.append((make, 1))
        here = space + 1
    if size > here:
        runs.append((fill, size - here))
    return runs


def merged(runs: Sequence[Run]) -> list[Run]:
    """Equal neighbours made one run."""
    out: list[Run] = []
    for make, count in runs:
        if out and out[-1][0] == make:
            out[-1] = (make, out[-1][1] + count)
        elif count:
            out.append((make, count))
    return out


def turn_runs(runs: Sequence[Run], spaces: int) -> list[Run]:
    """The cyclic list of stitches, read from `spaces` further on."""
    head: list[Run] = []
    tail: list[Run] = []
    left = spaces
    for make, count in runs:
        taken = min(left, count)
        left -= taken
        if taken:
            head.append((make, taken))
        if count > taken:
            tail.append((make, count - taken))
    return merged([*tail, *head])


# ---- rules --------------------------------------------------------------------------------------


def lay_ruled(ground: Ground, rule: Ruled, claimed: dict[int, Make]) -> list[Run]:
    """A fill, and what goes at places. `claimed` are the spaces that an increase or a decrease takes."""
    size = ground.edge.size
    fill = make_of(rule.fill)
    special: dict[int, Make] = {}
    if rule.over:
        wanted = {code: make_of(lay) for code, lay in rule.over}
        special.update((space, wanted[code]) for space, code in enumerate(ground.below()) if code in wanted)
    _, halves = ground.anchors()
    rib_spaces = [at >> 1 for at in halves if at & 1]
    points = sorted({*rib_spaces, *claimed})
    if rule.middle is not None:
        for space in _middles(halves, points, size):
            special[space] = make_of(rule.middle)
    for lay, steps in ((rule.beside, (-1, 1)), (rule.before, (-1,)), (rule.after, (1,))):
        if lay is not None:
            for point in points:
                special.update(((point + step) % size, make_of(lay)) for step in steps)
    if rule.ribs is not None:
        if not points:
            raise ground.refuse(
                f"no rib or marker has a space in this {ground.word}",
                "leave out `ribs`, or begin the increase earlier",
                text=rule.text,
            )
        special.update((point, make_of(rule.ribs)) for point in points)
        claimed = {space: make for space, make in claimed.items() if make.kind is Kind.SKIP}
    special.update(claimed)
    runs = runs_from(fill, size, special)
    check_total(ground, rule.total, runs, rule.text)
    return runs


def _stretches(halves: Sequence[int], size: int) -> Iterator[tuple[int, int]]:
    """The spaces between neighbouring places (in halves), cyclically: (first, how many)."""
    for index, low in enumerate(halves):
        high = halves[index + 1] if index + 1 < len(halves) else halves[0] + 2 * size
        first = (low + 1) // 2
        yield first, high // 2 - first


def _middles(halves: Sequence[int], points: Sequence[int], size: int) -> Iterator[int]:
    """The middle space of each side; the middle two where a side has an even number."""
    bounds = sorted({*halves, *(2 * point + 1 for point in points)})
    for first, count in _stretches(bounds or [0], size):
        if count > 0:
            yield (first + (count - 1) // 2) % size
            yield (first + count // 2) % size


# ---- rounds written out -------------------------------------------------------------------------


@dataclass(slots=True)
class _Reading:
    """Reads items into spaces, from a start; `left` is how many spaces the round still has."""

    ground: Ground
    start: int
    text: str
    runs: list[Run] = field(default_factory=list)
    used: int = 0
    fixed: list[int] = field(default_factory=list)
    """spaces (counted from `start`) of the many-bead stitches"""

    @property
    def size(self) -> int:
        return self.ground.edge.size

    def take(self, make: Make, count: int) -> None:
        if count <= 0:
            return
        if len(make.beads) != 1:
            # only so many as there are spaces can matter
            self.fixed.extend(range(self.used, self.used + min(count, self.size + 1)))
        self.runs.append((make, count))
        self.used += count

    def read(self, items: Sequence[Item]) -> None:
        for item in items:
            if self.used > self.size:
                return
            match item:
                case Lay():
                    self.take(make_of(item), item.count)
                case Until():
                    self.take(make_of(item.lay), self._until(item))
                case Repeat(items=inner, times=times):
                    for _ in range(times or 1):
                        before = self.used
                        self.read(inner)
                        if self.used > self.size or self.used == before:
                            break

    def _until(self, item: Until) -> int:
        left = self.size - self.used
        if item.target == "end":
            distance = left
        else:
            ground = self.ground
            name, halves = ground.anchors()
            if item.target == "marker":
                name, halves = "marker", ground.edge.places_of(ground.markers)
            if not halves:
                raise ground.refuse(
                    f"there is no {item.target} on this edge yet",
                    "write the number of stitches, or mark a bead with `marker = true`",
                    span=item.span,
                    text=self.text,
                )
            distance = self._distance((self.start + self.used) % self.size, halves)
            if distance > left:
                raise ground.refuse(
                    f"there is no {name} between here and the end of the {ground.word}",
                    f"say `{item.lay.codes[0] if item.lay.codes else 'no bead'} to end`",
                    span=item.span,
                    text=self.text,
                )
        count = distance - item.before
        if count < 0:
            raise self.ground.refuse(
                f"only {counted(distance, 'space')} before the {item.target}, not {item.before}",
                span=item.span,
                text=self.text,
            )
        return count

    def _distance(self, space: int, halves: Sequence[int]) -> int:
        """Spaces from here to the next of these places (0 where this space lies over one)."""
        best = self.size + 1
        for at in halves:
            here = at >> 1
            distance = (here - space) % self.size
            if not at & 1 and distance == 0:
                distance = self.size
            best = min(best, distance)
        return best


def lay_written(ground: Ground, written: Written) -> list[Run]:
    """A round written out.

    With a repeat *around* it is turned so that its many-bead stitches fall on increase spaces.
    """
    around = _around_of(ground, written)
    if around is None:
        return _from_needle(ground, written)
    size = ground.edge.size
    starts = _starts(ground, written, around)
    fits: dict[tuple[Run, ...], int] = {}
    misfits: list[PlanError | _Reading] = []
    aligned = _increase_spaces(ground)
    for start in starts:
        try:
            reading = _go_round(ground, written, around, start)
        except PlanError as error:
            misfits.append(error)
            continue
        if reading.used != size:
            misfits.append(reading)
            continue
        spaces = {(start + at) % size for at in _aligned_stitches(reading)}
        if aligned is not None and not spaces <= aligned:
            misfits.append(reading)
            continue
        fits.setdefault(tuple(turn_runs(reading.runs, (size - start) % size)), start)
    if len(fits) == 1:
        runs = list(next(iter(fits)))
        check_total(ground, written.total, runs, written.text)
        return runs
    if len(fits) > 1:
        raise ground.refuse(
            f"this round can be turned in {len(fits)} ways that give different work",
            "say where it begins with `from rib:`, or write it out from the needle without `around`",
            text=written.text,
        )
    raise _no_turn(ground, written, around, misfits)


def _around_of(ground: Ground, written: Written) -> Repeat | None:
    for index, item in enumerate(written.items):
        if isinstance(item, Repeat) and item.times is None:
            if index != len(written.items) - 1:
                raise ground.refuse(
                    "something follows a repeat that goes all around", span=item.span, text=written.text
                )
            return item
    return None


def _go_round(ground: Ground, written: Written, around: Repeat, start: int) -> _Reading:
    reading = _Reading(ground, start, written.text)
    reading.read(written.items[:-1])
    while reading.used < reading.size:
        before = reading.used
        reading.read(around.items)
        if reading.used == before:
            raise ground.refuse(
                "this repeat takes no space, so it never comes round", span=around.span, text=written.text
            )
    return reading


def _aligned_stitches(reading: _Reading) -> list[int]:
    """Which stitches have to fall on increase spaces: pairs and corners; without any, picots and empty spaces,
    unless they are the whole round."""
    pairs: list[int] = []
    others: list[int] = []
    at = 0
    for make, count in reading.runs:
        if make.increases:
            pairs.extend(range(at, at + count))
        elif len(make.beads) != 1:
            others.extend(range(at, at + count))
        at += count
    if pairs:
        return pairs
    return others if len(others) < at else []


def _increase_spaces(ground: Ground) -> set[int] | None:
    """The spaces over ribs, else over markers, else over what faces them; None where the edge has nothing such."""
    known = False
    for columns in (ground.ribs, ground.markers, ground.facing):
        if columns and ground.edge.places_of(columns):
            known = True
            spaces = set(ground.edge.spaces_over(columns))
            if spaces:
                return spaces
    return set() if known else None


def _starts(ground: Ground, written: Written, around: Repeat) -> list[int]:
    """The spaces at which the reading may begin."""
    size = ground.edge.size
    _, halves = ground.anchors()
    if written.begins == "marker":
        halves = ground.edge.places_of(ground.markers)
    if written.begins is not None:
        if not halves:
            raise ground.refuse(f"there is no {written.begins} on this edge to begin from", text=written.text)
        return [_start_at(halves[0], written.items, size)]
    spaces = _increase_spaces(ground)
    if len(written.items) > 1 or spaces is None:
        return [0]
    if _has_until(around.items):
        return sorted({start % size for at in halves for start in ((at >> 1), (at + 1) >> 1)})
    probe = _Reading(ground, 0, written.text)
    probe.read(around.items)
    offsets = _aligned_stitches(probe)
    if not offsets:
        return [0]
    return sorted({(space - offsets[0]) % size for space in spaces})


def _start_at(at: int, items: Sequence[Item], size: int) -> int:
    """The space to begin in at a rib: on it where the round opens with a many-bead stitch, else right after it."""
    first = _first_lay(items)
    if at & 1 and first is not None and len(first.codes) != 1:
        return at >> 1
    return ((at + 1) >> 1) % size


def _first_lay(items: Sequence[Item]) -> Lay | None:
    for item in items:
        match item:
            case Lay():
                return item
            case Until():
                return item.lay
            case Repeat():
                return _first_lay(item.items)
    return None


def _has_until(items: Sequence[Item]) -> bool:
    return any(
        (isinstance(item, Until) and item.target != "end") or (isinstance(item, Repeat) and _has_until(item.items))
        for item in items
    )


def _no_turn(ground: Ground, written: Written, around: Repeat, misfits: Sequence[PlanError | _Reading]) -> PlanError:
    """Why no turn fits, and what would."""
    size = ground.edge.size
    aligned = _increase_spaces(ground)
    if aligned is not None and not aligned:
        return ground.refuse(
            f"{ground.word} {ground.number} has no space over a rib or marker",
            f"begin in {_or(ground.number)}",
            text=written.text,
        )
    readings = [item for item in misfits if isinstance(item, _Reading)]
    if not readings:
        first = misfits[0]
        assert isinstance(first, PlanError)
        return first
    if not _has_until(around.items):
        one = _Reading(ground, 0, written.text)
        one.read(around.items)
        group = one.used
        if group > size or size % group:
            down, up = size // group * group, (size // group + 1) * group
            fits = f"{down} and {up} do" if down else f"{up} do"
            return ground.refuse(
                f"{counted(size, 'space')} do not come out even by {group}; {fits}",
                _by_sides(ground) or "change the repeat, or write it out from the needle",
                span=around.span,
                text=written.text,
            )
    return ground.refuse(
        "in no turn do the many-bead stitches of this round all fall on increase spaces",
        _by_sides(ground),
        span=around.span,
        text=written.text,
    )


def _by_sides(ground: Ground) -> str | None:
    """What the sides hold in this round, for a fix."""
    sides = sides_of(ground)
    if not sides:
        return None
    if len(set(sides)) == 1:
        return f"each side has {counted(sides[0], 'space')} here: `*{sides[0]}A, BB; repeat from * around`"
    return f"the sides have {', '.join(map(str, sides))} spaces here: use `A to rib`"


def sides_of(ground: Ground) -> list[int]:
    """Spaces of each side from the needle's, cyclically; empty where nothing bounds a side."""
    _, halves = ground.anchors()
    out = [count for _, count in _stretches(halves, ground.edge.size)]
    # the last one is the side that the needle stands in
    return out[-1:] + out[:-1]


def _or(number: int) -> str:
    return f"{number - 1} or {number + 1}" if number > 1 else str(number + 1)


def _from_needle(ground: Ground, written: Written) -> list[Run]:
    start = 0
    if written.begins is not None:
        start = _starts(ground, written, Repeat((), None))[0]
    size = ground.edge.size
    reading = _Reading(ground, start, written.text)
    reading.read(written.items)
    if reading.used != size:
        raise _uncovered(ground, written, reading)
    runs = turn_runs(reading.runs, (size - start) % size)
    check_total(ground, written.total, runs, written.text)
    return runs


def _uncovered(ground: Ground, written: Written, reading: _Reading) -> PlanError:
    """Names the space that is left out (or over), as well as it can be known."""
    size = ground.edge.size
    asked = sum(count for _, count in reading.runs)
    missing = size - asked
    asked_words = f"{'more than ' if asked > size + 1 else ''}{counted(asked, 'stitch', 'stitches')}"
    if missing > 0:
        where = _first_gap(ground, reading) or f"the last space of the {ground.word}"
        if missing == 1:
            what = f"{where} has no bead: the {ground.word} has {counted(size, 'space')} and {asked_words}"
        else:
            what = (
                f"{counted(missing, 'space')} have no bead, the first of them {where}: "
                f"the {ground.word} has {counted(size, 'space')} and {asked_words}"
            )
        fix = _by_sides(ground)
        if fix is None:
            fix = "add the stitches, or write `no bead` where a space is meant to stay empty"
        else:
            fix += "; `no bead` where a space is meant to stay empty"
        return ground.refuse(what, fix, text=written.text)
    return ground.refuse(
        f"{counted(-missing, 'stitch', 'stitches')} too many: "
        f"the {ground.word} has {counted(size, 'space')} and {asked_words}",
        _by_sides(ground),
        text=written.text,
    )


def _first_gap(ground: Ground, reading: _Reading) -> str | None:
    """Compares the many-bead stitches with the increase spaces: where one comes early, the space before it (the flank
    after the increase before) was left out."""
    aligned = _increase_spaces(ground)
    if not aligned:
        return None
    size = ground.edge.size
    wanted = sorted((space - reading.start) % size for space in aligned)
    got = [at for at in _aligned_stitches(reading) if at < size]
    for index, (want, have) in enumerate(zip(wanted, got, strict=False)):
        if have < want:
            if index == 0:
                return "the space right before the first increase"
            return f"the space right after the {ordinal(index)} increase"
    if got and len(got) == len(wanted):
        return f"the space right after the {ordinal(len(got))} increase"
    if len(got) < len(wanted):
        return f"the space of the {ordinal(len(got) + 1)} increase"
    return None


def check_total(ground: Ground, total: Total | None, runs: Sequence[Run], text: str) -> None:
    """Hold a round against the count that the designer wrote behind it."""
    if total is None:
        return
    if total.of == "beads":
        have = sum(len(make.beads) * count for make, count in runs)
    else:
        have = sum(count for _, count in runs)
    if have != total.number:
        unit = "bead" if total.of == "beads" else "stitch"
        plural = "beads" if total.of == "beads" else "stitches"
        raise ground.refuse(
            f"the {ground.word} has {counted(have, unit, plural)}, not {total.number}",
            f"correct the check in brackets or the {ground.word}",
            span=total.span,
            text=text,
        )
