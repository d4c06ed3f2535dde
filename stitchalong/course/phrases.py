"""The phrases of all techniques, by what `Round.technique` says. Each stands beside its rule in `fabric`."""

from __future__ import annotations

from stitchalong.fabric import flat_peyote
from stitchalong.fabric.moves import Phrase, Phrases

_SAY: dict[str, Phrases] = {
    "strung row": flat_peyote.SAY,
    "flat peyote": flat_peyote.SAY,
}


def phrase_of(technique: str, detail: str) -> Phrase | None:
    """How a move of this technique is said; None where it has no phrase of its own."""
    return _SAY.get(technique, {}).get(detail)
