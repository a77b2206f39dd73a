"""What a class asks of one machine: memory, time to the first picture, and delay of a move.

    nice -n 15 python tests/bench/classroom.py           # 1, 10 and 30 learners
    nice -n 15 python tests/bench/classroom.py 10 60     # 10 learners, every second of a minute

Every learner is a Jupyter kernel of its own that opens the page of lesson 22, all at the same
moment, which is the worst start a class can have. Then each moves the port once a second for a
while, each at its own moment: first one of them alone, then all. The clock runs from asking a
kernel to its answer, through Jupyter's own messages on loopback; the browser's share is measured by
slider.py. Memory is each kernel's proportional share (PSS), so that pages which several kernels
share are counted once. A row ends early rather than take more than ten minutes. Nothing is
asserted. Linux only.
"""

import os
import random
import statistics
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from jupyter_client import KernelManager

NUMBERS = (1, 10, 30)
MOVING = 20  # [s]
LONGEST = 600.0  # [s]
OPEN = """from lowside import screens
page = screens.open_lesson("22")
pieces = [page.start(), page.call(), page.predict(), page.picture()]
panel = page.explore()
shown = panel.figure.overlay(by_reference=True)"""
MOVE = "panel.set(port={port:.6f})"
PORTS = (1.0e-3, 8.0e-3)  # [m]


def main(arguments):
    numbers = [int(arguments[0])] if arguments else NUMBERS
    seconds = int(arguments[1]) if len(arguments) > 1 else MOVING
    os.environ.update(OMP_NUM_THREADS="1", OPENBLAS_NUM_THREADS="1")
    print(f"{os.cpu_count()} cores; load average before: {os.getloadavg()[0]:.1f}")
    print(
        "| learners | first picture: median, last s | MB a kernel | MB in all "
        "| one moves: median, p95 ms | all move: median, p95 ms | moves/s |"
    )
    print("|" + 7 * "---|", flush=True)
    for number in numbers:
        measure(number, seconds)


def measure(number, seconds):
    deadline = time.monotonic() + LONGEST
    with ThreadPoolExecutor(number) as class_room:
        learners = [Learner() for _ in range(number)]  # one by one: they choose free ports
        try:
            waits = list(class_room.map(lambda learner: learner.open(deadline), learners))
            one = learners[0].move(seconds, deadline)
            start = time.monotonic()
            moves = [
                delay
                for delays in class_room.map(lambda each: each.move(seconds, deadline), learners)
                for delay in delays
            ]
            rate = len(moves) / (time.monotonic() - start)
            memory = [learner.memory() for learner in learners]
        finally:
            list(class_room.map(Learner.close, learners))
    cells = [str(number), f"{statistics.median(waits):.1f}, {max(waits):.1f}"]
    cells += [f"{statistics.median(memory):.0f}", f"{sum(memory):.0f}"]
    cells += [spread(one), spread(moves), f"{rate:.1f}"]
    print("|", " | ".join(cells), "|", flush=True)


class Learner:
    """One kernel, and the clock beside it."""

    def __init__(self):
        self.begun = time.monotonic()
        self.manager = KernelManager()
        self.manager.start_kernel(stderr=subprocess.DEVNULL)
        self.client = self.manager.blocking_client()
        self.client.start_channels()

    def open(self, deadline):
        """Open the page; returns the time from the start of the kernel to the picture [s]."""
        self.client.wait_for_ready(timeout=LONGEST)
        self._run(OPEN, deadline)
        return time.monotonic() - self.begun

    def move(self, seconds, deadline):
        """Move the port once a second, from a moment of one's own; returns the delays [s]."""
        delays, chance = [], random.Random(self.manager.provisioner.pid)
        due = time.monotonic() + chance.random()
        until = time.monotonic() + seconds
        while due < min(until, deadline):
            time.sleep(max(0.0, due - time.monotonic()))
            asked = time.monotonic()
            self._run(MOVE.format(port=chance.uniform(*PORTS)), deadline)
            delays.append(time.monotonic() - asked)
            due = max(due + 1.0, time.monotonic())
        return delays

    def memory(self):
        """Return the kernel's proportional share of memory [MB, of 1e6 bytes]."""
        rollup = Path(f"/proc/{self.manager.provisioner.pid}/smaps_rollup").read_text()
        return int(rollup.split("\nPss:")[1].split()[0]) * 1024 / 1e6

    def close(self):
        self.client.stop_channels()
        self.manager.shutdown_kernel(now=True)

    def _run(self, code, deadline):
        answer = self.client.execute_interactive(
            code, timeout=max(1.0, deadline - time.monotonic()), output_hook=lambda message: None
        )["content"]
        if answer["status"] != "ok":
            raise SystemExit(f"A learner's kernel failed: {answer['ename']}: {answer['evalue']}")


def spread(values):
    ordered = sorted(1e3 * value for value in values)
    return f"{statistics.median(ordered):.0f}, {ordered[int(0.95 * (len(ordered) - 1))]:.0f}"


if __name__ == "__main__":
    main(sys.argv[1:])
