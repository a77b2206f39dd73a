"""A finding: one thing about a set of readings that deserves a second look."""

from __future__ import annotations

from dataclasses import dataclass

SUPERHEAT_AT_COIL = (0.0, 14.0)  # [K] sensible at the evaporator outlet of a running box
SUPERHEAT_ANYWHERE = (0.0, 35.0)  # [K] sensible up to the compressor inlet
SUBCOOLING = (0.0, 20.0)  # [K] sensible in the liquid line
BOX_OVER_DEW = 25.0  # [K] box air over evaporating; more is unusual
DEW_OVER_AMBIENT = 30.0  # [K] condensing over the air; more is unusual
HELD_UP = 303.15  # [K] up to which head-pressure control may hold condensing on a cold day
HOT_DISCHARGE = 378.15  # [K] 105 °C at the discharge line: oil suffers above
COOL_DISCHARGE = 5.0  # [K] by which gauges and clamps together may miss a loss-free compression
RUNS_IN_A_VACUUM = 253.15  # [K] a fluid that boils above this in open air; common practice


@dataclass(frozen=True)
class Finding:
    """One thing about the readings that deserves a second look.

    Parameters
    ----------
    code : str
        Stable plain name, such as ``"suction above head"``.
    weight : {"impossible", "look again", "note"}
        How sure it is that something is off.
    template : str
        Sentence with fields to be filled by `numbers`.
    numbers : dict
        Field name -> (SI value, kind).
    """

    code: str
    weight: str
    template: str
    numbers: dict

    def sentence(self, show):
        """Word the finding in the units of `show` (a ``readout.Readout``)."""
        texts = {key: show.text(value, kind) for key, (value, kind) in self.numbers.items()}
        return self.template.format(**texts)


def temperatures(**values):
    """Give a finding temperatures to fill in.

    Parameters
    ----------
    **values : float
        By the name of their field. [K]

    Returns
    -------
    dict
        Field name -> (SI value, kind).
    """
    return {name: (value, "temperature") for name, value in values.items()}


def differences(**values):
    """Give a finding temperature differences to fill in.

    Parameters
    ----------
    **values : float
        By the name of their field. [K]

    Returns
    -------
    dict
        Field name -> (SI value, kind).
    """
    return {name: (value, "temperature_difference") for name, value in values.items()}


def gauges(**values):
    """Give a finding pressures to fill in, as a gauge shows them.

    Parameters
    ----------
    **values : float
        By the name of their field, absolute. [Pa]

    Returns
    -------
    dict
        Field name -> (SI value, kind).
    """
    return {name: (value, "gauge_pressure") for name, value in values.items()}
