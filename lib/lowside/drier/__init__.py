"""The filter-drier's price: grams of refrigerant it holds, drops of water it takes.

Also what makes it needed: how much water a refrigerant carries, what falls out and freezes at the
port, and what a vacuum gauge says about water (`water`).
"""

from ..water import boiling_temperature, saturation_pressure
from .desiccant import DROP, Drier, drops, remaining_water, water_loading
from .solubility import Fallout, doubt, falls_out, in_vapour, known, solubility
from .water import vacuum_margin, vapour_left

__all__ = [
    "DROP",
    "Drier",
    "Fallout",
    "boiling_temperature",
    "doubt",
    "drops",
    "falls_out",
    "in_vapour",
    "known",
    "remaining_water",
    "saturation_pressure",
    "solubility",
    "vacuum_margin",
    "vapour_left",
    "water_loading",
]
