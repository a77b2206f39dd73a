"""Does `identify` know what it knows, and how long does it take? `python tests/bench/identify.py`.

2000 simulated valves on every box of the hall with a valve (or as many as the first argument says),
hardware drawn evenly within ±15 % of what is believed, sizes alike often.
"""

import sys
import time

from lowside.identify import calibration, looks, posterior
from lowside.identify.hardware import Site
from lowside.lesson import hall, plant

TESTS = tuple(test for test in looks.TESTS if test != "running")
COMBINATIONS = [
    ("running",),
    *(("running", test) for test in TESTS),
    ("running", "pull-down", "bulb"),
    ("running", *TESTS),
]


def table(box, valves):
    """Print what became of the valves of one box."""
    site = Site(plant.low_side(box), box.box_temperature, box.summer_condensing)
    start = time.perf_counter()
    library = posterior.simulate(site)
    built = time.perf_counter() - start
    start = time.perf_counter()
    judged = calibration.calibrate(library, COMBINATIONS, valves)
    read = time.perf_counter() - start
    print(f"\n{box.key}, {box.refrigerant}; library {built:.1f} s, {valves} valves {read:.1f} s")
    print(f"{'tests':46}{'P(true)':>9}{'held':>7}{'claimed':>9}{'cut to 80 %':>13}{'sizes':>7}")
    for tests, found in judged.items():
        name = " + ".join(tests) if len(tests) < len(looks.TESTS) else "all of them"
        print(
            f"{name:46}{found.certainty:9.3f}{found.held:7.3f}{found.claimed:9.3f}"
            f"{found.trimmed:13.3f}{found.sizes:7.2f}"
        )


if __name__ == "__main__":
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    for each in hall.boxes():
        if isinstance(each.metering, hall.ExpansionValve):
            table(each, number)
