"""Time the parts that a box solver calls in its loop: capillary tubes, grams, resting boxes.

Run: python tests/bench/parts.py [boxes]. Prints medians; nothing here passes or fails.
"""

import statistics
import sys
import time

import numpy as np
from lowside import captube, charge, refrigerants
from lowside.captube import CapTube
from lowside.charge import Oil, Tube, Volumes

REPEATS = 9


def median_time(call):
    call()
    times = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def tubes(fluid, count, rng):
    high = fluid.bubble_pressure(rng.uniform(298.0, 333.0, count))
    sat = fluid.saturation(high)
    subcooling = rng.uniform(-3.0, 12.0, count)
    slope = np.where(subcooling > 0.0, sat.liquid_heat_capacity, 5e3)
    enthalpy = sat.liquid_enthalpy - subcooling * slope
    low = fluid.dew_pressure(rng.uniform(243.0, 283.0, count))
    tube = CapTube(rng.uniform(0.6e-3, 1.6e-3, count), rng.uniform(0.8, 5.0, count))
    return lambda: captube.flow(tube, fluid, high, enthalpy, low, check=False)


def box():
    return Volumes(
        condenser=Tube(4.9e-3, 14.0),
        evaporator=Tube(7.9e-3, 10.0),
        liquid_line=Tube(4.8e-3, 2.5),
        suction_line=Tube(7.9e-3, 2.0),
        discharge_line=Tube(4.9e-3, 1.0),
        drier=15e-6,
        shell=1.6e-3,
        oil=Oil(0.28),
    )


def grams(fluid, count, rng, model=charge.DEFAULT):
    high = fluid.bubble_pressure(rng.uniform(303.0, 328.0, count))
    low = fluid.dew_pressure(rng.uniform(253.0, 273.0, count))
    liquid = fluid.saturation(high).liquid_enthalpy - 2e4
    dry = fluid.saturation(low).vapour_enthalpy
    state = charge.Running(
        mass_flow=rng.uniform(1e-3, 4e-3, count),
        condensing_pressure=high,
        evaporating_pressure=low,
        discharge_enthalpy=fluid.saturation(high).vapour_enthalpy + 6e4,
        condenser_outlet_enthalpy=liquid,
        condenser_vapour_share=0.15,
        condenser_liquid_share=rng.uniform(0.0, 0.4, count),
        liquid_line_enthalpy=liquid,
        evaporator_inlet_enthalpy=liquid,
        evaporator_outlet_enthalpy=dry + 1e4,
        evaporator_vapour_share=0.1,
        suction_enthalpy=dry + 2e4,
        shell_temperature=335.0,
        oil_temperature=333.0,
    )
    return lambda: charge.running(box(), fluid, state, model)


def resting(fluid, count):
    temperatures = dict.fromkeys(box().spaces(), 305.0) | {"oil": 305.0, "evaporator": 276.0}
    masses = np.linspace(0.01, 0.3, count)
    return lambda: charge.standing(box(), fluid, masses, temperatures)


def main(count):
    rng = np.random.default_rng(1)
    print(f"{count} boxes at once, median of {REPEATS}")
    for name in ("R290", "R600a", "R448A"):
        fluid = refrigerants.get(name)
        for what, call in (
            ("capillary tube", tubes(fluid, count, rng)),
            ("grams running", grams(fluid, count, rng)),
            ("box at rest", resting(fluid, count)),
        ):
            spent = median_time(call)
            print(f"{name:6} {what:15} {1e3 * spent:8.1f} ms {1e6 * spent / count:8.1f} µs a box")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
