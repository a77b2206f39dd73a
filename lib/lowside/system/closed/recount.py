"""The same running state counted again with another void-fraction model.

How the box runs does not depend on how its grams are counted; only the charge that belongs to it
does. So the spread between models costs one more account and no search.
"""

from __future__ import annotations

import numpy as np

from lowside import charge as grams

from ..case import each, shapes
from .equations import account, attempt
from .solve import _prepare, _unknowns


def recount(box, result, model, *, foreign_gas=0.0, compressor_share=1.0):
    """Grams that a box holds in the states already found, by another void-fraction model.

    Parameters
    ----------
    box : Box
        The hardware that was solved.
    result : BoxResult
        What `solve_box` answered for it.
    model : str
        Void-fraction model, a key of ``charge.void.MODELS``.
    foreign_gas, compressor_share : float or ndarray
        As they were given to `solve_box`. [Pa], [-]

    Returns
    -------
    charge.Inventory
        [kg]; a receiver is as full as it was found.

    Raises
    ------
    UnknownName
        For a void-fraction model that is not here.
    """
    grams.void.model_named(model)
    shape = np.broadcast_shapes(*shapes(box), np.shape(result.status))

    def flat(value):
        return np.broadcast_to(np.asarray(value, dtype=float), shape).ravel()

    case = _prepare(
        each(box, flat),
        flat(result.box_temperature),
        flat(result.ambient_temperature),
        flat(result.charge),
        flat(0.0),
        flat(result.receiver_level),
        flat(foreign_gas),
        flat(compressor_share),
        True,
        model,
    )
    inventory, _, _ = account(case, attempt(case, _unknowns(result, flat)))
    parts = {
        name: np.broadcast_to(value, shape or (1,)).reshape(shape)[()]
        for name, value in inventory.parts().items()
    }
    return grams.Inventory(**parts)
