"""How long the choice of a build takes, by refrigerant: medians of processor time for fresh jobs.

python tests/bench/kit.py
"""

from __future__ import annotations

import statistics
import time

from lowside import kit, units
from lowside.plots.corners import corner_figure
from lowside.readout import choose

LOADS = [0.5 + 0.21 * step for step in range(11)]  # [ton]
BOX = {"box_temperature": 275.15, "hot": 318.15, "cold": 298.15}


def main():
    """Print one row a refrigerant."""
    show = choose("us")
    print(f"{'':8}{'choose ms':>12}{'figure ms':>12}{'attempts':>10}")
    for name in ("R404A", "R448A", "R134a", "R454C", "R290"):
        choosing, drawing, attempts = [], [], []
        for tons in LOADS:
            job = kit.Job(name, tons * units.TON, **BOX)
            start = time.process_time()
            choice = kit.choose(job)
            middle = time.process_time()
            drawn = corner_figure(show, refrigerant=name, load=job.load, **BOX)
            drawn.overlay(by_reference=True)
            choosing.append(1e3 * (middle - start))
            drawing.append(1e3 * (time.process_time() - middle))
            attempts.append(len(choice.attempts))
        row = (statistics.median(each) for each in (choosing, drawing, attempts))
        print(f"{name:8}{next(row):12.0f}{next(row):12.0f}{next(row):10.0f}")


if __name__ == "__main__":
    main()
