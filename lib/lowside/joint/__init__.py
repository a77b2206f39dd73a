"""Heat at the joint: how hot a valve gets while its stub is brazed, and which filler to take.

``setup`` says what is brazed, ``heat`` marches the heat from the torch along the stub into the
body; ``fillers`` judges filler metals for a pair of base metals; ``metals`` has metals and tubes,
``fitting`` what goes with it: nitrogen, water, flares.
"""

from .fillers import (
    FLUX,
    NEVER,
    NO_FLUX,
    Filler,
    Judgement,
    coolest,
    filler,
    fillers,
    judge,
    judge_all,
)
from .fitting import (
    HEAT_OF_BOILING,
    HEAT_OF_WATER,
    OXYGEN_IN_AIR,
    flare_torque,
    purge_time,
    water_lasts,
)
from .heat import GIVE_UP, LONGEST_STAY, Heating, braze
from .metals import (
    Metal,
    Tube,
    data,
    evening_time,
    metal,
    metals,
    overlap,
    sizes,
    steady_heat,
    tube,
)
from .setup import Setup, Wrap, wrap, wraps

__all__ = [
    "FLUX",
    "GIVE_UP",
    "HEAT_OF_BOILING",
    "HEAT_OF_WATER",
    "LONGEST_STAY",
    "NEVER",
    "NO_FLUX",
    "OXYGEN_IN_AIR",
    "Filler",
    "Heating",
    "Judgement",
    "Metal",
    "Setup",
    "Tube",
    "Wrap",
    "braze",
    "coolest",
    "data",
    "evening_time",
    "filler",
    "fillers",
    "flare_torque",
    "judge",
    "judge_all",
    "metal",
    "metals",
    "overlap",
    "purge_time",
    "sizes",
    "steady_heat",
    "tube",
    "water_lasts",
    "wrap",
    "wraps",
]
