"""A valve built from parts of the kit."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside import valve

from . import parts, shelf


@dataclass(frozen=True)
class Setting:
    """How the spring is set: where the valve shall just open.

    Attributes
    ----------
    static_superheat : float
        At which the pin leaves its seat. [K]
    evaporating_temperature : float
        Dew point at which it is set. [K]
    pressure_difference : float
        Across the port at which it is set. [Pa]
    """

    static_superheat: float
    evaporating_temperature: float
    pressure_difference: float


@dataclass(frozen=True)
class Build:
    """Body, cartridge and power element that fit together.

    Attributes
    ----------
    body : parts.Body
    cartridge : parts.Cartridge
    element : parts.Element
    """

    body: parts.Body
    cartridge: parts.Cartridge
    element: parts.Element

    @property
    def key(self):
        """The keys of its three parts, as a tuple of str."""
        return self.body.key, self.cartridge.key, self.element.key

    def valve(self, setting, discharge="wile"):
        """Put it together.

        Parameters
        ----------
        setting : Setting
            Of the spring.
        discharge : {"wile", "constant"}
            As in `valve.Valve`.

        Returns
        -------
        valve.Valve
        """
        return assembled(
            self.cartridge.hardware, self.element, setting, self.body.external, discharge
        )

    def sentence(self):
        """Say what it is in one sentence; a port is in millimetres everywhere."""
        return (
            f"{self.cartridge.key} cartridge in a {self.body.name} with {self.body.equaliser} "
            f"equaliser, power element with {self.element.key}"
        )


def assembled(port, element, setting, external, discharge="wile"):
    """Put a port, or many, and a power element together.

    Parameters
    ----------
    port : valve.Port
        Its numbers may be arrays.
    element : parts.Element
        With its spring.
    setting : Setting
        Of the spring.
    external : bool or ndarray of bool
        External equaliser, or internal.
    discharge : {"wile", "constant"}
        As in `valve.Valve`.

    Returns
    -------
    valve.Valve
    """
    spring = valve.Spring(
        element.spring_rate,
        setting.static_superheat,
        setting.evaporating_temperature,
        setting.pressure_difference,
    )
    return valve.Valve(port, element.hardware, spring, external, discharge)


def side_by_side(cartridges):
    """Put the ports of several cartridges into one, to be solved together.

    Parameters
    ----------
    cartridges : sequence of Cartridge or valve.Port
        Any number of them.

    Returns
    -------
    valve.Port
        Its numbers have one place for each cartridge.
    """
    ports = [getattr(part, "hardware", part) for part in cartridges]
    return valve.Port(
        *(
            np.array([float(getattr(port, name)) for port in ports])
            for name in ("diameter", "half_angle", "max_lift", "balance")
        )
    )


def builds(refrigerant, connection=None):
    """Every valve that can be built for a refrigerant.

    Parameters
    ----------
    refrigerant : str
        Name.
    connection : {"flare", "braze"}, optional
        Only with this connection.

    Returns
    -------
    tuple of Build
        By body, cartridge and element.

    Raises
    ------
    UnknownName
        If the kit has no element for it, or no such connection.
    """
    connections = parts.CONNECTIONS if connection is None else (connection,)
    fitting = shelf.elements(refrigerant)
    return tuple(
        Build(body, cartridge, element)
        for cartridge in shelf.the_kit().cartridges
        for each in connections
        for external in (False, True)
        for body in shelf.bodies(each, external, cartridge.port)
        for element in fitting
    )


def port_band(port, refrigerant, reference, evaporating_temperature, condensing_temperature):
    """Port that gives one refrigerant the cooling that another has: a band, never one number.

    At the same lift share. How much more a refrigerant cools through the same opening depends on
    the model of the jet; where liquid densities differ much, as between propane and a fluorinated
    blend, the models disagree so much that only the two ends can be given.

    Parameters
    ----------
    port : float
        Right for `reference`. [m]
    refrigerant, reference : Refrigerant
        That the port is wanted for, and that it is known for.
    evaporating_temperature, condensing_temperature : float
        Dew points of both. [K]

    Returns
    -------
    tuple of float
        Smallest and largest port. [m]

    Raises
    ------
    OutOfRange
        If a temperature lies outside the range of either refrigerant, or for a port that is none.
    """
    share = 0.6
    area = valve.standard_port(port).area(share * valve.STANDARD_LIFT)
    ratios = valve.capacity_ratio_band(
        refrigerant, reference, evaporating_temperature, condensing_temperature
    )
    found = sorted(float(valve.port_for_area(area / ratio, share).diameter) for ratio in ratios)
    return found[0], found[1]
