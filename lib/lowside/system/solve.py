"""Newton for a whole batch at once; two slower, safe ways for the points that it leaves behind."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from lowside import coils, valve

from .case import LEAST_FLOW, ON_THE_STOP, attempt, each, shapes
from .conditions import prepare, refuse_nonsense
from .loop import valve_loop
from .result import LowSideResult, Status

TOLERANCE = 1e-9
NUDGE = 1e-6  # of both logarithms, for the slopes
NUDGES = NUDGE * np.array([[[0.0], [0.0]], [[1.0], [0.0]], [[0.0], [1.0]]])
LARGEST_STEP = np.array([[0.35], [0.7]])  # of the logarithms of pressure and flow
BACKTRACK = 0.35  # share of a step that made things worse which is kept
NEWTON_STEPS = 25
PRESSURE_HALVINGS = 16
FLOW_HALVINGS = 20
GUESS_SUPERHEAT = 5.0  # [K]
GUESS_DIFFERENCES = (2.0, 4.0, 7.0, 11.0, 17.0, 26.0, 40.0)  # [K] air to evaporating


def solve_low_side(
    box,
    air_temperature,
    condensing_temperature,
    subcooling=5.0,
    *,
    liquid_line_drop=0.0,
    compressor_share=1.0,
):
    """Operating points of valve, evaporator and compressor.

    A point that cannot run spoils only itself: it comes back with the `Status` that says why.

    Parameters
    ----------
    box : LowSide
        Hardware; any number in it may be an array.
    air_temperature : float or ndarray
        Entering the evaporator. [K]
    condensing_temperature : float or ndarray
        Dew point of the discharge pressure. [K]
    subcooling : float or ndarray
        Of the liquid leaving the condenser, below bubble. [K]
    liquid_line_drop : float or ndarray
        Pressure lost on the way to the valve; may make the liquid flash. [Pa]
    compressor_share : float or ndarray
        Share of its swept volume that the compressor pumps: capacity control. [-]

    Returns
    -------
    LowSideResult
        Each point with its `Status`.

    Raises
    ------
    OutOfRange
        For a condition that is not a number, or that nobody can mean: air or condensing far from
        any refrigerant's temperatures, negative subcooling or liquid-line drop, a compressor that
        does not turn.
    LowsideError
        If a number of the hardware is not a number.
    """
    conditions = (
        air_temperature,
        condensing_temperature,
        subcooling,
        liquid_line_drop,
        compressor_share,
    )
    conditions = [np.asarray(value, dtype=float) for value in conditions]
    shape = np.broadcast_shapes(*shapes(box), *(value.shape for value in conditions))
    if 0 in shape:
        return LowSideResult(
            **{field.name: np.empty(shape, int) for field in fields(LowSideResult)}
        )

    def flat(array):
        return np.broadcast_to(array, shape).ravel()

    refuse_nonsense(box, *conditions)
    conditions = [flat(value) for value in conditions]
    case, status = prepare(each(box, flat), *conditions)
    sensible = status == Status.SOLVED
    search = _newton(case, _guess(case))
    for fallback in (_along_the_valve, _bracket):
        left = np.flatnonzero(~search.converged & sensible)
        if left.size:
            part = each(case, lambda array, left=left: array[left])
            search = search.replaced(left, fallback(part))
    result = _describe(case, search, status, conditions[2])
    return LowSideResult(**{name: value.reshape(shape)[()] for name, value in vars(result).items()})


@dataclass(frozen=True)
class _Search:
    """Where a search stands: logarithms of pressure and flow, and what is known of each point."""

    at: np.ndarray
    converged: np.ndarray
    status: np.ndarray

    def replaced(self, index, other):
        """Put the points of another search in place of some of these."""
        at, converged, status = self.at.copy(), self.converged.copy(), self.status.copy()
        at[:, index] = other.at
        converged[index] = other.converged
        status[index] = other.status
        return _Search(at, converged, status)


def _guess(case):
    """Evaporating pressure where the valve's surplus changes sign at some superheat, and flow."""
    fluid, count = case.box.refrigerant, case.lowest.size
    wide = each(case, lambda array: np.tile(array, len(GUESS_DIFFERENCES)))
    difference = np.repeat(GUESS_DIFFERENCES, count)
    dew = wide.air_temperature - difference
    log_pressure = np.log(fluid.dew_pressure(dew, check=False))
    log_pressure = np.clip(log_pressure, wide.lowest, wide.highest)
    superheat = np.minimum(GUESS_SUPERHEAT, 0.5 * difference)
    outlet = fluid.state_pt(np.exp(log_pressure), dew + superheat, check=False)
    log_flow = np.log(_pumped(wide, log_pressure, outlet.density))
    feeding = attempt(wide, log_pressure, log_flow).feeding.reshape(-1, count)
    after = np.argmax(feeding > 0.0, axis=0)
    after = np.where((feeding > 0.0).any(axis=0), after, len(GUESS_DIFFERENCES) - 1)
    before = np.maximum(after - 1, 0)
    every = np.arange(count)
    low, high = feeding[before, every], feeding[after, every]
    share = np.where(high > low, -low / np.where(high > low, high - low, 1.0), 1.0).clip(0.0, 1.0)

    def between(values):
        values = values.reshape(-1, count)
        return values[before, every] * (1.0 - share) + values[after, every] * share

    return np.stack([between(log_pressure), between(log_flow)])


def _pumped(case, log_pressure, density):
    """Flow of the compressor fed with a density; never quite zero, for its logarithm."""
    flow = case.box.compressor.mass_flow(
        case.box.refrigerant, np.exp(log_pressure), density, case.condensing_pressure
    )
    return np.maximum(case.compressor_share * flow, LEAST_FLOW)


def _newton(case, start):
    """Newton with slopes from differences; a step that makes things worse is taken back in part.

    Points leave the batch as they converge.
    """
    at = start.copy()
    converged = np.zeros(case.lowest.size, dtype=bool)
    todo, part, here = np.arange(case.lowest.size), case, start
    best, worst = start, np.full(case.lowest.size, np.inf)
    for _ in range(NEWTON_STEPS):
        step, size = _step(part, here)
        done = size < TOLERANCE
        at[:, todo] = here
        converged[todo[done]] = True
        if done.all():
            break
        worse = size > worst
        step = np.where(worse, BACKTRACK * (here - best), step)
        best = np.where(worse, best, here)
        worst = np.where(worse, worst, size)
        here = best + np.clip(step, -LARGEST_STEP, LARGEST_STEP)
        here[0] = np.clip(here[0], part.lowest, part.highest)
        if done.any():
            keep = ~done
            todo, best, worst, here = todo[keep], best[:, keep], worst[keep], here[:, keep]
            part = each(part, lambda array, keep=keep: array[keep])
    return _Search(at, converged, np.full(converged.size, Status.NOT_CONVERGED))


def _step(case, at):
    """Newton step of (log pressure, log flow), shape (2, n), and the size of what is wrong now.

    The valve's statement is a choice: modulating, or wide open. The step is the one whose own
    linear forecast agrees with its choice; where neither does, that of the smaller number.
    """
    triple = each(case, lambda array: np.tile(array, 3))
    trial = attempt(triple, *np.concatenate(at + NUDGES, axis=1))
    values = np.stack([trial.pumping, trial.bulb_surplus, trial.flow_reserve]).reshape(3, 3, -1)
    pumping, surplus, reserve = values[:, 0]
    slopes = (values[:, 1:] - values[:, :1]) / NUDGE
    modulating = _solved(slopes[0], pumping, slopes[1], surplus)
    wide_open = _solved(slopes[0], pumping, slopes[2], reserve)
    keeps_reserve = reserve + (slopes[2] * modulating).sum(axis=0) >= 0.0
    keeps_surplus = surplus + (slopes[1] * wide_open).sum(axis=0) >= 0.0
    choose_modulating = np.where(keeps_reserve == keeps_surplus, surplus < reserve, keeps_reserve)
    wrong = np.maximum(np.abs(pumping), np.abs(np.minimum(surplus, reserve)))
    return np.where(choose_modulating, modulating, wide_open), wrong


def _solved(first_slope, first, second_slope, second):
    """Step that brings two linear functions of two unknowns to zero."""
    (a, b), (c, d) = first_slope, second_slope
    determinant = a * d - b * c
    determinant = np.where(determinant == 0.0, np.inf, determinant)
    return np.stack([b * second - d * first, c * first - a * second]) / determinant


def _along_the_valve(case):
    """Walk from the valve's seat to its stop, and on to a starved coil; then Newton.

    Each place on this walk has one evaporating pressure at which valve and compressor pass the
    same flow. On the seat that flow leaves the coil half idle, and at the far end the outlet would
    be as warm as the air, which no coil reaches: somewhere between the coil agrees. Finds every
    point at which vapour leaves.
    """
    near, far = np.zeros_like(case.lowest), np.full_like(case.lowest, 2.0)
    for _ in range(PRESSURE_HALVINGS):
        middle = 0.5 * (near + far)
        at, enthalpy = _agreeing(case, middle)
        reached, _ = coils.outlet_enthalpy(
            case.box.evaporator,
            case.box.refrigerant,
            np.exp(at[1]),
            case.inlet.enthalpy,
            np.exp(at[0]),
            case.air_temperature,
        )
        idle = reached > enthalpy
        near, far = np.where(idle, middle, near), np.where(idle, far, middle)
    return _newton(case, at)


def _agreeing(case, travel):
    """Pressure and flow at which valve and compressor agree, and the enthalpy that the bulb means.

    `travel` is the share of the lift; from 1 to 2 the valve is open and the bulb warms up to the
    air.
    """
    fluid, hardware = case.box.refrigerant, case.box.valve
    lift = np.minimum(travel, 1.0) * hardware.port.max_lift
    low, high = case.lowest, case.highest
    drop = np.zeros_like(low)
    for _ in range(FLOW_HALVINGS):
        log_pressure = 0.5 * (low + high)
        pressure = np.exp(log_pressure)
        bulb = valve.bulb_temperature(
            hardware,
            case.spring_force,
            lift,
            pressure,
            pressure + drop,
            case.inlet.pressure,
            check=False,
        )
        spare = np.maximum(case.air_temperature - bulb, 0.0)
        bulb = bulb + np.maximum(travel - 1.0, 0.0) * spare
        enthalpy = fluid.vapour_enthalpy(pressure, bulb, check=False)
        density = fluid.state_ph(pressure, enthalpy, check=False).density
        pumped = _pumped(case, log_pressure, density)
        drop = case.box.evaporator.pressure_drop(pumped)
        fed = valve.mass_flow(hardware, fluid, lift, case.inlet, pressure + drop)
        low = np.where(fed > pumped, log_pressure, low)
        high = np.where(fed > pumped, high, log_pressure)
    return np.stack([log_pressure, np.log(pumped)]), enthalpy


def _bracket(case):
    """Halve the evaporating pressure on the valve's surplus, the flow inside it; then Newton.

    The surplus of the valve falls as the evaporating pressure rises, and the surplus of the
    compressor falls as the flow rises: both brackets are safe, and what has no root says so.
    """
    low, high = case.lowest, case.highest
    at_low = attempt(case, low, _flow_at(case, low))
    at_high = attempt(case, high, _flow_at(case, high))
    for _ in range(PRESSURE_HALVINGS):
        middle = 0.5 * (low + high)
        feeding = attempt(case, middle, _flow_at(case, middle)).feeding
        low, high = np.where(feeding > 0.0, middle, low), np.where(feeding > 0.0, high, middle)
    pressure = 0.5 * (low + high)
    search = _newton(case, np.stack([pressure, _flow_at(case, pressure)]))
    shut = (at_low.feeding < 0.0) & (at_low.bulb_surplus < 0.0)
    outside = (at_low.feeding < 0.0) | (at_high.feeding > 0.0)
    status = np.where(
        shut,
        Status.VALVE_SHUT,
        np.where(outside, Status.OUTSIDE_RANGE, Status.NOT_CONVERGED),
    )
    ended = np.stack([pressure, _flow_at(case, pressure)])
    return _Search(np.where(search.converged, search.at, ended), search.converged, status)


def _flow_at(case, log_pressure):
    """Logarithm of the flow at which compressor and coil agree at a pressure."""
    fluid = case.box.refrigerant
    pressure = np.exp(log_pressure)
    thin = fluid.state_pt(pressure, case.air_temperature, check=False).density
    dense = fluid.state_ph(pressure, case.inlet.enthalpy, check=False).density
    low = np.log(_pumped(case, log_pressure, np.minimum(thin, dense))) - 0.1
    high = np.log(_pumped(case, log_pressure, np.maximum(thin, dense))) + 0.1
    for _ in range(FLOW_HALVINGS):
        middle = 0.5 * (low + high)
        pumping = attempt(case, log_pressure, middle).pumping
        low, high = np.where(pumping > 0.0, middle, low), np.where(pumping > 0.0, high, middle)
    return 0.5 * (low + high)


def _describe(case, search, prepared, subcooling):
    """Every number that a learner may ask for, at the points found."""
    fluid = case.box.refrigerant
    trial = attempt(case, *search.at)
    on_the_stop = (trial.flow_reserve < ON_THE_STOP) & (trial.bulb_surplus > 0.0)
    answer = np.where(
        trial.liquid_leaves,
        Status.LIQUID_LEAVING,
        np.where(on_the_stop, Status.WIDE_OPEN, Status.SOLVED),
    )
    compression = case.box.compressor.run(
        fluid, trial.pressure, trial.outlet.enthalpy, case.condensing_pressure, check=False
    )
    dew = trial.saturation.dew_temperature
    cold = case.inlet.temperature < dew
    beyond = np.isnan(compression.isentropic_efficiency)
    answer = np.select([beyond, cold], [Status.RATING_OUTSIDE, Status.LIQUID_TOO_COLD], answer)
    status = np.where(search.converged, answer, search.status)
    status = np.where(prepared == Status.SOLVED, status, prepared)
    lift = np.minimum(trial.lift, case.box.valve.port.max_lift)
    running = np.where(status == Status.VALVE_SHUT, 0.0, 1.0)

    at_seat = valve.bulb_temperature(
        case.box.valve,
        case.spring_force,
        0.0,
        trial.pressure,
        trial.inlet_pressure,
        case.inlet.pressure,
        check=False,
    )
    loop = valve_loop(case, search.at, trial)
    capacity = running * trial.mass_flow * (trial.outlet.enthalpy - case.inlet.enthalpy)
    work = compression.power / np.maximum(compression.mass_flow, LEAST_FLOW)
    return LowSideResult(
        status=status,
        residual=np.maximum(np.abs(trial.pumping), np.abs(trial.feeding)),
        evaporating_pressure=trial.pressure,
        evaporating_temperature=dew,
        evaporator_inlet_pressure=trial.inlet_pressure,
        suction_temperature=trial.outlet.temperature,
        superheat=fluid.superheat(trial.pressure, trial.outlet.temperature, check=False),
        outlet_quality=np.clip(trial.outlet.quality, 0.0, 1.0),
        wet_share=trial.wet_share,
        mass_flow=running * trial.mass_flow,
        capacity=capacity,
        power=running * trial.mass_flow * work,
        condensing_pressure=case.condensing_pressure,
        discharge_temperature=compression.discharge_temperature,
        liquid_temperature=case.inlet.temperature,
        inlet_quality=case.inlet.quality,
        subcooling=subcooling,
        air_temperature=case.air_temperature,
        air_outlet_temperature=case.air_temperature
        - capacity / case.box.evaporator.air_capacity_rate,
        lift=running * lift,
        lift_share=running * lift / case.box.valve.port.max_lift,
        static_superheat=at_seat - dew,
        opening_superheat=trial.bulb_temperature - at_seat,
        **vars(loop),
        loop_gain=loop.loop_gain,
    )
