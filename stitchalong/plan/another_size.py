"""The checked data of a plan in another size: what is kept with a piece that was begun with a size of its own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from stitchalong.plan.model import Band, Foundation, Plan, RingStart, TubeStart


def data_in_size(data: Mapping[str, Any], plan: Plan) -> dict[str, Any]:
    """The data with the start that `plan` has, so that `checked.build` makes this plan of it.

    `plan` is what `sizes.resized` made of the plan of `data`; nothing else differs.
    """
    start = plan.work[0]
    old = dict(data["work"][0])
    match start:
        case Band(units=units, spacers=spacers):
            new = {key: value for key, value in old.items() if key not in ("side", "marker", "sides")}
            new |= {"units": units, "spacers": spacers.text}
        case RingStart() | TubeStart() | Foundation() if start.beads is not None:
            new = {**old, "beads": start.beads.text}
        case _:
            return dict(data)
    return {**data, "work": [new, *data["work"][1:]]}
