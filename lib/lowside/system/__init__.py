"""Parts put together and solved: the low side alone, or the whole box closed on its charge.

`solve_low_side` takes the high side as an input: valve, evaporator and compressor at a given
condensing temperature. `solve_box` solves a complete circuit from coils of copper and fins to the
last gram (``closed``); `cabinets` has six invented ones. One call solves any number of operating
points: every parameter of the hardware and every condition may be an array, and they broadcast
against each other.

>>> from lowside import refrigerants
>>> fluid = refrigerants.get("R404A")
>>> box = size_low_side(fluid, load=2500.0, box_temperature=275.15, condensing_temperature=313.15)
>>> point = solve_low_side(box, air_temperature=275.15, condensing_temperature=313.15)
>>> point.status_name, round(float(point.capacity))
('solved', 2500)

Not modelled: moisture on the coil, uneven distribution, in the low side alone also the suction
line's heat and pressure drop, and time: whether the valve hunts needs the dynamics of coil and
bulb. What can be said from a steady point is in `ValveLoop`.
"""

from . import cabinets
from .box import LowSide, size_low_side, with_port
from .charge_curve import ChargeCurve, charge_curve, refitted, refitted_curve
from .closed import Box, BoxReadings, BoxResult, BoxStatus, solve_box, standing_box
from .loop import ValveLoop
from .pulldown import PullDown, limits_compared, pull_down
from .result import LowSideResult, Status
from .sized import Description, size_box
from .solve import solve_low_side

__all__ = [
    "Box",
    "BoxReadings",
    "BoxResult",
    "BoxStatus",
    "ChargeCurve",
    "Description",
    "LowSide",
    "LowSideResult",
    "PullDown",
    "Status",
    "ValveLoop",
    "cabinets",
    "charge_curve",
    "limits_compared",
    "pull_down",
    "refitted",
    "refitted_curve",
    "size_box",
    "size_low_side",
    "solve_box",
    "solve_low_side",
    "standing_box",
    "with_port",
]
