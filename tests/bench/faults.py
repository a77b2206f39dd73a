"""How fast faults are solved: a figure's sweep, a table, and the batches a diagnosis asks for."""

import platform
import time
from collections import Counter

import numpy as np
from lowside import faults
from lowside.system import BoxStatus, cabinets

PAIRS = 200


def processor_time(call, repeats=7):
    """Median processor time of a call [ms], after one to warm up."""
    call()
    times = []
    for _ in range(repeats):
        start = time.process_time()
        call()
        times.append(1e3 * (time.process_time() - start))
    return float(np.median(times))


def pairs_of(situation, rng):
    """Two different faults at severities drawn evenly, many times."""
    keys = [fault.key for fault in faults.fitting(situation) if fault.stepless]
    for _ in range(PAIRS):
        yield {
            str(key): rng.uniform(0.0, faults.get(str(key)).high)
            for key in rng.choice(keys, 2, replace=False)
        }


def main():
    """Print a line for every cabinet."""
    print(f"{platform.machine()}, numpy {np.__version__}; processor time, median of 7 [ms]")
    print(f"{'':24}{'sweep':>8}{'table':>8}{'batch':>8}{'a box':>8}   ends of {PAIRS} random pairs")
    for name in cabinets.names():
        situation = faults.sound(cabinets.get(name))
        base = situation.solve()
        cases = [
            {fault.key: severity}
            for fault in faults.fitting(situation)
            for severity in (fault.high * np.linspace(1 / 6, 1, 6) if fault.stepless else (1.0,))
        ]
        whole = faults.batch(situation, cases * 5)
        times = (
            processor_time(lambda s=situation: faults.sweep(s, "undercharge")),
            processor_time(lambda s=situation: faults.sign_table(s)),
            processor_time(lambda w=whole, b=base: w.solve(start=b), 3),
        )
        rng = np.random.default_rng(5)
        drawn = faults.batch(situation, list(pairs_of(situation, rng))).solve()
        ends = Counter(BoxStatus(int(status)).words for status in drawn.status)
        told = ", ".join(f"{words} {count}" for words, count in ends.most_common())
        row = "".join(f"{t:8.0f}" for t in times) + f"{times[2] / len(cases) / 5:8.2f}"
        print(f"{name:24}{row}   {told}")


if __name__ == "__main__":
    main()
