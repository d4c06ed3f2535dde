"""Tell what was found of sound and voice on this machine, and let it be heard."""

from __future__ import annotations

import time
from argparse import Namespace
from collections.abc import Iterator

from stitchalong.commands.hearing import sound_settings, why_unspoken
from stitchalong.commands.world import World
from stitchalong.cues.cue import EARCONS, MEANINGS, Cue
from stitchalong.cues.sound.doctor import doctor
from stitchalong.cues.sound.outlet import START_LIMIT, SoundOutlet
from stitchalong.cues.sound.settings import SoundSettings
from stitchalong.errors import Exit
from stitchalong.settings.file import read_settings
from stitchalong.settings.use import sound as sound_of

TO_END = 20.0
"""seconds in which a tone or some words must have come to their end"""

BETWEEN_BELLS = 0.5
"""seconds; a bell that is rung while it rings is heard once"""


def run(asked: Namespace, world: World) -> int:
    """`sound`."""
    usual = sound_of(read_settings(world.paths.settings))
    settings = sound_settings(asked, usual, world.environ)
    if not asked.hear and asked.say is None:
        unspoken = why_unspoken(asked, usual, world.environ)
        world.say_all(doctor(settings, environ=world.environ, folder=world.paths.log, unspoken=unspoken))
        return Exit.OK
    cues = [*(_each(settings) if asked.hear else ()), *([(asked.say, Cue(None, asked.say))] if asked.say else ())]
    ring = world.ring if world.stdout.isatty() else lambda: None
    sounding = SoundOutlet(settings, bell=ring, folder=world.paths.log, environ=world.environ)
    try:
        sounding.wait_until_ready(START_LIMIT)
        world.say(f"heard through: {sounding.describe()}")
        for line, cue in cues:
            world.say(line)
            sounding.deliver(cue)
            if not sounding.wait_until_quiet(TO_END) or sounding.describe().startswith("bell"):
                time.sleep(BETWEEN_BELLS)
    finally:
        sounding.close()
    return Exit.OK


def _each(settings: SoundSettings) -> Iterator[tuple[str, Cue]]:
    """Each of the short sounds with its name, spoken after it too."""
    for earcon in EARCONS:
        volume = settings.volumes.of(earcon)
        loud = (
            f"volume {volume:.0%}"
            if volume
            else f"off; `settings sound.volume_{earcon.replace('-', '_')} 0.3` sounds it"
        )
        yield f"{earcon}: {MEANINGS[earcon]} ({loud})", Cue(earcon, f"{earcon}: {MEANINGS[earcon]}", urgent=True)
