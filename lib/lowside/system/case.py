"""One batch of operating points, flattened, and the equations that every point must meet.

Unknowns are the logarithms of evaporating pressure and mass flow. Given both, the coil says what
leaves it, and two statements remain:

* the compressor, fed with that, pumps the mass flow;
* the valve passes it: either the bulb is exactly as warm as the lift for this flow needs, or the
  valve is wide open, the bulb at least as warm, and the flow all that the port passes. Written as
  one number, the smaller of *bulb surplus* and *flow reserve* is zero.

The valve enters through the bulb temperature it needs and not through the flow it passes: the
latter is flat where the valve is shut, and a solver cannot see which way to go.
"""

from __future__ import annotations

from dataclasses import dataclass, is_dataclass

import numpy as np

from lowside import coils, valve

from .box import LowSide

SURPLUS_SCALE = 5.0  # [K] of bulb surplus that weighs as much as a flow wrong by a factor e
LEAST_FLOW = 1e-12  # [kg/s], so that a compressor that pumps nothing has a logarithm
ON_THE_STOP = 1e-7  # flow reserve below which the valve counts as wide open
LEAST_FLUX = 1e-9  # [kg/(s m2)]


@dataclass(frozen=True)
class Case:
    """A batch of points: scalars, or arrays of one length [SI].

    Parameters
    ----------
    box : LowSide
        Hardware.
    air_temperature, condensing_pressure, compressor_share : float or ndarray
        Conditions.
    inlet : valve.Inlet
        What arrives at the valve.
    spring_force, largest_area : float or ndarray
        Of the valve, computed once.
    lowest, highest : float or ndarray
        Natural logarithms of the evaporating pressures between which to look.
    """

    box: LowSide
    air_temperature: np.ndarray
    condensing_pressure: np.ndarray
    compressor_share: np.ndarray
    inlet: valve.Inlet
    spring_force: np.ndarray
    largest_area: np.ndarray
    lowest: np.ndarray
    highest: np.ndarray


@dataclass(frozen=True)
class Trial:
    """All that follows from a trial pressure and mass flow.

    Parameters
    ----------
    pressure, mass_flow : ndarray
        The trial. [Pa], [kg/s]
    outlet : State
        Leaving the evaporator.
    saturation : Saturation
        At the evaporator outlet.
    wet_share : ndarray
        [-]
    pumped : ndarray
        Mass flow of the compressor fed with `outlet`. [kg/s]
    inlet_pressure : ndarray
        Of the evaporator. [Pa]
    lift : ndarray
        Needed for the flow; runs on past the stop where the port is too small, so that the bulb
        temperature below keeps its slope. [m]
    bulb_temperature, sensed_temperature : ndarray
        That holds this lift, and the one that the bulb has. [K]
    flow_reserve : ndarray
        Logarithm of the flow that the open port passes over the mass flow. [-]
    """

    pressure: np.ndarray
    mass_flow: np.ndarray
    outlet: object
    saturation: object
    wet_share: np.ndarray
    pumped: np.ndarray
    inlet_pressure: np.ndarray
    lift: np.ndarray
    bulb_temperature: np.ndarray
    sensed_temperature: np.ndarray
    flow_reserve: np.ndarray

    @property
    def liquid_leaves(self):
        """Whether liquid leaves the evaporator (bool)."""
        return self.outlet.enthalpy < self.saturation.vapour_enthalpy * (1.0 - 1e-9)

    @property
    def bulb_surplus(self):
        """Bulb temperature above the one needed, over `SURPLUS_SCALE` [-]."""
        return (self.sensed_temperature - self.bulb_temperature) / SURPLUS_SCALE

    @property
    def pumping(self):
        """Logarithm of the pumped flow over the mass flow [-]."""
        return np.log(np.maximum(self.pumped, LEAST_FLOW) / self.mass_flow)

    @property
    def feeding(self):
        """Surplus of the valve: zero where it passes the flow [-]."""
        return np.minimum(self.bulb_surplus, self.flow_reserve)


def attempt(case, log_pressure, log_flow):
    """Evaluate a trial.

    Parameters
    ----------
    case : Case
        The batch.
    log_pressure, log_flow : ndarray
        Logarithms of Pa and kg/s.

    Returns
    -------
    Trial
    """
    box, fluid = case.box, case.box.refrigerant
    pressure, flow = np.exp(log_pressure), np.exp(log_flow)
    saturation = fluid.saturation(pressure, check=False)
    enthalpy, wet_share = coils.outlet_enthalpy(
        box.evaporator,
        fluid,
        flow,
        case.inlet.enthalpy,
        pressure,
        case.air_temperature,
        saturation,
    )
    outlet = fluid.state_ph(pressure, enthalpy, check=False)
    pumped = case.compressor_share * box.compressor.mass_flow(
        fluid, pressure, outlet.density, case.condensing_pressure
    )
    inlet_pressure = pressure + box.evaporator.pressure_drop(flow)
    flux = valve.valve_flux(box.valve, fluid, case.inlet, inlet_pressure)
    needed = flow / np.maximum(flux, LEAST_FLUX)
    reserve = np.log(case.largest_area / needed)
    lift = box.valve.port.lift_for(np.minimum(needed, case.largest_area))
    lift = lift + box.valve.port.max_lift * np.maximum(-reserve, 0.0)
    bulb = valve.bulb_temperature(
        box.valve,
        case.spring_force,
        lift,
        pressure,
        inlet_pressure,
        case.inlet.pressure,
        check=False,
    )
    return Trial(
        pressure=pressure,
        mass_flow=flow,
        outlet=outlet,
        saturation=saturation,
        wet_share=wet_share,
        pumped=pumped,
        inlet_pressure=inlet_pressure,
        lift=lift,
        bulb_temperature=bulb,
        sensed_temperature=box.valve.sensed_temperature(outlet.temperature, case.air_temperature),
        flow_reserve=reserve,
    )


def each(thing, change):
    """Copy a nest of dataclasses with every array in it changed; scalars stay.

    Parameters
    ----------
    thing : dataclass, ndarray or anything
        Values were checked when it was made and are not checked again.
    change : callable
        Applied to arrays of one dimension or more.

    Returns
    -------
    The same type.
    """
    if isinstance(thing, np.ndarray):
        return change(thing) if thing.ndim else thing
    if not is_dataclass(thing):
        return thing
    new = object.__new__(type(thing))
    for name, value in vars(thing).items():
        new.__dict__[name] = each(value, change)
    return new


def shapes(thing):
    """Shapes of all arrays in a nest of dataclasses.

    Parameters
    ----------
    thing : dataclass, ndarray or anything
        As for `each`.

    Yields
    ------
    tuple of int
    """
    if isinstance(thing, np.ndarray):
        yield thing.shape
    elif is_dataclass(thing):
        for value in vars(thing).values():
            yield from shapes(value)
