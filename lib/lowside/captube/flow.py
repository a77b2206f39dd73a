"""The homogeneous model: friction, flashing and choking, for any number of tubes at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..errors import OutOfRange
from .solver import Tubes


@dataclass(frozen=True)
class CapTubeFlow:
    """What passes a capillary tube; every field has the shape of the broadcast inputs.

    Attributes
    ----------
    mass_flow : ndarray
        [kg/s]
    mass_flux : ndarray
        Mass flow over the cross-section. [kg/(m2 s)]
    choked : ndarray of bool
        The pressure inside the end stays above the outlet pressure; lowering that changes nothing.
    exit_pressure : ndarray
        Just inside the end of the tube. [Pa]
    exit_quality : ndarray
        Mass quality just inside the end, at the speed it has there. [1]
    flash_pressure : ndarray
        Pressure where the entering liquid starts to flash; for a flashing inlet the inlet
        pressure. [Pa]
    liquid_length : ndarray
        Length still filled with liquid. [m]
    """

    mass_flow: np.ndarray
    mass_flux: np.ndarray
    choked: np.ndarray
    exit_pressure: np.ndarray
    exit_quality: np.ndarray
    flash_pressure: np.ndarray
    liquid_length: np.ndarray


def flow(
    tube, refrigerant, inlet_pressure, inlet_enthalpy, outlet_pressure, *, check=True, start=None
):
    """Mass flow through an adiabatic capillary tube, choked or not.

    Along the tube dL = -(2D/f) (dp/(G² v) + dv/v) at constant stagnation enthalpy, with Churchill's
    friction factor and the mixture viscosity of McAdams; choking is where the length would be
    greatest. This is the homogeneous model of the textbooks (Stoecker and Jones 1982, ch. 13).

    Parameters
    ----------
    tube : CapTube
        Its fields may be arrays.
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    inlet_pressure : array_like
        In front of the tube. [Pa]
    inlet_enthalpy : array_like
        In front of the tube; subcooled liquid or two-phase. [J/kg]
    outlet_pressure : array_like
        In the evaporator. [Pa]
    check : bool
        Refuse what the model does not cover. Without it the answer is always finite, and the flow
        is 0 where the outlet pressure is not below the inlet's.
    start : tuple of two ndarray, optional
        `mass_flux` and `exit_pressure` of tubes like these, in the broadcast shape, to begin the
        search with. [kg/(m2 s)], [Pa]

    Returns
    -------
    CapTubeFlow
        Arrays of the broadcast shape.

    Raises
    ------
    OutOfRange
        With ``check``: a pressure outside the refrigerant's range, an outlet pressure not below
        the inlet's, or a superheated inlet.
    """
    tubes = Tubes(tube, refrigerant, inlet_pressure, inlet_enthalpy, outlet_pressure)
    if check:
        _check(tubes)
    still = tubes.outlet >= tubes.inlet * (1.0 - 1e-6)
    tubes.outlet = np.where(still, 0.5 * tubes.inlet, tubes.outlet)
    tubes.prepare()
    found = tubes.solve(None if start is None else tuple(np.ravel(each) for each in start))
    flux = np.where(still, 0.0, np.exp(0.5 * found.log_square))
    fields = {
        "mass_flow": flux * 0.25 * np.pi * np.square(tubes.bore),
        "mass_flux": flux,
        "choked": ~still & (found.log_choke > np.log(tubes.outlet) + 1e-6),
        "exit_pressure": np.where(still, tubes.inlet, np.exp(found.log_end)),
        "exit_quality": np.where(still, tubes.quality, np.clip(found.quality, 0.0, 1.0)),
        "flash_pressure": tubes.flash,
        "liquid_length": np.minimum(found.liquid, tubes.length),
    }
    return CapTubeFlow(**{name: value.reshape(tubes.shape) for name, value in fields.items()})


def _check(tubes):
    low, high = tubes.refrigerant.pressure_range
    name = tubes.refrigerant.name
    for what, pressure in (("inlet", tubes.inlet), ("outlet", tubes.outlet)):
        bad = ~((pressure >= low) & (pressure <= high))
        if np.any(bad):
            raise OutOfRange(
                f"pressure of {name} at the {what} of the capillary tube",
                pressure[bad][0],
                low,
                high,
                "pressure",
            )
    bad = tubes.outlet >= tubes.inlet
    if np.any(bad):
        raise OutOfRange(
            "pressure behind the capillary tube",
            tubes.outlet[bad][0],
            None,
            tubes.inlet[bad][0],
            "pressure",
        )
    dry = tubes.refrigerant.saturation(tubes.inlet, check=False).vapour_enthalpy
    bad = ~(tubes.enthalpy <= dry)
    if np.any(bad):
        raise OutOfRange(
            f"enthalpy of {name} in front of the capillary tube (superheated vapour there)",
            tubes.enthalpy[bad][0],
            None,
            dry[bad][0],
            "enthalpy",
        )


def profile(tube, refrigerant, inlet_pressure, inlet_enthalpy, outlet_pressure, points=60):
    """Pressure, temperature and quality along one capillary tube, for a drawing.

    Parameters
    ----------
    tube : CapTube
        With scalar fields.
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    inlet_pressure, outlet_pressure : float
        [Pa]
    inlet_enthalpy : float
        [J/kg]
    points : int
        Number of points in the flashing part.

    Returns
    -------
    position : ndarray
        Distance from the inlet, from 0 to the tube's length. [m]
    pressure : ndarray
        [Pa]
    temperature : ndarray
        Of the liquid and, where it flashes, of the mixture at its bubble point. [K]
    quality : ndarray
        [1]

    Raises
    ------
    OutOfRange
        As `flow`.
    """
    passing = flow(tube, refrigerant, inlet_pressure, inlet_enthalpy, outlet_pressure)
    tubes = Tubes(tube, refrigerant, inlet_pressure, inlet_enthalpy, outlet_pressure)
    tubes.prepare()
    square = np.square(passing.mass_flux.reshape(1))
    first = tubes.inlet - square * tubes.entrance
    liquid, log_start = tubes.liquid_part(square)
    log_end = np.log(passing.exit_pressure.reshape(1))
    flashing, quality, along = (each[0] for each in tubes.march(square, log_start, log_end, points))
    # The march's small steps are not the solver's nodes: let both end where the tube ends.
    along = np.maximum.accumulate(along)
    along *= (tubes.length - liquid) / along[-1] if along[-1] > 0.0 else 0.0
    pressure = np.concatenate([tubes.inlet, first, flashing])
    warm = refrigerant.state_ph(tubes.inlet, tubes.enthalpy, check=False).temperature
    boiling = refrigerant.bubble_temperature(pressure, check=False)
    return (
        np.concatenate([[0.0, 0.0], liquid + along]),
        pressure,
        np.minimum(boiling, warm),
        np.concatenate([tubes.quality, tubes.quality, np.clip(quality, 0.0, 1.0)]),
    )
