"""A whole box from what its nameplate and its owner say: coils, lines, metering and grams sized.

Nobody at a strange box knows the length of its tubes. `size_box` takes six things that can be read
or asked for and builds a circuit of usual proportions that does what they say: the capacity at the
design temperatures, with a valve or tube that fits. What a diagnosis owes to these proportions is
part of its stated uncertainty.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from lowside import captube, charge, coils, refrigerants, units, valve
from lowside.compressor import Compressor
from lowside.errors import NoOperatingPoint, UnknownName, require

from .cabinets import Cabinet
from .case import each
from .closed import Box, solve_box
from .ports import KIT

METERINGS = ("valve", "capillary tube")
CAPACITY = 0.05 * units.TON, 10.0 * units.TON  # [W] the quarter ton to five tons, and some room
BOX_AIR = 240.0, 290.0  # [K]
AMBIENT = 283.15, 323.15  # [K]

# Usual proportions of small refrigeration: assumed, no published source.
FREEZER_BELOW = 268.15  # [K]
EVAPORATOR_DIFFERENCE = {"cooler": 9.0, "freezer": 8.0}  # [K]
CONDENSER_DIFFERENCE = 13.0  # [K]
SUBCOOLING = 4.0  # [K]
STATIC_SUPERHEAT = {"cooler": 4.0, "freezer": 3.0}  # [K]
OPENING_SUPERHEAT = 2.5  # [K] on top, for a valve as far open as the design load may open it
AIR_SHARE = 0.5  # of the temperature difference that the air loses in a coil
FLUX = {"evaporator": 80.0, "condenser": 150.0}  # [kg/(m2 s)] where gas weighs as below
GAS_DENSITY = {"evaporator": 9.0, "condenser": 35.0}  # [kg/m3] lighter gas wants more circuits
HEAT_FLUX = {"evaporator": 3000.0, "condenser": 4500.0}  # [W/m2] of inner wall
BORE = {"evaporator": (6.9e-3, 9.0e-3), "condenser": (4.9e-3, 7.5e-3)}  # [m] small box, large box
LARGE = 3000.0  # [W] from which a box is built with the larger tubes and on three phases
LIQUID_SPEED, GAS_SPEED, HOT_GAS_SPEED = 0.5, 8.0, 10.0  # [m/s]
LINE = 2.5, 10.0  # [m] self-contained, remote
EQUALISED_FROM = 700.0  # [W] from which the coil has a distributor
SHELL_PER_WATT, OIL_PER_WATT = 1.8e-6, 0.35e-3  # [m3/W], [kg/W] of cooling
DRIER_PER_WATT = 20e-9  # [m3/W]
RECEIVER_PER_WATT = 0.8e-6  # [m3/W]
RECEIVER_LEVEL = 0.3
TUBE_LENGTH = 2.5  # [m]
OPENING = 0.7  # of the port that the design load may use
GAIN = 8.0  # [W/(m2 K)] of a bare or thinly insulated line
EXCHANGE = 0.4  # where a capillary tube is soldered to the suction line

_STEPS = 40
_FIRST_BORE = 1e-3  # [m]
_NUDGE = 1e-4
_LONGEST, _SHORTEST = 0.3, 1e-3  # of the logarithms in one step
_WORSE = 1.05
_REFITTINGS = 4
_FARTHEST = 1.6  # of the logarithms, from usual proportions
_CLOSE = 1e-4


@dataclass(frozen=True)
class Description:
    """What is known of a strange box.

    Parameters
    ----------
    refrigerant : str
        Any name that ``refrigerants.get`` finds.
    metering : {"valve", "capillary tube"}
    receiver : bool
        Only with a valve.
    box_temperature : float
        That it is meant to hold. [K]
    capacity : float
        Cooling at the design point. [W]
    charge : float, optional
        On its nameplate. [kg]
    ambient_temperature : float
        Air entering the condenser at the design point. [K]

    Raises
    ------
    UnknownName
        For a refrigerant or a metering that is not here.
    OutOfRange
        For temperatures, a capacity or a charge that no such box has.
    NoOperatingPoint
        For a capillary tube with a receiver, which would be empty or full.
    """

    refrigerant: str
    metering: str
    receiver: bool
    box_temperature: float
    capacity: float
    charge: float | None = None
    ambient_temperature: float = 305.15

    def __post_init__(self):
        refrigerants.get(self.refrigerant)
        if self.metering not in METERINGS:
            raise UnknownName("metering device", self.metering, METERINGS)
        if self.receiver and self.metering != "valve":
            raise NoOperatingPoint(
                "a capillary tube cannot hold back liquid: a box with one has no receiver"
            )
        require("temperature that the box should hold", self.box_temperature, *BOX_AIR)
        require("capacity", self.capacity, *CAPACITY, "capacity")
        require("design ambient", self.ambient_temperature, *AMBIENT, "temperature")
        if self.charge is not None:
            require("charge", self.charge, 0.0, 50.0, "charge", open_low=True)

    @property
    def kind(self):
        """Cooler or freezer (str)."""
        return "freezer" if self.box_temperature < FREEZER_BELOW else "cooler"

    @property
    def evaporating_temperature(self):
        """Dew point at the design point [K]."""
        return self.box_temperature - EVAPORATOR_DIFFERENCE[self.kind]

    @property
    def condensing_temperature(self):
        """Dew point at the design point [K]."""
        return self.ambient_temperature + CONDENSER_DIFFERENCE


def size_box(description):
    """Build a box of usual proportions that does what a description says.

    Swept volume, both air sides and the parts that hold the grams are scaled by Newton's method
    until everything fits. A capillary tube takes the place of the valve that did.

    Parameters
    ----------
    description : Description

    Returns
    -------
    cabinets.Cabinet
        Key ``"described"``, with the nameplate's charge or, where that is not known, the charge
        that gives usual subcooling (with a receiver: that fills a third of it).

    Raises
    ------
    NoOperatingPoint
        If no box of usual proportions does this, or none holds these grams.
    """
    first = _first(description)
    unknowns = 3 + (description.charge is not None)
    trials = np.vstack([np.zeros(unknowns), _NUDGE * np.eye(unknowns)])
    point, least = None, np.inf
    scales, step = np.zeros(unknowns), np.zeros(unknowns)
    for count in range(_STEPS):
        point = _run(description, _scaled(description, first, scales + trials), point)
        off = _distances(description, point)
        far = np.linalg.norm(off[0])
        if np.abs(off[0]).max() < _CLOSE:
            break
        if far > _WORSE * least and np.abs(step).max() > _SHORTEST:
            step = 0.4 * step
            scales = scales - 1.5 * step
            continue
        least = far
        slopes = (off[1:] - off[0]).T / _NUDGE
        step = np.linalg.lstsq(slopes, -off[0])[0]
        step = step * min(1.0, _LONGEST / np.abs(step).max())
        scales = np.clip(scales + step, -_FARTHEST, _FARTHEST)
        if count < _REFITTINGS:
            first, least = replace(first, metering=_refitted(first, point.at(0))), np.inf
    if np.abs(off[0]).max() >= _CLOSE:
        raise NoOperatingPoint(
            "no box of usual proportions has this capacity, these temperatures and this charge: "
            "check them, or leave the charge blank",
            capacity=float(point.capacity[0]),
            charge=float(point.charge[0]),
        )
    box = each(_scaled(description, first, scales[None]), lambda array: float(array[0]))
    tube = description.metering != "valve"
    receiver = " and receiver" if description.receiver else ""
    feed = description.metering if tube else "thermostatic valve"
    return Cabinet(
        key="described",
        what=f"{description.kind} with {feed}{receiver}, sized from its description",
        charge=float(point.charge[0]) if description.charge is None else description.charge,
        box_temperature=description.box_temperature,
        ambient_temperature=description.ambient_temperature,
        box=replace(box, metering=_tube_instead(box, point.at(0))) if tube else box,
    )


def _run(description, box, start):
    return solve_box(
        box,
        description.box_temperature,
        description.ambient_temperature,
        subcooling=0.0 if description.receiver else SUBCOOLING,
        receiver_level=RECEIVER_LEVEL,
        start=start,
    )


def _scaled(description, box, scales):
    """Scale the parts of a box by logarithms, one row of them a box."""
    by = np.exp(scales.T)
    changed = replace(
        box,
        compressor=replace(
            box.compressor, swept_volume_flow=box.compressor.swept_volume_flow * by[0]
        ),
        evaporator=replace(box.evaporator, air_conductance=box.evaporator.air_conductance * by[1]),
        condenser=replace(box.condenser, air_conductance=box.condenser.air_conductance * by[2]),
    )
    if description.charge is None:
        return changed
    if description.receiver:
        return replace(changed, receiver=box.receiver * by[-1])
    tube, line = changed.condenser, box.liquid_line
    return replace(
        changed,
        condenser=replace(tube, length=tube.length * by[-1]),
        liquid_line=replace(line, length=line.length * by[-1]),
    )


def _distances(description, point):
    """How far trials are from their description, in logarithms; one row a trial."""
    wanted = description.box_temperature - description.evaporating_temperature
    lift = description.condensing_temperature - description.ambient_temperature
    off = [
        np.log(point.capacity / description.capacity),
        (description.evaporating_temperature - point.evaporating_temperature) / wanted,
        (point.condensing_temperature - description.condensing_temperature) / lift,
    ]
    if description.charge is not None:
        off.append(np.log(point.charge / description.charge))
    return np.stack(off, axis=-1)


def _first(description):
    """Draw up a box from the design cycle, before anything is solved."""
    fluid = refrigerants.get(description.refrigerant)
    load, large = description.capacity, float(description.capacity > LARGE)
    low, high = (
        float(fluid.dew_pressure(t))
        for t in (description.evaporating_temperature, description.condensing_temperature)
    )
    superheat = STATIC_SUPERHEAT[description.kind] + 2.0
    suction = fluid.state_pt(low, description.evaporating_temperature + superheat)
    liquid_temperature = float(fluid.bubble_temperature(high)) - SUBCOOLING
    arriving = valve.inlet(fluid, high, fluid.liquid_enthalpy(high, liquid_temperature))
    liquid = fluid.saturation(high)
    flow = float(load / (suction.enthalpy - arriving.enthalpy))
    template = Compressor(1.0)
    filled = template.volumetric_efficiency(high / low)
    liquid_bore = _bore(flow, liquid.liquid_density, LIQUID_SPEED)
    gas_bore = _bore(flow, suction.density, GAS_SPEED)
    line = LINE[int(large)]
    rejected = 1.35 * load
    return Box(
        refrigerant=fluid,
        compressor=replace(template, swept_volume_flow=float(flow / filled / suction.density)),
        condenser=_coil(
            "condenser", rejected, flow, liquid.vapour_density, large, CONDENSER_DIFFERENCE
        ),
        evaporator=_coil(
            "evaporator",
            load,
            flow,
            suction.density,
            large,
            description.box_temperature - description.evaporating_temperature,
        ),
        metering=_metering(description, fluid, flow, arriving, low, high),
        liquid_line=charge.Tube(liquid_bore, line),
        suction_line=charge.Tube(gas_bore, line),
        discharge_line=charge.Tube(_bore(flow, liquid.vapour_density, HOT_GAS_SPEED), 1.0),
        oil=charge.Oil(OIL_PER_WATT * load),
        drier=DRIER_PER_WATT * load,
        shell=SHELL_PER_WATT * load,
        receiver=RECEIVER_PER_WATT * load if description.receiver else 0.0,
        exchange=0.0 if description.metering == "valve" else EXCHANGE,
        suction_gain=GAIN * np.pi * gas_bore * line,
        liquid_loss=GAIN * np.pi * liquid_bore * line,
        phases=3 if large else 1,
        voltage=400.0 if large else 230.0,
    )


def _coil(name, heat, flow, gas_density, large, difference):
    small_bore, large_bore = BORE[name]
    bore = large_bore if large else small_bore
    flux = FLUX[name] * gas_density / GAS_DENSITY[name]
    circuits = max(np.ceil(flow / (flux * 0.25 * np.pi * bore**2)), 1)
    air = heat / (AIR_SHARE * difference)
    return coils.FinCoil(
        inner_diameter=bore,
        length=heat / HEAT_FLUX[name] / (np.pi * bore * circuits),
        circuits=circuits,
        air_conductance=-1.3 * np.log(1.0 - AIR_SHARE) * air,
        air_flow=air / coils.geometry.AIR_HEAT_CAPACITY,
    )


def _bore(flow, density, speed):
    return float(np.sqrt(4.0 * flow / (np.pi * speed * density)))


def _metering(description, fluid, flow, arriving, low, high):
    element = valve.PowerElement("liquid", fluid)
    flux = valve.mass_flux(fluid, arriving, low, "wile")
    port = _port(float(flow / flux))
    just_open = description.evaporating_temperature + STATIC_SUPERHEAT[description.kind]
    rise = element.pressure(just_open + OPENING_SUPERHEAT) - element.pressure(just_open)
    return valve.Valve(
        port=port,
        element=element,
        spring=valve.Spring(
            rate=float(element.diaphragm_area * rise / (OPENING * port.max_lift)),
            static_superheat=STATIC_SUPERHEAT[description.kind],
            evaporating_temperature=description.evaporating_temperature,
            pressure_difference=high - low,
        ),
        external_equaliser=description.capacity > EQUALISED_FROM,
    )


def _port(area):
    """Smallest port of the kit that passes a design flow at `OPENING` of its largest area."""
    for diameter in KIT:
        port = valve.standard_port(diameter)
        if OPENING * port.largest_area >= area:
            return port
    raise NoOperatingPoint("no port of the kit passes this load", area=area)


def _refitted(box, point):
    """Fit the port that passes the flow found."""
    pressure, fluid = float(point.inlet_pressure), box.refrigerant
    enthalpy = fluid.liquid_enthalpy(pressure, float(point.inlet_temperature))
    arriving = valve.inlet(fluid, pressure, enthalpy)
    flux = valve.valve_flux(box.metering, fluid, arriving, point.evaporator_inlet_pressure)
    return replace(box.metering, port=_port(float(point.mass_flow / flux)))


def _tube_instead(box, point):
    """Fit a capillary tube that passes what the valve of the same box passes."""
    fluid, pressure = box.refrigerant, float(point.inlet_pressure)
    enthalpy = fluid.liquid_enthalpy(pressure, float(point.inlet_temperature))
    tube = captube.CapTube(_FIRST_BORE, TUBE_LENGTH)
    for _ in range(_STEPS):
        passed = captube.flow(tube, fluid, pressure, enthalpy, point.evaporator_inlet_pressure)
        missing = float(point.mass_flow / passed.mass_flow)
        if abs(missing - 1.0) < _CLOSE:
            break
        # A tube passes about what the power 2.5 of its bore says.
        tube = replace(tube, inner_diameter=tube.inner_diameter * missing**0.4)
    return tube
