"""Time a valve in time: at rest, its loop, fifteen minutes of swing, the measurement of a record.

Run: python tests/bench/hunting.py. Prints medians and how far each part goes towards a slider's
step; nothing here passes or fails.
"""

import statistics
import time

from lowside import hunting
from lowside.lesson import hall, plant

REPEATS = 15


def median_time(call):
    call()
    times = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def main():
    print(f"{'box':22}{'at rest':>9}{'loop':>9}{'swing':>9}{'measure':>9}{'sum':>9}   [ms]")
    for box in hall.boxes():
        if not isinstance(box.metering, hall.ExpansionValve):
            continue
        air, condensing = box.box_temperature, box.summer_condensing
        built = plant.low_side(box)
        circuit = hunting.at_rest(built, air, condensing)
        trace = hunting.swing(circuit)
        parts = (
            lambda built=built, air=air, head=condensing: hunting.at_rest(built, air, head),
            lambda circuit=circuit: hunting.gain_margin(circuit.loop.response),
            lambda circuit=circuit: hunting.swing(circuit),
            lambda trace=trace: hunting.measure(trace.time, trace.superheat),
        )
        times = [1e3 * median_time(part) for part in parts]
        row = "".join(f"{value:9.1f}" for value in (*times, sum(times)))
        print(f"{box.key:22}{row}")


if __name__ == "__main__":
    main()
