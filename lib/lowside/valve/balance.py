"""The forces on the pin, and the superheats that follow from them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.errors import NoOperatingPoint

from .flow import capacity, valve_flux


@dataclass(frozen=True)
class Forces:
    """The forces on the pin, each positive in the direction named [N].

    Parameters
    ----------
    bulb : float or ndarray
        Bulb pressure on the diaphragm, opening.
    port : float or ndarray
        Pressure drop on the pin, opening (flow under the pin).
    equaliser : float or ndarray
        Evaporator pressure under the diaphragm, closing.
    preload : float or ndarray
        Spring as set, pin on its seat, closing.
    compression : float or ndarray
        Further spring force from the lift, closing.
    lift : float or ndarray
        Where the pin stands. [m]
    """

    bulb: float | np.ndarray
    port: float | np.ndarray
    equaliser: float | np.ndarray
    preload: float | np.ndarray
    compression: float | np.ndarray
    lift: float | np.ndarray

    @property
    def net(self):
        """Opening minus closing forces; balanced by the seat (below 0) or the stop (above) [N]."""
        return self.bulb + self.port - self.equaliser - self.preload - self.compression


@dataclass(frozen=True)
class Superheats:
    """The superheats of a valve at one duty [K].

    Parameters
    ----------
    static, opening : float or ndarray
        Where the pin leaves its seat, and what the lift needs on top.
    lift_share : float or ndarray
        Lift over full travel. [-]
    wide_open : bool or ndarray of bool
        The flow asked for is more than the valve passes; the superheat is the least that opens it
        fully, not what the coil will show.
    """

    static: float | np.ndarray
    opening: float | np.ndarray
    lift_share: float | np.ndarray
    wide_open: bool | np.ndarray

    @property
    def operating(self):
        """Static plus opening superheat [K]."""
        return self.static + self.opening


def preload(valve, refrigerant, check=True):
    """Spring force with the pin on its seat, from the way the spring was set.

    F0 = A_d [p_bulb(Te + SS) - p_dew(Te)] + (1 - balance) A_port dp_reference

    Parameters
    ----------
    valve : Valve
        As set.
    refrigerant : Refrigerant
        In the evaporator.
    check : bool
        Refuse what cannot be set; otherwise it comes back negative.

    Returns
    -------
    float or ndarray
        [N]

    Raises
    ------
    NoOperatingPoint
        If no spring can do it: this charge would need a spring that pulls.
    """
    spring, element = valve.spring, valve.element
    bulb = element.as_filled.pressure(
        spring.evaporating_temperature + np.asarray(spring.static_superheat)
    )
    evaporator = refrigerant.dew_pressure(spring.evaporating_temperature, check=check)
    force = (
        element.diaphragm_area * (bulb - evaporator)
        + valve.port.exposed_area * spring.pressure_difference
    )
    if check and np.any(force < 0):
        raise NoOperatingPoint(
            "this bulb charge cannot open so early: the spring would have to pull",
            spring_force=float(np.min(force)),
            static_superheat=float(np.min(spring.static_superheat)),
        )
    return force


def forces(
    valve,
    refrigerant,
    bulb_temperature,
    evaporating_pressure,
    inlet_pressure,
    evaporator_drop=0.0,
    lift=None,
):
    """Every force on the pin, by name.

    Parameters
    ----------
    valve : Valve
        As set.
    refrigerant : Refrigerant
        In the evaporator.
    bulb_temperature : float or ndarray
        [K]
    evaporating_pressure : float or ndarray
        At the evaporator outlet. [Pa]
    inlet_pressure : float or ndarray
        [Pa]
    evaporator_drop : float or ndarray
        From the valve outlet to the evaporator outlet. [Pa]
    lift : float or ndarray, optional
        Where the pin is held; by default where the forces put it. [m]

    Returns
    -------
    Forces

    Raises
    ------
    NoOperatingPoint
        As `preload`.
    """
    outlet_pressure = evaporating_pressure + np.asarray(evaporator_drop)
    area = valve.element.diaphragm_area
    bulb = area * valve.element.pressure(bulb_temperature)
    port = valve.port.exposed_area * (inlet_pressure - outlet_pressure)
    equaliser = area * equaliser_pressure(valve, evaporating_pressure, outlet_pressure)
    spring = preload(valve, refrigerant)
    if lift is None:
        surplus = bulb + port - equaliser - spring
        lift = np.clip(surplus / valve.spring.rate, 0.0, valve.port.max_lift)
    return Forces(bulb, port, equaliser, spring, valve.spring.rate * lift, lift)


def equaliser_pressure(valve, evaporating_pressure, outlet_pressure):
    """Pressure under the diaphragm.

    Parameters
    ----------
    valve : Valve
        With an external or an internal equaliser.
    evaporating_pressure, outlet_pressure : float or ndarray
        At the evaporator outlet, and at the valve outlet. [Pa]

    Returns
    -------
    float or ndarray
        [Pa]
    """
    return np.where(valve.external_equaliser, evaporating_pressure, outlet_pressure)[()]


def lift(
    valve, refrigerant, bulb_temperature, evaporating_pressure, inlet_pressure, evaporator_drop=0.0
):
    """Where the forces put the pin; see `forces` for the parameters.

    Parameters
    ----------
    valve, refrigerant, bulb_temperature, evaporating_pressure, inlet_pressure, evaporator_drop
        As in `forces`. [K], [Pa]

    Returns
    -------
    float or ndarray
        From 0 to the full travel. [m]
    """
    return forces(
        valve, refrigerant, bulb_temperature, evaporating_pressure, inlet_pressure, evaporator_drop
    ).lift


def bulb_temperature(
    valve,
    spring_force,
    lift,
    evaporating_pressure,
    outlet_pressure,
    inlet_pressure,
    check=True,
):
    """Bulb temperature that holds the pin at a lift: the force balance read backwards.

    Parameters
    ----------
    valve : Valve
        As set.
    spring_force : float or ndarray
        From `preload`. [N]
    lift : float or ndarray
        [m]
    evaporating_pressure, outlet_pressure, inlet_pressure : float or ndarray
        At the evaporator outlet, valve outlet and valve inlet. [Pa]
    check : bool
        As in `PowerElement.temperature`.

    Returns
    -------
    float or ndarray
        [K]

    Raises
    ------
    OutOfRange
        As `PowerElement.temperature`.
    """
    closing = spring_force + valve.spring.rate * lift
    opening = valve.port.exposed_area * (inlet_pressure - outlet_pressure)
    below = equaliser_pressure(valve, evaporating_pressure, outlet_pressure)
    pressure = below + (closing - opening) / valve.element.diaphragm_area
    return valve.element.temperature(pressure, check)


def superheats(valve, refrigerant, mass_flow, inlet, evaporating_pressure, evaporator_drop=0.0):
    """Find the static and the opening superheat at which the valve passes a mass flow.

    Parameters
    ----------
    valve : Valve
        As set.
    refrigerant : Refrigerant
        In the evaporator.
    mass_flow : float or ndarray
        Asked for. [kg/s]
    inlet : Inlet
        From the function of that name.
    evaporating_pressure : float or ndarray
        At the evaporator outlet. [Pa]
    evaporator_drop : float or ndarray
        [Pa]

    Returns
    -------
    Superheats

    Raises
    ------
    NoOperatingPoint
        As `preload`.
    """
    outlet_pressure = np.asarray(evaporating_pressure) + evaporator_drop
    force = preload(valve, refrigerant)
    flux = np.maximum(valve_flux(valve, refrigerant, inlet, outlet_pressure), 1e-300)
    needed = mass_flow / flux
    wide_open = needed > valve.port.largest_area
    lift = np.minimum(valve.port.lift_for(needed), valve.port.max_lift)
    at_seat, at_lift = (
        bulb_temperature(valve, force, y, evaporating_pressure, outlet_pressure, inlet.pressure)
        for y in (0.0, lift)
    )
    dew = refrigerant.dew_temperature(evaporating_pressure, check=False)
    return Superheats(
        static=at_seat - dew,
        opening=at_lift - at_seat,
        lift_share=lift / valve.port.max_lift,
        wide_open=wide_open,
    )


def rated_capacity(
    valve, refrigerant, evaporating_temperature, inlet, opening_superheat=2.0, superheat=5.0
):
    """Capacity as a rating table gives it: the spring set at each evaporating temperature.

    The same opening superheat moves the pin less where the evaporator is colder, since the
    pressure of the bulb rises less per kelvin there; that is why rating tables fall towards low
    temperatures although the pressure difference grows.

    Parameters
    ----------
    valve : Valve
        Port, element, spring rate and discharge model; its setting does not matter.
    refrigerant : Refrigerant
        Flowing.
    evaporating_temperature : float or ndarray
        Dew point. [K]
    inlet : Inlet
        From the function of that name.
    opening_superheat : float or ndarray
        Above the static superheat. [K]
    superheat : float or ndarray
        At the evaporator outlet, with which the cooling is counted. [K]

    Returns
    -------
    float or ndarray
        [W]

    Raises
    ------
    OutOfRange
        If a temperature lies outside the refrigerant's range.
    """
    closed = np.asarray(evaporating_temperature) + valve.spring.static_superheat
    rise = valve.element.pressure(closed + opening_superheat) - valve.element.pressure(closed)
    lift = np.minimum(valve.element.diaphragm_area * rise / valve.spring.rate, valve.port.max_lift)
    return capacity(
        valve,
        refrigerant,
        inlet,
        refrigerant.dew_pressure(evaporating_temperature),
        superheat,
        lift / valve.port.max_lift,
    )


def gain(valve, refrigerant, lift, inlet, outlet_pressure, bulb_temperature):
    """Change of mass flow per kelvin at the bulb, everything else held.

    Parameters
    ----------
    valve : Valve
        As set.
    refrigerant : Refrigerant
        Flowing.
    lift : float or ndarray
        [m]
    inlet : Inlet
        From the function of that name.
    outlet_pressure : float or ndarray
        [Pa]
    bulb_temperature : float or ndarray
        [K]

    Returns
    -------
    float or ndarray
        Zero on the seat and at the stop. [kg/(s K)]
    """
    travelling = (lift > 0.0) & (lift < valve.port.max_lift)
    per_pascal = (
        valve_flux(valve, refrigerant, inlet, outlet_pressure)
        * valve.port.area_slope(lift)
        * valve.element.diaphragm_area
        / valve.spring.rate
    )
    return np.where(travelling, per_pascal * valve.element.slope(bulb_temperature), 0.0)[()]
