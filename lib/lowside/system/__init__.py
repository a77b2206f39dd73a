"""Valve, evaporator and compressor solved together at a given condensing temperature.

The whole box, closed on its charge, comes later; here the high side is an input. One call solves
any number of operating points: every parameter of the hardware and every condition may be an
array, and they broadcast against each other.

>>> from lowside import refrigerants
>>> fluid = refrigerants.get("R404A")
>>> box = size_low_side(fluid, load=2500.0, box_temperature=275.15, condensing_temperature=313.15)
>>> point = solve_low_side(box, air_temperature=275.15, condensing_temperature=313.15)
>>> point.status_name, round(float(point.capacity))
('solved', 2500)

Not modelled: moisture and frost on the coil, suction-line heat and pressure drop, uneven
distribution, and time: whether the valve hunts needs the dynamics of coil and bulb. What can be
said from a steady point is in `ValveLoop`.
"""

from .box import LowSide, size_low_side, with_port
from .loop import ValveLoop
from .result import LowSideResult, Status
from .solve import solve_low_side

__all__ = [
    "LowSide",
    "LowSideResult",
    "Status",
    "ValveLoop",
    "size_low_side",
    "solve_low_side",
    "with_port",
]
