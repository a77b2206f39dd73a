"""The box of a call as it stands now: what is in it, what is open, what is still wrong."""

from __future__ import annotations

import math
from dataclasses import replace

from lowside import faults, valve
from lowside.drier import saturation_pressure
from lowside.errors import require
from lowside.system import ports
from lowside.valve.stem import turned

HOSE = 0.25 * math.pi * 4.8e-3**2 * 0.9  # [m3] of a short hose, assumed
RECOVERED = 0.98  # of the charge; assumed
DRYING = 6.5 * 60.0  # [s] in which a vacuum leaves a third of the water, assumed
DRY = 0.012  # of the water that opening a box lets in: it rests at some 500 micron
SOAKED = 3.0  # times that, in a box that freezes up
SAME_CHARGE, SAME_STATIC = 0.05, 1.0  # of the nameplate, [K]
IN_CHARGE = ("undercharge", "overcharge", "foreign_gas", "moisture")
IN_VALVE = ("port_small", "port_big", "spring_tight", "spring_loose")


class Rig:
    """A box with its faults, taken apart into what a hand can change.

    Parameters
    ----------
    case : case.Case
    cabinet : system.cabinets.Cabinet
        As it was built.
    """

    def __init__(self, case, cabinet):
        wrong = dict(case.faults)
        self.cabinet, self.fluid = cabinet, cabinet.box.refrigerant
        self.sound = faults.sound(cabinet, case.air, case.ambient)
        self.family = self.sound.family
        changed = faults.apply(self.sound, {k: v for k, v in wrong.items() if k != "moisture"})
        self.nameplate = cabinet.charge
        self.charge, self.gas = float(changed.charge), float(changed.foreign_gas)
        self.metering = None
        if self.sound.box.has_valve:
            own = {key: wrong[key] for key in IN_VALVE if key in wrong}
            self.metering = faults.apply(self.sound, own).box.metering
        self.leaks = "undercharge" in wrong
        self.ice = wrong.get("moisture", 0.0)
        self.wrong = {k: v for k, v in wrong.items() if k not in IN_CHARGE + IN_VALVE}
        self.power, self.recovered, self.opened = True, False, False
        self.purged, self.vacuum = False, False
        self.new_drier = False
        self.water = SOAKED if self.ice else 0.0
        self._point = self._made_for = None

    @property
    def static(self):
        """Static superheat that the stem is set to [K]."""
        return float(self.metering.spring.static_superheat)

    @property
    def wet(self):
        """Whether there is water that a vacuum has not taken out (bool)."""
        return self.water > DRY

    def situation(self, air, ambient):
        """Put the box as it is now into the world.

        Parameters
        ----------
        air, ambient : float
            [K]

        Returns
        -------
        faults.Situation
        """
        box = self.sound.box
        if self.metering is not None:
            box = replace(box, metering=self.metering)
        now = replace(
            self.sound,
            box=box,
            charge=self.charge,
            foreign_gas=self.gas,
            box_temperature=air,
            ambient_temperature=ambient,
        )
        ice = {"moisture": self.ice} if self.ice else {}
        return faults.apply(now, self.wrong | ice)

    def solve(self, air, ambient):
        """Find where the box settles now; kept until something changes.

        Parameters
        ----------
        air, ambient : float
            [K]

        Returns
        -------
        system.BoxResult
        """
        made_for = (
            round(air, 2),
            ambient,
            self.charge,
            self.gas,
            self.ice,
            self.metering,
            tuple(self.wrong.items()),
        )
        if made_for != self._made_for:
            start = self._point if self._point is not None and self._point.accepted else None
            self._point = self.situation(air, ambient).solve(start=start)
            self._made_for = made_for
        return self._point

    def left(self):
        """Name what is still wrong.

        Returns
        -------
        tuple of str
            Keys of faults.
        """
        found = list(self.wrong)
        if self.leaks or self.charge < (1.0 - SAME_CHARGE) * self.nameplate:
            found.append("undercharge")
        if self.charge > (1.0 + SAME_CHARGE) * self.nameplate:
            found.append("overcharge")
        if self.gas:
            found.append("foreign_gas")
        if self.ice:
            found.append("moisture")
        if self.metering is not None:
            built = self.sound.box.metering
            size = float(self.metering.port.diameter / built.port.diameter)
            if not math.isclose(size, 1.0, rel_tol=0.02):
                found.append("port_small" if size < 1.0 else "port_big")
            off = self.static - float(built.spring.static_superheat)
            if abs(off) > SAME_STATIC:
                found.append("spring_tight" if off > 0.0 else "spring_loose")
        return tuple(found)

    def turn(self, turns):
        """Turn the stem.

        Parameters
        ----------
        turns : float
            Clockwise, in. [-]

        Raises
        ------
        OutOfRange, NoOperatingPoint
            If it does not go so far.
        """
        require("turns of the stem", turns, -2.0, 2.0)
        self.metering = turned(self.metering, self.fluid, turns)

    def fit_port(self, diameter):
        """Fit a cartridge with another port.

        Parameters
        ----------
        diameter : float
            One of ``system.ports.KIT``. [m]
        """
        require("port", diameter, ports.KIT[0], ports.KIT[-1], "port")
        built = self.sound.box.metering.port
        diameter = ports.next_size(diameter, 0)
        same = math.isclose(diameter, built.diameter, rel_tol=1e-9)
        port = built if same else valve.standard_port(diameter, built.balance, built.max_lift)
        self.metering = replace(self.metering, port=port)

    def open(self):
        """Open the circuit: air and its water come in."""
        self.opened, self.vacuum = True, False
        self.water = max(self.water, 1.0)

    def empty(self):
        """Recover the charge.

        Returns
        -------
        weighed, lost : float
            In the cylinder, and what escaped on the way. [kg]
        """
        weighed, lost = RECOVERED * self.charge, (1.0 - RECOVERED) * self.charge
        self.charge, self.recovered = 0.0, True
        return weighed, lost

    def evacuate(self, seconds):
        """Pull a vacuum.

        Parameters
        ----------
        seconds : float
        """
        self.vacuum, self.gas, self.opened = True, 0.0, False
        self.water *= math.exp(-seconds / DRYING)
        if self.ice and self.new_drier and not self.wet:
            self.ice = 0.0

    def standing_vacuum(self, ambient):
        """Say where a closed-off vacuum comes to rest: at the vapour of the water that is left.

        Parameters
        ----------
        ambient : float
            [K]

        Returns
        -------
        float
            [Pa]
        """
        return float(min(self.water, 1.0) * saturation_pressure(ambient))

    def fill(self, grams):
        """Weigh in refrigerant.

        Parameters
        ----------
        grams : float
            [kg]
        """
        self.charge += grams
        self.recovered = self.vacuum = self.purged = False

    def hose(self, pressure):
        """Put a hose on: it fills with vapour.

        Parameters
        ----------
        pressure : float
            [Pa]

        Returns
        -------
        float
            What it takes. [kg]
        """
        taken = float(HOSE * self.fluid.saturation(pressure, check=False).vapour_density)
        taken = min(taken, self.charge)
        self.charge -= taken
        return taken
