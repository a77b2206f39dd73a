"""Coil and compressor in time: how much of the coil is wet, and at which temperature it boils.

The boiling zone holds liquid, and is as long as that liquid reaches (a moving boundary, after
Wedekind and Stoecker 1968, from memory). Two balances move it:

    wet share      dL/dt  = (1 - x) (fed - boiled) / liquid that fills the coil
    pressure       dTe/dt = (x fed + (1 - x) boiled - pumped) / stored mass per kelvin

`fed` comes from the valve, and the share `x` of it arrives as vapour; `boiled` is the flow that a
zone of this length would boil to the end at this temperature, by the coil's own equations; the gas
warms up over the rest of the coil. At rest all three flows agree, and so does the steady box of
`system`.

Sizes follow from the coil's conductance: a larger coil has more of everything. Its times shrink as
the flow grows: a coil at half load is about twice as late.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from lowside import charge, coils, valve
from lowside.coils import tubes

from .bulb import Pipe
from .table import Table

_BORE, _FLUX = 9e-3, 150.0  # [m], [kg/(m2 s)] in a coil's tubes; most void models ask for neither

SUCTION_SPEED = 8.0  # [m/s] for which a line is sized: common practice, no published source
LEAST_BORE = 8e-3  # [m]
#: Walls of copper tube, and the bore from which the thicker one is used: from memory. [m]
WALLS, THICKER_FROM = (0.8e-3, 1.2e-3), 16e-3
TO_BULB = 0.3  # [m] from coil to bulb: common practice, no published source

_BELOW = 30.0  # [K] under the air, to which the coil's tables reach
LEAST_DIFFERENCE = 0.1  # [K] air to boiling
_HOTTEST_BULB = 325.0  # [K]
_LEAST_FLOW = 1e-12  # [kg/s]
_WARM = 8.0  # [K] of superheat over which the gas's density is followed
FULL, HEAT, DENSITY = 2, 5, 6  # columns of the coil's table
_PROBE = 0.2  # share of the flow with which a coil is probed, so that it never floods


@dataclass(frozen=True)
class Sizes:
    """Sizes that a conductance does not tell; estimates of our own.

    Parameters
    ----------
    inside : float
        Inside of a coil per conductance; the coils of data/cabinets.toml have 4 to 6 mL K/W.
        [m3 K/W]
    metal : float
        Heat capacity of copper and fins over conductance, for 0.1 kg of tube a metre and aluminium
        fins of 0.18 mm at 30 W/(m2 K). [s]
    inner_resistance : float
        Share of a boiling coil's resistance that lies on the refrigerant's side. [-]
    void_model : str
        A key of ``charge.MODELS``: how much liquid a boiling zone holds.
    """

    inside: float = 5e-6
    metal: float = 12.0
    inner_resistance: float = 0.2
    void_model: str = "Zivi"


class Flows(NamedTuple):
    """What follows from a wet share, an evaporating temperature and a bulb temperature.

    Parameters
    ----------
    fed, pumped : float
        [kg/s]
    lift : float
        Of the pin. [m]
    gas_temperature : float
        Leaving the coil. [K]
    pressure : float
        [Pa]
    wet_rate, evaporating_rate : float
        How fast the wet share and the evaporating temperature change. [1/s], [K/s]
    """

    fed: float
    pumped: float
    lift: float
    gas_temperature: float
    pressure: float
    wet_rate: float
    evaporating_rate: float


class Plant:
    """A low side made ready for time.

    Parameters
    ----------
    box : LowSide
        Scalar hardware.
    point : LowSideResult
        Its steady point, for scales that hardly change.
    compressor_share : float
        Of the swept volume. [-]
    design_flow : float
        For which the suction line was sized. [kg/s]
    sizes : Sizes
    """

    def __init__(self, box, point, compressor_share, design_flow, sizes):
        fluid, evaporator, hardware = box.refrigerant, box.evaporator, box.valve
        self.box = box
        self.air_temperature = float(point.air_temperature)
        self.inlet_pressure = float(point.condensing_pressure)
        arriving = valve.inlet(
            fluid,
            self.inlet_pressure,
            fluid.liquid_enthalpy(self.inlet_pressure, point.liquid_temperature),
        )
        flow = float(point.mass_flow)
        saturation = fluid.saturation(point.evaporating_pressure, check=False)
        quality = (arriving.enthalpy - saturation.liquid_enthalpy) / saturation.latent_heat
        self.quality = float(np.clip(quality, 0.0, 0.95))
        self.latent_heat = float(saturation.latent_heat)
        self.drop_coefficient = float(evaporator.drop_coefficient)
        self._tabulate(box, arriving, compressor_share, flow)
        self._measure(evaporator, saturation, flow, design_flow, sizes)
        self._take(hardware, fluid)

    def _tabulate(self, box, arriving, compressor_share, flow):
        fluid, evaporator, hardware = box.refrigerant, box.evaporator, box.valve
        high = self.air_temperature - LEAST_DIFFERENCE
        low = max(fluid.temperature_range[0] + 2.0, high - _BELOW)
        self.coldest, self.warmest = low, high
        probe = replace(evaporator, drop_coefficient=self.drop_coefficient / _PROBE**2)
        dry = coils.effectiveness(evaporator.dry_conductance, evaporator.air_capacity_rate)
        self.dry_rate = float(evaporator.air_capacity_rate * dry)

        def coil(temperature):
            temperature = np.minimum(temperature, high)
            pressure = fluid.dew_pressure(temperature, check=False)
            saturation = fluid.saturation(pressure, check=False)
            small = np.full_like(pressure, _PROBE * flow)
            _, wet = coils.outlet_enthalpy(
                probe, fluid, small, arriving.enthalpy, pressure, self.air_temperature, saturation
            )
            at_air = fluid.vapour_enthalpy(pressure, self.air_temperature, check=False)
            heat = (at_air - saturation.vapour_enthalpy) / (self.air_temperature - temperature)
            warm = fluid.state_pt(pressure, temperature + _WARM, check=False).density
            thinner = (saturation.vapour_density / warm - 1.0) / _WARM
            behind = pressure + evaporator.pressure_drop(flow)
            pumped = compressor_share * box.compressor.mass_flow(
                fluid, pressure, saturation.vapour_density, self.inlet_pressure
            )
            return (
                pressure,
                valve.valve_flux(hardware, fluid, arriving, behind),
                small / wet,
                np.maximum(pumped, _LEAST_FLOW),
                thinner,
                heat,
                saturation.vapour_density,
            )

        self.coil = Table.over(low, high, coil)
        element = hardware.element
        self.bulb = Table.over(low, _HOTTEST_BULB, lambda bulb: (element.pressure(bulb),))

    def _measure(self, evaporator, saturation, flow, design_flow, sizes):
        """Sizes and times of coil and line."""
        conductance = float(evaporator.wet_conductance)
        inside, metal = sizes.inside * conductance, sizes.metal * conductance
        liquid, vapour = float(saturation.liquid_density), float(saturation.vapour_density)
        together, apart = (
            float(charge.mean_density(self.quality, 1.0, saturation, _FLUX, _BORE, model))
            for model in ("homogeneous", sizes.void_model)
        )
        self.fill = inside * liquid * (apart - vapour) / (liquid - vapour)
        self.transit = inside * together
        self.dry_volume = inside
        outer, inner = 1.0 / (1.0 - sizes.inner_resistance), 1.0 / sizes.inner_resistance
        inner_dry = 1.0 / (conductance / float(evaporator.dry_conductance) - 1.0 / outer)
        self.wall_lag = sizes.metal / (outer + inner_dry)
        held = metal * inner / (inner + outer) + self.fill * float(saturation.liquid_heat_capacity)
        colder, warmer = (
            self.coil.at(float(saturation.dew_temperature) + step)[DENSITY] for step in (-0.5, 0.5)
        )
        self.stored = inside * (warmer - colder) + held / self.latent_heat
        self.pipe = _suction_pipe(design_flow, flow, saturation)
        self.line_volume = 0.25 * math.pi * self.pipe.bore**2 * TO_BULB

    def _take(self, hardware, fluid):
        """Numbers of the valve as plain floats, for speed."""
        port = hardware.port
        self.preload = float(valve.preload(hardware, fluid, check=False))
        self.diaphragm = float(hardware.element.diaphragm_area)
        self.exposed, self.rate = float(port.exposed_area), float(hardware.spring.rate)
        self.travel, self.bore = float(port.max_lift), float(port.diameter)
        self.limiting_lift = float(port.lift_for(port.bore_area))
        self.sine, self.cosine = math.sin(port.half_angle), math.cos(port.half_angle)
        self.external = bool(hardware.external_equaliser)

    def flows(self, wet, evaporating, bulb):
        """Flows and rates at one moment.

        Parameters
        ----------
        wet : float
            Share of the coil in which liquid boils. [-]
        evaporating, bulb : float
            Temperatures. [K]

        Returns
        -------
        Flows
        """
        pressure, flux, full, at_dew, thinner, heat, _ = self.coil.at(evaporating)
        gas, pumped = self.gas(wet, evaporating, at_dew, thinner, heat)
        drop = self.drop_coefficient * pumped * pumped
        below = pressure if self.external else pressure + drop
        (push,) = self.bulb.at(bulb)
        force = (
            self.diaphragm * (push - below)
            + self.exposed * (self.inlet_pressure - pressure - drop)
            - self.preload
        )
        lift = min(max(force / self.rate, 0.0), self.travel)
        slant = min(lift, self.limiting_lift) * self.sine
        fed = math.pi * slant * (self.bore - slant * self.cosine) * flux
        boiled = min(wet, 1.0) * full
        share = 1.0 - self.quality
        wet_rate = share * (fed - boiled) / self.fill
        evaporating_rate = (self.quality * fed + share * boiled - pumped) / self.stored
        return Flows(fed, pumped, lift, gas, pressure, wet_rate, evaporating_rate)

    def gas(self, wet, evaporating, at_dew, thinner, heat):
        """Temperature of the gas leaving the coil, and the flow pumped of it [K], [kg/s].

        Parameters
        ----------
        wet, evaporating : float
            As in `flows`.
        at_dew, thinner, heat : float
            From the coil's table at this temperature: flow pumped of gas at its dew point [kg/s],
            loss of density per kelvin of superheat [1/K], heat capacity [J/(kg K)].

        Returns
        -------
        tuple of float
        """
        if wet >= 1.0:
            return evaporating, at_dew
        warm = self.air_temperature - evaporating
        units = self.dry_rate * (1.0 - wet) / heat
        superheat = -warm * math.expm1(-units / at_dew)
        superheat = -warm * math.expm1(-units * (1.0 + thinner * superheat) / at_dew)
        return evaporating + superheat, at_dew / (1.0 + thinner * superheat)

    def dead_time(self, wet, flow, vapour_density):
        """Time that flow takes from the valve to the bulb, vapour and liquid together [s].

        Parameters
        ----------
        wet : float
            [-]
        flow : float
            [kg/s]
        vapour_density : float
            [kg/m3]

        Returns
        -------
        float
        """
        dry = (self.dry_volume * (1.0 - wet) + self.line_volume) * vapour_density
        return (self.transit * wet + dry) / flow


def _suction_pipe(design_flow, flow, saturation):
    """Suction line sized for one flow, and run at another."""
    area = design_flow / (float(saturation.vapour_density) * SUCTION_SPEED)
    bore = max(math.sqrt(4.0 * area / math.pi), LEAST_BORE)
    coefficient = tubes.single_phase(
        flow / (0.25 * math.pi * bore**2),
        bore,
        saturation.vapour_viscosity,
        saturation.vapour_conductivity,
        saturation.vapour_heat_capacity,
    )
    return Pipe(bore, WALLS[bore >= THICKER_FROM], float(coefficient))
