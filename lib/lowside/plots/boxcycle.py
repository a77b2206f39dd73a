"""The running box as a line on the pressure-enthalpy diagram, from what the solver answers."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from lowside.plots import style
from lowside.plots.marks import Line


class Corners(NamedTuple):
    """Enthalpies and pressures where the parts meet, each a pair [J/kg], [Pa]."""

    suction: tuple
    discharge: tuple
    liquid: tuple
    arriving: tuple
    behind: tuple
    outlet: tuple


def corners(fluid, point):
    """Read the corners of the cycle from one solved box.

    Parameters
    ----------
    fluid : Refrigerant
        In the box.
    point : system.BoxResult
        A single box.

    Returns
    -------
    Corners
        Pressures are the refrigerant's own, without foreign gas.
    """
    flow = float(point.mass_flow)
    suction = float(point.suction_enthalpy)
    discharge = suction + float(point.power - point.shell_heat) / flow
    liquid = discharge - float(point.condenser_heat) / flow
    low, wet = float(point.evaporating_pressure), float(point.outlet_quality)
    if wet < 1.0:
        edge = fluid.saturation(low)
        outlet = float(edge.liquid_enthalpy + wet * edge.latent_heat)
    else:
        outlet = float(fluid.vapour_enthalpy(low, point.outlet_temperature, check=False))
    arriving = outlet - float(point.capacity) / flow
    high = float(point.condensing_pressure)
    return Corners(
        (suction, float(point.suction_pressure)),
        (discharge, high),
        (liquid, high),
        (arriving, float(point.inlet_pressure)),
        (arriving, float(point.evaporator_inlet_pressure)),
        (outlet, low),
    )


def thick(cycle, axes="main"):
    """Draw a cycle part by part.

    Parameters
    ----------
    cycle : Corners
    axes : str
        Where.

    Returns
    -------
    list
        Primitives.
    """

    def line(colour, width, dash, *points):
        h, p = zip(*points, strict=True)
        return Line(h, p, colour, width, dash, axes=axes)

    return [
        line(style.INK, 2.6, "dashed", cycle.suction, cycle.discharge),
        line(style.HIGH, 4.0, "solid", cycle.discharge, cycle.liquid),
        line(style.INK, 2.6, "solid", cycle.liquid, cycle.arriving, cycle.behind),
        line(style.LOW, 4.0, "solid", cycle.behind, cycle.outlet, cycle.suction),
    ]


def thin(cycle, axes="main"):
    """Draw a cycle as one thin closed line, to compare with.

    Parameters
    ----------
    cycle : Corners
    axes : str
        Where.

    Returns
    -------
    list
        Primitives.
    """
    h, p = np.array(cycle).T
    return [Line(h, p, style.MUTED, 1.8, "dotted", closed=True, axes=axes)]
