"""The piece as beads in their places: one drawing, for the screen and for SVG."""

from stitchalong.chart.draw import chart_of
from stitchalong.chart.model import Bead, Chart, Label, State
from stitchalong.chart.svg import svg

__all__ = ["Bead", "Chart", "Label", "State", "chart_of", "svg"]
