"""Capillary tubes: a long thin tube that meters by friction and, at its end, by choking.

Two answers to the same question, because neither is the truth:

``flow``
    Adiabatic, homogeneous, in equilibrium: the refrigerant enters (subcooled or already flashing),
    rubs along the wall, flashes, speeds up, and chokes where the tube could not be longer at that
    flow. Solved for the mass flow of any number of tubes at once.
``correlated_flow``
    A dimensionless fit to measurements (Wolf, Bittle and Pate), which knows nothing of the outlet.

Left out: heat exchange with the suction line, coiling, oil, and the delay of flashing (liquid stays
liquid for a little below its bubble point), which lets a real tube pass a few per cent more.
"""

from .fit import correlated_flow
from .flow import CapTubeFlow, flow, profile
from .tube import CapTube, friction_factor, homogeneous_viscosity

__all__ = [
    "CapTube",
    "CapTubeFlow",
    "correlated_flow",
    "flow",
    "friction_factor",
    "homogeneous_viscosity",
    "profile",
]
