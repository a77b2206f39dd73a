"""The whole box, closed on its charge: hardware, equations, search, answer."""

from .hardware import Box
from .result import BoxReadings, BoxResult, BoxStatus
from .solve import solve_box
from .standing import standing_box

__all__ = ["Box", "BoxReadings", "BoxResult", "BoxStatus", "solve_box", "standing_box"]
