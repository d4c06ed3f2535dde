"""The piece as beads in their places: one drawing, for the screen and for SVG."""

from stitchalong.chart.arrange import Arranged, arranged
from stitchalong.chart.draw import chart_of
from stitchalong.chart.model import Bead, Chart, Label, State
from stitchalong.chart.svg import svg

__all__ = ["Arranged", "Bead", "Chart", "Label", "State", "arranged", "chart_of", "svg"]
