"""From readings to a belief about the port: simulate every size, compare with what was read.

For every size the box is solved with hardware drawn around what is believed, and every draw stands
for a small cloud of hardware around it. Within the cloud the readings answer in a straight line, so
that with Gaussian instrument errors each draw gives a Gaussian over the readings; their mean is the
likelihood of the size. Errors that a gauge makes in every test alike are counted as such: two tests
with one gauge say more about a change than about a level.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from lowside.errors import LowsideError, require

from .hardware import Site, Unknowns, deviations, require_size
from .looks import READINGS, TESTS, look

DRAWS = 96
UNREAD = 1e4  # [K] error of a reading that nobody takes
FARTHEST = 8.0  # standard deviations of a squared distance
CLOUD = 0.5  # share of the hardware's variance that one draw stands for
_LEAST_FOR_SLOPES = 3  # draws for each unknown, from which slopes are taken


@dataclass(frozen=True)
class Instruments:
    """Errors of readings and model, standard deviations in the order of ``READINGS`` [K].

    The defaults are assumptions: a good digital gauge and clamps in good contact, a model that is
    steadily a little off.

    Parameters
    ----------
    scatter : tuple of float
        Fresh in every reading.
    bias : tuple of float
        The same in every test of one call: instrument and model.
    unread : tuple of str
        Readings that nobody takes; they count for nothing.
    """

    scatter: tuple[float, ...] = (0.3, 0.4, 1.0, 0.3, 0.5)
    bias: tuple[float, ...] = (0.5, 0.6, 3.0, 0.4, 1.0)
    unread: tuple[str, ...] = ()

    def __post_init__(self):
        if not len(self.scatter) == len(self.bias) == len(READINGS):
            raise LowsideError(f"Instruments need {len(READINGS)} errors of each kind.")
        for name in ("scatter", "bias"):
            words = f"{name} of the instruments"
            require(words, getattr(self, name), 0.01, 20.0, "temperature_difference")

    def covariance(self, tests):
        """Covariance of all readings of some tests, test by test [K2].

        Parameters
        ----------
        tests : sequence of str
            Keys of ``TESTS``.

        Returns
        -------
        ndarray, shape (5 n, 5 n)
        """
        shared = np.tile(np.diag(np.square(self.bias)), (len(tests), len(tests)))
        ignored = [UNREAD * (name in self.unread) for name in READINGS]
        fresh = [np.multiply(self.scatter, TESTS[test].unsteady) + ignored for test in tests]
        return shared + np.diag(np.square(np.concatenate(fresh)))

    def errors(self, tests, random, count):
        """Draw errors of readings.

        Parameters
        ----------
        tests : sequence of str
            Keys of ``TESTS``.
        random : numpy.random.Generator
            Source of chance.
        count : int
            How many calls.

        Returns
        -------
        dict of str to ndarray, shape (count, 5)
            By test. [K]
        """
        shape = (count, len(READINGS))
        bias = random.normal(size=shape) * self.bias
        return {
            test: bias + random.normal(size=shape) * self.scatter * TESTS[test].unsteady
            for test in tests
        }


@dataclass(frozen=True)
class Belief:
    """How likely each size is.

    Parameters
    ----------
    sizes : ndarray, shape (n,)
        [m]
    probability : ndarray, shape (n,)
        Adds up to 1. [-]
    effective_draws : float
        How many draws of the hardware carry the most likely size. [-]
    """

    sizes: np.ndarray
    probability: np.ndarray
    effective_draws: float = math.inf

    @property
    def best(self):
        """The most likely size [m]."""
        return float(self.sizes[np.argmax(self.probability)])

    @property
    def bits(self):
        """What is still unknown: entropy [bit]."""
        p = self.probability[self.probability > 0.0]
        return float(-(p * np.log2(p)).sum())

    def of(self, size):
        """Probability of a size.

        Parameters
        ----------
        size : float
            [m]

        Returns
        -------
        float
            [-]

        Raises
        ------
        OutOfRange
            If the size is not among those considered.
        """
        return float(self.probability[require_size(size, self.sizes)])

    def credible(self, level=0.8):
        """Fewest sizes that together are at least so likely, in order of size.

        Sizes as likely as the last of them belong to it as well.

        Parameters
        ----------
        level : float
            [-]

        Returns
        -------
        tuple of float
            [m]

        Raises
        ------
        OutOfRange
            For a level that is no probability.
        """
        require("credible level", level, 0.0, 1.0, "ratio")
        order = np.argsort(-self.probability, kind="stable")
        enough = int(np.searchsorted(np.cumsum(self.probability[order]), level - 1e-12))
        least = self.probability[order[min(enough, len(order) - 1)]] * (1.0 - 1e-9)
        return tuple(self.sizes[self.probability >= least].tolist())


def prior(sizes, tag=None, reliability=0.9):
    """Belief before anything is read.

    Parameters
    ----------
    sizes : ndarray, shape (n,)
        Those considered. [m]
    tag : float, optional
        Size that a tag names; without one every size is as likely as the next. [m]
    reliability : float
        Probability that the tag is right, what is left being shared by the other sizes. [-]

    Returns
    -------
    Belief

    Raises
    ------
    OutOfRange
        If the tag names no size that is considered, or for a reliability that is no probability.
    """
    require("reliability of the tag", reliability, 0.0, 1.0, "ratio")
    count = len(sizes)
    if tag is None:
        return Belief(np.asarray(sizes), np.full(count, 1.0 / count))
    probability = np.full(count, (1.0 - reliability) / (count - 1))
    probability[require_size(tag, sizes)] = reliability
    return Belief(np.asarray(sizes), probability)


@dataclass(frozen=True, eq=False)
class Library:
    """Every size simulated in every test, with hardware drawn around what is believed.

    Parameters
    ----------
    site : Site
        The box as believed.
    sizes : ndarray, shape (s,)
        Ports, one for each suspect. [m]
    unknowns : Unknowns
        Spread of the hardware.
    instruments : Instruments
        Errors of the readings.
    drawn : ndarray, shape (n, d)
        Hardware, in standard deviations.
    seen : dict of str to Seen
        By test, arrays of shape (s, n).
    kept : dict
        What was worked out before, by tests and suspect.
    """

    site: Site
    sizes: np.ndarray
    unknowns: Unknowns
    instruments: Instruments
    drawn: np.ndarray
    seen: dict
    kept: dict = field(default_factory=dict, repr=False)

    def log_likelihood(self, readings):
        """Log-likelihood of every size.

        Parameters
        ----------
        readings : dict of str to array_like, shape (..., 5)
            By test, in the order of ``READINGS``. [K]

        Returns
        -------
        log_likelihood, effective_draws : ndarray, shape (..., s)
            Effective draws say how many draws of the hardware carry a size.
        explained : ndarray of bool, shape (...)
            Whether any size comes near these readings: within `FARTHEST` standard deviations of
            what chance has the squared distance.
        """
        tests = tuple(test for test in self.seen if test in readings)
        read = np.concatenate([np.asarray(readings[test], dtype=float) for test in tests], axis=-1)
        logs = np.full((*read.shape[:-1], len(self.sizes), len(self.drawn)), -np.inf)
        nearest = np.full(read.shape[:-1], np.inf)
        for place in range(len(self.sizes)):
            for members, centres, whiten, log_scale in self._clouds(tests, place):
                far = read[..., None, :] @ whiten.T - centres @ whiten.T
                distance = np.square(far).sum(axis=-1)
                nearest = np.minimum(nearest, distance.min(axis=-1))
                logs[..., place, members] = log_scale - 0.5 * distance
        top = logs.max(axis=-1, keepdims=True)
        weights = np.exp(logs - np.where(np.isfinite(top), top, 0.0))
        total = weights.sum(axis=-1)
        effective = np.square(total) / np.maximum(np.square(weights).sum(axis=-1), 1e-300)
        with np.errstate(divide="ignore"):
            logs = top[..., 0] + np.log(total) - math.log(len(self.drawn))
        count = len(tests) * (len(READINGS) - len(self.instruments.unread))
        return logs, effective, nearest < count + FARTHEST * math.sqrt(2.0 * count)

    def belief(self, readings, before=None):
        """Belief after some tests of one call.

        Parameters
        ----------
        readings : dict of str to array_like, shape (5,)
            By test; without any, nothing changes. [K]
        before : Belief, optional
            By default nothing is known.

        Returns
        -------
        Belief

        Raises
        ------
        LowsideError
            If no size explains the readings.
        """
        before = prior(self.sizes) if before is None else before
        if not readings:
            return before
        logs, effective, explained = self.log_likelihood(readings)
        probability = weigh(before.probability, logs)
        if not explained or not np.isfinite(probability).all():
            raise LowsideError(
                "No port of the kit explains these readings in this box: look for another fault, "
                "or read again."
            )
        return Belief(self.sizes, probability, float(effective[np.argmax(probability)]))

    def _clouds(self, tests, place):
        """Draws of one size by the pattern of tests in which the pin stands at its stop."""
        key = tests, place
        if key not in self.kept:
            self.kept[key] = list(self._made(tests, place))
        return self.kept[key]

    def _made(self, tests, place):
        errors = self.instruments.covariance(tests)
        centres = np.concatenate([self.seen[t].readings[place] for t in tests], axis=-1)
        usable = np.all([self.seen[t].accepted[place] for t in tests], axis=0)
        patterns = np.stack([self.seen[t].wide_open[place] for t in tests], axis=-1)
        for pattern in np.unique(patterns[usable], axis=0):
            members = np.flatnonzero(usable & (patterns == pattern).all(axis=-1))
            slopes = np.concatenate(
                [self._slopes(test, place, wide) for test, wide in zip(tests, pattern, strict=True)]
            )
            covariance = errors + CLOUD * slopes @ slopes.T
            root = np.linalg.cholesky(covariance)
            whiten = np.linalg.inv(root)
            log_scale = -np.log(np.diag(root)).sum() - 0.5 * len(root) * math.log(2.0 * math.pi)
            yield members, centres[members], whiten, log_scale

    def _slopes(self, test, place, wide):
        """Fit readings over hardware, shape (5, d), to draws with the pin at its stop or not."""
        seen = self.seen[test]
        usable = seen.accepted[place]
        alike = usable & (seen.wide_open[place] == wide)
        if alike.sum() < _LEAST_FOR_SLOPES * self.unknowns.count:
            alike = usable
        design = np.column_stack([np.ones(alike.sum()), self.drawn[alike]])
        return np.linalg.lstsq(design, seen.readings[place][alike], rcond=None)[0][1:].T


def weigh(probability, log_likelihood):
    """Bayes' rule over the last axis.

    Parameters
    ----------
    probability : ndarray, shape (s,)
        Before. [-]
    log_likelihood : ndarray, shape (..., s)
        Of what was read.

    Returns
    -------
    ndarray, shape (..., s)
        After; not a number where nothing explains it. [-]
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        logs = np.log(probability) + log_likelihood
        weights = np.exp(logs - logs.max(axis=-1, keepdims=True))
        return weights / weights.sum(axis=-1, keepdims=True)


def simulate(
    site, tests=tuple(TESTS), sizes=None, unknowns=None, instruments=None, draws=DRAWS, seed=26
):
    """Solve every size in every test.

    Parameters
    ----------
    site : Site
        The box as believed.
    tests : sequence of str
        Keys of ``TESTS``.
    sizes : ndarray, optional
        Ports; by default seven of the kit around the right one. [m]
    unknowns : Unknowns, optional
        Spread of the hardware.
    instruments : Instruments, optional
        Errors of the readings.
    draws : int
        Of the hardware, for each size.
    seed : int
        Of the draws.

    Returns
    -------
    Library
    """
    unknowns, instruments = unknowns or Unknowns(), instruments or Instruments()
    sizes = site.sizes() if sizes is None else np.asarray(sizes, dtype=float)
    drawn = math.sqrt(1.0 - CLOUD) * deviations(draws, unknowns, seed)
    seen = look(site, sizes[:, None], drawn, unknowns, tests)
    return Library(site, sizes, unknowns, instruments, drawn, seen)
