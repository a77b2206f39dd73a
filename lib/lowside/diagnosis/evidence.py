"""What can be measured at a box, what it costs, and how a diagnosis counts it.

A diagnosis counts in numbers in which boxes answer evenly: saturation temperatures instead of
gauge pressures, logarithms of current, power and grams.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.faults.instruments import errors as instrument_errors
from lowside.faults.instruments import read

#: [K] Superheat answered by one turn of the stem, out.
ONE_TURN = 2.0


@dataclass(frozen=True)
class Measurement:
    """Something to measure.

    Attributes
    ----------
    key, label : str
        Name in programs and in words.
    kind : str
        A name in ``readout.kinds.KINDS``.
    minutes : float
        That it takes. Assumed.
    opens : bool
        Whether it costs refrigerant: a hose takes its share of a small charge.
    model_error : float
        Standard deviation that the model may be off by besides its `Uncertainty`, in the numbers
        that the diagnosis counts in: what the correlations and the proportions owe. Assumed.
    caution : str
        Said wherever this is asked for; may be empty.
    """

    key: str
    label: str
    kind: str
    minutes: float
    opens: bool = False
    model_error: float = 0.0
    caution: str = ""


MEASUREMENTS = (
    Measurement("suction_pressure", "suction gauge", "gauge_pressure", 4, True, 0.7),
    Measurement("suction_temperature", "suction line at the bulb", "temperature", 2, False, 0.7),
    Measurement("head_pressure", "head gauge", "gauge_pressure", 4, True, 0.8),
    Measurement("liquid_temperature", "liquid line", "temperature", 2, False, 0.8),
    Measurement("discharge_temperature", "discharge line", "temperature", 2, False, 3.0),
    Measurement("drier_drop", "colder behind the drier", "temperature_difference", 3, False, 0.3),
    Measurement(
        "strainer_drop", "colder behind the strainer", "temperature_difference", 3, False, 0.3
    ),
    Measurement(
        "box_air_drop", "air cooled in the evaporator", "temperature_difference", 3, False, 0.5
    ),
    Measurement(
        "condenser_air_rise", "air warmed in the condenser", "temperature_difference", 3, False, 0.5
    ),
    Measurement("current", "compressor current", "current", 3, False, 0.05),
    Measurement("power", "compressor power", "power", 5, False, 0.05),
    Measurement(
        "stem_answer",
        "superheat gained by one turn of the stem, out",
        "temperature_difference",
        25,
        False,
        0.5,
        "Count the turns and put them back. Wait for the box to settle, and watch for liquid "
        "coming back to the compressor.",
    ),
    Measurement(
        "charge",
        "all of the charge, recovered and weighed",
        "charge",
        60,
        True,
        0.0,
        "Recover into a cylinder fit for the refrigerant, never over its fill limit. Flammable: no "
        "ignition source, meter on, fan running. Licensed practice and local code rule.",
    ),
)
KEYS = tuple(measurement.key for measurement in MEASUREMENTS)
_BY_KEY = {measurement.key: measurement for measurement in MEASUREMENTS}
_LOGARITHMS = ("current", "power", "charge")
_STEM_ERROR = 1.0  # [K]
_CHARGE_ERROR = 0.04  # of the charge: hoses, scale, what stays in the oil; common practice


def get(key):
    """One of the measurements, by its key.

    Parameters
    ----------
    key : str
        One of `KEYS`.

    Returns
    -------
    Measurement
    """
    return _BY_KEY[key]


def counted(refrigerant, key, value):
    """Turn a reading into the number that a diagnosis counts in.

    Parameters
    ----------
    refrigerant : Refrigerant
    key : str
        One of `KEYS`.
    value : float or ndarray
        [SI of its kind]

    Returns
    -------
    float or ndarray
        Dew temperature of a gauge [K], logarithm of current, power and charge [-], else as it is.
    """
    if key in ("suction_pressure", "head_pressure"):
        return refrigerant.dew_temperature(value, check=False)
    return np.log(value) if key in _LOGARITHMS else value


def plain(refrigerant, key, number):
    """Turn a counted number back into what the instrument shows: the inverse of `counted`.

    Parameters
    ----------
    refrigerant : Refrigerant
    key : str
        One of `KEYS`.
    number : float or ndarray
        As `counted` gives it.

    Returns
    -------
    float or ndarray
        [SI of its kind]
    """
    if key in ("suction_pressure", "head_pressure"):
        return refrigerant.dew_pressure(number, check=False)
    return np.exp(number) if key in _LOGARITHMS else number


def predicted(refrigerant, result, turned=None):
    """Predict what would be counted at solved boxes.

    Parameters
    ----------
    refrigerant : Refrigerant
    result : system.BoxResult
    turned : system.BoxResult, optional
        The same boxes after one turn of the stem.

    Returns
    -------
    ndarray, shape (n, number of measurements)
        In the order of `KEYS`; zero for the stem where `turned` is not given.
    """
    shown = read(refrigerant, result) | {"charge": result.charge}
    shown["stem_answer"] = np.zeros(np.shape(result.superheat))
    if turned is not None:
        shown["stem_answer"] = result.superheat - turned.superheat
    columns = [counted(refrigerant, key, np.asarray(shown[key])) for key in KEYS]
    return np.stack(columns, axis=-1)


def instrument_error(refrigerant, result):
    """Give the standard deviation of what is counted, from the instruments alone.

    Parameters
    ----------
    refrigerant : Refrigerant
    result : system.BoxResult
        Of one box, near which the readings lie.

    Returns
    -------
    ndarray, shape (number of measurements,)
    """
    half = instrument_errors(refrigerant, read(refrigerant, result))
    off = {key: float(np.mean(half[key])) for key in KEYS if key in half}
    off["suction_pressure"] = float(np.mean(half["evaporating_temperature"]))
    off["head_pressure"] = float(np.mean(half["condensing_temperature"]))
    for key in ("current", "power"):
        off[key] = off[key] / float(np.mean(getattr(result, key)))
    # Instruments are off evenly within their half-width.
    spread = {key: value / np.sqrt(3.0) for key, value in off.items()}
    spread |= {"stem_answer": _STEM_ERROR, "charge": _CHARGE_ERROR}
    return np.array([spread[key] for key in KEYS])
