"""When a picture goes to the terminal past the toolkit, and that it never does where the toolkit is another."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from textual.geometry import Region

from stitchalong.screens import patch
from stitchalong.screens.patch import may_send

WHOLE = Region(0, 0, 80, 24)


def widget(*over: SimpleNamespace) -> Any:
    """A widget as the toolkit has it, alone on its screen but for these."""
    app = SimpleNamespace(is_headless=False, no_color=False, _batch_count=0, _display=print)
    screen = SimpleNamespace(_layout_required=False, _repaint_required=False, _dirty_widgets=set())
    styles = SimpleNamespace(set_dirty=print)
    one = SimpleNamespace(app=app, screen=screen, region=WHOLE, _repaint_regions=set(), _styles_cache=styles)
    screen.children = [SimpleNamespace(display=False, region=WHOLE), one, *over]
    one.display = True
    app.screen = screen
    return one


def test_what_is_alone_and_waits_for_nothing_may_send() -> None:
    assert may_send(widget())
    assert may_send(widget(SimpleNamespace(display=True, region=Region(0, 24, 80, 1))))
    assert not may_send(widget(SimpleNamespace(display=True, region=Region(70, 2, 5, 5))))
    under = widget()
    under.app.screen = object()
    assert not may_send(under), "another screen is shown"


@pytest.mark.parametrize(
    ("owner", "name", "waiting"),
    [
        ("screen", "_layout_required", True),
        ("screen", "_repaint_required", True),
        ("screen", "_dirty_widgets", {1}),
        ("app", "_batch_count", 1),
        ("", "_repaint_regions", {WHOLE}),
    ],
)
def test_what_waits_to_be_painted_goes_first(owner: str, name: str, waiting: object) -> None:
    one = widget()
    setattr(getattr(one, owner) if owner else one, name, waiting)
    assert not may_send(one)


@pytest.mark.parametrize(
    ("owner", "name"),
    [
        ("screen", "_layout_required"),
        ("screen", "_repaint_required"),
        ("screen", "_dirty_widgets"),
        ("app", "_batch_count"),
        ("app", "_display"),
        ("", "_repaint_regions"),
        ("", "_styles_cache"),
    ],
)
def test_a_toolkit_without_one_of_the_names_paints_by_itself(owner: str, name: str) -> None:
    one = widget()
    delattr(getattr(one, owner) if owner else one, name)
    assert not may_send(one)


def test_a_toolkit_without_the_class_paints_by_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(patch, "CompositorUpdate", object)
    assert not may_send(widget())
