"""Plans that ask for far more than anybody can stitch, in few words: told so, or made, in bounded time and memory.

    python -m tests.fuzz.bombs [NAME…]

prints a line of JSON for each: name, processor seconds, growth of memory in MB so far, and what became of it.
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Callable

from stitchalong.course.compile import compile_plan
from stitchalong.errors import StitchalongError
from stitchalong.plan.read import read_text
from tests.fuzz.judge import at_most, hold_refusal
from tests.writing import band, peyote, plan_text

MOST_SECONDS = 15.0
"""of processor time; a course of a million beads, each of its own colour, takes a third of that"""
MOST_MEGABYTES = 600

RISING = 'increase = { over = "M", from_round = 2 }'
EASY = '["A"]'


def ring(beads: str, part: str = "") -> str:
    return f'start = "ring" ;; beads = "{beads}"' + (f' ;; part = "{part}"' if part else "")


def nested(inner: str, times: int, depth: int) -> str:
    return "(" * depth + inner + f") x {times}" * depth


def wandering(size: int, rounds: int) -> str:
    """Pairs and empty spaces that never stand over each other."""
    texts = []
    for nth in range(rounds):
        before = nth * 7 % (size - 1)
        behind = size - 2 - before
        texts.append((f"{before}A, " if before else "") + "AA, no bead" + (f", {behind}A" if behind else ""))
    return json.dumps(texts)


def listed(text: str, count: int) -> str:
    return f"[{','.join([json.dumps(text)] * count)}]"


REMARKS = "".join(f'[[remarks]]\nsay = "x"\nround = {nth % 19_000 + 1}\n' for nth in range(19_999))
LATE_REMARKS = '[[remarks]]\nsay = "x"\nround = 2\nstitch = 19000\n' * 19_999

# name -> (the text, made when it is asked for; a piece of what is told, or "" where the course is made)
BOMBS: dict[str, tuple[Callable[[], str], str]] = {
    # large starts
    "a ring of a million": (lambda: plan_text(ring("1000000A")), ""),
    "a ring of a million and more": (lambda: plan_text(ring("1000000A, A")), "larger than 1,000,000 beads"),
    "repeats in repeats": (lambda: plan_text(ring(nested("A", 7, 7))), ""),
    "too many repeats in repeats": (lambda: plan_text(ring(nested("A", 10, 7))), "larger than 1,000,000 beads"),
    "nothing, repeated": (lambda: plan_text(ring("6A"), peyote(f'"A, {nested("no bead", 10, 6)}"')), "larger than"),
    "too deep": (lambda: plan_text(ring(nested("A", 1, 9))), "stand more than 8 deep"),
    "a band of markers": (lambda: plan_text(band("*S, M* 125000 times"), peyote(EASY, RISING)), "1,000,000 beads"),
    "rings of a million": (
        lambda: plan_text(ring("1000000A"), *(ring("1000000A", f"p{nth}") for nth in range(1999))), "1,000,000 beads",
    ),
    "many parts": (lambda: plan_text(ring("6A"), *(ring("6A", f"p{nth}") for nth in range(1999))), ""),
    # growth
    "doubling by rule": (
        lambda: plan_text(ring("6A"), peyote(EASY, "height = 20000", 'increase = { at = "every space" }')),
        "1,000,000 beads",
    ),
    "doubling by writing": (lambda: plan_text(ring("6A"), peyote('["AA"]', "height = 20000")), "20,000 increases"),
    "thirty in each": (
        lambda: plan_text(ring("6A"), peyote(f'["{"A" * 30} together"]', "height = 20000")), "1,000,000 beads",
    ),
    "a hundred thousand in one": (lambda: plan_text(ring("6A"), peyote(f'["{"A" * 100_000}"]')), "at most 30 beads"),
    "corners of three": (lambda: plan_text(ring("6A"), peyote('["corner AAA"]', "height = 9990")), "20,000 increases"),
    "long picots": (lambda: plan_text(ring("300A"), peyote(f'["picot {"A" * 29}"]', "height = 100")), ""),
    # height
    "tall": (lambda: plan_text(ring("3A"), peyote(EASY, "height = 20000")), "20,000 rounds"),
    "tall and open": (
        lambda: plan_text(ring("50A"), peyote(EASY, 'height = "1 to 20000"', "usual = 19990")), "",
    ),
    "tall with ribs": (
        lambda: plan_text(band("*S, M* 25 times"), peyote(EASY, "height = 20000", RISING)), "1,000,000 beads",
    ),
    "tall around": (
        lambda: plan_text(band("*S, M* 25 times"), peyote('["*A; repeat from * around"]', "height = 20000")),
        "1,000,000 beads",
    ),
    "many works": (lambda: plan_text(band("*S, M* 25 times"), *[peyote(EASY)] * 1999), ""),
    "many crossings": (
        lambda: plan_text(
            band("*S, M* 25 times"), *(peyote(EASY, edge=("top", "bottom")[nth % 2]) for nth in range(1999))
        ),
        "",
    ),
    "many crossings with ribs": (
        lambda: plan_text(
            band("*S, M* 5000 times"),
            *(
                peyote(
                    EASY, "height = 2", 'increase = { over = "ribs" }' if nth > 2 else RISING,
                    edge=("top", "bottom")[nth % 2],
                )
                for nth in range(40)
            ),
        ),
        "1,000,000 beads",
    ),
    "many passes": (lambda: plan_text(ring("50A"), peyote(EASY), *['reinforce = "top"'] * 1900), ""),
    "long walks": (lambda: plan_text(ring("50A"), peyote(EASY), *["walk = 999999"] * 1900, peyote(EASY)), ""),
    "many questions": (
        lambda: plan_text(ring("50A"), *[peyote(EASY, 'height = "1 to 20000"', "usual = 9")] * 1999), "",
    ),
    # many places at once
    "ribs everywhere": (
        lambda: plan_text(ring("100000A"), peyote(EASY, "height = 3", "increase = { sides = 100000 }")),
        "20,000 increases",
    ),
    "many ribs": (
        lambda: plan_text(ring("20000A"), peyote(EASY, "height = 20", "increase = { sides = 10000 }")), "1,000,000",
    ),
    "many ribs between": (
        lambda: plan_text(
            band("*9S, M* 10000 times"),
            peyote(EASY, "height = 5", 'increase = { between = "M", from_round = 2 }'),
        ),
        "",
    ),
    "many decreases": (
        lambda: plan_text(ring("20000A"), peyote(EASY, "height = 20", "decrease = { sides = 5000 }")),
        "no space left between two decreases",
    ),
    "increases and decreases": (
        lambda: plan_text(
            ring("2000A"), peyote(EASY, "height = 400", "increase = { sides = 500 }", "decrease = { sides = 300 }")
        ),
        "1,000,000 beads",
    ),
    "many corners": (
        lambda: plan_text(
            ring("10000A"), peyote(EASY, "height = 30", 'corners = { sides = 5000, code = "2-1-0" }')
        ),
        "1,000,000 beads",
    ),
    "places by code": (
        lambda: plan_text(
            ring("*A, M* 10000 times"), peyote('["A; over M B; beside ribs C; middle S"]', "height = 40")
        ),
        "",
    ),
    "ribs that wander": (
        lambda: plan_text(ring("50A"), peyote(wandering(50, 49), "height = 19990")), "takes too long to derive",
    ),
    "ribs that wander on a long edge": (
        lambda: plan_text(ring("1000A"), peyote(wandering(1000, 999), "height = 990")), "takes too long to derive",
    ),
    # rounds that can be turned
    "turns without end": (
        lambda: plan_text(band("*3S, M* 5000 times"), peyote('["*A to rib, B; repeat from * around"]', "height = 4")),
        "takes too long to derive",
    ),
    "long turns without end": (
        lambda: plan_text(band("*3S, M* 50000 times"), peyote('["*A to rib, B; repeat from * around"]')),
        "takes too long to derive",
    ),
    "turns that all fit": (
        lambda: plan_text(ring("1000A"), peyote('["*AA, no bead; repeat from * around"]', "height = 900")),
        "can be turned in 2 ways",
    ),
    "each of its own colour": (
        lambda: plan_text(ring("500000A"), peyote('["*A, B; repeat from * around"]')), "",
    ),
    # much to read
    "a long round": (lambda: plan_text(ring("50000A"), peyote(f'["{"A,B," * 25_000}"]', "height = 3")), ""),
    "too long a round": (lambda: plan_text(ring("6A"), peyote(f'["{"A, " * 70_000}"]')), "longer than 200,000"),
    "many rounds": (lambda: plan_text(ring("6A"), peyote(listed("6A", 19_998))), ""),
    "too many rounds": (lambda: plan_text(ring("6A"), peyote(listed("6A", 20_001))), "more than 20,000 entries"),
    "many long rounds": (lambda: plan_text(ring("50A"), peyote(listed("A, " * 50, 20_000))), "1,000,000 characters"),
    "many wrong rounds": (lambda: plan_text(ring("50A"), peyote(listed("A, " * 50 + "q", 20_000))), "`q` where"),
    "many remarks": (lambda: plan_text(ring("50A"), peyote(EASY, "height = 19000")) + REMARKS, ""),
    "many remarks late in a round": (
        lambda: plan_text(ring("20000A"), peyote('["*A, B; repeat from * around"]', "height = 2")) + LATE_REMARKS, "",
    ),
    "a long remark": (lambda: plan_text(ring("6A")) + f'[[remarks]]\nsay = "{"x" * 4_000_000}"\n', "2,000 characters"),
    "line ends": (lambda: "\n" * 4_000_000, "`title` is missing"),
    "keys": (lambda: "".join(f"a{nth} = 1\n" for nth in range(300_000)), "more than 200 keys"),
    "tables": (lambda: "".join(f"[a{nth}]\n" for nth in range(300_000)), "more than 200 keys"),
    "tables of a list": (lambda: "[[work]]\n" * 400_000, "more than 20,000 entries"),
    "inline tables": (lambda: f"x = [{'{a=1},' * 600_000}]", "more than 20,000 entries"),
    "brackets": (lambda: "[" * 4_000_000, "opened here and never closed"),
    "quotes": (lambda: '"' * 4_000_000, "not TOML"),
    "backslashes": (lambda: 'x = "' + "\\" * 4_000_000 + '"', "missing"),
    "a long key": (lambda: f'"{"a" * 4_000_000}" = 1', "missing"),
    "digits": (lambda: "a = " + "9" * 4_000_000, "too many digits"),
    "the same again": (lambda: "a = 1\n" * 600_000, "given twice"),
}  # fmt: skip

SLOW = frozenset((
    "tall around", "many ribs between", "each of its own colour", "places by code", "ribs that wander on a long edge",
    "long turns without end", "turns without end", "tall with ribs", "many corners", "many long rounds", "tables",
    "many wrong rounds", "inline tables", "brackets", "tables of a list", "the same again", "keys", "line ends",
    "ribs that wander", "many ribs", "increases and decreases", "a long round", "many crossings with ribs",
))  # fmt: skip
"""a second or more each"""


def memory() -> int:
    """The most that this process has held so far, in MB."""
    import resource

    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // (1024 if sys.platform == "linux" else 2**20)


def became(text: str) -> str:
    """What is told of a plan; empty where its course is made. Raises `Hang` past the most of seconds."""
    try:
        with at_most(MOST_SECONDS):
            compile_plan(read_text(text, "bomb").plan)
    except StitchalongError as error:
        hold_refusal(error)
        return "\n".join(map(str, error.problems))
    return ""


def main(names: list[str]) -> None:
    before = memory()
    for name in names or BOMBS:
        text = BOMBS[name][0]()
        begun = time.process_time()
        told = became(text)
        took = time.process_time() - begun
        print(json.dumps([name, round(took, 2), memory() - before, told[:500]]), flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
