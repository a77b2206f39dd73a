"""Time one brazed joint, as lesson 30's panel marches it at every move, and its figure.

Run: python tests/bench/joint.py. Prints medians; nothing here passes or fails.
"""

import statistics
import time

from lowside import joint, readout
from lowside.screens.lessons import l30

REPEATS = 15


def median_times(call):
    call()
    spent, used = [], []
    for _ in range(REPEATS):
        clock, processor = time.perf_counter(), time.process_time()
        call()
        spent.append(time.perf_counter() - clock)
        used.append(time.process_time() - processor)
    return statistics.median(spent), statistics.median(used)


def main():
    show = readout.choose("us")
    print(f"median of {REPEATS}: clock, processor")
    for wrap in ("nothing", *joint.wraps()):
        values = l30.as_called(wrap)
        spent, used = median_times(lambda values=values: l30.braze(show, **values).overlay())
        print(f"{wrap:12} {1e3 * spent:7.1f} ms {1e3 * used:7.1f} ms")


if __name__ == "__main__":
    main()
