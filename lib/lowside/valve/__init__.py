"""The thermostatic expansion valve: four forces, a pin in a port, and the flow past it.

A diaphragm feels the bulb above and the evaporator below; a spring helps to close, and the
pressure drop over the port pushes the pin open unless the port is balanced. What is left moves
the pin:

    lift y = clip([A_d (p_bulb - p_eq) + (1 - balance) A_port (p_in - p_out) - F0] / k, 0, y_max)
    area A = pi y sin(a) (D - y sin(a) cos(a)), at most 0.9 pi D²/4
    flow m = Cd A sqrt(2 rho_in (p_in - p_out))

Superheat counts from the dew point at the evaporator outlet. *Static* superheat is where the pin
just leaves its seat, *opening* superheat what the lift for the load needs on top, *operating*
superheat their sum (AHRI 750 wording, from memory).

Not modelled: friction and hysteresis, choking of a flashing inlet, the time the bulb takes, wear.
"""

from .balance import (
    Forces,
    Superheats,
    bulb_temperature,
    equaliser_pressure,
    forces,
    gain,
    lift,
    preload,
    rated_capacity,
    superheats,
)
from .bulbs import bulbs, opens_at, spring_pressure
from .duty import Duty, at_load
from .flow import (
    Inlet,
    capacity,
    capacity_ratio_band,
    inlet,
    mass_flow,
    mass_flux,
    valve_flux,
    wile_coefficient,
)
from .hardware import CHARGES, DISCHARGE_MODELS, HOTTEST_BULB, PowerElement, Spring, Valve
from .port import BORE_LIMIT, STANDARD_ANGLE, STANDARD_LIFT, Port, port_for_area, standard_port
from .stem import THREAD, force_per_turn, limit_pressure, superheat_per_turn, turned

__all__ = [
    "BORE_LIMIT",
    "CHARGES",
    "DISCHARGE_MODELS",
    "HOTTEST_BULB",
    "STANDARD_ANGLE",
    "STANDARD_LIFT",
    "THREAD",
    "Duty",
    "Forces",
    "Inlet",
    "Port",
    "PowerElement",
    "Spring",
    "Superheats",
    "Valve",
    "at_load",
    "bulb_temperature",
    "bulbs",
    "capacity",
    "capacity_ratio_band",
    "equaliser_pressure",
    "force_per_turn",
    "forces",
    "gain",
    "inlet",
    "lift",
    "limit_pressure",
    "mass_flow",
    "mass_flux",
    "opens_at",
    "port_for_area",
    "preload",
    "rated_capacity",
    "spring_pressure",
    "standard_port",
    "superheat_per_turn",
    "superheats",
    "turned",
    "valve_flux",
    "wile_coefficient",
]
