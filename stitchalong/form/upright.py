"""Setting a form upright: while it comes to rest a piece may lean."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

_ALIKE = 0.1
"""how near the moments about two axes may be to each other, as a share, for none of them to be the piece's own"""


def upright(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """The points (shape (beads, 3)) turned so that the main axis nearest to the third lies along it.

    Main axes are those of the spread of the points; where they are not told apart, as in a ball, nothing is turned.
    """
    own = points - points.mean(axis=0)
    spread, axes = np.linalg.eigh(own.T @ own)
    nearest = int(np.argmax(np.abs(axes[2])))
    others = np.delete(spread, nearest)
    if np.any(np.abs(others - spread[nearest]) < _ALIKE * max(float(spread[nearest]), 1e-9)):
        return points
    axis = axes[:, nearest] * np.sign(axes[2, nearest])
    up = np.array([0.0, 0.0, 1.0])
    # the shortest turn from one to the other (Rodrigues)
    hinge = np.cross(axis, up)
    cross = np.cross(np.eye(3), hinge)
    turn = np.eye(3) + cross + cross @ cross / (1 + float(axis @ up))
    turned: NDArray[np.float64] = points @ turn.T
    return turned
