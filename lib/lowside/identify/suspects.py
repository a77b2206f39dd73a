"""Port and strainer together: two suspects that read alike."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields

import numpy as np

from lowside.errors import LowsideError, require

from .hardware import STRAINER_HOLE, Unknowns, deviations
from .looks import Seen, look
from .posterior import CLOUD, Belief, Instruments, Library, prior, weigh
from .strainer import strainer_resistance

CLEAR = math.inf  # [m] hole of a strainer that takes nothing
DRAWS = 48


@dataclass(frozen=True)
class Suspicion:
    """How likely each port is together with each state of the strainer.

    Parameters
    ----------
    sizes : ndarray, shape (s,)
        Ports. [m]
    holes : ndarray, shape (j,)
        What the strainer still passes, as the port that would pass as much; infinite where it is
        clear. [m]
    probability : ndarray, shape (j, s)
        Adds up to 1. [-]
    """

    sizes: np.ndarray
    holes: np.ndarray
    probability: np.ndarray

    @property
    def port(self):
        """What is believed of the port, whatever the strainer (Belief)."""
        return Belief(self.sizes, self.probability.sum(axis=0))

    @property
    def clear(self):
        """Probability that the strainer is clear [-]."""
        return float(self.probability[np.isinf(self.holes)].sum())


def holes_for(sizes):
    """States of the strainer that are told apart: clear, and holes like the ports of the kit.

    Parameters
    ----------
    sizes : ndarray, shape (s,)
        Ports. [m]

    Returns
    -------
    ndarray, shape (s,)
        From clear to the smallest hole. [m]
    """
    return np.array([CLEAR, *sorted(sizes, reverse=True)[1:]])


def before(sizes, holes, port=None, clear=0.7):
    """Say what is believed before anything is read.

    Parameters
    ----------
    sizes, holes : ndarray
        As in `Suspicion`. [m]
    port : Belief, optional
        About the port; by default nothing is known.
    clear : float
        Probability that the strainer is clear; the other states share what is left. [-]

    Returns
    -------
    Suspicion

    Raises
    ------
    OutOfRange
        For a `clear` that is no probability.
    """
    require("probability that the strainer is clear", clear, 0.0, 1.0, "ratio")
    port = prior(sizes) if port is None else port
    strainer = np.where(np.isinf(holes), clear, (1.0 - clear) / (len(holes) - 1))
    return Suspicion(np.asarray(sizes), np.asarray(holes), strainer[:, None] * port.probability)


@dataclass(frozen=True, eq=False)
class Lineup:
    """Every port with every state of the strainer, simulated.

    Parameters
    ----------
    library : Library
        One suspect after the other, the strainer's states outside, the ports inside.
    sizes, holes : ndarray
        As in `Suspicion`. [m]
    """

    library: Library
    sizes: np.ndarray
    holes: np.ndarray

    def suspicion(self, readings, first=None):
        """Say what is believed after some tests.

        Parameters
        ----------
        readings : dict of str to array_like, shape (5,)
            By test, in the order of ``READINGS``; without any, nothing changes. [K]
        first : Suspicion, optional
            What was believed before.

        Returns
        -------
        Suspicion

        Raises
        ------
        LowsideError
            If no suspect explains the readings.
        """
        first = before(self.sizes, self.holes) if first is None else first
        if not readings:
            return first
        logs, _, explained = self.library.log_likelihood(readings)
        found = weigh(first.probability.ravel(), logs)
        if not explained or not np.isfinite(found).all():
            raise LowsideError(
                "Neither port nor strainer explains these readings in this box: look for another "
                "fault, or read again."
            )
        return Suspicion(self.sizes, self.holes, found.reshape(first.probability.shape))


def line_up(
    site,
    tests=("running", "bulb"),
    sizes=None,
    holes=None,
    unknowns=None,
    instruments=None,
    draws=DRAWS,
    seed=26,
):
    """Solve every port with every state of the strainer in every test.

    Parameters
    ----------
    site : Site
        The box as believed.
    tests : sequence of str
        Keys of ``TESTS``.
    sizes, holes : ndarray, optional
        Ports, and states of the strainer. [m]
    unknowns : Unknowns, optional
        Spread of the hardware.
    instruments : Instruments, optional
        Errors of the readings.
    draws : int
        Of the hardware, for each suspect.
    seed : int
        Of the draws.

    Returns
    -------
    Lineup
    """
    unknowns, instruments = unknowns or Unknowns(), instruments or Instruments()
    sizes = site.sizes() if sizes is None else np.asarray(sizes, dtype=float)
    holes = holes_for(sizes) if holes is None else np.asarray(holes, dtype=float)
    drawn = math.sqrt(1.0 - CLOUD) * deviations(draws, unknowns, seed)
    seen = see(site, sizes[:, None], holes[:, None, None], drawn, unknowns, tests)
    suspects = len(holes) * len(sizes)
    flat = {test: found.reshape(suspects, draws) for test, found in seen.items()}
    ports = np.tile(sizes, len(holes))
    library = Library(site, ports, unknowns, instruments, drawn, flat)
    return Lineup(library, sizes, holes)


def see(site, sizes, holes, drawn, unknowns, tests):
    """Look at valves behind strainers, clear ones included.

    Parameters
    ----------
    site : Site
        The box as believed.
    sizes, holes : ndarray
        Ports, and what the strainers still pass; they broadcast. [m]
    drawn : ndarray, shape (..., unknowns.count)
        Hardware.
    unknowns : Unknowns
        Spread of the hardware.
    tests : sequence of str
        What is done, keys of ``TESTS``.

    Returns
    -------
    dict of str to Seen
        By test, of the broadcast shape.
    """
    shape = np.broadcast_shapes(np.shape(sizes), np.shape(holes), drawn.shape[:-1])
    ports, left = (np.broadcast_to(array, shape) for array in (sizes, holes))
    hardware = np.broadcast_to(drawn, (*shape, drawn.shape[-1]))
    clear = np.isinf(left)
    parts = []
    if clear.any():
        parts.append((clear, look(site, ports[clear], hardware[clear], unknowns, tests)))
    if not clear.all():
        plugged = ~clear
        spread = np.exp(unknowns.strainer_hole * hardware[plugged][..., STRAINER_HOLE])
        resistance = strainer_resistance(site, left[plugged] * spread)
        shown = look(site, ports[plugged], hardware[plugged], unknowns, tests, resistance)
        parts.append((plugged, shown))
    return {
        test: _together(shape, [(where, part[test]) for where, part in parts]) for test in tests
    }


def _together(shape, parts):
    """Put looks back to the places from which they were taken."""
    whole = {}
    for field in fields(Seen):
        first = getattr(parts[0][1], field.name)
        whole[field.name] = np.empty(shape + first.shape[1:], first.dtype)
        for where, part in parts:
            whole[field.name][where] = getattr(part, field.name)
    return Seen(**whole)
