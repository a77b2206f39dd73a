"""How far the diagnosis can be trusted, on boxes that are not what it assumes.

    python tests/bench/diagnosis.py [cases a fault] [--save]

`--save` writes data/diagnosis_trust.toml, from which lesson 52 says how far to trust its page;
register it afterwards with ``python -m lowside.store --update``.
"""

import sys
import time

import numpy as np
from lowside import diagnosis, faults, store, system
from lowside.diagnosis import trials

BOXES = {
    "propane-reach-in": "valve, no receiver",
    "walk-in-cooler": "valve and receiver",
    "isobutane-undercounter": "capillary tube",
}
EDGES = np.array([0.0, 0.05, 0.2, 0.4, 0.6, 0.8, 0.9, 1.0 + 1e-9])
SEED = 20261125


def main():
    numbers = [word for word in sys.argv[1:] if word.isdigit()]
    cases = int(numbers[0]) if numbers else 40
    saved = []
    print(f"{cases} boxes a fault, each fault costing {trials.COSTS:.0%} of the cooling or more\n")
    head = ("kit", "first", "or alike", "in 3", "sure, wrong", "Brier", "table: first", "in 3")
    for name, kind in BOXES.items():
        begin = time.perf_counter()
        suspects = diagnosis.suspects(faults.sound(system.cabinets.get(name)))
        built = time.perf_counter() - begin
        staged = trials.stage(suspects, cases, SEED)
        faulty = trials.with_cost(staged)
        print(f"{name} ({kind}): {len(faulty.keys)} faulty boxes, {len(staged.keys)} in all")
        print("{:26s}{:>7s}{:>10s}{:>7s}{:>13s}{:>7s}{:>14s}{:>7s}".format(*head))
        for kit in trials.KITS:
            score, plain = trials.judge(faulty, kit), trials.judge(faulty, kit, rules=True)
            row = {
                "first": score.top(1),
                "alike": score.top_alike,
                "three": score.top(3),
                "wrong": score.confidently_wrong,
                "brier": score.brier,
                "rules_first": plain.top(1),
                "rules_three": plain.top(3),
            }
            print(
                f"{kit:26s}{row['first']:7.0%}{row['alike']:10.0%}{row['three']:7.0%}"
                f"{row['wrong']:13.1%}{row['brier']:7.2f}{row['rules_first']:14.0%}"
                f"{row['rules_three']:7.0%}"
            )
            saved.append((name, kit, len(faulty.keys), row))
        last = trials.judge(staged, kit)
        _by_fault(last)
        given, true, count = last.reliability(EDGES)
        print("given  " + " ".join(f"{value:6.2f}" for value in given))
        print("true   " + " ".join(f"{value:6.2f}" for value in true))
        print("cases  " + " ".join(f"{value:6d}" for value in count))
        again = _again(suspects, staged)
        print(f"first answer {built:.2f} s, one more reading {again * 1e3:.0f} ms\n")
    if "--save" in sys.argv:
        _save(saved, cases)


def _by_fault(score):
    """Print Brier score and share found, fault by fault."""
    truth = np.array(score.truth)
    for key in dict.fromkeys(score.truth):
        mine = truth == key
        part = trials.Score(
            [key] * int(mine.sum()), score.probability[mine], score.keys, score.alike
        )
        others = ", ".join(sorted(score.alike[key] - {key}))
        print(
            f"  {key:16s}{int(mine.sum()):4d}  first {part.top(1):4.0%}  in 3 {part.top(3):4.0%}"
            f"  Brier {part.brier:.2f}" + (f"  like {others}" if others else "")
        )


def _again(suspects, staged):
    """Median time of an update: ranking and the next step."""
    taken = {
        key: float(staged.readings[0, diagnosis.evidence.KEYS.index(key)])
        for key in trials.KITS["every instrument"]
    }
    times = []
    for _ in range(7):
        begin = time.perf_counter()
        diagnosis.next_steps(diagnosis.rank(suspects, taken))
        times.append(time.perf_counter() - begin)
    return float(np.median(times))


def _save(rows, cases):
    lines = [
        "# How often the diagnosis is right on simulated boxes that are not what it assumes.",
        "",
        'source = "Computed by tests/bench/diagnosis.py; all boxes are invented for lowside."',
        f"cases_a_fault = {cases}",
        f"cost = {trials.COSTS}",
        f"seed = {SEED}",
    ]
    for name, kit, count, row in rows:
        lines += ["", "[[results]]", f'box = "{name}"', f'kit = "{kit}"', f"cases = {count}"]
        lines += [f"{key} = {value:.4f}" for key, value in row.items()]
    (store.data_dir() / "diagnosis_trust.toml").write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
