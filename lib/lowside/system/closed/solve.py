"""The whole box solved: conditions in, operating points with their status out."""

from __future__ import annotations

from dataclasses import fields

import numpy as np

from lowside import charge as grams
from lowside import valve
from lowside.errors import LowsideError, OutOfRange, require

from ..case import each, shapes
from .equations import ENTHALPY_SCALE, Case, account, attempt
from .newton import TOLERANCE, Search, chosen, newton
from .result import BoxResult, BoxStatus
from .search import discharge_quality, never_opens, pulled_down, search

CHUNK = 1000  # boxes solved together: more do not fit the processor's caches
FLASH_NOTICED = 1e-3  # mass share of vapour from which bubbles count
ON_THE_STOP = 1e-6  # flow reserve below which a valve counts as wide open
THINNEST_HEAD = (
    0.1  # of the saturation pressure at ambient: so little charge that nothing condenses
)
LEAST_WARMTH = 0.2  # [K] box air above the coldest dew of the table


def solve_box(
    box,
    box_temperature,
    ambient_temperature,
    charge=None,
    *,
    subcooling=None,
    receiver_level=0.3,
    foreign_gas=0.0,
    compressor_share=1.0,
    model=grams.DEFAULT,
    start=None,
):
    """Operating points of whole boxes, closed on their charge; nothing is raised inside the batch.

    Parameters
    ----------
    box : Box
        Hardware; any number in it may be an array.
    box_temperature, ambient_temperature : float or ndarray
        Air entering evaporator and condenser. [K]
    charge : float or ndarray, optional
        In the whole box. [kg]
    subcooling : float or ndarray, optional
        Leaving the condenser; instead of a charge, which is then answered. [K]
    receiver_level : float or ndarray
        With `subcooling`: how full a receiver is. [-]
    foreign_gas : float or ndarray
        Partial pressure of air or nitrogen caught in the condenser. [Pa]
    compressor_share : float or ndarray
        Share of its flow that the compressor pumps: capacity control, or a leaking valve plate. [-]
    model : str
        Void-fraction model, a key of ``charge.void.MODELS``.
    start : BoxResult, optional
        Of a box like it, to begin from; saves half of the time.

    Returns
    -------
    BoxResult
        Each point with its `BoxStatus`.

    Raises
    ------
    OutOfRange
        For a charge not above zero or more than the box holds when full of liquid, air outside the
        refrigerant's range, a negative subcooling or gas pressure, a share outside 0 to 1.
    LowsideError
        If charge and subcooling are both given, or neither.
    UnknownName
        For a void-fraction model that is not here.
    """
    if (charge is None) == (subcooling is None):
        raise LowsideError(
            "A box is solved for its charge or for its subcooling: give one of them."
        )
    grams.void.model_named(model)
    conditions = [
        np.asarray(value, dtype=float)
        for value in (
            box_temperature,
            ambient_temperature,
            0.0 if charge is None else charge,
            0.0 if subcooling is None else subcooling,
            receiver_level,
            foreign_gas,
            compressor_share,
        )
    ]
    _refuse_nonsense(box, *conditions, by_subcooling=charge is None)
    shape = np.broadcast_shapes(*shapes(box), *(value.shape for value in conditions))
    count = int(np.prod(shape))

    def flat(array):
        return np.broadcast_to(array, shape).ravel()

    case = _prepare(each(box, flat), *map(flat, conditions), charge is None, model)
    begin = None if start is None else _unknowns(start, flat)
    parts = []
    for first in range(0, max(count, 1), CHUNK):
        index = slice(first, first + CHUNK)
        part = chosen(case, index)
        found = search(part, None if begin is None else begin[:, index])
        parts.append(_describe(part, found))
    return _joined(parts, shape)


def _refuse_nonsense(
    box,
    box_temperature,
    ambient_temperature,
    charge,
    subcooling,
    receiver_level,
    foreign_gas,
    compressor_share,
    by_subcooling,
):
    fluid = box.refrigerant
    coldest, warmest = fluid.temperature_range
    require(
        f"air in the box with {fluid.name}",
        box_temperature,
        coldest + LEAST_WARMTH,
        warmest,
        "temperature",
    )
    require(
        f"air entering the condenser with {fluid.name}",
        ambient_temperature,
        coldest,
        warmest - LEAST_WARMTH,
        "temperature",
    )
    require("subcooling", subcooling, 0.0, None, "temperature_difference")
    require("level in the receiver", receiver_level, 0.0, 1.0, "ratio")
    require("pressure of gas that does not condense", foreign_gas, 0.0, None, "pressure_difference")
    require("share of the compressor's flow", compressor_share, 0.0, 1.0, "ratio", open_low=True)
    if by_subcooling:
        return
    require("charge", charge, 0.0, None, "mass", open_low=True)
    liquid = fluid.saturation(fluid.bubble_pressure(ambient_temperature, check=False), check=False)
    charge, room = np.broadcast_arrays(charge, box.volume * liquid.liquid_density)
    over = charge > room
    if over.any():
        raise OutOfRange(
            "charge (more than the box holds when full of liquid)",
            charge[over][0],
            0.0,
            room[over][0],
            "mass",
        )


def _prepare(
    box,
    box_temperature,
    ambient_temperature,
    charge,
    subcooling,
    receiver_level,
    foreign_gas,
    compressor_share,
    by_subcooling,
    model,
):
    """Everything that does not change during the search."""
    fluid = box.refrigerant
    count = box_temperature.size
    low, high = fluid.pressure_range
    ends = fluid.saturation(np.array([low, high]))
    warmest = fluid.vapour_enthalpy(low, fluid.dew_temperature(high), check=False)
    everywhere = np.ones(count)
    lowest = np.stack(
        [
            np.log(low) * everywhere,
            np.log(np.maximum(THINNEST_HEAD * fluid.dew_pressure(ambient_temperature), low)),
            ends.liquid_enthalpy[0] / ENTHALPY_SCALE * everywhere,
        ]
    )
    highest = np.stack(
        [
            np.log(fluid.bubble_pressure(box_temperature, check=False)),
            np.log(high) * everywhere,
            warmest / ENTHALPY_SCALE * everywhere,
        ]
    )
    return Case(
        box=box,
        volumes=box.volumes,
        box_temperature=box_temperature,
        ambient_temperature=ambient_temperature,
        charge=charge,
        subcooling=subcooling,
        receiver_level=receiver_level,
        by_subcooling=by_subcooling,
        foreign_gas=foreign_gas,
        compressor_share=compressor_share,
        model=model,
        pinned=None,
        spring_force=valve.preload(box.metering, fluid, check=False) if box.has_valve else None,
        largest_area=box.metering.port.largest_area if box.has_valve else None,
        lowest=lowest,
        highest=highest,
    )


def _unknowns(start, flat):
    return np.stack(
        [
            np.log(flat(start.suction_pressure)),
            np.log(flat(start.condensing_pressure)),
            flat(start.suction_enthalpy) / ENTHALPY_SCALE,
        ]
    )


def _status(case, found, trial):
    """Answer or limit, the most serious last."""
    box = case.box
    status = np.full(found.converged.shape, int(BoxStatus.SOLVED))
    on_the_stop = np.zeros(status.shape, dtype=bool)
    if box.has_valve:
        on_the_stop = trial.flow_reserve < ON_THE_STOP
    wet = trial.suction.quality < 1.0 - 1e-9
    status[on_the_stop] = BoxStatus.WIDE_OPEN
    status[trial.inlet.quality > FLASH_NOTICED] = BoxStatus.FLASH_GAS
    status[wet] = BoxStatus.LIQUID_AT_COMPRESSOR
    status[~found.converged] = BoxStatus.NOT_CONVERGED
    status[found.drowned] = BoxStatus.DROWNED
    status[pulled_down(case, found) | found.short] = BoxStatus.LOW_PRESSURE
    status[~found.converged & never_opens(case)] = BoxStatus.VALVE_SHUT
    at_the_top = found.at[1] >= case.highest[1] - 1e-6
    status[found.beyond] = BoxStatus.STALLED
    status[found.beyond & at_the_top] = BoxStatus.ABOVE_CRITICAL
    if box.low_cut_out is not None:
        status[found.converged & (trial.suction.pressure < box.low_cut_out)] = (
            BoxStatus.LOW_PRESSURE
        )
    if box.high_cut_out is not None:
        tripped = (found.converged | found.beyond) & (trial.head_pressure > box.high_cut_out)
        status[tripped] = BoxStatus.HIGH_PRESSURE
    return status


def _describe(case, found: Search):
    """Every number that a learner may ask for, at the points found."""
    box, fluid = case.box, case.box.refrigerant
    trial = attempt(case, found.at)
    inventory, level, surplus = account(case, trial)
    residual = np.abs([trial.coil, trial.feeding, surplus]).max(axis=0)
    doubtful = np.flatnonzero(found.converged & (residual > 1.01 * TOLERANCE))
    if doubtful.size:
        part = chosen(case, doubtful)
        again = newton(part, found.at[:, doubtful], dry_bulb=False, last_step=False)
        return _describe(case, found.replaced(doubtful, again))
    status = _status(case, found, trial)
    flow, outlet = trial.mass_flow, trial.outlet
    capacity = flow * (outlet.enthalpy - trial.inlet.enthalpy)
    power = flow / np.maximum(trial.compression.mass_flow, 1e-300) * trial.compression.power
    condenser_heat = flow * (trial.compression.discharge_enthalpy - trial.condensed.enthalpy)
    amperes = power / (box.voltage * box.power_factor * np.sqrt(box.phases))
    ahead = fluid.state_ph(trial.strainer_pressure, trial.inlet.enthalpy, check=False)
    unknown = np.full(flow.shape, np.nan)
    lift_share = static = unknown
    if box.has_valve:
        travel = box.metering.port.max_lift
        lift_share = np.minimum(trial.lift, travel) / travel
        at_seat = valve.bulb_temperature(
            box.metering,
            case.spring_force,
            0.0,
            outlet.pressure,
            trial.evaporator_inlet_pressure,
            trial.inlet.pressure,
            check=False,
        )
        static = at_seat - trial.saturation.dew_temperature
    return BoxResult(
        status=status,
        residual=residual,
        mass_flow=flow,
        capacity=capacity,
        power=power,
        current=amperes,
        suction_pressure=trial.suction.pressure,
        suction_enthalpy=trial.suction.enthalpy,
        suction_temperature=trial.suction.temperature,
        suction_quality=np.clip(trial.suction.quality, 0.0, 1.0),
        evaporating_pressure=outlet.pressure,
        evaporating_temperature=trial.saturation.dew_temperature,
        evaporator_inlet_pressure=trial.evaporator_inlet_pressure,
        outlet_temperature=outlet.temperature,
        superheat=fluid.superheat(outlet.pressure, outlet.temperature, check=False),
        outlet_quality=np.clip(outlet.quality, 0.0, 1.0),
        wet_share=trial.wet_share,
        head_pressure=trial.head_pressure,
        condensing_pressure=trial.condensing_pressure,
        condensing_temperature=fluid.dew_temperature(trial.condensing_pressure, check=False),
        discharge_temperature=trial.compression.discharge_temperature,
        discharge_quality=np.clip(discharge_quality(case, trial), 0.0, 1.0),
        liquid_temperature=trial.liquid.temperature,
        subcooling=np.maximum(
            fluid.subcooling(trial.liquid.pressure, trial.liquid.temperature, check=False), 0.0
        ),
        vapour_share=trial.condensed.vapour_share,
        liquid_share=trial.condensed.liquid_share,
        inlet_temperature=trial.inlet.temperature,
        inlet_pressure=trial.inlet.pressure,
        inlet_quality=trial.inlet.quality,
        drier_drop=trial.liquid.temperature - trial.behind_drier.temperature,
        strainer_drop=ahead.temperature - trial.inlet.temperature,
        lift_share=lift_share,
        static_superheat=static,
        box_temperature=case.box_temperature,
        box_air_out=case.box_temperature - capacity / box.evaporator.air_capacity_rate,
        ambient_temperature=case.ambient_temperature,
        condenser_air_out=case.ambient_temperature
        + condenser_heat / box.condenser.air_capacity_rate,
        condenser_heat=condenser_heat,
        shell_heat=power - flow * (trial.compression.discharge_enthalpy - trial.suction.enthalpy),
        suction_heat=flow * (trial.suction.enthalpy - outlet.enthalpy - trial.exchanged),
        liquid_heat=flow * (trial.liquid.enthalpy - trial.line.enthalpy),
        charge=inventory.total if case.by_subcooling else case.charge,
        receiver_level=level,
        inventory=inventory,
    )


def _joined(parts, shape):
    """One result from the chunks, in the shape of what went in."""

    def together(values):
        whole = [np.broadcast_to(value, parts[k].status.shape) for k, value in enumerate(values)]
        return np.concatenate(whole).reshape(shape)[()]

    numbers = {
        field.name: together([getattr(part, field.name) for part in parts])
        for field in fields(BoxResult)
        if field.name != "inventory"
    }
    inventories = [part.inventory.parts() for part in parts]
    masses = {name: together([parts_[name] for parts_ in inventories]) for name in inventories[0]}
    return BoxResult(**numbers, inventory=grams.Inventory(**masses))
