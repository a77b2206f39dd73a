"""A batch of boxes, flattened, and the equations that each must meet.

Unknowns are the logarithms of suction and condensing pressure and the enthalpy of the gas at the
compressor. Given these, everything follows in one pass: the compressor's flow, the condenser, the
liquid, the suction line read backwards to the evaporator's outlet, the valve. Three statements
remain (`Trial`):

* the coil: the evaporator, fed with that flow, ends where the suction line begins;
* the metering: the valve or the tube passes the flow;
* the account: the grams add up to the charge, or the subcooling is the one asked for.

As in ``case``, a valve enters through the bulb temperature that it needs. A receiver enters as a
choice of three, exactly: partly full and boiling liquid leaves the condenser, or full and liquid
backs up, or empty and gas comes along. The middle one of three numbers is zero.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from lowside import captube, charge, coils, valve

from ..case import LEAST_FLOW, LEAST_FLUX, SURPLUS_SCALE
from .hardware import Box
from .pipes import cooled, exchanged_heat, liquid_drop, suction_drop, throttled

ENTHALPY_SCALE = 50e3  # [J/kg] at the coil
LIQUID_SCALE = 20e3  # [J/kg] around boiling liquid leaving the condenser
CHARGE_SCALE = 0.2  # of the charge
LEAST_LEFT = 0.02  # of the pressure in front of a drier or along a line, in trials
SMALLEST_PRESSURE_STEP = 1.02  # valve inlet over evaporator, at least, in trials


@dataclass(frozen=True)
class Case:
    """A batch of boxes and conditions: scalars, or arrays of one length [SI].

    Parameters
    ----------
    box : Box
    volumes : charge.Volumes
        Of the box.
    box_temperature, ambient_temperature : ndarray
        Air entering evaporator and condenser. [K]
    charge : ndarray
        [kg]; where `by_subcooling`, not used.
    subcooling, receiver_level : ndarray
        Asked for instead of a charge. [K], [-]
    by_subcooling : bool
    foreign_gas : ndarray
        Partial pressure of gas that does not condense. [Pa]
    compressor_share : ndarray
        Share of its flow that the compressor pumps. [-]
    model : str
        Void-fraction model.
    pinned : ndarray or None
        Logarithm of a condensing pressure to hold, instead of the account.
    spring_force, largest_area : ndarray or None
        Of the valve, computed once.
    lowest, highest : ndarray, shape (3, n)
        Bounds of the unknowns.
    passed : ndarray, shape (2, n), or None
        Mass flux and end pressure of the tube in a trial near by, to begin with.
        [kg/(m2 s)], [Pa]
    """

    box: Box
    volumes: charge.Volumes
    box_temperature: np.ndarray
    ambient_temperature: np.ndarray
    charge: np.ndarray
    subcooling: np.ndarray
    receiver_level: np.ndarray
    by_subcooling: bool
    foreign_gas: np.ndarray
    compressor_share: np.ndarray
    model: str
    pinned: np.ndarray | None
    spring_force: np.ndarray | None
    largest_area: np.ndarray | None
    lowest: np.ndarray
    highest: np.ndarray
    passed: np.ndarray | None = None


@dataclass(frozen=True)
class Trial:
    """All that follows from trial values of the unknowns.

    Parameters
    ----------
    suction : State
        At the compressor.
    mass_flow : ndarray
        [kg/s]
    compression : CompressorResult
    condensing_pressure, head_pressure : ndarray
        Of the refrigerant entering the condenser, and with foreign gas on top. [Pa]
    condensed : CondenserOutlet
    liquid : State
        Leaving the condenser and the receiver.
    behind_drier, line : State
        The same behind the drier, and after the liquid line has lost some heat.
    strainer_pressure : ndarray
        In front of the strainer. [Pa]
    exchanged : ndarray
        Heat from the liquid line to the suction gas. [J/kg]
    inlet : valve.Inlet
        Arriving at valve or tube.
    evaporator_inlet_pressure : ndarray
        [Pa]
    outlet : State
        Leaving the evaporator, read back from the suction.
    saturation : Saturation
        At the evaporator outlet.
    evaporated : ndarray
        Enthalpy that the evaporator reaches. [J/kg]
    wet_share : ndarray
        Of the evaporator. [-]
    lift, warmth : ndarray or None
        Of a valve; its bulb above the temperature that holds the lift. [m], [K]
    flow_reserve : ndarray
        Logarithm of what the open metering passes over the flow. [-]
    feeding : ndarray
        Surplus of the metering. [-]
    passed : ndarray, shape (2, n), or None
        Mass flux and end pressure of a tube. [kg/(m2 s)], [Pa]
    """

    suction: object
    mass_flow: np.ndarray
    compression: object
    condensing_pressure: np.ndarray
    head_pressure: np.ndarray
    condensed: coils.CondenserOutlet
    liquid: object
    behind_drier: object
    line: object
    strainer_pressure: np.ndarray
    exchanged: np.ndarray
    inlet: valve.Inlet
    evaporator_inlet_pressure: np.ndarray
    outlet: object
    saturation: object
    evaporated: np.ndarray
    wet_share: np.ndarray
    lift: np.ndarray | None
    warmth: np.ndarray | None
    flow_reserve: np.ndarray
    feeding: np.ndarray
    passed: np.ndarray | None

    @property
    def coil(self):
        """Enthalpy that the evaporator reaches over the one that the suction asks for [-]."""
        return (self.evaporated - self.outlet.enthalpy) / ENTHALPY_SCALE


def statements(case, unknowns, dry_bulb):
    """Evaluate what should vanish, how far the evaporator's outlet is from dew, and the tube.

    Parameters
    ----------
    case : Case
    unknowns : ndarray, shape (3, n)
        As for `attempt`.
    dry_bulb : bool
        Where liquid leaves although the bulb is too cold, let the bulb go on cooling as if vapour
        did. Then a search sees the way back; the roots with vapour leaving stay where they are.

    Returns
    -------
    values : ndarray, shape (4, n)
        Coil, metering, account, and enthalpy above dew over `ENTHALPY_SCALE`.
    passed : ndarray, shape (2, n), or None
        As for `Case`.
    """
    trial = attempt(case, unknowns)
    if case.pinned is None:
        _, _, surplus = account(case, trial)
    else:
        surplus = case.pinned - unknowns[1]
    above = trial.outlet.enthalpy - trial.saturation.vapour_enthalpy
    feeding = trial.feeding
    if dry_bulb and case.box.has_valve:
        warmth = trial.warmth / SURPLUS_SCALE
        further = np.minimum(above, 0.0) / trial.saturation.vapour_heat_capacity / SURPLUS_SCALE
        dry = np.minimum(warmth + further, trial.flow_reserve)
        feeding = np.where(warmth < 0.0, dry, feeding)
    return np.stack([trial.coil, feeding, surplus, above / ENTHALPY_SCALE]), trial.passed


def attempt(case, unknowns):
    """Follow the refrigerant once around a trial.

    Parameters
    ----------
    case : Case
    unknowns : ndarray, shape (3, n)
        Logarithms of suction and condensing pressure, suction enthalpy over `ENTHALPY_SCALE`.

    Returns
    -------
    Trial
    """
    box, fluid = case.box, case.box.refrigerant
    suction_pressure, condensing_pressure = np.exp(unknowns[0]), np.exp(unknowns[1])
    head_pressure = condensing_pressure + case.foreign_gas
    suction = fluid.state_ph(suction_pressure, unknowns[2] * ENTHALPY_SCALE, check=False)
    run = box.compressor.run(fluid, suction_pressure, suction.enthalpy, head_pressure, check=False)
    flow = np.maximum(case.compressor_share * run.mass_flow, LEAST_FLOW)

    entering = fluid.saturation(condensing_pressure, check=False)
    condensed = coils.condense(
        box.condenser.condenser(fluid, flow, entering),
        fluid,
        flow,
        run.discharge_enthalpy,
        condensing_pressure,
        case.ambient_temperature,
        # Foreign gas leaves the enthalpy, not quite the temperature, of the refrigerant as it was.
        inlet_temperature=None if np.any(case.foreign_gas) else run.discharge_temperature,
        saturation=entering,
        check=False,
    )
    liquid = fluid.state_ph(condensed.pressure, condensed.enthalpy, check=False)
    behind_drier, in_liquid = _through_drier(box, flow, liquid, entering)
    line = cooled(box, flow, behind_drier, in_liquid, case.ambient_temperature)

    in_line = fluid.saturation(suction_pressure, check=False)
    pressure = suction_pressure + suction_drop(box, flow, suction, in_line)
    saturation = fluid.saturation(pressure, check=False)
    before_line = coils.before_line(
        box.suction_gain,
        flow,
        in_line,
        suction.enthalpy,
        suction.temperature,
        case.ambient_temperature,
    )
    exchanged = exchanged_heat(box, saturation, line, before_line)
    outlet = fluid.state_ph(pressure, before_line - exchanged, check=False)

    strainer_pressure = line.pressure - liquid_drop(box, flow, line, in_liquid)
    arriving_pressure = np.maximum(
        strainer_pressure - _in_strainer(box, flow, line, strainer_pressure),
        SMALLEST_PRESSURE_STEP * pressure,
    )
    inlet = valve.inlet(fluid, arriving_pressure, line.enthalpy - exchanged, check=False)
    coil = box.evaporator.evaporator(fluid, flow, inlet.enthalpy, saturation, case.box_temperature)
    evaporated, wet_share = coils.outlet_enthalpy(
        coil, fluid, flow, inlet.enthalpy, pressure, case.box_temperature, saturation
    )
    behind = pressure + coil.pressure_drop(flow)
    lift, warmth, reserve, feeding, passed = _metered(case, flow, inlet, behind, outlet)
    return Trial(
        suction=suction,
        mass_flow=flow,
        compression=run,
        condensing_pressure=condensing_pressure,
        head_pressure=head_pressure,
        condensed=condensed,
        liquid=liquid,
        behind_drier=behind_drier,
        line=line,
        strainer_pressure=strainer_pressure,
        exchanged=exchanged,
        inlet=inlet,
        evaporator_inlet_pressure=behind,
        outlet=outlet,
        saturation=saturation,
        evaporated=evaporated,
        wet_share=wet_share,
        lift=lift,
        warmth=warmth,
        flow_reserve=reserve,
        feeding=feeding,
        passed=passed,
    )


def account(case, trial):
    """Put down the grams of a trial, the receiver as full as the charge makes it.

    Parameters
    ----------
    case : Case
    trial : Trial

    Returns
    -------
    inventory : charge.Inventory
        [kg]
    level : ndarray
        Of the receiver. [-]
    surplus : ndarray
        What should vanish: positive where the high side has to hold more. [-]
    """
    box = case.box
    state = charge.Running(
        mass_flow=trial.mass_flow,
        condensing_pressure=_high(trial),
        evaporating_pressure=0.5 * (trial.evaporator_inlet_pressure + trial.outlet.pressure),
        discharge_enthalpy=trial.compression.discharge_enthalpy,
        condenser_outlet_enthalpy=trial.condensed.enthalpy,
        condenser_vapour_share=trial.condensed.vapour_share,
        condenser_liquid_share=trial.condensed.liquid_share,
        liquid_line_enthalpy=trial.line.enthalpy,
        liquid_line_pressure=_in_line(box, trial),
        evaporator_inlet_enthalpy=trial.inlet.enthalpy,
        evaporator_outlet_enthalpy=trial.evaporated,
        evaporator_vapour_share=1.0 - trial.wet_share,
        suction_enthalpy=trial.suction.enthalpy,
        shell_temperature=shell_temperature(case, trial),
        oil_temperature=shell_temperature(case, trial),
        receiver_level=0.0,
    )
    inventory = charge.running(case.volumes, box.refrigerant, state, case.model)
    room = _receiver_room(case, trial)
    if case.by_subcooling:
        cold = trial.condensed.bubble_temperature - case.subcooling
        wanted = box.refrigerant.liquid_enthalpy(trial.condensed.pressure, cold, check=False)
        level = np.where(room > 0.0, case.receiver_level, 0.0)
        surplus = (trial.condensed.enthalpy - wanted) / LIQUID_SCALE
        return _filled(inventory, level * room), level, surplus
    missing = case.charge - inventory.total
    scale = CHARGE_SCALE * case.charge
    first, second = missing / scale, (missing - room) / scale
    # The middle of three: empty, full, or partly full with boiling liquid entering.
    gas = (trial.condensed.enthalpy - trial.condensed.bubble_enthalpy) / LIQUID_SCALE
    surplus = np.maximum(np.minimum(first, gas), second)
    level = np.clip(missing / np.maximum(room, 1e-12), 0.0, np.where(room > 0.0, 1.0, 0.0))
    return _filled(inventory, level * room), level, surplus


def shell_temperature(case, trial):
    """Temperature of shell gas and oil [K].

    Parameters
    ----------
    case : Case
    trial : Trial

    Returns
    -------
    ndarray
    """
    around = case.ambient_temperature
    return around + case.box.shell_warmth * (trial.compression.discharge_temperature - around)


def _high(trial):
    """Mean pressure of the high side [Pa]."""
    return 0.5 * (trial.condensing_pressure + trial.condensed.pressure)


def _receiver_room(case, trial):
    """Mass by which a full receiver exceeds an empty one [kg]."""
    volume = np.asarray(case.box.receiver)
    if not np.any(volume):
        return np.zeros_like(trial.mass_flow)
    inside = case.box.refrigerant.saturation(_high(trial), check=False)
    return volume * (inside.liquid_density - inside.vapour_density)


def _filled(inventory, extra):
    return replace(inventory, receiver=inventory.receiver + extra)


def _through_drier(box, flow, liquid, entering):
    """State behind the drier, and saturation there for the properties of both phases."""
    if not np.any(box.drier_restriction):
        return liquid, entering
    fluid = box.refrigerant
    lost = throttled(box.drier_restriction, flow, liquid)
    pressure = np.maximum(liquid.pressure - lost, LEAST_LEFT * liquid.pressure)
    behind = fluid.state_ph(pressure, liquid.enthalpy, check=False)
    # Boxes of the batch whose drier is free must not notice the others.
    there = np.where(box.drier_restriction > 0.0, pressure, entering.pressure)
    return behind, fluid.saturation(there, check=False)


def _in_line(box, trial):
    """Pressure in the liquid line, None where no drier throttles."""
    if not np.any(box.drier_restriction):
        return None
    return np.where(box.drier_restriction > 0.0, trial.line.pressure, _high(trial))


def _in_strainer(box, flow, line, pressure):
    """Pressure lost in the strainer, which may see gas already from lift or friction [Pa]."""
    if not np.any(box.restriction):
        return 0.0
    pressure = np.maximum(pressure, LEAST_LEFT * line.pressure)
    arriving = box.refrigerant.state_ph(pressure, line.enthalpy, check=False)
    return throttled(box.restriction, flow, arriving)


def _metered(case, flow, inlet, behind, outlet):
    """Lift, warmth of the bulb, reserve and surplus of the metering; what a tube passed."""
    fluid, metering = case.box.refrigerant, case.box.metering
    if isinstance(metering, captube.CapTube):
        passing = captube.flow(
            metering,
            fluid,
            inlet.pressure,
            inlet.enthalpy,
            behind,
            check=False,
            start=case.passed,
        )
        reserve = np.log(np.maximum(passing.mass_flow, LEAST_FLOW) / flow)
        passed = np.stack([passing.mass_flux, passing.exit_pressure])
        return None, None, reserve, reserve, passed
    flux = valve.valve_flux(metering, fluid, inlet, behind)
    needed = flow / np.maximum(flux, LEAST_FLUX)
    reserve = np.log(case.largest_area / needed)
    lift = metering.port.lift_for(np.minimum(needed, case.largest_area))
    lift = lift + metering.port.max_lift * np.maximum(-reserve, 0.0)
    bulb = valve.bulb_temperature(
        metering, case.spring_force, lift, outlet.pressure, behind, inlet.pressure, check=False
    )
    sensed = metering.sensed_temperature(outlet.temperature, case.box_temperature)
    warmth = sensed - bulb
    return lift, warmth, reserve, np.minimum(warmth / SURPLUS_SCALE, reserve), None
