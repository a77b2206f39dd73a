"""Every published value beside ours, in one place that tests and lesson 90 both read.

The published values stand in ``data/checks/`` as printed, each with its source, its tolerance and
how it was come by. A room here (``properties``, ``cycles``, ``parts``) says for each which function
of the library computes ours. ``tests/test_checks.py`` runs over all of them, and so does the page::

    from lowside import checks

    for check in checks.everything():
        print(check.topic, check.published, check.ours, check.passes)
"""

from __future__ import annotations

from functools import cache

from lowside import store
from lowside.errors import UnknownName

from . import cycles, parts, properties
from .model import COMPUTED, MEMORY, PRACTICE, READ, STATUSES, Check

__all__ = [
    "COMPUTED",
    "MEMORY",
    "PRACTICE",
    "READ",
    "STATUSES",
    "Check",
    "chosen",
    "copied",
    "disputes",
    "everything",
    "never",
    "topics",
]


@cache
def everything():
    """List every check.

    Returns
    -------
    tuple of Check
    """
    return tuple(check for room in (properties, cycles, parts) for check in room.checks())


def topics():
    """List the topics, in the order of the checks.

    Returns
    -------
    tuple of str
    """
    return tuple(dict.fromkeys(check.topic for check in everything()))


def chosen(topic=None, status=None):
    """List the checks of one topic, or of one status.

    Parameters
    ----------
    topic : str, optional
        One of `topics`; all if not given.
    status : str, optional
        A key of ``STATUSES``; all if not given.

    Returns
    -------
    tuple of Check

    Raises
    ------
    UnknownName
        If there is no such topic or status.
    """
    if topic is not None and topic not in topics():
        raise UnknownName("topic", topic, topics())
    if status is not None and status not in STATUSES:
        raise UnknownName("status of a published value", status, STATUSES)
    return tuple(
        check
        for check in everything()
        if topic in (None, check.topic) and status in (None, check.status)
    )


def never():
    """List what was never checked against anything outside.

    Returns
    -------
    list of dict
        Each with ``room`` and ``what``.
    """
    return store.read_toml("checks/open.toml")["never"]


def disputes():
    """List where sources disagree.

    Returns
    -------
    list of dict
        Each with ``what``, ``kind``, ``values`` [SI] and ``sources``.
    """
    return store.read_toml("checks/open.toml")["dispute"]


def copied():
    """List the topics whose numbers the library took over, so that agreement proves little.

    Returns
    -------
    list of str
    """
    return store.read_toml("checks/open.toml")["copied"]
