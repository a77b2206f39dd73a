"""The only file that talks to CoolProp, and only when asked: its import takes seconds.

CoolProp's known traps are handled here. Blends need the ``.mix`` suffix; a phase that is imposed
makes a blend's (p, T) call a thousand times faster; its quality is molar, ours is by mass; its
saturation solver has isolated misses, which a minute step in pressure avoids; and the viscosity it
gives for a liquid blend is wrong, so that transport properties are mixed from the components.
"""

from __future__ import annotations

import numpy as np

ZERO_CELSIUS = 273.15
IIR_ENTHALPY = 200e3
IIR_ENTROPY = 1e3
NUDGES = (1e-6, 1e-5, 1e-4, 3e-4, 1e-3, 2e-3)


class Missed(Exception):
    """CoolProp found no solution near the state asked for."""


def version():
    """CoolProp's version, for the manifest."""
    import CoolProp

    return CoolProp.__version__


class Direct:
    """Properties straight from CoolProp: slow, exact, one state at a time.

    Enthalpy and entropy follow the IIR reference: 200 kJ/kg and 1 kJ/(kg K) for saturated liquid
    at 0 °C.

    Parameters
    ----------
    fluid : str
        CoolProp's name, such as ``"R290"`` or ``"R448A.mix"``.
    """

    def __init__(self, fluid):
        import CoolProp

        self._library = CoolProp
        self.fluid = fluid
        self._saturated = CoolProp.AbstractState("HEOS", fluid)
        self._vapour = CoolProp.AbstractState("HEOS", fluid)
        self._vapour.specify_phase(CoolProp.iphase_gas)
        self._liquid = CoolProp.AbstractState("HEOS", fluid)
        self._liquid.specify_phase(CoolProp.iphase_liquid)
        self.is_mixture = len(self._saturated.fluid_names()) > 1
        self.molar_mass = self._saturated.molar_mass()
        self._saturated.update(CoolProp.QT_INPUTS, 0, ZERO_CELSIUS)
        self._enthalpy_shift = IIR_ENTHALPY - self._saturated.hmass()
        self._entropy_shift = IIR_ENTROPY - self._saturated.smass()

    def components(self):
        """Component names with mass and mole fractions."""
        state = self._saturated
        names = state.fluid_names()
        if not self.is_mixture:
            return [(names[0], 1.0, 1.0)]
        return list(zip(names, state.get_mass_fractions(), state.get_mole_fractions(), strict=True))

    def critical_point(self):
        """Critical temperature [K] and pressure [Pa]; of several candidates the stable one."""
        if not self.is_mixture:
            return self._saturated.T_critical(), self._saturated.p_critical()
        points = [p for p in self._saturated.all_critical_points() if p.stable and p.p > 0]
        best = max(points, key=lambda point: point.T)
        return best.T, best.p

    def lowest_temperature(self):
        """Lower end of the equation's range [K]."""
        return self._saturated.Tmin()

    def _read(self, state):
        return np.array(
            [
                state.T(),
                state.hmass() + self._enthalpy_shift,
                state.smass() + self._entropy_shift,
                1 / state.rhomass(),
            ]
        )

    def saturation_pressure(self, temperature, quality):
        """Pressure [Pa] at a temperature [K] and molar quality."""
        self._saturated.update(self._library.QT_INPUTS, quality, temperature)
        return self._saturated.p()

    def saturated(self, pressure, quality, near=None):
        """State at a pressure and molar quality.

        Parameters
        ----------
        pressure : float
            [Pa]
        quality : float
            Molar vapour fraction, 0 to 1.
        near : float, optional
            A temperature [K] within 3 K of the answer, to tell a wrong root.

        Returns
        -------
        numpy.ndarray
            Temperature [K], enthalpy [J/kg], entropy [J/(kg K)], specific volume [m3/kg].

        Raises
        ------
        Missed
            If CoolProp finds no solution there or at a few nudged pressures.
        """

        def attempt(factor):
            try:
                self._saturated.update(self._library.PQ_INPUTS, pressure * (1 + factor), quality)
            except ValueError:
                return None
            found = self._read(self._saturated)
            wrong = not np.isfinite(found).all() or (near and abs(found[0] - near) > 3)
            return None if wrong else found

        found = attempt(0)
        if found is not None:
            return found
        below, above = [], []
        for nudge in NUDGES:
            for side, factor in ((below, -nudge), (above, nudge)):
                found = attempt(factor)
                if found is not None:
                    side.append((factor, found))
            if below and above:
                (a, low), (b, high) = below[0], above[0]
                return low + (high - low) * (-a) / (b - a)
        if near:
            return self._saturated_from_temperature(pressure, quality, near)
        raise Missed(f"{self.fluid}: no saturation at {pressure:.0f} Pa, quality {quality}")

    def _saturated_from_temperature(self, pressure, quality, near):
        """Find the same state by searching the temperature whose saturation pressure it is."""
        state = self._saturated

        def error(temperature):
            state.update(self._library.QT_INPUTS, quality, temperature)
            return np.log(state.p() / pressure)

        try:
            a, b = near - 0.05, near + 0.05
            at_a, at_b = error(a), error(b)
            for _ in range(20):
                a, b, at_a = b, b - at_b * (b - a) / (at_b - at_a), at_b
                if abs(b - near) > 3:
                    break
                at_b = error(b)
                if abs(at_b) < 1e-11:
                    return self._read(state)
        except ValueError:
            pass
        raise Missed(f"{self.fluid}: no saturation at {pressure:.0f} Pa, quality {quality}")

    def _by_density(self, state, pressure, temperature, density):
        """Solve p(density, T) = p by Newton from a density [kg/m3] nearby."""
        for _ in range(50):
            state.update(self._library.DmassT_INPUTS, density, temperature)
            slope = state.first_partial_deriv(
                self._library.iP, self._library.iDmass, self._library.iT
            )
            step = (pressure - state.p()) / slope
            if slope <= 0:
                break
            density += np.clip(step, -0.1 * density, 0.1 * density)
            if abs(step) < 1e-10 * density:
                return
        raise Missed(f"{self.fluid}: no density at {pressure:.0f} Pa, {temperature:.2f} K")

    def single(self, pressure, temperature, vapour, near_volume=None):
        """State of a single phase, with its heat capacity.

        Parameters
        ----------
        pressure, temperature : float
            [Pa], [K]
        vapour : bool
            Whether the phase is vapour; CoolProp does not search for it.
        near_volume : float, optional
            A volume [m3/kg] to start from where CoolProp's own density solver gives up.

        Returns
        -------
        numpy.ndarray
            Temperature [K], enthalpy [J/kg], entropy [J/(kg K)], specific volume [m3/kg],
            heat capacity [J/(kg K)].

        Raises
        ------
        Missed
            If no density is found.
        """
        state = self._vapour if vapour else self._liquid
        try:
            state.update(self._library.PT_INPUTS, pressure, temperature)
        except ValueError:
            if near_volume is None:
                raise Missed(
                    f"{self.fluid}: no density at {pressure:.0f} Pa, {temperature:.2f} K"
                ) from None
            self._by_density(state, pressure, temperature, 1 / near_volume)
        return np.append(self._read(state), state.cpmass())

    def at(self, pressure, target, column, vapour, guess):
        """Single-phase state with a given enthalpy (column 1) or entropy (column 2), by Newton.

        ``guess`` is a state nearby: temperature, enthalpy, entropy, volume.
        """
        temperature, volume = guess[0], guess[3]
        for _ in range(30):
            found = self.single(pressure, temperature, vapour, volume)
            volume = found[3]
            slope = found[4] if column == 1 else found[4] / temperature
            step = (target - found[column]) / slope
            temperature += np.clip(step, -25, 25)
            if abs(step) < 1e-9:
                return found
        raise Missed(f"{self.fluid}: no state with {target:g} at {pressure:.0f} Pa")
