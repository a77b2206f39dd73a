"""How fast and how surely the low side is solved: `python tests/bench/system.py`."""

import platform
import time
from dataclasses import replace

import numpy as np
from lowside import coils, compressor, refrigerants, system, valve
from lowside.system import Status

AIR, CONDENSING = 275.15, 313.15
NAMES = ("R290", "R600a", "R404A", "R448A", "R454C", "R134a")


def median(call, repeats=15):
    """Median time of a call [ms], after one to warm up."""
    call()
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        call()
        times.append(1e3 * (time.perf_counter() - start))
    return float(np.median(times))


def random_boxes(fluid, count, rng):
    """Hardware and conditions drawn apart from each other: most boxes are badly matched."""

    def numbers(low, high):
        return rng.uniform(low, high, count)

    def sizes(low, high):
        return np.exp(numbers(np.log(low), np.log(high)))

    wet, volume = sizes(20.0, 3000.0), sizes(5e-5, 5e-3)
    box = system.LowSide(
        fluid,
        compressor.Compressor(volume),
        coils.Evaporator(
            wet, wet * numbers(0.1, 0.6), wet * sizes(0.5, 4.0), numbers(0.0, 100.0) / volume**2
        ),
        valve.Valve(
            valve.standard_port(sizes(0.3e-3, 5e-3), numbers(0.0, 1.0)),
            valve.PowerElement("liquid", fluid),
            valve.Spring(
                static_superheat=numbers(0.5, 9.0),
                evaporating_temperature=numbers(243.0, 278.0),
                pressure_difference=numbers(2e5, 1.2e6),
            ),
        ),
    )
    return box, (numbers(248.0, 300.0), numbers(288.0, 330.0), numbers(0.0, 15.0))


def main():
    """Print three tables."""
    print(f"Python {platform.python_version()}, numpy {np.__version__}, {platform.machine()}")
    print("\nPort sweep, median of 15 calls, warm [ms]; size: sizing one box")
    print(f"{'':8}{'size':>8}{'1':>8}{'10':>8}{'100':>8}{'1000':>8}{'us a point at 1000':>20}")
    for name in NAMES:
        fluid = refrigerants.get(name)
        box = system.size_low_side(fluid, 2500.0, AIR, CONDENSING)
        row = [median(lambda fluid=fluid: system.size_low_side(fluid, 2500.0, AIR, CONDENSING))]
        for count in (1, 10, 100, 1000):
            ports = np.linspace(0.4, 3.0, count) * box.valve.port.diameter
            swept = system.with_port(box, ports)
            row.append(median(lambda swept=swept: system.solve_low_side(swept, AIR, CONDENSING)))
        print(f"{name:8}" + "".join(f"{value:8.1f}" for value in row) + f"{row[-1]:20.0f}")

    print("\nRandom, mostly badly matched boxes, 2000 a refrigerant")
    total, begin = 0, time.perf_counter()
    rng = np.random.default_rng(1)
    tally = dict.fromkeys(Status, 0)
    for name in refrigerants.NAMES:
        box, conditions = random_boxes(refrigerants.get(name), 2000, rng)
        points = system.solve_low_side(box, *conditions)
        total += points.status.size
        for status in Status:
            tally[status] += int(np.count_nonzero(points.status == status))
    seconds = time.perf_counter() - begin
    for status, count in tally.items():
        print(f"  {status.words:32}{count:7}{100 * count / total:8.2f} %")
    print(f"  {total} boxes in {seconds:.1f} s: {1e4 * seconds / total:.1f} s for 10 000")

    print(
        "\nCondensing 50 -> 25 °C: rise of static superheat [K] of conventional and balanced ports"
    )
    for load in (800.0, 2500.0, 8000.0):
        box = system.size_low_side(refrigerants.get("R404A"), load, AIR, CONDENSING)
        both = replace(
            box,
            valve=replace(
                box.valve, port=replace(box.valve.port, balance=np.array([[0.0], [1.0]]))
            ),
        )
        points = system.solve_low_side(both, AIR, np.array([323.15, 298.15]))
        swing = np.diff(points.static_superheat, axis=1)[:, 0]
        bore = 1e3 * box.valve.port.diameter
        print(f"  {load:6.0f} W, bore {bore:.2f} mm: {swing[0]:5.2f} {swing[1]:5.2f}")


if __name__ == "__main__":
    main()
