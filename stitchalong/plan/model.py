"""A plan as the rest of the program knows it: checked, frozen, free of the file it came from.

Nothing here imports pydantic, so that going on with a piece does not need it. `schema` checks a file and
hands over plain data; `build` in `checked` makes these values of it.
"""

from __future__ import annotations

from dataclasses import field
from typing import Any

from stitchalong.values import value

FIRST_PART = "main"
"""what a first part without a name is called"""

# ---- notation -----------------------------------------------------------------------------------


@value
class Lay:
    """`5A`, `BB x 3`, `TT as one`, `picot DDD`, `corner CCC`, `no bead x 2`: so many equal stitches."""

    form: str
    """`single`, `together`, `as one` (several beads that are one up bead), `picot`, `corner` or `no bead`"""
    codes: tuple[str, ...]
    """one stitch's beads in the order picked up; empty for `no bead`"""
    count: int = 1
    span: tuple[int, int] = field(default=(0, 0), compare=False)


@value
class Until:
    """`A to rib`, `A to 1 before rib`, `A to marker`, `A to end`: as many as there are."""

    lay: Lay
    """what is laid; its count is 1"""
    target: str
    """`rib`, `marker` or `end`"""
    before: int = 0
    """spaces kept free right before the target"""
    span: tuple[int, int] = field(default=(0, 0), compare=False)


@value
class Repeat:
    """`*…* 3 times`, `(…) x 3`, `[…] 3 times`, `*…; repeat from * 2 more times`, `… around`."""

    items: tuple[Item, ...]
    times: int | None
    """the total, or None for `around`"""
    span: tuple[int, int] = field(default=(0, 0), compare=False)


Item = Lay | Until | Repeat


@value
class Total:
    """`(21 beads)`, `(18 stitches)`: a check."""

    number: int
    of: str
    """`beads` or `stitches`"""
    span: tuple[int, int] = field(default=(0, 0), compare=False)


@value
class Written:
    """A round written out, in reading order."""

    items: tuple[Item, ...]
    total: Total | None = None
    begins: str | None = None
    """`rib` or `marker` where the round says `from rib:` or `from marker:`; None otherwise"""
    text: str = field(default="", compare=False)

    @property
    def around(self) -> bool:
        return any(isinstance(item, Repeat) and item.times is None for item in self.items)


@value
class Ruled:
    """`C; ribs MM; beside ribs S; middle A`: a fill, and what goes at places. Counts are all 1."""

    fill: Lay
    ribs: Lay | None = None
    beside: Lay | None = None
    before: Lay | None = None
    after: Lay | None = None
    middle: Lay | None = None
    over: tuple[tuple[str, Lay], ...] = ()
    """(code of the bead below the space, what is laid there)"""
    total: Total | None = None
    text: str = field(default="", compare=False)


Round = Written | Ruled
"""One bare code (`C`) is a `Ruled` with nothing but its fill."""

# ---- the plan -----------------------------------------------------------------------------------


@value
class Bead:
    """One entry of the palette."""

    code: str
    name: str
    colour: str
    """`#rrggbb`"""
    size: str = ""
    """as the trade writes it: `11/0`"""
    shape: str = ""
    """`cylinder`, `round`, …"""
    note: str = ""
    marker: bool = False
    length: float | None = None
    """millimetres along the hole, measured; None: use the table of sizes"""
    width: float | None = None
    """millimetres across, measured"""
    hole: float | None = None
    """millimetres, measured"""
    price: float | None = None
    """of one gram, in the plan's own currency"""


@value
class Thread:
    name: str = ""
    colour: str = ""
    note: str = ""


@value
class Band:
    """Start: a modified right-angle weave band of n units."""

    units: int
    top: str
    side: str
    bottom: str
    """codes of the frame beads"""
    spacers: Written
    """n single beads in the order laid"""
    joined: bool = True
    reinforce: bool = True
    """the top row is passed through once more before it is worked on"""
    part: str = ""
    """the name of the part that begins here; empty: the first may go without"""


@value
class RingStart:
    """Start: beads strung and closed into a ring; round 1."""

    beads: Written
    part: str = ""


@value
class TubeStart:
    """Start: 2n beads strung and closed; rounds 1 and 2 at once, the first bead strung is of round 2."""

    beads: Written
    part: str = ""


Option = str | int | bool | tuple[int, ...] | tuple[str, ...] | Written
"""what a technique's own key holds"""


@value
class Foundation:
    """Start of a technique that keeps its own account of its edge: a strung row, a ladder, …"""

    start: str
    beads: Written | None = None
    """the beads in the order picked up; None where the options say it"""
    options: tuple[tuple[str, Option], ...] = ()
    """the technique's own keys, sorted"""
    part: str = ""

    def option(self, key: str, default: Any = None) -> Any:
        return dict(self.options).get(key, default)


@value
class Increase:
    """Pairs stacked in columns."""

    over: str | None = None
    """a bead code (the columns of these beads), or `ribs` (where ribs stand on this edge, else on the other)"""
    between: str | None = None
    """a bead code: the middle of each side between two such beads"""
    sides: tuple[int, ...] | int | None = None
    """placed by counting: so many sides as even as can be, or the singles before each pair from the needle"""
    every_space: bool = False
    pair: tuple[Lay, ...] = ()
    """what is laid, round after round, over again; empty: two of the round's own fill"""
    from_round: int | None = None
    """None: the first round worked here"""
    rounds: int | None = None
    """how many rounds it lasts; None: to the end of this work"""


@value
class Decrease:
    """Spaces passed without a bead, in columns."""

    over: str | None = None
    """a bead code, or `ribs`"""
    sides: tuple[int, ...] | int | None = None
    from_round: int | None = None
    rounds: int | None = None
    way: str = "every round"
    """`every round`; `single` (no bead, then one over the gap), `gradual` (then two thin ones as one) or `double` (the
    two spaces beside the bead of the column, then one over it)"""
    lay: Lay | None = None
    """what is laid over the gap; None: the round's own fill, with `gradual` two of it as one"""


@value
class Corners:
    """Corner codes of a disc: how many beads stand at a corner, round after round, over again."""

    codes: tuple[tuple[int, ...], ...]
    """of each corner in turn; 0 means that the corner is a bead in that round, not a space"""
    over: str | None = None
    """a bead code, or `ribs`"""
    sides: tuple[int, ...] | int | None = None
    every_space: bool = False
    lays: tuple[Lay, ...] = ()
    """what is laid in the rounds that lay something at a corner, in order; one single bead: all corner beads are of its
    code; empty: the round's own fill"""
    from_round: int | None = None
    rounds: int | None = None


Rule = Increase | Decrease | Corners


@value
class Height:
    """How many rounds; `most` None is as high as you like. least == usual == most: not open."""

    least: int
    usual: int
    most: int | None

    @property
    def open(self) -> bool:
        return self.most != self.least


@value
class Peyote:
    """Rounds of peyote hung from an edge."""

    edge: str
    rounds: tuple[Round, ...]
    """worked one after the other, over again until the height is reached"""
    height: Height
    increase: Increase | None = None
    decrease: Decrease | None = None
    fill: Round | None = None
    """what fills the spaces between the bottom beads of a band, once, as round 0 of that edge"""
    reinforce: bool = False
    """the last round is passed through once more"""
    corners: Corners | None = None

    @property
    def rules(self) -> tuple[Rule, ...]:
        """Those that there are."""
        return tuple(rule for rule in (self.increase, self.decrease, self.corners) if rule is not None)


@value
class Rows:
    """Rows or rounds of a technique that keeps its own account of its edge."""

    stitch: str
    edge: str
    rounds: tuple[Round, ...]
    """worked one after the other, over again until the height is reached"""
    height: Height
    options: tuple[tuple[str, Option], ...] = ()
    """the technique's own keys, sorted"""

    def option(self, key: str, default: Any = None) -> Any:
        return dict(self.options).get(key, default)


@value
class WalkAlong:
    """Before the step-up of the round just done, pass along so many spaces without a bead."""

    edge: str
    spaces: int


@value
class Reinforce:
    """Go through the last round of this edge again, adding nothing."""

    edge: str


@value
class Zip:
    """Join two edges without a bead: of two parts, or (one part named) the first and last row of a flat strip."""

    parts: tuple[str, ...]
    edges: tuple[str, ...] = ("top", "top")
    """of the parts, in their order"""

    @property
    def ends(self) -> tuple[tuple[str, str], ...]:
        """(part, edge) of what is zipped."""
        return tuple(zip(self.parts, self.edges, strict=False))


Start = Band | RingStart | TubeStart | Foundation
"""A start begins a part of the piece; the first one may leave its part unnamed."""

Rise = Peyote | Rows
"""work of a height"""

Work = Start | Rise | WalkAlong | Reinforce | Zip


@value
class Chart:
    """Colours as one sees them in the finished work, a letter for each column and line."""

    name: str
    lines: tuple[str, ...]
    """bead codes, all lines of one length, the top line first"""
    begins: str = "bottom left"
    """the corner where the first bead is strung"""
    picture: str = ""
    """the file that the letters were read from; it is not needed again"""
    mapping: tuple[tuple[str, str, int], ...] = ()
    """of a picture: (`#rrggbb` of its pixels, bead code, how many)"""


@value
class Remark:
    """A designer's word at a place. Shown before the first stitch of that round (or of that stitch)."""

    say: str
    edge: str | None = None
    round: int | None = None
    """None: at the start of the piece"""
    stitch: int | None = None
    """1-based within the round; None: before the first"""
    part: str | None = None
    """None: the first part"""


@value
class Plan:
    title: str
    about: str
    beads: tuple[Bead, ...]
    """in the order of the file"""
    thread: Thread
    work: tuple[Work, ...]
    remarks: tuple[Remark, ...] = ()
    charts: tuple[Chart, ...] = ()
    source: str = field(default="", compare=False)
    """for messages: the file's name"""

    def bead(self, code: str) -> Bead:
        """The palette's bead of this code. Raises KeyError."""
        for bead in self.beads:
            if bead.code == code:
                return bead
        raise KeyError(code)
