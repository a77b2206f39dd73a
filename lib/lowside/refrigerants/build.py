"""Make the property tables of ``data/properties`` from CoolProp.

``python -m lowside.refrigerants.build`` makes all, ``... build R290 R448A`` those named. Equal
input gives equal bytes; the manifest records CoolProp's version and the checksum.

Method. Knots are uniform in ln p. At every knot the saturation states are stored, and for each of
the three regions (liquid, two-phase, vapour) polynomials in a coordinate from 0 to 1 that starts on
the saturation line: enthalpy counted from there for T, s and p v, temperature and entropy for the
way back to enthalpy. They interpolate CoolProp exactly at Chebyshev-Lobatto points. Between knots
every coefficient is a cubic spline, so there is no iteration when the tables are used.
"""

from __future__ import annotations

import argparse
import sys
import time

import numpy as np

from .. import store
from . import coolprop, transport
from .tables import DOME, LIQUID, SATURATION, TRANSPORT, VAPOUR, Table

INTERVALS = 96
TERMS = 10  # of every polynomial
DOME_POINTS = 8  # across the dome of a blend with a mixture model
COLDEST_DEW = 273.15 - 60
SUPERHEAT_SPAN = 120.0
SUBCOOLING_SPANS = 40.0, 90.0  # at the lowest and at the highest pressure [K]
TOP = 0.9  # of critical pressure: the public limit
MARGIN = 0.005  # in ln p: the tables reach a little further than the public range
NO_GLIDE = 1e-6  # smaller is CoolProp's rounding in a pure fluid [K]
SMALLEST_GLIDE = 0.5  # below this the way from T to h across the dome is a straight line [K]

T, H, S, V = range(4)


def lobatto(terms):
    """Chebyshev-Lobatto points from 0 to 1, ends included."""
    return (1 - np.cos(np.pi * np.arange(terms) / (terms - 1))) / 2


def through(x, values):
    """Power coefficients of the polynomials through points: shape (terms, ...)."""
    return np.linalg.solve(np.vander(x, increasing=True), values)


def fill(knots, rows):
    """Fill rows that are missing (None) by polynomials through the six nearest knots."""
    found = np.array([k for k, row in enumerate(rows) if row is not None])
    filled = list(rows)
    for k, row in enumerate(rows):
        if row is None:
            near = np.sort(found[np.argsort(abs(found - k), kind="stable")[:6]])
            x = (knots[near] - knots[k]) / (knots[1] - knots[0])
            filled[k] = through(x, np.array([rows[i] for i in near]))[0]
    return np.array(filled), len(rows) - len(found)


def saturated_rows(direct, knots, quality):
    """Saturated states at all knots, walking up in pressure so that wrong roots are noticed."""
    rows, temperatures = [], []
    for u in knots:
        near = None
        if len(temperatures) > 1:
            near = 2 * temperatures[-1] - temperatures[-2]
        elif temperatures:
            near = temperatures[-1]
        try:
            rows.append(direct.saturated(np.exp(u), quality, near))
            temperatures.append(rows[-1][T])
        except coolprop.Missed:
            rows.append(None)
            temperatures.append(near)
    return fill(knots, rows)


def single_phase(direct, pressure, edge, vapour, span):
    """Polynomials of one single-phase region at one pressure, and its spans.

    Parameters
    ----------
    direct : coolprop.Direct
    pressure : float
        [Pa]
    edge : numpy.ndarray
        Saturated state: temperature, enthalpy, entropy, volume.
    vapour : bool
    span : float
        Width of the region in temperature [K].

    Returns
    -------
    by_enthalpy : numpy.ndarray, shape (3, TERMS)
    to_enthalpy : numpy.ndarray, shape (2, TERMS)
    spans : numpy.ndarray, shape (2,)
        In enthalpy and in entropy, positive.
    heat_capacity : float
        On the saturation line [J/(kg K)].
    """
    sign = 1 if vapour else -1
    end = direct.single(pressure, edge[T] + sign * span, vapour)
    heat_capacity = direct.single(pressure, edge[T], vapour, edge[V])[4]

    def along(column):
        targets = edge[column] + lobatto(TERMS) * (end[column] - edge[column])
        states = [edge]
        for target in targets[1:-1]:
            states.append(direct.at(pressure, target, column, vapour, states[-1])[:4])
        return np.array([*states, end[:4]])

    x = lobatto(TERMS)
    by_enthalpy = through(x, along(H)[:, [T, S, V]] * [1, 1, pressure]).T
    by_temperature = [edge[H]] + [
        direct.single(pressure, edge[T] + sign * span * part, vapour, edge[V])[H] for part in x[1:]
    ]
    to_enthalpy = through(x, np.column_stack([by_temperature, along(S)[:, H]])).T
    spans = abs(end[[H, S]] - edge[[H, S]])
    return by_enthalpy, to_enthalpy, spans, heat_capacity


def dome(pressure, states):
    """Polynomials across the dome at one pressure.

    Parameters
    ----------
    pressure : float
        [Pa]
    states : numpy.ndarray, shape (2 or DOME_POINTS, 4)
        States from bubble to dew; two of them mean straight lines.
    """
    bubble, dew = states[0], states[-1]

    def fit(coordinate, values):
        result = np.zeros((values.shape[1], TERMS))
        result[:, : len(values)] = through(coordinate, values).T
        return result

    def position(column):
        return (states[:, column] - bubble[column]) / (dew[column] - bubble[column])

    by_enthalpy = fit(position(H), states[:, [T, S, V]] * [1, 1, pressure])
    ends = states[[0, -1]][:, [H]]
    straight = fit(np.array([0.0, 1.0]), ends)
    wide = dew[T] - bubble[T] > SMALLEST_GLIDE
    from_temperature = fit(position(T), states[:, [H]]) if wide else straight
    to_enthalpy = np.concatenate([from_temperature, fit(position(S), states[:, [H]])])
    return by_enthalpy, to_enthalpy


def make(fluid, coldest_dew=COLDEST_DEW, report=None):
    """Compute the table of one fluid.

    Parameters
    ----------
    fluid : str
        CoolProp's name, ``.mix`` for blends with a mixture model.
    coldest_dew : float, optional
        Dew temperature at the lowest pressure [K].
    report : callable, optional
        Gets one line of text about what had to be filled.

    Returns
    -------
    Table
    """
    direct = coolprop.Direct(fluid)
    critical_temperature, critical_pressure = direct.critical_point()
    low = direct.saturation_pressure(coldest_dew, 1)
    high = TOP * critical_pressure
    start, stop = np.log(low) - MARGIN, np.log(high) + MARGIN
    knots = np.linspace(start, stop, INTERVALS + 1)
    pressures = np.exp(knots)

    qualities = lobatto(DOME_POINTS) if direct.is_mixture else np.array([0.0, 1.0])
    lines, missed = zip(*(saturated_rows(direct, knots, q) for q in qualities), strict=True)
    if sum(missed) and report:
        report(f"{sum(missed)} of {len(qualities) * len(knots)} saturation states interpolated")
    states = np.stack(lines, axis=1)
    bubble, dew = states[:, 0], states[:, -1]
    if len(direct.components()) == 1 and abs(dew[:, T] - bubble[:, T]).max() < NO_GLIDE:
        dew[:, T] = bubble[:, T]

    narrow = min(SUBCOOLING_SPANS[0], bubble[0, T] - direct.lowest_temperature() - 0.2)
    warmth = (bubble[:, T] - bubble[0, T]) / (bubble[-1, T] - bubble[0, T])
    liquid_span = narrow + (SUBCOOLING_SPANS[1] - narrow) * warmth

    by_enthalpy = np.zeros((len(knots), 3, 3, TERMS))
    to_enthalpy = np.zeros((len(knots), 3, 2, TERMS))
    saturation = dict.fromkeys(SATURATION)
    spans = np.zeros((len(knots), 2, 2))
    heat_capacity = np.zeros((len(knots), 2))
    for k, p in enumerate(pressures):
        for phase, region, edge, width in (
            (0, LIQUID, bubble[k], liquid_span[k]),
            (1, VAPOUR, dew[k], SUPERHEAT_SPAN),
        ):
            fitted = single_phase(direct, p, edge, bool(phase), width)
            by_enthalpy[k, region], to_enthalpy[k, region] = fitted[:2]
            spans[k, phase], heat_capacity[k, phase] = fitted[2:]
        by_enthalpy[k, DOME], to_enthalpy[k, DOME] = dome(p, states[k])

    for name, side in (("bubble", bubble), ("dew", dew)):
        saturation[f"{name}_temperature"] = side[:, T]
        saturation[f"{name}_enthalpy"] = side[:, H]
        saturation[f"{name}_entropy"] = side[:, S]
        saturation[f"{name}_pv"] = side[:, V] * pressures
    for phase, name in enumerate(("liquid", "vapour")):
        saturation[f"{name}_enthalpy_span"] = spans[:, phase, 0]
        saturation[f"{name}_entropy_span"] = spans[:, phase, 1]
        saturation[f"{name}_heat_capacity"] = heat_capacity[:, phase]
    saturation["liquid_temperature_span"] = liquid_span
    saturation["vapour_temperature_span"] = np.full(len(knots), SUPERHEAT_SPAN)
    if direct.is_mixture:
        flow = transport.of_mixture(direct.components(), dew[:, T], bubble[:, T])
    else:
        flow = transport.of_pure(fluid, pressures)
    saturation.update(zip(TRANSPORT, flow.T, strict=True))

    return Table(
        log_pressure=np.array([start, knots[1] - knots[0], INTERVALS]),
        limits=np.array([low, high, critical_temperature, critical_pressure]),
        saturation=np.column_stack([saturation[name] for name in SATURATION]),
        by_enthalpy=by_enthalpy,
        to_enthalpy=to_enthalpy,
    )


def main(arguments=None):
    """Build the tables named on the command line and list them in the manifest.

    Parameters
    ----------
    arguments : list of str, optional
        Command line; that of the process if not given.
    """
    from . import facts

    parser = argparse.ArgumentParser(
        prog="python -m lowside.refrigerants.build",
        description="Make property tables in data/properties from CoolProp.",
    )
    parser.add_argument("names", nargs="*", help="refrigerants; all if none is named")
    names = parser.parse_args(arguments).names or facts.NAMES
    entries = {}
    for name in map(facts.official_name, names):
        began = time.perf_counter()
        fluid = facts.of(name).coolprop
        table = make(fluid, report=lambda line, name=name: print(f"{name:8} {line}"))
        file = f"properties/{name}.npz"
        target = store.data_dir() / file
        target.parent.mkdir(exist_ok=True)
        np.savez(target, **table.arrays)
        entries[file] = {
            "source": f"CoolProp {coolprop.version()}, HEOS, {fluid}",
            "made_by": f"python -m lowside.refrigerants.build {name}",
        }
        print(f"{name:8} {time.perf_counter() - began:6.1f} s  {target.stat().st_size} bytes")
    store.update(entries=entries)
    return 0


if __name__ == "__main__":
    sys.exit(main())
