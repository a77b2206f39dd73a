"""Speed and accuracy of the property tables, fluid by fluid, beside CoolProp in the same run.

``python tests/bench/properties.py [names]`` prints two tables. Times are medians. The ratio says
how many states the table answers in the time CoolProp takes for one. Errors are the largest over
random states: -45 to +65 °C dew (less where 0.9 of the critical pressure comes first), 0 to 90 K
superheat, 0 to 40 K subcooling (less where the equation of state ends). Most of the timed states
lie in the dome, where CoolProp is quickest for a pure fluid. A dash means not measured.
"""

import sys
import time

import numpy as np
from lowside import refrigerants
from lowside.errors import OutOfRange
from lowside.refrigerants import coolprop

MANY, FEW = 100_000, 100
STATES = 200
REPEATS = 15
BUDGET = 3.0  # seconds for CoolProp's slow (p, h) calls per fluid


def median_time(call, repeats=REPEATS):
    """Median seconds of a call, after one that warms up."""
    call()
    times = []
    for _ in range(repeats):
        began = time.perf_counter()
        call()
        times.append(time.perf_counter() - began)
    return float(np.median(times))


def random_states(fluid, count, seed=0):
    """Pressures and enthalpies in liquid, dome and vapour."""
    rng = np.random.default_rng(seed)
    p = random_pressures(fluid, count, rng)
    s = fluid.saturation(p)
    low, high = s.liquid_enthalpy - 10e3, s.vapour_enthalpy + 50e3
    return p, low + rng.random(count) * (high - low)


def random_pressures(fluid, count, rng):
    """Uniform in the logarithm, from -45 to +65 °C dew as far as the range goes."""
    low = fluid.dew_pressure(273.15 - 45)
    high = fluid.dew_pressure(min(273.15 + 65, fluid.temperature_range[1]))
    return np.exp(rng.uniform(np.log(low), np.log(high), count))


def coolprop_time(fluid):
    """Median seconds of CoolProp's own (p, h) call, at the same kind of states."""
    import CoolProp

    state = CoolProp.AbstractState("HEOS", fluid.facts.coolprop)
    source = coolprop.Direct(fluid.facts.coolprop)
    shift = source.single(*probe(fluid), vapour=True)[1]
    state.update(CoolProp.PT_INPUTS, *probe(fluid))
    shift -= state.hmass()
    times = []
    began = time.perf_counter()
    for p, h in zip(*random_states(fluid, STATES, 1), strict=True):
        start = time.perf_counter()
        try:
            state.update(CoolProp.HmassP_INPUTS, h - shift, p)
        except ValueError:
            continue
        times.append(time.perf_counter() - start)
        if time.perf_counter() - began > BUDGET:
            break
    return float(np.median(times)), len(times)


def probe(fluid):
    """A superheated state."""
    return 3e5, float(fluid.dew_temperature(3e5)) + 30


def errors(fluid):
    """Largest errors against CoolProp, by quantity; negative where nothing was compared."""
    source = coolprop.Direct(fluid.facts.coolprop)
    rng = np.random.default_rng(2)
    worst = dict.fromkeys(
        ("T", "rho", "h(T)", "h(s)", "s", "cp", "sat T", "sat h", "sat rho", "x T", "x rho"), -1.0
    )

    def note(**found):
        for key, value in found.items():
            key = key.replace("_", " ").replace("hT", "h(T)").replace("hs", "h(s)")
            worst[key] = max(worst[key], abs(float(value)))

    for p in random_pressures(fluid, STATES, rng):
        s = fluid.saturation(p)
        try:
            bubble = source.saturated(p, 0, float(s.bubble_temperature))
            dew = source.saturated(p, 1, float(s.dew_temperature))
        except coolprop.Missed:
            continue
        for edge, temperature, h, density in (
            (bubble, s.bubble_temperature, s.liquid_enthalpy, s.liquid_density),
            (dew, s.dew_temperature, s.vapour_enthalpy, s.vapour_density),
        ):
            note(sat_T=temperature - edge[0], sat_h=h - edge[1], sat_rho=density * edge[3] - 1)
        for edge, vapour, span in ((dew, True, 90), (bubble, False, -40)):
            temperature = edge[0] + span * rng.random()
            try:
                ours = fluid.state_pt(p, temperature)
            except OutOfRange:
                continue
            found = source.single(p, temperature, vapour, edge[3])
            back = fluid.state_ph(p, found[1])
            note(
                T=back.temperature - temperature,
                rho=back.density * found[3] - 1,
                s=back.entropy - found[2],
                hT=ours.enthalpy - found[1],
                hs=fluid.state_ps(p, found[2]).enthalpy - found[1],
                cp=fluid.heat_capacity(p, found[1]) / found[4] - 1,
            )
        if source.is_mixture:
            try:
                found = source.saturated(p, rng.random())
            except coolprop.Missed:
                continue
            if bubble[0] - 1 < found[0] < dew[0] + 1:
                ours = fluid.state_ph(p, found[1])
                note(x_T=ours.temperature - found[0], x_rho=ours.density * found[3] - 1)
    return worst


def main(names):
    """Print both tables."""
    print(f"{'':8} {'(p,h)':>10} {'(p,h)':>8} {'(p,T)':>8} {'sat':>8} {'dew':>8}", end="")
    print(f" {'CoolProp':>12} {'states':>7} {'ratio':>9}")
    print(f"{'':8} {'100 000':>10} {'100':>8} {'100':>8} {'100':>8} {'100':>8}", end="")
    print(f" {'(p,h), one':>12} {'timed':>7}")
    for name in names:
        fluid = refrigerants.get(name)
        p, h = random_states(fluid, MANY)
        many = median_time(lambda fluid=fluid, p=p, h=h: fluid.state_ph(p, h))
        p, h = p[:FEW], h[:FEW]
        temperature = fluid.state_ph(p, h).temperature
        few = [
            median_time(call, 200)
            for call in (
                lambda fluid=fluid, p=p, h=h: fluid.state_ph(p, h),
                lambda fluid=fluid, p=p, t=temperature: fluid.state_pt(p, t),
                lambda fluid=fluid, p=p: fluid.saturation(p),
                lambda fluid=fluid, p=p: fluid.dew_temperature(p),
            )
        ]
        one, count = coolprop_time(fluid)
        columns = " ".join(f"{1e6 * t:5.0f} us" for t in few)
        print(
            f"{name:8} {1e3 * many:7.1f} ms {columns} {1e6 * one:9.0f} us {count:7d}"
            f" {one / (many / MANY):9.0f}"
        )
    print()
    units = {"T": "mK", "rho": "%", "h": "J/kg", "s": "J/kgK", "cp": "%"}
    scale = {"mK": 1e3, "%": 100, "J/kg": 1, "J/kgK": 1}
    header = None
    for name in names:
        worst = errors(refrigerants.get(name))
        if header is None:
            header = [f"{key} {units[key.split()[-1].split('(')[0]]}" for key in worst]
            print(f"{'':8} " + " ".join(f"{text:>10}" for text in header))
        values = [
            v * scale[text.split()[-1]] for v, text in zip(worst.values(), header, strict=True)
        ]
        print(
            f"{name:8} " + " ".join(f"{v:10.2g}" if v >= 0 else f"{'-':>10}" for v in values),
            flush=True,
        )


if __name__ == "__main__":
    main([refrigerants.official_name(name) for name in sys.argv[1:]] or refrigerants.NAMES)
