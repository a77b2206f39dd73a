"""Evaporators and condensers by zones, with conductances given or taken from the tubes' geometry.

Refrigerant marches through the coil, air crosses it: every share of the coil meets entering air
and its own share of the air flow, so that each zone has a closed form (C the air's capacity rate,
eps = 1 - exp(-UA/C), f the share of the coil):

    gas or liquid alone   T = T_air + (T_first - T_air) exp(-C eps f / (m cp))
    boiling, condensing   f = m dh / (C eps LMTD)

A blend changes temperature while it boils or condenses: that zone is cut in three pieces of equal
enthalpy, with the logarithmic mean difference for each. If one zone wants more than the whole coil,
what leaves follows from the same equation: liquid leaving an evaporator, or gas leaving a
condenser, is an answer and not a failure.

`Evaporator` and `Condenser` are coils whose conductances are known; `FinCoil` is a coil of copper
and fins, which becomes one or the other at a given flow by published coefficients (`tubes`).

Not modelled: moisture on the fins, several rows, uneven distribution, a wall colder than dew while
the gas above it is still superheated, the mixture's own resistance to boiling and condensing.
"""

from .condenser import Condenser, CondenserOutlet, condense
from .evaporator import (
    Evaporator,
    EvaporatorResult,
    evaporate,
    outlet_enthalpy,
    size_evaporator,
)
from .exchange import LEAST_DIFFERENCE, PIECES, effectiveness, log_mean_difference
from .geometry import FinCoil
from .suction import before_line, exchange_given_outlet

__all__ = [
    "LEAST_DIFFERENCE",
    "PIECES",
    "Condenser",
    "CondenserOutlet",
    "Evaporator",
    "EvaporatorResult",
    "FinCoil",
    "before_line",
    "condense",
    "effectiveness",
    "evaporate",
    "exchange_given_outlet",
    "log_mean_difference",
    "outlet_enthalpy",
    "size_evaporator",
]
