"""What every front end says about safety, in its help."""

from __future__ import annotations

CAUTIONS = (
    "Needles: count them in and out, keep them on a magnet or in a cushion, never in your mouth.",
    "A bead that breaks leaves glass splinters. Cover it with your hand and protect your eyes before you break one.",
    "Beads, needles and cut threads are small parts: keep them away from small children and from animals.",
    "Eyes: look up and far away now and then, and mind the light. Hands: take breaks, change your grip, and stop "
    "when it hurts.",
    "A ring that is too tight cuts off the blood: measure warm, late in the day, and take off what pinches or makes "
    "the finger pale.",
    "This program counts; it is no judge of safety. Local rules, and those who know them (doctors, product safety, "
    "the maker of your materials), come first.",
)
