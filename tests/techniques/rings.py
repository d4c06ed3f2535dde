"""A naive ring of peyote: the up beads in a plain list, and the thread written down bead by bead. Shares nothing with
the program.

Between two neighbouring up beads there is a space. A corner is a tag that sits on an up bead or in a space: over a
tagged space one bead takes the tag, two or three beads have a space between them that takes it; over a tagged up bead
the next space takes it.
"""

from __future__ import annotations

from dataclasses import dataclass, field

SINGLE, PAIR, CORNER, AS_ONE, NOTHING = "single", "pair", "corner", "as one", "nothing"
_BEADS = {SINGLE: 1, PAIR: 2, CORNER: 3, AS_ONE: 2, NOTHING: 0}


@dataclass
class Up:
    """One up bead, or several that are passed as one."""

    beads: list[int]
    tag: int | None = None
    space_tag: int | None = None
    """the tag of the space behind it"""


@dataclass
class Ring:
    """The needle is in the first up bead. Beads are numbered from 1."""

    ups: list[Up]
    laid: int
    told: list[tuple[list[int], list[int]]] = field(default_factory=list)
    """of each stitch and step-up: beads picked up, beads passed"""

    @staticmethod
    def strung(beads: int, *, tube: bool = False) -> Ring:
        ups = [Up([bead]) for bead in range(1, beads + 1, 2 if tube else 1)]
        return Ring(ups, beads, [*(([bead], []) for bead in range(1, beads + 1)), ([], [1])])

    def tags(self) -> list[int | None]:
        """The tag of each space."""
        return [up.space_tag for up in self.ups]

    def tag_spaces(self, spaces: list[int]) -> None:
        for number, space in enumerate(spaces):
            self.ups[space].space_tag = number

    def round(self, kinds: list[str], *, steps_up: bool) -> int:
        """One stitch for each space; gives the beads laid."""
        before, fresh, empty = self.laid, [], 0
        own: list[int] = []
        for space, kind in enumerate(kinds):
            closing = self.ups[(space + 1) % len(self.ups)]
            new = [self._bead() for _ in range(_BEADS[kind])]
            self.told.append((new, list(closing.beads)))
            tag = self.ups[space].space_tag
            if kind in (SINGLE, AS_ONE):
                laid = [Up(new, tag)]
            elif kind in (PAIR, CORNER):
                laid = [Up([new[0]], None, tag), Up([new[-1]])]
            else:
                laid = []
                if fresh:
                    fresh[-1].space_tag = tag
            if not fresh and not laid:
                empty += 1
            if laid and not fresh:
                own = new if kind == AS_ONE else new[:1]
            if laid and fresh and fresh[-1].space_tag is None:
                fresh[-1].space_tag = self.ups[space].tag
            fresh += laid
        if fresh[-1].space_tag is None:
            fresh[-1].space_tag = self.ups[0].tag if not empty else self.ups[empty - 1].space_tag
        if steps_up:
            passed = [bead for up in self.ups[1 : empty + 1] for bead in up.beads]
            self.told.append(([], passed + own))
        self.ups = fresh
        return self.laid - before

    def _bead(self) -> int:
        self.laid += 1
        return self.laid
