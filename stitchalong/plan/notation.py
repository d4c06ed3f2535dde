"""Trade notation, read and given back: the one door to the parser, the printer and the reader-aloud."""

from __future__ import annotations

from stitchalong.plan.grammar import parse_lay, parse_round, parse_written
from stitchalong.plan.items import codes_in, count_of
from stitchalong.plan.wording import aloud, number_aloud, print_lay, print_round

__all__ = [
    "aloud",
    "codes_in",
    "count_of",
    "number_aloud",
    "parse_lay",
    "parse_round",
    "parse_written",
    "print_lay",
    "print_round",
]
