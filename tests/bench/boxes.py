"""How fast and how surely whole boxes are solved: `python tests/bench/boxes.py [boxes]`."""

import platform
import sys
import time
from collections import Counter
from pathlib import Path

import numpy as np
from lowside import refrigerants, system
from lowside.system import BoxStatus, cabinets

sys.path.insert(0, str(Path(__file__).parents[1]))
from test_system_box import random_boxes


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


def crowd(total):
    """Print how random boxes end, and how long they take."""
    print(f"\n{total} random boxes: hardware, charge and air drawn apart")
    each = total // (2 * len(refrigerants.NAMES)) + 1
    tally, solved, grams, closure = Counter(), 0, 0.0, 0.0
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
            taken = points.capacity + points.suction_heat + points.power
            given = points.condenser_heat + points.shell_heat + points.liquid_heat
            closure = max(closure, np.abs(taken / given - 1.0)[good].max())
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
    print(f"  accepted answers: grams within {grams:.1e} g, energy within {closure:.1e}")


def main():
    """Print two tables."""
    print(f"Python {platform.python_version()}, numpy {np.__version__}, {platform.machine()}")
    single()
    crowd(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000)


if __name__ == "__main__":
    main()
