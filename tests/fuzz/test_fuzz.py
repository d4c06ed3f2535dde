"""A short share of the fuzzing: the corpus, inputs made of it, and any text at all. The long run is `tests.long`.

The promise held is that of `judge`: an input is taken, or refused with a `StitchalongError` whose every line is
harmless, in less than a second of processor time.
"""

from __future__ import annotations

import time
from contextlib import AbstractContextManager, suppress

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from tests.fuzz.judge import Broken, Hang, at_most, hold_line
from tests.fuzz.mutate import inputs
from tests.fuzz.run import made, tried
from tests.fuzz.targets import TAKEN, TARGETS, Target

SHARE = {"notation": 3_000, "plan": 250, "commands": 40, "replan": 120, "settings": 600, "parcel": 250}

every_target = pytest.mark.parametrize("target", TARGETS.values(), ids=TARGETS)


@every_target
def test_every_kept_input_holds(target: Target) -> None:
    if target.name != target.language:
        pytest.skip("fed with the corpus of another")
    tally = tried(target, target.corpus())
    assert tally.broken == []
    assert tally.outcomes[TAKEN] > 2, "the corpus reaches past the first check"


@every_target
def test_inputs_made_of_the_kept_ones_hold(target: Target) -> None:
    tally = tried(target, made(target, SHARE[target.name], seed=20))
    assert tally.broken == []
    assert tally.count == SHARE[target.name]
    assert 0.02 < tally.outcomes[TAKEN] / tally.count < 0.98, "near the edge of what is taken"


@pytest.mark.parametrize("name", ["notation", "plan", "settings"])
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.text(max_size=200))
@example("\ufeff")
@example("a" * 100_000)
@example("(" * 100_000)
@example("\n" * 100_000)
@example("*" * 100_000)
def test_any_text_holds(name: str, text: str) -> None:
    assert tried(TARGETS[name], [text]).broken == []


@pytest.mark.parametrize("name", ["notation", "plan", "settings", "parcel"])
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_words_of_the_language_in_any_order_hold(name: str, data: st.DataObject) -> None:
    target = TARGETS[name]
    words = data.draw(st.lists(st.sampled_from(target.words), max_size=20))
    assert tried(target, ["".join(words)]).broken == []


# ---- the judge itself -------------------------------------------------------------------------------


def test_the_judge_sees_what_it_is_there_for() -> None:
    def run(text: str) -> str:
        if text == "crash":
            raise KeyError("x")
        if text == "hang":
            with at_most(0.05):
                while True:  # what swallows everything must not swallow the alarm
                    with suppress(Exception):
                        sum(range(1000))
        if text == "escape":
            hold_line("a\x1b[2Jb")
        if text == "two lines":
            hold_line("a\nb")
        return TAKEN

    tally = tried(Target("sick", run, (), ""), ["crash", "fine", "hang", "escape", "two lines"])
    assert tally.outcomes == {TAKEN: 1}
    assert [what.split(":")[0] for _, what in tally.broken] == ["KeyError", "Hang", "Broken", "Broken"]


def test_the_same_seed_makes_the_same_inputs() -> None:
    target = TARGETS["notation"]
    one, other = (inputs(target.seeds(), target.words, 7) for _ in range(2))
    first = [next(one) for _ in range(200)]
    assert first == [next(other) for _ in range(200)]
    assert len(set(first)) > 150


def busy(limit: AbstractContextManager[None]) -> None:
    end = time.process_time() + 1
    with limit:
        while time.process_time() < end:
            pass


def test_time_is_that_of_this_process_alone() -> None:
    with at_most(0.2):
        time.sleep(0.4)
    with pytest.raises(Hang):
        busy(at_most(0.05))
    with pytest.raises(Broken):
        hold_line("x" * 10_000)
