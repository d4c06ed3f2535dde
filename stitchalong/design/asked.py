"""What is asked for a new plan, in order: the one source of questions, usual answers, bounds and help."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stitchalong.design.reading import MOST_ROUNDS, read_choice
from stitchalong.design.sized import Offers, size_stepped
from stitchalong.design.wanted import Kind
from stitchalong.errors import UsageError
from stitchalong.measure.beads import table

if TYPE_CHECKING:
    from stitchalong.design.draft import Draft

KINDS = tuple(Kind)
LEAST_ROUNDS: Mapping[Kind, int] = {Kind.TUBE: 3, Kind.STRIP: 3, Kind.TRIANGLE: 2, Kind.SQUARE: 3}
MOST_SIDES = 12
SPARE_COLOURS = ("ivory", "slate", "coral", "mint", "plum", "amber", "navy", "rose", "olive", "silver")
"""for one colour more"""


@dataclass(frozen=True, slots=True)
class Question:
    """One question: what is asked, what an empty answer means, and what may be chosen (numbered from 1)."""

    text: str
    usual: str
    choices: tuple[str, ...] = ()
    help: str = ""
    name: str = ""
    """in a word or two, for a form"""


@dataclass(frozen=True, slots=True)
class Asked:
    """A question as it depends on what is answered."""

    question: Callable[[Draft], Question]
    read: Callable[[Draft], object]
    step: Callable[[Draft, int], str] | None = None
    when: Callable[[Draft], bool] = lambda draft: True
    leans_on: tuple[str, ...] = ()


def _kind(draft: Draft) -> Question:
    return Question("What shall it be?", "1", tuple(KINDS), draft.kind.about, "piece")


def _colours(draft: Draft) -> Question:
    finned = draft.kind.finned
    mark = "; the last one marks the ribs" if finned else ""
    return Question(
        f"Which colours, with commas between (a name, or a name and #rrggbb){mark}?",
        "charcoal, teal, gold" if finned else "charcoal, teal",
        help="A plain name such as teal, or a name of your own with its colour behind it: sea glass #7fb8ad. "
        + ("The last colour marks where the ribs stand: let it differ from all others." if finned else "")
        + ("" if finned else "Two that differ in lightness can be told apart by everybody."),
        name="colours",
    )


def _order(draft: Draft) -> Question:
    codes = draft.codes
    plain = codes[:-1] if draft.kind.finned else codes
    told = ", ".join(f"{code} {colour.name}" for code, colour in zip(codes, draft.colours, strict=True))
    return Question(
        f"The colour of each round in order, by letters, worked over again ({told})?",
        " ".join(plain),
        help="A letter for each round: A B is one round of each in turn, A A B two and one. It begins over again as "
        "often as there are rounds. Where neighbours differ, one sees what is done.",
        name="by round",
    )


def _orders(draft: Draft) -> tuple[str, ...]:
    """Usual ways of putting the colours in order."""
    codes = draft.codes[:-1] if draft.kind.finned else draft.codes
    ways = [codes, codes[::-1], "".join(code * 2 for code in codes), *codes]
    ways += [codes[0] + codes, codes + codes[-1], codes + codes[-2:0:-1]]
    return tuple(dict.fromkeys(" ".join(way) for way in ways))


def _sides(draft: Draft) -> Question:
    return Question(
        "How many sides, so how many fins?",
        "4",
        help=f"From 2 to {MOST_SIDES}. At the end of each side stands a marker, and over it a rib: one fin a side.",
        name="sides",
    )


def _size(draft: Draft) -> Question:
    kind = draft.kind
    if kind is Kind.STRIP:
        return Question(
            "How many beads wide, an even number?", "10", help="The beads strung for the first two rows.", name="width"
        )
    what = "units" if kind.finned else "beads strung, an even number"
    if draft.way is None:
        text = f"How many {what}?"
    else:
        text = f"How large: a ring size (US 7, ISO 54), the closed hand (hand 20 cm), or how many {what}?"
    return Question(
        text,
        "28" if kind.finned else "40",
        help="US 7, ISO 54, UK N, JP 14 or 54.4 mm for a finger; hand 20 cm for a bangle, measured around the closed "
        f"hand; or simply how many {what}. A wide band feels tighter: between two sizes take the larger.",
        name="size",
    )


def _which(draft: Draft) -> Question:
    size = draft.size
    texts = size.texts if isinstance(size, Offers) else ()
    return Question(
        "Which of these?",
        "1",
        texts,
        "The counts that come nearest. With sides as long as each other it looks even all round; with sides that "
        "differ by one it fits more closely.",
        "count",
    )


def _rounds(draft: Draft) -> Question:
    text, usual, name = {
        Kind.FINS: ("How many rounds do the fins rise?", "4", "fins rise"),
        Kind.FINS_BOTH: ("How many rounds do the fins rise?", "4", "fins rise"),
        Kind.STRIP: ("How many rows long, the first two counted, or for which wrist (wrist 16 cm)?", "60", "long"),
        Kind.TUBE: ("How many rounds high, the first two counted?", "10", "rounds"),
    }.get(draft.kind, ("How many rounds from the middle?", "8", "rounds"))
    least = LEAST_ROUNDS.get(draft.kind, 1)
    more = " Each round has one bead more at each rib." if draft.kind.finned else ""
    if draft.kind is Kind.STRIP:
        more = " Or wrist 16 cm: as long as a bracelet for it that sits comfortably, its clasp included; or long 18 cm."
    return Question(text, usual, help=f"From {least} to {MOST_ROUNDS}.{more}", name=name)


def _title(draft: Draft) -> Question:
    return Question("What is it called?", "A new piece", help="The name at the top of the plan.", name="name")


def _bead(draft: Draft) -> Question:
    return Question(
        "Which beads, by size and shape?",
        "11/0 cylinder",
        help="One size for the whole piece, such as 11/0 cylinder, 11/0 round or 8/0 cylinder. A higher number is a "
        "smaller bead. Other beads can be written into the plan afterwards.",
        name="beads",
    )


def _next_bead(draft: Draft, by: int) -> str:
    names = [f"{size} {shape}" for size, shape in table()]
    bead = draft.bead
    return names[(names.index(f"{bead.size} {bead.shape}") + by) % len(names)]


def _next_choice(key: str) -> Callable[[Draft, int], str]:
    def step(draft: Draft, by: int) -> str:
        number = len(draft.question(key).choices)
        return str((read_choice(draft.text(key), number) + by) % number + 1)

    return step


def _next_order(draft: Draft, by: int) -> str:
    ways = _orders(draft)
    now = " ".join(draft.order)
    return ways[(ways.index(now) + by) % len(ways)] if now in ways else ways[0]


def _next_sides(draft: Draft, by: int) -> str:
    return str(max(2, min(MOST_SIDES, draft.sides + by)))


def _next_size(draft: Draft, by: int) -> str:
    return size_stepped(draft.text("size"), by, 1 if draft.kind.finned else 2)


def _next_rounds(draft: Draft, by: int) -> str:
    text = draft.text("rounds")
    if not text.strip().isdigit():
        return size_stepped(text, by, 1)
    return str(max(LEAST_ROUNDS.get(draft.kind, 1), min(MOST_ROUNDS, draft.rounds + by)))


def _has_offers(draft: Draft) -> bool:
    try:
        return _has_size(draft) and isinstance(draft.size, Offers)
    except UsageError:
        return False


def _has_size(draft: Draft) -> bool:
    return draft.kind not in (Kind.TRIANGLE, Kind.SQUARE)


ASKED: Mapping[str, Asked] = {
    "kind": Asked(_kind, lambda draft: draft.kind, _next_choice("kind")),
    "title": Asked(_title, lambda draft: draft.title),
    "bead": Asked(_bead, lambda draft: draft.bead, _next_bead),
    "colours": Asked(_colours, lambda draft: draft.colours),
    "order": Asked(_order, lambda draft: draft.order, _next_order, leans_on=("colours",)),
    "sides": Asked(_sides, lambda draft: draft.sides, _next_sides, lambda draft: draft.kind.finned),
    "size": Asked(_size, lambda draft: draft.size, _next_size, _has_size, leans_on=("bead", "sides")),
    "which": Asked(_which, lambda draft: draft.count, _next_choice("which"), _has_offers, leans_on=("size",)),
    "rounds": Asked(_rounds, lambda draft: draft.rounds, _next_rounds, leans_on=("bead",)),
}
