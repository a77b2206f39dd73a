"""How fast and how surely whole boxes are solved: `python tests/bench/boxes.py [boxes]`."""

import platform
import sys
import time
from collections import Counter
from dataclasses import replace
from functools import partial
from pathlib import Path

import CoolProp.CoolProp as CP
import numpy as np
from lowside import coils, refrigerants, system
from lowside.system import BoxStatus, cabinets

sys.path.insert(0, str(Path(__file__).parents[1]))
from test_system_box import random_boxes

VARIANTS = (50, 500, 5000)
HOTTEST = 403.15  # [K] discharge gas that the tables still cover well above dew


def median(call, repeats=15):
    """Median and best processor time of a call [ms], after one to warm up."""
    call()
    times = []
    for _ in range(repeats):
        start = time.process_time()
        call()
        times.append(1e3 * (time.process_time() - start))
    return float(np.median(times)), min(times)


def single():
    """Print the time of one box and of a slider's curve."""
    print("\nOne call, processor time, median (best) of 15 [ms]; warm: from a neighbouring point")
    print(f"{'':24}{'cold':>16}{'warm':>16}{'curve of 40':>16}{'held subcooling':>18}")
    for name in cabinets.names():
        cabinet = cabinets.get(name)
        box, air, charge = cabinet.box, cabinet.air, cabinet.charge
        near = system.solve_box(box, *air, charge)
        charges = charge * np.linspace(0.6, 1.3, 40)
        calls = (
            lambda b=box, a=air, c=charge: system.solve_box(b, *a, c),
            lambda b=box, a=air, c=charge, s=near: system.solve_box(b, *a, 1.03 * c, start=s),
            lambda b=box, a=air, c=charges: system.solve_box(b, *a, c),
            lambda b=box, a=air: system.solve_box(b, *a, subcooling=5.0),
        )
        times = [median(call) for call in calls]
        print(f"{name:24}" + "".join(f"{m:8.1f} ({b:5.1f})" for m, b in times))


def variants():
    """Print the time of many boxes around one, as a diagnosis asks for them."""
    print("\nVariants of one box, each begun from it, processor time, median of 3 [ms a variant]")
    print(f"{'':24}" + "".join(f"{count:>10}" for count in VARIANTS))
    for name in cabinets.names():
        cabinet, row = cabinets.get(name), []
        near = system.solve_box(cabinet.box, *cabinet.air, cabinet.charge)
        for count in VARIANTS:
            rng = np.random.default_rng(3)
            charge = cabinet.charge * rng.uniform(0.85, 1.1, count)
            air = (temperature + rng.uniform(-3.0, 3.0, count) for temperature in cabinet.air)
            share = rng.uniform(0.85, 1.0, count)
            condenser = replace(cabinet.box.condenser, air_share=share)
            call = partial(
                system.solve_box,
                replace(cabinet.box, condenser=condenser),
                *air,
                charge,
                start=near,
            )
            row.append(median(call, 3)[0] / count)
        print(f"{name:24}" + "".join(f"{each:10.2f}" for each in row))


def around(box, points):
    """Relative gap of the energy balance, the evaporator's duty found forwards.

    The solver reads the evaporator's outlet back from the suction; here the coil is fed with what
    the metering lets through and says itself what it takes from the air.
    """
    fluid = box.refrigerant
    flashing = fluid.state_px(points.inlet_pressure, points.inlet_quality, check=False).enthalpy
    liquid = fluid.liquid_enthalpy(points.inlet_pressure, points.inlet_temperature, check=False)
    inlet = np.where(points.inlet_quality > 0.0, flashing, liquid)
    saturation = fluid.saturation(points.evaporating_pressure, check=False)
    air = points.box_temperature
    coil = box.evaporator.evaporator(fluid, points.mass_flow, inlet, saturation, air)
    outlet, _ = coils.outlet_enthalpy(
        coil, fluid, points.mass_flow, inlet, points.evaporating_pressure, air, saturation
    )
    return gap(points, points.mass_flow * (outlet - inlet), points.condenser_heat)


def from_coolprop(name, points):
    """Relative gap of the energy balance, both coils' duties from CoolProp's equations of state."""

    def enthalpy(temperature, pressure):
        return CP.PropsSI("H", "T", temperature, "P", pressure, name)

    outlet = enthalpy(points.outlet_temperature, points.evaporating_pressure)
    inlet = enthalpy(points.inlet_temperature, points.inlet_pressure)
    hot = enthalpy(points.discharge_temperature, points.condensing_pressure)
    liquid = enthalpy(points.liquid_temperature, points.condensing_pressure)
    flow = points.mass_flow
    return gap(points, flow * (outlet - inlet), flow * (hot - liquid))


def gap(points, capacity, condenser_heat):
    """What air, lines and motor put in over what goes out, less 1."""
    taken = capacity + points.suction_heat + points.power
    return taken / (condenser_heat + points.shell_heat + points.liquid_heat) - 1.0


def crowd(total):
    """Print how random boxes end, and how long they take."""
    print(f"\n{total} random boxes: hardware, charge and air drawn apart")
    each = total // (2 * len(refrigerants.NAMES)) + 1
    tally, solved, grams, wet, closure = Counter(), 0, 0.0, 0, 0.0
    outside = []
    seconds = {False: 0.0, True: 0.0}
    print(f"{'':10}{'valve':>10}{'tube':>10}   ms a box (processor time)")
    for name in refrigerants.NAMES:
        fluid, row = refrigerants.get(name), []
        for tube in (False, True):
            rng = np.random.default_rng(7)
            box, air, ambient = random_boxes(fluid, each, rng, tube)
            held = system.solve_box(box, air, ambient, subcooling=rng.uniform(1.0, 8.0, each))
            charge = held.charge * rng.uniform(0.4, 1.5, each)
            day = air + rng.uniform(-3.0, 15.0, each), rng.uniform(278.0, 318.0, each)
            begin = time.process_time()
            points = system.solve_box(box, *day, charge)
            spent = time.process_time() - begin
            row.append(1e3 * spent / each)
            seconds[tube] += spent
            solved += each
            tally.update(int(status) for status in points.status)
            good = points.accepted
            grams = max(grams, 1e3 * np.abs(points.inventory.total - charge)[good].max())
            wet += int(np.sum(good & points.wet_discharge))
            closure = max(closure, np.abs(around(box, points))[good].max())
            clear = good & (points.superheat > 1.0) & (points.subcooling > 1.0)
            clear &= (points.inlet_quality == 0.0) & (points.discharge_temperature < HOTTEST)
            clear &= ~points.wet_discharge
            if not fluid.is_blend and clear.any():
                outside.extend(np.abs(from_coolprop(name, points.at(np.flatnonzero(clear)))))
            for field, value in vars(points).items():
                if field not in ("inventory", "lift_share", "static_superheat"):
                    assert np.all(np.isfinite(value[good])), field
        print(f"{name:10}{row[0]:10.2f}{row[1]:10.2f}")
    for status in BoxStatus:
        count = tally[int(status)]
        print(f"  {status.words:28}{count:7}{100.0 * count / solved:8.2f} %")
    for tube, spent in seconds.items():
        kind = "tubes" if tube else "valves"
        print(f"  10 000 boxes with {kind}: {2e4 * spent / solved:.1f} s of processor time")
    print(f"  accepted answers: grams within {grams:.1e} g, energy forwards within {closure:.1e}")
    print(
        f"  {len(outside)} pure, one phase at every clamp, discharge below 130 °C, enthalpies from "
        f"CoolProp: energy within {max(outside):.1e}, median {np.median(outside):.1e}"
    )
    print(f"  accepted with liquid even in the discharge: {wet}")


def main():
    """Print three tables."""
    print(f"Python {platform.python_version()}, numpy {np.__version__}, {platform.machine()}")
    single()
    variants()
    crowd(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000)


if __name__ == "__main__":
    main()
