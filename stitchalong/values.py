"""Classes whose objects are values: frozen, slotted, equal where their fields are.

`value` gives what `dataclasses.dataclass(frozen=True, slots=True)` gives, and `field`, `replace`, `fields` and `asdict`
of that module work as they do there. But where the standard decorator compiles six methods for each class, this one
compiles one, and the module itself, which takes as long to import as all else, is left out until it is asked for.

Classes of values that are loaded before the first picture of a piece in progress stands are made by `value`. Others may
be the standard decorator's, which every reader knows; what can be changed, or is equal to itself alone, is so anyway.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from operator import attrgetter
from typing import Any, NoReturn, TypeVar, dataclass_transform

T = TypeVar("T")


class _Nothing:
    """Stands where a field has no usual value."""


_NOTHING = _Nothing()


@dataclass_transform(frozen_default=True)
def value(cls: type[T]) -> type[T]:
    """Make a class of annotated fields one of values. Raises TypeError for fields of a kind that it does not know.

    Every annotation is a field, given in order or by name: no `ClassVar`, `InitVar` or `KW_ONLY`. Of `field` it knows
    `default`, `default_factory`, `compare`, `repr` and `init`. What is usual can be hashed, or is made by a factory.
    """
    own = dict(vars(cls))
    given: dict[str, Any] = {}
    for base in reversed(cls.__mro__[1:]):
        given |= vars(base).get("_given", {})
    slots = tuple(name for name in own.get("__annotations__", ()) if name not in given)
    given |= {name: own.pop(name, _NOTHING) for name in own.get("__annotations__", ())}
    for name, usual in given.items():
        _check(cls.__name__, name, str(own.get("__annotations__", {}).get(name, "")), usual)
    own.pop("__dict__", None)
    own.pop("__weakref__", None)
    # `_given`: name -> its usual value, or a `dataclasses.Field`, or `_NOTHING`
    own |= {"__slots__": slots, "__match_args__": _made_of(given), "__dataclass_fields__": _Fields(), "_given": given}
    kind: Any = type(cls)
    made: Any = kind(cls.__name__, cls.__bases__, own)
    made.__qualname__ = cls.__qualname__
    made.__init__ = _init(made, given)
    made._compared = staticmethod(_getter([name for name, usual in given.items() if _says(usual, "compare")]))
    for name, method in _METHODS.items():
        if name not in own:
            setattr(made, name, method)
    if own.get("__hash__") is None:
        made.__hash__ = _hash
    found: type[T] = made
    return found


def changed(one: T, **changes: object) -> T:
    """The same value but for these fields; `dataclasses.replace` without its module."""
    known: Any = one
    return type(one)(**({name: getattr(one, name) for name in known.__match_args__} | changes))


def names(kind: Any) -> tuple[str, ...]:
    """The names of the fields of a class of values."""
    return tuple(kind._given)


class _Fields:
    """The fields as the standard library has them, made when somebody asks."""

    def __get__(self, one: object, cls: Any) -> Mapping[str, Any]:
        from dataclasses import dataclass

        body: dict[str, Any] = {"__doc__": "", "__annotations__": {}}
        for base in reversed(cls.__mro__):
            body["__annotations__"] |= vars(base).get("__annotations__", {})
        body |= {name: usual for name, usual in cls._given.items() if usual is not _NOTHING}
        shadow: Any = dataclass(init=False, repr=False, eq=False)(type(cls.__name__, (), body))
        cls.__dataclass_fields__ = shadow.__dataclass_fields__
        found: Mapping[str, Any] = cls.__dataclass_fields__
        return found


def _check(cls: str, name: str, hint: str, usual: Any) -> None:
    """Raise TypeError where this would not do what the standard decorator does."""
    wrong = next((word for word in ("ClassVar", "InitVar", "KW_ONLY") if word in hint), "")
    if _is_field(usual):
        wrong = wrong or ("kw_only=True" if usual.kw_only is True else "") or ("" if usual.hash is None else "hash=")
        usual = usual.default
    if not wrong and usual.__class__.__hash__ is None:
        wrong = "a usual value that can be changed; use a factory"
    if wrong:
        raise TypeError(f"a value cannot have the field {cls}.{name}: {wrong}")


def _is_field(usual: object) -> bool:
    standard = sys.modules.get("dataclasses")  # where it is not loaded there can be no field of it
    return standard is not None and isinstance(usual, standard.Field)


def _says(usual: Any, what: str) -> bool:
    """What a field says of itself, where it is not a mere usual value."""
    return bool(getattr(usual, what)) if _is_field(usual) else True


def _made_of(given: Mapping[str, Any]) -> tuple[str, ...]:
    """The fields that are given when one is made."""
    return tuple(name for name, usual in given.items() if _says(usual, "init"))


def _init(cls: Any, given: Mapping[str, Any]) -> Any:
    """A constructor that takes the fields in order. Values are put past `__setattr__`, which refuses all."""
    space: dict[str, Any] = {"nothing": _NOTHING}
    taken, body = ["self"], []
    for name, usual in given.items():
        space[f"put_{name}"] = getattr(cls, name).__set__
        told, made = usual, _NOTHING
        if _is_field(usual):
            missing = sys.modules["dataclasses"].MISSING
            told = _NOTHING if usual.default is missing else usual.default
            made = _NOTHING if usual.default_factory is missing else usual.default_factory
        space[f"usual_{name}"], space[f"make_{name}"] = told, made
        if not _says(usual, "init"):
            body.append(f"    put_{name}(self, {f'make_{name}()' if told is _NOTHING else f'usual_{name}'})")
            continue
        taken.append(name if told is made else f"{name}=usual_{name}")
        wanted = name if made is _NOTHING else f"make_{name}() if {name} is nothing else {name}"
        body.append(f"    put_{name}(self, {wanted})")
    if hasattr(cls, "__post_init__"):
        body.append("    self.__post_init__()")
    try:
        exec(f"def __init__({', '.join(taken)}):\n" + ("\n".join(body) or "    pass"), space)
    except SyntaxError:
        raise TypeError(f"a field of {cls.__qualname__} without a usual value follows one that has one") from None
    made_init = space["__init__"]
    made_init.__qualname__ = f"{cls.__qualname__}.__init__"
    made_init.__module__ = cls.__module__
    return made_init


def _getter(names: list[str]) -> Any:
    return attrgetter(*names) if names else lambda _: ()


def _eq(self: Any, other: Any) -> Any:
    if other.__class__ is self.__class__:
        return self._compared(self) == self._compared(other)
    return NotImplemented


def _hash(self: Any) -> int:
    return hash(self._compared(self))


def _repr(self: Any) -> str:
    shown = (name for name, usual in self._given.items() if _says(usual, "repr"))
    return f"{type(self).__qualname__}({', '.join(f'{name}={getattr(self, name)!r}' for name in shown)})"


def _refused(doing: str, name: str) -> Exception:
    from dataclasses import FrozenInstanceError

    return FrozenInstanceError(f"cannot {doing} field {name!r}")


def _refuse_setting(self: Any, name: str, given: object) -> NoReturn:
    raise _refused("assign to", name)


def _refuse_deleting(self: Any, name: str) -> NoReturn:
    raise _refused("delete", name)


def _state(self: Any) -> list[Any]:
    return [getattr(self, name) for name in self._given]


def _set_state(self: Any, state: list[Any]) -> None:
    for name, held in zip(self._given, state, strict=True):
        object.__setattr__(self, name, held)


_METHODS = {
    "__eq__": _eq,
    "__repr__": _repr,
    "__setattr__": _refuse_setting,
    "__delattr__": _refuse_deleting,
    "__getstate__": _state,
    "__setstate__": _set_state,
}
