"""Port and pin of a valve."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.errors import require

BORE_LIMIT = 0.9  # share of the bore that the open annulus can reach
STANDARD_ANGLE = np.pi / 6  # [rad] half-angle of the usual pin
STANDARD_LIFT = 0.5e-3  # [m]


@dataclass(frozen=True)
class Port:
    """Port and pin. Every parameter may be an array, one value a port.

    Parameters
    ----------
    diameter : float or ndarray
        Bore. [m]
    half_angle : float or ndarray
        Of the conical pin; a small angle is a slender pin that opens slowly. [rad]
    max_lift : float or ndarray
        Travel of the pin from its seat to the stop. [m]
    balance : float or ndarray
        Share of the port force that the construction cancels: 0 conventional, 1 balanced. [-]

    Raises
    ------
    OutOfRange
        For a bore, an angle, a travel or a balance that no port can have.
    """

    diameter: float | np.ndarray
    half_angle: float | np.ndarray = STANDARD_ANGLE
    max_lift: float | np.ndarray = STANDARD_LIFT
    balance: float | np.ndarray = 0.0

    def __post_init__(self):
        require("port diameter", self.diameter, 0.0, None, "port", open_low=True)
        require("half-angle of the pin", self.half_angle, 0.0, np.pi / 2, "angle", open_low=True)
        require("travel of the pin", self.max_lift, 0.0, None, "length", open_low=True)
        require("balanced share of the port force", self.balance, 0.0, 1.0, "ratio")

    @property
    def bore_area(self):
        """Area of the bore [m2]."""
        return 0.25 * np.pi * np.asarray(self.diameter) ** 2

    @property
    def exposed_area(self):
        """Area on which the pressure drop pushes the pin open [m2]."""
        return (1.0 - np.asarray(self.balance)) * self.bore_area

    @property
    def largest_area(self):
        """Flow area with the pin at its stop [m2]."""
        return self.area(self.max_lift)

    def area(self, lift):
        """Flow area of the annulus between the seat and a conical pin.

        Parameters
        ----------
        lift : float or ndarray
            Distance from the seat. [m]

        Returns
        -------
        float or ndarray
            [m2]
        """
        slant = np.minimum(np.asarray(lift) * np.sin(self.half_angle), self._limiting_slant)
        return np.pi * slant * (self.diameter - slant * np.cos(self.half_angle))

    def area_slope(self, lift):
        """Change of flow area with lift; zero once the bore itself limits the flow.

        Parameters
        ----------
        lift : float or ndarray
            [m]

        Returns
        -------
        float or ndarray
            [m2/m]
        """
        sine, cosine = np.sin(self.half_angle), np.cos(self.half_angle)
        slant = np.asarray(lift) * sine
        slope = np.pi * sine * (self.diameter - 2.0 * slant * cosine)
        return np.where(slant < self._limiting_slant, slope, 0.0)

    def lift_for(self, area):
        """Lift that opens a flow area; areas beyond the bore limit get the lift of the limit.

        Parameters
        ----------
        area : float or ndarray
            [m2]

        Returns
        -------
        float or ndarray
            [m]
        """
        bounded = np.clip(area, 0.0, BORE_LIMIT * self.bore_area)
        return _slant(bounded, self.diameter, self.half_angle) / np.sin(self.half_angle)

    @property
    def _limiting_slant(self):
        return _slant(BORE_LIMIT * self.bore_area, self.diameter, self.half_angle)


def standard_port(diameter, balance=0.0, max_lift=STANDARD_LIFT):
    """Port with the usual pin: 30°, and shallower below about 0.75 mm of bore.

    A 30° pin would free a very small port long before its stop and waste the rest of the travel,
    so the smallest ports get a slender pin that reaches the bore limit just at the stop.

    Parameters
    ----------
    diameter : float or ndarray
        Bore. [m]
    balance : float or ndarray
        0 conventional, 1 balanced. [-]
    max_lift : float or ndarray
        [m]

    Returns
    -------
    Port
    """
    require("port diameter", diameter, 0.0, None, "port", open_low=True)
    diameter = np.asarray(diameter, dtype=float)
    angle = np.full(np.broadcast_shapes(diameter.shape, np.shape(max_lift)), STANDARD_ANGLE)
    for _ in range(15):  # sin(a) = slant(a) / y_max contracts: the slant hardly knows the angle
        slant = _slant(BORE_LIMIT * 0.25 * np.pi * diameter**2, diameter, angle)
        angle = np.minimum(np.arcsin(np.minimum(slant / max_lift, 1.0)), STANDARD_ANGLE)
    return Port(diameter[()], angle[()], max_lift, balance)


def port_for_area(area, lift_share, balance=0.0, max_lift=STANDARD_LIFT):
    """Port with the usual pin that opens a flow area at a share of its travel.

    Parameters
    ----------
    area : float or ndarray
        Wanted. [m2]
    lift_share : float or ndarray
        Lift over full travel. [-]
    balance : float or ndarray
        0 conventional, 1 balanced. [-]
    max_lift : float or ndarray
        [m]

    Returns
    -------
    Port
    """
    require("flow area of the port", area, 0.0, None, "area", open_low=True)
    lift = np.asarray(lift_share) * max_lift
    diameter = np.sqrt(np.asarray(area, dtype=float)) + 0.0 * lift
    for _ in range(40):  # area grows as the first to second power of the bore: this contracts
        opened = standard_port(diameter, balance, max_lift).area(lift)
        diameter = diameter * (area / opened) ** 0.65
        if np.all(np.abs(opened / area - 1.0) < 1e-13):
            break
    return standard_port(diameter, balance, max_lift)


def _slant(area, diameter, half_angle):
    """Distance y sin(a) along which the cone has left the seat, for a flow area."""
    cosine = np.cos(half_angle)
    root = np.sqrt(np.maximum(np.square(diameter) - 4.0 * cosine * area / np.pi, 0.0))
    return 2.0 * area / np.pi / (diameter + root)
