"""`value` holds what `dataclasses.dataclass(frozen=True, slots=True)` promises: that decorator is the judge."""

from __future__ import annotations

import copy
import inspect
import pickle
from dataclasses import KW_ONLY, FrozenInstanceError, InitVar, asdict, dataclass, field, fields, replace
from typing import Any, ClassVar

import pytest

from stitchalong.values import changed, names, value


@value
class Ours:
    a: int
    b: str = "usual"
    c: list[int] = field(default_factory=list, compare=False)
    d: float = field(default=1.5, repr=False)
    f: list[int] = field(default_factory=list, init=False, compare=False)
    g: int = field(default=3, init=False)


@dataclass(frozen=True, slots=True)
class Theirs:
    a: int
    b: str = "usual"
    c: list[int] = field(default_factory=list, compare=False)
    d: float = field(default=1.5, repr=False)
    f: list[int] = field(default_factory=list, init=False, compare=False)
    g: int = field(default=3, init=False)


@value
class Longer(Ours):
    e: int = 7


@value
class Checked:
    a: int

    def __post_init__(self) -> None:
        if self.a < 0:
            raise ValueError("below nought")


@value
class Empty:
    pass


GIVEN: list[tuple[tuple[Any, ...], dict[str, Any]]] = [
    ((1,), {}),
    ((1, "two"), {}),
    ((1,), {"d": 2.5}),
    ((1, "two", [3], 4.0), {}),
    ((), {"a": 9, "c": [1, 2]}),
]


@pytest.mark.parametrize(("args", "named"), GIVEN)
def test_it_is_made_shown_and_taken_apart_alike(args: tuple[Any, ...], named: dict[str, Any]) -> None:
    ours, theirs = Ours(*args, **named), Theirs(*args, **named)
    assert asdict(ours) == asdict(theirs)
    assert repr(ours).replace("Ours", "Theirs") == repr(theirs)
    assert asdict(replace(ours, a=5)) == asdict(replace(theirs, a=5))
    assert [one.name for one in fields(ours)] == [one.name for one in fields(theirs)]


@pytest.mark.parametrize("change", [{"a": 2}, {"b": "x"}, {"c": [9]}, {"d": 0.5}, {}])
def test_it_is_equal_where_the_other_is(change: dict[str, Any]) -> None:
    ours, theirs = Ours(1, "two", [3]), Theirs(1, "two", [3])
    assert (replace(ours, **change) == ours) == (replace(theirs, **change) == theirs)
    assert (hash(replace(ours, **change)) == hash(ours)) == (hash(replace(theirs, **change)) == hash(theirs))
    assert ours != theirs
    assert Longer(1) != Ours(1)


@pytest.mark.parametrize("made", [Ours(1), Theirs(1)], ids=["ours", "theirs"])
def test_nothing_of_it_can_be_changed(made: Any) -> None:
    with pytest.raises(FrozenInstanceError, match="cannot assign to field 'a'"):
        made.a = 2
    with pytest.raises(FrozenInstanceError, match="cannot delete field 'a'"):
        del made.a
    assert not hasattr(made, "__dict__")
    assert made.a == 1


@pytest.mark.parametrize("cls", [Ours, Theirs])
def test_what_cannot_be_made_is_refused(cls: Any) -> None:
    for args, named in [((), {}), ((1, 2, 3, 4, 5), {}), ((1,), {"no_such": 1}), ((1,), {"a": 1})]:
        with pytest.raises(TypeError):
            cls(*args, **named)
    with pytest.raises(ValueError, match="below nought"):
        Checked(-1)


def marked() -> type:
    class Marked:
        a: int
        _: KW_ONLY
        b: int = 1

    return Marked


def test_what_it_does_not_know_it_refuses() -> None:
    """Each of these the standard decorator takes in another sense than that of a field given in order, or refuses."""
    for hint, usual in [
        (int, field(default=1, kw_only=True)),
        (int, field(default=1, hash=False)),
        (list, []),
        (ClassVar[int], 1),
        ("ClassVar[int]", 1),
        (InitVar[int], 1),
    ]:
        with pytest.raises(TypeError, match=r"cannot have the field Some\.a"):
            value(type("Some", (), {"__annotations__": {"a": hint}, "a": usual}))
    with pytest.raises(TypeError, match=r"Marked\._: KW_ONLY"):
        value(marked())
    with pytest.raises(TypeError, match="without a usual value"):
        value(type("Some", (), {"__annotations__": {"a": int, "b": int}, "a": 1}))
    assert repr(value(type("Some", (), {"__annotations__": {"a": int}, "a": field(default=1)}))()) == "Some(a=1)"


def test_it_is_changed_as_the_library_changes_it() -> None:
    made = Longer(1, "two", [3], e=8)
    for change in ({}, {"a": 5}, {"e": 0, "b": ""}):
        assert repr(changed(made, **change)) == repr(replace(made, **change))
    made.f.append(1)
    assert changed(made).f == replace(made).f == []
    assert Ours.__match_args__ == Theirs.__match_args__
    for wrong in ({"no_such": 1}, {"f": [2]}):
        with pytest.raises(TypeError):
            changed(made, **wrong)
    assert names(Longer) == tuple(one.name for one in fields(Longer))


def test_a_usual_list_is_made_for_each() -> None:
    one, other = Ours(1), Ours(1)
    one.c.append(3)
    assert other.c == []


def test_it_can_be_copied_and_pickled() -> None:
    made = Longer(1, "two", [3], e=8)
    for back in (copy.copy(made), copy.deepcopy(made), pickle.loads(pickle.dumps(made))):
        assert back == made
        assert back.c == [3]
        assert type(back) is Longer


def test_it_inherits_and_can_be_empty() -> None:
    assert repr(Longer(1)) == "Longer(a=1, b='usual', c=[], f=[], g=3, e=7)"
    assert Empty() == Empty()
    assert hash(Empty()) == hash(Empty())
    assert inspect.signature(Ours).parameters.keys() == inspect.signature(Theirs).parameters.keys()
