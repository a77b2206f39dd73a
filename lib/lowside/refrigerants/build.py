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
SMALLEST_GLIDE = 0.5  # below this, temperature tells the quality along a straight line [K]

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
    rows, last, near = [], None, None
    for u in knots:
        try:
            rows.append(direct.saturated(np.exp(u), quality, near))
            temperature = rows[-1][T]
        except coolprop.Missed:
            rows.append(None)
            temperature = near
        near = temperature if last is None else 2 * temperature - last
        last = temperature
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


def dome(pressure, states, curved):
    """Polynomials across the dome at one pressure.

    Parameters
    ----------
    pressure : float
        [Pa]
    states : numpy.ndarray, shape (2 or DOME_POINTS, 4)
        States from bubble to dew; two of them mean straight lines.
    curved : bool
        Whether the glide is wide enough to tell the quality from the temperature.

    Returns
    -------
    by_enthalpy : numpy.ndarray, shape (3, TERMS)
    to_enthalpy : numpy.ndarray, shape (2, TERMS)
    """

    def fit(coordinate, values):
        result = np.zeros((values.shape[1], TERMS))
        result[:, : len(values)] = through(coordinate, values).T
        return result

    def position(column):
        return (states[:, column] - states[0, column]) / np.ptp(states[[0, -1], column])

    by_enthalpy = fit(position(H), states[:, [T, S, V]] * [1, 1, pressure])
    from_entropy = fit(position(S), states[:, [H]])
    if curved:
        from_temperature = fit(position(T), states[:, [H]])
    else:
        from_temperature = fit(np.array([0.0, 1.0]), states[[0, -1]][:, [H]])
    return by_enthalpy, np.concatenate([from_temperature, from_entropy])


def liquid_spans(bubble, coldest):
    """How far below bubble the liquid region reaches, at every knot [K].

    Parameters
    ----------
    bubble : numpy.ndarray, shape (knots,)
        Bubble temperatures [K].
    coldest : float
        Where the equation of state ends [K].
    """
    low, high = SUBCOOLING_SPANS
    low = min(low, bubble[0] - coldest - 0.2)
    return low + (high - low) * (bubble - bubble[0]) / (bubble[-1] - bubble[0])


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
    knots = np.linspace(np.log(low) - MARGIN, np.log(high) + MARGIN, INTERVALS + 1)
    pressures = np.exp(knots)

    qualities = lobatto(DOME_POINTS) if direct.is_mixture else np.array([0.0, 1.0])
    lines, missed = zip(*(saturated_rows(direct, knots, q) for q in qualities), strict=True)
    if sum(missed) and report:
        report(f"{sum(missed)} of {len(qualities) * len(knots)} saturation states interpolated")
    states = np.stack(lines, axis=1)
    bubble, dew = states[:, 0], states[:, -1]
    if not direct.is_mixture and abs(dew[:, T] - bubble[:, T]).max() < NO_GLIDE:
        dew[:, T] = bubble[:, T]
    curved = direct.is_mixture and (dew[:, T] - bubble[:, T]).min() > SMALLEST_GLIDE

    by_enthalpy = np.zeros((len(knots), 3, 3, TERMS))
    to_enthalpy = np.zeros((len(knots), 3, 2, TERMS))
    columns = {}
    for name, region, edge, width in (
        ("liquid", LIQUID, bubble, liquid_spans(bubble[:, T], direct.lowest_temperature())),
        ("vapour", VAPOUR, dew, np.full(len(knots), SUPERHEAT_SPAN)),
    ):
        spans, heat_capacity = np.zeros((len(knots), 2)), np.zeros(len(knots))
        for k, p in enumerate(pressures):
            fitted = single_phase(direct, p, edge[k], region == VAPOUR, width[k])
            by_enthalpy[k, region], to_enthalpy[k, region], spans[k], heat_capacity[k] = fitted
        columns[f"{name}_temperature_span"] = width
        columns[f"{name}_enthalpy_span"], columns[f"{name}_entropy_span"] = spans.T
        columns[f"{name}_heat_capacity"] = heat_capacity
    for k, p in enumerate(pressures):
        by_enthalpy[k, DOME], to_enthalpy[k, DOME] = dome(p, states[k], curved)
    for name, side in (("bubble", bubble), ("dew", dew)):
        columns[f"{name}_temperature"] = side[:, T]
        columns[f"{name}_enthalpy"] = side[:, H]
        columns[f"{name}_entropy"] = side[:, S]
        columns[f"{name}_pv"] = side[:, V] * pressures
    if direct.is_mixture:
        flow = transport.of_mixture(direct.components(), dew[:, T], bubble[:, T])
    else:
        flow = transport.of_pure(fluid, pressures)
    columns.update(zip(TRANSPORT, flow.T, strict=True))

    return Table(
        log_pressure=np.array([knots[0], knots[1] - knots[0], INTERVALS]),
        limits=np.array([low, high, critical_temperature, critical_pressure]),
        saturation=np.column_stack([columns[name] for name in SATURATION]),
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
