"""What nobody can know of a strange box, as numbers that disturb it."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np

from lowside import captube
from lowside.faults import Family

MEASURED_AIR = 0.7  # [K] air temperature that somebody read
GUESSED_AMBIENT, GUESSED_BOX = 6.0, 4.0  # [K] where nobody did
TUBE_CHARGE = 0.12


@dataclass(frozen=True)
class Uncertainty:
    """Standard deviations of what a diagnosis assumes about a box.

    The first are logarithms: 0.15 means that the assumed number is right to about 15 %.

    Parameters
    ----------
    evaporator, condenser : float
        Conductance of the air sides. [-]
    evaporator_air, condenser_air : float
        Air flows. [-]
    swept, efficiency : float
        Compressor. [-]
    charge : float
        Grams: weighed in, and counted by a void-fraction model that may be wrong. [-]
    metering : float
        Bore of port or tube. [-]
    static_superheat : float
        Setting of the spring. [K]
    shell_loss : float
        Share of the power leaving through the shell, hence the discharge temperature. [-]
    line : float
        Heat through the walls of the lines. [-]
    box_temperature, ambient_temperature : float
        Of the air that enters the coils. [K]
    """

    evaporator: float = 0.15
    condenser: float = 0.15
    evaporator_air: float = 0.12
    condenser_air: float = 0.12
    swept: float = 0.10
    efficiency: float = 0.08
    charge: float = 0.06
    metering: float = 0.04
    static_superheat: float = 1.0
    shell_loss: float = 0.08
    line: float = 0.5
    box_temperature: float = MEASURED_AIR
    ambient_temperature: float = MEASURED_AIR

    @classmethod
    def usual(cls, family, ambient_measured=True, box_measured=True):
        """Give what is usual for a kind of box.

        Parameters
        ----------
        family : faults.Family
            A capillary tube leaves flow, flooding and grams hanging together, so that the grams
            that suit one box suit the next less well.
        ambient_measured, box_measured : bool
            Whether somebody read the air, or it is guessed.

        Returns
        -------
        Uncertainty
        """
        return cls(
            charge=TUBE_CHARGE if family is Family.TUBE else cls.charge,
            box_temperature=MEASURED_AIR if box_measured else GUESSED_BOX,
            ambient_temperature=MEASURED_AIR if ambient_measured else GUESSED_AMBIENT,
        )

    @property
    def names(self):
        """Names of all the numbers (tuple of str)."""
        return tuple(field.name for field in fields(self))


def disturbed(situation, off):
    """Let a box differ from what is assumed of it.

    Parameters
    ----------
    situation : faults.Situation
        As assumed.
    off : mapping of str to float or ndarray
        By the names of `Uncertainty`; logarithms or differences, as there.

    Returns
    -------
    faults.Situation
    """

    def by(name):
        return np.exp(off.get(name, 0.0))

    box = situation.box
    machine, metering = box.compressor, box.metering
    if isinstance(metering, captube.CapTube):
        fitted = replace(metering, inner_diameter=metering.inner_diameter * by("metering"))
    else:
        spring = replace(
            metering.spring,
            static_superheat=np.maximum(
                metering.spring.static_superheat + off.get("static_superheat", 0.0), 0.5
            ),
        )
        port = replace(metering.port, diameter=metering.port.diameter * by("metering"))
        fitted = replace(metering, spring=spring, port=port)
    changed = replace(
        box,
        compressor=replace(
            machine,
            swept_volume_flow=machine.swept_volume_flow * by("swept"),
            peak_efficiency=np.minimum(machine.peak_efficiency * by("efficiency"), 0.95),
            shell_loss=np.clip(machine.shell_loss + off.get("shell_loss", 0.0), 0.0, 0.9),
        ),
        evaporator=_coil(box.evaporator, by("evaporator"), by("evaporator_air")),
        condenser=_coil(box.condenser, by("condenser"), by("condenser_air")),
        metering=fitted,
        suction_gain=box.suction_gain * by("line"),
        liquid_loss=box.liquid_loss * by("line"),
    )
    return replace(
        situation,
        box=changed,
        charge=situation.charge * by("charge"),
        box_temperature=situation.box_temperature + off.get("box_temperature", 0.0),
        ambient_temperature=situation.ambient_temperature + off.get("ambient_temperature", 0.0),
    )


def _coil(coil, conductance, air):
    return replace(
        coil, air_conductance=coil.air_conductance * conductance, air_flow=coil.air_flow * air
    )
